"""Turns the knockouts a face came with into places for raceways, and what is left of them into keep-outs."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from templates_engine.job.model import CentreLine, FactoryKnockout, KeepOut, KnockoutRing, Raceway
from templates_engine.job.read.face_scope import FaceScope
from templates_engine.job.read.file_reading import FileReading
from templates_engine.job.schema import RINGS, WrittenFactoryKnockout, WrittenRaceway
from templates_engine.job.text.key_paths import KeyPath
from templates_engine.trade import knockouts
from templates_engine.trade.names import NotListed, listed
from templates_engine.trade.raceways import METRIC, RacewaySize, look_up
from templates_engine.values import replace

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
            kind = reading.word(entry.rings, (*here, "rings"), RINGS, "single")
            found[name.lower()] = FactoryKnockout(name, reading.place(here), kind, rings)
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
        except NotListed:
            return look_up("RMC", text)

    return reading.listed(text, path, either)


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


# --- a raceway in one of them -------------------------------------------------------------------------------


def in_knockout(
    raceway: Raceway, written: WrittenRaceway, path: KeyPath, scope: FaceScope, reading: FileReading
) -> Raceway:
    """The raceway with its centre, and its hole's kind, from the factory knockout that it names."""
    key_path = (*path, "factory knockout")
    if written.factory_knockout is None:
        return raceway
    name = reading.value(written.factory_knockout, key_path)
    _check_alone(written, path, reading)
    knockout = scope.knockouts.get((name or "").lower())
    if name is None or knockout is None:
        if reading.is_sound((*path[:2], "factory knockouts")) and name is not None:
            _report_unknown(name, key_path, scope, reading)
        return raceway
    other = scope.used.get(name.lower())
    if other is not None:
        wrong = f"{other.id} on line {other.place.line} goes through {knockout.name} already"
        reading.report(key_path, wrong, "Write another factory knockout, or take it out.")
        return raceway
    ring = _ring_for(raceway, knockout, path, reading)
    if ring is not None:
        scope.used[name.lower()] = raceway = replace(
            raceway,
            at_in=ring.u_in,
            centre_v_in=ring.v_in,
            factory_knockout=knockout.name,
            knockout="single" if ring is knockout.rings[-1] else knockout.kind,
            hole=ring.diameter_in if raceway.has_reducing_washers else raceway.hole,
        )
    return raceway


def _check_alone(written: WrittenRaceway, path: KeyPath, reading: FileReading) -> None:
    """Nothing else says where it goes or what makes its hole."""
    for key in ("at", "cutter", "hole", "knockout"):
        if getattr(written, key) is not None:
            wrong = f"`{key}` does not go with `factory knockout`"
            reading.report((*path, key), wrong, "Take it out: the knockout says it.")
    for key in ("gap_before", "spacing_before"):
        if getattr(written, key) is not None:
            wrong = f"`{key.replace('_', ' ')}` does not go with `factory knockout`"
            reading.report((*path, key.replace("_", " ")), wrong, "Take it out: the knockout does not move.")


def _report_unknown(name: str, path: KeyPath, scope: FaceScope, reading: FileReading) -> None:
    names = [one.name for one in scope.knockouts.values()]
    remedy = f"Write {listed(names)}." if names else "List it under `factory knockouts:` of the face."
    reading.report(path, f"The face has no factory knockout '{name}'", remedy)


def _ring_for(
    raceway: Raceway, knockout: FactoryKnockout, path: KeyPath, reading: FileReading
) -> KnockoutRing | None:
    """The ring of a raceway's size, or with reducing washers the next larger one."""
    if raceway.size is None:
        wrong = f"{raceway.id} has no trade size yet, and each ring of {knockout.name} is for one"
        reading.report((*path, "size"), wrong, "Write its trade size, such as size: 1.")
        return None
    try:
        needed_in = knockouts.look_up(raceway.size).nominal_in
    except NotListed as error:
        reading.report((*path, "size"), error.message, error.remedy)
        return None
    for ring in knockout.rings:
        if abs(ring.diameter_in - needed_in) < _TOLERANCE_IN:
            return ring
    serves = listed(ring.trade_size for ring in knockout.rings)
    wrong = f"{knockout.name} has no ring of trade size {raceway.size.trade_size}: it serves {serves}"
    larger = next((ring for ring in knockout.rings if ring.diameter_in > needed_in), None)
    if larger is not None and raceway.has_reducing_washers:
        return larger
    remedy = "Write another, or take `factory knockout:` out for a hole that is cut."
    if larger is not None:
        remedy = f"Write another, or `reducing washers: yes` for its ring of {larger.trade_size}."
    reading.report((*path, "factory knockout"), wrong, remedy)
    return None


def centre_line(written: Sequence[WrittenRaceway], members: Sequence[Raceway]) -> CentreLine | None:
    """The centre line of a row that names none, where all its raceways are in factory knockouts."""
    if not written or any(entry.factory_knockout is None for entry in written):
        return None
    return CentreLine(next((one.centre_v_in for one in members if one.centre_v_in is not None), math.nan))


def check_on_line(line: object, members: Sequence[Raceway], path: KeyPath, reading: FileReading) -> None:
    """The factory knockouts of a row that is lined up by its centres lie on that line."""
    for one in members if isinstance(line, CentreLine) else ():
        if one.centre_v_in is not None and abs(one.centre_v_in - line.at_in) > _TOLERANCE_IN:
            wrong = (
                f"{one.factory_knockout} puts {one.id}'s centre {reading.say(one.centre_v_in)} from the "
                f"back, and the row's centre line is at {reading.say(line.at_in)}"
            )
            reading.report(path, wrong, f"Put {one.id} in a row of its own.")
            return


# --- what is left of them -----------------------------------------------------------------------------------


def rings_left(scope: FaceScope) -> Iterator[KeepOut]:
    """A keep-out for each knockout that nothing uses, and for the rings that stay round a smaller one."""
    for name, knockout in scope.knockouts.items():
        user, ring = scope.used.get(name), knockout.rings[-1]
        if user is not None and user.knockout == "single":
            continue
        half = ring.diameter_in / 2
        yield KeepOut(
            f"factory knockout {knockout.name}" if user is None else f"rings of {knockout.name}",
            knockout.place,
            ring.u_in - half,
            ring.u_in + half,
            ring.v_in - half,
            ring.v_in + half,
            ring.diameter_in,
            None,
            is_factory=True,
        )
