"""Turns the rows of a face into Rows: strut and gap; places and raceways are read in `placing.py` and
`raceways.py`.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Literal

from templates_engine.job.help.usual_slips import strut_remedy
from templates_engine.job.likely_lengths import check_row
from templates_engine.job.model import CentreLine, Placing, Row, Spread, Strut
from templates_engine.job.read.face_scope import FaceScope
from templates_engine.job.read.in_knockouts import centre_line, check_on_line
from templates_engine.job.read.placing import check_pins
from templates_engine.job.read.placing import placing as read_placing
from templates_engine.job.read.raceways import raceways
from templates_engine.job.schema import WrittenRow
from templates_engine.job.shop.defaults import ShopDefaults
from templates_engine.job.text.key_paths import shown
from templates_engine.job.written_values import WrittenList, WrittenText

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def rows(written: WrittenList[WrittenRow], scope: FaceScope, usual: ShopDefaults) -> tuple[Row, ...]:
    """The rows of a face, named A, B, C in file order."""
    if len(written) > len(_LETTERS):
        wrong = f"A face has at most {len(_LETTERS)} rows, named A to Z"
        written.report(wrong, "Put raceways of one strut in one row.")
    return tuple(
        _row(row, name, scope, usual) for row, name in zip(written, _LETTERS, strict=False) if row.is_sound
    )


def _row(written: WrittenRow, name: str, scope: FaceScope, usual: ShopDefaults) -> Row:
    placing = read_placing(written, scope)
    is_open = not (written.gap.is_written or written.spacing.is_written or isinstance(placing, Spread))
    usual_gap = usual.gap if is_open else None
    members = raceways(written.raceways, name, scope)
    if isinstance(placing, Spread):
        check_pins(placing, members, written)
    says_line = any(one.is_written for one in (written.strut, written.back_line, written.centre_line))
    line = None if says_line else centre_line(written.raceways, members)
    row = Row(
        name=name,
        place=written.where,
        back_line=line or _back_line(written, name, scope),
        strut=_strut(written),
        gap=_gap(written, placing) if usual_gap is None else usual_gap,
        spacing_in=written.spacing.spacing(),
        snap_in=written.snap.length_or_none(),
        placing=placing,
        raceways=members,
        gap_from_shop=usual_gap is not None,
        tool_room_in=written.tool_room.length_or_none() or 0.0,
    )
    _check_tool_room(row, written.tool_room)
    check_row(row, written, scope.width_in)
    check_on_line(row, written)
    return row


def _check_tool_room(row: Row, written: WrittenText) -> None:
    """Room for a wrench is kept only where a gap is worked out from fittings."""
    works_out = [row.asked_before(one).apart == "fittings" for one in row.raceways]
    if written.is_written and not any(works_out):
        wrong = "Room for a tool is kept between fittings, and no gap of this row is worked out from them"
        written.report(wrong, "Write `gap: fittings` too, or a larger gap instead.")


# --- how far from the back ----------------------------------------------------------------------------------


def _back_line(
    written: WrittenRow, name: str, scope: FaceScope
) -> float | Literal["strut", "auto"] | CentreLine:
    line, strut = written.back_line, written.strut
    if written.centre_line.is_written:
        return _centre_line(written, scope)
    if not line.is_written:
        if not strut.is_written and line.is_sound:
            remedy = (
                "Write `strut:` with its depth, such as 1-5/8 in, or `back line:` with the distance; for "
                "nipples and entries without strut, `centre line:` with the distance to their centres."
            )
            strut.report("Nothing says how far the raceways stand from the enclosure's back", remedy)
        return "strut"
    if line.spelled == "auto":
        if name == "A":
            remedy = "Write `strut:` with its depth instead; `auto` is for rows in front of another."
            line.report("There is no row before this one to be clear of", remedy)
        return "auto"
    if strut.is_written:
        remedy = "Keep one of the two. Only `back line: auto` goes with a strut."
        line.report("Both a strut and a back line are given", remedy)
    line_in = line.length(allow="zero")
    _check_on_face(line, line_in, scope)
    return line_in


def _centre_line(written: WrittenRow, scope: FaceScope) -> CentreLine:
    """The centres' distance from the back; nothing else may say how far from the back they lie."""
    for other in (written.strut, written.back_line):
        if other.is_written:
            remedy = "Keep one of the two. A centre line is for nipples and entries without strut."
            written.centre_line.report(f"Both a {other.path[-1]} and a centre line are given", remedy)
    line_in = written.centre_line.length()
    _check_on_face(written.centre_line, line_in, scope)
    return CentreLine(line_in)


def _check_on_face(written: WrittenText, line_in: float, scope: FaceScope) -> None:
    if line_in > scope.depth_in:
        deep = written.say(scope.depth_in)
        wrong = f"The {written.path[-1]} at {written.say(line_in)} is off the face, which is {deep} deep"
        written.report(wrong, "Measure it from the enclosure's back edge.")


def _strut(written: WrittenRow) -> Strut | None:
    shim_in = written.shim.length(0.0, allow="zero")
    strut = written.strut
    if isinstance(strut, WrittenText):
        if strut.is_written:
            return Strut((_depth(strut),), shim_in)
        if written.shim.is_written and strut.is_sound:
            written.shim.report("Shims are given without a strut", "Write `strut:` too, or take `shim:` out.")
        return None
    if not strut:
        strut.report("The list of struts is empty", "Write a depth, such as 1-5/8 in.")
    _check_commas(strut)
    return Strut(tuple(_depth(text) for text in strut), shim_in)


def _depth(written: WrittenText) -> float:
    """One strut's depth; several in one text, or words for them, are told how to be written."""
    text = written.value()
    if text is not None and (remedy := strut_remedy(text, written.reading.unit)):
        written.report(f"'{shown(text)}' is no depth of one strut", remedy)
    return written.length()


def _check_commas(depths: WrittenList[WrittenText]) -> None:
    """Two whole numbers with a comma and no space between, `[1,5]`, may be one decimal or two struts."""
    for first, second in pairwise(depths):
        one, other = first.text or "", second.text or ""
        here, there = first.position, second.position
        is_tight = here.line == there.line and there.column == here.column + len(one) + 1
        if is_tight and one.isdecimal() and other.isdecimal():
            remedy = (
                f"Write {one}, {other} with a space for two struts, or {one}.{other} for one. "
                "A list of struts is stacked."
            )
            first.report(f"`{one},{other}` may be two struts or one", remedy)


# --- along the face -----------------------------------------------------------------------------------------


def _gap(written: WrittenRow, placing: Placing) -> float | Literal["fittings"]:
    """The row's clear gap; 0 where a spread row leaves it open, where its spacing is given instead, or where
    no two neighbours use it.
    """
    if written.gap.is_written:
        if written.spacing.is_written:
            remedy = "Keep one of the two: `gap` is clear between raceways, `spacing` from centre to centre."
            written.gap.report("Both a gap and a spacing are given", remedy)
        return written.gap.gap()
    is_spaced = written.spacing.is_written or not written.spacing.is_sound
    if _uses_gap(written) and not is_spaced and not isinstance(placing, Spread):
        remedy = (
            "Write it, such as `gap: 1-1/8 in`, or `gap: fittings`; or `spacing: 3 in` from centre to centre."
        )
        written.gap.report("`gap` is missing; nothing says how far apart the raceways stand", remedy)
    return 0.0


def _uses_gap(written: WrittenRow) -> bool:
    """Whether any two neighbours stand as far apart as the row says."""
    entries = written.raceways
    counted = (one for one in entries if not one.factory_knockout.is_written and one.count.is_written)
    return any(one.count.spelled != "1" for one in counted) or any(
        not (entry.gap_before.is_written or entry.spacing_before.is_written)
        and not (before.factory_knockout.is_written and entry.factory_knockout.is_written)
        for before, entry in pairwise(entries)
    )
