"""Says why a plan is as it is: what the other way round, other papers and margins need; decides nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice

from templates_engine.job.model import MarginsIn, PaperSize
from templates_engine.sheets.arrange import Arrangement
from templates_engine.sheets.choice import Choice, listed_pages
from templates_engine.sheets.model import FacePlan
from templates_engine.sheets.papers import COMMON, Orientation, Page, pages_of
from templates_engine.sheets.tiles import clears_holes, without_empty
from templates_engine.units import Speech

MOST_REASONS = 6
MOST_MORE = 4
"""How many sheets more are tried to say that they would spare every hole."""
_ROLL = PaperSize("24 in roll", 24.0, None)
LITTLE_IN = 0.20
"""A narrower border is hard to fold."""
_NARROW_MARGIN_IN = 0.20
"""What most office printers leave at the least; practitioners' measures run from 0.157 to 0.200 in."""


def reasons(choice: Choice, best: Arrangement, faces: tuple[FacePlan, ...]) -> tuple[str, ...]:
    """The sentences that go with a plan, what matters most first, and no more than a few."""
    return tuple(islice(_Reasons(choice, best, faces).all(), MOST_REASONS))


@dataclass(frozen=True)
class _Reasons:
    """What there is to say of one plan."""

    choice: Choice
    best: Arrangement
    faces: tuple[FacePlan, ...]

    @property
    def page(self) -> Page:
        return self.best.page

    @property
    def used(self) -> int:
        return self.best.sheets

    def all(self) -> Iterator[str]:
        yield self._first()
        yield from self._extra()
        yield from self._cuts()
        yield from self._left_out()
        yield from self._empty()
        yield from self._others()
        yield from self._listed()
        yield from self._strip()
        yield from self._margins()
        yield from self._borders()

    def _first(self) -> str:
        page = self.page
        head = f"{page.paper.name}, {page.orientation}: {_sheets(self.used)}"
        other: Orientation = "portrait" if page.orientation == "landscape" else "landscape"
        settings = self.choice.layout.job.printing
        count = self.choice.fewest_on(page.paper, other, settings.margins)
        if count is None:
            return f"{head}; {other} has no room for a view."
        if count == self.used:
            return f"{head}; {other} would need as many."
        asked = settings.orientation != "either" and count < self.used
        return f"{head}{', as the job asks' if asked else ''}; {other} would need {count}."

    def _extra(self) -> Iterator[str]:
        """What the sheets beyond the fewest are for."""
        more = self.used - min(map(self.choice.printed_count, self._listed_pages()))
        if more > 0:
            yield f"{_sheets(more)} more than the fewest, as the job allows, to spare holes."

    def _listed_pages(self) -> list[Page]:
        return self.choice.usable(listed_pages(self.choice.layout))

    def _cuts(self) -> Iterator[str]:
        if not any(face.joints for face in self.faces):
            return
        cut = [
            f"{'hole' if len(face.cut_holes) == 1 else 'holes'} {_and(face.cut_holes)} "
            f"on the {face.layout.job.face.value} face"
            for face in self.faces
            if face.cut_holes
        ]
        if not cut:
            yield "No joint crosses a hole."
            return
        yield (
            f"Joints cross {_and(cut)}: with so few sheets none were found that spare more. "
            "Check the centres there by the table of tape positions."
        )
        more = self._sheets_to_spare_all()
        if more is not None:
            yield f"With extra sheets: {more} in the job's print settings no joint would cross a hole."
        whole = [_article(paper.name) for paper in (*COMMON, _ROLL) if self._cuts_none(paper)]
        if whole:
            yield f"No joint would cross a hole on {' or '.join(whole)}."

    def _sheets_to_spare_all(self) -> int | None:
        """How many sheets more than the fewest are sure to spare every hole on the papers listed, if few."""
        pages = self._listed_pages()
        fewest = min(map(self.choice.whole_count, pages))
        allowed = self.choice.layout.job.printing.extra_sheets
        for more in range(allowed + 1, allowed + 1 + MOST_MORE):
            left = ((page, fewest + more - self.choice.whole_count(page)) for page in pages)
            if any(sheets >= 0 and self.choice.spares_all(page, sheets) for page, sheets in left):
                return more
        return None

    def _cuts_none(self, paper: PaperSize) -> bool:
        """Whether straight joints spare every hole on the paper in no more sheets, some way round."""
        settings = self.choice.layout.job.printing
        views = [
            page.shows(settings.overlap_in)
            for page in pages_of(paper, "either", settings.margins)
            if page.takes(settings.overlap_in) and self.choice.whole_count(page) <= self.used
        ]
        return any(all(clears_holes(face, view) for face in self.choice.layout.faces) for view in views)

    def _left_out(self) -> Iterator[str]:
        count = sum(len(face.left_out) for face in self.faces)
        if count:
            yield f"{_sheets(count)} more, with nothing to cut on {'it' if count == 1 else 'them'}, left out."

    def _empty(self) -> Iterator[str]:
        """What leaving out empty sheets would save."""
        if self.choice.layout.job.printing.leave_out_empty:
            return
        kept = sum(len(without_empty(grid).tiles) for grid in self.best.grids)
        if kept < self.used:
            yield f"With leave out empty sheets: yes in the job's print settings {kept} would do."

    def _others(self) -> Iterator[str]:
        """Common papers, and a plotter's roll, on which fewer sheets would do; any way round."""
        settings = self.choice.layout.job.printing
        listed = {paper.name for paper in settings.papers}
        better = []
        for paper in (*COMMON, _ROLL):
            if paper.name in listed:
                continue
            count = self.choice.fewest_on(paper, "either", settings.margins)
            if count is not None and count < self.used:
                better.append(f"{count} on {_article(paper.name)}")
        if better:
            yield f"Other paper needs fewer: {', '.join(better)}."

    def _listed(self) -> Iterator[str]:
        """The other papers the job lists."""
        settings = self.choice.layout.job.printing
        said = []
        for paper in settings.papers:
            if paper == self.page.paper:
                continue
            count = self.choice.fewest_on(paper, settings.orientation, settings.margins)
            said.append(f"{paper.name} has no room for a view" if count is None else f"{paper.name} {count}")
        if said:
            yield f"Of the other papers listed: {', '.join(said)}."

    def _strip(self) -> Iterator[str]:
        """What a strip of its own for the upright bar would cost."""
        if self.page.bar_strip_in > 0:
            return
        with_strip = [page for page in self.choice.usable([self._page_with_strip()]) if page.bar_strip_in > 0]
        count = min((self.choice.printed_count(page) for page in with_strip), default=None)
        if count == self.used:
            yield "The upright bar stands over the face, so that joints cut fewer holes."
        elif count is not None:
            yield f"The upright bar stands over the face: beside it, it would take {_sheets(count)}."

    def _page_with_strip(self) -> Page:
        settings = self.choice.layout.job.printing
        (page,) = pages_of(self.page.paper, self.page.orientation, settings.margins)
        return page

    def _margins(self) -> Iterator[str]:
        """What a printer with narrower margins would save on the same paper."""
        settings = self.choice.layout.job.printing
        now = settings.margins
        sides = (now.top_in, now.bottom_in, now.left_in, now.right_in)
        narrow = MarginsIn(*(min(side, _NARROW_MARGIN_IN) for side in sides))
        count = self.choice.fewest_on(self.page.paper, settings.orientation, narrow)
        if count is not None and count < self.used:
            yield f"A printer that leaves margins of {self._said(_NARROW_MARGIN_IN)} would need {count}."

    def _borders(self) -> Iterator[str]:
        narrow = []
        for face in self.faces:
            rect = face.plane.rect
            for side, width in (
                ("left and right of", rect.left - face.bounds.left),
                ("above and below", face.bounds.top - rect.top),
            ):
                if width < LITTLE_IN:
                    narrow.append(f"{self._said(width)} {side} the {face.layout.job.face.value} face")
        if narrow:
            yield f"Little paper is left past the edges ({_and(narrow)}), to save sheets or spare holes."

    def _said(self, inches: float) -> str:
        job = self.choice.layout.job
        return f"{Speech(job.unit, job.denominator).exact(inches)} {job.unit}"


def _sheets(count: int) -> str:
    return "1 sheet" if count == 1 else f"{count} sheets"


def _article(name: str) -> str:
    return f"a {name}" if name.endswith("roll") else name


def _and(words: Iterable[str]) -> str:
    *most, last = words  # a list is never said when it is empty
    return f"{', '.join(most)} and {last}" if most else last
