"""Turns one face's plan and the findings into its cover pages, in the order they are used."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property

from templates_engine.checks.model import Finding
from templates_engine.drawing.cover.bring_table import to_bring
from templates_engine.drawing.cover.cautions import CAUTIONS
from templates_engine.drawing.cover.distances import distances
from templates_engine.drawing.cover.figures import figures_used
from templates_engine.drawing.cover.findings import findings_told
from templates_engine.drawing.cover.head import head, measure_first, measure_first_with_view
from templates_engine.drawing.cover.hole_table import hole_table
from templates_engine.drawing.cover.page_flow import (
    LaidPart,
    PageBlock,
    balanced,
    numbered,
    paragraph,
    section,
    set_into,
)
from templates_engine.drawing.cover.reduced_view import reduced_view
from templates_engine.drawing.cover.taping_steps import how_to_tape
from templates_engine.drawing.shapes import DrawnPage, DrawnRect, Shape, Words
from templates_engine.drawing.sheet.sheet_page import draft_stamp
from templates_engine.drawing.style import SMALL_PT
from templates_engine.drawing.words import set_words, shortened, wrapped
from templates_engine.geometry import Point, Rect
from templates_engine.job.model import Job
from templates_engine.layout.model import Layout
from templates_engine.sheets.model import FacePlan, SheetPlan
from templates_engine.units import LengthFormat
from templates_engine.values import Struct

VIEW_HEIGHTS = ((3.4, 0.28), (2.4, 0.20), (1.7, 0.14))
"""The most the reduced view may take, inches and as a share of the page, the largest first."""
MOST_WIDTH_IN = 10.5
"""Cover pages are set no wider than this, however wide the paper: long lines are hard to read."""
TWO_COLUMNS_FROM_IN, BETWEEN_COLUMNS_IN = 15.0, 0.5
"""From this width of paper on, two columns stand on a page."""
FOOT_IN = 0.22
PAPER_LINES = 2
BROKEN_FROM = 0.55
"""The share of a page from which a table of holes may go over two."""


def cover_pages(
    layout: Layout, plan: SheetPlan, face: FacePlan, findings: Sequence[Finding], draft: bool
) -> tuple[DrawnPage, ...]:
    """The cover pages of one face, on the plan's paper."""
    job, area = layout.job, plan.cover_page.printable
    columns = _columns(area)
    cover = _Cover(layout, plan, face, findings, draft, columns[0])
    views = (*VIEW_HEIGHTS, None) if plan.cover_apart is None else VIEW_HEIGHTS
    tried = (_laid_out(cover, columns, view) for view in views)
    parts = min(tried, key=lambda one: -(-len(one) // len(columns)))  # a smaller view where that saves a page
    pages = set_into(parts, columns)
    word = face.layout.job.face.value
    return tuple(
        DrawnPage(
            (*shapes, *_foot(job, face, area, number, len(pages)), *(draft_stamp(area) if draft else ())),
            (),
            f"{word}: cover page" if number == 1 else f"{word}: cover page {number}",
            level=0 if number == 1 else 1,
        )
        for number, shapes in enumerate(pages, 1)
    )


class _Cover(Struct, frozen=True, dict=True):
    """What the cover pages of one face tell, set for their column; what no view changes is set once."""

    layout: Layout
    plan: SheetPlan
    face: FacePlan
    findings: Sequence[Finding]
    draft: bool
    column: Rect

    @cached_property
    def lengths(self) -> LengthFormat:
        return self.layout.job.lengths

    @cached_property
    def head(self) -> tuple[PageBlock, ...]:
        return tuple(head(self.layout, self.face, self.column.width, self.draft))

    @cached_property
    def before_taping(self) -> tuple[PageBlock, ...]:
        job, face, lengths, width = self.layout.job, self.face, self.lengths, self.column.width
        return (
            *hole_table(face, lengths, width, BROKEN_FROM * self.column.height),
            *distances(face, lengths, width),
            *findings_told(face, self.findings, width),
            *to_bring(job, face, lengths, width),
        )

    @cached_property
    def after_taping(self) -> tuple[PageBlock, ...]:
        width = self.column.width
        return (
            *section("Cautions", numbered(CAUTIONS, width)),
            *section("Paper", paragraph(_paper_words(self.plan, width), width)),
            *figures_used(self.layout.job, self.face.layout, self.lengths, width),
        )


def _columns(area: Rect) -> tuple[Rect, ...]:
    """Where the text stands on a page: one column, or two on wide paper."""
    bottom = area.bottom + FOOT_IN
    if area.width < TWO_COLUMNS_FROM_IN:
        return (Rect(area.left, bottom, area.left + min(area.width, MOST_WIDTH_IN), area.top),)
    width = min((area.width - BETWEEN_COLUMNS_IN) / 2, MOST_WIDTH_IN)
    second = area.left + width + BETWEEN_COLUMNS_IN
    return (
        Rect(area.left, bottom, area.left + width, area.top),
        Rect(second, bottom, second + width, area.top),
    )


def _laid_out(
    cover: _Cover, columns: Sequence[Rect], most_view: tuple[float, float] | None
) -> list[LaidPart]:
    """What stands in the columns, the steps naming the page that came out with the card outline."""
    height, count = columns[0].height, len(columns)
    parts = balanced(_pieces(cover, most_view, 1), height, count)
    card_page = _part_of_card(parts) // count + 1
    return parts if card_page == 1 else balanced(_pieces(cover, most_view, card_page), height, count)


def _pieces(cover: _Cover, most_view: tuple[float, float] | None, card_page: int) -> list[PageBlock]:
    """Everything in order; the view no higher than that, or beside the card where None."""
    plan, face, lengths, width = cover.plan, cover.face, cover.lengths, cover.column.width
    if most_view is None:
        measuring = [measure_first_with_view(plan, face, lengths, width)]
    else:
        high = min(most_view[0], cover.column.height * most_view[1])
        measuring = [measure_first(plan, lengths.unit, width), reduced_view(face, lengths, width, high)]
    return [
        *cover.head,
        *measuring,
        *cover.before_taping,
        *how_to_tape(plan, face, lengths, width, card_page),
        *cover.after_taping,
    ]


def _paper_words(plan: SheetPlan, width: float) -> str:
    """What the plan says of its paper, as many sentences as two lines hold."""
    said = ""
    for sentence in plan.why:
        longer = f"{said} {sentence}".strip()
        if said and len(wrapped(longer, SMALL_PT, width)) > PAPER_LINES:
            break
        said = longer
    return said.replace("`", "'")


def _part_of_card(parts: Sequence[LaidPart]) -> int:
    """Which of them holds the box with round corners as a card has; the first where none is drawn."""
    with_card = (
        number
        for number, part in enumerate(parts)
        for piece, _ in part
        if any(isinstance(shape, DrawnRect) and shape.corner > 0 for shape in piece.shapes)
    )
    return next(with_card, 0)


def _foot(job: Job, face: FacePlan, area: Rect, number: int, pages: int) -> Iterator[Shape]:
    text = (
        f"{job.enclosure.mark} {face.layout.job.face.value}, cover page {number} of {pages}, "
        f"fingerprint {face.fingerprint}, {'rev ' + job.revision if job.revision else 'no revision'}"
    )
    yield Words(
        Point(area.left, area.bottom + 0.03), set_words(shortened(text, SMALL_PT, area.width)), SMALL_PT
    )
