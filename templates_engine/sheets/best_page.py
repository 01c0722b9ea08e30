"""Picks the page for all faces and cuts them up on it; some sheets more than the fewest may spare holes.

::

    fewest sheets            one sheet more
    +-------(-|-)----+       +------+-( )-+------+      a sheet more is only spent where a joint
    |       ( | )    |       |      | ( ) |      |      then crosses fewer holes
    +-------(-|-)----+       +------+-( )-+------+

Why the plan is as it is, is for why to say.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import product

from templates_engine.sheets.page_choices import MOST_SHEETS, PageChoices
from templates_engine.sheets.paper_pages import PaperPage
from templates_engine.sheets.tiles import FaceGrid
from templates_engine.values import Struct

ONE_MORE_IN = 4
"""Unasked, one sheet more for so many may be spent: paper is cheap and a can is not."""
_Grids = tuple[FaceGrid, ...]


class Arrangement(Struct, frozen=True):
    """The faces cut up for one page."""

    page: PaperPage
    grids: _Grids

    @property
    def sheets(self) -> int:
        return sum(grid.sheets for grid in self.grids)

    @property
    def cuts(self) -> int:
        return sum(grid.cuts for grid in self.grids)

    @property
    def cut_holes(self) -> int:
        """How many holes a joint crosses."""
        return sum(len(grid.cut_holes) for grid in self.grids)

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


def allowed_extra(fewest: int, asked: int | None) -> int:
    """How many sheets more than the fewest may be spent: as asked, or one in four and at least one."""
    return asked if asked is not None else max(1, fewest // ONE_MORE_IN)


def best_arrangement(choice: PageChoices, pages: Sequence[PaperPage]) -> Arrangement:
    """The best of the pages with at most the allowed sheets more than the fewest that any of them needs.

    Pages that cannot win any more are not cut up.
    """
    counts = {page: choice.printed_count(page) for page in pages}
    fewest = min(counts.values())
    most = min(fewest + allowed_extra(fewest, choice.layout.job.printing.extra_sheets), MOST_SHEETS)
    near = [page for page in pages if counts[page] <= most]
    best: Arrangement | None = None
    for page in sorted(near, key=lambda page: page.bar_strip_in == 0.0):
        if (
            best is not None
            and (best.cuts, best.sheets) == (0, fewest)
            and page.bar_strip_in < best.page.bar_strip_in
        ):
            break
        found = _arrange(choice, page, most)
        if best is None or found.rank < best.rank:
            best = found
    assert best is not None
    return best


def _arrange(choice: PageChoices, page: PaperPage, most: int) -> Arrangement:
    """All faces cut up for the page in at most so many sheets; a roll's page is cut to what they show."""
    chosen: list[_Grids] = [()]
    more = most - choice.printed_count(page)
    for face in range(len(choice.cutters)):
        ways = list(_ways(choice, page, face, more))
        chosen = _worth_keeping((*grids, grid) for grids in chosen for grid in ways)
    grids = min((grids for grids in chosen if _sheets(grids) <= most), key=_cost)
    shown = [tile.window for grid in grids for tile in grid.tiles]
    width_in = max((window.width for window in shown), default=0.0)
    height_in = max((window.height for window in shown), default=0.0)
    return Arrangement(page.cut_to(width_in, height_in), grids)


def _ways(choice: PageChoices, page: PaperPage, face: int, more: int) -> Iterator[FaceGrid]:
    """One face in its fewest sheets, then in more with fewer joints across holes.

    Where empty sheets are left out those that are not printed do not count, so a plan of more may print less.
    """
    least = choice.grid(page, face)
    assert least is not None  # any face takes its fewest sheets
    yield least
    if least.cuts == 0:
        return
    columns, bands = least.columns, least.bands
    most = columns * bands + more
    if least.leave_out_empty:
        most = min(most + columns * bands, MOST_SHEETS)
    sizes = sorted(
        ((columns + across) * (bands + down), across, down)
        for across, down in product(range(more + 1), repeat=2)
        if (columns + across) * (bands + down) <= most
    )
    for _, across, down in sizes:
        grid = choice.grid(page, face, across, down)
        if grid is not None and grid.cuts < least.cuts:
            yield grid
            if grid.cuts == 0:
                return


def _worth_keeping(choices: Iterable[_Grids]) -> list[_Grids]:
    """Those that no other beats in sheets and in harm to holes, the fewest sheets first."""
    kept: list[_Grids] = []
    for grids in sorted(choices, key=lambda grids: (_sheets(grids), _cost(grids))):
        if not kept or _cost(grids)[0] < _cost(kept[-1])[0]:
            kept.append(grids)
    return kept


def _sheets(grids: _Grids) -> int:
    return sum(grid.sheets for grid in grids)


def _cost(grids: _Grids) -> tuple[int, int, int]:
    return sum(grid.cuts for grid in grids), _sheets(grids), sum(grid.harm for grid in grids)
