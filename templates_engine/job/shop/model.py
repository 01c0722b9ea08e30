"""Turns a fitting or punch into its figure: the shop's own where it has one, else the trade tables'.

The one way to these figures for every later stage, so that a layout, its checks and its cover page agree.
Which fittings stand where is for ``raceway_fittings.py``; how a shop file is written, for ``read.py``.
"""

from __future__ import annotations

from functools import cache

from templates_engine.trade import fittings as tables
from templates_engine.trade.fittings import BONDING_LUG, Allowance, FittingEnvelope, FittingKind
from templates_engine.trade.raceways import METRIC, RacewaySize
from templates_engine.values import Struct, replace

MEASURED = "as the shop gives it"
"""How every figure of a shop file was had."""


class ShopFitting(Struct, frozen=True):
    """The room a shop's own fitting or die takes, inches across; a ``type`` of None is every trade-size one.

    ``lug_in`` is how far a bonding bushing's lug stands out beyond its body.
    """

    kind: FittingKind
    type: str | None
    trade_size: str
    across_in: float
    lug_in: float | None = None


class ShopPunch(Struct, frozen=True):
    """A shop's own punch, inches: what it cuts, and the pilot its draw stud goes through."""

    type: str | None
    trade_size: str
    hole_in: float | None
    pilot_in: float | None


class Shop(Struct, frozen=True):
    """A shop's own figures. ``source`` says which shop file they stand in; empty without one."""

    source: str = ""
    fittings: tuple[ShopFitting, ...] = ()
    punches: tuple[ShopPunch, ...] = ()


NO_FIGURES = Shop()


def fitting(shop: Shop, kind: FittingKind, size: RacewaySize) -> FittingEnvelope:
    """The room a fitting takes round a raceway of that size. Raises NotInTables.

    A plain bushing the shop does not give is taken as large as its insulated one, like the tables'.
    """
    own = _own_fitting(shop, kind, size)
    if own is not None:
        return FittingEnvelope(kind, size.trade_size, own.across_in, shop.source, MEASURED)
    if kind == "plain bushing" and _own_fitting(shop, "insulated bushing", size) is not None:
        return replace(fitting(shop, "insulated bushing", size), kind=kind)
    return _listed(kind, size)


_listed = cache(tables.look_up)
"""A face asks for the same few rows for every pair of its holes."""


def bonding_lug(shop: Shop, size: RacewaySize) -> Allowance:
    """How far a bonding bushing's lug stands out beyond its body."""
    own = _own_fitting(shop, "bonding bushing", size)
    if own is None or own.lug_in is None:
        return _allowance(BONDING_LUG)
    return Allowance(BONDING_LUG, own.lug_in, shop.source, MEASURED)


_allowance = cache(tables.allowance)


def punch(shop: Shop, size: RacewaySize) -> ShopPunch | None:
    """The shop's own punch for a raceway's size."""
    found = [one for one in shop.punches if _is_for(one, size)]
    return min(found, key=lambda one: one.type is None, default=None)


def _own_fitting(shop: Shop, kind: FittingKind, size: RacewaySize) -> ShopFitting | None:
    """The shop's figure for this very type of raceway before the one for all types."""
    found = [one for one in shop.fittings if one.kind == kind and _is_for(one, size)]
    return min(found, key=lambda one: one.type is None, default=None)


def _is_for(one: ShopFitting | ShopPunch, size: RacewaySize) -> bool:
    if one.type is None:
        return size.type != METRIC and one.trade_size == size.trade_size
    return (one.type, one.trade_size) == (size.type, size.trade_size)
