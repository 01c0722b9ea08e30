"""Lists the pages a job's paper can make, and counts the sheets on each; plan picks, why compares."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from templates_engine.job.model import MarginsIn, PaperSize
from templates_engine.layout.model import Layout
from templates_engine.sheets.papers import Page, View, pages_of
from templates_engine.sheets.tiles import (
    FaceGrid,
    clears_holes,
    cut_into_tiles,
    cut_with_more,
    least_grid,
    total_sheets,
)

MOST_SHEETS = 400
"""A template of more sheets than this is a slip in the job file, not something to tape on metal."""


def listed_pages(layout: Layout) -> list[Page]:
    """Each listed paper in each allowed way round, with a strip for the upright bar."""
    settings = layout.job.printing
    return [
        page for paper in settings.papers for page in pages_of(paper, settings.orientation, settings.margins)
    ]


class Choice:
    """The pages for one layout, and how its faces are cut up on each; what was cut once is not cut again."""

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        self._settings = layout.job.printing
        self._cut: dict[View, tuple[FaceGrid, ...]] = {}

    def usable(self, pages: Iterable[Page]) -> list[Page]:
        """The pages that have room for a view, each with its strip and without."""
        both = (variant for page in pages for variant in (page, page.without_strip()))
        return [page for page in both if page.takes(self._settings.overlap_in)]

    def grids(self, page: Page) -> tuple[FaceGrid, ...]:
        """All faces cut up for the page's view."""
        view = page.shows(self._settings.overlap_in)
        if view not in self._cut:
            leave_out = self._settings.leave_out_empty
            self._cut[view] = tuple(cut_into_tiles(face, view, leave_out) for face in self.layout.faces)
        return self._cut[view]

    def ways_with(self, page: Page, index: int, more: int) -> list[tuple[int, int]]:
        """How many columns and bands more than the fewest make at most so many sheets more of one face, the
        fewest sheets first. Where empty ones are left out, sheets that are not printed do not count.
        """
        columns, bands = least_grid(self.layout.faces[index], page.shows(self._settings.overlap_in))
        ways = [
            ((columns + across) * (bands + down), across, down)
            for across in range(more + 1)
            for down in range(more + 1)
        ]
        most = MOST_SHEETS if self._settings.leave_out_empty else columns * bands + more
        return [(across, down) for count, across, down in sorted(ways)[1:] if count <= most]

    def grid_with(self, page: Page, index: int, columns: int, bands: int) -> FaceGrid | None:
        """One face cut into so many columns and bands more than the fewest; None where it is too small."""
        view = page.shows(self._settings.overlap_in)
        return cut_with_more(self.layout.faces[index], view, columns, bands, self._settings.leave_out_empty)

    def spares_all(self, page: Page, more: int) -> bool:
        """Whether straight joints spare every hole in so many sheets more than the fewest; sooner told than
        cut, and only sure where the answer is yes.
        """
        view, left = page.shows(self._settings.overlap_in), more
        for index, face in enumerate(self.layout.faces):
            columns, bands = least_grid(face, view)
            ways = [(0, 0), *self.ways_with(page, index, left)]
            needed = next((way for way in ways if clears_holes(face, view, *way)), None)
            if needed is None:
                return False
            left -= (columns + needed[0]) * (bands + needed[1]) - columns * bands
        return left >= 0

    def whole_count(self, page: Page) -> int:
        """How many sheets of the page show all of all faces."""
        return total_sheets(self.layout, page.shows(self._settings.overlap_in))

    def printed_count(self, page: Page) -> int:
        """How many of them are printed, empty ones left out where the job asks for that."""
        whole = self.whole_count(page)
        if not self._settings.leave_out_empty or whole > MOST_SHEETS:
            return whole
        return sum(len(grid.tiles) for grid in self.grids(page))

    def fewest_on(
        self, paper: PaperSize, orientation: Literal["either", "portrait", "landscape"], margins: MarginsIn
    ) -> int | None:
        """The fewest sheets to print on a paper; None when it has no room for a view."""
        pages = self.usable(pages_of(paper, orientation, margins))
        return min((self.printed_count(page) for page in pages), default=None)
