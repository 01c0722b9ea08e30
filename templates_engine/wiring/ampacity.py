"""Turns a conductor and what lies round it into its ampacity, and that into the largest device for it.

::

    table at the insulation's degrees x adjustment x ambient factor --+
                                                                      +-- the smaller x number in parallel
    table at the terminals' degrees ----------------------------------+
"""

from __future__ import annotations

from typing import Literal

from templates_engine.job.model import Wire
from templates_engine.trade.code_tables import (
    Degrees,
    adjustment,
    ambient_factor,
    ampacity,
    ampacity_sizes,
    device_ratings,
    small_conductor_limit,
)
from templates_engine.trade.conductors import temperature
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.values import Struct

AMBIENT_C = 30.0
"""What the table of ampacities is for, where the job names no other."""
ROUNDED_UP_TO_A = 800
"""Up to this the next larger standard device is allowed (NEC 240.4(B), (C))."""
TERMINALS_FROM = 100
"""Devices of more have terminals of 75 C unless the job says otherwise, others 60 C (NEC 110.14(C))."""
_SUMS_OFF = 1e-6


class Conditions(Struct, frozen=True):
    """What the ampacity of conductors depends on beside themselves."""

    carrying: int
    """Current-carrying conductors in the raceway; in a short nipple, where none are adjusted, 1."""
    ambient_c: float
    place: Literal["dry", "damp", "wet"]
    terminals_c: Degrees | None
    """What the terminals stand, None where the job does not say."""
    in_parallel: int
    """Conductors that are one, over all raceways of the set."""


class Ampacity(Struct, frozen=True):
    """What conductors may carry, with the figures it is made of."""

    amperes: float
    """Of all in parallel."""
    table_amperes: float
    degrees: Degrees
    adjustment_percent: float
    ambient_factor: float
    terminal_amperes: float
    terminals_c: Degrees
    in_parallel: int


def ampacity_of(wire: Wire, conditions: Conditions, device_amperes: float) -> Ampacity:
    """The ampacity of a conductor behind a device. Raises NotInTables."""
    degrees = _degrees(wire, conditions.place)
    usual: Degrees = 75 if device_amperes > TERMINALS_FROM else 60
    terminals = conditions.terminals_c or usual
    table = ampacity(wire.size, wire.metal, degrees)
    percent = adjustment(conditions.carrying).value
    factor = ambient_factor(conditions.ambient_c, degrees)
    at_terminals = ampacity(wire.size, wire.metal, min(terminals, degrees))
    each = min(table * percent * factor / 100, at_terminals)
    return Ampacity(
        each * conditions.in_parallel,
        table,
        degrees,
        percent,
        factor,
        at_terminals,
        terminals,
        conditions.in_parallel,
    )


def _degrees(wire: Wire, place: Literal["dry", "damp", "wet"]) -> Degrees:
    """What the insulation stands there; in a place it is not for, which another check tells, as if dry."""
    found = temperature(wire.insulation, place) or temperature(wire.insulation, "dry")
    if found == 60:
        return 60
    return 75 if found == 75 else 90


def largest_device(wire: Wire, amperes: float, in_parallel: int) -> int:
    """The largest standard device for conductors of so many amperes (NEC 240.4(B), (C), (D)); 0 for none."""
    ratings = device_ratings()
    above = next((rating for rating in ratings if rating >= amperes - _SUMS_OFF), ratings[-1])
    below = max((rating for rating in ratings if rating <= amperes + _SUMS_OFF), default=0)
    rating = above if above <= ROUNDED_UP_TO_A else below
    limit = small_conductor_limit(wire.size, wire.metal)
    return rating if limit is None else min(rating, limit * in_parallel)


def least_size(
    wire: Wire, conditions: Conditions, device_amperes: float, *, rounded_up: bool = False
) -> str | None:
    """The smallest size of that make-up that carries what a device lets through, or with ``rounded_up`` for
    which the device is allowed as the next larger; None where none is listed.
    """
    for size in ampacity_sizes(wire.metal):
        candidate = Wire(size, wire.insulation, wire.metal)
        try:
            amperes = ampacity_of(candidate, conditions, device_amperes).amperes
        except NotInTables:
            continue
        largest = largest_device(candidate, amperes, conditions.in_parallel)
        if largest >= device_amperes and (rounded_up or amperes >= device_amperes - _SUMS_OFF):
            return size
    return None
