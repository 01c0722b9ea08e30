"""Turns what a person typed of a measuring page into a Printer; keeping it is for printer_store."""

from __future__ import annotations

from collections.abc import Sequence

from templates_engine.job.model import MarginsIn, PaperSize
from templates_engine.trade.papers import PaperError, read_paper
from templates_engine.units import LengthError, read_length
from templates_engine.values import Struct
from templates_engine.verify.printer_readings import MeasuredError, error_of, read_diagonals
from templates_engine.verify.printers import (
    MOST_MARGIN_IN,
    Printer,
    checked_name,
    measuring_page,
    refused,
)

DEFAULT_MARGIN = "1/4"
"""What a measuring page leaves blank along its edges, where nothing else is asked."""


class TypedReadings(Struct, frozen=True):
    """What was typed of one measuring page."""

    name: str
    across: Sequence[str]
    """What the bar along the short edge read, each time; the same of the long edge."""
    down: Sequence[str]
    paper: str
    diagonals: tuple[str, str] | None = None
    margins: Sequence[str] = ()
    note: str = ""


def printer_of(typed: TypedReadings) -> tuple[Printer, MeasuredError, MeasuredError]:
    """The printer, and its errors across and down, by what the two bars of its measuring page read.

    Raises PrinterError.
    """
    page = measuring_page(paper_of(typed.paper))
    wide = error_of(typed.across, page.across_in, "across")
    high = error_of(typed.down, page.down_in, "down")
    lean = None if typed.diagonals is None else _lean(typed.diagonals, page.square_in, wide, high)
    printer = Printer(
        checked_name(typed.name),
        round(wide.percent, 4),
        round(high.percent, 4),
        page.paper.name,
        margins_of(typed.margins) if typed.margins else None,
        _good_to(wide, high),
        lean,
        typed.note,
    )
    return printer, wide, high


def paper_of(text: str) -> PaperSize:
    """The paper measured. Raises PrinterError."""
    try:
        paper = read_paper(text)
    except PaperError as error:
        raise refused(error.message, error.remedy, "--paper") from error
    return PaperSize(paper.name, paper.short_in, paper.long_in)


def margins_of(texts: Sequence[str]) -> MarginsIn:
    """What a printer leaves blank, given once or four times. Raises PrinterError."""
    if len(texts) not in (1, 4):
        remedy = "Give one for all sides, or four: top, bottom, left, right."
        raise refused(f"{len(texts)} margins are given.", remedy)
    try:
        sides = [read_length(text, "in", allow="zero", most_in=MOST_MARGIN_IN) for text in texts]
    except LengthError as error:
        raise refused(error.message, error.remedy, "--margins") from error
    top, bottom, left, right = sides * 4 if len(sides) == 1 else sides
    return MarginsIn(top, bottom, left, right)


def _lean(diagonals: tuple[str, str], square_in: float, wide: MeasuredError, high: MeasuredError) -> float:
    width, height = (square_in * (1 + one.percent / 100) for one in (wide, high))
    return round(read_diagonals(diagonals, width, height), 4)


def _good_to(wide: MeasuredError, high: MeasuredError) -> float | None:
    """What the worse of two measured errors is good for, percent; None when either was given outright."""
    if wide.good_to_percent is None or high.good_to_percent is None:
        return None
    return round(max(wide.good_to_percent, high.good_to_percent), 4)
