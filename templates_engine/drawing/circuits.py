"""Turns what the raceways carry into the circuits page: phases with their spaces, and what to pull into
each raceway.

The page is laid out in cells about a hand wide with dotted lines between them, so that it folds to a pocket.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from templates_engine.drawing.flow import Piece, column_of, heading, moved, paragraph, space, stack
from templates_engine.drawing.shapes import Line, Page, Pen, Shape, Words
from templates_engine.drawing.style import SMALL_PT, TABLE, TEXT_PT, line_height_in
from templates_engine.drawing.words import set_words, shortened
from templates_engine.geometry import Point, Rect
from templates_engine.job.model import Job
from templates_engine.layout.model import Hole
from templates_engine.sheets.model import SheetPlan
from templates_engine.trade.conductors import with_unit
from templates_engine.wiring.model import Carried, CircuitPhases, Conductors

CELL_WIDTH_IN = 4.25
CELL_HEIGHT_IN = 5.5
CELL_MARGIN_IN = 0.18
FOLD = Pen(0.006, (0.02, 0.08))

Loads = Mapping[tuple[str, str], Carried]
"""What each raceway carries, by the face's word and the hole's id."""

_Runs = Sequence[tuple[str, Hole, Carried]]
"""(how the raceway is called, its hole, its load)"""


def circuit_pages(job: Job, plan: SheetPlan, loads: Loads) -> tuple[Page, ...]:
    """The circuits pages of the job, none when no raceway's load is known."""
    runs = _runs(plan, loads)
    if not runs:
        return ()
    area = plan.lead_page.printable
    columns = max(1, round(area.width / CELL_WIDTH_IN))
    bands = max(1, round(area.height / CELL_HEIGHT_IN))
    cell = Rect(
        CELL_MARGIN_IN,
        CELL_MARGIN_IN,
        area.width / columns - CELL_MARGIN_IN,
        area.height / bands - CELL_MARGIN_IN,
    )
    pieces = [*_title(job, cell.width), *_phases(runs, cell.width)]
    for name, hole, load in runs:
        pieces.append(column_of([*_home_run(name, hole, load, cell.width), space(0.08)]))
    pieces += _words_of_care(cell.width)
    filled = stack(pieces, cell)
    a_page = columns * bands
    return tuple(
        Page(
            (*_folds(area, columns, bands), *_in_cells(filled[first : first + a_page], area, columns, bands)),
            (),
            "circuits" if first == 0 else f"circuits, page {first // a_page + 1}",
        )
        for first in range(0, len(filled), a_page)
    )


def _runs(plan: SheetPlan, loads: Loads) -> _Runs:
    """The raceways that carry something, face after face; named with their face where there are several."""
    several = len(plan.faces) > 1
    return [
        (f"{word} {hole.id}" if several else hole.id, hole, loads[word, hole.id])
        for face in plan.faces
        for word in (face.layout.job.face.value,)
        for hole in face.layout.holes
        if (word, hole.id) in loads
    ]


def _in_cells(cells: Sequence[tuple[Shape, ...]], area: Rect, columns: int, bands: int) -> Iterator[Shape]:
    """Cells in reading order: left to right, top band first."""
    for number, shapes in enumerate(cells):
        left = area.left + (number % columns) * area.width / columns
        bottom = area.top - (number // columns + 1) * area.height / bands
        yield from (moved(shape, left, bottom) for shape in shapes)


def _folds(area: Rect, columns: int, bands: int) -> Iterator[Shape]:
    for number in range(1, columns):
        x = area.left + number * area.width / columns
        yield Line(Point(x, area.bottom), Point(x, area.top), FOLD, "frame")
    for number in range(1, bands):
        y = area.bottom + number * area.height / bands
        yield Line(Point(area.left, y), Point(area.right, y), FOLD, "frame")


def _title(job: Job, width: float) -> Iterator[Piece]:
    yield heading(f"{job.enclosure.mark}: circuits and what to pull", TEXT_PT + 1)
    parts = [
        job.enclosure.system or "system not given",
        job.title,
        f"rev {job.revision}" if job.revision else "",
        job.date,
        job.code,
    ]
    yield from paragraph(", ".join(part for part in parts if part), width)
    yield space(0.08)


def _phases(runs: _Runs, width: float) -> Iterator[Piece]:
    """One lane a phase: its colour word, and under it the spaces in use with the raceway each goes into."""
    lanes: dict[str, tuple[str, list[tuple[int, str]]]] = {}
    for name, _, load in runs:
        for circuit in load.circuits:
            for number, phase, colour in zip(circuit.spaces, circuit.phases, circuit.colours, strict=False):
                lanes.setdefault(phase, (colour, []))[1].append((number, name))
    if not lanes:
        return
    step = line_height_in(SMALL_PT)
    lane_width = width / len(lanes)
    depth = max(len(entries) for _, entries in lanes.values()) + 1
    shapes: list[Shape] = []
    for index, (phase, (colour, entries)) in enumerate(sorted(lanes.items())):
        left = index * lane_width
        title = shortened(f"Phase {phase}: {colour}", SMALL_PT, lane_width - 0.05, True)
        shapes.append(Words(Point(left, -step * 0.8), set_words(title), SMALL_PT, bold=True))
        for row, (number, raceway) in enumerate(sorted(entries), 1):
            text = shortened(f"space {number} in {raceway}", SMALL_PT, lane_width - 0.05)
            shapes.append(Words(Point(left, -step * (row + 0.8)), set_words(text), SMALL_PT))
    shapes.append(Line(Point(0, -step * 1.05), Point(width, -step * 1.05), TABLE, "frame"))
    yield Piece(step * depth + 0.12, tuple(shapes))


def _home_run(name: str, hole: Hole, load: Carried, width: float) -> Iterator[Piece]:
    """What goes into one raceway, in the order a person pulls it, and how full that makes it."""
    to = f" to {hole.raceway.to}" if hole.raceway.to else ""
    title = shortened(f"{name}: {hole.called}{to}", TEXT_PT, width, True)
    step = line_height_in(TEXT_PT)
    yield Piece(
        step, (Words(Point(0, -step * 0.8), set_words(title), TEXT_PT, bold=True),), keep_with_next=True
    )
    sentences = [
        *(_circuit_words(circuit) for circuit in load.circuits),
        *(f"Pull {_conductor_words(group)}." for group in load.groups),
        load.neutrals_why,
        _count_words(load),
        _fill_words(load),
        *load.notes,
    ]
    if load.missing:
        sentences.append(f"Not counted: the job does not give {', '.join(load.missing)}.")
    for sentence in sentences:
        if sentence:
            yield from paragraph(sentence, width, indent=0.12, bullet="·")


def _circuit_words(circuit: CircuitPhases) -> str:
    if not circuit.phases:
        return f"Circuit {circuit.name}."
    on = ", ".join(f"{phase} {colour}" for phase, colour in zip(circuit.phases, circuit.colours, strict=True))
    neutral = "with neutral" if circuit.has_neutral else "no neutral"
    return f"Circuit {circuit.name}: {on}; {neutral}."


def _conductor_words(group: Conductors) -> str:
    wire = group.wire
    metal = " aluminium" if wire.metal == "Al" else ""
    colours = f": {_colour_words(group.colours)}" if group.colours else ""
    use = {"phase": "", "neutral": " neutral", "ground": " ground"}[group.use]
    return f"{group.count} of {with_unit(wire.size)}{metal} {wire.insulation}{use}{colours}"


def _colour_words(colours: Sequence[str]) -> str:
    """Each colour once, with how many where there are several: "2 black, 2 red"."""
    counts = {colour: colours.count(colour) for colour in colours}
    if set(counts.values()) == {1}:
        return ", ".join(counts)
    return ", ".join(f"{count} {colour}" for colour, count in counts.items())


def _count_words(load: Carried) -> str:
    if load.conductor_count is None:
        return ""
    words = f"{load.conductor_count} conductors"
    if load.current_carrying is not None:
        words += f", {load.current_carrying} carry current"
    if load.adjustment_percent is not None:
        words += f": {load.adjustment_percent:g} % of the ampacity"
    return words + "."


def _fill_words(load: Carried) -> str:
    if load.fill is None:
        return load.fill_trouble
    verdict = "" if load.fill.fits else " TOO FULL"
    return f"Fill {load.fill.percent:.1f} % of at most {load.fill.limit_percent:g} %.{verdict}"


def _words_of_care(width: float) -> Iterator[Piece]:
    yield space(0.06)
    yield from paragraph(
        "Colours are common practice; follow the job's. De-energize, lock out, test before touch. "
        "Check against the adopted code and the drawings; a licensed electrician decides.",
        width,
    )
