"""Offers `import`: a schedule to job files, with what changes shown first; words only."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from templates_engine.cli.reports import DONE, JOB_HAS_PROBLEMS, counted, reported, say

if TYPE_CHECKING:
    from templates_engine.office.schedules.importing import Imported


def import_(
    schedule: Annotated[
        Path, typer.Argument(metavar="SCHEDULE", help="A CSV, XLSX or ODS file.", show_default=False)
    ],
    into: Annotated[
        Path, typer.Option("--into", metavar="FOLDER", help="Where the job files are.", show_default=False)
    ],
    headings: Annotated[
        Path | None,
        typer.Option(
            "--headings",
            metavar="FILE",
            help="A small file that says what the schedule calls its columns, and what holds for all rows.",
            show_default=False,
        ),
    ] = None,
    sheet: Annotated[
        str | None, typer.Option("--sheet", metavar="NAME", help="The sheet that is read, where several are.")
    ] = None,
    dry_run: Annotated[bool, typer.Option("--dry-run", help="Only show what would be written.")] = False,
    yes: Annotated[
        bool, typer.Option("--yes", help="Change job files that are there without asking.")
    ] = False,
) -> None:
    """Make job files from a schedule of raceways, one a row, and change those there where it says so.

    What cannot be read is listed by sheet, row and column; an enclosure with such a cell is left alone, the
    others are written. Changes are shown first, and remarks in job files stay.
    """
    from templates_engine.office.schedules.headings import NO_HEADINGS, read_headings
    from templates_engine.office.schedules.importing import import_schedule

    with reported():
        names = NO_HEADINGS if headings is None else read_headings(headings)
        imported = import_schedule(schedule, into, names, sheet)
        _show(imported)
        is_agreed = dry_run or yes or not _changes_files(imported) or _agrees()
        if is_agreed and not dry_run:
            _write(imported, into)
        _sum_up(imported, dry_run=dry_run, is_agreed=is_agreed)
        raise typer.Exit(JOB_HAS_PROBLEMS if imported.problems or not is_agreed else DONE)


def _show(imported: Imported) -> None:
    """Every difference and every new file, then what is told of cells; what is wrong goes to stderr."""
    for change in imported.changes:
        if change.old is None:
            typer.echo(f"{change.path}: new, {counted(change.raceways, 'raceway')}.")
        elif change.is_changed:
            typer.echo(change.difference())
    for note in imported.notes:
        typer.echo(note)
    for problem in imported.problems:
        say(str(problem))


def _changes_files(imported: Imported) -> bool:
    return any(change.old is not None and change.is_changed for change in imported.changes)


def _agrees() -> bool:
    """Asks, where somebody is there to answer."""
    if not sys.stdin.isatty():
        say("Nothing was written: job files that are there would change. Add --yes to change them.")
        return False
    return typer.confirm("Change these job files?", default=False)


def _write(imported: Imported, folder: Path) -> None:
    """All files that are new or changed, or none."""
    from templates_engine.atomic import NewFile, cannot_write, write_together

    changed = [change for change in imported.changes if change.is_changed]
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        raise cannot_write(folder, error) from error
    write_together([NewFile(change.path, change.text.encode()) for change in changed])


def _sum_up(imported: Imported, *, dry_run: bool, is_agreed: bool) -> None:
    new = sum(change.old is None for change in imported.changes)
    changed = sum(change.old is not None and change.is_changed for change in imported.changes)
    same = len(imported.changes) - new - changed
    would = "would be " if dry_run or not is_agreed else ""
    parts = [f"{new} {would}new", f"{changed} {would}changed", f"{same} as they are"]
    if imported.kept_back:
        parts.append(
            f"{len(imported.kept_back)} with problems and left alone: {', '.join(imported.kept_back)}"
        )
    typer.echo(
        f"{counted(len(imported.changes) + len(imported.kept_back), 'enclosure')}: {'; '.join(parts)}."
    )
