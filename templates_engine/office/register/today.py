"""Compares what was drawn with what the jobs of a folder give today."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from templates_engine import pipeline
from templates_engine.errors import Problem, TemplatesError
from templates_engine.job.model import Job
from templates_engine.office.building import FoundJobs, name_from
from templates_engine.office.draw.over_cores import cores, each_done
from templates_engine.office.register.faces import RecordedFace, faces_of_layout
from templates_engine.office.register.find_register import jobs_of
from templates_engine.office.register.store import DRAWN, EntryFace, Register
from templates_engine.values import Struct


class JobToday(Struct, frozen=True):
    """A job as it is now, without its raceways."""

    job: Job
    faces: tuple[RecordedFace, ...]


class FaceState(Struct, frozen=True):
    """How the sheets of a face stand to its job; ``words`` says what is wrong, "" where they are current."""

    job: str
    mark: str
    face: str
    revision: str
    words: str


def job_today(file: Path) -> JobToday:
    """What a job gives now. Raises JobProblems and CannotFit."""
    solved = pipeline.solve_job(pipeline.open_job(file))
    return JobToday(solved.layout.job, faces_of_layout(solved.layout))


def jobs_today(
    found: FoundJobs, count: int | None = None
) -> Iterator[tuple[Path, JobToday | TemplatesError]]:
    """Every job of a folder, over the cores."""
    with closing(each_done(job_today, found.files, count or cores())) as results:
        yield from results


def compare(
    register: Register, count: int | None = None
) -> tuple[tuple[FaceState, ...], tuple[Problem, ...]]:
    """How all faces stand, job after job, and what is wrong with the folder. Raises JobProblems."""
    last = _last_to_cut(register)
    found = jobs_of(register.file)
    states: list[FaceState] = []
    seen: set[str] = set()
    for file, told in jobs_today(found, count):
        job = name_from(register.folder, file)
        seen.add(job)
        drawn = last.get(job, {})
        if isinstance(told, TemplatesError):
            why = told.problems[0].message.rstrip(".")
            states.append(FaceState(job, _mark(drawn), "", "", f"cannot be used: {why}"))
        else:
            states += _of_job(job, told, drawn)
    states += [
        FaceState(job, one.entry.mark, one.face.face, one.entry.revision, "drawn, and the job is gone")
        for job, faces in last.items()
        if job not in seen
        for one in faces.values()
    ]
    return tuple(states), found.problems


def _of_job(job: str, told: JobToday, drawn: dict[str, EntryFace]) -> Iterator[FaceState]:
    mark, revision = told.job.enclosure.mark, told.job.revision
    for face in told.faces:
        yield FaceState(job, mark, face.face, revision, _words(face, revision, drawn.get(face.face)))
    for word in drawn.keys() - {face.face for face in told.faces}:
        yield FaceState(job, mark, word, revision, "drawn, and no longer in the job")


def _words(face: RecordedFace, revision: str, drawn: EntryFace | None) -> str:
    if drawn is None:
        return "not drawn"
    if drawn.face.fingerprint != face.fingerprint:
        return f"changed since it was drawn as {drawn.face.code}"
    if drawn.entry.revision != revision:
        return f"drawn as revision {drawn.entry.revision or 'none'}"
    return "" if drawn.entry.how == DRAWN else "not known to be drawn since the register was rebuilt"


def _last_to_cut(register: Register) -> dict[str, dict[str, EntryFace]]:
    """By job and face, drafts left out."""
    last: dict[str, dict[str, EntryFace]] = {}
    for one in register.last_of_all(drafts=False):
        last.setdefault(one.entry.job, {})[one.face.face] = one
    return last


def _mark(drawn: dict[str, EntryFace]) -> str:
    return next((one.entry.mark for one in drawn.values()), "")
