"""Turns sheet metal as written, a steel gauge or a thickness, into inches."""

from __future__ import annotations

import re

from templates_engine.trade.not_in_tables import NotInTables, listed
from templates_engine.trade.tables import read_table
from templates_engine.units import LengthError, Unit, exact, read_length

_GAUGE = re.compile(r"([0-9]{1,3})\s*-?\s*(?:ga\.?|gage|gauge)(?:\s+(.+))?", re.I)
_STEEL = ("steel", "sheet steel")
_MOST_IN = 0.5


def thickness(text: str, default_unit: Unit = "in") -> tuple[str, float]:
    """Words and inches for "16 ga", "16 gauge steel", "0.0598 in" or "1.5 mm". Raises NotInTables."""
    plain = " ".join(text.split())
    match = _GAUGE.fullmatch(plain)
    if match:
        return _from_gauge(text, match[1], match[2])
    try:
        return plain, read_length(plain, default_unit, most_in=_MOST_IN)
    except LengthError as error:
        example = plain if plain in _gauges() else "16"
        raise NotInTables(error.message, f"{error.remedy} A gauge is written {example} ga.") from error


def _from_gauge(text: str, number: str, metal: str | None) -> tuple[str, float]:
    gauges = _gauges()
    if metal is not None and metal.lower() not in _STEEL:
        raise NotInTables(
            f"'{text}' is a gauge of other metal than plain steel.",
            "Write its thickness, like 0.063 in or 1.6 mm.",
        )
    if number not in gauges:
        remedy = f"Write {listed(gauges)} ga, or the thickness."
        raise NotInTables(f"'{text}' is no gauge in the table.", remedy)
    return f"{number} ga steel ({exact(gauges[number])} in)", gauges[number]


def _gauges() -> dict[str, float]:
    return {row.text("gauge"): row.inches("thickness") for row in read_table("gauges").rows}
