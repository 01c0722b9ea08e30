"""Lists the pages a paper and its margins can make, upright or lying, each with the view it has room for.

::

    +-----------------------------+
    | margin                      |
    |   +--+------------------+   |
    |   |  |                  |   |
    |   |  |       view       |   |      strip at the left: upright scale bar (BAR_STRIP_IN
    |   |  |                  |   |      wide, or none: then the bar stands over the view)
    |   |  |                  |   |      strip along the bottom: title (TITLE_STRIP_IN high)
    |   +--+------------------+   |
    |   |     title strip     |   |
    |   +---------------------+   |
    +-----------------------------+
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Literal

from templates_engine.geometry import Rect
from templates_engine.job.model import MarginsIn, PaperSize
from templates_engine.trade.papers import MOST_SIDE_IN, PAPERS
from templates_engine.values import Struct, replace

TITLE_STRIP_IN = 1.55
BAR_STRIP_IN = 0.45
LEAST_TITLE_WIDTH_IN = 6.5
"""A title strip narrower than this has no room for its words and its map."""
LEAST_ROLL_LENGTH_IN = 11.0
"""A shorter piece of a roll curls, and has no room for the title strip."""
ROLL_STEP_IN = 0.125
"""A roll's page is cut to a whole number of these."""
LEAST_STEP_IN = 1.0
"""What a further sheet must add to a face to be worth taping on."""

Orientation = Literal["portrait", "landscape"]

COMMON = tuple(PaperSize(paper.name, paper.short_in, paper.long_in) for paper in PAPERS)


class View(Struct, frozen=True):
    """The size of every page's view, and by how much neighbours overlap, inches."""

    width_in: float
    height_in: float
    overlap_in: float


class PaperPage(Struct, frozen=True):
    """One paper one way round. ``free`` is the direction in which a roll's page is yet to be cut."""

    paper: PaperSize
    orientation: Orientation
    width_in: float
    height_in: float
    margins: MarginsIn
    free: Literal["width", "height"] | None = None
    bar_strip_in: float = BAR_STRIP_IN

    @property
    def view(self) -> Rect:
        """The part kept for the true-scale view, page coordinates."""
        return Rect(
            self.margins.left_in + self.bar_strip_in,
            self.margins.bottom_in + TITLE_STRIP_IN,
            self.width_in - self.margins.right_in,
            self.height_in - self.margins.top_in,
        )

    def shows(self, overlap_in: float) -> View:
        """The view's size, with the overlap asked for."""
        return View(self.view.width, self.view.height, overlap_in)

    @property
    def title_width_in(self) -> float:
        return self.width_in - self.margins.left_in - self.margins.right_in

    @property
    def area_in2(self) -> float:
        return self.width_in * self.height_in

    def takes(self, overlap_in: float) -> bool:
        """Whether there is room for the title strip, and for a view that shows more than its overlap."""
        least = overlap_in + LEAST_STEP_IN
        return (
            self.title_width_in >= LEAST_TITLE_WIDTH_IN
            and self.view.width >= least
            and self.view.height >= least
        )

    def without_strip(self) -> PaperPage:
        """The page with its upright bar over the view."""
        return replace(self, bar_strip_in=0.0)

    def cut_to(self, view_width_in: float, view_height_in: float) -> PaperPage:
        """A roll's page cut to the length its largest window needs; any other page as it is."""
        if self.free == "width":
            return replace(self, width_in=_roll_length(self.width_in - self.view.width + view_width_in))
        if self.free == "height":
            return replace(self, height_in=_roll_length(self.height_in - self.view.height + view_height_in))
        return self


def _roll_length(needed_in: float) -> float:
    steps = math.ceil(needed_in / ROLL_STEP_IN - 1e-9)
    return min(max(steps * ROLL_STEP_IN, LEAST_ROLL_LENGTH_IN), MOST_SIDE_IN)


def pages_of(
    paper: PaperSize, orientation: Literal["either", "portrait", "landscape"], margins: MarginsIn
) -> Iterator[PaperPage]:
    """The pages a paper can make, upright before lying; a roll's are as long as a PDF page may be until cut.

    Margins belong to the paper as it goes through the printer, short edge first. Lying, they turn with it; to
    which side no file can tell, so the larger of each pair then counts on both edges.
    """
    long_in = MOST_SIDE_IN if paper.long_in is None else paper.long_in
    is_roll = paper.long_in is None
    if orientation != "landscape":
        yield PaperPage(paper, "portrait", paper.short_in, long_in, margins, "height" if is_roll else None)
    if orientation != "portrait":
        ends = max(margins.top_in, margins.bottom_in)
        sides = max(margins.left_in, margins.right_in)
        turned = MarginsIn(top_in=sides, bottom_in=sides, left_in=ends, right_in=ends)
        yield PaperPage(paper, "landscape", long_in, paper.short_in, turned, "width" if is_roll else None)
