"""Conductor fill, neutrals, phases and adjustment against published answers; each test names its source."""

from __future__ import annotations

from typing import Any

import pytest
from factories import make_enclosure, make_face, make_job, make_raceway, make_row

from templates_engine.job.model import Circuit, ConductorGroup, RacewayWiring, Wire
from templates_engine.trade.code_tables import adjustment
from templates_engine.trade.raceway_areas import internal
from templates_engine.values import replace
from templates_engine.wiring import RacewayContents, contents_of_raceway, fit_sizes
from templates_engine.wiring.fill import permitted
from templates_engine.wiring.panel import SYSTEMS, phase_of


def conductors(*groups: tuple[int, str], insulation: str = "THHN") -> RacewayWiring:
    made = tuple(ConductorGroup(count, Wire(size, insulation, "Cu"), "phase") for count, size in groups)
    return RacewayWiring((), None, None, None, False, made, None)


def in_raceway(
    wiring: RacewayWiring,
    size: str | None,
    type: str = "EMT",
    system: str | None = None,
    nonlinear: bool | None = None,
) -> tuple[RacewayContents, str]:
    """What a raceway carries, and its trade size after fitting."""
    raceway = replace(make_raceway(size, type=type, wiring=wiring), nonlinear_loads=nonlinear)
    job = fit_sizes(make_job(make_face(make_row(raceway)), enclosure=make_enclosure(system=system)))
    one = job.faces[0].rows[0].raceways[0]
    found = contents_of_raceway(one, job)
    assert found is not None
    assert one.size is not None
    return found, one.size.trade_size


def most(size: str, wire: str, insulation: str = "THHN", type: str = "EMT") -> int:
    """The largest number of alike conductors that a raceway takes."""
    found, _ = in_raceway(conductors((1, wire), insulation=insulation), size, type)
    assert found.fill is not None
    assert found.fill.permitted is not None
    return found.fill.permitted


def test_three_sizes_of_conductors_in_emt():
    """Steel Tube Institute, "NEC Conduit and EMT Fill Tables": 3 of 12, 4 of 10 and 8 of 8 AWG THWN take
    .4171 in2;
    1 in EMT holds .346, 1-1/4 in .598, so 1-1/4 in."""
    found, size = in_raceway(conductors((3, "12"), (4, "10"), (8, "8"), insulation="THWN"), None)
    assert found.fill is not None
    assert found.fill.conductor_area_in2 == pytest.approx(0.4171, abs=0.00005)
    assert size == "1-1/4"
    too_full, _ = in_raceway(conductors((3, "12"), (4, "10"), (8, "8"), insulation="THWN"), "1")
    assert too_full.fill is not None
    assert not too_full.fill.fits


def test_eight_8_awg_thw_in_1_inch_emt():
    """NEC Annex C, Table C.1: 8; Tables 4 and 5 give .346 / .0437 = 7.92, rounded up by chapter 9 note 7."""
    assert most("1", "8", "THW") == 8


@pytest.mark.parametrize(("size", "wire", "count"), [("3/4", "12", 16), ("1", "12", 26)])
def test_12_awg_thhn_in_emt(size, wire, count):
    """NEC Annex C, Table C.1 (1 in: 25.98, rounded up by chapter 9 note 7)."""
    assert most(size, wire) == count


@pytest.mark.parametrize(("wire", "count"), [("6", 2), ("1/0", 1), ("2/0", 0)])
def test_few_large_conductors_in_half_inch_emt(wire, count):
    """NEC Annex C, Table C.1: two 6 AWG THHN by the 31 % of chapter 9 Table 1, one 1/0, no 2/0."""
    assert most("1/2", wire) == count


@pytest.mark.parametrize(
    ("groups", "type", "fits"),
    [
        (((3, "8"), (1, "10"), (3, "10"), (1, "12")), "PVC 80", False),
        (((3, "8"), (1, "10"), (3, "10"), (1, "12")), "PVC 40", False),
        (((3, "8"), (1, "10"), (3, "10")), "PVC 80", False),
        (((3, "8"), (1, "10"), (3, "10")), "PVC 40", True),
    ],
)
def test_a_crowded_three_quarter_inch_pvc(groups, type, fits):
    """Published fill example, recomputed from NEC chapter 9 Tables 4 and 5: .2075 in2 against .164 (schedule
    80) and
    .203 (schedule 40) fits neither; without the 12 AWG .1942 fits schedule 40 alone."""
    found, _ = in_raceway(conductors(*groups), "3/4", type)
    assert found.fill is not None
    assert found.fill.fits is fits
    area = 0.2075 if len(groups) == 4 else 0.1942
    assert found.fill.conductor_area_in2 == pytest.approx(area, abs=0.00005)
    limit = found.fill.limit_percent / 100 * found.fill.raceway_area_in2
    assert limit == pytest.approx({"PVC 80": 0.164, "PVC 40": 0.203}[type], abs=0.0005)


@pytest.mark.parametrize(
    ("wires", "percent"),
    [
        *[(number, 100) for number in (1, 2, 3)],
        *[(number, 80) for number in (4, 6)],
        *[(number, 70) for number in (7, 9)],
        *[(number, 50) for number in (10, 20)],
        *[(number, 45) for number in (21, 30)],
        *[(number, 40) for number in (31, 40)],
        *[(number, 35) for number in (41, 100)],
    ],
)
def test_adjustment_factors(wires, percent):
    """NEC 2023 Table 310.15(C)(1)."""
    assert adjustment(wires).value == percent
    found, _ = in_raceway(conductors((wires, "14")), "4")
    assert found.adjustment_percent == percent


@pytest.mark.parametrize(("circuits", "neutrals"), [((1, 3, 5), 1), ((1, 3, 5, 2), 2)])
def test_least_neutrals(circuits, neutrals):
    """Common practice, no source: 1, 3 and 5 share one neutral, with 2 there are two."""
    assert len(shared(*circuits).neutrals) == neutrals


def shared(*numbers: int, nonlinear: bool | None = None) -> RacewayContents:
    wire = Wire("12", "THHN", "Cu")
    made: Any = tuple(Circuit((number,), None) for number in numbers)
    wiring = RacewayWiring(made, wire, "shared", None, True, (), None)
    return in_raceway(wiring, "2", system="208Y/120", nonlinear=nonlinear)[0]


def test_six_circuits_with_two_shared_neutrals():
    """Published derating example: on a wye system 6 current-carrying conductors with linear loads, 8 with
    nonlinear."""
    found = shared(1, 3, 5, 2, 4, 6)
    assert len(found.neutrals) == 2
    assert (found.current_carrying, found.current_carrying_nonlinear) == (6, 8)
    assert (found.adjustment_percent, found.adjustment_nonlinear_percent) == (80, 70)
    told = shared(1, 3, 5, 2, 4, 6, nonlinear=True)
    assert (told.current_carrying, told.adjustment_percent) == (8, 70)
    assert [one.carries_current for one in told.neutrals] == [True, True]
    assert all("310.15(E)(3)" in one.why for one in told.neutrals)
    linear = shared(1, 3, 5, 2, 4, 6, nonlinear=False)
    assert (linear.current_carrying, linear.adjustment_nonlinear_percent) == (6, 80)


@pytest.mark.parametrize(("space", "phase"), [(11, "C"), (17, "C"), (24, "C"), (36, "C"), (37, "A")])
def test_phases_of_panel_spaces(space, phase):
    """Published panel example: circuits 11, 17, 24, 36 and 37 of a three-phase panel stand on C, C, C, C and
    A."""
    assert phase_of(space, SYSTEMS["208Y/120"], "odd left") == phase


def test_permitted_is_what_annex_c_counts():
    """NEC Annex C Table C.1, THHN in EMT, from memory but for the rows read above: 14 AWG 12, 22, 35; 10 AWG
    5, 10, 16."""
    expected = {
        ("1/2", 0.0097): 12,
        ("3/4", 0.0097): 22,
        ("1", 0.0097): 35,
        ("1/2", 0.0211): 5,
        ("1", 0.0211): 16,
    }
    for (size, area), count in expected.items():
        inside = internal("EMT", size)
        raceway_area = 3.141592653589793 / 4 * inside.diameter_in**2
        assert permitted(raceway_area, area, nipple=False, edition="NEC 2023") == count
