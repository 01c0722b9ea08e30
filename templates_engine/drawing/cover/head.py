"""Turns a face's plan into the top of its cover page: what it is, what moved holes, what to measure first."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.drawing.cover.cautions import MEASURE_FIRST, MEASURE_FIRST_FROM_ROLL
from templates_engine.drawing.cover.page_flow import (
    PageBlock,
    beside,
    bullet,
    column_of,
    moved,
    paragraph,
    space,
)
from templates_engine.drawing.cover.reduced_view import reduced_view
from templates_engine.drawing.edge_directions import how_to_hold, side_words, what_distances_run_from
from templates_engine.drawing.hole_lists import hole_list
from templates_engine.drawing.qr_code import sheet_code
from templates_engine.drawing.scale_bars import bar
from templates_engine.drawing.shapes import DrawnRect, Line, Shape, Words
from templates_engine.drawing.style import HEAD_PT, SMALL_PT, TABLE, TEXT_PT, line_height_in
from templates_engine.drawing.words import set_words, shortened, width_in
from templates_engine.geometry import Point, Rect
from templates_engine.job.model import Job
from templates_engine.layout.model import Layout
from templates_engine.sheets.model import FacePlan, SheetPlan
from templates_engine.sheets.scale_bars import bar_lengths
from templates_engine.units import MM_PER_INCH, LengthFormat, Unit
from templates_engine.verify.next_readings import ALLOWED_WORDS

CODE_IN = 0.85
"""Side of the square the matrix code takes, its white border included."""
CARD_WIDTH_IN = 85.60 / MM_PER_INCH
CARD_HEIGHT_IN = 53.98 / MM_PER_INCH
CARD_CORNER_IN = 3.18 / MM_PER_INCH
CARD_INSET_IN = 0.24
CARD_TAKES_IN = CARD_WIDTH_IN + 0.3
VIEW_BESIDE_IN = 1.5
"""The most the reduced view may take beside the card."""
WRITE_IN_IN = 0.27
"""From one line to be written on to the next."""


# --- what it is ---------------------------------------------------------------------------------------------


def head(layout: Layout, face: FacePlan, width: float, draft: bool) -> Iterator[PageBlock]:
    """What this is, beside it the code a phone reads; then what moved or could move a hole."""
    job = layout.job
    room = width - CODE_IN - 0.1
    code = PageBlock(CODE_IN, tuple(sheet_code(job, face, None, Rect(0.0, -CODE_IN, CODE_IN, 0.0))))
    yield beside(column_of(_head_words(job, face, room, draft)), code, width - CODE_IN)
    yield from _notes(layout, face, width)
    yield space(0.08)


def _head_words(job: Job, face: FacePlan, width: float, draft: bool) -> Iterator[PageBlock]:
    step = line_height_in(HEAD_PT)
    title = shortened(f"{job.enclosure.mark}: {side_words(face)}", HEAD_PT, width, True)
    yield PageBlock(step + 0.02, (Words(Point(0, -step * 0.8), set_words(title), HEAD_PT, bold=True),))
    stamp = "DRAFT, a check failed: do not cut. " if draft else ""
    detail = (
        job.title,
        f"revision {job.revision}" if job.revision else "no revision",
        job.date,
        f"fingerprint {face.fingerprint}",
        f"{len(face.sheets)} sheet{'s' if len(face.sheets) > 1 else ''}",
        job.code,
    )
    yield from paragraph(stamp + ", ".join(filter(None, detail)), width, TEXT_PT)
    yield from paragraph(how_to_hold(face), width, TEXT_PT)
    yield from paragraph(what_distances_run_from(face, job.lengths), width, TEXT_PT)


def _notes(layout: Layout, face: FacePlan, width: float) -> Iterator[PageBlock]:
    """What moved holes of this face unasked, and which where that is not all of them."""
    holes = face.layout.holes
    for note in layout.notes:
        ids = [hole.id for hole in holes if hole.id in note.holes]
        if note.face not in ("", face.layout.job.face.value) or (note.holes and not ids):
            continue
        which = f"{hole_list(ids, holes)}: " if ids and len(ids) < len(holes) else ""
        words = f"{which}{note.words}".replace("`", "'").rstrip(".")
        sentence = f"{words[0].upper()}{words[1:]}."
        yield from bullet(sentence, width, TEXT_PT, bold=True)


# --- measure first ------------------------------------------------------------------------------------------


def measure_first(plan: SheetPlan, unit: Unit, width: float) -> PageBlock:
    """The card outline and beside it the bar and lines to write on; where the sheets are printed elsewhere,
    only words and lines, for what this page measures tells nothing of them.
    """
    if plan.cover_apart is not None:
        return _measure_elsewhere(plan, unit, width)
    card = _card(unit)
    parts = [*_bar(plan, width - CARD_TAKES_IN)]
    lines = int((card.height - sum(part.height for part in parts)) / WRITE_IN_IN)
    parts += _write_in(width - CARD_TAKES_IN, max(lines - 1, 1))
    return column_of([beside(card, column_of(parts), CARD_TAKES_IN), space(0.08)])


def measure_first_with_view(
    plan: SheetPlan, face: FacePlan, lengths: LengthFormat, width: float
) -> PageBlock:
    """The same with the reduced view under the bar, beside the card: a page saved."""
    room = width - CARD_TAKES_IN
    parts = [*_bar(plan, room), *_write_in(room, 1), space(0.1)]
    view = reduced_view(face, lengths, room, VIEW_BESIDE_IN)
    return column_of([beside(_card(lengths.unit), column_of([*parts, view]), CARD_TAKES_IN), space(0.08)])


def _card(unit: Unit) -> PageBlock:
    """An ID-1 card at true size (ISO/IEC 7810: 85.60 x 53.98 mm, corner radius 3.18 mm): a check without a
    rule.
    """
    outline = Rect(0.02, -CARD_HEIGHT_IN - 0.02, 0.02 + CARD_WIDTH_IN, -0.02)
    width = CARD_WIDTH_IN - 2 * CARD_INSET_IN
    words = column_of(
        [
            *paragraph("Lay a bank or ID card here.", width, bold=True),
            *paragraph(
                "All four edges must meet the line; if they do not, this print is not true size.", width
            ),
            space(0.1),
            *paragraph(MEASURE_FIRST.format(allowed=ALLOWED_WORDS[unit]), width),
        ]
    )
    inside = (moved(shape, CARD_INSET_IN, -CARD_INSET_IN) for shape in words.shapes)
    return PageBlock(
        CARD_HEIGHT_IN + 0.12, (DrawnRect(outline, TABLE, "ruler", corner=CARD_CORNER_IN), *inside)
    )


def _bar(plan: SheetPlan, room: float) -> Iterator[PageBlock]:
    lengths = bar_lengths(room - 0.1)
    yield from paragraph(f"Measure first: this bar must read {lengths.words}.", room, TEXT_PT, bold=True)
    yield PageBlock(0.48, tuple(bar(lengths, Point(0.0, -0.24), upright=False)))
    if plan.corrected is not None:
        yield from paragraph(f"All pages {plan.corrected.words()}; print them there alone.", room)
    if plan.other_paper_words:
        yield from paragraph(plan.other_paper_words, room, bold=True)


def _measure_elsewhere(plan: SheetPlan, unit: Unit, width: float) -> PageBlock:
    sentences = ["The sheets are in another file: measure the bars on each of them."]
    if plan.corrected is not None:
        sentences.append(f"The sheets are {plan.corrected.words()}; print them there alone.")
    if plan.other_paper_words:
        sentences.append(plan.other_paper_words)
    parts = [piece for sentence in sentences for piece in paragraph(sentence, width, bold=True)]
    parts += paragraph(MEASURE_FIRST_FROM_ROLL.format(allowed=ALLOWED_WORDS[unit]), width)
    return column_of([*parts, *_write_in(width, 1), space(0.12)])


def _write_in(width: float, note_lines: int) -> Iterator[PageBlock]:
    """Lines for whoever marks the metal: name, date and notes."""
    date_at = width * 0.64
    yield PageBlock(
        WRITE_IN_IN,
        (*_blank("Marked by", 0.0, date_at - 0.12), *_blank("date", date_at, width)),
    )
    for number in range(note_lines):
        yield PageBlock(WRITE_IN_IN, tuple(_blank("notes" if number == 0 else "", 0.0, width)))


def _blank(word: str, left: float, right: float) -> Iterator[Shape]:
    base = -WRITE_IN_IN + 0.03
    if word:
        yield Words(Point(left, base), (word,), SMALL_PT)
        left += width_in(word, SMALL_PT) + 0.08
    yield Line(Point(left, base), Point(right, base), TABLE, "frame")
