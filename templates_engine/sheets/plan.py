"""Turns a Layout into a SheetPlan: one paper, one way round, for all its faces; its looks are for drawing."""

from __future__ import annotations

from templates_engine.errors import CannotFit, Problem
from templates_engine.job.model import MarginsIn
from templates_engine.layout.model import Layout
from templates_engine.sheets.best_page import best_arrangement
from templates_engine.sheets.face_plan import face_plan
from templates_engine.sheets.model import PageFormat, PrinterCorrection, SheetPlan
from templates_engine.sheets.page_choices import MOST_SHEETS, PageChoices
from templates_engine.sheets.paper_notes import reasons
from templates_engine.sheets.paper_pages import LEAST_STEP_IN, LEAST_TITLE_WIDTH_IN, PaperPage
from templates_engine.sheets.scale_bars import with_bars
from templates_engine.trade.papers import read_paper

OFFICE_MARGIN_IN = 0.4
"""Round cover pages that go on office paper, whatever the job's own printer leaves."""


def plan(layout: Layout, corrected: PrinterCorrection | None = None) -> SheetPlan:
    """The sheets of every face, on the listed paper and the way round that need the fewest.

    Some sheets more than the fewest may be spent so that joints cross fewer holes. ``corrected`` is what the
    sheets will be printed with.

    Raises CannotFit when no listed paper can carry a view, or when the sheets would be too many to be meant.
    """
    choice = PageChoices(layout)
    if not choice.usable:
        raise CannotFit([_too_small(layout, page) for page in choice.listed])
    if not choice.sensible:
        raise CannotFit([_too_many(choice)])
    best = best_arrangement(choice)
    page = best.page
    faces = tuple(face_plan(grid, page.view, layout.job, corrected) for grid in best.grids)
    faces = tuple(with_bars(face, page) for face in faces)
    return SheetPlan(
        page.paper.name,
        page.orientation,
        page.width_in,
        page.height_in,
        page.margins,
        layout.job.printing.overlap_in,
        page.view,
        faces,
        reasons(choice, best, faces),
        page.bar_strip_in,
        corrected,
        _office_page(layout) if page.paper.long_in is None else None,
    )


def _office_page(layout: Layout) -> PageFormat:
    """Letter, or A4 for a metric job, with the margins that any office printer keeps."""
    paper = read_paper("A4" if layout.job.unit == "mm" else "letter")
    assert paper.long_in is not None
    margin = OFFICE_MARGIN_IN
    return PageFormat(paper.short_in, paper.long_in, MarginsIn(margin, margin, margin, margin))


def _too_small(layout: Layout, page: PaperPage) -> Problem:
    job = layout.job
    lengths = job.lengths

    def said(inches: float) -> str:
        return f"{lengths.exact(inches)} {job.unit}"

    name, view = f"{page.paper.name}, {page.orientation},", page.view
    if page.title_width_in < LEAST_TITLE_WIDTH_IN:
        message = (
            f"{name} leaves {said(max(page.title_width_in, 0.0))} between its side margins; "
            f"the title strip needs {said(LEAST_TITLE_WIDTH_IN)}."
        )
    else:
        message = (
            f"{name} leaves a view of {said(max(view.width, 0.0))} x {said(max(view.height, 0.0))} "
            f"inside its margins and strips; with an overlap of {said(job.printing.overlap_in)} "
            f"it needs at least {said(job.printing.overlap_in + LEAST_STEP_IN)} each way."
        )
    return Problem(message, "Give larger paper, smaller margins or less overlap.", job.file, None, "print")


def _too_many(choice: PageChoices) -> Problem:
    page = min(choice.usable, key=choice.whole_count)
    count = choice.whole_count(page)
    return Problem(
        f"The faces need {count} sheets of {page.paper.name}; more than {MOST_SHEETS} are not a template.",
        "Check the enclosure's width, height and depth, or give larger paper or a roll.",
        choice.layout.job.file,
        None,
        "print",
    )
