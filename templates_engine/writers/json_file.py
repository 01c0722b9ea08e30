"""Turns a Layout, or findings, into JSON for other programs; it computes nothing."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from typing import Any

from templates_engine.checks.model import Finding, passes
from templates_engine.layout.model import FaceLayout, Gap, Hole, Layout, PlacedRow
from templates_engine.outputs import MAKER
from templates_engine.wiring import CircuitPhases, Conductors, Contents, Neutral, RacewayContents

SCHEMA_VERSION = 1
"""Grows when a key is renamed, removed or changes its meaning; new keys alone do not change it."""

_DECIMALS = 6


def json_bytes(layout: Layout, contents: Contents, findings: Sequence[Finding]) -> bytes:
    """The holes of every face, lengths in inches, u and v as on the face (never mirrored), what their
    raceways carry, and whether the face passes its checks.
    """
    return encoded(
        {
            "schema_version": SCHEMA_VERSION,
            "job": layout.job.title,
            "revision": layout.job.revision,
            "units": "in",
            "faces": [
                _face(face, contents, passes(face, findings), _notes(layout, face)) for face in layout.faces
            ],
        }
    )


def findings_bytes(findings: Iterable[Finding]) -> bytes:
    """The findings in their order, each with what was measured, what is needed and by whose word."""
    return encoded(
        {"schema_version": SCHEMA_VERSION, "findings": [_finding(finding) for finding in findings]}
    )


def _notes(layout: Layout, face: FaceLayout) -> list[dict[str, Any]]:
    """What moved holes unasked, and what to know of them, with the holes each is about."""
    word = face.job.face.value
    return [{"words": one.words, "holes": list(one.holes)} for one in layout.notes if one.face == word]


def _face(
    face: FaceLayout, contents: Contents, is_sound: bool, notes: list[dict[str, Any]]
) -> dict[str, Any]:
    word = face.job.face.value
    return {
        "face": word,
        "width_in": rounded(face.job.width_in),
        "depth_in": rounded(face.job.depth_in),
        "mark_from": face.job.mark_from.value,
        "fingerprint": face.fingerprint,
        "passes_checks": is_sound,
        "notes": notes,
        "holes": [_hole(hole, contents.get((word, hole.id))) for hole in face.holes],
        "rows": [_row(row) for row in face.rows],
    }


def _hole(hole: Hole, contents: RacewayContents | None) -> dict[str, Any]:
    return {
        "id": hole.id,
        "type": hole.type,
        "trade_size": hole.trade_size,
        "u_in": rounded(hole.u_in),
        "v_in": rounded(hole.v_in),
        "outside_diameter_in": rounded(hole.outside_diameter_in),
        "hole_diameter_in": rounded(hole.hole_diameter_in),
        "hole_limits_in": [rounded(hole.hole_least_in), rounded(hole.hole_most_in)],
        "pilot_diameter_in": None if hole.pilot_diameter_in is None else rounded(hole.pilot_diameter_in),
        "knockout": hole.raceway.knockout,
        "cutter": hole.cutter,
        "quarter_points_in": [[rounded(point.x), rounded(point.y)] for point in hole.quarter_points_in],
        "row": hole.row,
        "wiring": None if contents is None else _wiring(contents),
    }


def _wiring(contents: RacewayContents) -> dict[str, Any]:
    """What one raceway carries; null stands for what cannot be counted, and ``missing`` names the inputs."""
    return {
        "circuits": [_circuit(circuit) for circuit in contents.circuits],
        "neutrals": _neutrals(contents),
        "conductors": [_conductors(group) for group in contents.groups],
        "conductor_count": contents.conductor_count,
        "current_carrying": contents.current_carrying,
        "fill_percent": _rounded_or_none(contents.fill_percent),
        "fill_limit_percent": _rounded_or_none(contents.fill_limit_percent),
        "adjustment_percent": _rounded_or_none(contents.adjustment_percent),
        "devices": [
            {"before": one.what, "amperes": one.amperes, "in_parallel_here": one.in_parallel}
            for one in contents.protected
        ],
        "missing": list(contents.missing),
    }


def _circuit(circuit: CircuitPhases) -> dict[str, Any]:
    return {
        "name": circuit.name,
        "spaces": list(circuit.spaces),
        "phases": list(circuit.phases),
        "colours": list(circuit.colours),
        "neutral": circuit.has_neutral,
    }


def _neutrals(contents: RacewayContents) -> dict[str, Any]:
    """The neutrals of the circuits alone, and all neutral conductors counted; null where one is not known."""
    listed = sum(group.count for group in contents.groups if group.use == "neutral")
    return {
        "count": None if contents.missing else listed,
        "of_circuits": [_neutral(neutral) for neutral in contents.neutrals],
        "why": contents.neutrals_why,
    }


def _neutral(neutral: Neutral) -> dict[str, Any]:
    return {
        "circuits": list(neutral.circuits),
        "shared": neutral.is_shared,
        "current_carrying": neutral.carries_current,
    }


def _conductors(group: Conductors) -> dict[str, Any]:
    return {
        "count": group.count,
        "size": group.wire.size,
        "insulation": group.wire.insulation,
        "metal": group.wire.metal,
        "use": group.use,
        "colours": list(group.colours),
    }


def _row(row: PlacedRow) -> dict[str, Any]:
    return {
        "row": row.row.name,
        "back_line_in": _rounded_or_none(row.back_line_in),
        "centre_line_in": _rounded_or_none(row.centre_line_in),
        "gaps": [_gap(gap) for gap in row.gaps],
    }


def _gap(gap: Gap) -> dict[str, Any]:
    return {
        "before": gap.before,
        "after": gap.after,
        "required_in": rounded(gap.required_in),
        "provided_in": rounded(gap.provided_in),
        "centres_in": rounded(gap.centres_in),
        "governed_by": gap.governed_by,
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "check": finding.check,
        "outcome": finding.outcome.value,
        "face": finding.face,
        "holes": list(finding.holes),
        "provided": None if finding.provided is None else rounded(finding.provided),
        "required": None if finding.required is None else rounded(finding.required),
        "unit": finding.unit,
        "source": finding.source,
        "message": finding.message,
        "remedy": finding.remedy,
        "solved_remedies": list(finding.solved_remedies),
    }


def _rounded_or_none(value: float | None) -> float | None:
    return None if value is None else rounded(value)


def rounded(value: float) -> float:
    """A number as it is written, without noise of float sums."""
    return round(value, _DECIMALS) + 0.0  # + 0.0 turns -0.0 into 0.0


def encoded(value: dict[str, Any]) -> bytes:
    """The text of a whole file, which says what made it."""
    text = json.dumps({"made_by": MAKER, **value}, indent=2, ensure_ascii=False, allow_nan=False) + "\n"
    return text.encode("utf-8", "replace")
