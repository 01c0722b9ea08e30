"""A row's strut, or what stands behind it, into the line its raceways' backs lie on, v in inches.

::

    wall |  strut depths + shim  |( raceway )
         |  back gap  |-- can ---|-----------      back line = strut total - back gap
                      back edge, v = 0

Whether the holes then stay on the face is for the checks.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from templates_engine.job.model import CentreLine, Job, Row, Strut
from templates_engine.layout.cut import Cut
from templates_engine.layout.failure import RowError
from templates_engine.layout.fitting_gaps import Fitted, fitted_behind, in_front
from templates_engine.layout.model import RowLine
from templates_engine.layout.tolerance import TOLERANCE_IN
from templates_engine.trade import strut as strut_table
from templates_engine.units import Speech


@dataclass(frozen=True)
class RowBehind:
    """A row standing nearer the back: its line, and how far its largest raceway comes forward."""

    row: Row
    cuts: tuple[Cut, ...]
    line: RowLine
    front_in: float


def row_behind(row: Row, cuts: Sequence[Cut], line: RowLine) -> RowBehind:
    """A placed row as an obstacle to one in front of it, every raceway taken at its largest."""
    most = max((cut.size.outside_diameter_most_in for cut in cuts), default=0.0)
    return RowBehind(row, tuple(cuts), line, line.at_in + (most if line.through == "backs" else most / 2))


def back_line(
    job: Job, row: Row, fitted: Mapping[int, Fitted], behind: Sequence[RowBehind], speech: Speech
) -> RowLine:
    """The line the row stands on; ``behind`` are the rows before it in the file.

    Raises RowError when the line would lie behind the enclosure's back, or there is nothing to stand in
    front of.
    """
    if row.back_line == "auto":
        return _in_front_of(job, row, fitted, behind, speech)
    if row.back_line == "strut":
        return _on_strut(row, job.enclosure.back_gap_in, speech)
    if isinstance(row.back_line, CentreLine):
        at_in = row.back_line.at_in
        return RowLine(at_in, f"centre line given as {speech.say(at_in)}", "centres")
    if row.back_line < 0:
        raise RowError(
            row.place,
            f"Row {row.name} has its back line {speech.say(-row.back_line)} behind the enclosure's back.",
            "Give the back line as the distance from the enclosure's back toward its front.",
        )
    return RowLine(row.back_line, f"given as {speech.say(row.back_line)}")


def _on_strut(row: Row, back_gap_in: float, speech: Speech) -> RowLine:
    if row.strut is None:
        raise RowError(
            row.place,
            f"Row {row.name} says neither its strut nor its back line.",
            "Give strut: with its depth, such as 1-5/8 in, or back line: with a length.",
        )
    at_in = row.strut.total_in - back_gap_in
    if at_in < -TOLERANCE_IN:
        raise RowError(
            row.place,
            f"Row {row.name} stands on {strut_words(row.strut, speech)}, but the enclosure stands "
            f"{speech.say(back_gap_in)} off the wall: the raceways' backs would lie "
            f"{speech.say(-at_in)} behind the enclosure's back.",
            "No single strut is deep enough: stack strut, add a shim, or give the back line.",
            kind="back line",
        )
    words = strut_words(row.strut, speech)
    if back_gap_in > 0:
        words += f" less {speech.say(back_gap_in)} off the wall"
    return RowLine(max(0.0, at_in), words)


def _in_front_of(
    job: Job, row: Row, fitted: Mapping[int, Fitted], behind: Sequence[RowBehind], speech: Speech
) -> RowLine:
    if not behind:
        raise RowError(
            row.place,
            f"Row {row.name} is to clear the rows behind it, but no row stands before it in the file.",
            "Give its strut: or its back line: as a length, or write the row behind it first.",
        )
    foremost = max(behind, key=lambda one: one.front_in)
    words = f"clear of row {foremost.row.name}, whose front is at {speech.say(foremost.front_in)}"
    if row.gap == "fittings":
        gap_in, asked_by = _fitting_gap(job, row, fitted, behind, foremost.front_in)
    else:
        gap_in, asked_by = row.gap, "gap"
    if row.strut is not None and row.strut.total_in >= gap_in:
        return RowLine(
            foremost.front_in + row.strut.total_in, f"{words}, plus {strut_words(row.strut, speech)}"
        )
    return RowLine(
        foremost.front_in + gap_in, f"{words}, plus {speech.say(gap_in)} {asked_by}" if gap_in else words
    )


def _fitting_gap(
    job: Job,
    row: Row,
    fitted: Mapping[int, Fitted],
    behind: Sequence[RowBehind],
    front_in: float,
) -> tuple[float, str]:
    """The gap in front of ``front_in`` that keeps all fittings of the two rows apart wherever they stand
    along u, and who asks for it.

    ::

        behind ( + )|<- gap ->( + ) front          between the centres + at least what the pair needs
    """
    least, words = 0.0, ""
    for one in behind:
        for back in fitted_behind(job, one.row, one.cuts, row):
            for front in fitted.values():
                need = in_front(back, front)
                centre_in = back.cut.centre_v(one.line) + need.centres_in
                gap_in = centre_in - front.cut.size.outside_diameter_in / 2 - front_in
                if gap_in > least + TOLERANCE_IN:
                    least, words = gap_in, f"for the {need.words}"
    return least, words


def deep_enough(strut: Strut, back_gap_in: float) -> tuple[Strut, ...]:
    """The row's strut with one depth of the table instead, for all that reach the enclosure's back."""
    singles = (Strut((listed.depth_in,), strut.shim_in) for listed in strut_table.depths())
    return tuple(single for single in singles if single.total_in >= back_gap_in - TOLERANCE_IN)


def strut_words(strut: Strut, speech: Speech) -> str:
    """The strut in a sentence: "1-5/8 in strut with 1/8 in of shim"."""
    words = " and ".join(speech.say(depth) for depth in strut.depths_in) + " strut"
    return f"{words} with {speech.say(strut.shim_in)} of shim" if strut.shim_in else words
