"""Turns what one raceway carries into a table of what to pull, and how full that makes it."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.drawing.cover.page_flow import PageBlock, paragraph, space, whole
from templates_engine.drawing.cover.tables import Column, table
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


def pull_table(name: str, hole: Hole, contents: RacewayContents, width: float) -> tuple[PageBlock, ...]:
    """One raceway: its circuits, its conductors a colour a line, neutrals, count and fill."""
    pieces = [*_title(name, hole, width)]
    if contents.circuits:
        pieces += paragraph(f"Circuits: {'; '.join(map(_circuit_words, contents.circuits))}.", width)
    rows = [row for group in contents.groups for row in _rows(group)]
    if rows:
        pieces += table(_COLUMNS, rows, width)
    sentences = [contents.neutrals_why, _count_words(contents), _fill_words(contents), *contents.notes]
    pieces += paragraph(" ".join(filter(None, sentences)), width)
    if contents.missing:
        keys = ", ".join(contents.missing)
        lacking = f"Not all is listed: the job does not give {keys}. Ask before pulling."
        pieces += paragraph(lacking, width, bold=True)
    return (*whole(pieces), space(0.12))


def _title(name: str, hole: Hole, width: float) -> Iterator[PageBlock]:
    to = f" to {hole.raceway.to}" if hole.raceway.to else ""
    for line in paragraph(f"{name}: {hole.raceway_name}{to}", width, TEXT_PT, bold=True):
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


def _count_words(contents: RacewayContents) -> str:
    if contents.conductor_count is None:
        return ""
    if contents.conductor_count == 0:
        return "Nothing to pull."
    words = f"{contents.conductor_count} conductors"
    if contents.current_carrying is not None:
        words += f", {contents.current_carrying} carry current"
    if contents.adjustment_percent is not None:
        words += f": {contents.adjustment_percent:g} % of the ampacity"
    return words + "."


def _fill_words(contents: RacewayContents) -> str:
    if contents.fill is None:
        return contents.fill_trouble
    verdict = "" if contents.fill.fits else " TOO FULL"
    return f"Fill {contents.fill.percent:.1f} % of at most {contents.fill.limit_percent:g} %.{verdict}"
