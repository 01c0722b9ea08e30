"""Turns the knockouts a face came with into FactoryKnockouts; what goes through them: `in_knockouts.py`."""

from __future__ import annotations

import math
from itertools import pairwise

from templates_engine.job.model import FactoryKnockout, KnockoutRing
from templates_engine.job.read.face_scope import FaceScope
from templates_engine.job.read.file_reading import FileReading
from templates_engine.job.schema import RINGS, WrittenFactoryKnockout
from templates_engine.job.text.key_paths import KeyPath
from templates_engine.trade import knockouts
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceways import METRIC, RacewaySize, look_up

MOST_NAME = 12
_TOLERANCE_IN = 1e-6


def factory_knockouts(
    written: list[WrittenFactoryKnockout], path: KeyPath, scope: FaceScope, reading: FileReading
) -> dict[str, FactoryKnockout]:
    """The knockouts of a face by their names in small letters; none in another, none off the face."""
    found: dict[str, FactoryKnockout] = {}
    for number, entry in enumerate(written):
        here = (*path, number)
        if not reading.is_sound(here):
            continue
        name = reading.text(entry.name, (*here, "name"), f"K{number + 1}", MOST_NAME) or f"K{number + 1}"
        if name.lower() in found:
            line = found[name.lower()].place.line
            wrong = f"A factory knockout of this face is called {name} already, on line {line}"
            reading.report((*here, "name"), wrong, "Write another `name:`.")
        rings = _rings(entry, here, scope, reading)
        if rings:
            found[name.lower()] = FactoryKnockout(
                name,
                reading.place(here),
                reading.word(entry.rings, (*here, "rings"), RINGS, "single"),
                rings,
            )
            _check_apart(found[name.lower()], tuple(found.values())[:-1], here, reading)
    return found


def _check_apart(
    one: FactoryKnockout, others: tuple[FactoryKnockout, ...], path: KeyPath, reading: FileReading
) -> None:
    ring = one.rings[-1]
    for other in (other.rings[-1] for other in others):
        apart_in = math.dist((ring.u_in, ring.v_in), (other.u_in, other.v_in))
        if apart_in < (ring.diameter_in + other.diameter_in) / 2 - _TOLERANCE_IN:
            whose = next(each.name for each in others if each.rings[-1] is other)
            reading.report(path, f"{one.name} lies over {whose}", "Measure the centres of both.")
            return


def _rings(
    written: WrittenFactoryKnockout, path: KeyPath, scope: FaceScope, reading: FileReading
) -> tuple[KnockoutRing, ...]:
    """Its rings, the smallest first; none once something has been reported."""
    texts = [written.sizes] if isinstance(written.sizes, str) else written.sizes or []
    sizes = [_size(text, (*path, "sizes"), reading) for text in texts]
    _check_kind(written, len(texts), path, reading)
    along = _centres(written.along, (*path, "along"), len(texts), scope.width_in, scope.start, reading)
    back = "the back edge"
    across = _centres(written.from_back, (*path, "from back"), len(texts), scope.depth_in, back, reading)
    known = [size for size in sizes if size is not None]
    if len(known) < len(sizes) or not known or len(along) < len(known) or len(across) < len(known):
        return ()
    rings = sorted(
        (
            KnockoutRing(size.trade_size, u, v, knockouts.look_up(size).nominal_in)
            for size, u, v in zip(known, along, across, strict=True)
        ),
        key=lambda ring: ring.diameter_in,
    )
    _check_rings(rings, path, scope, reading)
    return tuple(rings)


def _size(text: str, path: KeyPath, reading: FileReading) -> RacewaySize | None:
    """The size whose fittings go through a ring: a trade size, or that of metric conduit."""

    def either(text: str) -> RacewaySize:
        try:
            return look_up(METRIC, text)
        except NotInTables:
            return look_up("RMC", text)

    return reading.from_tables(text, path, either)


def _check_kind(written: WrittenFactoryKnockout, sizes: int, path: KeyPath, reading: FileReading) -> None:
    """Rings that are not said to have one centre may have several; one ring has no others."""
    kind = reading.word(written.rings, (*path, "rings"), RINGS, None)
    is_eccentric = kind == "eccentric"
    if sizes > 1 and written.rings is None:
        wrong = "Nothing says whether its rings have one centre"
        reading.report((*path, "rings"), wrong, "Write rings: concentric, or eccentric.")
    elif (sizes > 1 and kind == "single") or (sizes == 1 and kind in ("concentric", "eccentric")):
        wrong = f"A knockout of {sizes} size{'s' if sizes > 1 else ''} is not {kind}"
        remedy = (
            "Write rings: concentric, or eccentric."
            if sizes > 1
            else "List all sizes it serves, or write rings: single."
        )
        reading.report((*path, "rings"), wrong, remedy)
    several = isinstance(written.along, list) or isinstance(written.from_back, list)
    if is_eccentric and sizes > 1 and not several and written.along and written.from_back:
        wrong = "The rings of an eccentric knockout have centres of their own"
        remedy = "Write one distance for each size, in the order of `sizes`: from back: [1-1/4 in, 1-3/8 in]."
        reading.report((*path, "from back"), wrong, remedy)
    elif several and not is_eccentric and kind is not None:
        key = "along" if isinstance(written.along, list) else "from back"
        reading.report((*path, key), f"The rings of a {kind} knockout have one centre", "Write one distance.")


def _centres(
    written: str | list[str] | None,
    path: KeyPath,
    count: int,
    most_in: float,
    from_what: str,
    reading: FileReading,
) -> list[float]:
    """A distance for each size; none once something has been reported."""
    texts = written if isinstance(written, list) else [written] * count
    if len(texts) != count:
        wrong = f"{len(texts)} distances are given for {count} sizes"
        reading.report(path, wrong, "Write one for each size, in the order of `sizes`.")
    found = [reading.length(text, path) for text in texts]
    for distance_in in found:
        if distance_in > most_in:
            centre, end = reading.say(distance_in), reading.say(most_in)
            wrong = f"The centre at {centre} is off the face, which ends at {end}"
            reading.report(path, wrong, f"Measure it from {from_what} of the enclosure.")
    return found if reading.is_sound(path) else []


def _check_rings(rings: list[KnockoutRing], path: KeyPath, scope: FaceScope, reading: FileReading) -> None:
    """Every ring is another size's, lies in the next larger one, and the largest is on the face."""
    for inner, outer in pairwise(rings):
        room_in = (outer.diameter_in - inner.diameter_in) / 2
        aside_in = math.dist((inner.u_in, inner.v_in), (outer.u_in, outer.v_in))
        if room_in < _TOLERANCE_IN:
            wrong = f"Sizes {inner.trade_size} and {outer.trade_size} are one ring"
            reading.report((*path, "sizes"), wrong, "Write each size once.")
        elif aside_in > room_in + _TOLERANCE_IN:
            wrong = f"The ring of {inner.trade_size} is not within that of {outer.trade_size}"
            reading.report(path, wrong, "Measure the centre of each ring.")
    last = rings[-1]
    half = last.diameter_in / 2
    for at, most, edges in (
        (last.u_in, scope.width_in, f"{scope.edges[0]} or {scope.edges[1]}"),
        (last.v_in, scope.depth_in, "back or front"),
    ):
        if at - half < -_TOLERANCE_IN or at + half > most + _TOLERANCE_IN:
            ring = f"The ring of {last.trade_size}, {reading.say(last.diameter_in)} across,"
            wrong = f"{ring} runs over the {edges} edge"
            reading.report(path, wrong, "Measure its centre from the enclosure's edges.")
