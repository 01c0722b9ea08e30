"""Says what a measured printer does to a drawing, and what is made of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from templates_engine.job.model import Job
    from templates_engine.verify.printer_readings import MeasuredError
    from templates_engine.verify.printers import Printer

ROW_IN = 36.0
SIDES = ("top", "bottom", "left", "right")


def correction_words(printer: Printer) -> str:
    """What its correction multiplies a drawing by."""
    factors = printer.correction
    return f"corrected by across x{factors.across:.4f}, down x{factors.down:.4f}"


def used_words(printer: Printer, job: Job) -> str:
    """What is said when sheets are drawn for a printer."""
    words = f"{printer.name}: {correction_words(printer)}; print on that printer alone."
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


def error_words(printer: Printer, verb: str = "prints") -> str:
    """By how much it prints too long or too short."""
    across, down = (_percent(value) for value in (printer.across_percent, printer.down_percent))
    if across == down:
        return f"{verb} {across} across and down"
    return f"{verb} {across} across and {down} down"


def _percent(value: float) -> str:
    if abs(value) < 0.005:
        return "true"
    return f"{abs(value):.2f} % too {'long' if value > 0 else 'short'}"


def accuracy_words(printer: Printer, wide: MeasuredError, high: MeasuredError) -> str:
    """What its readings are good for."""
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


def listed_words(printer: Printer) -> str:
    """All that is kept of it, in a line."""
    words = f"{printer.name} {error_words(printer)}; {correction_words(printer)}. Measured on {printer.paper}"
    if printer.good_to_percent is not None:
        words += f", good to {printer.good_to_percent:.2f} %"
    if printer.margins is not None:
        words += ", margins " + ", ".join(
            f"{side} {getattr(printer.margins, f'{side}_in'):.3g} in" for side in SIDES
        )
    return f"{words}. {printer.note}".rstrip()


def lean_line(printer: Printer) -> str:
    """How square it prints, "" where that was not measured."""
    lean = printer.skew_percent
    if lean is None:
        return ""
    enough = f"{printer.name} prints square enough: {_lean_words(lean)}. This is not corrected."
    return _too_lean(printer).lstrip() or enough


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
