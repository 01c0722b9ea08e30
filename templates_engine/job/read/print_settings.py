"""Turns `print` as written, or as the shop usually has it, into PrintSettings.

Which paper each face goes on is for the sheet plan.
"""

from __future__ import annotations

from typing import Literal

from templates_engine.job.model import MarginsIn, PaperSize, PrintSettings
from templates_engine.job.schema import JOINTS, ORIENTATIONS, WrittenJob, WrittenMargins, WrittenPrint
from templates_engine.job.shop.defaults import ShopDefaults
from templates_engine.job.written_values import WrittenList, WrittenText
from templates_engine.trade.papers import PaperError, read_paper

DEFAULT_OVERLAP_IN = {"overlap": 0.5, "butt": 0.25}
"""Enough past a joint's line for what is written there; where sheets butt, just enough to cut along."""
MOST_EXTRA_SHEETS = 99
DEFAULT_MARGIN_IN = 0.25
LEAST_VIEW_IN = 2.0
"""What must be left of a sheet between its margins."""


def print_settings(job: WrittenJob, usual: ShopDefaults) -> PrintSettings:
    """The print settings, with paper, margins and overlap held against each other."""
    written = job.print
    if written is None or not written.is_sound:
        written = WrittenPrint(job.reading, ("print",))
    usual_papers = () if written.paper.is_written else usual.papers
    usual_margins = None if written.margins.is_written else usual.margins
    usual_printer = None if written.printer.is_written else usual.printer
    from_shop = {"paper": usual_papers, "margins": usual_margins, "printer": usual_printer}
    joints: Literal["overlap", "butt"] = written.joints.word(JOINTS, "overlap")
    settings = PrintSettings(
        papers=usual_papers or papers(written.paper),
        orientation=written.orientation.word(ORIENTATIONS, "either"),
        overlap_in=written.overlap.length(DEFAULT_OVERLAP_IN[joints]),
        margins=usual_margins or margins(written.margins),
        printer=usual_printer or printer(written.printer),
        margins_named=written.margins.is_written,
        from_shop=tuple(key for key, value in from_shop.items() if value),
        leave_out_empty=written.leave_out_empty_sheets.yes_no(False),
        joints=joints,
        extra_sheets=extra_sheets(written.extra_sheets),
    )
    _check_room(settings, written)
    return settings


def extra_sheets(written: WrittenText) -> int | None:
    """How many sheets more than the fewest may be spent; None where nothing is written."""
    return written.whole(0, least=0, most=MOST_EXTRA_SHEETS) if written.is_written else None


def printer(written: WrittenText) -> str | None:
    """A printer's name, printed as written."""
    return written.printed(most=60) or None


def papers(written: WrittenText | WrittenList[WrittenText]) -> tuple[PaperSize, ...]:
    """The papers to choose from; letter, or A4 in a metric file, where nothing is written."""
    if not (written.is_written and written.is_sound):
        name = "A4" if written.reading.unit == "mm" else "letter"
        default = _paper(WrittenText(written.reading, written.path, name))
        return (default,) if default else ()
    found = [_paper(one) for one in (written if isinstance(written, WrittenList) else [written])]
    if not found:
        written.report("The list of papers is empty", "Write one, such as letter.")
    return tuple(dict.fromkeys(paper for paper in found if paper))


def _paper(written: WrittenText) -> PaperSize | None:
    value = written.value()
    if value is None:
        return None
    try:
        paper = read_paper(value, written.reading.unit)
    except PaperError as error:
        written.report(error.message, error.remedy)
        return None
    return PaperSize(paper.name, paper.short_in, paper.long_in)


def margins(written: WrittenText | WrittenMargins) -> MarginsIn:
    """The unprinted paper along each edge, 1/4 in where nothing is written."""
    if isinstance(written, WrittenText):
        margin = written.length(DEFAULT_MARGIN_IN, allow="zero")
        return MarginsIn(margin, margin, margin, margin)
    sides = (written.top, written.bottom, written.left, written.right)
    return MarginsIn(*(side.length(DEFAULT_MARGIN_IN, allow="zero") for side in sides))


def _check_room(settings: PrintSettings, written: WrittenPrint) -> None:
    """Margins must leave a view, and two overlaps less than the view, or a sheet shows nothing new.

    Held against the short side, with the wider pair of margins: good for either orientation.
    """
    margins = settings.margins
    lost = max(margins.top_in + margins.bottom_in, margins.left_in + margins.right_in)
    for paper in settings.papers:
        view = paper.short_in - lost
        if view < LEAST_VIEW_IN:
            wrong = f"The margins leave less than {written.say(LEAST_VIEW_IN)} of {paper.name} paper"
            written.margins.report(wrong, "Write what the printer leaves blank, usually about 1/4 in.")
        elif 2 * settings.overlap_in >= view:
            overlap = written.say(settings.overlap_in)
            wrong = f"An overlap of {overlap} on both sides covers a whole sheet of {paper.name} paper"
            written.overlap.report(wrong, f"Write less than {written.say(view / 2)}; 1/2 in is usual.")
