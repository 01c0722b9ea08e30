"""Turns a job's text into what the page shows of it; a pure function, run in a worker with a time limit."""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path
from typing import Any

from templates_engine.checks import check
from templates_engine.checks.model import Finding, Outcome
from templates_engine.errors import CannotFit, JobProblems, Problem, TemplatesError
from templates_engine.job.model import Job
from templates_engine.job.read.job import read_job_text
from templates_engine.job.shop.find import NO_SHOP, shop_beside
from templates_engine.job.text.edit import CannotEdit, content
from templates_engine.layout import solve
from templates_engine.layout.model import FaceLayout, Layout, Note
from templates_engine.page.can_view import can_view
from templates_engine.page.edits import PLACES, apply
from templates_engine.page.face_view import face_view
from templates_engine.page.form import Form
from templates_engine.values import Struct, field
from templates_engine.wiring import fit_sizes

NAMELESS = "this job"
"""What messages call a text that is in no file."""


class PageRequest(Struct, frozen=True):
    """What the browser sends: the text, a change of it where there is one, and what is looked at."""

    text: str
    change: dict[str, Any] | None = None
    face: str = ""
    name: str = ""
    folder: str = ""
    """The folder whose shop file counts, as the server knows it; never a word of the browser's."""


class PageAnswer(Struct, frozen=True):
    """What the browser gets: the text after the change, and fragments of the page by the id they go to."""

    text: str
    is_drawn: bool
    fragments: dict[str, str] = field(default_factory=dict)
    refused: str = ""
    """Why the change was not made."""
    face: str = ""
    lines: dict[int, str] = field(default_factory=dict)
    """What is wrong on a line of the text."""


def answer(asked: PageRequest) -> PageAnswer:
    """The page's fragments for a text, after its change."""
    text, refused = asked.text, ""
    if asked.change:
        try:
            text = apply(text, asked.change)
        except CannotEdit as error:
            refused = str(error)
    problems: tuple[Problem, ...] = ()
    job: Job | None = None
    layout: Layout | None = None
    try:
        job = read(asked, text)
        layout = solve(fit_sizes(job))
        findings = check(layout)
    except (JobProblems, CannotFit) as error:
        problems, findings = error.problems, ()
    fragments = _form(text, problems, asked.face)
    fragments["problems"] = render("problems.html", problems=problems)
    lines = {one.line: f"{one.message} {one.remedy}" for one in reversed(problems) if one.line is not None}
    if layout is None:
        return PageAnswer(text, False, fragments, refused, asked.face, lines)
    face = _face_of(layout, asked.face)
    fragments |= _drawn(layout, face, findings)
    return PageAnswer(text, True, fragments, refused, face.job.face.value, lines)


def read(asked: PageRequest, text: str | None = None) -> Job:
    """The job of a text, by default the one that was sent, with the folder's shop file.

    Raises JobProblems.
    """
    shop = shop_beside(Path(asked.folder) / (asked.name or "job.yaml")) if asked.folder else NO_SHOP
    if shop.problems:
        raise JobProblems(shop.problems)
    return read_job_text(asked.text if text is None else text, asked.name or NAMELESS, shop)


def _face_of(layout: Layout, word: str) -> FaceLayout:
    return next((face for face in layout.faces if face.job.face.value == word), layout.faces[0])


def _form(text: str, problems: tuple[Problem, ...], face: str) -> dict[str, str]:
    """The form, where the text can be taken apart; else the old one stays."""
    try:
        form = Form(content(text), problems)
    except CannotEdit:
        return {}
    words = [str(one.get("face", "")) if isinstance(one, dict) else "" for one in form.entries(("faces",))]
    at = words.index(face) if face in words else 0
    return {"form": render("form.html", form=form, at=at, words=words, places=tuple(PLACES))}


def _drawn(layout: Layout, face: FaceLayout, findings: tuple[Finding, ...]) -> dict[str, str]:
    fails = [one for one in findings if one.outcome is Outcome.FAIL]
    notes = _notes(layout, face)
    grave = [one for one in findings if one.outcome is not Outcome.OK]
    return {
        "drawing": render("face.svg", view=face_view(layout, face)),
        "can": render("can.svg", view=can_view(layout, face), face=face.job),
        "faces": render("faces.html", faces=layout.faces, shown=face, fails=fails, notes=notes),
        "holes": render("holes.html", view=face_view(layout, face), face=face.job),
        "findings": render("findings.html", findings=grave, face=face.job.face.value),
    }


def _notes(layout: Layout, face: FaceLayout) -> tuple[Note, ...]:
    """What moved holes of the face though the job does not ask for it in so many words."""
    return tuple(one for one in layout.notes if one.face in ("", face.job.face.value))


def remedies(asked: PageRequest) -> dict[str, Any]:
    """The remedies of all findings, each solved before it is offered, with the text it would make."""
    from templates_engine.page.remedies import offered

    try:
        job = read(asked)
        layout = solve(fit_sizes(job))
    except TemplatesError:
        return {"fragments": {}, "texts": []}
    offers = offered(asked.text, job, layout, check(layout), asked)
    html = render("remedies.html", offers=offers)
    return {"fragments": {"remedies": html}, "texts": [one.text for one in offers]}


def template_pdf(asked: PageRequest, draft: bool) -> dict[str, Any]:
    """The template's PDF files by name, or the problems that stand in the way."""
    from templates_engine import pipeline

    try:
        solved = pipeline.solve_job(read(asked))
        if solved.fails and not draft:
            words = " ".join(one.message for one in solved.fails)
            return {"problems": [f"The layout fails a check, so no template was drawn. {words}"]}
        printer = pipeline.printer_for(solved.layout.job)
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / f"{Path(asked.name or 'template.yaml').stem}.pdf"
            written = pipeline.write_template(solved, path, printer=printer, draft=bool(solved.fails))
            return {
                "files": [(one.path.name, one.path.read_bytes(), len(one.document.pages)) for one in written]
            }
    except TemplatesError as error:
        return {"problems": [str(one) for one in error.problems]}


# --- fragments ----------------------------------------------------------------------------------------------


@cache
def _templates() -> Any:
    """Jinja's environment; every value is escaped."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    made = Environment(
        loader=FileSystemLoader(Path(__file__).parent / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["n"] = lambda number: f"{number + 0.0:.4f}".rstrip("0").rstrip(".")
    return made


def render(template: str, **values: Any) -> str:
    """A fragment of the page."""
    return str(_templates().get_template(template).render(**values))


def whole_page(**values: Any) -> str:
    """The page itself, before anything is typed."""
    return render("page.html", **values)


def warm() -> None:
    """Loads all that the first answer needs."""
    answer(PageRequest("job: x\nenclosure: {width: 10, height: 10, depth: 6}\nfaces: []\n"))
