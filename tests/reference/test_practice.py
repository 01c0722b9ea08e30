"""What electricians know without a table: common practice, no source, worked through the whole solver."""

from __future__ import annotations

import pytest

from templates_engine.job import read_job_text
from templates_engine.layout import solve
from templates_engine.layout.model import Hole
from templates_engine.trade import fittings, strut
from templates_engine.trade.raceways import look_up, sizes

JOB = """
job: common practice
revision: 1
date: as written
enclosure: {{mark: P, kind: wireway, width: 60 in, height: 12 in, depth: 12 in, back gap: {back_gap}}}
faces:
  - face: top
    rows:
      - strut: {strut}
        gap: 1-1/8 in
        place: centred
        raceways:
          - {{id: A1, type: EMT, size: 1/2}}
          - {{id: A2, type: RMC, size: 4}}
          - {{id: A3, type: EMT, size: 2}}
"""


def _holes(strut_words: str, back_gap: str) -> tuple[Hole, ...]:
    layout = solve(read_job_text(JOB.format(strut=strut_words, back_gap=back_gap), "practice.yaml"))
    return layout.faces[0].holes


@pytest.mark.parametrize(
    ("strut_words", "back_gap", "back_line_in"),
    [
        (
            "1-5/8 in",
            "1/4 in",
            1.375,
        ),  # common practice, no source: 1-5/8 strut, can 1/4 off the wall, backs at 1-3/8
        ("13/16 in", "1/4 in", 0.5625),  # common practice, no source: 13/16 strut, backs at 9/16
        ("1-5/8 in", "0", 1.625),  # flush can: the whole strut
    ],
)
def test_backs_of_mixed_sizes_lie_on_the_strut(strut_words: str, back_gap: str, back_line_in: float) -> None:
    for hole in _holes(strut_words, back_gap):
        assert hole.v_in - hole.outside_diameter_in / 2 == pytest.approx(back_line_in, abs=1e-9), hole.id


def test_four_inch_off_deep_strut_passes_the_front_of_a_shallow_can() -> None:
    """Common practice, no source: centre at 3.625 in, knockout to 5.95 in, past a 5-3/4 in deep can."""
    hole = next(hole for hole in _holes("1-5/8 in", "1/4 in") if hole.id == "A2")
    assert hole.v_in == pytest.approx(3.625)
    assert hole.v_in + hole.hole_diameter_in / 2 == pytest.approx(5.95, abs=0.005)


def test_the_struts_of_practice_are_in_the_table() -> None:
    """MFMA-4: 13/16 and 1-5/8 read, the others from memory; channel 1-5/8 in wide."""
    assert strut.WIDTH_IN == 1.625
    assert strut.DEPTHS_IN == (0.8125, 0.875, 1.0, 1.375, 1.625, 2.4375, 3.25)
    assert [row.words for row in strut.depths() if row.provenance == "read"] == ["13/16", "1-5/8"]


def test_habit_gaps() -> None:
    """Common practice, no source: 7/8 in leaves room for bonding bushings, 1-1/8 in for strut straps."""
    gaps = {gap.what_for: gap for gap in fittings.habit_gaps()}
    assert gaps["bonding bushings"].gap_in == 0.875
    assert gaps["strut straps"].gap_in == 1.125
    assert {gap.provenance for gap in gaps.values()} == {"common practice, no source"}


def test_the_bushing_habit_fails_at_four_inch() -> None:
    """One published table of fittings: 5.39 in bodies on 4.5 in raceways 7/8 in apart lack 0.015 in."""
    size = look_up("RMC", "4")
    centres_in = size.outside_diameter_in + fittings.habit_gap("bonding bushings").gap_in
    left_in = centres_in - fittings.look_up("bonding bushing", size).diameter_in
    assert left_in == pytest.approx(-0.015)


UP_TO_FOUR = ("1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "4")


@pytest.mark.parametrize(
    ("kind", "diameters_in"),
    [
        ("locknut", (1.24, 1.46, 1.73, 2.09, 2.44, 2.95, 3.70, 4.06, 5.35)),
        ("insulated bushing", (1.26, 1.38, 1.73, 2.17, 2.44, 3.03, 3.43, 4.33, 5.39)),
        ("bonding bushing", (1.26, 1.38, 1.73, 2.17, 2.44, 3.03, 3.43, 4.33, 5.39)),
        ("hub", (1.30, 1.65, 1.93, 2.32, 2.76, 3.11, 3.62, 4.80, 5.67)),
    ],
)
def test_fittings_of_one_published_table(kind: str, diameters_in: tuple[float, ...]) -> None:
    """One published table of fittings, +/- 1/8 in: locknuts across lugs, bushing and hub bodies."""
    found = [fittings.look_up(kind, look_up("RMC", trade_size)) for trade_size in UP_TO_FOUR]
    assert tuple(each.diameter_in for each in found) == diameters_in
    assert {each.provenance for each in found} == {"read on a public page"}


@pytest.mark.parametrize("kind", ["connector", "punch die"])
def test_remembered_fittings_are_near_the_published_locknut(kind: str) -> None:
    """From memory, so only this is held: they are within 3/16 in of the locknut they stand beside."""
    for size in sizes("EMT"):
        envelope = fittings.look_up(kind, size)
        assert envelope.provenance == "from memory"
        locknut_in = fittings.look_up("locknut", size).diameter_in
        assert envelope.diameter_in == pytest.approx(locknut_in, abs=3 / 16)
