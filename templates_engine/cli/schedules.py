"""Offers `import`: a schedule to job files, with what changes shown first; words only."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from templates_engine.cli.messages import DONE, JOB_HAS_PROBLEMS, counted, reported, say
from templates_engine.cli.options import EPILOG, FILE

if TYPE_CHECKING:
    from templates_engine.office.schedules.importing import Imported


@click.command("import", epilog=EPILOG)
@click.argument("schedule", metavar="SCHEDULE", type=FILE, help="A CSV, XLSX or ODS file.")
@click.option("--into", metavar="FOLDER", required=True, type=FILE, help="Where the job files are.")
@click.option(
    "--headings",
    metavar="FILE",
    type=FILE,
    help="A small file that says what the schedule calls its columns, and what holds for all rows.",
)
@click.option("--sheet", metavar="NAME", help="The sheet that is read, where several are.")
@click.option("--dry-run", is_flag=True, help="Only show what would be written.")
@click.option("--yes", is_flag=True, help="Change job files that are there without asking.")
def import_(
    schedule: Path, into: Path, headings: Path | None, sheet: str | None, dry_run: bool, yes: bool
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
        raise click.exceptions.Exit(JOB_HAS_PROBLEMS if imported.problems or not is_agreed else DONE)


def _show(imported: Imported) -> None:
    """Every difference and every new file, then what is told of cells; what is wrong goes to stderr."""
    for change in imported.changes:
        if change.old is None:
            click.echo(f"{change.path}: new, {counted(change.raceways, 'raceway')}.")
        elif change.is_changed:
            click.echo(change.difference())
    for note in imported.notes:
        click.echo(note)
    for problem in imported.problems:
        say(str(problem))


def _changes_files(imported: Imported) -> bool:
    return any(change.old is not None and change.is_changed for change in imported.changes)


def _agrees() -> bool:
    """Asks, where somebody is there to answer."""
    if not sys.stdin.isatty():
        say("Nothing was written: job files that are there would change. Add --yes to change them.")
        return False
    return click.confirm("Change these job files?", default=False)


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
    click.echo(
        f"{counted(len(imported.changes) + len(imported.kept_back), 'enclosure')}: {'; '.join(parts)}."
    )
