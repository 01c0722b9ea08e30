"""Runs the stages in order for one job: read, fit, solve, check, plan, draw, write; knows them all and
computes nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from templates_engine.advice import RowFit, advise, fit_rows
from templates_engine.checks import check
from templates_engine.checks.model import Finding, Outcome
from templates_engine.drawing.shapes import Document, Picture
from templates_engine.errors import CannotFit, JobProblems, Problem
from templates_engine.job import read_job
from templates_engine.job.model import Job, MarkFrom
from templates_engine.layout import solve
from templates_engine.layout.model import Layout
from templates_engine.sheets.model import SheetPlan
from templates_engine.values import Struct, replace
from templates_engine.wiring import RacewayContents, contents_of_job, fit_sizes

if TYPE_CHECKING:
    from templates_engine.sheets.model import FacePlan
    from templates_engine.verify.diagnosis import Diagnosis
    from templates_engine.verify.printers import Printer
    from templates_engine.verify.readings import Reading


class Solved(Struct, frozen=True):
    """A job's layout and what the checks say of it."""

    layout: Layout
    findings: tuple[Finding, ...]
    contents: dict[tuple[str, str], RacewayContents]
    """What each raceway carries, by the face's word and the hole's id; only where the job says."""

    @property
    def fails(self) -> tuple[Finding, ...]:
        return tuple(finding for finding in self.findings if finding.outcome is Outcome.FAIL)


class WrittenFile(Struct, frozen=True):
    """A template, or its cover pages, that stands on disk."""

    path: Path
    document: Document
    lacking: tuple[str, ...]
    """Characters the fonts lack; each is printed as the replacement sign."""
    cost: str
    """How many sheets of what paper, and what would take fewer."""
    other_paper: str
    """What to mind where the printer was measured on another paper; "" elsewhere."""


def open_job(path: Path, faces: Sequence[str] = ()) -> Job:
    """The job of a file, or only some of its faces by their words.

    Raises JobProblems, also for a face the job does not have.
    """
    return _with_faces(read_job(path), faces)


def _with_faces(job: Job, faces: Sequence[str]) -> Job:
    if not faces:
        return job
    known = {face.face.value: face for face in job.faces}
    asked = {word.strip().lower(): word for word in faces}
    missing = [word for plain, word in asked.items() if plain not in known]
    if missing:
        raise JobProblems(
            Problem(f"the job has no face '{word}'.", f"It has: {', '.join(known)}.", file=job.file)
            for word in missing
        )
    return replace(job, faces=tuple(face for word, face in known.items() if word in asked))


def the_only_face(job: Job) -> Job:
    """The job itself when it has one face. Raises JobProblems for more: ids are those of one face."""
    if len(job.faces) == 1:
        return job
    words = ", ".join(face.face.value for face in job.faces)
    remedy = f"Add --face with one of them: {words}."
    raise JobProblems([Problem(f"the job has {len(job.faces)} faces.", remedy, file=job.file)])


def printer_for(job: Job, name: str | None = None) -> Printer | None:
    """The measured printer of that name, or the one the job names, or none; the name "none" is none outright.

    Raises PrinterError for a printer that is not kept on this machine.
    """
    from templates_engine.verify.printer_store import find_printer
    from templates_engine.verify.printers import NO_PRINTER, PrinterError

    wanted = name or job.printing.printer
    if not wanted or wanted.strip().lower() == NO_PRINTER:
        return None
    try:
        return find_printer(wanted)
    except PrinterError as error:
        if name:
            raise
        without = f" Or draw without any correction: --printer {NO_PRINTER}."
        raise PrinterError(
            one if one.file else replace(one, file=job.file, key="print.printer", remedy=one.remedy + without)
            for one in error.problems
        ) from error


def solve_job(job: Job) -> Solved:
    """The layout, its findings and what the raceways carry. Raises JobProblems (impossible circuits) and
    CannotFit.
    """
    layout = solve(fit_sizes(job))
    contents = contents_of_job(layout.job)
    return Solved(layout, advise(layout, check(layout, contents)), contents)


def rows_fitted(path: Path, faces: Sequence[str] = ()) -> tuple[Job, tuple[RowFit, ...]]:
    """The job of a file and what its rows could stand on, or only the rows of some faces.

    The layout need not fit. Raises JobProblems.
    """
    job = read_job(path)
    asked = {face.face.value for face in _with_faces(job, faces).faces}
    job = fit_sizes(job)
    return job, tuple(row for row in fit_rows(job) if row.face in asked)


def plan_job(solved: Solved, printer: Printer | None = None) -> SheetPlan:
    """The sheets the layout needs, for a measured printer if one is given.

    Raises CannotFit when the paper is too small for anything.
    """
    from templates_engine.sheets import plan

    if printer is None:
        return plan(solved.layout)
    from templates_engine.sheets.model import PrinterCorrection
    from templates_engine.verify.printers import as_it_prints

    job = solved.layout.job
    job = replace(job, printing=as_it_prints(job.printing, printer))
    return plan(
        replace(solved.layout, job=job), PrinterCorrection(printer.name, printer.correction, printer.paper)
    )


def draw_job(solved: Solved, *, printer: Printer | None = None, draft: bool = False) -> Document:
    """The template's sheets as a Document, for a measured printer if one is given; led by its cover pages
    where both are on the same paper.
    """
    return _drawn(solved, plan_job(solved, printer), draft)


def _drawn(solved: Solved, plan: SheetPlan, draft: bool) -> Document:
    from templates_engine.drawing import draw

    document = draw(solved.layout, plan, solved.findings, solved.contents, draft=draft)
    if plan.corrected is None:
        return document
    from templates_engine.drawing.corrected import corrected

    return corrected(document, *plan.factors)


def write_template(
    solved: Solved,
    path: Path,
    *,
    printer: Printer | None = None,
    draft: bool = False,
    overwrite: Sequence[Path] = (),
) -> tuple[WrittenFile, ...]:
    """Draws and writes the PDF, read back before it takes its name; for sheets on a roll, before it another
    with the cover pages, "-cover" after its name, both or neither. ``overwrite`` names files that may be
    written over though this program did not make them. Raises CannotFit and CannotWrite.
    """
    return write_planned(solved, plan_job(solved, printer), path, draft=draft, overwrite=overwrite)


def write_planned(
    solved: Solved, plan: SheetPlan, path: Path, *, draft: bool = False, overwrite: Sequence[Path] = ()
) -> tuple[WrittenFile, ...]:
    """The same for sheets that are planned already."""
    from templates_engine.drawing import draw_cover
    from templates_engine.outputs import beside
    from templates_engine.writers.pdf import write_pdfs

    document = _drawn(solved, plan, draft)
    cover = draw_cover(solved.layout, plan, solved.findings, solved.contents, draft=draft)
    files = [(path, document)]
    if cover is not None:
        files.insert(0, (beside(path, "cover"), cover))
    lacking = write_pdfs(files, overwrite)
    told = plan.cost, plan.other_paper_words
    return tuple(WrittenFile(*file, signs, *told) for file, signs in zip(files, lacking, strict=True))


def write_report(solved: Solved, path: Path, overwrite: Sequence[Path] = ()) -> Document:
    """Writes the report for the inspector, on the paper of the cover pages. Raises CannotFit, CannotWrite."""
    from templates_engine.checks.raceway_report import raceway_reports
    from templates_engine.drawing.cover.inspection import inspection_document
    from templates_engine.writers.pdf import write_pdfs

    reports = raceway_reports(solved.layout, solved.contents)
    page = plan_job(solved).cover_page
    document = inspection_document(solved.layout, reports, solved.findings, page)
    write_pdfs([(path, document)], overwrite)
    return document


def face_pictures(solved: Solved, seen_from: MarkFrom = MarkFrom.OUTSIDE) -> tuple[tuple[str, Picture], ...]:
    """(face word, its true-scale picture in one piece) for every face, whichever side it is marked from.

    A layout that fails a check is stamped as a draft.
    """
    from templates_engine.drawing import whole_picture

    layout = solved.layout
    return tuple(
        (face.job.face.value, whole_picture(layout.job, face, seen_from, bool(solved.fails)))
        for face in layout.faces
    )


def face_dxfs(solved: Solved, seen_from: MarkFrom = MarkFrom.OUTSIDE) -> tuple[tuple[str, bytes], ...]:
    """(face word, its DXF) for every face; a layout that fails a check says in its note that it is a draft.

    Raises CannotWrite when the library of the DXF extra is not installed.
    """
    from templates_engine.writers.dxf import dxf_bytes

    job = solved.layout.job
    draft = "DRAFT, DO NOT CUT: a check failed" if solved.fails else ""
    revision = f"revision {job.revision}" if job.revision else "no revision"
    title = ", ".join(part for part in (draft, job.enclosure.mark, job.title, revision) if part)
    return tuple((face.job.face.value, dxf_bytes(face, seen_from, title)) for face in solved.layout.faces)


# --- proof on site ------------------------------------------------------------------------------------------


class MeasuredSheets(Struct, frozen=True):
    """What a rule read on the taped sheets of one face, and what that says of them."""

    job: Job
    plan: SheetPlan
    face: FacePlan
    printer: Printer | None
    readings: tuple[Reading, ...]
    diagnosis: Diagnosis
    metal_read: bool
    """Whether the metal's thickness is from the readings, as the job does not give it."""
    differs_alone: bool
    """Whether the face drawn by itself comes on other sheets, or with other bars than were read."""


def diagnose_sheets(
    path: Path,
    texts: Sequence[str],
    *,
    face: str | None = None,
    printer: str | None = None,
    alone: bool = False,
) -> MeasuredSheets:
    """What the readings say of the sheets of ``draw JOB``, or of ``draw JOB --face FACE`` when ``alone``.

    Raises JobProblems, PrinterError, CannotFit, and ReadingError for what cannot be a reading.
    """
    named = open_job(path, [face] if face else ())
    job = the_only_face(named) if alone else open_job(path)
    return diagnose_job(job, texts, face=face, printer=printer)


def diagnose_job(
    job: Job, texts: Sequence[str], *, face: str | None = None, printer: str | None = None
) -> MeasuredSheets:
    """What the readings say of the sheets of a job. Raises as ``diagnose_sheets`` does."""
    from templates_engine.units import LengthFormat
    from templates_engine.verify.diagnosis import diagnose
    from templates_engine.verify.metal_thickness import with_metal_read
    from templates_engine.verify.readings import face_measured, readings_of

    known = printer_for(job, printer)
    plan = plan_job(solve_job(job), known)
    asked = [one for one in plan.faces if face in (None, one.layout.job.face.value)]
    found = asked[0] if len(asked) == 1 else face_measured(texts, asked, job.unit)
    if found is None:
        the_only_face(job)
        raise AssertionError("only a job of several faces leaves the face open")
    others = [one.layout for one in plan.faces if one is not found]
    readings = readings_of(texts, found, LengthFormat(job.unit, 64), others)
    reads_bars = any(one.distance.bar for one in readings)
    differs = len(job.faces) > 1 and _differs_alone(job, found, known, reads_bars)
    diagnosis = diagnose(found, readings, job.unit)
    whole, readings = with_metal_read(found, readings)
    return MeasuredSheets(job, plan, whole, known, readings, diagnosis, whole is not found, differs)


def _differs_alone(job: Job, face: FacePlan, printer: Printer | None, with_bars: bool) -> bool:
    only = replace(job, faces=tuple(one for one in job.faces if one.face is face.layout.job.face))
    try:
        (alone,) = plan_job(solve_job(only), printer).faces
    except CannotFit:
        return True
    if with_bars and [(one.across, one.upright) for one in alone.bars] != [
        (one.across, one.upright) for one in face.bars
    ]:
        return True
    return [sheet.own for sheet in alone.sheets] != [sheet.own for sheet in face.sheets]
