"""Turns a face's holes into the cover page's table: where each is, what is cut, what follows it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from templates_engine.drawing.cover.page_flow import (
    Column,
    PageBlock,
    heading,
    paragraph,
    space,
    table,
    whole,
)
from templates_engine.drawing.hole_lists import hole_list
from templates_engine.layout.model import Gap, Hole
from templates_engine.sheets.model import FacePlan
from templates_engine.units import LengthFormat

ROOMY_IN = 9.0
"""A narrower table tells where raceways go and the holes' limits below it, to keep a row on one line."""


def hole_table(
    face: FacePlan, lengths: LengthFormat, width: float, most_height: float
) -> Iterator[PageBlock]:
    """Every hole: where its centre is, what is cut, what follows it; then how the rows stand.

    A table taller than ``most_height`` may be broken over pages.
    """
    holes = face.layout.holes
    order = [hole.id for hole in holes]
    is_narrow = width < ROOMY_IN
    gaps = {gap.before: gap for row in face.layout.rows for gap in row.gaps}
    following = {a.id: b for row in face.layout.rows for a, b in zip(row.holes, row.holes[1:], strict=False)}
    columns = _columns(face, is_narrow)
    rows = [
        _cells(hole, following.get(hole.id), gaps.get(hole.id), lengths, is_narrow, _names_bushings(face))
        for hole in holes
    ]
    title = heading(f"Holes ({lengths.unit}): nearest tape mark, and exact")
    yield from whole((title, *table(columns, rows, width)), most_height)
    if is_narrow:
        yield from _left_out_of_narrow(holes, order, lengths, width)
    if face.cut_holes:
        yield from paragraph(
            f"Across a joint: {hole_list(face.cut_holes, order)}. Check the centres against this table "
            "before punching, or print on wider paper.",
            width,
            bold=True,
        )
    for row in face.layout.rows:
        yield from paragraph(
            f"Row {row.row.name}: {row.line.whose} {lengths.say(row.line.at_in)} from the back edge: "
            f"{row.line.words}.",
            width,
        )
    yield space(0.08)


def _left_out_of_narrow(
    holes: Sequence[Hole], order: Sequence[str], lengths: LengthFormat, width: float
) -> Iterator[PageBlock]:
    """What a narrow table has no columns for: where raceways go, and the limits of holes."""
    goes_to: dict[str, list[str]] = {}
    for hole in holes:
        if hole.raceway.to:
            goes_to.setdefault(hole.raceway.to, []).append(hole.id)
    if goes_to:
        where = "; ".join(f"{hole_list(ids, order)} to {to}" for to, ids in goes_to.items())
        yield from paragraph(f"Raceways: {where}.", width)
    limits = dict.fromkeys(_limits(hole, lengths) for hole in holes)
    yield from paragraph(f"Hole cut, and its limits: {'; '.join(limits)}.", width)


def _columns(face: FacePlan, is_narrow: bool) -> list[Column]:
    return [
        Column("\nHole", bold=True),
        Column("\nRaceway", gives_way=True),
        *([Column("\nbushing")] if _names_bushings(face) else []),
        Column(f"centre from\n{face.layout.job.face.start_edge} edge", "right", bold=True),
        Column("\nexact", "right"),
        Column("centre from\nback edge", "right", bold=True),
        Column("\nexact", "right"),
        Column("\nhole cut" if is_narrow else "hole cut\n(limits)", "right"),
        Column("\npilot", "right"),
        Column("centre to\ncentre, next", "right"),
        Column("clear gap,\nalong row", "right"),
    ]


def _names_bushings(face: FacePlan) -> bool:
    return any(hole.raceway.bushing for hole in face.layout.holes)


def _cells(
    hole: Hole,
    following: Hole | None,
    gap: Gap | None,
    lengths: LengthFormat,
    is_narrow: bool,
    bushings: bool,
) -> tuple[str, ...]:
    to_next = "" if following is None else lengths.exact(math.dist(hole.centre, following.centre))
    clear = "" if gap is None else lengths.exact(gap.provided_in)
    carries = hole.raceway_name + (f", to {hole.raceway.to}" if hole.raceway.to and not is_narrow else "")
    return (
        hole.id,
        carries,
        *([_bushing_words(hole)] if bushings else []),
        lengths.mark(hole.u_in),
        lengths.exact(hole.u_in),
        lengths.mark(hole.v_in),
        lengths.exact(hole.v_in),
        lengths.exact(hole.hole_diameter_in) if is_narrow else _limits(hole, lengths),
        hole.pilot_said(lengths),
        to_next,
        clear,
    )


def _bushing_words(hole: Hole) -> str:
    """The bonding ones, which take a jumper and more room, stand out."""
    bushing = hole.raceway.bushing
    return "BONDING" if bushing == "bonding" else bushing or ""


def _limits(hole: Hole, lengths: LengthFormat) -> str:
    least, most = lengths.exact(hole.hole_least_in), lengths.exact(hole.hole_most_in)
    return f"{lengths.exact(hole.hole_diameter_in)} ({least} to {most})"
