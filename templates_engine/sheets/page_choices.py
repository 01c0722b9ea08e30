"""Lists the pages a job's paper can make, and cuts the faces up on each; best_page.py picks one."""

from __future__ import annotations

import math
from functools import cache, cached_property

from templates_engine.layout.model import Layout
from templates_engine.sheets.paper_pages import PaperPage, View, pages_of
from templates_engine.sheets.tiles import FaceCutter, FaceGrid

MOST_SHEETS = 400
"""A template of more sheets than this is a slip in the job file, not something to tape on metal."""


class PageChoices:
    """The pages for one layout with its print settings, and how its faces are cut up on each."""

    def __init__(self, layout: Layout, cutters: tuple[FaceCutter, ...] = ()) -> None:
        """``cutters`` are those of the same faces for other print settings: nothing is cut twice."""
        self.layout = layout
        self.cutters = cutters or tuple(map(FaceCutter, layout.faces))
        self._settings = layout.job.printing
        self._grid = cache(self._cut)

    @property
    def listed(self) -> list[PaperPage]:
        """Each listed paper in each allowed way round, with a strip for the upright bar."""
        settings = self._settings
        return [
            page
            for paper in settings.papers
            for page in pages_of(paper, settings.orientation, settings.margins)
        ]

    @cached_property
    def usable(self) -> list[PaperPage]:
        """The listed pages that have room for a view, each with its strip and without."""
        both = (variant for page in self.listed for variant in (page, page.without_strip()))
        return [page for page in both if page.takes(self._settings.overlap_in)]

    @cached_property
    def sensible(self) -> list[PaperPage]:
        """Those on which the faces, nothing left out, take a sensible number of sheets."""
        return [page for page in self.usable if self.whole_count(page) <= MOST_SHEETS]

    def grid(self, page: PaperPage, face: int, columns: int = 0, bands: int = 0) -> FaceGrid | None:
        """One face in so many columns and bands more than the fewest, without empty sheets where the job asks
        for that; None where it is too small.
        """
        return self._grid(page.shows(self._settings.overlap_in), face, columns, bands)

    def _cut(self, view: View, face: int, columns: int, bands: int) -> FaceGrid | None:
        return self.cutters[face].grid(view, columns, bands, self._settings.leave_out_empty)

    def whole_count(self, page: PaperPage) -> int:
        """How many sheets of the page show all of all faces."""
        view = page.shows(self._settings.overlap_in)
        return sum(math.prod(cutter.least_grid(view)) for cutter in self.cutters)

    def printed_count(self, page: PaperPage) -> int:
        """How many of them are printed, empty ones left out where the job asks for that."""
        if not self._settings.leave_out_empty:
            return self.whole_count(page)
        grids = (self.grid(page, face) for face in range(len(self.cutters)))
        return sum(grid.sheets for grid in grids if grid is not None)
