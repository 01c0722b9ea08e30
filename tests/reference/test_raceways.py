"""Raceway diameters, outside and inside, against published tables and an independent table of pipe sizes.

Sources: ANSI C80.1, C80.3, C80.6 and NEC chapter 9 Table 4 as copied in data/; ASTM D1785 as published in the
fluids library (schedule "40D1785"): the iron pipe outside diameters that RMC and PVC conduit share.
"""

from __future__ import annotations

import math

import pytest
from fluids.piping import nearest_pipe
from reference_data import published

from templates_engine.trade.raceway_areas import internal
from templates_engine.trade.raceways import METRIC, TYPES, look_up, sizes

INCH_M = 0.0254
IRON_PIPE = ("RMC", "aluminium RMC", "PVC 40", "PVC 80")


@pytest.mark.parametrize("row", published("raceway_od"), ids=lambda row: f"{row['type']} {row['trade_size']}")
def test_outside_diameter_as_published(row: dict[str, str]) -> None:
    size = look_up(row["type"], row["trade_size"])
    assert size.outside_diameter_in == size.outside_diameter_most_in == float(row["outside_diameter_in"])
    assert size.metric_designator == int(row["metric_designator"])
    assert (size.source, size.provenance) == (row["standard"], row["provenance"])


@pytest.mark.parametrize("type", [type for type in TYPES if type != METRIC])
def test_metric_designators_as_nec_table_300_1_c(type: str) -> None:
    """One designator a trade size, whatever the type: as the standards print it, and for 3/8 NEC 300.1(C)."""
    listed = {row["trade_size"]: int(row["metric_designator"]) for row in published("raceway_od")}
    for size in sizes(type):
        assert size.metric_designator == (listed | {"3/8": 12})[size.trade_size], size
        assert look_up(type, f"MD {size.metric_designator}") == size


def test_what_says_it_was_read_is_in_the_published_table() -> None:
    read = {
        (size.type, size.trade_size) for type in TYPES for size in sizes(type) if "read" in size.provenance
    }
    assert read == {(row["type"], row["trade_size"]) for row in published("raceway_od")}


@pytest.mark.parametrize("type", IRON_PIPE)
def test_iron_pipe_outside_diameters_as_astm_d1785(type: str) -> None:
    assert [size.trade_size for size in sizes(type)] == [size.trade_size for size in sizes("RMC")]
    for size in sizes(type):
        _, _, outside_m, _ = nearest_pipe(NPS=size.trade_size_in, schedule="40D1785")
        assert size.outside_diameter_in == pytest.approx(outside_m / INCH_M, abs=1e-9), size


@pytest.mark.parametrize("type", ["RMC", "PVC 40"])
def test_inside_is_near_the_schedule_40_pipe(type: str) -> None:
    """Both are made to about schedule 40 walls; a swapped or misprinted row is off by tenths of an inch.

    The tolerance is the largest true difference, 0.034 in at PVC 40 trade size 6.
    """
    for size in sizes(type):
        _, inside_m, _, _ = nearest_pipe(NPS=size.trade_size_in, schedule="40D1785")
        assert internal(type, size.trade_size).diameter_in == pytest.approx(inside_m / INCH_M, abs=0.0345), (
            size
        )


@pytest.mark.parametrize(
    "row",
    [row for row in published("nec_ch9_table4") if row["trade_size"] != "3/8"],
    ids=lambda row: f"{row['raceway']} {row['trade_size']}",
)
def test_inside_as_published(row: dict[str, str]) -> None:
    inside = internal(row["raceway"], row["trade_size"])
    assert inside.diameter_in == float(row["internal_diameter_in"])
    assert inside.area_in2 == float(row["area_in2"])


def test_published_table_4_has_each_size_once() -> None:
    """Guards the corrected row: the copy read had PVC 40 trade size 1-1/4 twice and no 3/4."""
    rows = [(row["raceway"], row["trade_size"]) for row in published("nec_ch9_table4")]
    assert len(set(rows)) == len(rows)
    assert ("PVC 40", "3/4") in rows


@pytest.mark.parametrize("type", [type for type in TYPES if type != "metric"])
def test_inside_areas_agree_with_their_diameters(type: str) -> None:
    """NEC chapter 9 Table 4 rounds to 0.001 in and 0.001 in2, and from millimetres in places."""
    for size in sizes(type):
        inside = internal(type, size.trade_size)
        half_step = math.pi / 2 * inside.diameter_in * 0.0005 + 0.0005
        assert inside.area_in2 == pytest.approx(math.pi / 4 * inside.diameter_in**2, abs=half_step), size
        assert inside.diameter_in < size.outside_diameter_in, size


def test_every_size_is_larger_than_the_one_before() -> None:
    for type in TYPES:
        outside = [size.outside_diameter_in for size in sizes(type)]
        assert outside == sorted(set(outside)), type
        if type != "metric":
            inside = [internal(type, size.trade_size).area_in2 for size in sizes(type)]
            assert inside == sorted(set(inside)), type


def test_large_emt_has_the_outside_diameter_of_rmc() -> None:
    """ANSI C80.3 and C80.1: from trade size 2-1/2 up the two are the same outside; below EMT is smaller."""
    for emt in sizes("EMT"):
        rmc = look_up("RMC", emt.trade_size)
        same = emt.outside_diameter_in == rmc.outside_diameter_in
        assert same == (emt.trade_size_in >= 2.5)
        assert emt.outside_diameter_in <= rmc.outside_diameter_in


@pytest.mark.parametrize("type", ["LFMC", "LFNC"])
def test_liquidtight_ends_at_the_iron_pipe_outside_diameter(type: str) -> None:
    """UL 360 and UL 1660 from memory: the largest outside diameter is the iron pipe's, so its seals fit."""
    for size in sizes(type):
        assert size.outside_diameter_most_in == look_up("RMC", size.trade_size).outside_diameter_in
        least_in = 2 * size.outside_diameter_in - size.outside_diameter_most_in
        assert 0.019 < size.outside_diameter_most_in - least_in < 0.041


def test_flexible_metal_conduit_keeps_its_profile() -> None:
    """UL 1 from memory against NEC chapter 9 Table 4: groups of sizes share a strip of one profile."""
    profiles_in = [
        size.outside_diameter_in - internal("FMC", size.trade_size).diameter_in for size in sizes("FMC")
    ]
    strips_in = [0.253, 0.253, 0.318, 0.318, 0.362, 0.362, 0.41, 0.41, 0.41, 0.41]
    assert profiles_in == pytest.approx(strips_in, abs=0.0035)


def test_metric_conduit_is_named_by_its_outside_diameter() -> None:
    """IEC 60423, from memory."""
    for size in sizes("metric"):
        assert size.outside_diameter_in * 25.4 == pytest.approx(int(size.trade_size), abs=1e-9)
