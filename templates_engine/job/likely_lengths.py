"""Holds lengths against what cans, strut and cutters come in, and names the likely slip where one is far off.

All limits: common practice, no source. They are wide: within them nothing is called wrong.
"""

from __future__ import annotations

from typing import Literal

from templates_engine.job.model import Enclosure, Row
from templates_engine.job.read.file_reading import FileReading, has_unit
from templates_engine.job.schema import WrittenEnclosure, WrittenRow
from templates_engine.job.text.key_paths import KeyPath, shown
from templates_engine.trade.cans import LEAST_CAN_IN, MOST_CAN_IN, Dimension
from templates_engine.units import MM_PER_INCH

MOST_BACK_GAP_IN = 12.0
LEAST_STRUT_IN, MOST_STRUT_IN = 0.375, 10.0
MOST_SNAP_IN = 1.0
"""25 mm or 1 in: no tape has coarser graduations than those."""
MOST_HOLE_IN = 8.0


def check_enclosure(can: Enclosure, written: WrittenEnclosure, reading: FileReading) -> None:
    """Reports outside measures that no can has."""
    measures: dict[Dimension, float] = {"width": can.width_in, "height": can.height_in, "depth": can.depth_in}
    for key, length_in in measures.items():
        limits = (LEAST_CAN_IN, MOST_CAN_IN[key])
        _check(getattr(written, key), length_in, ("enclosure", key), f"an enclosure's {key}", limits, reading)
    limits, what = (0.0, MOST_BACK_GAP_IN), "a gap between wall and enclosure"
    _check(written.back_gap, can.back_gap_in, ("enclosure", "back gap"), what, limits, reading)


def check_row(row: Row, written: WrittenRow, path: KeyPath, width_in: float, reading: FileReading) -> None:
    """Reports strut, gaps, graduations and holes that no row has."""
    if row.strut is not None and written.strut is not None:
        texts = [written.strut] if isinstance(written.strut, str) else written.strut
        for place, (text, depth_in) in enumerate(zip(texts, row.strut.depths_in, strict=True)):
            here = (*path, "strut") if isinstance(written.strut, str) else (*path, "strut", place)
            _check(text, depth_in, here, "a strut's depth", (LEAST_STRUT_IN, MOST_STRUT_IN), reading)
        shim_in, limits = row.strut.shim_in, (0.0, MOST_STRUT_IN)
        _check(written.shim, shim_in, (*path, "shim"), "a shim's thickness", limits, reading)
    limits = (0.0, MOST_SNAP_IN)
    _check(written.snap, row.snap_in or 0.0, (*path, "snap"), "a tape's graduation", limits, reading)
    if written.gap is not None and row.gap != "fittings":
        _check_gap(written.gap, row.gap, (*path, "gap"), width_in, reading)


def check_gap_before(
    written: str | None,
    gap_in: float | Literal["fittings"] | None,
    path: KeyPath,
    width_in: float,
    reading: FileReading,
) -> None:
    """Reports a gap between two raceways that is wider than the face."""
    if written is not None and gap_in is not None and gap_in != "fittings":
        _check_gap(written, gap_in, path, width_in, reading)


def check_hole(written: str | None, hole_in: float, path: KeyPath, reading: FileReading) -> None:
    """Reports a hole that no cutter makes."""
    _check(written, hole_in, path, "a knockout's diameter", (0.0, MOST_HOLE_IN), reading)


def _check_gap(written: str, gap_in: float, path: KeyPath, width_in: float, reading: FileReading) -> None:
    if gap_in > width_in:
        wrong = f"A gap of {reading.say(gap_in)} is wider than the face, {reading.say(width_in)}"
        how = "Write the clear distance between two neighbours' outsides."
        reading.report(path, wrong, _slip(written, (0.0, width_in), reading) or how)


def _check(
    written: str | None,
    length_in: float,
    path: KeyPath,
    what: str,
    limits: tuple[float, float],
    reading: FileReading,
) -> None:
    """Reports a length outside its limits; what could not be read is NaN and passes."""
    least_in, most_in = limits
    if written is None or not (length_in < least_in or length_in > most_in):
        return
    side = "less" if length_in < least_in else "more"
    limit = reading.say(least_in if length_in < least_in else most_in)
    wrong = f"{reading.say(length_in)} is {side} than can be for {what}; {limit} is the {_END[side]} taken"
    slip = _slip(written, limits, reading)
    reading.report(path, wrong, slip or "Write the length as the tape reads, with its unit.")


_END = {"less": "least", "more": "most"}
_GRADUATIONS = ("2", "4", "8", "16", "32", "64")


def _slip(written: str, limits: tuple[float, float], reading: FileReading) -> str:
    """The likely slip of a length, in a sentence: a graduation without its 1/, or the unit of the file."""
    text, (least_in, most_in) = written.strip(), limits
    if not has_unit(text):
        if reading.unit == "in" and most_in == MOST_SNAP_IN and text in _GRADUATIONS:
            return f"If a fraction is meant, write `1/{text} in`."
        if reading.unit == "in" and least_in <= _read(text, reading) / MM_PER_INCH <= most_in:
            return f"If millimetres are meant, write `{shown(text)} mm`, or `units: mm` for the whole file."
        if reading.unit == "mm" and least_in <= _read(text, reading) * MM_PER_INCH <= most_in:
            return f"If inches are meant, write `{shown(text)} in`, or take `units: mm` out."
    return ""


def _read(text: str, reading: FileReading) -> float:
    """A bare number that was read before, as inches of this file."""
    return reading.length(text, ("\0read again",), allow="zero")
