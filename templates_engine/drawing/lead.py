"""Turns one face's plan and the findings into its lead pages: reduced view, scale check, hole table,
findings, cautions.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from templates_engine.checks.model import Finding, Outcome
from templates_engine.drawing.bars import bar, bar_lengths
from templates_engine.drawing.cautions import (
    AT_JOINTS_BUTTED,
    AT_JOINTS_OVERLAPPED,
    AT_THE_EDGES_INSIDE,
    AT_THE_EDGES_INSIDE_UNKNOWN,
    AT_THE_EDGES_OUTSIDE,
    CAUTIONS,
    PRINT_AND_TAPE,
)
from templates_engine.drawing.compass import how_to_hold, side_words, what_distances_run_from
from templates_engine.drawing.figures import figure_sentences
from templates_engine.drawing.flow import (
    Column,
    Piece,
    beside,
    column_of,
    heading,
    paragraph,
    space,
    stack,
    table,
)
from templates_engine.drawing.machine_code import sheet_code
from templates_engine.drawing.map import sheet_map
from templates_engine.drawing.reduced import CARD_WIDTH_IN, card_outline, reduced_view
from templates_engine.drawing.shapes import Page, Shape, Words
from templates_engine.drawing.sheet import draft_stamp
from templates_engine.drawing.style import HEAD_PT, SMALL_PT, TEXT_PT, line_height_in
from templates_engine.drawing.words import set_words, shortened
from templates_engine.geometry import Point, Rect
from templates_engine.job.model import Job, MarkFrom
from templates_engine.layout.model import Gap, Hole
from templates_engine.sheets.measured import spans_to_measure
from templates_engine.sheets.model import FacePlan, SheetPlan
from templates_engine.sheets.readings import hole_spans
from templates_engine.units import Speech

CODE_IN = 0.85
"""Side of the square the matrix code takes, its white border included."""
MOST_WIDTH_IN = 10.5
"""Lead pages are set no wider than this, however wide the paper: long lines are hard to read."""


def lead_pages(
    job: Job, plan: SheetPlan, face: FacePlan, findings: Sequence[Finding], draft: bool
) -> tuple[Page, ...]:
    """The lead pages of one face, on the plan's paper."""
    margins = plan.margins
    area = Rect(
        margins.left_in,
        margins.bottom_in,
        plan.page_width_in - margins.right_in,
        plan.page_height_in - margins.top_in,
    )
    width = min(area.width, MOST_WIDTH_IN)
    speech = Speech(job.unit, job.denominator)
    body = Rect(area.left, area.bottom + 0.22, area.left + width, area.top)
    pieces = [
        _head(job, face, width, draft),
        reduced_view(face, speech, width, min(3.4, area.height * 0.28)),
        _scale_block(plan, face, width),
        *_holes(face, speech, width),
        *_cross_check(face, speech, width),
        *_findings(face, findings, width),
        *_sentences("Print and tape", _print_and_tape(plan, face), width),
        *_sentences("Cautions", CAUTIONS, width),
        *_why(plan, width),
        *_sources(job, face, speech, width),
    ]
    pages = stack(pieces, body)
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
        f"fingerprint {face.layout.fingerprint}",
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
    """The card outline, and beside it the bar and the map of the sheets."""
    card = card_outline()
    right_at = CARD_WIDTH_IN + 0.3
    room = width - right_at
    lengths = bar_lengths(room - 0.1)
    words = [*paragraph(f"Measure first: this bar must read {lengths.words}.", room, SMALL_PT, bold=True)]
    if plan.corrected is not None:
        words += paragraph(f"All pages {plan.corrected.words()}; print them there alone.", room)
    bar_piece = Piece(0.48, tuple(bar(lengths, Point(0.0, -0.24), upright=False)))
    parts = [*words, bar_piece]
    if len(face.sheets) > 1 or face.left_out:
        parts += paragraph("The sheets as they lie, printed side up, BACK at the top:", room)
        used = sum(part.height for part in parts)
        high = max(card.height - used - 0.05, 0.5)
        parts.append(Piece(high, tuple(sheet_map(face, Rect(0.0, -high + 0.05, min(room, 4.5), -0.03)))))
    return beside(card, column_of(parts), right_at)


def _holes(face: FacePlan, speech: Speech, width: float) -> Iterator[Piece]:
    start = face.layout.job.face.start_edge
    unit = speech.unit
    yield heading(f"Holes ({unit}): nearest tape mark, and exact")
    columns = [
        Column("\nHole", bold=True),
        Column("\nRaceway", gives_way=True),
        Column(f"centre from\n{start} edge", "right", bold=True),
        Column("\nexact", "right"),
        Column("centre from\nback edge", "right", bold=True),
        Column("\nexact", "right"),
        Column("hole cut\n(limits)", "right"),
        Column("\npilot", "right"),
        Column("centre to\ncentre, next", "right"),
        Column("clear gap,\nalong row", "right"),
    ]
    gaps = {gap.before: gap for row in face.layout.rows for gap in row.gaps}
    following = {a.id: b for row in face.layout.rows for a, b in zip(row.holes, row.holes[1:], strict=False)}
    rows = [
        _hole_cells(hole, following.get(hole.id), gaps.get(hole.id), speech) for hole in face.layout.holes
    ]
    yield from table(columns, rows, width)
    if face.cut_holes:
        yield from paragraph(
            f"Across a joint: {', '.join(face.cut_holes)}. Check the centres against this table before "
            "punching, or print on wider paper.",
            width,
            bold=True,
        )
    for row in face.layout.rows:
        yield from paragraph(
            f"Row {row.row.name}: backs of raceways {speech.say(row.back_line_in)} from the back edge: "
            f"{row.back_line_words}.",
            width,
        )
        if row.moved:
            yield from paragraph(
                f"Moved from where the placing alone puts them: {', '.join(row.moved)}.", width
            )
    yield space(0.08)


def _hole_cells(hole: Hole, following: Hole | None, gap: Gap | None, speech: Speech) -> tuple[str, ...]:
    to_next = "" if following is None else speech.exact(math.dist(hole.centre, following.centre))
    clear = "" if gap is None else speech.exact(gap.provided_in)
    carries = hole.called + (f", to {hole.raceway.to}" if hole.raceway.to else "")
    least, most = speech.exact(hole.hole_least_in), speech.exact(hole.hole_most_in)
    limits = f"{speech.exact(hole.hole_diameter_in)} ({least} to {most})"
    return (
        hole.id,
        carries,
        speech.mark(hole.u_in),
        speech.exact(hole.u_in),
        speech.mark(hole.v_in),
        speech.exact(hole.v_in),
        limits,
        speech.drill(hole.pilot_diameter_in),
        to_next,
        clear,
    )


def _cross_check(face: FacePlan, speech: Speech, width: float) -> Iterator[Piece]:
    """Distances to lay a steel rule on once the sheets are taped."""
    allowed = "0.8 mm" if speech.unit == "mm" else "1/32 in"
    yield heading(f"Check on the metal with a steel rule (allowed: {allowed} over the row)")
    speech = replace(speech, denominator=64)  # a sixteenth's rounding alone would use up what is allowed
    lines: list[tuple[str, str]] = []

    def add(name: str, one: Point, other: Point) -> None:
        lines.append((name, speech.say(math.dist(one, other))))

    for row in face.layout.rows:
        holes = [(hole.id, face.centre_of(hole)) for hole in row.holes]
        (first, at_first), (last, at_last) = holes[0], holes[-1]
        if len(holes) > 1:
            add(f"{first} to {last}", at_first, at_last)
        if len(holes) > 3:
            middle, at_middle = holes[len(holes) // 2]
            add(f"{first} to {middle}", at_first, at_middle)
        for (word, corner), (id, at) in zip(_corners(face), (holes[-1], holes[0]), strict=False):
            add(f"{word} to {id}", corner, at)
    lines += _over_the_joints(face, {pair for pair, _ in lines}, speech)
    yield from table([Column("from, to", bold=True), Column("distance", "right")], lines, width)
    yield space(0.08)


def _over_the_joints(face: FacePlan, listed: set[str], speech: Speech) -> Iterator[tuple[str, str]]:
    """The pairs still lacking before every joint between holes is measured."""
    spans = {" to ".join(span.between): span for span in hole_spans(face)}
    given = [span for pair, span in spans.items() if pair in listed]
    for span in spans_to_measure(face, given):
        yield " to ".join(span.between), speech.say(span.length_in)


def _corners(face: FacePlan) -> tuple[tuple[str, Point], ...]:
    """The corners at the face's start and end a rule can be set to, none where they cannot be told.

    From outside the front ones, as the wall is in the way at the back; from inside the back ones, as the
    front may be open.
    """
    rect, job = face.rule_edges, face.layout.job
    if rect is None:
        return ()
    inside = job.mark_from is MarkFrom.INSIDE
    y, words = (rect.top, "back corner inside") if inside else (rect.bottom, "front corner")
    xs = (rect.left, rect.right) if face.plane.u_runs_right else (rect.right, rect.left)
    edges = (job.face.start_edge, job.face.end_edge)
    return tuple((f"{edge} {words}", Point(x, y)) for edge, x in zip(edges, xs, strict=True))


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


def _print_and_tape(plan: SheetPlan, face: FacePlan) -> tuple[str, ...]:
    job = face.layout.job
    if job.mark_from is MarkFrom.OUTSIDE:
        edges = AT_THE_EDGES_OUTSIDE
    else:
        edges = AT_THE_EDGES_INSIDE_UNKNOWN if job.metal_in is None else AT_THE_EDGES_INSIDE
    joints = AT_JOINTS_BUTTED if any(joint.is_butt for joint in face.joints) else AT_JOINTS_OVERLAPPED
    said = {"paper": plan.paper_name, "orientation": plan.orientation, "edges": edges, "joints": joints}
    return tuple(
        sentence.format(**said) for sentence in PRINT_AND_TAPE if face.joints or sentence != "{joints}"
    )


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
        f"fingerprint {face.layout.fingerprint}, {'rev ' + job.revision if job.revision else 'no revision'}"
    )
    yield Words(
        Point(area.left, area.bottom + 0.03), set_words(shortened(text, SMALL_PT, area.width)), SMALL_PT
    )
