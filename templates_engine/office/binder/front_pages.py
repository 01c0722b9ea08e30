"""Turns what became of the jobs of a building into the pages before them in a binder: what it is, an index,
and the findings of all.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from templates_engine.checks.model import Finding, Outcome
from templates_engine.drawing.cover.page_flow import PageBlock, bullet, heading, paragraph, space, stack
from templates_engine.drawing.cover.tables import Column, table
from templates_engine.drawing.shapes import Document, DrawnPage, Words
from templates_engine.drawing.style import HEAD_PT, SMALL_PT, TEXT_PT
from templates_engine.drawing.words import set_words, shortened
from templates_engine.geometry import Point, Rect
from templates_engine.office.draw.drawn_before import TemplateFile
from templates_engine.office.draw.one_job import DrawnJob
from templates_engine.values import Struct

_MARGIN_IN, _FOOT_IN, _MOST_WIDTH_IN = 0.5, 0.3, 10.5
_MOST_TITLES = 3
_COLUMNS = (
    Column("enclosure", bold=True, gives_way=True),
    Column("job file", gives_way=True),
    Column("revision"),
    Column("faces and their fingerprints", gives_way=True),
    Column("checks", gives_way=True),
    Column("pages", gives_way=True),
)
_HOW_TO_PRINT = (
    "Print at actual size (100 %), one side only: no fit, no shrink. Measure both bars of every sheet before "
    "cutting any paper. Numbers of pages count every page of the file from the first."
)
_WHO_DECIDES = (
    "Cautions stand on the cover pages of each enclosure. These sheets are a layout aid: check them against "
    "the adopted code, the drawings and the authority having jurisdiction; a licensed electrician decides."
)


class BoundFile(Struct, frozen=True):
    """A file of a template and whose it is."""

    job: DrawnJob
    file: TemplateFile


class BinderContents(Struct, frozen=True):
    """All binders of a building: who stands in which, and who in none."""

    jobs: tuple[DrawnJob, ...]
    left_out: tuple[DrawnJob, ...]
    """Jobs that could not be drawn."""
    groups: Mapping[str, Sequence[BoundFile]]
    """What stands in each binder, by its paper."""
    names: Mapping[str, Path]
    """The binders, by their paper."""
    first: Mapping[str, int]
    """The page of its binder that each file begins on, by the file's name."""


def binder_title(jobs: Sequence[DrawnJob]) -> str:
    """What the building is called: the titles of its jobs."""
    titles = list(dict.fromkeys(one.title for one in jobs if one.title))
    more = len(titles) - _MOST_TITLES
    named = "; ".join(titles[:_MOST_TITLES]) + (f" and {more} more" if more > 0 else "")
    return f"{named}: marking templates" if named else "Marking templates"


def front_pages(contents: BinderContents, paper: str) -> Document:
    """The pages before the templates of one binder, on its paper."""
    first = contents.groups[paper][0].file
    width_in, height_in = sorted((first.width_in, first.height_in))
    area = Rect(
        _MARGIN_IN,
        _MARGIN_IN + _FOOT_IN,
        min(width_in - _MARGIN_IN, _MARGIN_IN + _MOST_WIDTH_IN),
        height_in - _MARGIN_IN,
    )
    parts = (
        ("contents", [*_head(contents, paper, area.width), *_index(contents, paper, area.width)]),
        ("findings", list(_findings(contents.jobs, area.width))),
    )
    pages = [
        (name if number == 1 else "", shapes)
        for name, blocks in parts
        for number, shapes in enumerate(stack(blocks, area), 1)
    ]
    title = binder_title(contents.jobs)
    drawn = tuple(
        DrawnPage((*shapes, _foot(f"page {number}: {title}", area.width)), (), bookmark)
        for number, (bookmark, shapes) in enumerate(pages, 1)
    )
    return Document(title, "contents and findings", width_in, height_in, (), drawn)


def _foot(text: str, width: float) -> Words:
    return Words(Point(_MARGIN_IN, _MARGIN_IN), set_words(shortened(text, SMALL_PT, width)), SMALL_PT)


def _head(contents: BinderContents, paper: str, width: float) -> Iterator[PageBlock]:
    yield from paragraph(binder_title(contents.jobs), width, HEAD_PT, bold=True)
    here = {one.job.order.name for one in contents.groups[paper]}
    enclosures = f"{len(here)} enclosure{'' if len(here) == 1 else 's'}"
    yield from paragraph(f"{enclosures}, on {paper}.", width, TEXT_PT)
    for other, name in contents.names.items():
        if other != paper:
            yield from paragraph(f"What is on {other} stands in {name.name}.", width, TEXT_PT)
    yield from paragraph(_HOW_TO_PRINT, width, TEXT_PT, bold=True)
    yield from paragraph(_WHO_DECIDES, width, TEXT_PT)
    yield space(0.12)
    if contents.left_out:
        yield heading("Not in any binder, for no template could be drawn")
        for job in contents.left_out:
            yield from bullet(_why(job), width, bold=True)
        yield space(0.12)


def _why(job: DrawnJob) -> str:
    """The reason in the words of the first problem, or of the first check that fails."""
    if job.error is not None:
        return f"{job.order.job}: {job.error.problems[0].message}"
    fails = [one for one in job.findings if one.outcome is Outcome.FAIL]
    return f"{job.mark}, {job.order.job}: a check failed. {fails[0].message if fails else ''}"


# --- index --------------------------------------------------------------------------------------------------


def _index(contents: BinderContents, paper: str, width: float) -> Iterator[PageBlock]:
    yield heading("Enclosures")
    yield from table(_COLUMNS, [_row(contents, paper, job) for job in contents.jobs], width)


def _row(contents: BinderContents, paper: str, job: DrawnJob) -> tuple[str, ...]:
    return (
        job.mark,
        str(Path(job.order.name).with_suffix(job.order.job.suffix)),
        job.revision or "none",
        "; ".join(f"{face.face} {face.fingerprint}" for face in job.faces),
        _checks(job.findings),
        "; ".join(_pages(contents, paper, file) for file in job.files),
    )


def _pages(contents: BinderContents, paper: str, file: TemplateFile) -> str:
    first = contents.first[file.name]
    last = first + file.pages - 1
    pages = f"{first}" if first == last else f"{first} to {last}"
    return pages if file.paper == paper else f"{pages} of {contents.names[file.paper].name}"


def _checks(findings: Sequence[Finding]) -> str:
    fails = sum(one.outcome is Outcome.FAIL for one in findings)
    cautions = sum(one.outcome is Outcome.CAUTION for one in findings)
    if fails:
        return f"DRAFT, {fails} failed: do not cut"
    return f"{cautions} caution{'' if cautions == 1 else 's'}" if cautions else "pass"


# --- findings -----------------------------------------------------------------------------------------------


def _findings(jobs: Sequence[DrawnJob], width: float) -> Iterator[PageBlock]:
    """Those of all enclosures, the gravest first; what was not checked once for all that lack the same."""
    yield heading("Findings of all enclosures")
    for outcome in (Outcome.FAIL, Outcome.CAUTION):
        for item, places in _alike(jobs, outcome):
            words = _words(item, places)
            yield from bullet(words, width, bold=outcome is Outcome.FAIL)
    for (message, checks), marks in _not_checked(jobs).items():
        words = f"NOT CHECKED, {', '.join(checks)}, {', '.join(marks)}: {message}."
        yield from bullet(words, width)
    passed = sum(item.outcome is Outcome.OK for job in jobs for item in job.findings)
    yield from paragraph(f"Passed: {passed} checks.", width)


def _alike(jobs: Sequence[DrawnJob], outcome: Outcome) -> Iterator[tuple[Finding, list[str]]]:
    """Every finding once, with the enclosures, faces and holes of which it says the same."""
    found: dict[tuple[str, ...], tuple[Finding, list[str]]] = {}
    for job in jobs:
        for item in job.findings:
            if item.outcome is outcome:
                said = item.check, item.message, item.remedy, item.source
                where = " ".join(part for part in (job.mark, item.face, ", ".join(item.holes)) if part)
                found.setdefault(said, (item, []))[1].append(where)
    yield from found.values()


def _words(item: Finding, places: Sequence[str]) -> str:
    said = " ".join(part for part in (item.message, item.remedy) if part)
    return f"{item.outcome.value.upper()}, {item.check}, {'; '.join(places)}: {said} [{item.source}]"


def _not_checked(jobs: Sequence[DrawnJob]) -> dict[tuple[str, tuple[str, ...]], list[str]]:
    """The faces that lack the same for the same checks, by what they lack and those checks."""
    faces: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for job in jobs:
        lacking: dict[tuple[str, str], list[str]] = {}
        for item in job.findings:
            if item.outcome is Outcome.NOT_CHECKED:
                lacking.setdefault((item.face, _lacking(item)), []).append(item.check)
        for (face, message), checks in lacking.items():
            faces.setdefault((message, tuple(dict.fromkeys(checks))), []).append(f"{job.mark} {face}".strip())
    return faces


def _lacking(item: Finding) -> str:
    """What is said of it, without the holes that lack a key of the job: the cover pages name them."""
    asks, found, _ = item.message.partition("' for ")
    is_asked = found and item.message.startswith("The job does not give")
    return f"{asks}'" if is_asked else item.message.rstrip(".")
