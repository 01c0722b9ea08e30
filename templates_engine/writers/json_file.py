"""Turns a Layout, or findings, into JSON for other programs; it computes nothing."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from templates_engine.checks.model import Finding
from templates_engine.layout.model import FaceLayout, Gap, Hole, Layout, PlacedRow

SCHEMA_VERSION = 1
"""Grows when a key is renamed, removed or changes its meaning; new keys alone do not change it."""

_DECIMALS = 6


def json_bytes(layout: Layout) -> bytes:
    """The holes of every face, lengths in inches, u and v as on the face (never mirrored)."""
    return _encoded(
        {
            "schema_version": SCHEMA_VERSION,
            "job": layout.job.title,
            "revision": layout.job.revision,
            "units": "in",
            "faces": [_face(face) for face in layout.faces],
        }
    )


def findings_bytes(findings: Iterable[Finding]) -> bytes:
    """The findings in their order, each with what was measured, what is needed and by whose word."""
    return _encoded(
        {"schema_version": SCHEMA_VERSION, "findings": [_finding(finding) for finding in findings]}
    )


def _face(face: FaceLayout) -> dict[str, Any]:
    return {
        "face": face.job.face.value,
        "width_in": _rounded(face.job.width_in),
        "depth_in": _rounded(face.job.depth_in),
        "mark_from": face.job.mark_from.value,
        "fingerprint": face.fingerprint,
        "holes": [_hole(hole) for hole in face.holes],
        "rows": [_row(row) for row in face.rows],
    }


def _hole(hole: Hole) -> dict[str, Any]:
    return {
        "id": hole.id,
        "type": hole.type,
        "trade_size": hole.trade_size,
        "u_in": _rounded(hole.u_in),
        "v_in": _rounded(hole.v_in),
        "outside_diameter_in": _rounded(hole.outside_diameter_in),
        "hole_diameter_in": _rounded(hole.hole_diameter_in),
        "hole_limits_in": [_rounded(hole.hole_least_in), _rounded(hole.hole_most_in)],
        "pilot_diameter_in": _rounded(hole.pilot_diameter_in),
        "cutter": hole.cutter,
        "quarter_points_in": [[_rounded(point.x), _rounded(point.y)] for point in hole.quarter_points_in],
        "row": hole.row,
    }


def _row(row: PlacedRow) -> dict[str, Any]:
    return {
        "row": row.row.name,
        "back_line_in": _rounded(row.back_line_in),
        "gaps": [_gap(gap) for gap in row.gaps],
    }


def _gap(gap: Gap) -> dict[str, Any]:
    return {
        "before": gap.before,
        "after": gap.after,
        "required_in": _rounded(gap.required_in),
        "provided_in": _rounded(gap.provided_in),
        "governed_by": gap.governed_by,
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "check": finding.check,
        "outcome": finding.outcome.value,
        "face": finding.face,
        "holes": list(finding.holes),
        "provided": None if finding.provided is None else _rounded(finding.provided),
        "required": None if finding.required is None else _rounded(finding.required),
        "unit": finding.unit,
        "source": finding.source,
        "message": finding.message,
        "remedy": finding.remedy,
        "solved_remedy": finding.solved_remedy,
    }


def _rounded(value: float) -> float:
    return round(value, _DECIMALS) + 0.0  # + 0.0 turns -0.0 into 0.0


def _encoded(value: dict[str, Any]) -> bytes:
    text = json.dumps(value, indent=2, ensure_ascii=False, allow_nan=False) + "\n"
    return text.encode("utf-8", "replace")
