"""Draws the template of one order, or finds that it stands unchanged; run in a process of its own."""

from __future__ import annotations

from enum import StrEnum
from os.path import realpath

from templates_engine import pipeline
from templates_engine.atomic import make_folder
from templates_engine.checks.model import Finding
from templates_engine.errors import TemplatesError
from templates_engine.layout.model import Note
from templates_engine.office.building import name_from
from templates_engine.office.draw.drawn_before import DrawnBefore, TemplateFile, code_of, drawn_from
from templates_engine.office.draw.orders import DrawOrder
from templates_engine.office.register.recording import recording
from templates_engine.pipeline import Solved, WrittenFile
from templates_engine.sheets.model import SheetPlan
from templates_engine.trade.papers import paper_of_size
from templates_engine.values import Struct, replace


class State(StrEnum):
    """What became of a job."""

    DRAWN = "drawn"
    UNCHANGED = "unchanged"
    FAILED = "failed"


class DrawnFace(Struct, frozen=True):
    """A face as its sheets name it."""

    face: str
    fingerprint: str
    sheets: int


class DrawnJob(Struct, frozen=True):
    """What became of one order, and what is to be told of it."""

    order: DrawOrder
    state: State
    mark: str = ""
    title: str = ""
    revision: str = ""
    faces: tuple[DrawnFace, ...] = ()
    findings: tuple[Finding, ...] = ()
    notes: tuple[Note, ...] = ()
    files: tuple[TemplateFile, ...] = ()
    """Cover pages apart first; none where nothing stands that this job gives today. A job that failed has
    some where what was drawn could not be recorded.
    """
    drawn_from: str = ""
    lacking: tuple[str, ...] = ()
    """Characters the fonts lack."""
    other_paper: str = ""
    error: TemplatesError | None = None
    """Why nothing was drawn; None too where a check failed, which the findings say."""

    @property
    def is_draft(self) -> bool:
        return self.state is not State.FAILED and any(one.outcome.value == "fail" for one in self.findings)

    @property
    def is_older_there(self) -> bool:
        """Whether a template of another day stands where none could be drawn."""
        return self.state is State.FAILED and not self.files and self.order.pdf.exists()

    @property
    def remembered(self) -> DrawnBefore:
        return DrawnBefore(self.drawn_from, self.files, name_from(self.order.into, self.order.job))


def draw_one(order: DrawOrder) -> DrawnJob:
    """Draws the order's template unless it stands. Raises JobProblems, CannotFit and CannotWrite."""
    how = order.how
    solved = pipeline.solve_job(pipeline.open_job(order.job))
    if solved.fails and not how.draft:
        return _told(order, solved, State.FAILED)
    record = recording(order.job, solved, same_revision=how.same_revision)
    plan = pipeline.plan_job(solved, pipeline.printer_for(solved.layout.job, how.printer))
    job = _as_it_stands(order, solved, plan)
    try:
        if record is not None:  # of what stands unchanged too: the run that drew it may have been killed
            record.record(plan, order.pdf)
    except TemplatesError as error:
        return replace(job, state=State.FAILED, error=error)
    return job


def _as_it_stands(order: DrawOrder, solved: Solved, plan: SheetPlan) -> DrawnJob:
    made_from = drawn_from(solved, plan, bool(solved.fails), order.program)
    if _stands(order, made_from):
        assert order.before is not None
        return _told(order, solved, State.UNCHANGED, plan, order.before)
    return _drawn(order, solved, plan, made_from)


def _stands(order: DrawOrder, made_from: str) -> bool:
    before = order.before
    is_same = not order.how.again and before is not None and before.drawn_from == made_from
    return is_same and before is not None and before.stands(order.into)


def _drawn(order: DrawOrder, solved: Solved, plan: SheetPlan, made_from: str) -> DrawnJob:
    ours = {realpath(file) for file in order.files}
    overwrite = [path for path in order.how.overwrite if realpath(path) in ours]
    make_folder(order.pdf.parent)
    written = pipeline.write_planned(solved, plan, order.pdf, draft=bool(solved.fails), overwrite=overwrite)
    files = tuple(_file(order, plan, one) for one in written)
    lacking = tuple(sorted({sign for one in written for sign in one.lacking}))
    told = _told(order, solved, State.DRAWN, plan, DrawnBefore(made_from, files))
    return replace(told, lacking=lacking)


def _file(order: DrawOrder, plan: SheetPlan, written: WrittenFile) -> TemplateFile:
    document = written.document
    size = document.page_width_in, document.page_height_in
    is_cover_apart = written.path != order.pdf
    return TemplateFile(
        written.path.relative_to(order.into).as_posix(),
        len(document.pages),
        code_of(written.path),
        paper_of_size(*size) if is_cover_apart else plan.paper_name,
        *size,
    )


def _told(
    order: DrawOrder,
    solved: Solved,
    state: State,
    plan: SheetPlan | None = None,
    made: DrawnBefore | None = None,
) -> DrawnJob:
    job = solved.layout.job
    faces = plan.faces if plan else ()
    return DrawnJob(
        order,
        state,
        job.enclosure.mark,
        job.title,
        job.revision,
        tuple(DrawnFace(one.layout.job.face.value, one.fingerprint, len(one.sheets)) for one in faces),
        solved.findings,
        solved.layout.notes,
        made.files if made else (),
        made.drawn_from if made else "",
        other_paper=plan.other_paper_words if plan else "",
    )
