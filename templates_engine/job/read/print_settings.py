"""Turns `print` as written, or as the shop usually has it, into PrintSettings.

Which paper each face goes on is for the sheet plan.
"""

from __future__ import annotations

from typing import Literal

from templates_engine.job.model import MarginsIn, PaperSize, PrintSettings
from templates_engine.job.read.file_reading import FileReading
from templates_engine.job.schema import JOINTS, ORIENTATIONS, WrittenMargins, WrittenPrint
from templates_engine.job.shop.defaults import ShopDefaults
from templates_engine.job.text.key_paths import KeyPath
from templates_engine.trade.papers import PaperError, read_paper

DEFAULT_OVERLAP_IN = {"overlap": 0.5, "butt": 0.25}
"""Enough past a joint's line for what is written there; where sheets butt, just enough to cut along."""
MOST_EXTRA_SHEETS = 99
DEFAULT_MARGIN_IN = 0.25
LEAST_VIEW_IN = 2.0
"""What must be left of a sheet between its margins."""


def print_settings(written: WrittenPrint | None, usual: ShopDefaults, reading: FileReading) -> PrintSettings:
    """The print settings, with paper, margins and overlap held against each other."""
    written = written if written is not None and reading.is_sound(("print",)) else WrittenPrint()
    usual_papers = usual.papers if written.paper is None else ()
    usual_margins = usual.margins if written.margins is None else None
    usual_printer = usual.printer if written.printer is None else None
    from_shop = {"paper": usual_papers, "margins": usual_margins, "printer": usual_printer}
    joints: Literal["overlap", "butt"] = reading.word(written.joints, ("print", "joints"), JOINTS, "overlap")
    settings = PrintSettings(
        papers=usual_papers or papers(written.paper, ("print", "paper"), reading),
        orientation=reading.word(written.orientation, ("print", "orientation"), ORIENTATIONS, "either"),
        overlap_in=reading.length(written.overlap, ("print", "overlap"), DEFAULT_OVERLAP_IN[joints]),
        margins=usual_margins or margins(written.margins, ("print", "margins"), reading),
        printer=usual_printer or printer(written.printer, ("print", "printer"), reading),
        margins_named=written.margins is not None,
        from_shop=tuple(key for key, value in from_shop.items() if value),
        leave_out_empty=reading.yes_no(
            written.leave_out_empty_sheets, ("print", "leave out empty sheets"), False
        ),
        joints=joints,
        extra_sheets=extra_sheets(written.extra_sheets, reading),
    )
    _check_room(settings, reading)
    return settings


def extra_sheets(written: str | None, reading: FileReading) -> int | None:
    """How many sheets more than the fewest may be spent; None where nothing is written."""
    if written is None:
        return None
    return reading.whole(written, ("print", "extra sheets"), 0, least=0, most=MOST_EXTRA_SHEETS)


def printer(written: str | None, path: KeyPath, reading: FileReading) -> str | None:
    """A printer's name, printed as written."""
    return reading.text(written, path, most=60) or None


def papers(written: str | list[str] | None, path: KeyPath, reading: FileReading) -> tuple[PaperSize, ...]:
    """The papers to choose from; letter, or A4 in a metric file, where nothing is written."""
    default = _paper("A4" if reading.unit == "mm" else "letter", path, reading)
    if written is None or not reading.is_sound(path):
        return (default,) if default else ()
    if isinstance(written, str):
        found = [_paper(written, path, reading)]
    else:
        found = [_paper(text, (*path, place), reading) for place, text in enumerate(written)]
    if not found:
        reading.report(path, "The list of papers is empty", "Write one, such as letter.")
    return tuple(dict.fromkeys(paper for paper in found if paper))


def _paper(text: str, path: KeyPath, reading: FileReading) -> PaperSize | None:
    value = reading.value(text, path)
    if value is None:
        return None
    try:
        paper = read_paper(value, reading.unit)
    except PaperError as error:
        reading.report(path, error.message, error.remedy)
        return None
    return PaperSize(paper.name, paper.short_in, paper.long_in)


def margins(written: str | WrittenMargins | None, path: KeyPath, reading: FileReading) -> MarginsIn:
    """The unprinted paper along each edge, 1/4 in where nothing is written."""
    if not isinstance(written, WrittenMargins):
        margin = reading.length(written, path, DEFAULT_MARGIN_IN, allow="zero")
        return MarginsIn(margin, margin, margin, margin)
    top, bottom, left, right = (
        reading.length(getattr(written, key), (*path, key), DEFAULT_MARGIN_IN, allow="zero")
        for key in ("top", "bottom", "left", "right")
    )
    return MarginsIn(top, bottom, left, right)


def _check_room(settings: PrintSettings, reading: FileReading) -> None:
    """Margins must leave a view, and two overlaps less than the view, or a sheet shows nothing new.

    Held against the short side, with the wider pair of margins: good for either orientation.
    """
    margins = settings.margins
    lost = max(margins.top_in + margins.bottom_in, margins.left_in + margins.right_in)
    for paper in settings.papers:
        view = paper.short_in - lost
        if view < LEAST_VIEW_IN:
            wrong = f"The margins leave less than {reading.say(LEAST_VIEW_IN)} of {paper.name} paper"
            reading.report(
                ("print", "margins"), wrong, "Write what the printer leaves blank, usually about 1/4 in."
            )
        elif 2 * settings.overlap_in >= view:
            overlap = reading.say(settings.overlap_in)
            wrong = f"An overlap of {overlap} on both sides covers a whole sheet of {paper.name} paper"
            remedy = f"Write less than {reading.say(view / 2)}; 1/2 in is usual."
            reading.report(("print", "overlap"), wrong, remedy)
