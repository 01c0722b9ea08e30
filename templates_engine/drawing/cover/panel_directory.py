"""Turns the circuits of all raceways into the panel's directory: its spaces as they stand, used or not.

::

        odd left        space poles phase into      space poles phase into
                            1 1     A black  A1         2 2, to 4  A black  A2
                            3 1     B red    A1         4 with 2   B red    A2
        down                one column of spaces: 1, 2, 3, 4
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from templates_engine.drawing.cover.page_flow import PageBlock
from templates_engine.drawing.cover.tables import Column, table_abreast
from templates_engine.job.model import Enclosure
from templates_engine.wiring.model import CircuitPhases

Placed = Iterable[tuple[str, CircuitPhases]]
"""(what its raceway is called, the circuit), for every circuit of every raceway."""

_COLUMNS = (
    Column("\nspace", "right", bold=True),
    Column("\npoles"),
    Column("phase,\ncolour"),
    Column("\ninto", gives_way=True),
)


def panel_directory(enclosure: Enclosure, placed: Placed, width: float) -> Iterator[PageBlock]:
    """The panel's spaces in the order of its own directory; nothing where no circuit is known."""
    cells = _cells(enclosure, placed)
    if not cells:
        return
    count = max(enclosure.spaces or 0, *cells)
    rows = [_row(space, cells) for space in range(1, count + 1)]
    parts = (rows,) if enclosure.numbering == "down" else (rows[::2], rows[1::2])
    yield from table_abreast(_COLUMNS, parts, width)


def _cells(enclosure: Enclosure, placed: Placed) -> Mapping[int, list[tuple[str, str, str]]]:
    """(poles, phase and colour, raceway) of whatever stands on each space."""
    cells: dict[int, list[tuple[str, str, str]]] = {}
    for raceway, circuit in placed:
        for index, space in enumerate(circuit.spaces):
            on = f"{circuit.phases[index]} {circuit.colours[index]}" if circuit.phases else ""
            poles = _poles(circuit.spaces, index, enclosure.numbering)
            cells.setdefault(space, []).append((poles, on, raceway))
    return cells


def _poles(spaces: Sequence[int], index: int, numbering: str) -> str:
    """How many poles the breaker has, at its first space, with where the others are: "3, to 9"."""
    first, *others = spaces
    if index > 0:
        return f"with {first}"
    if not others:
        return "1"
    step = 2 if numbering == "odd left" else 1
    if others == [first + step * pole for pole in range(1, len(spaces))]:
        return f"{len(spaces)}, to {others[-1]}"
    return f"{len(spaces)}, with {', '.join(map(str, others))}"


def _row(space: int, cells: Mapping[int, list[tuple[str, str, str]]]) -> list[str]:
    """A space; what two raceways carry of it, both."""
    poles, on, raceways = (
        dict.fromkeys(column) for column in zip(*cells.get(space, [("", "", "")]), strict=True)
    )
    return [str(space), "; ".join(poles), "; ".join(on), ", ".join(raceways)]
