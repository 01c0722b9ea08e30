"""Turns what a rule read on a measuring page into how far off a printer is; what corrects it is for printers.

::

       +--------+       first^2  = w^2 + h^2 + 2 w h sin(lean)      the square's diagonals, from lower left
      /        /        second^2 = w^2 + h^2 - 2 w h sin(lean)      and from lower right
     /        /  h
    +--------+
         w
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

from templates_engine.units import LengthError, read_length, read_reading, to_mm
from templates_engine.values import Struct, replace
from templates_engine.verify.printers import PrinterError, refused

COARSEST_READING_IN = 1 / 64
"""How far off a reading may be: one to 1/32 in or to half a millimetre is the coarsest that says anything."""
FINEST_MARK_IN = 1 / 64
"""A reading in fractions is taken as read to this, however its fraction cancels down."""
EYE_IN = 0.004
"""No rule laid on a printed line is read better than about this, a tenth of a millimetre (from memory)."""
MOST_ERROR_PERCENT = 2.0
"""Beyond this it is a setting: engines are permitted about 2 % (common practice, no source)."""
MOST_READING_IN = 300.0
FAR = 0.15
"""A reading off by more than this share is no reading of the bar."""
MOST_SKEW_PERCENT = 100 / 32 / 12
"""A lean that moves a hole 12 in from the back edge by the 1/32 in allowed over a row."""


class FineReading(Struct, frozen=True):
    """A length as a rule read it, and how far off it may be by the fineness it is written with, inches."""

    length_in: float
    within_in: float


def read_fine(text: str) -> FineReading:
    """A reading as a person writes it. Raises PrinterError when it is no length, or too coarse for use."""
    try:
        read = read_reading(text, most_in=MOST_READING_IN)
    except LengthError as error:
        raise refused(error.message, error.remedy) from error
    within = FINEST_MARK_IN / 2 if read.step_in is None else max(read.step_in / 2, EYE_IN)
    if within > COARSEST_READING_IN + 1e-9:
        message = (
            f"'{text}' is too coarse a reading: it may be off by {within:.3f} in ({to_mm(within):.1f} mm)."
        )
        remedy = "Read to 1/64 in or to a tenth of a millimetre, and write the last figure also when it is 0."
        raise refused(message, remedy)
    return FineReading(read.length_in, within)


# --- from readings to a printer -----------------------------------------------------------------------------


class MeasuredError(Struct, frozen=True):
    """An error, percent of the true length, and what its readings are good for (None: given outright)."""

    percent: float
    good_to_percent: float | None
    spread_in: float = 0.0
    """By how much readings of the same length differ."""


def _reading_of_bar(text: str, true_in: float, which: str) -> FineReading:
    """A reading of a bar this long. Raises PrinterError, naming the option, also for one far from it."""
    try:
        length = read_length(text, "in", most_in=MOST_READING_IN)
        if abs(length / true_in - 1) > FAR:
            remedy = f"Is the unit right, such as {text.strip()} mm? Is the paper right, --paper?"
            if length < MOST_ERROR_PERCENT:
                remedy = f"If this is the error in percent, write {text.strip()}%."
            raise LengthError(
                f"'{text}' is far from the bar, {true_in:g} in ({to_mm(true_in):.1f} mm).", remedy
            )
        return read_fine(text)
    except LengthError as error:
        remedy = error.remedy
        if text.strip()[:1] in "+-\u2212":
            remedy = f"A reading has no sign; if this is the error in percent, write {text.strip()}%."
        raise refused(error.message, remedy, f"--{which}") from error
    except PrinterError as error:
        raise PrinterError(replace(one, key=f"--{which}") for one in error.problems) from error


_PERCENT = re.compile(r"\s*([+\-\u2212]?)\s*(\d{1,3}(?:\.\d+)?|\.\d+)\s*%\s*")


def error_of(texts: Sequence[str], true_in: float, which: str) -> MeasuredError:
    """The error that readings of a length say, or the one given outright as "-0.70 %".

    Several readings are averaged. ``which`` names the direction in messages. Raises PrinterError, also for an
    error beyond MOST_ERROR_PERCENT.
    """
    if len(texts) == 1 and "%" in texts[0]:
        found = _given_percent(texts[0], which)
    else:
        readings = [_reading_of_bar(text, true_in, which) for text in texts]
        lengths = [reading.length_in for reading in readings]
        percent = (sum(lengths) / len(lengths) / true_in - 1) * 100
        within = max(reading.within_in for reading in readings)
        found = MeasuredError(percent, within / true_in * 100, max(lengths) - min(lengths))
    refuse_beyond(found.percent, which)
    return found


def _given_percent(text: str, which: str) -> MeasuredError:
    match = _PERCENT.fullmatch(text)
    if match is None:
        message = f"'{text}' is no error in percent."
        remedy = "Write -0.70 % when it prints 0.70 % too short, +0.40 % when too long; or the bar's reading."
        if "," in text:
            remedy = f"Write it with a decimal point: {text.strip().replace(',', '.')}"
        raise refused(message, remedy, f"--{which}")
    sign, figures = match.groups()
    return MeasuredError(float(figures) * (1 if sign in ("", "+") else -1), None)


def refuse_beyond(percent: float, which: str) -> None:
    """Raises PrinterError for an error no printer makes."""
    if abs(percent) <= MOST_ERROR_PERCENT + 1e-9:
        return
    size = f"{abs(percent):.1f} % too {'long' if percent > 0 else 'short'}"
    message = f"The bar came out {size}; no printer is more than {MOST_ERROR_PERCENT:g} % off."
    remedy = (
        "That is a setting such as fit to page, or another paper than was named: print the measuring page "
        "again at actual size (100 %) and measure again. Such an error is not corrected."
    )
    raise refused(message, remedy, f"--{which}")


def skew_percent(first_in: float, second_in: float, width_in: float, height_in: float) -> float:
    """How far a printed rectangle leans, percent: sideways over upright, by its two diagonals and its sides.

    ``first_in`` is the diagonal from lower left to upper right; a lean to the right is positive.
    """
    return (first_in**2 - second_in**2) / (4 * width_in * height_in) * 100


def read_diagonals(texts: tuple[str, str], width_in: float, height_in: float) -> float:
    """The lean that the readings of a printed square's diagonals say, percent. Raises PrinterError."""
    try:
        first, second = (read_fine(text).length_in for text in texts)
    except PrinterError as error:
        raise PrinterError(replace(one, key="--diagonals") for one in error.problems) from error
    whole = math.hypot(width_in, height_in)
    if max(abs(first - whole), abs(second - whole)) > MOST_ERROR_PERCENT / 100 * whole:
        message = f"Diagonals of {first:.3f} and {second:.3f} in do not belong to a square of {whole:.3f} in."
        raise refused(message, "Measure from corner to corner: A to C, and B to D.")
    return skew_percent(first, second, width_in, height_in)
