"""Turns a face's plan into the cover page's distances to check with a steel rule, as one table."""

from __future__ import annotations

import math
from collections.abc import Iterator

from templates_engine.drawing.cover.page_flow import PageBlock, paragraph, section
from templates_engine.drawing.cover.tables import Column, table_abreast
from templates_engine.drawing.style import SMALL_PT
from templates_engine.drawing.words import width_in
from templates_engine.geometry import Point
from templates_engine.job.model import MarkFrom
from templates_engine.layout.model import Hole, PlacedRow
from templates_engine.sheets.model import FacePlan
from templates_engine.units import LengthFormat
from templates_engine.verify.next_readings import ALLOWED_WORDS, distances_to_measure
from templates_engine.verify.readings import hole_distances

_Lines = list[tuple[str, str]]
"""(from and to, how far it is)"""
MOST_ABREAST = 3
BETWEEN_ABREAST_IN, CELLS_IN = 0.25, 0.12
"""White between two pairs of columns, and beside the words of a cell."""
METAL_UNKNOWN = (
    "The job does not give the metal's thickness. Distances from an edge are from the can's OUTSIDE edge: a "
    "rule set in the corner inside reads them less one thickness, so measure the metal and take it off. What "
    "one wall's reading exceeds the other's by needs no thickness."
)


def distances(face: FacePlan, lengths: LengthFormat, width: float) -> tuple[PageBlock, ...]:
    """Distances to lay a steel rule on once the sheets are taped, never broken over pages."""
    allowed = ALLOWED_WORDS[lengths.unit]
    title = f"Check on the metal with a steel rule (allowed: {allowed} over the row)"
    unknown = paragraph(METAL_UNKNOWN, width, bold=True) if _is_metal_unknown(face) else ()
    return section(title, (*unknown, *_abreast(_lines(face, lengths), width)))


def _lines(face: FacePlan, lengths: LengthFormat) -> _Lines:
    lines: _Lines = []
    for row in face.layout.rows:
        lines += _along(face, row, lengths)
        lines += _from_corners(face, row, lengths)
    lines += _over_the_joints(face, {pair for pair, _ in lines}, lengths)
    if _is_metal_unknown(face):
        for row in face.layout.rows:
            lines += _from_unknown_walls(face, row, lengths)
    return list(dict.fromkeys(lines))


def _along(face: FacePlan, row: PlacedRow, lengths: LengthFormat) -> Iterator[tuple[str, str]]:
    """From a row's first hole to its last, and to one between where there are many."""
    first = row.holes[0]
    others = [row.holes[-1]] if len(row.holes) > 1 else []
    others += [row.holes[len(row.holes) // 2]] if len(row.holes) > 3 else []
    for other in others:
        yield (
            f"{first.id} to {other.id}",
            lengths.say_to_64ths(math.dist(face.centre_of(first), face.centre_of(other))),
        )


def _from_corners(face: FacePlan, row: PlacedRow, lengths: LengthFormat) -> Iterator[tuple[str, str]]:
    for (word, corner), hole in zip(_corners(face), (row.holes[-1], row.holes[0]), strict=False):
        yield f"{word} to {hole.id}", lengths.say_to_64ths(math.dist(corner, face.centre_of(hole)))


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


def _over_the_joints(face: FacePlan, listed: set[str], lengths: LengthFormat) -> Iterator[tuple[str, str]]:
    """The pairs still lacking before every joint between holes is measured."""
    given = [one for one in hole_distances(face) if " to ".join(one.between) in listed]
    for one in distances_to_measure(face, given):
        yield " to ".join(one.between), one.said(lengths)


# --- inside, the metal's thickness unknown ------------------------------------------------------------------


def _is_metal_unknown(face: FacePlan) -> bool:
    return face.rule_edges is None


def _from_unknown_walls(face: FacePlan, row: PlacedRow, lengths: LengthFormat) -> Iterator[tuple[str, str]]:
    """What places a row's end holes on the can: true with the thickness taken off, and without any.

    ::

         wall |<-t->|<---- r ---->+ hole        r = distance from the outside edge - t at either wall, so the
                                                two walls' readings differ by what needs no t
    """
    job = face.layout.job
    ends = tuple(dict.fromkeys((row.holes[0], row.holes[-1])))
    first, last = ends[0], ends[-1]
    start, end = job.face.start_edge, job.face.end_edge
    yield f"{start} edge OUTSIDE to {first.id}", lengths.say(first.u_in)
    yield f"{end} edge OUTSIDE to {last.id}", lengths.say(job.width_in - last.u_in)
    for hole in ends:
        yield f"back edge OUTSIDE to {hole.id}", lengths.say(hole.v_in)
    yield _wall_against_wall(first, (start, first.u_in), (end, job.width_in - first.u_in), lengths)
    for hole in ends:
        if job.has_front_lip:
            yield _wall_against_wall(hole, ("back", hole.v_in), ("front", job.depth_in - hole.v_in), lengths)
        else:
            yield f"open front edge to {hole.id}", lengths.say(job.depth_in - hole.v_in)


def _wall_against_wall(
    hole: Hole, one: tuple[str, float], other: tuple[str, float], lengths: LengthFormat
) -> tuple[str, str]:
    """By how much the reading from one wall is more than that from the wall across."""
    (more, longer), (less, shorter) = sorted((one, other), key=lambda each: -each[1])
    return f"{hole.id}: {more} wall reads more than {less} wall by", lengths.say(longer - shorter)


# --- setting ------------------------------------------------------------------------------------------------


def _abreast(lines: _Lines, width: float) -> Iterator[PageBlock]:
    """The lines as one table of as many pairs of columns as find room, each read downward."""
    names, lengths = zip(*lines, strict=True)
    one = sum(max(width_in(text, SMALL_PT, True) for text in texts) + CELLS_IN for texts in (names, lengths))
    most = int((width + BETWEEN_ABREAST_IN) / (one + BETWEEN_ABREAST_IN))
    count = max(1, min(most, MOST_ABREAST, -(-len(lines) // 2)))
    high = -(-len(lines) // count)
    parts = [lines[first : first + high] for first in range(0, len(lines), high)]
    return table_abreast((Column("from, to", bold=True), Column("distance", "right")), parts, width)
