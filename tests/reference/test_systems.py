"""Voltages to ground by the systems' names: a wye's second figure, a high leg's by the root of three.

ANSI C84.1 nominal systems; a centre-tapped 240 V delta has its high leg at 120 V times the root of three.
An ungrounded or corner-grounded delta stands at its full voltage.
"""

from __future__ import annotations

import math

import pytest

from templates_engine.wiring.panel import SYSTEMS

TO_GROUND = {
    "208Y/120": 208 / math.sqrt(3),
    "480Y/277": 480 / math.sqrt(3),
    "120/240": 240 / 2,
    "240 delta high leg": 120 * math.sqrt(3),
    "240 delta": 240,
    "480 delta": 480,
}


@pytest.mark.parametrize("name", list(TO_GROUND))
def test_volts_to_ground(name: str) -> None:
    assert SYSTEMS[name].volts_to_ground == round(TO_GROUND[name])


def test_no_system_is_left_out() -> None:
    assert set(SYSTEMS) == set(TO_GROUND)


@pytest.mark.parametrize("name", list(TO_GROUND))
def test_a_neutral_where_the_name_tells_of_one(name: str) -> None:
    """ANSI C84.1: a slash, or a high leg, tells of a point between phases; a plain delta has none."""
    assert SYSTEMS[name].has_neutral == ("/" in name or "high leg" in name)
    assert SYSTEMS[name].is_wye == ("Y" in name)
    assert len(SYSTEMS[name].phases) == len(SYSTEMS[name].colours) == (2 if name == "120/240" else 3)
