"""Offers `rolls`: faces of many jobs on one roll, with cut lines, and what that saves; words only."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from templates_engine.cli.messages import CHECK_FAILED, exit_code, reported, say
from templates_engine.cli.options import EPILOG, FILE, job_paths, overwrite_named
from templates_engine.errors import JobProblems, Problem

if TYPE_CHECKING:
    from templates_engine.drawing.shapes import Document
    from templates_engine.job.model import PaperSize
    from templates_engine.office.building import Building
    from templates_engine.office.rolls.nesting import Rolls
    from templates_engine.pipeline import Solved
    from templates_engine.verify.printers import Printer

_ROLLS = ("24 in roll", "36 in roll")


@click.command(epilog=EPILOG)
@job_paths
@click.option(
    "--paper", metavar="ROLL", default=_ROLLS[0], help='The roll: "24 in roll", "36 in roll", "610 mm roll".'
)
@click.option("--output", "-o", metavar="FILE", type=FILE, default=Path("rolls.pdf"), help="Where to write.")
@click.option("--printer", metavar="NAME", help="Correct for this measured printer.")
@click.option("--draft", is_flag=True, help="Draw layouts that fail a check too, stamped as a draft.")
@overwrite_named
def rolls(
    paths: tuple[Path, ...],
    paper: str,
    output: Path,
    printer: str | None,
    draft: bool,
    overwrite: tuple[Path, ...],
) -> None:
    """Write the faces of many jobs side by side on a roll, with lines to cut them apart by.

    Their cover pages go into a second file, NAME-cover.pdf, on office paper. Pages of the roll that would be
    longer than a PDF page may be become files of their own.
    """
    from templates_engine.office.building import read_building
    from templates_engine.office.rolls.nesting import cost_words
    from templates_engine.pipeline import solve_job
    from templates_engine.writers.pdf import write_pdfs

    with reported():
        roll, known = roll_named(paper, "--paper"), printer_named(printer)
        building = read_building(paths, solve_job)
        for problem in building.problems:
            say(str(problem))
        failing = [] if draft else [str(path) for path, solved in building.solved if solved.fails]
        for path in failing:
            say(f"{path}: a check failed, so it is left out. See check, or add --draft for a stamped draft.")
        drawn = [solved for path, solved in building.solved if str(path) not in failing]
        if known is None:
            _say_uncorrected(building)
        if drawn:
            made = _nested(drawn, roll, known)
            files = _files(made, output)
            write_pdfs(files, overwrite)
            _tell(made, [path for path, _ in files])
            click.echo(f"Paper: {cost_words(made, roll.name)}")
        codes = [exit_code(error) for _, error in building.failed] + [CHECK_FAILED] * bool(failing)
        if codes:
            raise click.exceptions.Exit(max(codes))


def printer_named(name: str | None) -> Printer | None:
    """The measured printer. Raises PrinterError for one that is not kept."""
    from templates_engine.verify.printer_store import find_printer
    from templates_engine.verify.printers import NO_PRINTER

    return find_printer(name) if name and name.strip().lower() != NO_PRINTER else None


def _nested(drawn: Sequence[Solved], roll: PaperSize, printer: Printer | None) -> Rolls:
    """All their pieces; what is to be minded of the printer is told."""
    from templates_engine.office.rolls.nesting import nested
    from templates_engine.office.rolls.pieces import pieces_of
    from templates_engine.sentences.printers import used_words
    from templates_engine.values import replace

    jobs = [pieces_of(one, roll, draft=bool(one.fails), printer=printer) for one in drawn]
    if printer is None:
        return nested(jobs, roll.short_in)
    job = drawn[0].layout.job
    click.echo(used_words(printer, replace(job, printing=replace(job.printing, margins_named=False))))
    if jobs[0].other_paper:
        click.echo(f"caution: {jobs[0].other_paper}")
    return nested(jobs, roll.short_in, printer.correction)


def roll_named(text: str, key: str) -> PaperSize:
    """The roll that is named. Raises JobProblems for any other paper."""
    from templates_engine.job.model import PaperSize
    from templates_engine.trade.papers import PaperError, read_paper

    try:
        paper = read_paper(text)
    except PaperError as error:
        raise JobProblems([Problem(error.message, error.remedy, key=key)]) from error
    if paper.long_in is not None:
        words = ", ".join(f'"{one}"' for one in _ROLLS)
        raise JobProblems([Problem(f"{paper.name} is no roll.", f"Write a roll, such as {words}.", key=key)])
    return PaperSize(paper.name, paper.short_in, None)


def _say_uncorrected(building: Building[Solved]) -> None:
    """Printers are measured for their own paper: a roll goes through another."""
    for path, solved in building.solved:
        if solved.layout.job.printing.printer:
            click.echo(
                f"caution: {path}: drawn without the correction for {solved.layout.job.printing.printer}."
            )


def _files(made: Rolls, output: Path) -> list[tuple[Path, Document]]:
    """Every Document under its name: the roll's own, with a number where there are several, then covers."""
    from templates_engine.outputs import beside

    pages = [(output, one) for one in made.pages]
    if len(pages) > 1:
        pages = [(beside(output, str(number)), one) for number, (_, one) in enumerate(pages, start=1)]
    covers = [(beside(output, "cover"), one) for one in made.covers]
    if len(covers) > 1:
        covers = [(beside(output, f"cover-{number}"), one) for number, (_, one) in enumerate(covers, start=1)]
    return [*pages, *covers]


def _tell(made: Rolls, written: list[Path]) -> None:
    """What stands in which file."""
    for path, page, names in zip(written, made.pages, made.names, strict=False):
        size = f"{page.page_width_in:.4g} x {page.page_height_in:.4g} in"
        how = "Print at actual size (100 %), measure the bars of every piece, then cut the pieces apart"
        click.echo(f"{path}: {size}, {', '.join(names)}. {how}.")
    for path in written[len(made.pages) :]:
        click.echo(f"{path}: cover pages, on office paper.")
