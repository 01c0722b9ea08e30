"""Says what a plan costs in paper, what would save some, and what to mind; decides nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templates_engine.sheets.best_page import Arrangement
from templates_engine.sheets.model import FacePlan
from templates_engine.sheets.page_choices import PageChoices
from templates_engine.sheets.savings import Alternatives, on_paper
from templates_engine.trade.not_in_tables import listed
from templates_engine.values import Struct

LITTLE_IN = 0.20
"""A narrower border is hard to fold."""
MOST_NAMED = 6
"""More holes that are spared are counted, not named."""


def reasons(choice: PageChoices, best: Arrangement, faces: tuple[FacePlan, ...]) -> tuple[str, ...]:
    """The sentences that go with a plan: what it costs, then what to mind."""
    return tuple(_Reasons(Alternatives(choice, best), faces).all())


class _Reasons(Struct, frozen=True):
    """What there is to say of one plan."""

    others: Alternatives
    faces: tuple[FacePlan, ...]

    def all(self) -> Iterator[str]:
        yield self._cost()
        yield from self._extra()
        yield from self._cuts()
        yield from self._left_out()
        yield from self._without_room()
        yield from self._borders()

    def _cost(self) -> str:
        best, page = self.others.best, self.others.best.page
        parts = (_sheets(best.sheets), *self.others.savings())
        return f"{page.paper.name}, {page.orientation}: {'; '.join(parts)}."

    def _extra(self) -> Iterator[str]:
        """What the sheets beyond the fewest are for."""
        fewest = self.others.fewest
        more = self.others.best.sheets - fewest.sheets
        if more <= 0:
            return
        spared = [
            _few_holes([id_ for id_ in grid.cut_holes if id_ not in face.cut_holes], face)
            for grid, face in zip(fewest.grids, self.faces, strict=True)
            if set(grid.cut_holes) - set(face.cut_holes)
        ]
        off = f"joints off {listed(spared, 'and')}" if spared else "joints off more centres"
        keep = "keeps" if more == 1 else "keep"
        yield f"{_sheets(more)} more than the fewest {keep} {off}; `extra sheets: 0` gives the fewest."

    def _cuts(self) -> Iterator[str]:
        if not any(face.joints for face in self.faces):
            return
        cut = [_holes(face.cut_holes, face) for face in self.faces if face.cut_holes]
        if not cut:
            yield "No joint crosses a hole."
            return
        yield f"Joints cross {listed(cut, 'and')}. Check the centres there by the table of tape positions."
        more = self.others.extra_to_spare_all()
        if more is not None:
            yield f"With `extra sheets: {more}` no joint would cross a hole."
        whole = list(map(on_paper, self.others.papers_that_spare_all()))
        if whole:
            yield f"No joint would cross a hole on {' or '.join(whole)}."

    def _left_out(self) -> Iterator[str]:
        count = sum(len(face.left_out) for face in self.faces)
        if count:
            yield f"{_sheets(count)} more, with nothing to cut on {'it' if count == 1 else 'them'}, left out."

    def _without_room(self) -> Iterator[str]:
        """Papers that the job lists in vain."""
        choice = self.others.choice
        roomy = {page.paper for page in choice.usable}
        for paper in choice.layout.job.printing.papers:
            if paper not in roomy:
                yield f"{paper.name} has no room for a view between its margins and strips."

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
            where = listed(narrow, "and")
            yield f"Little paper is left past the edges ({where}), to save sheets or spare holes."

    def _said(self, inches: float) -> str:
        job = self.others.choice.layout.job
        return f"{job.lengths.exact(inches)} {job.unit}"


def _few_holes(ids: Sequence[str], face: FacePlan) -> str:
    """Their names, or how many they are where nobody would read so many."""
    if len(ids) <= MOST_NAMED:
        return _holes(ids, face)
    return f"{len(ids)} holes on the {face.layout.job.face.value} face"


def _holes(ids: Sequence[str], face: FacePlan) -> str:
    word = "hole" if len(ids) == 1 else "holes"
    return f"{word} {listed(ids, 'and')} on the {face.layout.job.face.value} face"


def _sheets(count: int) -> str:
    return "1 sheet" if count == 1 else f"{count} sheets"
