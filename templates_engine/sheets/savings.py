"""Finds what would take fewer sheets, each alternative planned before it is said; the person decides."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cached_property
from typing import TypeGuard

from templates_engine.job.model import PaperSize, PrintSettings
from templates_engine.sheets.best_page import Arrangement, allowed_extra, best_arrangement
from templates_engine.sheets.page_choices import PageChoices
from templates_engine.sheets.paper_pages import COMMON
from templates_engine.values import Struct, replace

MOST_EXTRA_TRIED = 4
"""How many sheets more are tried to say that they would spare every hole."""
ROLL = PaperSize("24 in roll", 24.0, None)
FEW_SHEETS = 4
"""So many are taped together before anybody has reached a plotter."""
_METRIC = ("A4", "A3")


class Alternatives(Struct, frozen=True, dict=True):
    """Other print settings for a layout that has been arranged."""

    choice: PageChoices
    best: Arrangement

    @property
    def _settings(self) -> PrintSettings:
        return self.choice.layout.job.printing

    def savings(self) -> Iterator[str]:
        """What takes fewer sheets, such as "3 on tabloid": a key of the job first, then paper, the smallest
        first.
        """
        for how, settings in self._other_keys():
            made = self._planned(settings)
            if self._saves(made):
                yield f"{made.sheets} {how}"
        least = self.best.sheets
        for paper, made in self._on_paper.items():
            if self._saves(made) and made.sheets < least:
                least = made.sheets
                yield f"{made.sheets} on {on_paper(paper)}"

    @cached_property
    def fewest(self) -> Arrangement:
        """The faces in strictly the fewest sheets."""
        least = self._planned(replace(self._settings, extra_sheets=0))
        assert least is not None
        return least

    def papers_that_spare_all(self) -> Iterator[PaperSize]:
        """Larger papers on which no joint would cross a hole, in no more sheets."""
        for paper, made in self._on_paper.items():
            if made and made.cut_holes == 0 and made.sheets <= self.best.sheets:
                yield paper

    def extra_to_spare_all(self) -> int | None:
        """How many sheets more than the fewest would spare every hole on the papers listed, if few."""
        allowed = allowed_extra(self.fewest.sheets, self._settings.extra_sheets)
        tried = range(allowed + 1, allowed + 1 + MOST_EXTRA_TRIED)
        if not self._spares_all(tried[-1]):
            return None
        return next(extra for extra in tried if self._spares_all(extra))

    def _spares_all(self, extra: int) -> bool:
        made = self._planned(replace(self._settings, extra_sheets=extra))
        return made is not None and made.cut_holes == 0

    def _other_keys(self) -> Iterator[tuple[str, PrintSettings]]:
        if not self._settings.leave_out_empty:
            yield "with `leave out empty sheets: yes`", replace(self._settings, leave_out_empty=True)
        if self._settings.orientation != "either":
            yield "with `orientation: either`", replace(self._settings, orientation="either")

    @cached_property
    def _on_paper(self) -> dict[PaperSize, Arrangement | None]:
        """Larger papers of the same family and a plotter's roll, any way round."""
        settings, own = self._settings, self.best.page.paper
        family = [paper for paper in COMMON if (paper.name in _METRIC) == (own.name in _METRIC)]
        larger = [paper for paper in family if _area_in2(paper) > _area_in2(own)]
        plotter = [ROLL] if self.best.sheets > FEW_SHEETS else []
        papers = (paper for paper in (*larger, *plotter) if paper not in settings.papers)
        return {
            paper: self._planned(replace(settings, papers=(paper,), orientation="either")) for paper in papers
        }

    def _saves(self, made: Arrangement | None) -> TypeGuard[Arrangement]:
        """Whether it takes fewer sheets and lets joints cross no more holes."""
        best = self.best
        return made is not None and made.sheets < best.sheets and made.cut_holes <= best.cut_holes

    def _planned(self, settings: PrintSettings) -> Arrangement | None:
        """The faces on the pages of other settings; None where no page has room for them."""
        layout = self.choice.layout
        layout = replace(layout, job=replace(layout.job, printing=settings))
        choice = PageChoices(layout, self.choice.cutters)
        return best_arrangement(choice) if choice.sensible else None


def on_paper(paper: PaperSize) -> str:
    """A paper as said after "on"."""
    return f"a {paper.name}" if paper.long_in is None else paper.name


def _area_in2(paper: PaperSize) -> float:
    return math.inf if paper.long_in is None else paper.short_in * paper.long_in
