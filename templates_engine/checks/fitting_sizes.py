"""Looks up the fittings of a hole, inside and outside the can, as circles; which collide is for the rules."""

from __future__ import annotations

from collections.abc import Iterator

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


def inside(hole: Hole, site: CheckedFace) -> FittingEnvelope:
    """The widest fitting inside: the locknut, or the bushing where one is named. Raises NotInTables."""
    return raceway_fittings.inside(hole.raceway, site.job)


def outside(hole: Hole, site: CheckedFace) -> FittingEnvelope:
    """The fitting outside: connector, locknut, or in a wet place a hub. Raises NotInTables."""
    return raceway_fittings.outside(hole.raceway, site.job)


def envelope(hole: Hole, kind: FittingKind, site: CheckedFace) -> FittingEnvelope:
    """One kind of fitting or die of a hole. Raises NotInTables."""
    return raceway_fittings.envelope(hole.raceway, kind, site.job)


def is_punched(hole: Hole) -> bool:
    """Whether a punch is used; at a knockout of several rings one is knocked out instead."""
    return raceway_fittings.is_punched(hole.raceway)


def listed_holes(site: CheckedFace, *kinds: FittingKind) -> tuple[Hole, ...]:
    """The holes of a face whose fittings (these kinds, or all) the shop file or the tables know."""
    return tuple(hole for hole in site.face.holes if not why_unlisted(hole, site, *kinds))


def no_figures(site: CheckedFace, *kinds: FittingKind) -> Iterator[NoFigure]:
    """The others, each with the tables' sentence."""
    for hole in site.face.holes:
        if why := why_unlisted(hole, site, *kinds):
            yield NoFigure(hole.id, why)


def why_unlisted(hole: Hole, site: CheckedFace, *kinds: FittingKind) -> str:
    """The tables' sentence when they lack one of these kinds, or of all fittings where none is named."""
    try:
        for kind in kinds:
            envelope(hole, kind, site)
        if not kinds:
            inside(hole, site)
            outside(hole, site)
    except NotInTables as error:
        return error.message
    return ""


def with_shop(source: str, site: CheckedFace) -> str:
    """A rule's source, and the shop file where it gives one of the face's fittings."""
    if not site.job.shop.fittings:
        return source
    has_own = any(
        envelope(hole, kind, site).provenance == MEASURED
        for hole in site.face.holes
        for kind in raceway_fittings.kinds(hole.raceway, site.job, on_strut=True)
        if not why_unlisted(hole, site, kind)
    )
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
