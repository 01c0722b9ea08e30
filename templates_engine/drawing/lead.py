"""Turns one face's plan and the findings into its lead pages: reduced view, scale check, hole table,
findings, cautions.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templates_engine.checks.model import Finding, Outcome
from templates_engine.drawing.bars import bar
from templates_engine.drawing.cautions import (
    AT_JOINTS_BUTTED,
    AT_JOINTS_OVERLAPPED,
    AT_THE_EDGES_INSIDE,
    AT_THE_EDGES_INSIDE_UNKNOWN,
    AT_THE_EDGES_OUTSIDE,
    CAUTIONS,
    PRINT_AND_TAPE,
    PRINT_AND_TAPE_FROM_ROLL,
)
from templates_engine.drawing.compass import how_to_hold, side_words, what_distances_run_from
from templates_engine.drawing.figures import figure_sentences
from templates_engine.drawing.flow import (
    Piece,
    beside,
    column_of,
    heading,
    paragraph,
    space,
    stack,
)
from templates_engine.drawing.lead_tables import cross_check, hole_table
from templates_engine.drawing.machine_code import sheet_code
from templates_engine.drawing.map import sheet_map
from templates_engine.drawing.reduced import CARD_WIDTH_IN, card_outline, reduced_view
from templates_engine.drawing.shapes import Page, Shape, Words
from templates_engine.drawing.sheet import draft_stamp
from templates_engine.drawing.style import HEAD_PT, SMALL_PT, TEXT_PT, line_height_in
from templates_engine.drawing.words import set_words, shortened
from templates_engine.geometry import Point, Rect
from templates_engine.job.model import Job, MarkFrom
from templates_engine.sheets.bars import bar_lengths
from templates_engine.sheets.model import FacePlan, SheetPlan
from templates_engine.units import Speech
from templates_engine.verify.diagnosis import ALLOWED_WORDS

CODE_IN = 0.85
"""Side of the square the matrix code takes, its white border included."""
VIEW_HEIGHTS = ((3.4, 0.28), (2.4, 0.20), (1.7, 0.14))
"""The most the reduced view may take, inches and as a share of the page, the largest first."""
MOST_WIDTH_IN = 10.5
"""Lead pages are set no wider than this, however wide the paper: long lines are hard to read."""


def lead_pages(
    job: Job, plan: SheetPlan, face: FacePlan, findings: Sequence[Finding], draft: bool
) -> tuple[Page, ...]:
    """The lead pages of one face, on the plan's paper."""
    area = plan.lead_page.printable
    width = min(area.width, MOST_WIDTH_IN)
    speech = Speech(job.unit, job.denominator)
    body = Rect(area.left, area.bottom + 0.22, area.left + width, area.top)
    rest = [
        _scale_block(plan, face, width),
        *hole_table(face, speech, width),
        *cross_check(face, speech, width),
        *_findings(face, findings, width),
        *_sentences("Print and tape", _print_and_tape(plan, face, speech), width),
        *_sentences("Cautions", CAUTIONS, width),
        *_why(plan, width),
        *_sources(job, face, speech, width),
    ]
    head = _head(job, face, width, draft)
    # A smaller view where that saves a page.
    heights = (min(most, area.height * share) for most, share in VIEW_HEIGHTS)
    views = (reduced_view(face, speech, width, height) for height in heights)
    pages = min((stack([head, view, *rest], body) for view in views), key=len)
    word = face.layout.job.face.value
    return tuple(
        Page(
            (*shapes, *_foot(job, face, area, number, len(pages)), *(draft_stamp(area) if draft else ())),
            (),
            f"{word}: lead page" if number == 1 else f"{word}: lead page {number}",
            level=0 if number == 1 else 1,
        )
        for number, shapes in enumerate(pages, 1)
    )


def _head(job: Job, face: FacePlan, width: float, draft: bool) -> Piece:
    """What this is, and beside it the code a phone reads."""
    room = width - CODE_IN - 0.1
    code = Piece(CODE_IN, tuple(sheet_code(job, face, None, Rect(0.0, -CODE_IN, CODE_IN, 0.0))))
    return beside(column_of([*_head_words(job, face, room, draft)]), code, width - CODE_IN)


def _head_words(job: Job, face: FacePlan, width: float, draft: bool) -> Iterator[Piece]:
    step = line_height_in(HEAD_PT)
    title = f"{job.enclosure.mark}: {side_words(face)}"
    stamp = "DRAFT, a check failed: do not cut. " if draft else ""
    detail = [
        job.title,
        f"revision {job.revision}" if job.revision else "",
        job.date,
        f"fingerprint {face.fingerprint}",
        f"{len(face.sheets)} sheet{'s' if len(face.sheets) > 1 else ''}",
        job.code,
    ]
    line = stamp + ", ".join(part for part in detail if part)
    yield Piece(
        step + 0.02,
        (
            Words(
                Point(0, -step * 0.8), set_words(shortened(title, HEAD_PT, width, True)), HEAD_PT, bold=True
            ),
        ),
    )
    yield from paragraph(line, width, TEXT_PT)
    yield from paragraph(how_to_hold(face), width, TEXT_PT)
    yield from paragraph(what_distances_run_from(face, Speech(job.unit, job.denominator)), width, TEXT_PT)
    yield space(0.06)


def _scale_block(plan: SheetPlan, face: FacePlan, width: float) -> Piece:
    """The card outline, and beside it the bar and the map of the sheets; the map alone where the sheets are
    printed elsewhere, for what this page measures tells nothing of them.
    """
    if plan.lead_apart is not None:
        sentences = ["The sheets are in another file: measure the bars on each of them."]
        if plan.corrected is not None:
            sentences.append(f"The sheets are {plan.corrected.words()}; print them there alone.")
        parts = [piece for sentence in sentences for piece in paragraph(sentence, width, bold=True)]
        return column_of([*parts, *_map(face, width, 1.5), space(0.08)])
    card = card_outline()
    right_at = CARD_WIDTH_IN + 0.3
    room = width - right_at
    lengths = bar_lengths(room - 0.1)
    words = [*paragraph(f"Measure first: this bar must read {lengths.words}.", room, SMALL_PT, bold=True)]
    if plan.corrected is not None:
        words += paragraph(f"All pages {plan.corrected.words()}; print them there alone.", room)
    bar_piece = Piece(0.48, tuple(bar(lengths, Point(0.0, -0.24), upright=False)))
    parts = [*words, bar_piece]
    used = sum(part.height for part in parts) + line_height_in(TEXT_PT)
    parts += _map(face, room, max(card.height - used - 0.05, 0.5))
    return beside(card, column_of(parts), right_at)


def _map(face: FacePlan, room: float, high: float) -> Iterator[Piece]:
    """How the sheets lie, where there is more than one."""
    if len(face.sheets) > 1 or face.left_out:
        yield from paragraph("The sheets as they lie, printed side up, BACK at the top:", room)
        yield Piece(high, tuple(sheet_map(face, Rect(0.0, -high + 0.05, min(room, 4.5), -0.03))))


def _findings(face: FacePlan, findings: Sequence[Finding], width: float) -> Iterator[Piece]:
    mine = [item for item in findings if item.face in ("", face.layout.job.face.value)]
    shown = [item for item in mine if item.outcome in (Outcome.FAIL, Outcome.CAUTION)]
    passed = [item.check for item in mine if item.outcome is Outcome.OK]
    open_questions: dict[str, list[str]] = {}
    for item in mine:
        if item.outcome is Outcome.NOT_CHECKED:
            open_questions.setdefault(item.message, []).append(item.check)
    yield heading("Findings")
    for item in shown:
        holes = f" {', '.join(item.holes)}:" if item.holes else ""
        text = (
            f"{item.outcome.value.upper()}, {item.check}:{holes} {item.message} {item.remedy} [{item.source}]"
        )
        yield from paragraph(text, width, indent=0.15, bullet="•")
    for message, checks in open_questions.items():
        yield from paragraph(f"NOT CHECKED, {', '.join(checks)}: {message}", width, indent=0.15, bullet="•")
    if passed:
        yield from paragraph(f"Passed: {', '.join(dict.fromkeys(passed))}.", width)
    if not mine:
        yield from paragraph("Nothing was checked.", width)
    yield space(0.08)


def _print_and_tape(plan: SheetPlan, face: FacePlan, speech: Speech) -> tuple[str, ...]:
    job = face.layout.job
    if job.mark_from is MarkFrom.OUTSIDE:
        edges = AT_THE_EDGES_OUTSIDE
    else:
        edges = AT_THE_EDGES_INSIDE_UNKNOWN if job.metal_in is None else AT_THE_EDGES_INSIDE
    joints = AT_JOINTS_BUTTED if any(joint.is_butt for joint in face.joints) else AT_JOINTS_OVERLAPPED
    said = {
        "paper": plan.paper_name,
        "orientation": plan.orientation,
        "edges": edges,
        "joints": joints,
        "allowed": ALLOWED_WORDS[speech.unit],
    }
    sentences = PRINT_AND_TAPE if plan.lead_apart is None else PRINT_AND_TAPE_FROM_ROLL
    return tuple(sentence.format(**said) for sentence in sentences if face.joints or sentence != "{joints}")


def _sentences(title: str, sentences: Sequence[str], width: float) -> Iterator[Piece]:
    yield heading(title)
    for number, sentence in enumerate(sentences, 1):
        yield from paragraph(sentence, width, indent=0.25, bullet=f"{number}.")
    yield space(0.08)


def _why(plan: SheetPlan, width: float) -> Iterator[Piece]:
    yield heading("Paper")
    for sentence in plan.why:
        yield from paragraph(sentence, width)
    yield space(0.08)


def _sources(job: Job, face: FacePlan, speech: Speech, width: float) -> Iterator[Piece]:
    """Where the figures came from, each once, remembered ones said so."""
    yield heading("Figures used")
    for sentence in figure_sentences(job, face.layout, speech):
        yield from paragraph(sentence, width)


def _foot(job: Job, face: FacePlan, area: Rect, number: int, pages: int) -> Iterator[Shape]:
    text = (
        f"{job.enclosure.mark} {face.layout.job.face.value}, lead page {number} of {pages}, "
        f"fingerprint {face.fingerprint}, {'rev ' + job.revision if job.revision else 'no revision'}"
    )
    yield Words(
        Point(area.left, area.bottom + 0.03), set_words(shortened(text, SMALL_PT, area.width)), SMALL_PT
    )
