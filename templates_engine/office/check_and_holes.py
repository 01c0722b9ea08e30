"""Turns one job file into what `check` and `holes` tell of it; run in a process of its own for many."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from templates_engine import pipeline
from templates_engine.checks.model import Finding
from templates_engine.errors import TemplatesError
from templates_engine.layout.model import Note
from templates_engine.pipeline import Solved
from templates_engine.values import Struct


class CheckedJob(Struct, frozen=True):
    """What the checks say of a job."""

    file: Path
    holes: int
    notes: tuple[Note, ...]
    findings: tuple[Finding, ...]
    paper: str
    """What the sheets cost, or why there is no paper for them."""

    @property
    def fails(self) -> tuple[Finding, ...]:
        return tuple(one for one in self.findings if one.outcome.value == "fail")


class HolesToTell(Struct, frozen=True):
    """The holes of a job as text."""

    file: Path
    text: str
    notes: tuple[Note, ...]
    fails: tuple[Finding, ...]


HolesFormat = Literal["table", "csv", "json"]


def check_file(file: Path, faces: Sequence[str] = ()) -> CheckedJob:
    """What is told of a job, of all its faces or some. Raises JobProblems and CannotFit."""
    solved = pipeline.solve_job(pipeline.open_job(file, faces))
    holes = sum(len(one.holes) for one in solved.layout.faces)
    return CheckedJob(file, holes, solved.layout.notes, solved.findings, _paper(solved))


def _paper(solved: Solved) -> str:
    """A check says so where there is no paper, and passes or not."""
    try:
        return pipeline.plan_job(solved, pipeline.printer_for(solved.layout.job)).cost
    except TemplatesError as error:
        return " ".join(f"{problem.message} {problem.remedy}" for problem in error.problems)


def holes_of_file(order: tuple[Path, HolesFormat], faces: Sequence[str] = ()) -> HolesToTell:
    """The holes of a job, of all its faces or some. Raises JobProblems and CannotFit."""
    file, format_ = order
    solved = pipeline.solve_job(pipeline.open_job(file, faces))
    return HolesToTell(file, _text(solved, format_), solved.layout.notes, solved.fails)


def _text(solved: Solved, format_: HolesFormat) -> str:
    if format_ == "json":
        from templates_engine.writers.json_file import json_bytes

        return json_bytes(solved.layout, solved.contents, solved.findings).decode()
    if format_ == "csv":
        from templates_engine.writers.csv_file import csv_bytes

        return csv_bytes(solved.layout, solved.findings).decode()
    from templates_engine.writers.text_table import holes_text

    return holes_text(solved.layout)
