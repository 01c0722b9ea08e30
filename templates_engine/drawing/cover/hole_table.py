"""Turns a face's holes into the cover page's table: where each is, what is cut, what follows it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from templates_engine.drawing.cover.page_flow import PageBlock, heading, paragraph, space, whole
from templates_engine.drawing.cover.tables import Column, table
from templates_engine.drawing.hole_lists import hole_list
from templates_engine.layout.model import Hole
from templates_engine.sheets.model import FacePlan
from templates_engine.units import LengthFormat

ROOMY_IN = 9.0
"""A narrower table tells where raceways go and the holes' limits below it, to keep a row on one line."""
_ColumnOfHoles = tuple[Column, Callable[[Hole], str]]
"""A column, and what stands in it for a hole."""


def hole_table(
    face: FacePlan, lengths: LengthFormat, width: float, most_height: float
) -> Iterator[PageBlock]:
    """Every hole: where its centre is, what is cut, what follows it; then how the rows stand.

    A table taller than ``most_height`` may be broken over pages.
    """
    holes = face.layout.holes
    is_narrow = width < ROOMY_IN
    columns = list(_columns(face, lengths, is_narrow))
    rows = [[cell(hole) for _, cell in columns] for hole in holes]
    title = heading(f"Holes ({lengths.unit}): nearest tape mark, and exact")
    yield from whole((title, *table([column for column, _ in columns], rows, width)), most_height)
    if is_narrow:
        yield from _left_out_of_narrow(holes, lengths, width)
    if face.cut_holes:
        yield from paragraph(
            f"Across a joint: {hole_list(face.cut_holes, holes)}. Check the centres against this table "
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


def _left_out_of_narrow(holes: Sequence[Hole], lengths: LengthFormat, width: float) -> Iterator[PageBlock]:
    """What a narrow table has no columns for: where raceways go, and the limits of holes."""
    goes_to: dict[str, list[str]] = {}
    for hole in holes:
        if hole.raceway.to:
            goes_to.setdefault(hole.raceway.to, []).append(hole.id)
    if goes_to:
        where = "; ".join(f"{hole_list(ids, holes)} to {to}" for to, ids in goes_to.items())
        yield from paragraph(f"Raceways: {where}.", width)
    limits = dict.fromkeys(_limits(hole, lengths) for hole in holes)
    yield from paragraph(f"Hole cut, and its limits: {'; '.join(limits)}.", width)


def _columns(face: FacePlan, lengths: LengthFormat, is_narrow: bool) -> Iterator[_ColumnOfHoles]:
    rows = face.layout.rows
    gaps = {gap.before: lengths.exact(gap.provided_in) for row in rows for gap in row.gaps}
    to_next = {
        one.id: lengths.exact(math.dist(one.centre, other.centre))
        for row in rows
        for one, other in pairwise(row.holes)
    }
    yield Column("\nHole", bold=True), lambda hole: hole.id
    yield Column("\nRaceway", gives_way=True), lambda hole: _raceway_words(hole, is_narrow)
    if any(hole.raceway.bushing for hole in face.layout.holes):
        yield Column("\nbushing"), _bushing_words
    start = face.layout.job.face.start_edge
    yield Column(f"centre from\n{start} edge", "right", bold=True), lambda hole: lengths.mark(hole.u_in)
    yield Column("\nexact", "right"), lambda hole: lengths.exact(hole.u_in)
    yield Column("centre from\nback edge", "right", bold=True), lambda hole: lengths.mark(hole.v_in)
    yield Column("\nexact", "right"), lambda hole: lengths.exact(hole.v_in)
    if is_narrow:
        yield Column("\nhole cut", "right"), lambda hole: lengths.exact(hole.hole_diameter_in)
    else:
        yield Column("hole cut\n(limits)", "right"), lambda hole: _limits(hole, lengths)
    yield Column("\npilot", "right"), lambda hole: hole.pilot_said(lengths)
    yield Column("centre to\ncentre, next", "right"), lambda hole: to_next.get(hole.id, "")
    yield Column("clear gap,\nalong row", "right"), lambda hole: gaps.get(hole.id, "")


def _raceway_words(hole: Hole, is_narrow: bool) -> str:
    return hole.raceway_name + (f", to {hole.raceway.to}" if hole.raceway.to and not is_narrow else "")


def _bushing_words(hole: Hole) -> str:
    """The bonding ones, which take a jumper and more room, stand out."""
    bushing = hole.raceway.bushing
    return "BONDING" if bushing == "bonding" else bushing or ""


def _limits(hole: Hole, lengths: LengthFormat) -> str:
    least, most = lengths.exact(hole.hole_least_in), lengths.exact(hole.hole_most_in)
    return f"{lengths.exact(hole.hole_diameter_in)} ({least} to {most})"
