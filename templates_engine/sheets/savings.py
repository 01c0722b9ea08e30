"""Finds what would take fewer sheets, each alternative planned before it is said; the person decides."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cached_property

from templates_engine.job.model import PaperSize, PrintSettings
from templates_engine.sheets.best_page import Arrangement, allowed_extra, best_arrangement
from templates_engine.sheets.page_choices import MOST_SHEETS, PageChoices
from templates_engine.sheets.paper_pages import COMMON
from templates_engine.values import Struct, replace

MOST_EXTRA_TRIED = 4
"""How many sheets more are tried to say that they would spare every hole."""
ROLL = PaperSize("24 in roll", 24.0, None)
FEW_SHEETS = 4
"""So many are taped together before anybody has reached a plotter."""
_METRIC = ("A4", "A3")


class Saving(Struct, frozen=True):
    """A change that takes fewer sheets and lets joints cross no more holes."""

    sheets: int
    how: str

    def __str__(self) -> str:
        return f"{self.sheets} {self.how}"


class Alternatives(Struct, frozen=True, dict=True):
    """Other print settings for a layout that has been arranged."""

    choice: PageChoices
    best: Arrangement

    @property
    def _settings(self) -> PrintSettings:
        return self.choice.layout.job.printing

    @cached_property
    def savings(self) -> tuple[Saving, ...]:
        """What takes fewer sheets: a key of the job first, then paper, the smallest first."""
        found = [*self._by_key(), *self._by_paper()]
        return tuple(saving for saving in found if saving is not None)

    @cached_property
    def fewest(self) -> Arrangement:
        """The faces in strictly the fewest sheets."""
        least = self._planned(replace(self._settings, extra_sheets=0))
        assert least is not None
        return least

    @cached_property
    def papers_that_spare_all(self) -> tuple[PaperSize, ...]:
        """Larger papers on which no joint would cross a hole, in no more sheets."""
        planned = ((paper, self._on_paper[paper]) for paper in self._on_paper)
        return tuple(
            paper
            for paper, made in planned
            if made and made.cut_holes == 0 and made.sheets <= self.best.sheets
        )

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

    def _by_key(self) -> Iterator[Saving | None]:
        if not self._settings.leave_out_empty:
            thinned = self._planned(replace(self._settings, leave_out_empty=True))
            yield self._saving(thinned, "with `leave out empty sheets: yes`")
        if self._settings.orientation != "either":
            turned = self._planned(replace(self._settings, orientation="either"))
            yield self._saving(turned, "with `orientation: either`")

    def _by_paper(self) -> Iterator[Saving | None]:
        least = self.best.sheets
        for paper, made in self._on_paper.items():
            saving = self._saving(made, f"on {on_paper(paper)}")
            if saving is not None and saving.sheets < least:
                least = saving.sheets
                yield saving

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

    def _saving(self, made: Arrangement | None, how: str) -> Saving | None:
        if made is None or made.sheets >= self.best.sheets or made.cut_holes > self.best.cut_holes:
            return None
        return Saving(made.sheets, how)

    def _planned(self, settings: PrintSettings) -> Arrangement | None:
        """The faces on the pages of other settings; None where no page has room for them."""
        layout = self.choice.layout
        layout = replace(layout, job=replace(layout.job, printing=settings))
        choice = PageChoices(layout, self.choice.cutters)
        pages = [
            page for page in choice.usable(choice.listed_pages()) if choice.whole_count(page) <= MOST_SHEETS
        ]
        return best_arrangement(choice, pages) if pages else None


def on_paper(paper: PaperSize) -> str:
    """A paper as said after "on"."""
    return f"a {paper.name}" if paper.long_in is None else paper.name


def _area_in2(paper: PaperSize) -> float:
    return math.inf if paper.long_in is None else paper.short_in * paper.long_in
