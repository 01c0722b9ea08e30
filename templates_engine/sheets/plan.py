"""Turns a Layout into a SheetPlan: one paper, one way round, for all its faces; its looks are for drawing."""

from __future__ import annotations

from dataclasses import dataclass

from templates_engine.errors import CannotFit, Problem
from templates_engine.layout.model import Layout
from templates_engine.sheets.choice import MOST_SHEETS, Choice, listed_pages
from templates_engine.sheets.face import put_on_pages
from templates_engine.sheets.model import SheetPlan
from templates_engine.sheets.papers import LEAST_STEP_IN, LEAST_TITLE_WIDTH_IN, Page
from templates_engine.sheets.tiles import FaceGrid
from templates_engine.sheets.why import reasons
from templates_engine.units import Speech


@dataclass(frozen=True)
class _Arrangement:
    """The faces cut up for one page."""

    page: Page
    grids: tuple[FaceGrid, ...]

    @property
    def cuts(self) -> int:
        return sum(grid.cuts for grid in self.grids)

    @property
    def rank(self) -> tuple[int, int, bool, int, float, float, bool]:
        """What makes one arrangement better than another, the smaller the better.

        Fewest sheets, least harm to circles, a strip for the upright bar, few joints near holes, least paper,
        widest borders, upright.
        """
        return (
            sum(len(grid.tiles) for grid in self.grids),
            self.cuts,
            self.page.bar_strip_in == 0.0,
            sum(grid.harm for grid in self.grids),
            self.page.area_in2,
            sum(grid.missing_border_in for grid in self.grids),
            self.page.orientation == "landscape",
        )


def plan(layout: Layout) -> SheetPlan:
    """The sheets of every face, on the listed paper and the way round that need the fewest.

    Raises CannotFit when no listed paper can carry a view, or when the sheets would be too many to be meant.
    """
    listed = listed_pages(layout)
    choice = Choice(layout)
    pages = choice.usable(listed)
    if not pages:
        raise CannotFit([_too_small(layout, page) for page in listed])
    best = _best(choice, _not_too_many(choice, pages))
    page = best.page
    faces = tuple(put_on_pages(grid, page.view) for grid in best.grids)
    return SheetPlan(
        page.paper.name,
        page.orientation,
        page.width_in,
        page.height_in,
        page.margins,
        layout.job.printing.overlap_in,
        page.view,
        faces,
        reasons(choice, page, faces),
        page.bar_strip_in,
    )


def _best(choice: Choice, pages: list[Page]) -> _Arrangement:
    """The best page for all faces; pages that cannot win any more are not cut up."""
    counts = {page: choice.printed_count(page) for page in pages}
    fewest = [page for page in pages if counts[page] == min(counts.values())]
    best: _Arrangement | None = None
    for page in sorted(fewest, key=lambda page: page.bar_strip_in == 0.0):
        if best is not None and best.cuts == 0 and page.bar_strip_in < best.page.bar_strip_in:
            break
        arrangement = _arrange(choice, page)
        if best is None or arrangement.rank < best.rank:
            best = arrangement
    assert best is not None
    return best


def _arrange(choice: Choice, page: Page) -> _Arrangement:
    """All faces cut up for the page, and a roll's page then cut to its largest window."""
    grids = choice.grids(page)
    shown = [tile.window for grid in grids for tile in grid.tiles]
    width_in = max((window.width for window in shown), default=0.0)
    height_in = max((window.height for window in shown), default=0.0)
    return _Arrangement(page.cut_to(width_in, height_in), grids)


def _not_too_many(choice: Choice, pages: list[Page]) -> list[Page]:
    """The pages on which the faces, nothing left out, take a sensible number of sheets."""
    counts = [choice.whole_count(page) for page in pages]
    if min(counts) > MOST_SHEETS:
        raise CannotFit([_too_many(choice.layout, pages[counts.index(min(counts))], min(counts))])
    return [page for page, count in zip(pages, counts, strict=True) if count <= MOST_SHEETS]


def _too_small(layout: Layout, page: Page) -> Problem:
    job = layout.job
    speech = Speech(job.unit, job.denominator)

    def said(inches: float) -> str:
        return f"{speech.exact(inches)} {job.unit}"

    name, view = f"{page.paper.name}, {page.orientation},", page.view
    if page.title_width_in < LEAST_TITLE_WIDTH_IN:
        message = (
            f"{name} leaves {said(max(page.title_width_in, 0.0))} between its side margins; "
            f"the title strip needs {said(LEAST_TITLE_WIDTH_IN)}."
        )
    else:
        message = (
            f"{name} leaves a view of {said(max(view.width, 0.0))} x {said(max(view.height, 0.0))} "
            f"inside its margins and strips; with an overlap of {said(job.printing.overlap_in)} "
            f"it needs at least {said(job.printing.overlap_in + LEAST_STEP_IN)} each way."
        )
    return Problem(message, "Give larger paper, smaller margins or less overlap.", job.file, None, "print")


def _too_many(layout: Layout, page: Page, count: int) -> Problem:
    return Problem(
        f"The faces need {count} sheets of {page.paper.name}; more than {MOST_SHEETS} are not a template.",
        "Check the enclosure's width, height and depth, or give larger paper or a roll.",
        layout.job.file,
        None,
        "print",
    )
