"""Turns what a raceway carries, as written, into its wiring; counting conductors is for the wiring stage."""

from __future__ import annotations

import re
from typing import Literal

from templates_engine.job.model import Circuit, ConductorGroup, RacewayWiring, Wire
from templates_engine.job.read.quantities import amperes
from templates_engine.job.schema import (
    METALS,
    NEUTRALS,
    USES,
    WrittenCircuit,
    WrittenConductors,
    WrittenRaceway,
    WrittenWire,
)
from templates_engine.job.text.key_paths import shown
from templates_engine.job.written_values import WrittenList, WrittenText
from templates_engine.trade.conductors import find_size

MOST_POLES = 3
MOST_SPACE = 200
_METAL_NAMES: dict[str, Literal["Cu", "Al"]] = {"copper": "Cu", "aluminium": "Al", "aluminum": "Al"}


NOTHING = RacewayWiring((), None, None, None, True, (), None)
"""What a spare carries."""


def raceway_wiring(written: WrittenRaceway, spaces: int | None) -> RacewayWiring | None:
    """What a raceway carries, None where nothing is said of it; ``spaces`` are the panel's, where given."""
    carried = (written.circuits, written.wire, written.neutrals, written.ground, written.conductors)
    how = (written.simultaneous_disconnect, written.breaker)
    given = [value for value in (*carried, *how) if value is not None and value.is_written]
    if written.spare.yes_no(False):
        if given:
            wrong = f"A spare carries nothing, and `{given[0].path[-1]}` is written too"
            written.spare.report(wrong, "Take one of the two out.")
        return NOTHING
    if not given:
        return None
    return RacewayWiring(
        circuits=_circuits(written.circuits, spaces),
        wire=_wire(written.wire) if written.wire else None,
        neutrals=written.neutrals.word(NEUTRALS, None),
        ground=_ground(written.ground),
        ground_named=written.ground.is_written,
        conductors=conductor_groups(written.conductors),
        simultaneous_disconnect=written.simultaneous_disconnect.yes_no(None),
        breaker=_breaker(written),
    )


def _breaker(written: WrittenRaceway) -> int | None:
    breaker = written.breaker
    if breaker.is_written and not written.circuits:
        wrong = "A breaker is written, and no circuits for it"
        breaker.report(wrong, "Write their spaces, such as circuits: [1, 3]; of conductors, `protected by`.")
    return amperes(breaker)


def _circuits(written: WrittenList[WrittenText | WrittenCircuit], spaces: int | None) -> tuple[Circuit, ...]:
    taken: dict[int, int] = {}
    return tuple(_circuit(entry, spaces, taken) for entry in written)


def _circuit(entry: WrittenText | WrittenCircuit, most: int | None, taken: dict[int, int]) -> Circuit:
    if isinstance(entry, WrittenText):
        return Circuit((_space(entry, most, taken),), None)
    numbers = tuple(_space(text, most, taken) for text in entry.spaces)
    if len(numbers) > MOST_POLES:
        wrong = f"A circuit of {len(numbers)} poles does not exist; it has 1 to {MOST_POLES}"
        entry.spaces.report(wrong, "Write each circuit as an entry of its own.")
    return Circuit(numbers, entry.neutral.yes_no(None), amperes(entry.breaker))


def _space(written: WrittenText, most: int | None, taken: dict[int, int]) -> int:
    """A panel space, once in a raceway and no higher than the panel has."""
    number = written.whole(0, most=MOST_SPACE)
    if not written.is_sound:
        return number
    if most is not None and number > most:
        wrong = f"There is no space {number}; the enclosure has {most}"
        written.report(wrong, "Correct it, or `spaces` of the enclosure.")
    elif number in taken:
        wrong = f"Space {number} is in this raceway already, on line {taken[number]}"
        written.report(wrong, "Take one of the two out.")
    taken.setdefault(number, written.line)
    return number


def _wire(written: WrittenWire) -> Wire:
    return Wire(
        size=_size(written.size),
        insulation=_insulation(written.insulation),
        metal=written.metal.word(METALS, "Cu", **_METAL_NAMES),
    )


def _size(written: WrittenText) -> str:
    """A wire size by its name in the code's tables."""
    return written.from_tables(find_size) or ""


def _insulation(written: WrittenText) -> str:
    """An insulation type's name in capitals, or "bare"; which types have a known area, wiring says."""
    value = written.printed("THHN", 20)
    if not re.fullmatch(r"[A-Za-z][A-Za-z0-9 -]*", value):
        wrong = f"'{shown(value)}' is no insulation type"
        written.report(wrong, "Write a type such as THHN, THWN-2 or XHHW, or bare.")
    return "bare" if value.lower() == "bare" else value.upper()


def _ground(written: WrittenText | WrittenWire) -> Wire | None:
    """The equipment ground; by size alone it is insulated THHN copper."""
    if not (written.is_written and written.is_sound):
        return None
    if isinstance(written, WrittenWire):
        return _wire(written)
    if written.spelled == "none":
        return None
    if written.spelled in ("yes", "no", "true", "false"):
        wrong = f"'{shown(written.text or '')}' is no wire size"
        written.report(wrong, "Write its size, such as 12, or none.")
    return Wire(_size(written), "THHN", "Cu")


def conductor_groups(written: WrittenList[WrittenConductors]) -> tuple[ConductorGroup, ...]:
    """Conductors listed by count."""
    return tuple(_conductor_group(entry) for entry in written)


def _conductor_group(entry: WrittenConductors) -> ConductorGroup:
    wire = _wire(entry)
    is_bare = wire.insulation == "bare"
    use = entry.use.word(USES, "ground" if is_bare else "phase")
    if is_bare and use == "phase":
        entry.use.report("A phase conductor cannot be bare", "Write its insulation, or another use.")
    count, together = entry.count.whole(), entry.in_parallel.whole()
    if count % together and entry.count.is_sound:
        wrong = f"{count} conductors cannot be connected together by {together}"
        entry.in_parallel.report(wrong, "Write how many of them are one phase in this raceway.")
    return ConductorGroup(count, wire, use, amperes(entry.protected_by), together)
