"""Turns a printer as measured into the Correction that makes its bars read true, and the page it is
measured on.

::

      +--- across ---+      across: along the short edge of the paper
      |              |      down:   along its long edge
      |              | down
      |              |
      +--------------+
"""

from __future__ import annotations

import math

from templates_engine.errors import Problem, TemplatesError
from templates_engine.job.model import MarginsIn, PaperSize, PrintSettings
from templates_engine.sheets.model import Correction
from templates_engine.values import Struct, replace

NO_PRINTER = "none"
"""Names no printer, where a job names one and a person wants no correction."""
MOST_NAME = 40
"""Signs in a printer's name."""
MOST_NOTE = 120
"""Signs in its note."""
MOST_MARGIN_IN = 2.0
"""No printer leaves more than this blank."""
ROLL_PAGE = 1.5
"""A measuring page cut from a roll is this many times as long as it is wide."""
EDGE_IN = 1.5
"""What the bars leave free of the paper's length or width, margins included."""
SQUARE_ROOM_IN = (1.0, 4.0)
"""What the square leaves free of the bars across and down: for its corners' names and the page's words."""
LEAST_SQUARE_IN = 4.0
"""The diagonals of a smaller one do not show a lean that matters."""


class PrinterError(TemplatesError):
    """A printer that cannot be used as it was described, or is not known."""


def refused(message: str, remedy: str, key: str = "") -> PrinterError:
    """The error of one problem; ``key`` is the option it is about."""
    return PrinterError([Problem(message, remedy, key=key)])


class Printer(Struct, frozen=True):
    """A printer as measured: how much too long it prints (too short: negative), percent, across and down.

    ``paper`` is what it was measured on, ``margins`` what it leaves blank. ``good_to_percent`` is what the
    readings were good for, ``skew_percent`` how far its sheets lean; both None when not known.
    """

    name: str
    across_percent: float
    down_percent: float
    paper: str
    margins: MarginsIn | None = None
    good_to_percent: float | None = None
    skew_percent: float | None = None
    note: str = ""

    @property
    def correction(self) -> Correction:
        """The factors that make its bars read true."""
        return correction_for(self.across_percent, self.down_percent)


def correction_for(across_percent: float, down_percent: float) -> Correction:
    """What to multiply a drawing by so that it comes out true in spite of these errors."""
    return Correction(across=1 / (1 + across_percent / 100), down=1 / (1 + down_percent / 100))


def total_percent(carried_percent: float, left_scale: float) -> float:
    """A printer's whole error, percent, when sheets drawn for ``carried_percent`` still came out by the share
    ``left_scale`` too large."""
    return ((1 + carried_percent / 100) * (1 + left_scale) - 1) * 100


def as_it_prints(printing: PrintSettings, printer: Printer) -> PrintSettings:
    """The settings with paper and margins in the inches of a drawing before it is corrected for the printer.

    The printer's own margins count where the job names none.
    """
    across, down = printer.correction.across, printer.correction.down
    papers = (
        replace(
            paper,
            short_in=paper.short_in / across,
            long_in=None if paper.long_in is None else paper.long_in / down,
        )
        for paper in printing.papers
    )
    own = printing.margins if printing.margins_named or printer.margins is None else printer.margins
    margins = MarginsIn(own.top_in / down, own.bottom_in / down, own.left_in / across, own.right_in / across)
    return replace(printing, papers=tuple(papers), margins=margins)


def checked_name(name: str) -> str:
    """A printer's name, its spaces tidied. Raises PrinterError for one that cannot be printed or typed."""
    tidy = " ".join(name.split())
    wrong = ""
    if not tidy:
        wrong = "is empty"
    elif len(tidy) > MOST_NAME:
        wrong = "is too long"
    elif not tidy.isprintable():
        wrong = "holds unprintable characters"
    if wrong:
        remedy = f"Write 1 to {MOST_NAME} plain letters and figures: office."
        raise refused(f"the printer's name {wrong}.", remedy)
    if tidy.casefold() == NO_PRINTER:
        raise refused(f"'{tidy}' means no printer at all.", "Give it another name.")
    return tidy


def checked_note(note: str) -> str:
    """A printer's note, its spaces tidied. Raises PrinterError for one that does not fit a line."""
    tidy = " ".join(note.split())
    if len(tidy) > MOST_NOTE or not tidy.isprintable():
        raise refused("the printer's note does not fit a line.", f"Write at most {MOST_NOTE} plain signs.")
    return tidy


# --- the measuring page -------------------------------------------------------------------------------------


class MeasuringPage(Struct, frozen=True):
    """What stands on a paper's measuring page, inches: its bars, and its square's side. It is upright."""

    paper: PaperSize
    page_width_in: float
    page_height_in: float
    across_in: float
    down_in: float
    square_in: float

    @property
    def diagonal_in(self) -> float:
        return self.square_in * math.sqrt(2)


def measuring_page(paper: PaperSize) -> MeasuringPage:
    """The page for a paper. It rests on the paper alone, so that the paper's name says what its bars are.

    Raises PrinterError for a paper with no room for it.
    """
    long_in = paper.short_in * ROLL_PAGE if paper.long_in is None else paper.long_in
    across, down = math.floor(paper.short_in - EDGE_IN), math.floor(long_in - EDGE_IN)
    square = min(across - SQUARE_ROOM_IN[0], down - SQUARE_ROOM_IN[1])
    if square < LEAST_SQUARE_IN:
        message = f"{paper.name} paper is too small to measure a printer on."
        raise refused(message, "Measure it on the largest paper it takes, letter or A4 at least.")
    return MeasuringPage(paper, paper.short_in, long_in, across, down, square)
