"""Looks up the fittings of holes, inside and outside the can, as circles; which collide is for the rules."""

from __future__ import annotations

from templates_engine.checks.checked_face import CheckedFace
from templates_engine.checks.model import NoFigure
from templates_engine.job import raceway_fittings
from templates_engine.job.shop.model import MEASURED
from templates_engine.layout.model import Hole
from templates_engine.trade.fittings import FittingEnvelope, FittingKind
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceways import METRIC, look_up

MEASURE_YOUR_OWN = "typical fittings, within about 1/8 in, partly from memory: verify"
REMEDY_FOR_UNLISTED = "Measure the fittings and write them in the shop file."

Envelopes = tuple[FittingEnvelope, ...]


def fitted_holes(
    site: CheckedFace, *kinds: FittingKind
) -> tuple[list[tuple[Hole, Envelopes]], list[NoFigure]]:
    """The holes of a face with their fittings of these kinds, or where none is named with the widest inside
    and the one outside; and of the others what neither the shop file nor the tables know.
    """
    known: list[tuple[Hole, Envelopes]] = []
    unlisted: list[NoFigure] = []
    for hole in site.face.holes:
        try:
            known.append((hole, _envelopes(hole, site, kinds)))
        except NotInTables as error:
            unlisted.append(NoFigure(hole.id, error.message))
    return known, unlisted


def _envelopes(hole: Hole, site: CheckedFace, kinds: tuple[FittingKind, ...]) -> Envelopes:
    raceway, job = hole.raceway, site.job
    if kinds:
        return tuple(raceway_fittings.envelope(raceway, kind, job) for kind in kinds)
    return raceway_fittings.inside(raceway, job), raceway_fittings.outside(raceway, job)


def with_shop(source: str, site: CheckedFace) -> str:
    """A rule's source, and the shop file where it gives one of the face's fittings."""
    if not site.job.shop.fittings:
        return source
    known = (
        raceway_fittings.known_envelope(hole.raceway, kind, site.job)
        for hole in site.face.holes
        for kind in raceway_fittings.kinds(hole.raceway, site.job, on_strut=True)
    )
    has_own = any(one.provenance == MEASURED for one in known if one)
    return f"{source}; {site.job.shop.source}" if has_own else source


def thread_in(hole: Hole) -> float:
    """The diameter of the thread that goes through a hole, inches: a rigid raceway's of that trade size,
    whatever the type; connectors have the same (common practice, no source).
    """
    if hole.type == METRIC:
        return hole.outside_diameter_in
    try:
        return look_up("RMC", hole.trade_size).outside_diameter_in
    except NotInTables:
        return hole.outside_diameter_in
