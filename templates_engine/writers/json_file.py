"""Turns a Layout, or findings, into JSON for other programs; it computes nothing."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from enum import Enum
from typing import Any

from templates_engine.checks.model import Finding, passes
from templates_engine.job.model import Job
from templates_engine.layout.model import FaceLayout, Hole, Layout, PlacedRow
from templates_engine.outputs import MAKER
from templates_engine.wiring import CircuitPhases, Conductors, Contents, RacewayContents

SCHEMA_VERSION = 1
"""Grows when a key is renamed, removed or changes its meaning; new keys alone do not change it."""

_DECIMALS = 6


def json_bytes(layout: Layout, contents: Contents, findings: Sequence[Finding]) -> bytes:
    """The holes of every face, lengths in inches, u and v as on the face (never mirrored), what their
    raceways carry, and whether the face passes its checks.
    """
    faces = [_face(face, contents, passes(face, findings), _notes(layout, face)) for face in layout.faces]
    return job_bytes(layout.job, faces=faces)


def findings_bytes(findings: Iterable[Finding]) -> bytes:
    """The findings in their order, each with what was measured, what is needed and by whose word."""
    measured = ("check", "outcome", "face", "holes", "provided", "required", "unit", "source")
    told = ("message", "remedy", "solved_remedies")
    listed = [_named(finding, *measured, *told) for finding in findings]
    return encoded({"schema_version": SCHEMA_VERSION, "findings": listed})


def job_bytes(job: Job, **parts: Any) -> bytes:
    """The text of a file about one job, lengths in inches."""
    whose = {"job": job.title, "revision": job.revision, "units": "in"}
    return encoded({"schema_version": SCHEMA_VERSION, **whose, **parts})


def encoded(value: dict[str, Any]) -> bytes:
    """The text of a whole file, which says what made it; numbers in it are rounded."""
    told = _told({"made_by": MAKER, **value})
    text = json.dumps(told, indent=2, ensure_ascii=False, allow_nan=False) + "\n"
    return text.encode("utf-8", "replace")


def rounded(value: float) -> float:
    """A number as it is written, without noise of float sums."""
    return round(value, _DECIMALS) + 0.0  # + 0.0 turns -0.0 into 0.0


def _told(value: Any) -> Any:
    """A value and all in it as JSON holds them."""
    match value:
        case float():
            return rounded(value)
        case Enum():
            return value.value
        case dict():
            return {key: _told(one) for key, one in value.items()}
        case list() | tuple():
            return [_told(one) for one in value]
        case _:
            return value


def _named(value: object, *names: str) -> dict[str, Any]:
    """What stands in the file under the name it has here."""
    return {name: getattr(value, name) for name in names}


def _notes(layout: Layout, face: FaceLayout) -> list[dict[str, Any]]:
    """What moved holes unasked, and what to know of them, with the holes each is about."""
    word = face.job.face.value
    return [_named(one, "words", "holes") for one in layout.notes if one.face == word]


def _face(
    face: FaceLayout, contents: Contents, is_sound: bool, notes: list[dict[str, Any]]
) -> dict[str, Any]:
    return {
        **_named(face.job, "face", "width_in", "depth_in", "mark_from"),
        "fingerprint": face.fingerprint,
        "passes_checks": is_sound,
        "notes": notes,
        "holes": [_hole(hole, contents.get((face.job.face.value, hole.id))) for hole in face.holes],
        "rows": [_row(row) for row in face.rows],
    }


def _hole(hole: Hole, contents: RacewayContents | None) -> dict[str, Any]:
    return {
        **_named(hole, "id", "type", "trade_size", "u_in", "v_in", "outside_diameter_in", "hole_diameter_in"),
        "hole_limits_in": (hole.hole_least_in, hole.hole_most_in),
        "pilot_diameter_in": hole.pilot_diameter_in,
        "knockout": hole.raceway.knockout,
        **_named(hole, "cutter", "quarter_points_in", "row"),
        "wiring": None if contents is None else _wiring(contents),
    }


def _wiring(contents: RacewayContents) -> dict[str, Any]:
    """What one raceway carries; null stands for what cannot be counted, and ``missing`` names the inputs."""
    return {
        "circuits": [_circuit(circuit) for circuit in contents.circuits],
        "neutrals": _neutrals(contents),
        "conductors": [_conductors(group) for group in contents.groups],
        **_named(contents, "conductor_count", "current_carrying"),
        **_named(contents, "fill_percent", "fill_limit_percent", "adjustment_percent"),
        "devices": [
            {"before": one.what, "amperes": one.amperes, "in_parallel_here": one.in_parallel}
            for one in contents.protected
        ],
        "missing": contents.missing,
    }


def _circuit(circuit: CircuitPhases) -> dict[str, Any]:
    return {**_named(circuit, "name", "spaces", "phases", "colours"), "neutral": circuit.has_neutral}


def _neutrals(contents: RacewayContents) -> dict[str, Any]:
    """The neutrals of the circuits alone, and all neutral conductors counted; null where one is not known."""
    listed = sum(group.count for group in contents.groups if group.use == "neutral")
    return {
        "count": None if contents.missing else listed,
        "of_circuits": [
            {"circuits": one.circuits, "shared": one.is_shared, "current_carrying": one.carries_current}
            for one in contents.neutrals
        ],
        "why": contents.neutrals_why,
    }


def _conductors(group: Conductors) -> dict[str, Any]:
    wire = _named(group.wire, "size", "insulation", "metal")
    return {"count": group.count, **wire, **_named(group, "use", "colours")}


def _row(row: PlacedRow) -> dict[str, Any]:
    measures = ("before", "after", "required_in", "provided_in", "centres_in", "governed_by")
    return {
        "row": row.row.name,
        **_named(row, "back_line_in", "centre_line_in"),
        "gaps": [_named(gap, *measures) for gap in row.gaps],
    }
