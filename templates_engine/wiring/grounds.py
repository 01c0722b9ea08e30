"""Turns a device and the conductors behind it into the least equipment ground that must lie beside them."""

from __future__ import annotations

from fractions import Fraction

from templates_engine.job.model import Wire
from templates_engine.trade.code_tables import equipment_ground
from templates_engine.trade.conductors import SIZES, circular_mils
from templates_engine.wiring.ampacity import Conditions, least_size
from templates_engine.wiring.model import ProtectedConductors


def least_ground(behind: ProtectedConductors, metal: Wire, conditions: Conditions, edition: str) -> str:
    """The size of the least ground of that wire's metal for conductors behind a device. Raises NotListed.

    By the device (NEC 250.122(A)); larger where the phases are larger than the device asks, in proportion to
    their circular mils (B); never larger than the phases (A).
    """
    by_device = equipment_ground(behind.amperes, metal.metal, edition=edition).size
    least = least_size(behind.wire, conditions, behind.amperes)
    asked = Fraction(circular_mils(by_device))
    if least is not None and circular_mils(behind.wire.size) > circular_mils(least):
        asked *= Fraction(circular_mils(behind.wire.size), circular_mils(least))
    asked = min(asked, Fraction(circular_mils(behind.wire.size)))
    return next((size for size in SIZES if circular_mils(size) >= asked), SIZES[-1])
