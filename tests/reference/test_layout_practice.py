"""Layouts against what the trade does and publishes: stand-off, centres off the wall, spacing and depth.

Outside diameters: ANSI C80.3 (EMT) and C80.1 (RMC), as copied in data/. Knockouts: see data/SOURCES.md.
"""

from __future__ import annotations

import pytest
from factories import from_edge, make_face, make_job, make_raceway, make_row
from reference_data import published

from templates_engine.errors import CannotFit
from templates_engine.layout import solve
from templates_engine.layout.model import PlacedRow

DIAMETERS = {
    (row["type"], row["trade_size"]): float(row["outside_diameter_in"]) for row in published("raceway_od")
}
KNOCKOUTS = {row["trade_size"]: float(row["nominal_in"]) for row in published("knockouts")}


def placed(
    *sizes: str, type: str = "EMT", strut: float = 1.625, gap: float = 1.0, depth: float = 8.0
) -> PlacedRow:
    raceways = [make_raceway(size, f"A{n}", type=type) for n, size in enumerate(sizes, start=1)]
    row = make_row(*raceways, strut=strut, gap=gap, placing=from_edge(4.5))
    face = make_face(row, width=40.0, depth=depth)
    return solve(make_job(face, back_gap=0.25)).faces[0].rows[0]


@pytest.mark.parametrize(("strut", "back_line"), [(1.625, 1.375), (0.8125, 0.5625)])
def test_backs_off_strut_on_a_can_a_quarter_inch_off_the_wall(strut: float, back_line: float) -> None:
    """Common practice, no source: 1-5/8 strut puts the backs at 1-3/8, 13/16 strut at 9/16."""
    assert placed("1", strut=strut).back_line_in == back_line


@pytest.mark.parametrize(("type", "size"), list(DIAMETERS))
def test_every_published_diameter_puts_its_centre_half_of_it_off_the_strut(type: str, size: str) -> None:
    """ANSI C80.1, C80.3, C80.6 outside diameters."""
    (hole,) = placed(size, type=type, depth=12.0).holes
    assert hole.v_in == pytest.approx(1.375 + DIAMETERS[type, size] / 2, abs=1e-12)
    assert hole.hole_diameter_in == KNOCKOUTS[size]


def test_a_four_inch_raceway_off_deep_strut_runs_off_a_shallow_can() -> None:
    """Common practice, no source: a 4 in raceway's centre off 1-5/8 strut is 3-5/8 in from the back.

    Its knockout reaches 5.95 in, more than the 5-3/4 in of a usual panelboard can.
    """
    (hole,) = placed("4", depth=5.75).holes
    assert hole.v_in == 3.625
    assert hole.quarter_points_in[3].y == pytest.approx(5.9455)
    assert round(hole.quarter_points_in[3].y, 2) == 5.95
    assert hole.quarter_points_in[3].y > 5.75


def test_seven_eighths_between_four_inch_raceways_leaves_bushings_no_room() -> None:
    """Bushing body 5.39 in for trade size 4: one published table, within 1/8 in. The habit of 7/8 in: common
    practice.
    """
    first, second = placed("4", "4", gap=0.875).holes
    centres = second.u_in - first.u_in
    assert centres == pytest.approx(5.375)
    assert centres - 5.39 == pytest.approx(-0.02, abs=0.006)


REMEMBERED_IN = {
    "1/2": 1.375, "3/4": 1.625, "1": 2.0, "1-1/4": 2.5, "1-1/2": 2.75, "2": 3.375,
    "2-1/2": 4.0, "3": 4.75, "3-1/2": 5.375, "4": 6.0, "5": 7.25, "6": 8.625,
}  # fmt: skip
"""From memory: centre to centre of rigid raceways of one size, with locknuts, as in handbook tables."""


@pytest.mark.parametrize("size", list(REMEMBERED_IN))
def test_remembered_centre_distances_are_a_gap_a_row_can_be_given(size: str) -> None:
    """The table's distance less the diameter, given as the gap, brings the table's distance back."""
    gap = REMEMBERED_IN[size] - DIAMETERS["RMC", size]
    assert 0.5 < gap < 2.1
    us = [hole.u_in for hole in placed(size, size, size, type="RMC", gap=gap, depth=12.0).holes]
    assert us == pytest.approx([4.5, 4.5 + REMEMBERED_IN[size], 4.5 + 2 * REMEMBERED_IN[size]])


def test_mixed_pair_is_the_sum_of_halves() -> None:
    """From memory: a mixed pair stands at the mean of its sizes' own distances, within 1/16 in.

    With 1 in of clear gap throughout, sizes of like gap in the table (1-1/4 and 1-1/2) must come out so.
    """
    first, second = placed("1-1/4", "1-1/2", type="RMC", gap=0.84).holes
    mean = (REMEMBERED_IN["1-1/4"] + REMEMBERED_IN["1-1/2"]) / 2
    assert second.u_in - first.u_in == pytest.approx(mean, abs=1 / 16)


def test_strut_shallower_than_the_stand_off_cannot_carry_the_row() -> None:
    """Arithmetic: 13/16 strut behind a can 1 in off the wall lies behind the can's back."""
    face = make_face(make_row("1", strut=0.8125))
    with pytest.raises(CannotFit, match="behind the enclosure's back"):
        solve(make_job(face, back_gap=1.0))
