"""Offers `check` and `holes`, of one job or of many: words for people and exit codes."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Generator, Sequence
from contextlib import closing
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from templates_engine.cli.messages import (
    CHECK_FAILED,
    JOB_HAS_PROBLEMS,
    counted,
    exit_code,
    note_lines,
    print_findings,
    refuse_faces,
    reported,
    say,
    the_only_file,
    verdict,
    warn_of_fails,
)
from templates_engine.cli.options import EPILOG, cores_wanted, faces_named, job_paths, shown_as
from templates_engine.errors import JobProblems, TemplatesError

if TYPE_CHECKING:
    from templates_engine.checks.model import Finding
    from templates_engine.office.check_and_holes import CheckedJob, HolesToTell

OrderT = TypeVar("OrderT")
ResultT = TypeVar("ResultT")


class HolesAs(StrEnum):
    """How `holes` prints."""

    TABLE = "table"
    CSV = "csv"
    JSON = "json"


class CheckAs(StrEnum):
    """How `check` prints."""

    TEXT = "text"
    JSON = "json"


@click.command(epilog=EPILOG)
@job_paths
@faces_named
@shown_as(CheckAs, CheckAs.TEXT, "text to read, json for programs.")
@click.option("--all", "all_", is_flag=True, help="Print the checks that are ok too.")
@cores_wanted
def check(
    paths: tuple[Path, ...], face: tuple[str, ...], as_: CheckAs, all_: bool, cores: int | None
) -> None:
    """Say whether the layout passes, then what fails, what to mind, and what was not checked.

    Of many jobs, one that cannot be used is told and does not keep the others back.
    """
    with reported():
        job = the_only_file(paths)
        if job is None:
            refuse_faces(face)
            _check_many(paths, as_, all_, cores)
        else:
            _check_one(job, face, as_, all_)


@click.command(epilog=EPILOG)
@job_paths
@faces_named
@shown_as(HolesAs, HolesAs.TABLE, "A table to read, or csv or json.")
@cores_wanted
def holes(paths: tuple[Path, ...], face: tuple[str, ...], as_: HolesAs, cores: int | None) -> None:
    """Print every hole: centre from both edges, hole, pilot, distances to the next.

    Of many jobs, one that cannot be used is told and does not keep the others back.
    """
    with reported():
        job = the_only_file(paths)
        if job is None:
            refuse_faces(face)
            _holes_many(paths, as_, cores)
        else:
            from templates_engine.office.check_and_holes import holes_of_file

            told = holes_of_file((job, as_.value), face)
            _tell_holes(told, as_)
            warn_of_fails(told.fails)


# --- check --------------------------------------------------------------------------------------------------


def _check_one(job: Path, faces: Sequence[str], as_: CheckAs, is_all: bool) -> None:
    from templates_engine.office.check_and_holes import check_file

    told = check_file(job, faces)
    if as_ is CheckAs.JSON:
        from templates_engine.writers.json_file import findings_bytes

        sys.stdout.write(findings_bytes(told.findings).decode())
    else:
        _tell_checked(told, is_all)
    if told.fails:
        raise click.exceptions.Exit(CHECK_FAILED)


def _tell_checked(told: CheckedJob, is_all: bool) -> None:
    click.echo(f"{told.file}: {counted(told.holes, 'hole')}; {verdict(told.findings)}.")
    for line in note_lines(told.notes):
        click.echo(line)
    shown = told.findings if is_all else tuple(one for one in told.findings if one.outcome.value != "ok")
    print_findings(shown, is_error=False)
    if len(shown) < len(told.findings):
        click.echo("The checks that are ok are printed by --all.")
    click.echo(f"Paper: {told.paper}")


def _check_many(paths: Sequence[Path], as_: CheckAs, is_all: bool, cores: int | None) -> None:
    from templates_engine.office.check_and_holes import check_file
    from templates_engine.writers.json_file import findings_bytes

    looked = _Looked(paths)
    for told in looked.each(check_file, looked.files, cores):
        looked.fails += bool(told.fails)
        if as_ is CheckAs.JSON:
            looked.add_json(told.file, findings_bytes(told.findings))
        else:
            _tell_checked(told, is_all)
            click.echo()
    looked.end(as_json=as_ is CheckAs.JSON)


# --- holes --------------------------------------------------------------------------------------------------


def _tell_holes(told: HolesToTell, as_: HolesAs) -> None:
    if as_ is not HolesAs.TABLE:
        sys.stdout.write(told.text)
        return
    if told.fails:
        click.echo("A CHECK FAILED: do not cut from these numbers.")
    click.echo(told.text, nl=False)
    for line in note_lines(told.notes):
        click.echo(line)


def _holes_many(paths: Sequence[Path], as_: HolesAs, cores: int | None) -> None:
    from templates_engine.office.check_and_holes import holes_of_file

    looked = _Looked(paths)
    is_first = True
    for told in looked.each(holes_of_file, [(file, as_.value) for file in looked.files], cores):
        if as_ is HolesAs.JSON:
            looked.add_json(told.file, told.text.encode())
        elif as_ is HolesAs.CSV:
            sys.stdout.write(told.text if is_first else told.text.partition("\n")[2])
        else:
            click.echo(f"{'' if is_first else chr(10)}{told.file}")
            _tell_holes(told, as_)
        is_first = False
        looked.fails += bool(told.fails)
        _say_fails(told.file, told.fails)
    looked.end(as_json=as_ is HolesAs.JSON)


def _say_fails(file: Path, fails: Sequence[Finding]) -> None:
    if fails:
        say(f"{file}:")
        print_findings(fails, is_error=True)
        say("A check failed: do not cut from these numbers.")


# --- many jobs ----------------------------------------------------------------------------------------------


class _Looked:
    """The jobs that are looked at one after the other, and what has come of it so far."""

    def __init__(self, paths: Sequence[Path]) -> None:
        from templates_engine.office.building import find_jobs

        found = find_jobs(paths)
        if not found.files:
            raise JobProblems(found.problems)
        self.files = found.files
        self.fails = 0
        self._problems = found.problems
        self._codes: list[int] = [JOB_HAS_PROBLEMS] * bool(found.problems)
        self._json: list[dict[str, Any]] = []
        self._unusable = 0

    def each(
        self, function: Callable[[OrderT], ResultT], orders: Sequence[OrderT], cores: int | None
    ) -> Generator[ResultT, None, None]:
        """What the function gives for every job that can be used; of the others the problems are said."""
        from templates_engine.office.draw.over_cores import cores as all_cores
        from templates_engine.office.draw.over_cores import each_done

        with closing(each_done(function, orders, cores or all_cores())) as results:
            for file, (_, given) in zip(self.files, results, strict=True):
                if isinstance(given, TemplatesError):
                    self._note(file, given)
                else:
                    yield given

    def add_json(self, file: Path, told: bytes) -> None:
        """One job of the JSON of all."""
        self._json.append({"file": str(file), **json.loads(told)})

    def end(self, *, as_json: bool) -> None:
        """Says how many came out how, and ends the command with the gravest exit code."""
        for problem in self._problems:
            say(str(problem))
        if as_json:
            from templates_engine.writers.json_file import SCHEMA_VERSION, encoded

            sys.stdout.write(encoded({"schema_version": SCHEMA_VERSION, "jobs": self._json}).decode())
        passed = len(self.files) - self.fails - self._unusable
        counts = f"{passed} pass, {self.fails} fail, {self._unusable} cannot be used."
        say(f"{counted(len(self.files), 'job')}: {counts}")
        codes = [*self._codes, CHECK_FAILED * bool(self.fails)]
        if max(codes):
            raise click.exceptions.Exit(max(codes))

    def _note(self, file: Path, error: TemplatesError) -> None:
        self._unusable += 1
        self._codes.append(exit_code(error))
        for problem in error.problems:
            say(str(problem if problem.file else f"{file}: {problem}"))
        self._json.append({"file": str(file), "problems": [str(problem) for problem in error.problems]})
