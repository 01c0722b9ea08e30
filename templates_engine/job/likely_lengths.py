"""Holds lengths against what cans, strut and cutters come in, and names the likely slip where one is far off.

All limits: common practice, no source. They are wide: within them nothing is called wrong.
"""

from __future__ import annotations

from typing import Literal

from templates_engine.job.model import Enclosure, Row
from templates_engine.job.schema import WrittenEnclosure, WrittenRow
from templates_engine.job.text.key_paths import shown
from templates_engine.job.written_values import WrittenList, WrittenText, has_unit
from templates_engine.trade.enclosure_sizes import LEAST_CAN_IN, MOST_CAN_IN, Dimension
from templates_engine.units import MM_PER_INCH

MOST_BACK_GAP_IN = 12.0
LEAST_STRUT_IN, MOST_STRUT_IN = 0.375, 10.0
MOST_SNAP_IN = 1.0
"""25 mm or 1 in: no tape has coarser graduations than those."""
MOST_HOLE_IN = 8.0


def check_enclosure(can: Enclosure, written: WrittenEnclosure) -> None:
    """Reports outside measures that no can has."""
    measures: tuple[tuple[Dimension, WrittenText, float], ...] = (
        ("width", written.width, can.width_in),
        ("height", written.height, can.height_in),
        ("depth", written.depth, can.depth_in),
    )
    for key, text, length_in in measures:
        _check(text, length_in, f"an enclosure's {key}", (LEAST_CAN_IN, MOST_CAN_IN[key]))
    what = "a gap between wall and enclosure"
    _check(written.back_gap, can.back_gap_in, what, (0.0, MOST_BACK_GAP_IN))


def check_row(row: Row, written: WrittenRow, width_in: float) -> None:
    """Reports strut, gaps, graduations and holes that no row has."""
    if row.strut is not None:
        texts = written.strut if isinstance(written.strut, WrittenList) else [written.strut]
        for text, depth_in in zip(texts, row.strut.depths_in, strict=True):
            _check(text, depth_in, "a strut's depth", (LEAST_STRUT_IN, MOST_STRUT_IN))
        _check(written.shim, row.strut.shim_in, "a shim's thickness", (0.0, MOST_STRUT_IN))
    _check(written.snap, row.snap_in or 0.0, "a tape's graduation", (0.0, MOST_SNAP_IN))
    check_gap(written.gap, row.gap, width_in)


def check_gap(written: WrittenText, gap_in: float | Literal["fittings"] | None, width_in: float) -> None:
    """Reports a gap between two raceways that is wider than the face."""
    if written.text is None or gap_in is None or gap_in == "fittings":
        return
    if gap_in > width_in:
        wrong = f"A gap of {written.say(gap_in)} is wider than the face, {written.say(width_in)}"
        how = "Write the clear distance between two neighbours' outsides."
        written.report(wrong, _slip(written, (0.0, width_in)) or how)


def check_hole(written: WrittenText, hole_in: float) -> None:
    """Reports a hole that no cutter makes."""
    _check(written, hole_in, "a knockout's diameter", (0.0, MOST_HOLE_IN))


def _check(written: WrittenText, length_in: float, what: str, limits: tuple[float, float]) -> None:
    """Reports a length outside its limits; what could not be read is NaN and passes."""
    least_in, most_in = limits
    if not written.is_written or not (length_in < least_in or length_in > most_in):
        return
    side = "less" if length_in < least_in else "more"
    limit = written.say(least_in if length_in < least_in else most_in)
    wrong = f"{written.say(length_in)} is {side} than can be for {what}; {limit} is the {_END[side]} taken"
    slip = _slip(written, limits)
    written.report(wrong, slip or "Write the length as the tape reads, with its unit.")


_END = {"less": "least", "more": "most"}
_GRADUATIONS = ("2", "4", "8", "16", "32", "64")


def _slip(written: WrittenText, limits: tuple[float, float]) -> str:
    """The likely slip of a length, in a sentence: a graduation without its 1/, or the unit of the file."""
    text, unit, (least_in, most_in) = (written.text or "").strip(), written.reading.unit, limits
    if has_unit(text):
        return ""
    bare_in = written.length(allow="zero")
    if unit == "in" and most_in == MOST_SNAP_IN and text in _GRADUATIONS:
        return f"If a fraction is meant, write `1/{text} in`."
    if unit == "in" and least_in <= bare_in / MM_PER_INCH <= most_in:
        return f"If millimetres are meant, write `{shown(text)} mm`, or `units: mm` for the whole file."
    if unit == "mm" and least_in <= bare_in * MM_PER_INCH <= most_in:
        return f"If inches are meant, write `{shown(text)} in`, or take `units: mm` out."
    return ""
