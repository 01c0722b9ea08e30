"""Turns what one raceway carries into a table of what to pull, and how full that makes it."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.drawing.cover.page_flow import Column, PageBlock, paragraph, space, table, whole
from templates_engine.drawing.style import TEXT_PT
from templates_engine.layout.model import Hole
from templates_engine.trade.conductors import with_unit
from templates_engine.values import replace
from templates_engine.wiring.model import CircuitPhases, Conductors, RacewayContents

_COLUMNS = (
    Column("pull", "right", bold=True),
    Column("size"),
    Column("insulation"),
    Column("colour"),
    Column("for"),
)


def pulled(name: str, hole: Hole, load: RacewayContents, width: float) -> tuple[PageBlock, ...]:
    """One raceway: its circuits, its conductors a colour a line, neutrals, count and fill."""
    pieces = [*_title(name, hole, width)]
    if load.circuits:
        pieces += paragraph(f"Circuits: {'; '.join(map(_circuit_words, load.circuits))}.", width)
    rows = [row for group in load.groups for row in _rows(group)]
    if rows:
        pieces += table(_COLUMNS, rows, width)
    sentences = [load.neutrals_why, _count_words(load), _fill_words(load), *load.notes]
    pieces += paragraph(" ".join(filter(None, sentences)), width)
    if load.missing:
        lacking = f"Not all is listed: the job does not give {', '.join(load.missing)}. Ask before pulling."
        pieces += paragraph(lacking, width, bold=True)
    return (*whole(pieces), space(0.12))


def _title(name: str, hole: Hole, width: float) -> Iterator[PageBlock]:
    to = f" to {hole.raceway.to}" if hole.raceway.to else ""
    for line in paragraph(f"{name}: {hole.called}{to}", width, TEXT_PT, bold=True):
        yield replace(line, keep_with_next=True)


def _circuit_words(circuit: CircuitPhases) -> str:
    return f"{circuit.name} {'with neutral' if circuit.has_neutral else 'no neutral'}"


def _rows(group: Conductors) -> Iterator[tuple[str, ...]]:
    """Alike conductors, a line for each colour; one line where the job does not say what they serve."""
    wire = group.wire
    counts = {colour: group.colours.count(colour) for colour in group.colours} or {"": group.count}
    metal = " aluminium" if wire.metal == "Al" else ""
    for colour, count in counts.items():
        yield str(count), f"{with_unit(wire.size)}{metal}", wire.insulation, colour, group.use


def _count_words(load: RacewayContents) -> str:
    if load.conductor_count is None:
        return ""
    if load.conductor_count == 0:
        return "Nothing to pull."
    words = f"{load.conductor_count} conductors"
    if load.current_carrying is not None:
        words += f", {load.current_carrying} carry current"
    if load.adjustment_percent is not None:
        words += f": {load.adjustment_percent:g} % of the ampacity"
    return words + "."


def _fill_words(load: RacewayContents) -> str:
    if load.fill is None:
        return load.fill_trouble
    verdict = "" if load.fill.fits else " TOO FULL"
    return f"Fill {load.fill.percent:.1f} % of at most {load.fill.limit_percent:g} %.{verdict}"
