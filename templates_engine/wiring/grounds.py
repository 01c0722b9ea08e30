"""Turns a device and the conductors behind it into the least equipment ground that must lie beside them."""

from __future__ import annotations

from fractions import Fraction

from templates_engine.trade.code_tables import Metal, equipment_ground
from templates_engine.trade.conductors import SIZES, circular_mils
from templates_engine.wiring.ampacity import Conditions, least_size
from templates_engine.wiring.model import ProtectedConductors


def least_ground(
    behind: ProtectedConductors,
    metal: Metal,
    conditions: Conditions,
    edition: str,
    *,
    rounded_up: bool = False,
) -> str:
    """The size of the least ground of a metal for conductors behind a device. Raises NotInTables.

    By the device (NEC 250.122(A)); larger where the phases are larger than they need to be, in proportion to
    their circular mils (B); never larger than the phases (A). What they need to be depends on their load,
    which is not known: they are taken to need what the device lets through, or with ``rounded_up`` only so
    much that the device is the next larger.
    """
    by_device = equipment_ground(behind.amperes, metal, edition=edition).size
    least = least_size(behind.wire, conditions, behind.amperes, rounded_up=rounded_up)
    asked = Fraction(circular_mils(by_device))
    if least is not None and circular_mils(behind.wire.size) > circular_mils(least):
        asked *= Fraction(circular_mils(behind.wire.size), circular_mils(least))
    asked = min(asked, Fraction(circular_mils(behind.wire.size)))
    return next((size for size in SIZES if circular_mils(size) >= asked), SIZES[-1])
