"""The fittings of a hole, inside and outside the can, as circles; which collide is for the checks."""

from __future__ import annotations

from templates_engine.job import fitted
from templates_engine.job.model import Job
from templates_engine.job.shop import MEASURED
from templates_engine.layout.model import FaceLayout, Hole
from templates_engine.trade.fittings import FittingEnvelope, FittingKind
from templates_engine.trade.names import NotListed

MEASURE_YOUR_OWN = "typical fittings, within about 1/8 in, partly from memory: verify"
REMEDY_FOR_UNLISTED = "Measure the fittings and write them in the shop file."


def inside(hole: Hole, job: Job) -> FittingEnvelope:
    """The widest fitting inside: the locknut, or the bushing where one is named. Raises NotListed."""
    return fitted.inside(hole.raceway, job)


def outside(hole: Hole, job: Job) -> FittingEnvelope:
    """The fitting outside: connector, locknut, or in a wet place a hub. Raises NotListed."""
    return fitted.outside(hole.raceway, job)


def envelope(hole: Hole, kind: FittingKind, job: Job) -> FittingEnvelope:
    """One kind of fitting or die of a hole. Raises NotListed."""
    return fitted.envelope(hole.raceway, kind, job)


def why_unlisted(hole: Hole, job: Job, *kinds: FittingKind) -> str:
    """The tables' sentence when they lack one of these kinds, or of all fittings where none is named; ""
    else."""
    try:
        for kind in kinds:
            envelope(hole, kind, job)
        if not kinds:
            inside(hole, job)
            outside(hole, job)
    except NotListed as error:
        return error.message
    return ""


def listed_holes(face: FaceLayout, job: Job, *kinds: FittingKind) -> tuple[Hole, ...]:
    """The holes of a face whose fittings (these kinds, or all) the shop file or the tables know."""
    return tuple(hole for hole in face.holes if not why_unlisted(hole, job, *kinds))


def unlisted_words(face: FaceLayout, job: Job, *kinds: FittingKind) -> dict[str, str]:
    """The others, each with the tables' sentence."""
    return {hole.id: words for hole in face.holes if (words := why_unlisted(hole, job, *kinds))}


def with_shop(source: str, face: FaceLayout, job: Job) -> str:
    """A check's source, and the shop file where it gives one of the face's fittings."""
    if not job.shop.fittings:
        return source
    has_own = any(
        envelope(hole, kind, job).how_had == MEASURED
        for hole in face.holes
        for kind in fitted.kinds(hole.raceway, job, on_strut=True)
        if not why_unlisted(hole, job, kind)
    )
    return f"{source}; {job.shop.source}" if has_own else source
