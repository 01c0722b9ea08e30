"""Offers the `printer` commands: a measuring page, and what it read kept under a name; words alone."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from templates_engine.cli.reports import EPILOG, Overwrite, reported
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

printers = typer.Typer(
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    epilog=EPILOG,
    help="Measure printers, and keep what makes their bars read true.",
)

SHEET_FILE = Path("measuring-page.pdf")

Name = Annotated[str, typer.Argument(metavar="NAME", help="What you call the printer.", show_default=False)]
PaperName = Annotated[
    str, typer.Option("--paper", metavar="PAPER", help='The paper measured: letter, A3, "24 x 36 in", ...')
]
Margins = Annotated[
    list[str] | None,
    typer.Option(
        "--margins",
        metavar="LENGTH",
        help="What the printer leaves blank: once for all sides, or four times: top, bottom, left, right.",
        show_default=False,
    ),
]
Readings = (
    "what the rule read, such as 6-61/64 or 176.6 mm. Given twice it is averaged. Or the error: -0.70%."
)


@printers.command(epilog=EPILOG)
def sheet(
    paper: PaperName = "letter",
    margins: Margins = None,
    output: Annotated[
        Path, typer.Option("--output", "-o", metavar="FILE", help="Where to write.")
    ] = SHEET_FILE,
    overwrite: Overwrite = None,
) -> None:
    """Write the measuring page: print it, measure it with a steel rule, then `printer add` what you read."""
    from templates_engine.drawing.measuring_page import measuring_document
    from templates_engine.verify.printer_typed import DEFAULT_MARGIN, margins_of, paper_of
    from templates_engine.writers.pdf import write_pdf

    with reported():
        document = measuring_document(paper_of(paper), margins_of(margins or [DEFAULT_MARGIN]))
        write_pdf(document, output, overwrite or ())
        size = f"{document.page_width_in:.4g} x {document.page_height_in:.4g} in"
        typer.echo(f"{output}: 1 page, {size}. Print at actual size (100 %), one side only, and measure it.")


@printers.command(epilog=EPILOG)
def add(
    name: Name,
    across: Annotated[
        list[str], typer.Option("--across", metavar="READING", help=f"Bar along the short edge: {Readings}")
    ],
    down: Annotated[
        list[str], typer.Option("--down", metavar="READING", help=f"Bar along the long edge: {Readings}")
    ],
    paper: PaperName = "letter",
    diagonals: Annotated[
        tuple[str, str] | None,
        typer.Option("--diagonals", metavar="AC BD", help="The square's two diagonals.", show_default=False),
    ] = None,
    margins: Margins = None,
    note: Annotated[str, typer.Option("--note", metavar="TEXT", help="Where it stands, its tray, ...")] = "",
    replace: Annotated[bool, typer.Option("--replace", help="Measure a printer of that name anew.")] = False,
) -> None:
    """Keep a printer by what its measuring page read."""
    from templates_engine.verify.printer_store import add_printer, printers_file
    from templates_engine.verify.printer_typed import printer_of

    with reported():
        printer, wide, high = printer_of(name, (across, down), paper, diagonals, margins or (), note)
        add_printer(printer, replace_it=replace)
        typer.echo(f"{printer.name} {error_words(printer)}; {correction_words(printer)}.")
        typer.echo(accuracy_words(printer, wide, high))
        _say_lean(printer)
        typer.echo(
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
            typer.echo(listed_words(printer))
            _say_lean(printer)
        if not known:
            typer.echo(f"No printer is kept in {printers_file()}. Begin with: templates-engine printer sheet")


@printers.command(epilog=EPILOG)
def remove(name: Name) -> None:
    """Forget a printer."""
    from templates_engine.verify.printer_store import remove_printer

    with reported():
        gone = remove_printer(name)
        typer.echo(f"{gone.name} is removed. It {error_words(gone, 'printed')}.")


def _say_lean(printer: Printer) -> None:
    line = lean_line(printer)
    if line:
        typer.echo(line)
