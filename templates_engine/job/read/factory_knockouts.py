"""Turns the knockouts a face came with into FactoryKnockouts; what goes through them: `in_knockouts.py`."""

from __future__ import annotations

import math
from itertools import pairwise

from templates_engine.job.model import FactoryKnockout, KnockoutRing
from templates_engine.job.read.face_scope import FaceScope
from templates_engine.job.schema import RINGS, WrittenFactoryKnockout
from templates_engine.job.written_values import Written, WrittenList, WrittenText
from templates_engine.trade import knockouts
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceways import METRIC, RacewaySize, look_up

MOST_NAME = 12
_TOLERANCE_IN = 1e-6


def factory_knockouts(
    written: WrittenList[WrittenFactoryKnockout], scope: FaceScope
) -> dict[str, FactoryKnockout]:
    """The knockouts of a face by their names in small letters; none in another, none off the face."""
    found: dict[str, FactoryKnockout] = {}
    for number, entry in enumerate(written, start=1):
        if not entry.is_sound:
            continue
        name = entry.name.printed(f"K{number}", MOST_NAME) or f"K{number}"
        if name.lower() in found:
            line = found[name.lower()].place.line
            wrong = f"A factory knockout of this face is called {name} already, on line {line}"
            entry.name.report(wrong, "Write another `name:`.")
        rings = _rings(entry, scope)
        if rings:
            made = FactoryKnockout(name, entry.where, entry.rings.word(RINGS, "single"), rings)
            found[name.lower()] = made
            _check_apart(made, tuple(found.values())[:-1], entry)
    return found


def _check_apart(
    one: FactoryKnockout, others: tuple[FactoryKnockout, ...], written: WrittenFactoryKnockout
) -> None:
    ring = one.rings[-1]
    for other in others:
        beside = other.rings[-1]
        apart_in = math.dist((ring.u_in, ring.v_in), (beside.u_in, beside.v_in))
        if apart_in < (ring.diameter_in + beside.diameter_in) / 2 - _TOLERANCE_IN:
            written.report(f"{one.name} lies over {other.name}", "Measure the centres of both.")
            return


def _rings(written: WrittenFactoryKnockout, scope: FaceScope) -> tuple[KnockoutRing, ...]:
    """Its rings, the smallest first; none once something has been reported."""
    sizes = [
        WrittenText(written.reading, written.sizes.path, one.text).from_tables(_size)
        for one in _texts(written.sizes, 1)
    ]
    _check_kind(written, len(sizes))
    along = _centres(written.along, len(sizes), scope.width_in, scope.start)
    across = _centres(written.from_back, len(sizes), scope.depth_in, "the back edge")
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
    _check_rings(rings, written, scope)
    return tuple(rings)


def _texts(written: WrittenText | WrittenList[WrittenText], count: int) -> list[WrittenText]:
    """What is written for each size: the texts of a list, or one text as often as there are sizes."""
    if isinstance(written, WrittenList):
        return written
    return [written] * count if written.is_written else []


def _size(text: str) -> RacewaySize:
    """The size whose fittings go through a ring: a trade size, or that of metric conduit."""
    try:
        return look_up(METRIC, text)
    except NotInTables:
        return look_up("RMC", text)


def _check_kind(written: WrittenFactoryKnockout, sizes: int) -> None:
    """Rings that are not said to have one centre may have several; one ring has no others."""
    kind = written.rings.word(RINGS, None)
    is_eccentric = kind == "eccentric"
    if sizes > 1 and not written.rings.is_written:
        wrong = "Nothing says whether its rings have one centre"
        written.rings.report(wrong, "Write rings: concentric, or eccentric.")
    elif (sizes > 1 and kind == "single") or (sizes == 1 and kind in ("concentric", "eccentric")):
        wrong = f"A knockout of {sizes} size{'s' if sizes > 1 else ''} is not {kind}"
        remedy = (
            "Write rings: concentric, or eccentric."
            if sizes > 1
            else "List all sizes it serves, or write rings: single."
        )
        written.rings.report(wrong, remedy)
    centres = (written.along, written.from_back)
    several = [one for one in centres if isinstance(one, WrittenList)]
    if is_eccentric and sizes > 1 and not several and all(one.is_written for one in centres):
        wrong = "The rings of an eccentric knockout have centres of their own"
        remedy = "Write one distance for each size, in the order of `sizes`: from back: [1-1/4 in, 1-3/8 in]."
        written.from_back.report(wrong, remedy)
    elif several and not is_eccentric and kind is not None:
        several[0].report(f"The rings of a {kind} knockout have one centre", "Write one distance.")


def _centres(
    written: WrittenText | WrittenList[WrittenText], count: int, most_in: float, from_what: str
) -> list[float]:
    """A distance for each size; none once something has been reported."""
    texts = _texts(written, count)
    if isinstance(written, WrittenList) and len(texts) != count:
        wrong = f"{len(texts)} distances are given for {count} sizes"
        written.report(wrong, "Write one for each size, in the order of `sizes`.")
    found = [WrittenText(written.reading, written.path, one.text).length() for one in texts]
    for distance_in in found:
        check_on_face(written, distance_in, most_in, from_what)
    return found if written.is_sound else []


def check_on_face(written: Written, distance_in: float, most_in: float, from_what: str) -> None:
    """A centre lies on the face."""
    if distance_in > most_in:
        end = written.say(most_in)
        wrong = f"The centre at {written.say(distance_in)} is off the face, which ends at {end}"
        written.report(wrong, f"Measure it from {from_what} of the enclosure.")


def _check_rings(rings: list[KnockoutRing], written: WrittenFactoryKnockout, scope: FaceScope) -> None:
    """Every ring is another size's, lies in the next larger one, and the largest is on the face."""
    for inner, outer in pairwise(rings):
        room_in = (outer.diameter_in - inner.diameter_in) / 2
        aside_in = math.dist((inner.u_in, inner.v_in), (outer.u_in, outer.v_in))
        if room_in < _TOLERANCE_IN:
            wrong = f"Sizes {inner.trade_size} and {outer.trade_size} are one ring"
            written.sizes.report(wrong, "Write each size once.")
        elif aside_in > room_in + _TOLERANCE_IN:
            wrong = f"The ring of {inner.trade_size} is not within that of {outer.trade_size}"
            written.report(wrong, "Measure the centre of each ring.")
    last = rings[-1]
    half = last.diameter_in / 2
    for at, most, edges in (
        (last.u_in, scope.width_in, f"{scope.edges[0]} or {scope.edges[1]}"),
        (last.v_in, scope.depth_in, "back or front"),
    ):
        if at - half < -_TOLERANCE_IN or at + half > most + _TOLERANCE_IN:
            ring = f"The ring of {last.trade_size}, {written.say(last.diameter_in)} across,"
            wrong = f"{ring} runs over the {edges} edge"
            written.report(wrong, "Measure its centre from the enclosure's edges.")
