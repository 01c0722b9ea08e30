"""The fittings of a hole, inside and outside the can, as circles; which collide is for the checks.

::

        outside    [connector | locknut | hub]
        ===========[ metal ]===========
        inside     [locknut][bushing]
"""

from __future__ import annotations

from functools import cache

from templates_engine.job.model import Job
from templates_engine.layout.model import FaceLayout, Hole
from templates_engine.trade.fittings import FittingEnvelope, look_up
from templates_engine.trade.names import NotListed

_WITH_CONNECTOR = ("EMT", "FMC", "LFMC", "LFNC")
_BUSHINGS = {"plain": "plain bushing", "insulated": "insulated bushing", "bonding": "bonding bushing"}
MEASURE_YOUR_OWN = "typical fittings, within about 1/8 in, partly from memory: verify"
REMEDY_FOR_UNLISTED = "Measure the fittings and compare them with the hole table."


def inside(hole: Hole) -> FittingEnvelope:
    """The widest fitting inside: the locknut, or the bushing where one is named. Raises NotListed."""
    bushing = hole.raceway.bushing
    kinds = ["locknut", *([_BUSHINGS[bushing]] if bushing else [])]
    return _widest(hole, kinds)


def outside(hole: Hole, job: Job) -> FittingEnvelope:
    """The fitting outside: connector, locknut, or in a wet place a hub. Raises NotListed."""
    if job.enclosure.location == "wet":
        return _widest(hole, ["hub"])
    return _widest(hole, ["connector" if hole.type in _WITH_CONNECTOR else "locknut"])


def envelope(hole: Hole, kind: str) -> FittingEnvelope:
    """One kind of fitting or die of a hole. Raises NotListed."""
    size = hole.raceway.size
    if size is None:
        raise NotListed(f"{hole.id} has no trade size.", "Write its trade size.")
    return _look_up(kind, size)


_look_up = cache(look_up)
"""A face asks for the same few rows for every pair of its holes."""


def _widest(hole: Hole, kinds: list[str]) -> FittingEnvelope:
    return max((envelope(hole, kind) for kind in kinds), key=lambda each: each.diameter_in)


def is_listed(hole: Hole, kind: str = "locknut") -> bool:
    """Whether the tables know a fitting in this hole's size."""
    try:
        envelope(hole, kind)
    except NotListed:
        return False
    return True


def listed_holes(face: FaceLayout, kind: str = "locknut") -> tuple[Hole, ...]:
    """The holes of a face whose fittings the tables know."""
    return tuple(hole for hole in face.holes if is_listed(hole, kind))


def unlisted_words(face: FaceLayout, kind: str = "locknut") -> dict[str, str]:
    """The others, each with the tables' sentence."""
    why = {}
    for hole in face.holes:
        try:
            envelope(hole, kind)
        except NotListed as error:
            why[hole.id] = error.message
    return why
