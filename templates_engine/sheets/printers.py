"""Turns what a rule read on a measuring page into a printer's error and its Correction; keeping it is for the store.

::

      +--------- across ---------+      across: along the short edge of the paper
      |  \\                    /  |      down:   along its long edge
      |      \\  square   /       | d
      |          \\  /           | o     Leaning paper makes one diagonal of the square longer
      |        /      \\         | w     than the other.
      |   /                \\    | n
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

from templates_engine.errors import Problem, TemplatesError
from templates_engine.job.model import MarginsIn, PaperSize
from templates_engine.sheets.model import Correction
from templates_engine.units import LengthError, read_length

MOST_ERROR_PERCENT = 2.0
"""Beyond this it is a print setting, not a printer: engines are permitted about 2 % (common practice, no source)."""
COARSEST_READING_IN = 1 / 64
"""How far off a reading may be: one to 1/32 in or to half a millimetre is the coarsest that says anything."""
FINEST_MARK_IN = 1 / 64
"""A reading in fractions is taken as read to this, however its fraction cancels down."""
EYE_IN = 0.004
"""No rule laid on a printed line is read better than about this, a tenth of a millimetre (from memory)."""
MOST_SKEW_PERCENT = 100 / 32 / 12
"""A lean that moves a hole 12 in from the back edge by the 1/32 in allowed over a row."""
ROLL_PAGE = 1.5
"""A measuring page cut from a roll is this many times as long as it is wide."""
EDGE_IN = 1.5
"""What the bars leave free of the paper's length or width, margins included."""
SQUARE_ROOM_IN = (1.0, 3.0)
"""What the square leaves free of the bars' lengths across and down: its corners' names, and the page's words."""
LEAST_SQUARE_IN = 4.0
"""The diagonals of a smaller one do not show a lean that matters."""


class PrinterProblems(TemplatesError):
    """A printer that cannot be used as it was described, or is not known."""


@dataclass(frozen=True)
class Printer:
    """A printer as measured: how much too long it prints (too short: negative), percent, across and down.

    ``paper`` is what it was measured on. ``good_to_percent`` is what the readings were good for, ``skew_percent``
    how far its sheets lean; both None when not known. ``margins`` is the paper it leaves blank.
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


# --- the measuring page -------------------------------------------------------------------------------------


@dataclass(frozen=True)
class MeasuringPage:
    """What stands on the measuring page of a paper, inches: its bars, and its square's side. It is upright."""

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

    Raises PrinterProblems for a paper with no room for it.
    """
    long_in = paper.short_in * ROLL_PAGE if paper.long_in is None else paper.long_in
    across, down = math.floor(paper.short_in - EDGE_IN), math.floor(long_in - EDGE_IN)
    square = min(across - SQUARE_ROOM_IN[0], down - SQUARE_ROOM_IN[1])
    if square < LEAST_SQUARE_IN:
        message = f"{paper.name} paper is too small to measure a printer on."
        raise PrinterProblems([Problem(message, "Measure it on the largest paper it takes, letter or A4 at least.")])
    return MeasuringPage(paper, paper.short_in, long_in, across, down, square)


# --- readings -----------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Reading:
    """A length as a rule read it, and how far off it may be by the fineness it is written with, inches."""

    length_in: float
    within_in: float


_DECIMALS = re.compile(r"\d*\.(\d+)")
_WORD_AT_END = re.compile(r"([a-z]+)\W*$")
_METRIC_IN = {"mm": 1 / 25.4, "milli": 1 / 25.4, "cm": 10 / 25.4, "centi": 10 / 25.4, "m": 1000 / 25.4}


def read_reading(text: str) -> Reading:
    """A reading as a person writes it; raises PrinterProblems when it is no length, or too coarse to be of use."""
    try:
        length = read_length(text, "in", most_in=300.0)
    except LengthError as error:
        raise PrinterProblems([Problem(error.message, error.remedy)]) from error
    within = _within(text)
    if within > COARSEST_READING_IN + 1e-9:
        message = f"'{text}' is too coarse a reading: it may be off by {within:.3f} in ({within * 25.4:.1f} mm)."
        remedy = "Read to 1/64 in or to a tenth of a millimetre, and write the last figure also when it is 0."
        raise PrinterProblems([Problem(message, remedy)])
    return Reading(length, within)


def _within(text: str) -> float:
    """Half of the last figure written, or of the finest mark for a fraction or whole inches, inches; never under EYE_IN."""
    decimals = _DECIMALS.findall(text)
    word = _WORD_AT_END.search(text.lower())
    unit = next((size for head, size in _METRIC_IN.items() if word and word.group(1).startswith(head)), None)
    if unit is None and not decimals:
        return FINEST_MARK_IN / 2
    return max((unit or 1.0) * 10.0 ** -len(decimals[-1] if decimals else "") / 2, EYE_IN)


# --- from readings to a printer -----------------------------------------------------------------------------


@dataclass(frozen=True)
class Measured:
    """An error, percent of the true length, and what the readings behind it are good for."""

    percent: float
    good_to_percent: float
    spread_in: float = 0.0
    """By how much readings of the same length differ."""


_PERCENT = re.compile(r"\s*([+-\u2212]?)\s*(\d{1,3}(?:\.\d+)?|\.\d+)\s*%\s*")


def error_of(texts: Sequence[str], true_in: float, which: str) -> Measured:
    """The error that readings of a length say, or the one given outright as "-0.70 %".

    Several readings are averaged. ``which`` names the direction in messages. Raises PrinterProblems, also for an error beyond MOST_ERROR_PERCENT.
    """
    if len(texts) == 1 and "%" in texts[0]:
        found = _given_percent(texts[0], which)
    else:
        readings = [read_reading(text) for text in texts]
        lengths = [reading.length_in for reading in readings]
        percent = (sum(lengths) / len(lengths) / true_in - 1) * 100
        within = max(reading.within_in for reading in readings)
        found = Measured(percent, within / true_in * 100, max(lengths) - min(lengths))
    refuse_beyond(found.percent, which)
    return found


def _given_percent(text: str, which: str) -> Measured:
    match = _PERCENT.fullmatch(text)
    if match is None:
        message = f"'{text}' is no error in percent."
        remedy = "Write -0.70 % when it prints 0.70 % too short, +0.40 % when 0.40 % too long; or the bar's reading."
        raise PrinterProblems([Problem(message, remedy)])
    sign, figures = match.groups()
    places = len(figures.partition(".")[2])
    return Measured(float(figures) * (1 if sign in ("", "+") else -1), 10.0**-places / 2)


def refuse_beyond(percent: float, which: str) -> None:
    """Raises PrinterProblems for an error no printer makes."""
    if abs(percent) <= MOST_ERROR_PERCENT + 1e-9:
        return
    size = f"{abs(percent):.1f} % too {'long' if percent > 0 else 'short'}"
    message = f"{which} it came out {size}; no printer is more than {MOST_ERROR_PERCENT:g} % off."
    remedy = (
        "That is a setting such as fit to page, or another paper than was named: print the measuring page again at "
        "actual size (100 %) and measure again. Such an error is not corrected."
    )
    raise PrinterProblems([Problem(message, remedy)])


def skew_percent(first_in: float, second_in: float, width_in: float, height_in: float) -> float:
    """How far a printed rectangle leans, percent: sideways over upright, from its two diagonals and its sides.

    ``first_in`` is the diagonal from its lower left to its upper right corner; then a lean to the right is positive.

    ::

           +--------+       first^2  = w^2 + h^2 + 2 w h sin(lean)
          /        /        second^2 = w^2 + h^2 - 2 w h sin(lean)
         /        /  h
        +--------+
             w
    """
    return (first_in**2 - second_in**2) / (4 * width_in * height_in) * 100
