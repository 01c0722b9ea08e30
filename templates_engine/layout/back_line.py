"""Turns a row's strut, or what stands behind it, into the line its raceways' backs lie on, v in inches.

::

    wall |  strut depths + shim  |( raceway )
         |  back gap  |-- can ---|-----------      back line = strut total - back gap
                      back edge, v = 0

Whether the holes then stay on the face is for the checks.
"""

from __future__ import annotations

from collections.abc import Sequence

from templates_engine.geometry import TOLERANCE_IN
from templates_engine.job.model import CentreLine, Row, Strut
from templates_engine.layout.model import RowLine
from templates_engine.layout.row.failure import RowError
from templates_engine.layout.row.fitted_row import FittedRow, fitted_behind, strap_reach
from templates_engine.layout.row.fitting_gaps import in_front, one_of_each
from templates_engine.trade import strut as strut_table
from templates_engine.units import LengthFormat
from templates_engine.values import Struct


class RowBehind(Struct, frozen=True):
    """A row standing nearer the back: its line, and how far its largest raceway comes forward."""

    row: FittedRow
    line: RowLine
    front_in: float
    straps_in: float
    """How far its straps' room comes forward; its raceways, where it has no straps."""


def row_behind(row: FittedRow, line: RowLine) -> RowBehind:
    """A placed row as an obstacle to one in front of it, every raceway taken at its largest."""
    cuts = row.cuts
    most = max((cut.size.outside_diameter_most_in for cut in cuts), default=0.0)
    knocked_out = [cut.centre_v(line) + cut.reach_in for cut in cuts if cut.raceway.factory_knockout]
    front_in = max(line.at_in + (most if line.through == "backs" else most / 2), *knocked_out, 0.0)
    straps = [cut.centre_v(line) + strap_reach(row.job, cut) for cut in cuts if row.row.is_strapped]
    return RowBehind(row, line, front_in, max([front_in, *straps]))


def back_line(fitted: FittedRow, behind: Sequence[RowBehind]) -> RowLine:
    """The line the row stands on; ``behind`` are the rows before it in the file.

    Raises RowError when the line would lie behind the enclosure's back, or there is nothing to stand in
    front of.
    """
    row, lengths = fitted.row, fitted.job.lengths
    if row.back_line == "auto":
        return _in_front_of(fitted, behind)
    if row.back_line == "strut":
        return _on_strut(row, fitted.job.enclosure.back_gap_in, lengths)
    if isinstance(row.back_line, CentreLine):
        at_in = row.back_line.at_in
        return RowLine(at_in, f"centre line given as {lengths.say(at_in)}", "centres")
    if row.back_line < 0:
        raise RowError(
            row.place,
            f"Row {row.name} has its back line {lengths.say(-row.back_line)} behind the enclosure's back.",
            "Give the back line as the distance from the enclosure's back toward its front.",
        )
    return RowLine(row.back_line, f"given as {lengths.say(row.back_line)}")


def _on_strut(row: Row, back_gap_in: float, lengths: LengthFormat) -> RowLine:
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
            f"Row {row.name} stands on {strut_words(row.strut, lengths)}, but the enclosure stands "
            f"{lengths.say(back_gap_in)} off the wall: the raceways' backs would lie "
            f"{lengths.say(-at_in)} behind the enclosure's back.",
            _deeper_words(row.strut, back_gap_in),
            kind="back line",
        )
    words = strut_words(row.strut, lengths)
    if back_gap_in > 0:
        words += f" less {lengths.say(back_gap_in)} off the wall"
    return RowLine(max(0.0, at_in), words)


def _in_front_of(fitted: FittedRow, behind: Sequence[RowBehind]) -> RowLine:
    """The least line that keeps the row's gap and the room for straps, on strut that can be built if it names
    its own.

    ::

        wall |  stacked strut ...... | own strut |( front )
             |  strut |( behind )strap room|
    """
    job, row, lengths = fitted.job, fitted.row, fitted.job.lengths
    if not behind:
        raise RowError(
            row.place,
            f"Row {row.name} is to clear the rows behind it, but no row stands before it in the file.",
            "Give its strut: or its back line: as a length, or write the row behind it first.",
        )
    foremost = max(behind, key=lambda one: one.front_in)
    front = f"row {foremost.row.row.name}, whose front is at {lengths.say(foremost.front_in)}"
    if row.gap == "fittings":
        gap_in, asked_by = _fitting_gap(fitted, behind, foremost.front_in)
    else:
        gap_in, asked_by = row.gap, "gap"
    straps_in = max(one.straps_in for one in behind)
    if row.strut is not None:
        least_in = max(foremost.front_in + gap_in, straps_in + row.strut.total_in)
        return _on_stack(fitted, row.strut, least_in, front)
    own_in = max(
        (strap_reach(job, cut) - cut.size.outside_diameter_in / 2 for cut in fitted.cuts), default=0.0
    )
    if straps_in + own_in > foremost.front_in + gap_in + TOLERANCE_IN:
        gap_in, asked_by = straps_in + own_in - foremost.front_in, "for straps"
    words = f"clear of {front}"
    return RowLine(
        foremost.front_in + gap_in, f"{words}, plus {lengths.say(gap_in)} {asked_by}" if gap_in else words
    )


def _on_stack(fitted: FittedRow, strut: Strut, least_in: float, front: str) -> RowLine:
    """The row's own strut on the shallowest strut that brings its backs to ``least_in`` or beyond."""
    row, back_gap_in, lengths = fitted.row, fitted.job.enclosure.back_gap_in, fitted.job.lengths
    under_in = least_in + back_gap_in - strut.total_in
    under = next((one for one in strut_table.stacks() if sum(one) >= under_in - TOLERANCE_IN), None)
    if under is None:
        raise RowError(
            row.place,
            f"Row {row.name} is to stand on strut in front of {front}, but no strut is built up to "
            f"{lengths.say(under_in)}, as its own has to stand off the wall.",
            "Write `back line:` as a length, or put the row on a face of its own.",
        )
    built = f"{strut_words(strut, lengths)} on {strut_words(Strut(under, 0.0), lengths)}"
    words = f"{built}, the least clear of {front}"
    if back_gap_in > 0:
        words += f", less {lengths.say(back_gap_in)} off the wall"
    return RowLine(sum(under) + strut.total_in - back_gap_in, words)


def _fitting_gap(row: FittedRow, behind: Sequence[RowBehind], front_in: float) -> tuple[float, str]:
    """The gap in front of ``front_in`` that keeps all fittings of the two rows apart wherever they stand
    along u, and who asks for it.

    ::

        behind ( + )|<- gap ->( + ) front          between the centres + at least what the pair needs
    """
    least, words = 0.0, ""
    fronts = one_of_each(row.fitted.values())
    for one in behind:
        for back in one_of_each(fitted_behind(one.row, row.row)):
            for front in fronts:
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


def _deeper_words(strut: Strut, back_gap_in: float) -> str:
    """What to do about strut too shallow where no change that was tried carries the row."""
    if deep_enough(strut, back_gap_in):
        return "Deeper strut reaches the back, but no single change tried makes the row fit on it."
    return "No single strut is deep enough: stack strut, add a shim, or give the back line."


def strut_words(strut: Strut, lengths: LengthFormat) -> str:
    """The strut in a sentence: "1-5/8 in strut with 1/8 in of shim"."""
    *more, last = (lengths.say(depth) for depth in strut.depths_in)
    words = f"{', '.join(more)} and {last} strut" if more else f"{last} strut"
    return f"{words} with {lengths.say(strut.shim_in)} of shim" if strut.shim_in else words
