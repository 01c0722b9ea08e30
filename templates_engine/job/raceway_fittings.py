"""Turns a raceway of a job into its fittings, inside and outside the can, as circles round its centre.

::

        outside    [connector | locknut | hub]      [ die, while the hole is punched ]
        ===========[ metal ]===========
        inside     [locknut][bushing]

What they need between them is for the layout, whether they collide for the checks.
"""

from __future__ import annotations

from templates_engine.job.model import Cutter, Job, Raceway
from templates_engine.job.shop import model as shop
from templates_engine.trade.fittings import (
    Allowance,
    FittingEnvelope,
    FittingKind,
    kind_outside,
    kinds_inside,
)
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceways import RacewaySize


def envelope(raceway: Raceway, kind: FittingKind, job: Job) -> FittingEnvelope:
    """One kind of fitting or die of a raceway. Raises NotInTables."""
    return shop.fitting(job.shop, kind, _size(raceway))


def known_envelope(raceway: Raceway, kind: FittingKind, job: Job) -> FittingEnvelope | None:
    """The same; None where neither the shop file nor the tables know its size."""
    try:
        return envelope(raceway, kind, job)
    except NotInTables:
        return None


def each_inside(raceway: Raceway, job: Job) -> tuple[FittingEnvelope, ...]:
    """Every fitting inside: the locknut, and the bushing where one is named. Raises NotInTables."""
    return tuple(envelope(raceway, kind, job) for kind in kinds_inside(raceway.bushing))


def inside(raceway: Raceway, job: Job) -> FittingEnvelope:
    """The widest fitting inside. Raises NotInTables."""
    return max(each_inside(raceway, job), key=lambda each: each.diameter_in)


def outside(raceway: Raceway, job: Job) -> FittingEnvelope:
    """The fitting outside: connector, locknut, or in a wet place a hub. Raises NotInTables."""
    wet = job.enclosure.location == "wet"
    return envelope(raceway, kind_outside(_size(raceway).type, wet=wet), job)


def bonding_lug(raceway: Raceway, job: Job) -> Allowance | None:
    """How far its bonding bushing's lug stands out beyond the body; None without such a bushing."""
    return shop.bonding_lug(job.shop, _size(raceway)) if raceway.bushing == "bonding" else None


def kinds(raceway: Raceway, job: Job, *, on_strut: bool) -> tuple[FittingKind, ...]:
    """All that takes room round a raceway: fittings inside and outside, its strap on strut, a punch's die."""
    return (
        *kinds_inside(raceway.bushing),
        kind_outside(_size(raceway).type, wet=job.enclosure.location == "wet"),
        *(("strap",) if on_strut else ()),
        *(("punch die",) if is_punched(raceway) else ()),
    )


def is_punched(raceway: Raceway) -> bool:
    """Whether a punch is used; at a knockout of several rings one is knocked out instead."""
    return raceway.cutter is Cutter.PUNCH and raceway.knockout == "cut"


def _size(raceway: Raceway) -> RacewaySize:
    if raceway.size is None:
        raise NotInTables(f"{raceway.id} has no trade size.", "Write its trade size.")
    return raceway.size
