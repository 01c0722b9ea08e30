"""Offers the `register` commands: what was drawn from the jobs of a folder; words alone."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from templates_engine.cli.messages import CHECK_FAILED, JOB_HAS_PROBLEMS, counted, reported, say
from templates_engine.cli.options import EPILOG, FILE, CommandGroup, cores_wanted
from templates_engine.errors import JobProblems, Problem

if TYPE_CHECKING:
    from templates_engine.office.register.store import Register


@click.group("register", cls=CommandGroup, epilog=EPILOG)
def register() -> None:
    """Keep a record of what is drawn from the jobs of a folder."""


jobs_folder = click.argument(
    "folder",
    metavar="[FOLDER]",
    type=FILE,
    default=Path(),
    help="The folder of the jobs; the current one.",
)


@register.command(epilog=EPILOG)
@click.argument("folder", metavar="FOLDER", type=FILE, help="The folder of the jobs.")
def start(folder: Path) -> None:
    """From now on, record what is drawn from the jobs in a folder and those below it.

    Kept are the job file, its revision, the holes and fingerprint of each face, and the time; no name of a
    person. A layout that changed under an unchanged revision is then refused.
    """
    from templates_engine.office.register.find_register import FILE, register_below, register_file_over
    from templates_engine.office.register.store import Register

    with reported():
        if not folder.is_dir():
            raise JobProblems(
                [Problem("this is no folder.", "Name the folder of the jobs.", file=str(folder))]
            )
        above = register_file_over(folder)
        if above is not None and above.parent != folder.absolute():
            remedy = "That register has these jobs too."
            raise JobProblems([Problem(f"a register is kept in {above.parent}.", remedy, file=str(folder))])
        below = register_below(folder) if above is None else None
        if below is not None:
            remedy = f"Keep one for each of the folders in {folder}, or move that register elsewhere first."
            raise JobProblems([Problem(f"a register is kept in {below}.", remedy, file=str(folder))])
        Register(folder / FILE).create()
        is_new = "is kept already" if above is not None else "begins"
        click.echo(
            f"{folder / FILE}: the register {is_new}. Draw all jobs once, so that it knows their sheets."
        )


@register.command("list", epilog=EPILOG)
@jobs_folder
@click.option("--all", "all_", is_flag=True, help="All drawings, not only the last of each face.")
def list_(folder: Path, all_: bool) -> None:
    """Print what was drawn: enclosure, face, revision, code and time."""
    from templates_engine.office.register.recording import day
    from templates_engine.writers.text_table import aligned

    with reported():
        kept = register_of(folder)
        last = sorted(kept.last_of_all(), key=lambda one: (one.entry.job, one.number))
        shown = kept.all() if all_ else last
        rows = [
            (
                one.entry.mark,
                one.face.face,
                one.entry.revision or "none",
                one.face.code,
                day(one.entry.at),
                one.entry.how,
                one.entry.job,
            )
            for one in shown
        ]
        headings = ("enclosure", "face", "revision", "code", "when", "how", "job")
        click.echo(aligned(headings, rows), nl=False)


@register.command(epilog=EPILOG)
@jobs_folder
@cores_wanted
def check(folder: Path, cores: int | None) -> None:
    """Say which faces were last drawn otherwise than the jobs give them today, or never."""
    from templates_engine.office.register.today import compare

    with reported():
        states, problems = compare(register_of(folder), cores)
        stale = [one for one in states if one.words]
        for one in stale:
            where = " ".join(part for part in (one.mark, one.face) if part)
            click.echo(f"{one.job}: {where}: {one.words}." if where else f"{one.job}: {one.words}.")
        for problem in problems:
            say(str(problem))
        click.echo(f"{counted(len(states), 'face')}: {len(states) - len(stale)} drawn as the jobs are today.")
        if problems or stale:
            raise click.exceptions.Exit(JOB_HAS_PROBLEMS if problems else CHECK_FAILED)


@register.command(epilog=EPILOG)
@jobs_folder
def rebuild(folder: Path) -> None:
    """Make a damaged register anew from what can be read of it and from the jobs; the old one is kept."""
    from templates_engine.office.register.rebuild import rebuild as rebuilt

    with reported():
        file = register_of(folder).file
        made = rebuilt(file)
        for problem in made.problems:
            say(str(problem))
        click.echo(f"{file}: made anew, {counted(made.entries, 'drawing')} saved.")
        if made.kept_aside is not None:
            click.echo(f"{made.kept_aside}: the old one.")
        if made.found:
            click.echo(
                f"{counted(made.found, 'job')} known only as of today, drawn or not. Draw all jobs once more."
            )


def register_of(folder: Path) -> Register:
    """The register of a folder. Raises JobProblems where none is kept."""
    from templates_engine.office.register.find_register import register_file_over
    from templates_engine.office.register.store import Register

    file = register_file_over(folder)
    if file is None:
        remedy = "Name the folder of the jobs, or begin one: templates-engine register start FOLDER."
        raise JobProblems([Problem("no register is kept here.", remedy, file=str(folder))])
    return Register(file)
