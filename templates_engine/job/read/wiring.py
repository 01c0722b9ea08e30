"""Turns what a raceway carries, as written, into its wiring; counting conductors is for the wiring stage."""

from __future__ import annotations

import re
from typing import Literal

from templates_engine.job.model import Circuit, ConductorGroup, RacewayWiring, Wire
from templates_engine.job.read.file_reading import FileReading
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
from templates_engine.job.text.key_paths import KeyPath, shown
from templates_engine.trade.conductors import find_size
from templates_engine.trade.not_in_tables import NotInTables

MOST_POLES = 3
MOST_SPACE = 200
_METAL_NAMES: dict[str, Literal["Cu", "Al"]] = {"copper": "Cu", "aluminium": "Al", "aluminum": "Al"}


NOTHING = RacewayWiring((), None, None, None, True, (), None)
"""What a spare carries."""


def raceway_wiring(
    written: WrittenRaceway, path: KeyPath, spaces: int | None, reading: FileReading
) -> RacewayWiring | None:
    """What a raceway carries, None where nothing is said of it; ``spaces`` are the panel's, where given."""
    keys = ("circuits", "wire", "neutrals", "ground", "conductors", "simultaneous_disconnect", "breaker")
    given = [key for key in keys if getattr(written, key) is not None]
    if reading.yes_no(written.spare, (*path, "spare"), False):
        if given:
            wrong = f"A spare carries nothing, and `{given[0].replace('_', ' ')}` is written too"
            reading.report((*path, "spare"), wrong, "Take one of the two out.")
        return NOTHING
    if not given:
        return None
    return RacewayWiring(
        circuits=_circuits(written, (*path, "circuits"), spaces, reading),
        wire=_wire(written.wire, (*path, "wire"), reading) if written.wire else None,
        neutrals=reading.word(written.neutrals, (*path, "neutrals"), NEUTRALS, None),
        ground=_ground(written.ground, (*path, "ground"), reading),
        ground_named=written.ground is not None,
        conductors=conductor_groups(written.conductors, (*path, "conductors"), reading),
        simultaneous_disconnect=reading.yes_no(
            written.simultaneous_disconnect, (*path, "simultaneous disconnect"), None
        ),
        breaker=_breaker(written, path, reading),
    )


def _breaker(written: WrittenRaceway, path: KeyPath, reading: FileReading) -> int | None:
    here = (*path, "breaker")
    if written.breaker is not None and not written.circuits and reading.is_sound(here):
        wrong = "A breaker is written, and no circuits for it"
        reading.report(
            here, wrong, "Write their spaces, such as circuits: [1, 3]; of conductors, `protected by`."
        )
    return amperes(written.breaker, here, reading)


def _circuits(
    written: WrittenRaceway, path: KeyPath, spaces: int | None, reading: FileReading
) -> tuple[Circuit, ...]:
    taken: dict[int, int] = {}
    return tuple(
        _circuit(entry, (*path, place), spaces, taken, reading)
        for place, entry in enumerate(written.circuits or [])
    )


def _circuit(
    entry: str | WrittenCircuit, path: KeyPath, most: int | None, taken: dict[int, int], reading: FileReading
) -> Circuit:
    if isinstance(entry, str):
        return Circuit((_space(entry, path, most, taken, reading),), None)
    listed_path = (*path, "spaces")
    numbers = tuple(
        _space(text, (*listed_path, place), most, taken, reading)
        for place, text in enumerate(entry.spaces or [])
    )
    if len(numbers) > MOST_POLES:
        remedy = "Write each circuit as an entry of its own."
        reading.report(
            listed_path, f"A circuit of {len(numbers)} poles does not exist; it has 1 to {MOST_POLES}", remedy
        )
    neutral = reading.yes_no(entry.neutral, (*path, "neutral"), None)
    return Circuit(numbers, neutral, amperes(entry.breaker, (*path, "breaker"), reading))


def _space(text: str, path: KeyPath, most: int | None, taken: dict[int, int], reading: FileReading) -> int:
    """A panel space, once in a raceway and no higher than the panel has."""
    number = reading.whole(text, path, 0, most=MOST_SPACE)
    if not reading.is_sound(path):
        return number
    if most is not None and number > most:
        reading.report(
            path,
            f"There is no space {number}; the enclosure has {most}",
            "Correct it, or `spaces` of the enclosure.",
        )
    elif number in taken:
        reading.report(
            path,
            f"Space {number} is in this raceway already, on line {taken[number]}",
            "Take one of the two out.",
        )
    taken.setdefault(number, reading.mark(path).line)
    return number


def _wire(written: WrittenWire, path: KeyPath, reading: FileReading) -> Wire:
    return Wire(
        size=_size(written.size, (*path, "size"), reading),
        insulation=_insulation(written.insulation, (*path, "insulation"), reading),
        metal=reading.word(written.metal, (*path, "metal"), METALS, "Cu", **_METAL_NAMES),
    )


def _size(text: str | None, path: KeyPath, reading: FileReading) -> str:
    """A wire size by its name in the code's tables."""
    value = None if text is None else reading.value(text, path)
    if value is None:
        return ""
    try:
        return find_size(value)
    except NotInTables as error:
        reading.report(path, error.message.removesuffix("."), error.remedy)
        return ""


def _insulation(text: str | None, path: KeyPath, reading: FileReading) -> str:
    """An insulation type's name in capitals, or "bare"; which types have a known area, wiring says."""
    value = reading.text(text, path, "THHN", 20)
    if not re.fullmatch(r"[A-Za-z][A-Za-z0-9 -]*", value):
        reading.report(
            path,
            f"'{shown(value)}' is no insulation type",
            "Write a type such as THHN, THWN-2 or XHHW, or bare.",
        )
    return "bare" if value.lower() == "bare" else value.upper()


def _ground(written: str | WrittenWire | None, path: KeyPath, reading: FileReading) -> Wire | None:
    """The equipment ground; by size alone it is insulated THHN copper."""
    if written is None or not reading.is_sound(path):
        return None
    if isinstance(written, WrittenWire):
        return _wire(written, path, reading)
    if written.strip().lower() == "none":
        return None
    if written.strip().lower() in ("yes", "no", "true", "false"):
        reading.report(path, f"'{shown(written)}' is no wire size", "Write its size, such as 12, or none.")
    return Wire(_size(written, path, reading), "THHN", "Cu")


def conductor_groups(
    written: list[WrittenConductors] | None, path: KeyPath, reading: FileReading
) -> tuple[ConductorGroup, ...]:
    """Conductors listed by count."""
    groups = []
    for place, entry in enumerate(written or []):
        here = (*path, place)
        wire = _wire(entry, here, reading)
        is_bare = wire.insulation == "bare"
        use = reading.word(entry.use, (*here, "use"), USES, "ground" if is_bare else "phase")
        if is_bare and use == "phase":
            reading.report(
                (*here, "use"), "A phase conductor cannot be bare", "Write its insulation, or another use."
            )
        count = reading.whole(entry.count, (*here, "count"))
        together = reading.whole(entry.in_parallel, (*here, "in parallel"))
        if count % together and reading.is_sound((*here, "count")):
            wrong = f"{count} conductors cannot be connected together by {together}"
            reading.report(
                (*here, "in parallel"), wrong, "Write how many of them are one phase in this raceway."
            )
        device = amperes(entry.protected_by, (*here, "protected by"), reading)
        groups.append(ConductorGroup(count, wire, use, device, together))
    return tuple(groups)
