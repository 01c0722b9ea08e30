"""Gaps worked out from fittings against what the trade holds: habits, handbook distances, large bushings.

Bodies and locknuts: one published table of fittings, within 1/8 in. Diameters: ANSI C80.1 and C80.3.
"""

from __future__ import annotations

import pytest
from factories import make_face, make_job, make_raceway, make_row

from templates_engine.layout import solve
from templates_engine.layout.model import PlacedRow

HANDBOOK_IN = {
    "1/2": 1.375, "3/4": 1.625, "1": 2.0, "1-1/4": 2.5, "1-1/2": 2.75, "2": 3.375,
    "2-1/2": 4.0, "3": 4.75, "3-1/2": 5.375, "4": 6.0,
}  # fmt: skip
"""From memory: centre to centre of rigid raceways of one size with locknuts, as in handbook tables."""
BUSHING_HABIT_IN = 7 / 8
"""Common practice, no source: what is left between outsides for bonding bushings."""


def fitted(size: str, type: str = "RMC", bushing: str | None = None, on_strut: bool = False) -> PlacedRow:
    raceways = [make_raceway(size, f"A{n}", type=type, bushing=bushing) for n in (1, 2)]  # type: ignore[arg-type]
    back = {} if on_strut else {"back_line": 2.0}
    row = make_row(*raceways, gap="fittings", strut=1.625 if on_strut else None, **back)  # type: ignore[arg-type]
    return solve(make_job(make_face(row, width=40.0, depth=14.0))).faces[0].rows[0]


@pytest.mark.parametrize("size", list(HANDBOOK_IN))
def test_locknuts_alone_need_a_little_less_than_the_handbook_gives(size: str) -> None:
    """The handbook's distances leave fingers room, between 1/16 and 11/16 in: a band, not a proof."""
    first, second = fitted(size).holes
    assert HANDBOOK_IN[size] - 11 / 16 <= second.u_in - first.u_in <= HANDBOOK_IN[size]


@pytest.mark.parametrize("type", ["EMT", "RMC"])
def test_four_inch_bonding_bushings_need_more_than_the_habit(type: str) -> None:
    """One published table: 5.39 in bodies on 4.5 in raceways; 7/8 in between outsides leaves -0.015 in."""
    (gap,) = fitted("4", type, "bonding").gaps
    assert gap.required_in > 5.39 - 4.5 > BUSHING_HABIT_IN
    assert gap.required_in == pytest.approx(5.39 - 4.5 + 1 / 16)
    assert gap.governed_by == "bonding bushings of A1 and A2 inside"


@pytest.mark.parametrize("size", ["1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2"])
def test_smaller_bonding_bushings_fit_the_habit(size: str) -> None:
    """Common practice, no source: 7/8 in leaves them room; the table of bodies bears it out up to 2-1/2."""
    (gap,) = fitted(size, "RMC", "bonding").gaps
    assert gap.required_in <= BUSHING_HABIT_IN + 1 / 16


@pytest.mark.parametrize("size", list(HANDBOOK_IN))
def test_on_strut_the_straps_habit_is_the_least(size: str) -> None:
    """Common practice, no source: 1-1/8 in between outsides for strut straps."""
    (gap,) = fitted(size, "EMT", on_strut=True).gaps
    assert gap.required_in == pytest.approx(1.125)
    assert gap.governed_by == "straps of A1 and A2"
