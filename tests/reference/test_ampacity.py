"""Ampacities, devices and grounds against published tables and worked examples; each test names its source.

The worked examples were read once on public pages and recomputed.
"""

from __future__ import annotations

import math
import re

import pytest
from factories import make_enclosure, make_face, make_job, make_raceway, make_row
from hypothesis import given
from hypothesis import strategies as st
from random_runs import examples
from reference_data import published

from templates_engine.checks import Finding, check_one
from templates_engine.job.model import ConductorGroup, RacewayWiring, Wire
from templates_engine.layout import solve
from templates_engine.trade import code_tables
from templates_engine.trade.conductors import SIZES, circular_mils, is_kcmil, look_up, rank
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.wiring.ampacity import Conditions, ampacity_of, largest_device, least_size
from templates_engine.wiring.grounds import least_ground
from templates_engine.wiring.model import ProtectedConductors

# --- tables -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "row",
    [row for row in published("nec_310_16") if row["size_AWG_or_kcmil"] in SIZES],
    ids=lambda row: f"{row['size_AWG_or_kcmil']} {row['metal']} {row['insulation_temp_degC']}",
)
def test_ampacity_as_three_copies_have_it(row):
    """NEC 2023, 2011 and 2014 copies of the table, which agree in every cell."""
    cells = {row[f"copy_{n} (states NEC {year})"] for n, year in ((1, 2023), (2, 2011), (3, 2014))}
    (cell,) = cells
    asked = row["size_AWG_or_kcmil"], row["metal"], int(row["insulation_temp_degC"])
    if cell == "-":
        with pytest.raises(NotInTables):
            code_tables.ampacity(*asked)
    else:
        assert code_tables.ampacity(*asked) == float(cell)


@pytest.mark.parametrize(
    "row",
    published("nec_310_15_b1"),
    ids=lambda row: f"{row['ambient_degC']} {row['conductor_temp_rating_degC']}",
)
def test_ambient_factor_as_published(row):
    """NEC 2023, 2011 and 2014 copies, at both ends of each row's range."""
    ends = [float(number) for number in re.findall(r"\d+", row["ambient_degC"])]
    degrees = int(row["conductor_temp_rating_degC"])
    for ambient in ends:
        if row["copy_1 (states NEC 2023)"] == "-":
            with pytest.raises(NotInTables):
                code_tables.ambient_factor(ambient, degrees)
        else:
            assert code_tables.ambient_factor(ambient, degrees) == float(row["copy_1 (states NEC 2023)"])


def test_standard_devices_as_published():
    """NEC 240.6(A), copies of 2023 and 2014; 10 A is in the newer alone."""
    assert code_tables.device_ratings() == tuple(
        int(row["rating_amperes"]) for row in published("nec_240_6_a")
    )


def test_small_conductors_as_published():
    """NEC 240.4(D), two or three copies; sizes smaller than 14 AWG and copper-clad 14 AWG are left out."""
    for row in published("nec_240_4_d"):
        if row["size_AWG"] in ("14", "12", "10") and not row["metal"].startswith("copper-clad"):
            metal = "Cu" if row["metal"] == "Cu" else "Al"
            limit = code_tables.small_conductor_limit(row["size_AWG"], metal)
            assert limit == int(row["copy_1 (states NEC 2023)"])
    assert code_tables.small_conductor_limit("8", "Cu") is None


def test_circular_mils_follow_from_the_diameters_of_the_gauge():
    """ASTM B258: a wire of gauge n is 5 x 92^((36 - n) / 39) mils across; the code rounds to some 0.1 %."""
    numbers = {"1/0": 0, "2/0": -1, "3/0": -2, "4/0": -3}
    for size in SIZES:
        if is_kcmil(size):
            assert circular_mils(size) == 1000 * int(size)
        else:
            number = numbers[size] if size in numbers else int(size)
            mils = 5 * 92 ** ((36 - number) / 39)
            assert circular_mils(size) == pytest.approx(mils**2, rel=0.0015)


@pytest.mark.parametrize(
    "row",
    [
        row
        for row in published("nec_ch9_table5a")
        if row["insulation"] != "bare compact" and row["area_in2 copy_1 (states NEC 2014)"] != "-"
    ],
    ids=lambda row: f"{row['size_AWG_or_kcmil']} {row['insulation']}",
)
def test_compact_conductor_as_published(row):
    """NEC chapter 9 Table 5A, copies of 2014 and 2011; a compact conductor is thinner than a common one."""
    name = row["insulation"].split(",")[0]
    insulation = {"RHH": "RHW"}.get(name, name)
    found = look_up(row["size_AWG_or_kcmil"], f"compact {insulation}")
    assert found.area_in2 == float(row["area_in2 copy_1 (states NEC 2014)"])
    if row["size_AWG_or_kcmil"] != "8":  # of 8 AWG both copies print a larger area for compact THW
        assert found.area_in2 < look_up(row["size_AWG_or_kcmil"], name).area_in2


# --- ampacity and device ------------------------------------------------------------------------------------


def amperes(
    size: str, insulation: str, carrying: int, ambient: float = 30.0, *, device: int = 20, metal: str = "Cu"
) -> tuple[float, int]:
    """The ampacity and the largest device, terminals left out of account as in most published examples."""
    conditions = Conditions(carrying, ambient, "dry", 90, 1)
    found = ampacity_of(Wire(size, insulation, metal), conditions, device)  # type: ignore[arg-type]
    return found.amperes, largest_device(Wire(size, insulation, metal), found.amperes, 1)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("size", "insulation", "carrying", "ambient", "ampacity", "device"),
    [
        # Course notes: nine of 10 AWG THHN at 40 C; 30 A by the next size and by 240.4(D).
        ("10", "THHN", 9, 40.0, 25.48, 30),
        # A trade magazine's code quiz: thirty of 12 AWG THHN, 13.5 A.
        ("12", "THHN", 30, 30.0, 13.5, 15),
        # The same page: six of 14 AWG THHN at 105 F, 17.4 A, and no more than 15 A by 240.4(D).
        ("14", "THHN", 6, (105 - 32) / 1.8, 17.4, 15),
        # A public code forum: twelve of 10 AWG of 90 C, 20 A.
        ("10", "THHN", 12, 30.0, 20.0, 20),
        # A public code forum: six of 10 AWG THHN in an attic of 140 F, 22.7 A.
        ("10", "THHN", 6, 60.0, 22.72, 25),
        # A public textbook answer: 4 AWG THWN at 43 C, 69.7 A.
        ("4", "THWN", 3, 43.0, 69.7, 70),
        # A public excerpt: four to six of 3/0, of 90 C and of 75 C.
        ("3/0", "THHN", 6, 30.0, 180.0, 200),
        ("3/0", "THWN", 6, 30.0, 160.0, 175),
        # A public code forum: 300 kcmil aluminium of 75 C, six of them, 184 A each.
        ("300", "XHHW Al", 6, 30.0, 184.0, 200),
    ],
)
def test_published_ampacities(size, insulation, carrying, ambient, ampacity, device):
    name, _, metal = insulation.partition(" ")
    if name == "XHHW":
        name = "THWN"  # an insulation of 75 C, as the example has it
    found = amperes(size, name, carrying, ambient, metal=metal or "Cu")
    assert found[0] == pytest.approx(ampacity, abs=0.005)
    assert found[1] == device


@pytest.mark.parametrize(
    ("size", "sets", "ampacity", "device"),
    [
        # A trade magazine's column: 1200 A on three of 600 kcmil, 1260 A.
        ("600", 3, 1260.0, 1200),
        # A public code forum: two of 500 kcmil, 760 A, behind 800 A by the next size.
        ("500", 2, 760.0, 800),
        # Course notes have 1000 A on three of 350 kcmil, 930 A: wrong, above 800 A none is rounded up.
        ("350", 3, 930.0, 800),
        ("400", 3, 1005.0, 1000),
    ],
)
def test_published_parallel_sets(size, sets, ampacity, device):
    conditions = Conditions(3, 30.0, "dry", 75, sets)
    wire = Wire(size, "THWN", "Cu")
    found = ampacity_of(wire, conditions, 1000)
    assert found.amperes == ampacity
    assert largest_device(wire, found.amperes, sets) == device


# --- equipment grounds --------------------------------------------------------------------------------------


def ground(device: int, actual: str, least: str, carrying: int = 3) -> str:
    """The least copper ground where conductors of one size stand for those that would do."""
    behind = ProtectedConductors("phases", Wire(actual, "THWN", "Cu"), device, 1)
    conditions = Conditions(carrying, 30.0, "dry", 75, 1)
    assert least_size(behind.wire, conditions, device, rounded_up=True) == least
    return least_ground(behind, "Cu", conditions, "NEC 2023", rounded_up=True)


@pytest.mark.parametrize(
    ("device", "least", "actual", "size"),
    [
        # A public training page: 300 A, 250 kcmil raised to 350: 41740 x 1.4 = 58436, 2 AWG.
        (300, "250", "350", "2"),
        # A public engineering page: 200 A, 3/0 raised to 500 kcmil, 26240 x 500 / 167.8 = 78188, 1 AWG.
        (200, "3/0", "500", "1"),
        # A public page of 2026, corrected: 65 A is the least of 6 AWG at 75 C; 60 A asks for 8 AWG there.
        (65, "6", "4", "4"),
        # A public engineering page: 20 A, 12 AWG raised to 1/0, as large as the phases.
        (20, "12", "1/0", "1/0"),
    ],
)
def test_grounds_grow_with_the_phases(device, least, actual, size):
    """NEC 250.122(B): in proportion to circular mils; the last never grows beyond the phases."""
    assert ground(device, actual, least) == size


def test_a_ground_is_not_raised_where_the_phases_are_what_they_must_be():
    """An open-source calculator's test, read on a public page: 1000 A, 2/0 AWG."""
    behind = ProtectedConductors("phases", Wire("400", "THWN", "Cu"), 1000, 1)
    conditions = Conditions(3, 30.0, "dry", 75, 3)
    assert least_ground(behind, "Cu", conditions, "NEC 2023") == "2/0"


def found_ground(size: str, device: int, phases: str) -> Finding:
    wire = Wire(phases, "THWN", "Cu")
    groups = (
        ConductorGroup(3, wire, "phase", device),
        ConductorGroup(1, Wire(size, "THWN", "Cu"), "ground"),
    )
    wiring = RacewayWiring((), None, None, None, False, groups, None)
    row = make_row(make_raceway("4", wiring=wiring))
    job = make_job(make_face(row, depth=12), enclosure=make_enclosure())
    (finding,) = check_one("equipment ground", solve(job))
    return finding


@given(
    st.sampled_from(SIZES[: rank("500")]),
    st.sampled_from(code_tables.device_ratings()[:20]),
    st.sampled_from(SIZES[: rank("500")]),
)
@examples(40)
def test_a_larger_ground_never_turns_ok_into_fail(size, device, phases):
    smaller, larger = (found_ground(one, device, phases) for one in (size, SIZES[rank(size) + 1]))
    assert (smaller.outcome.value, larger.outcome.value) != ("ok", "fail")


@given(st.integers(1, 60), st.floats(-20, 75), st.sampled_from(("THWN", "THWN-2", "XHHW")))
@examples(60)
def test_more_conductors_and_hotter_air_never_carry_more(carrying, ambient, insulation):
    wire = Wire("3/0", insulation, "Cu")

    def of(carrying: int, ambient: float) -> float:
        try:
            return ampacity_of(wire, Conditions(carrying, ambient, "dry", 75, 1), 200).amperes
        except NotInTables:
            return 0.0

    assert of(carrying + 1, ambient) <= of(carrying, ambient)
    assert of(carrying, ambient + 5) <= of(carrying, ambient)
    assert math.isfinite(of(carrying, ambient))
