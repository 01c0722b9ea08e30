"""Turns what a sheet is into the strip along its bottom: measure first, what it is, code, compass, map."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templates_engine.drawing.edge_directions import side_words
from templates_engine.drawing.hole_lists import hole_list
from templates_engine.drawing.qr_code import sheet_code
from templates_engine.drawing.scale_bars import bar
from templates_engine.drawing.shapes import Shape, Words
from templates_engine.drawing.sheet_map import direction_arrows, sheet_map
from templates_engine.drawing.style import HEAD_PT, SMALL_PT, TEXT_PT, line_height_in
from templates_engine.drawing.words import set_words, shortened, width_in
from templates_engine.geometry import Point, Rect
from templates_engine.job.model import Job
from templates_engine.sheets.model import FacePlan, Sheet, SheetPlan
from templates_engine.values import Struct

CORRECTED_LIFT_IN = 0.03
"""By how much the title strip's words move up to make room for the correction's line."""


class PrintedSheet(Struct, frozen=True):
    """One sheet, and all that it is a sheet of."""

    job: Job
    plan: SheetPlan
    face: FacePlan
    sheet: Sheet
    draft: bool

    def title_strip(self, without_figures: Sequence[str]) -> Iterator[Shape]:
        """The whole strip, from left to right: bar and words, code, compass, map. ``without_figures`` are
        the holes whose figures found no room on the sheet.
        """
        plan = self.plan
        left, right = plan.margins.left_in, plan.page_width_in - plan.margins.right_in
        yield from self._measure_first(left, right)
        top, bottom = plan.view.bottom - 0.68, plan.margins.bottom_in
        map_area = Rect(right - min(1.7, (right - left) * 0.2), bottom + 0.02, right, top - 0.02)
        yield from sheet_map(self.face, map_area, self.sheet.number)
        arrows_area = Rect(map_area.left - 1.75, bottom + 0.02, map_area.left - 0.15, top)
        yield from direction_arrows(self.face, arrows_area)
        code_right = arrows_area.left - 0.12
        code_area = Rect(code_right - (top - bottom), bottom, code_right, top)
        yield from sheet_code(self.job, self.face, self.sheet.number, code_area)
        room = code_area.left - left
        yield from self._words(left, top, room, _lacking_lines(self.face, without_figures, room))

    def _measure_first(self, left: float, right: float) -> Iterator[Shape]:
        bars, top = self.face.bars[self.sheet.number - 1], self.plan.view.bottom
        across, upright = bars.across.words, bars.upright.words
        choices = (
            f"Measure here first: this bar {across}, upright bar {upright}. If not, print again at 100 %.",
            f"Measure here first: {across}; upright {upright}. If not, print again.",
        )
        measure, size, _ = _fitting([(text, SMALL_PT) for text in choices], right - left, bold=True)
        yield Words(Point(left, top - 0.14), set_words(measure), size, bold=True)
        yield from bar(bars.across, Point(left, top - 0.42), upright=False)

    def _words(self, left: float, top: float, room: float, lacking: tuple[_Line, ...]) -> Iterator[Shape]:
        """What it is, line by line; the job's words give way where two more lines are to be told."""
        corrected = _correction_lines(self.plan, room)
        job_words = (shortened(_job_words(self.job), SMALL_PT, room), SMALL_PT, False)
        base = top + CORRECTED_LIFT_IN if corrected or lacking else top
        for text, size, bold in (
            _head_line(self.job, self.face, room),
            _sheet_line(self.face, self.sheet, self.draft, room),
            *(() if corrected and lacking else (job_words,)),
            _fitting([(text, SMALL_PT) for text in _AT_ACTUAL_SIZE], room, bold=False),
            *lacking,
            *corrected,
        ):
            base -= line_height_in(size)
            yield Words(Point(left, base), set_words(text), size, bold=bold)


_AT_ACTUAL_SIZE = (
    "Actual size (100 %), one side only. Do not copy: print again.",
    "Actual size (100 %), one side only. Do not copy.",
    "Actual size. Do not copy: print again.",
)
_Line = tuple[str, float, bool]
"""Words, their type size, and whether they are bold."""


def _head_line(job: Job, face: FacePlan, room: float) -> _Line:
    """Enclosure and side; a long mark is shortened before the side is, which must never be guessed at."""
    side = side_words(face)
    for size in (HEAD_PT - 2, TEXT_PT, SMALL_PT):
        mark = shortened(job.enclosure.mark, size, room - width_in(f": {side}", size, True), True)
        if mark == job.enclosure.mark:
            break
    return (f"{mark}: {side}" if mark.strip("…") else side), size, True


def _correction_lines(plan: SheetPlan, room: float) -> tuple[_Line, ...]:
    """Whose correction the sheet carries, whole; a long printer's name gives way to the factors."""
    if plan.corrected is None:
        return ()
    without = width_in(plan.corrected.words("…"), SMALL_PT)
    name = shortened(plan.corrected.printer, SMALL_PT, room - without)
    words = plan.corrected.words(name)
    return ((words[0].upper() + words[1:], SMALL_PT, False),)


def _lacking_lines(face: FacePlan, without_figures: Sequence[str], room: float) -> tuple[_Line, ...]:
    """Where the figures are that found no room at their holes."""
    if not without_figures:
        return ()
    holes = hole_list(without_figures, face.layout.holes)
    choices = (
        (f"Figures of {holes}: in the table of holes, cover page.", SMALL_PT),
        ("Figures missing at a hole: in the table of holes, cover page.", SMALL_PT),
        ("No figures at a hole: see the table of holes.", SMALL_PT),
    )
    return (_fitting(choices, room, bold=True),)


def _sheet_line(face: FacePlan, sheet: Sheet, draft: bool, room: float) -> _Line:
    stamp = "DRAFT. " if draft else ""
    number = f"{stamp}Sheet {sheet.number} of {len(face.sheets)}"
    print_of = face.fingerprint
    choices = (
        (f"{number}   fingerprint {print_of}", TEXT_PT),
        (f"{number}   fingerprint {print_of}", SMALL_PT),
        (f"{number}   {print_of}", SMALL_PT),
    )
    return _fitting(choices, room, bold=True)


def _fitting(choices: Sequence[tuple[str, float]], room: float, bold: bool) -> _Line:
    """The first of the choices that fits the room, or the last one cut short."""
    for text, size in choices:
        if width_in(text, size, bold) <= room:
            return text, size, bold
    return shortened(text, size, room, bold), size, bold


def _job_words(job: Job) -> str:
    parts = [f"rev {job.revision}" if job.revision else "no revision", job.date, job.title]
    return ", ".join(filter(None, parts))
