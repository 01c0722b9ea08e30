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
from templates_engine.job.read.file_reading import FileReading
from templates_engine.job.read.in_knockouts import centre_line, check_on_line
from templates_engine.job.read.placing import check_pins
from templates_engine.job.read.placing import placing as read_placing
from templates_engine.job.read.raceways import raceways
from templates_engine.job.schema import WrittenRow
from templates_engine.job.shop.defaults import ShopDefaults
from templates_engine.job.text.key_paths import KeyPath, shown

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def rows(
    written: list[WrittenRow], path: KeyPath, scope: FaceScope, usual: ShopDefaults, reading: FileReading
) -> tuple[Row, ...]:
    """The rows of a face, named A, B, C in file order."""
    if len(written) > len(_LETTERS):
        reading.report(
            path,
            f"A face has at most {len(_LETTERS)} rows, named A to Z",
            "Put raceways of one strut in one row.",
        )
    return tuple(
        _row(row, (*path, place), _LETTERS[place], scope, usual, reading)
        for place, row in enumerate(written[: len(_LETTERS)])
        if reading.is_sound((*path, place))
    )


def _row(
    written: WrittenRow, path: KeyPath, name: str, scope: FaceScope, usual: ShopDefaults, reading: FileReading
) -> Row:
    placing = read_placing(written, (*path, "place"), scope, reading)
    is_open = written.gap is None and written.spacing is None and not isinstance(placing, Spread)
    usual_gap = usual.gap if is_open else None
    members = raceways(written.raceways or [], (*path, "raceways"), name, scope, reading)
    if isinstance(placing, Spread):
        check_pins(placing, members, written, (*path, "raceways"), reading)
    says_line = any(one is not None for one in (written.strut, written.back_line, written.centre_line))
    line = None if says_line else centre_line(written.raceways or [], members)
    row = Row(
        name=name,
        place=reading.place(path),
        back_line=line or _back_line(written, path, name, scope, reading),
        strut=_strut(written, path, reading),
        gap=_gap(written, (*path, "gap"), placing, reading) if usual_gap is None else usual_gap,
        spacing_in=_spacing(written, (*path, "spacing"), reading),
        snap_in=None if written.snap is None else reading.length(written.snap, (*path, "snap")),
        placing=placing,
        raceways=members,
        gap_from_shop=usual_gap is not None,
        tool_room_in=reading.length_or_none(written.tool_room, (*path, "tool room")) or 0.0,
    )
    _check_tool_room(row, written, (*path, "tool room"), reading)
    check_row(row, written, path, scope.width_in, reading)
    check_on_line(row, (*path, "centre line"), reading)
    return row


def _check_tool_room(row: Row, written: WrittenRow, path: KeyPath, reading: FileReading) -> None:
    """Room for a wrench is kept only where a gap is worked out from fittings."""
    works_out = [row.asked_before(one).apart == "fittings" for one in row.raceways]
    if written.tool_room is not None and not any(works_out) and reading.is_sound(path):
        wrong = "Room for a tool is kept between fittings, and no gap of this row is worked out from them"
        reading.report(path, wrong, "Write `gap: fittings` too, or a larger gap instead.")


# --- how far from the back ----------------------------------------------------------------------------------


def _is_auto(written: WrittenRow) -> bool:
    return written.back_line is not None and written.back_line.strip().lower() == "auto"


def _back_line(
    written: WrittenRow, path: KeyPath, name: str, scope: FaceScope, reading: FileReading
) -> float | Literal["strut", "auto"] | CentreLine:
    line_path, strut_path = (*path, "back line"), (*path, "strut")
    if written.centre_line is not None:
        return _centre_line(written, written.centre_line, (*path, "centre line"), scope, reading)
    if written.back_line is None:
        if written.strut is None and reading.is_sound(line_path) and reading.is_sound(strut_path):
            remedy = (
                "Write `strut:` with its depth, such as 1-5/8 in, or `back line:` with the distance; for "
                "nipples and entries without strut, `centre line:` with the distance to their centres."
            )
            reading.report(
                strut_path, "Nothing says how far the raceways stand from the enclosure's back", remedy
            )
        return "strut"
    if _is_auto(written):
        if name == "A":
            remedy = "Write `strut:` with its depth instead; `auto` is for rows in front of another."
            reading.report(line_path, "There is no row before this one to be clear of", remedy)
        return "auto"
    if written.strut is not None:
        remedy = "Keep one of the two. Only `back line: auto` goes with a strut."
        reading.report(line_path, "Both a strut and a back line are given", remedy)
    line = reading.length(written.back_line, line_path, allow="zero")
    _check_on_face("back line", line, line_path, scope, reading)
    return line


def _centre_line(
    written: WrittenRow, text: str, path: KeyPath, scope: FaceScope, reading: FileReading
) -> CentreLine:
    """The centres' distance from the back; nothing else may say how far from the back they lie."""
    for key, value in (("strut", written.strut), ("back line", written.back_line)):
        if value is not None:
            remedy = "Keep one of the two. A centre line is for nipples and entries without strut."
            reading.report(path, f"Both a {key} and a centre line are given", remedy)
    line = reading.length(text, path)
    _check_on_face("centre line", line, path, scope, reading)
    return CentreLine(line)


def _check_on_face(name: str, line_in: float, path: KeyPath, scope: FaceScope, reading: FileReading) -> None:
    if line_in > scope.depth_in:
        deep = reading.say(scope.depth_in)
        wrong = f"The {name} at {reading.say(line_in)} is off the face, which is {deep} deep"
        reading.report(path, wrong, "Measure it from the enclosure's back edge.")


def _strut(written: WrittenRow, path: KeyPath, reading: FileReading) -> Strut | None:
    strut_path, shim_path = (*path, "strut"), (*path, "shim")
    shim = reading.length(written.shim, shim_path, 0.0, allow="zero")
    if written.strut is None:
        if written.shim is not None and reading.is_sound(strut_path):
            reading.report(
                shim_path, "Shims are given without a strut", "Write `strut:` too, or take `shim:` out."
            )
        return None
    if isinstance(written.strut, str):
        return Strut((_depth(written.strut, strut_path, reading),), shim)
    if not written.strut:
        reading.report(strut_path, "The list of struts is empty", "Write a depth, such as 1-5/8 in.")
    _check_commas(written.strut, strut_path, reading)
    depths = (_depth(text, (*strut_path, place), reading) for place, text in enumerate(written.strut))
    return Strut(tuple(depths), shim)


def _depth(written: str, path: KeyPath, reading: FileReading) -> float:
    """One strut's depth; several in one text, or words for them, are told how to be written."""
    text = reading.value(written, path)
    if text is not None and (remedy := strut_remedy(text, reading.unit)):
        reading.report(path, f"'{shown(text)}' is no depth of one strut", remedy)
    return reading.length(written, path)


def _check_commas(depths: list[str], path: KeyPath, reading: FileReading) -> None:
    """Two whole numbers with a comma and no space between, `[1,5]`, may be one decimal or two struts."""
    for place, (one, other) in enumerate(pairwise(depths)):
        here, there = reading.mark((*path, place)), reading.mark((*path, place + 1))
        is_tight = here.line == there.line and there.column == here.column + len(one) + 1
        if is_tight and one.isdecimal() and other.isdecimal():
            remedy = (
                f"Write {one}, {other} with a space for two struts, or {one}.{other} for one. "
                "A list of struts is stacked."
            )
            reading.report((*path, place), f"`{one},{other}` may be two struts or one", remedy)


# --- along the face -----------------------------------------------------------------------------------------


def _gap(
    written: WrittenRow, path: KeyPath, placing: Placing, reading: FileReading
) -> float | Literal["fittings"]:
    """The row's clear gap; 0 where a spread row leaves it open, where its spacing is given instead, or where
    no two neighbours use it.
    """
    if written.gap is not None and written.spacing is not None:
        remedy = "Keep one of the two: `gap` is clear between raceways, `spacing` from centre to centre."
        reading.report(path, "Both a gap and a spacing are given", remedy)
    if written.gap is not None:
        return reading.gap(written.gap, path)
    entries = written.raceways or []
    counted = any(
        entry.count is not None and entry.count.strip() != "1" and entry.factory_knockout is None
        for entry in entries
    )
    uses_gap = counted or any(
        entry.gap_before is None
        and entry.spacing_before is None
        and (before.factory_knockout is None or entry.factory_knockout is None)
        for before, entry in pairwise(entries)
    )
    is_spaced = written.spacing is not None or not reading.is_sound((*path[:-1], "spacing"))
    if uses_gap and not is_spaced and not isinstance(placing, Spread):
        remedy = (
            "Write it, such as `gap: 1-1/8 in`, or `gap: fittings`; or `spacing: 3 in` from centre to centre."
        )
        reading.report(path, "`gap` is missing; nothing says how far apart the raceways stand", remedy)
    return 0.0


def _spacing(written: WrittenRow, path: KeyPath, reading: FileReading) -> float | None:
    return None if written.spacing is None else reading.spacing(written.spacing, path)
