"""Turns conductors and a raceway into how full it is, by NEC chapter 9 Table 1 and note 7."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache

from templates_engine.trade import code_tables, conductors, raceway_areas
from templates_engine.trade.raceways import RacewaySize
from templates_engine.wiring.model import Conductors, Fill

NOTE_7_ROUNDS_UP_FROM = 0.8
"""NEC chapter 9, notes to tables, note 7: conductors all of one size, a fraction of 0.8 or more."""

_inside = cache(raceway_areas.internal)
_conductor = cache(conductors.look_up)
"""The same few rows are asked for by every raceway and every check."""


def fill_of(groups: Sequence[Conductors], size: RacewaySize, *, nipple: bool, edition: str) -> Fill:
    """The fill of a raceway, by the areas that the tables print. Raises NotInTables."""
    inside = _inside(size.type, size.trade_size)
    rows = [(group.count, _conductor(group.wire.size, group.wire.insulation)) for group in groups]
    number = sum(count for count, _ in rows)
    areas = {row.area_in2 for _, row in rows}
    return Fill(
        conductor_area_in2=sum(count * row.area_in2 for count, row in rows),
        raceway_area_in2=inside.area_in2,
        limit_percent=limit_percent(number, nipple, edition),
        conductors=number,
        permitted=permitted(inside.area_in2, areas.pop(), nipple=nipple, edition=edition)
        if len(areas) == 1
        else None,
        provenance="; ".join(dict.fromkeys([inside.provenance, *(row.provenance for _, row in rows)])),
    )


def limit_percent(number: int, nipple: bool, edition: str) -> float:
    """The largest fill for a number of conductors, percent; note 4 for a nipple of 24 in at most."""
    return code_tables.fill_limit(number, nipple=nipple, edition=edition).value


def permitted(raceway_area_in2: float, conductor_area_in2: float, *, nipple: bool, edition: str) -> int:
    """The largest number of conductors of one size that a raceway takes, as NEC Annex C counts them."""

    def whole(number: int) -> int:
        return _note_7(limit_percent(number, nipple, edition) / 100 * raceway_area_in2 / conductor_area_in2)

    many = whole(3)
    if many >= 3:
        return many
    return next((number for number in (2, 1) if whole(number) >= number), 0)


def _note_7(number: float) -> int:
    """Down to a whole number, but up from a fraction of 0.8 (1e-9 lets a computed 0.8 be one)."""
    down = math.floor(number)
    return down + 1 if number - down >= NOTE_7_ROUNDS_UP_FROM - 1e-9 else down
