"""Offers the `printer` commands: a measuring page, and what it read kept under a name; words alone."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from templates_engine.cli.messages import reported
from templates_engine.cli.options import EPILOG, FILE, CommandGroup, overwrite_named
from templates_engine.sentences.printers import (
    accuracy_words,
    correction_words,
    error_words,
    lean_line,
    listed_words,
    quoted,
)

if TYPE_CHECKING:
    from templates_engine.verify.printers import Printer


@click.group("printer", cls=CommandGroup, epilog=EPILOG)
def printers() -> None:
    """Measure printers, and keep what makes their bars read true."""


SHEET_FILE = Path("measuring-page.pdf")

printer_name = click.argument("name", metavar="NAME", help="What you call the printer.")
paper_name = click.option(
    "--paper", metavar="PAPER", default="letter", help='The paper measured: letter, A3, "24 x 36 in", ...'
)
margins_blank = click.option(
    "--margins",
    metavar="LENGTH",
    multiple=True,
    help="What the printer leaves blank: once for all sides, or four times: top, bottom, left, right.",
)
Readings = (
    "what the rule read, such as 6-61/64 or 176.6 mm. Given twice it is averaged. Or the error: -0.70%."
)


@printers.command(epilog=EPILOG)
@paper_name
@margins_blank
@click.option("--output", "-o", metavar="FILE", type=FILE, default=SHEET_FILE, help="Where to write.")
@overwrite_named
def sheet(paper: str, margins: tuple[str, ...], output: Path, overwrite: tuple[Path, ...]) -> None:
    """Write the measuring page: print it, measure it with a steel rule, then `printer add` what you read."""
    from templates_engine.drawing.measuring_page import measuring_document
    from templates_engine.verify.printer_typed import DEFAULT_MARGIN, margins_of, paper_of
    from templates_engine.writers.pdf import write_pdf

    with reported():
        document = measuring_document(paper_of(paper), margins_of(margins or [DEFAULT_MARGIN]))
        write_pdf(document, output, overwrite)
        size = f"{document.page_width_in:.4g} x {document.page_height_in:.4g} in"
        click.echo(f"{output}: 1 page, {size}. Print at actual size (100 %), one side only, and measure it.")


@printers.command(epilog=EPILOG)
@printer_name
@click.option(
    "--across", metavar="READING", multiple=True, required=True, help=f"Bar along the short edge: {Readings}"
)
@click.option(
    "--down", metavar="READING", multiple=True, required=True, help=f"Bar along the long edge: {Readings}"
)
@paper_name
@click.option("--diagonals", metavar="AC BD", nargs=2, help="The square's two diagonals.")
@margins_blank
@click.option("--note", metavar="TEXT", default="", help="Where it stands, its tray, ...")
@click.option("--replace", is_flag=True, help="Measure a printer of that name anew.")
def add(
    name: str,
    across: tuple[str, ...],
    down: tuple[str, ...],
    paper: str,
    diagonals: tuple[str, str] | None,
    margins: tuple[str, ...],
    note: str,
    replace: bool,
) -> None:
    """Keep a printer by what its measuring page read."""
    from templates_engine.verify.printer_store import add_printer, printers_file
    from templates_engine.verify.printer_typed import TypedReadings, printer_of

    with reported():
        typed = TypedReadings(name, across, down, paper, diagonals, margins, note)
        printer, wide, high = printer_of(typed)
        add_printer(printer, replace_it=replace)
        click.echo(f"{printer.name} {error_words(printer)}; {correction_words(printer)}.")
        click.echo(accuracy_words(printer, wide, high))
        _say_lean(printer)
        click.echo(
            f"Kept in {printers_file()}. "
            f"Use it with: templates-engine draw JOB --printer {quoted(printer.name)}"
        )


@printers.command("list", epilog=EPILOG)
def list_() -> None:
    """Print every printer kept: its error, what corrects it, and what it was measured on."""
    from templates_engine.verify.printer_store import printers_file, stored_printers

    with reported():
        known = stored_printers()
        for printer in known:
            click.echo(listed_words(printer))
            _say_lean(printer)
        if not known:
            click.echo(f"No printer is kept in {printers_file()}. Begin with: templates-engine printer sheet")


@printers.command(epilog=EPILOG)
@printer_name
def remove(name: str) -> None:
    """Forget a printer."""
    from templates_engine.verify.printer_store import remove_printer

    with reported():
        gone = remove_printer(name)
        click.echo(f"{gone.name} is removed. It {error_words(gone, 'printed')}.")


def _say_lean(printer: Printer) -> None:
    line = lean_line(printer)
    if line:
        click.echo(line)
