"""Turns what the raceways carry into the circuits page: the panel's directory and what to pull into each.

The page folds in half to go into a pocket; both halves are filled.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest

from templates_engine.drawing.cover.page_flow import (
    PageBlock,
    balanced,
    heading,
    paragraph,
    set_into,
    space,
    stack,
    whole,
)
from templates_engine.drawing.cover.panel_directory import panel_directory
from templates_engine.drawing.cover.pull_tables import pull_table
from templates_engine.drawing.shapes import DrawnPage, Line, Pen, Shape
from templates_engine.drawing.style import SMALL_PT, TEXT_PT
from templates_engine.drawing.words import centred, width_in
from templates_engine.geometry import Point, Rect
from templates_engine.job.model import Job
from templates_engine.layout.model import Hole
from templates_engine.sheets.model import SheetPlan
from templates_engine.wiring.model import Contents, RacewayContents

FOLD_MARGIN_IN = 0.16
"""White on each side of the fold and between columns."""
FOLD = Pen(0.006, (0.02, 0.08))
FOLD_WORDS = "fold here to carry it in a pocket"


_Runs = Sequence[tuple[str, Hole, RacewayContents]]
"""(how the raceway is called, its hole, what it carries)"""


def circuit_pages(job: Job, plan: SheetPlan, contents: Contents) -> tuple[DrawnPage, ...]:
    """The circuits pages of the job, none when nothing is known of what raceways carry."""
    runs = _runs(plan, contents)
    if not runs:
        return ()
    area = plan.cover_page.printable
    if area.width >= area.height:
        filled = _side_by_side(job, runs, area)
    else:
        filled = _one_above_the_other(job, runs, area)
    return tuple(
        DrawnPage(
            (*_fold(area), *shapes),
            (),
            "circuits" if number == 1 else f"circuits, page {number}",
        )
        for number, shapes in enumerate(filled, 1)
    )


def _runs(plan: SheetPlan, contents: Contents) -> _Runs:
    """The raceways that carry something, face after face; named with their face where there are several."""
    several = len(plan.faces) > 1
    return [
        (f"{word} {hole.id}" if several else hole.id, hole, contents[word, hole.id])
        for face in plan.faces
        for word in (face.layout.job.face.value,)
        for hole in face.layout.holes
        if (word, hole.id) in contents
    ]


# --- the halves ---------------------------------------------------------------------------------------------


def _side_by_side(job: Job, runs: _Runs, area: Rect) -> list[tuple[Shape, ...]]:
    """Left half, right half, and on to the next page."""
    left, right = _abreast(area)
    pieces = [*_title(job, left.width), *_directory(job, runs, left.width), *_pulls(runs, left.width)]
    return set_into(balanced(pieces, left.height, 2), (left, right))


def _one_above_the_other(job: Job, runs: _Runs, area: Rect) -> list[tuple[Shape, ...]]:
    """The directory over the whole upper half, what to pull below it in two columns; without a directory two
    columns in either half.
    """
    middle = area.middle.y
    upper = Rect(area.left, middle + FOLD_MARGIN_IN, area.right, area.top)
    lower = Rect(area.left, area.bottom, area.right, middle - FOLD_MARGIN_IN)
    quarters = (*_abreast(upper), *_abreast(lower))
    width = quarters[0].width
    listed = list(_directory(job, runs, area.width))
    if not listed:
        pieces = [*_title(job, width), *_pulls(runs, width)]
        return set_into(balanced(pieces, quarters[0].height, 4), quarters)
    above = stack([*_title(job, area.width), *listed], upper)
    below = balanced(list(_pulls(runs, width)), quarters[2].height, 2)
    paired = 2 * len(above)  # under each part of the directory two columns of what to pull, the rest in fours
    pages = zip_longest(above, set_into(below[:paired], quarters[2:]), fillvalue=())
    return [
        *((*listing, *pulls) for listing, pulls in pages),
        *set_into(below[paired:], quarters),
    ]


def _abreast(area: Rect) -> tuple[Rect, Rect]:
    middle = area.middle.x
    return (
        Rect(area.left, area.bottom, middle - FOLD_MARGIN_IN, area.top),
        Rect(middle + FOLD_MARGIN_IN, area.bottom, area.right, area.top),
    )


def _fold(area: Rect) -> Iterator[Shape]:
    """The line to fold along, across the longer way, with what it is in its middle."""
    (x, y), gap = area.middle, width_in(FOLD_WORDS, SMALL_PT) / 2 + 0.1
    if area.width >= area.height:
        ends, angle = (Point(x, area.bottom), Point(x, y - gap), Point(x, y + gap), Point(x, area.top)), 90.0
    else:
        ends, angle = (Point(area.left, y), Point(x - gap, y), Point(x + gap, y), Point(area.right, y)), 0.0
    yield Line(*ends[:2], FOLD, "frame")
    yield Line(*ends[2:], FOLD, "frame")
    yield centred(FOLD_WORDS, area.middle, angle)


# --- what stands there --------------------------------------------------------------------------------------


def _title(job: Job, width: float) -> Iterator[PageBlock]:
    yield heading(f"{job.enclosure.mark}: circuits and what to pull", TEXT_PT + 1)
    parts = (
        job.enclosure.system or "system not given",
        job.title,
        f"rev {job.revision}" if job.revision else "",
        job.date,
        job.code,
    )
    yield from paragraph(", ".join(filter(None, parts)), width)
    yield space(0.08)


def _directory(job: Job, runs: _Runs, width: float) -> Iterator[PageBlock]:
    placed = [(name, circuit) for name, _, contents in runs for circuit in contents.circuits]
    pieces = list(panel_directory(job.enclosure, placed, width))
    if pieces:
        yield from whole(pieces)
        yield space(0.12)


def _pulls(runs: _Runs, width: float) -> Iterator[PageBlock]:
    for name, hole, contents in runs:
        yield from pull_table(name, hole, contents, width)
    yield from paragraph(
        "Colours are common practice; follow the job's. De-energize, lock out, test before touch. "
        "Check against the adopted code and the drawings; a licensed electrician decides.",
        width,
    )
