"""Turns a face's holes into the lead page's two tables: where each hole is, and what to check with a rule."""

from __future__ import annotations

import math
from collections.abc import Iterator

from templates_engine.drawing.flow import Column, Piece, heading, paragraph, space, table
from templates_engine.geometry import Point
from templates_engine.job.model import MarkFrom
from templates_engine.layout.model import Gap, Hole
from templates_engine.sheets.model import FacePlan
from templates_engine.units import Speech
from templates_engine.verify.diagnosis import ALLOWED_WORDS, distances_to_measure
from templates_engine.verify.readings import hole_distances

ROOMY_IN = 9.0
"""A narrower table tells the holes' limits below it, to leave the raceways' names room."""


def hole_table(face: FacePlan, speech: Speech, width: float) -> Iterator[Piece]:
    """Every hole: where its centre is, what is cut, what follows it; then how the rows stand."""
    start = face.layout.job.face.start_edge
    unit = speech.unit
    is_narrow = width < ROOMY_IN
    yield heading(f"Holes ({unit}): nearest tape mark, and exact")
    columns = [
        Column("\nHole", bold=True),
        Column("\nRaceway", gives_way=True),
        Column(f"centre from\n{start} edge", "right", bold=True),
        Column("\nexact", "right"),
        Column("centre from\nback edge", "right", bold=True),
        Column("\nexact", "right"),
        Column("\nhole cut" if is_narrow else "hole cut\n(limits)", "right"),
        Column("\npilot", "right"),
        Column("centre to\ncentre, next", "right"),
        Column("clear gap,\nalong row", "right"),
    ]
    gaps = {gap.before: gap for row in face.layout.rows for gap in row.gaps}
    following = {a.id: b for row in face.layout.rows for a, b in zip(row.holes, row.holes[1:], strict=False)}
    rows = [
        _hole_cells(hole, following.get(hole.id), gaps.get(hole.id), speech, is_narrow)
        for hole in face.layout.holes
    ]
    yield from table(columns, rows, width)
    if is_narrow:
        limits = dict.fromkeys(_limits(hole, speech) for hole in face.layout.holes)
        yield from paragraph(f"Hole cut, and its limits: {'; '.join(limits)}.", width)
    if face.cut_holes:
        yield from paragraph(
            f"Across a joint: {', '.join(face.cut_holes)}. Check the centres against this table before "
            "punching, or print on wider paper.",
            width,
            bold=True,
        )
    for row in face.layout.rows:
        yield from paragraph(
            f"Row {row.row.name}: {row.line.whose} {speech.say(row.line.at_in)} from the back edge: "
            f"{row.line.words}.",
            width,
        )
        if row.moved:
            yield from paragraph(
                f"Moved from where the placing alone puts them: {', '.join(row.moved)}.", width
            )
    yield space(0.08)


def _hole_cells(
    hole: Hole, following: Hole | None, gap: Gap | None, speech: Speech, is_narrow: bool
) -> tuple[str, ...]:
    to_next = "" if following is None else speech.exact(math.dist(hole.centre, following.centre))
    clear = "" if gap is None else speech.exact(gap.provided_in)
    carries = hole.called + (f", to {hole.raceway.to}" if hole.raceway.to else "")
    return (
        hole.id,
        carries,
        speech.mark(hole.u_in),
        speech.exact(hole.u_in),
        speech.mark(hole.v_in),
        speech.exact(hole.v_in),
        speech.exact(hole.hole_diameter_in) if is_narrow else _limits(hole, speech),
        speech.drill(hole.pilot_diameter_in),
        to_next,
        clear,
    )


def _limits(hole: Hole, speech: Speech) -> str:
    least, most = speech.exact(hole.hole_least_in), speech.exact(hole.hole_most_in)
    return f"{speech.exact(hole.hole_diameter_in)} ({least} to {most})"


def cross_check(face: FacePlan, speech: Speech, width: float) -> Iterator[Piece]:
    """Distances to lay a steel rule on once the sheets are taped."""
    allowed = ALLOWED_WORDS[speech.unit]
    yield heading(f"Check on the metal with a steel rule (allowed: {allowed} over the row)")
    lines: list[tuple[str, str]] = []

    def add(name: str, one: Point, other: Point) -> None:
        lines.append((name, speech.say(math.dist(one, other))))

    for row in face.layout.rows:
        holes = [(hole.id, face.centre_of(hole)) for hole in row.holes]
        (first, at_first), (last, at_last) = holes[0], holes[-1]
        if len(holes) > 1:
            add(f"{first} to {last}", at_first, at_last)
        if len(holes) > 3:
            middle, at_middle = holes[len(holes) // 2]
            add(f"{first} to {middle}", at_first, at_middle)
        for (word, corner), (id, at) in zip(_corners(face), (holes[-1], holes[0]), strict=False):
            add(f"{word} to {id}", corner, at)
    lines += _over_the_joints(face, {pair for pair, _ in lines}, speech)
    yield from table([Column("from, to", bold=True), Column("distance", "right")], lines, width)
    yield space(0.08)


def _over_the_joints(face: FacePlan, listed: set[str], speech: Speech) -> Iterator[tuple[str, str]]:
    """The pairs still lacking before every joint between holes is measured."""
    distances = {" to ".join(distance.between): distance for distance in hole_distances(face)}
    given = [distance for pair, distance in distances.items() if pair in listed]
    for distance in distances_to_measure(face, given):
        yield " to ".join(distance.between), speech.say(distance.length_in)


def _corners(face: FacePlan) -> tuple[tuple[str, Point], ...]:
    """The corners at the face's start and end a rule can be set to, none where they cannot be told.

    From outside the front ones, as the wall is in the way at the back; from inside the back ones, as the
    front may be open.
    """
    rect, job = face.rule_edges, face.layout.job
    if rect is None:
        return ()
    inside = job.mark_from is MarkFrom.INSIDE
    y, words = (rect.top, "back corner inside") if inside else (rect.bottom, "front corner")
    xs = (rect.left, rect.right) if face.plane.u_runs_right else (rect.right, rect.left)
    edges = (job.face.start_edge, job.face.end_edge)
    return tuple((f"{edge} {words}", Point(x, y)) for edge, x in zip(edges, xs, strict=True))
