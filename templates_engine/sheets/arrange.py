"""Picks the page for all faces and cuts them up on it; a job may allow more sheets than the fewest.

::

    fewest sheets            one sheet more
    +-------(-|-)----+       +------+-( )-+------+      a sheet more is only spent where a joint
    |       ( | )    |       |      | ( ) |      |      then crosses fewer holes
    +-------(-|-)----+       +------+-( )-+------+

Why the plan is as it is, is for why to say.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from templates_engine.sheets.choice import Choice
from templates_engine.sheets.papers import Page
from templates_engine.sheets.tiles import FaceGrid


@dataclass(frozen=True)
class Arrangement:
    """The faces cut up for one page."""

    page: Page
    grids: tuple[FaceGrid, ...]

    @property
    def sheets(self) -> int:
        return sum(len(grid.tiles) for grid in self.grids)

    @property
    def cuts(self) -> int:
        return sum(grid.cuts for grid in self.grids)

    @property
    def rank(self) -> tuple[int, int, bool, int, float, float, bool]:
        """What makes one arrangement better than another that is allowed too, the smaller the better.

        Least harm to circles, fewest sheets, a strip for the upright bar, few joints near holes, least paper,
        widest borders, upright.
        """
        return (
            self.cuts,
            self.sheets,
            self.page.bar_strip_in == 0.0,
            sum(grid.harm for grid in self.grids),
            self.page.area_in2,
            sum(grid.missing_border_in for grid in self.grids),
            self.page.orientation == "landscape",
        )


def best_arrangement(choice: Choice, pages: Sequence[Page], extra_sheets: int) -> Arrangement:
    """The best of the pages with at most ``extra_sheets`` more than the fewest that any of them needs.

    Pages that cannot win any more are not cut up.
    """
    counts = {page: choice.printed_count(page) for page in pages}
    fewest = min(counts.values())
    near = [page for page in pages if counts[page] <= fewest + extra_sheets]
    best: Arrangement | None = None
    for page in sorted(near, key=lambda page: page.bar_strip_in == 0.0):
        if (
            best is not None
            and (best.cuts, best.sheets) == (0, fewest)
            and page.bar_strip_in < best.page.bar_strip_in
        ):
            break
        found = _arrange(choice, page, fewest + extra_sheets - counts[page])
        if best is None or found.rank < best.rank:
            best = found
    assert best is not None
    return best


def _arrange(choice: Choice, page: Page, more: int) -> Arrangement:
    """All faces cut up for the page, and a roll's page then cut to its largest window."""
    grids = choice.grids(page)
    if more > 0 and any(grid.cuts for grid in grids):
        grids = _spared(choice, page, more)
    shown = [tile.window for grid in grids for tile in grid.tiles]
    width_in = max((window.width for window in shown), default=0.0)
    height_in = max((window.height for window in shown), default=0.0)
    return Arrangement(page.cut_to(width_in, height_in), grids)


def _spared(choice: Choice, page: Page, more: int) -> tuple[FaceGrid, ...]:
    """The faces with at most ``more`` sheets more in all, spent where they spare the most."""
    base = choice.grids(page)
    most = sum(len(grid.tiles) for grid in base) + more
    faces = [list(_worth_more(choice, page, index, more)) for index in range(len(base))]
    return min(
        (chosen for chosen in product(*faces) if sum(len(grid.tiles) for grid in chosen) <= most),
        key=lambda chosen: (sum(grid.cuts for grid in chosen), sum(len(grid.tiles) for grid in chosen)),
    )


def _worth_more(choice: Choice, page: Page, index: int, more: int) -> Iterator[FaceGrid]:
    """One face in its fewest sheets, then in more, each time with fewer joints across holes."""
    best = choice.grids(page)[index]
    most = len(best.tiles) + more
    yield best
    for columns, bands in choice.ways_with(page, index, more):
        if best.cuts == 0:
            return
        grid = choice.grid_with(page, index, columns, bands)
        if grid is not None and len(grid.tiles) <= most and grid.cuts < best.cuts:
            best = grid
            yield grid
