"""Writes the tables of a building for `export`: a workbook, or a CSV a table; words and exit codes alone."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from templates_engine.cli.messages import CHECK_FAILED, exit_code, say
from templates_engine.errors import JobProblems, Problem

if TYPE_CHECKING:
    from templates_engine.atomic import NewFile
    from templates_engine.office.export.tables import Exported


def are_tables(kind: str, paths: Sequence[Path]) -> bool:
    """Whether the tables of any number of jobs are meant, not the holes of one."""
    return kind == "xlsx" or (kind == "csv" and (len(paths) > 1 or paths[0].is_dir()))


def the_only_job(paths: Sequence[Path], kind: str) -> Path:
    """The one job file that is named. Raises JobProblems for more."""
    if len(paths) > 1:
        words = f"{kind} is written of one job, and {len(paths)} are named."
        raise JobProblems([Problem(words, "Name one, or write all of them with --as xlsx.")])
    return paths[0]


def export_tables(
    paths: Sequence[Path],
    output: Path | None,
    faces: Sequence[str],
    overwrite: Sequence[Path],
    *,
    is_book: bool,
) -> None:
    """Everything there is to tell of the jobs; a job that cannot be used is told and left out."""
    from templates_engine.office.export.tables import export_building
    from templates_engine.outputs import write_outputs

    if faces:
        raise JobProblems([Problem("the tables hold all faces.", "Leave --face out.")])
    exported = export_building(paths)
    for _, error in exported.failed:
        for problem in error.problems:
            say(str(problem))
    kind: Literal["csv", "xlsx"] = "xlsx" if is_book else "csv"
    name = output or Path(f"{_name(paths)}.{kind}")
    files = _files(exported, kind, name)
    write_outputs(kind, files, overwrite)
    for file in files:
        click.echo(f"{file.path}: written.")
    for job in exported.fails:
        say(f"{job}: a check failed: do not cut from these numbers.")
    if exported.failed or exported.fails:
        codes = [exit_code(error) for _, error in exported.failed]
        raise click.exceptions.Exit(max([*codes, *([CHECK_FAILED] if exported.fails else [])]))


def _name(paths: Sequence[Path]) -> str:
    """What the files are called unless --output says: as the job or the folder, or for several building."""
    if len(paths) > 1:
        return "building"
    return paths[0].resolve().name if paths[0].is_dir() else paths[0].stem


def _files(exported: Exported, kind: Literal["csv", "xlsx"], name: Path) -> list[NewFile]:
    from templates_engine.atomic import NewFile
    from templates_engine.outputs import beside
    from templates_engine.writers.typed_table import table_csv
    from templates_engine.writers.xlsx_file import xlsx_bytes

    if kind == "xlsx":
        return [NewFile(name, xlsx_bytes(exported.tables))]
    return [NewFile(beside(name, one.name.replace(" ", "-")), table_csv(one)) for one in exported.tables]
