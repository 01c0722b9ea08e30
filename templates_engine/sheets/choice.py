"""Lists the pages a job's paper can make, and counts the sheets on each; plan picks, why compares."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from templates_engine.job.model import MarginsIn, PaperSize
from templates_engine.layout.model import Layout
from templates_engine.sheets.papers import Page, pages_of
from templates_engine.sheets.tiles import cut_into_tiles, total_sheets

MOST_SHEETS = 400
"""A template of more sheets than this is a slip in the job file, not something to tape on metal."""


def listed_pages(layout: Layout) -> list[Page]:
    """Each listed paper in each allowed way round, with a strip for the upright bar."""
    settings = layout.job.printing
    return [
        page for paper in settings.papers for page in pages_of(paper, settings.orientation, settings.margins)
    ]


def usable(layout: Layout, pages: Iterable[Page]) -> list[Page]:
    """The pages that have room for a view, each with its strip and without."""
    overlap_in = layout.job.printing.overlap_in
    both = (variant for page in pages for variant in (page, page.without_strip()))
    return [page for page in both if page.takes(overlap_in)]


def whole_count(layout: Layout, page: Page) -> int:
    """How many sheets of the page show all of all faces."""
    return total_sheets(layout, page.shows(layout.job.printing.overlap_in))


def printed_count(layout: Layout, page: Page) -> int:
    """How many of them are printed, empty ones left out where the job asks for that."""
    settings = layout.job.printing
    whole = whole_count(layout, page)
    if not settings.leave_out_empty or whole > MOST_SHEETS:
        return whole
    view = page.shows(settings.overlap_in)
    return sum(len(cut_into_tiles(face, view, leave_out_empty=True).tiles) for face in layout.faces)


def fewest_on(
    layout: Layout,
    paper: PaperSize,
    orientation: Literal["either", "portrait", "landscape"],
    margins: MarginsIn,
) -> int | None:
    """The fewest sheets to print on a paper; None when it has no room for a view."""
    pages = usable(layout, pages_of(paper, orientation, margins))
    return min((printed_count(layout, page) for page in pages), default=None)
