"""Turns a Layout into a SheetPlan: one paper, one way round, for all its faces; its looks are for drawing."""

from __future__ import annotations

from dataclasses import dataclass

from templates_engine.errors import CannotFit, Problem
from templates_engine.layout.model import Layout
from templates_engine.sheets.face import FaceGrid, cut_into_tiles, put_on_pages, total_sheets
from templates_engine.sheets.model import SheetPlan
from templates_engine.sheets.papers import LEAST_STEP_IN, LEAST_TITLE_WIDTH_IN, Page, pages_of
from templates_engine.sheets.why import reasons
from templates_engine.units import Speech

MOST_SHEETS = 400
"""A template of more sheets than this is a slip in the job file, not something to tape on metal."""


@dataclass(frozen=True)
class _Arrangement:
    """The faces cut up for one page."""

    page: Page
    grids: tuple[FaceGrid, ...]

    @property
    def rank(self) -> tuple[int, float, float, bool]:
        """Among as many sheets: least harm to holes, then least paper, then widest borders, then upright."""
        return (
            sum(grid.harm for grid in self.grids),
            self.page.area_in2,
            sum(grid.missing_border_in for grid in self.grids),
            self.page.orientation == "landscape",
        )


def plan(layout: Layout) -> SheetPlan:
    """The sheets of every face, on the listed paper and the way round that need the fewest.

    Raises CannotFit when no listed paper can carry a view, or when the sheets would be too many to be meant.
    """
    settings = layout.job.printing
    pages = _usable_pages(layout)
    counts = [total_sheets(layout, page.shows(settings.overlap_in)) for page in pages]
    if min(counts) > MOST_SHEETS:
        raise CannotFit([_too_many(layout, pages[counts.index(min(counts))], min(counts))])
    best = min(
        (
            _arrange(layout, page, settings.overlap_in)
            for page, count in zip(pages, counts, strict=True)
            if count == min(counts)
        ),
        key=lambda arrangement: arrangement.rank,
    )
    page = best.page
    faces = tuple(put_on_pages(grid, page.view) for grid in best.grids)
    return SheetPlan(
        page.paper.name,
        page.orientation,
        page.width_in,
        page.height_in,
        page.margins,
        settings.overlap_in,
        page.view,
        faces,
        reasons(layout, page, faces),
    )


def _arrange(layout: Layout, page: Page, overlap_in: float) -> _Arrangement:
    """All faces cut up for the page, and a roll's page then cut to its largest window."""
    grids = tuple(cut_into_tiles(face, page.shows(overlap_in)) for face in layout.faces)
    shown = [tile.window for grid in grids for tile in grid.tiles]
    width_in = max((window.width for window in shown), default=0.0)
    height_in = max((window.height for window in shown), default=0.0)
    return _Arrangement(page.cut_to(width_in, height_in), grids)


def _usable_pages(layout: Layout) -> list[Page]:
    """Each listed paper and allowed way round that has room for a view; raises CannotFit if none has."""
    settings = layout.job.printing
    pages = [
        page for paper in settings.papers for page in pages_of(paper, settings.orientation, settings.margins)
    ]
    usable = [page for page in pages if page.takes(settings.overlap_in)]
    if not usable:
        raise CannotFit([_too_small(layout, page) for page in pages])
    return usable


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
