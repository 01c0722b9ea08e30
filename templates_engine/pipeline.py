"""Runs the stages in order for one job: read, fit, solve, check, plan, draw, write; knows them all and
computes nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from templates_engine.checks import check
from templates_engine.checks.model import Finding, Outcome
from templates_engine.drawing.shapes import Document, Picture
from templates_engine.errors import JobProblems, Problem
from templates_engine.job import read_job
from templates_engine.job.model import Job
from templates_engine.layout import solve
from templates_engine.layout.model import Layout
from templates_engine.sheets.model import SheetPlan
from templates_engine.wiring import Carried, carried, fit


@dataclass(frozen=True)
class Solved:
    """A job's layout and what the checks say of it."""

    layout: Layout
    findings: tuple[Finding, ...]
    loads: dict[tuple[str, str], Carried]
    """What each raceway carries, by the face's word and the hole's id; only where the job says."""

    @property
    def fails(self) -> tuple[Finding, ...]:
        return tuple(finding for finding in self.findings if finding.outcome is Outcome.FAIL)


@dataclass(frozen=True)
class Written:
    """A template that stands on disk."""

    document: Document
    lacking: tuple[str, ...]
    """Characters the fonts lack; each is printed as the replacement sign."""


def open_job(path: Path, faces: Sequence[str] = ()) -> Job:
    """The job of a file, or only some of its faces by their words.

    Raises JobProblems, also for a face the job does not have.
    """
    job = read_job(path)
    if not faces:
        return job
    known = {face.face.value: face for face in job.faces}
    missing = [word for word in faces if word not in known]
    if missing:
        raise JobProblems(
            Problem(f"the job has no face '{word}'.", f"It has: {', '.join(known)}.", file=job.file)
            for word in missing
        )
    return replace(job, faces=tuple(face for word, face in known.items() if word in faces))


def solve_job(job: Job) -> Solved:
    """The layout, its findings and the raceways' loads. Raises JobProblems (impossible circuits) and
    CannotFit.
    """
    layout = solve(fit(job))
    loads = {
        (face.job.face.value, hole.id): load
        for face in layout.faces
        for hole in face.holes
        if (load := carried(hole.raceway, layout.job)) is not None
    }
    return Solved(layout, check(layout), loads)


def plan_job(solved: Solved) -> SheetPlan:
    """The sheets the layout needs. Raises CannotFit when the paper is too small for anything."""
    from templates_engine.sheets import plan

    return plan(solved.layout)


def draw_job(solved: Solved, *, draft: bool = False) -> Document:
    """The template as a Document."""
    from templates_engine.drawing import draw

    return draw(solved.layout, plan_job(solved), solved.findings, solved.loads, draft=draft)


def write_template(solved: Solved, path: Path, *, draft: bool = False) -> Written:
    """Draws and writes the PDF, read back before it takes its name. Raises CannotFit and CannotWrite."""
    from templates_engine.writers.pdf import write_pdf

    document = draw_job(solved, draft=draft)
    return Written(document, write_pdf(document, path))


def face_pictures(solved: Solved) -> tuple[tuple[str, Picture], ...]:
    """(face word, its true-scale picture as seen from the side it is marked on) for every face."""
    from templates_engine.drawing import face_picture
    from templates_engine.units import Speech

    speech = Speech(solved.layout.job.unit, solved.layout.job.denominator)
    return tuple(
        (face.layout.job.face.value, face_picture(face, speech)[0]) for face in plan_job(solved).faces
    )
