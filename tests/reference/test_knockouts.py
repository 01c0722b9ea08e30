"""Knockout diameters and what cuts them, against the published table copied in data/knockouts.csv (NEMA)."""

from __future__ import annotations

import pytest
from reference_data import published

from templates_engine.trade.cutters import hole_saw
from templates_engine.trade.knockouts import field_punch, look_up
from templates_engine.trade.raceways import RacewaySize, sizes
from templates_engine.trade.raceways import look_up as raceway


@pytest.mark.parametrize("row", published("knockouts"), ids=lambda row: row["trade_size"])
def test_knockout_as_published(row: dict[str, str]) -> None:
    knockout = look_up(raceway("RMC", row["trade_size"]))
    assert knockout.nominal_in == float(row["nominal_in"])
    assert knockout.least_in == float(row["min_in"])
    assert knockout.most_in == float(row["max_in"])
    assert knockout.provenance == row["provenance"]


def test_every_trade_size_has_a_knockout() -> None:
    assert [size.trade_size for size in sizes("RMC")] == [row["trade_size"] for row in published("knockouts")]


@pytest.mark.parametrize("size", [*sizes("RMC"), *sizes("metric")], ids=lambda size: size.trade_size)
def test_a_knockout_lets_the_threaded_end_through(size: RacewaySize) -> None:
    """The thread is cut on the raceway's own outside, so the least hole must pass that diameter."""
    knockout = look_up(size)
    assert size.outside_diameter_in < knockout.least_in <= knockout.nominal_in <= knockout.most_in


@pytest.mark.parametrize("size", sizes("EMT"), ids=lambda size: size.trade_size)
def test_usual_hole_saws_cut_within_the_limits(size: RacewaySize) -> None:
    """Hole saws 7/8, 1-1/8, 1-3/8, 1-3/4, 2 and 2-1/2 in are read; the limits are the NEMA table's."""
    knockout = look_up(size)
    assert knockout.least_in <= hole_saw(size).diameter_in <= knockout.most_in


@pytest.mark.parametrize(
    ("trade_size", "diameter_in"),
    [("1-1/4", 1.701), ("1-1/2", 1.951), ("2", 2.416)],  # read on a public page
)
def test_field_punches_as_read(trade_size: str, diameter_in: float) -> None:
    punch = field_punch(raceway("EMT", trade_size))
    assert punch.nominal_in == punch.least_in == punch.most_in == diameter_in
    assert punch.provenance.startswith("read")


@pytest.mark.parametrize(
    ("trade_size", "diameter_in"),
    [("1/2", 0.885), ("3/4", 1.115), ("1", 1.362), ("2-1/2", 2.875), ("3", 3.5), ("3-1/2", 4.0), ("4", 4.5)],
)
def test_field_punches_as_remembered(trade_size: str, diameter_in: float) -> None:
    punch = field_punch(raceway("EMT", trade_size))
    assert punch.nominal_in == diameter_in
    assert punch.provenance == "from memory"


def test_no_field_punch_cuts_more_than_the_knockouts_limit() -> None:
    for size in sizes("EMT"):
        assert field_punch(size).nominal_in <= look_up(size).most_in
