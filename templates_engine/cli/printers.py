"""The `printer` commands: a measuring page, and what it read kept under a name; words alone."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from templates_engine.cli.reports import EPILOG, Overwrite, reported

if TYPE_CHECKING:
    from templates_engine.job.model import Job, MarginsIn, PaperSize
    from templates_engine.verify.printer_readings import MeasuredError
    from templates_engine.verify.printers import Printer

printers = typer.Typer(
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    epilog=EPILOG,
    help="Measure printers, and keep what makes their bars read true.",
)

SHEET_FILE = Path("measuring-page.pdf")
DEFAULT_MARGIN = "1/4"
ROW_IN = 36.0
SIDES = ("top", "bottom", "left", "right")

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
    from templates_engine.writers.pdf import write_pdf

    with reported():
        document = measuring_document(_paper(paper), _margins(margins or [DEFAULT_MARGIN]))
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
    from templates_engine.verify.printer_readings import error_of
    from templates_engine.verify.printer_store import add_printer, printers_file
    from templates_engine.verify.printers import Printer, checked_name, measuring_page

    with reported():
        page = measuring_page(_paper(paper))
        wide = error_of(across, page.across_in, "across")
        high = error_of(down, page.down_in, "down")
        lean = None if diagonals is None else _lean(diagonals, page.square_in, wide, high)
        printer = Printer(
            checked_name(name),
            round(wide.percent, 4),
            round(high.percent, 4),
            page.paper.name,
            _margins(margins) if margins else None,
            _good_to(wide, high),
            lean,
            note,
        )
        add_printer(printer, replace_it=replace)
        typer.echo(f"{printer.name} {_error_words(printer)}; {correction_words(printer)}.")
        typer.echo(_accuracy_words(printer, wide, high))
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
            typer.echo(
                f"{printer.name} {_error_words(printer)}; {correction_words(printer)}.{_more_words(printer)}"
            )
            _say_lean(printer)
        if not known:
            typer.echo(f"No printer is kept in {printers_file()}. Begin with: templates-engine printer sheet")


@printers.command(epilog=EPILOG)
def remove(name: Name) -> None:
    """Forget a printer."""
    from templates_engine.verify.printer_store import remove_printer

    with reported():
        gone = remove_printer(name)
        typer.echo(f"{gone.name} is removed. It {_error_words(gone, 'printed')}.")


# --- what was typed -----------------------------------------------------------------------------------------


def _paper(text: str) -> PaperSize:
    from templates_engine.errors import Problem
    from templates_engine.job.model import PaperSize
    from templates_engine.trade.papers import PaperError, read_paper
    from templates_engine.verify.printers import PrinterError

    try:
        paper = read_paper(text)
    except PaperError as error:
        raise PrinterError([Problem(error.message, error.remedy, key="--paper")]) from error
    return PaperSize(paper.name, paper.short_in, paper.long_in)


def _margins(texts: list[str]) -> MarginsIn:
    from templates_engine.errors import Problem
    from templates_engine.job.model import MarginsIn
    from templates_engine.units import LengthError, read_length
    from templates_engine.verify.printers import MOST_MARGIN_IN, PrinterError

    if len(texts) not in (1, 4):
        problem = Problem(
            f"{len(texts)} margins are given.", "Give one for all sides, or four: top, bottom, left, right."
        )
        raise PrinterError([problem])
    try:
        sides = [read_length(text, "in", allow="zero", most_in=MOST_MARGIN_IN) for text in texts]
    except LengthError as error:
        raise PrinterError([Problem(error.message, error.remedy, key="--margins")]) from error
    top, bottom, left, right = sides * 4 if len(sides) == 1 else sides
    return MarginsIn(top, bottom, left, right)


def _lean(diagonals: tuple[str, str], square_in: float, wide: MeasuredError, high: MeasuredError) -> float:
    from templates_engine.verify.printer_readings import read_diagonals

    width, height = (square_in * (1 + one.percent / 100) for one in (wide, high))
    return round(read_diagonals(diagonals, width, height), 4)


def _good_to(wide: MeasuredError, high: MeasuredError) -> float | None:
    """What the worse of two measured errors is good for, percent; None when either was given outright."""
    if wide.good_to_percent is None or high.good_to_percent is None:
        return None
    return round(max(wide.good_to_percent, high.good_to_percent), 4)


# --- words --------------------------------------------------------------------------------------------------


def correction_words(printer: Printer) -> str:
    """What its correction multiplies a drawing by."""
    factors = printer.correction
    return f"corrected by across x{factors.across:.4f}, down x{factors.down:.4f}"


def used_words(printer: Printer, job: Job) -> str:
    """What is said when sheets are drawn for a printer; other paper may run through it another way round."""
    words = f"{printer.name}: {correction_words(printer)}; print on that printer alone."
    papers = [paper.name for paper in job.printing.papers]
    if printer.paper not in papers:
        words += (
            f"\ncaution: {printer.name} was measured on {printer.paper}, not on {' or '.join(papers)}, which "
            "may run through it another way round: measure it on that paper too, or check both bars well."
        )
    words += _too_lean(printer)
    asked, blank = job.printing.margins, printer.margins
    if job.printing.margins_named and blank is not None:
        short = [side for side in SIDES if getattr(asked, f"{side}_in") < getattr(blank, f"{side}_in") - 1e-9]
        if short:
            words += (
                f"\ncaution: the job's margins are under what {printer.name} leaves blank "
                f"({', '.join(short)}): what stands there will be missing. "
                "Take the job's margins out, and the printer's own count."
            )
    return words


def _error_words(printer: Printer, verb: str = "prints") -> str:
    across, down = (_percent(value) for value in (printer.across_percent, printer.down_percent))
    if across == down:
        return f"{verb} {across} across and down"
    return f"{verb} {across} across and {down} down"


def _percent(value: float) -> str:
    if abs(value) < 0.005:
        return "true"
    return f"{abs(value):.2f} % too {'long' if value > 0 else 'short'}"


def _accuracy_words(printer: Printer, wide: MeasuredError, high: MeasuredError) -> str:
    good_to = printer.good_to_percent
    if good_to is None:
        return "An error given outright is taken as it is: print a sheet with it and measure the bars."
    over = ROW_IN * good_to / 100
    spread = max(wide.spread_in, high.spread_in)
    words = f"The readings are good to {good_to:.2f} %: {over:.3f} in over {ROW_IN:g} in."
    if over > 1 / 64:
        words += " Read finer, or measure on longer paper, where a row is long."
    if spread > 1 / 32:
        words += f" Readings of one length differ by {spread:.3f} in: measure them again."
    return words


def _more_words(printer: Printer) -> str:
    words = f" Measured on {printer.paper}"
    if printer.good_to_percent is not None:
        words += f", good to {printer.good_to_percent:.2f} %"
    if printer.margins is not None:
        words += ", margins " + ", ".join(
            f"{side} {getattr(printer.margins, f'{side}_in'):.3g} in" for side in SIDES
        )
    return f"{words}. {printer.note}".rstrip()


def _say_lean(printer: Printer) -> None:
    lean = printer.skew_percent
    if lean is not None:
        typer.echo(
            _too_lean(printer).lstrip()
            or f"{printer.name} prints square enough: {_lean_words(lean)}. This is not corrected."
        )


def _too_lean(printer: Printer) -> str:
    """The caution for a printer too far out of square, on a line of its own; "" for a good one."""
    from templates_engine.verify.printer_readings import MOST_SKEW_PERCENT

    lean = printer.skew_percent
    if lean is None or abs(lean) <= MOST_SKEW_PERCENT:
        return ""
    use = "use another printer, or another tray"
    return (
        f"\ncaution: {printer.name} leans by {_lean_words(lean)}, which is not corrected and too much: {use}."
    )


def _lean_words(lean: float) -> str:
    return f"{abs(lean):.2f} % out of square ({abs(lean) * 0.12:.3f} in over 12 in)"


def quoted(name: str) -> str:
    """As it must be typed in a terminal."""
    if name and all(sign.isalnum() or sign in "-_./\\:" for sign in name):
        return name
    return f"'{name}'" if any(sign in name for sign in '"$`!') and "'" not in name else f'"{name}"'
