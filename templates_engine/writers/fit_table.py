"""Turns what rows could stand on into text to read, or JSON for other programs; it computes nothing."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from templates_engine.advice.fit import OnFace, OnStrut, RowFit
from templates_engine.advice.row_room import RowRoom
from templates_engine.job.model import Face, Job, Row
from templates_engine.units import LengthFormat
from templates_engine.writers.json_file import job_bytes
from templates_engine.writers.text_table import aligned

_ACROSS_HEADINGS = ("to the back", "to the front")
_RUNS = {True: "top to bottom", False: "left to right"}
"""The way a row runs, by whether its face is a side."""
_ALONG_FACES = "along the face"
_HINDRANCES = {"back": "short to the back", "front": "short to the front"}
_LEGEND = (
    "to the back, to the front: from the knockouts to the end of the flat metal\n"
    "left to right, top to bottom: left in one piece beyond the row, its raceways packed toward its start\n"
    "along the face: the same, left to right on top and bottom, top to bottom on the sides\n"
    "short: that much is missing\n"
    "Fittings, dies and codes are not counted here; check does that.\n"
)


def fit_text(job: Job, rows: Sequence[RowFit]) -> str:
    """Two tables a row, struts and faces, in the job's unit; ends with a line feed."""
    lengths = job.lengths
    unit = "inches" if lengths.unit == "in" else "millimetres"
    parts = [_row_text(row, lengths) for row in rows]
    return "\n".join([*parts, f"Lengths in {unit}.\n{_LEGEND}"])


def fit_bytes(job: Job, rows: Sequence[RowFit]) -> bytes:
    """The same as data, in inches."""
    found = [
        {
            "face": row.face,
            "row": row.row.name,
            "holes": [raceway.id for raceway in row.row.raceways],
            "struts": [_strut_data(one, row.row) for one in row.struts],
            "faces": [_face_data(one) for one in row.faces],
        }
        for row in rows
    ]
    return job_bytes(job, rows=found)


def _row_text(fit: RowFit, lengths: LengthFormat) -> str:
    ids = [raceway.id for raceway in fit.row.raceways]
    which = ids[0] if len(ids) == 1 else f"{ids[0]} to {ids[-1]}"
    apart = _apart(fit.row, lengths)
    most = "largest gap" if fit.row.spacing_in is None else "largest spacing"
    runs = _RUNS[Face(fit.face).is_side]
    struts = aligned(
        ("strut", "backs at", *_ACROSS_HEADINGS, runs, most, "takes the row"),
        [
            (
                _strut_name(one, lengths),
                _number(_line_in(one.room, "backs"), lengths),
                *_room_cells(one.room, lengths),
                "" if one.largest_apart_in is None else lengths.mark(one.largest_apart_in),
                _answer(one.room, runs),
            )
            for one in fit.struts
        ],
        frozenset(range(1, 6)),
    )
    faces = aligned(
        ("face", "length", *_ACROSS_HEADINGS, _ALONG_FACES, "takes the row"),
        [
            (
                _face_name(one),
                lengths.exact(one.width_in),
                *_room_cells(one.room, lengths),
                _answer(one.room, _RUNS[Face(one.face).is_side]),
            )
            for one in fit.faces
        ],
        frozenset(range(1, 5)),
    )
    return f"{fit.face}, row {fit.row.name}: {which}, {apart}\n\n{struts}\n{faces}"


def _apart(row: Row, lengths: LengthFormat) -> str:
    """What the row asks for between its raceways: "gap 1 in", "3 in from centre to centre"."""
    if row.spacing_in is not None:
        return f"{lengths.say(row.spacing_in)} from centre to centre"
    return f"gap {row.gap if isinstance(row.gap, str) else lengths.say(row.gap)}"


def _line_in(room: RowRoom, through: str) -> float | None:
    """Where the backs or the centres lie, where they lie in one line."""
    return room.line.at_in if room.line is not None and room.line.through == through else None


def _strut_name(one: OnStrut, lengths: LengthFormat) -> str:
    centres_in = _line_in(one.room, "centres")
    if centres_in is not None:
        return f"as written, centres at {lengths.say(centres_in)}"
    if one.strut is None:
        return "as written, no strut"
    words = " and ".join(lengths.say(depth) for depth in one.strut.depths_in)
    if one.strut.shim_in:
        words += f" with {lengths.say(one.strut.shim_in)} of shim"
    return f"{words}, as written" if one.is_written else words


def _face_name(one: OnFace) -> str:
    if one.is_own:
        return f"{one.face}, as written"
    return one.face if one.is_in_job else f"{one.face}, not in the job: no lips known"


def _room_cells(room: RowRoom, lengths: LengthFormat) -> tuple[str, ...]:
    return tuple(_number(one, lengths) for one in (room.back_in, room.front_in, room.along_in))


def _number(inches: float | None, lengths: LengthFormat) -> str:
    """Exact, and what is missing by its name; what would be shown as nothing is nothing."""
    if inches is None:
        return ""
    shown = lengths.exact(abs(inches))
    return f"{shown} short" if inches < 0 and shown != "0" else shown


def _answer(room: RowRoom, runs: str) -> str:
    words = {**_HINDRANCES, "along": f"short {runs}"}
    return "yes" if room.takes else f"no: {', '.join(words.get(one, one) for one in room.hindrances)}"


def _strut_data(one: OnStrut, row: Row) -> dict[str, Any]:
    strut, is_spaced = one.strut, row.spacing_in is not None
    return {
        "strut_in": None if strut is None else strut.depths_in,
        "shim_in": None if strut is None else strut.shim_in,
        "as_written": one.is_written,
        **_room_data(one.room),
        "largest_gap_in": None if is_spaced else one.largest_apart_in,
        "largest_spacing_in": one.largest_apart_in if is_spaced else None,
    }


def _face_data(one: OnFace) -> dict[str, Any]:
    return {
        "face": one.face,
        "width_in": one.width_in,
        "as_written": one.is_own,
        "in_job": one.is_in_job,
        **_room_data(one.room),
    }


def _room_data(room: RowRoom) -> dict[str, Any]:
    return {
        "back_line_in": _line_in(room, "backs"),
        "centre_line_in": _line_in(room, "centres"),
        "to_back_in": room.back_in,
        "to_front_in": room.front_in,
        "along_in": room.along_in,
        "takes": room.takes,
        "hindrances": room.hindrances,
    }
