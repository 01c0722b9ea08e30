"""Conductors and code tables against published copies in data/: NEC chapter 9, 250.122 and 312.6."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Literal

import pytest
from reference_data import published

from templates_engine.trade import code_tables, editions
from templates_engine.trade.conductors import INSULATIONS, SIZES, look_up, rank
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceway_areas import internal

NOT_COMPACT = tuple(name for name in INSULATIONS if not name.startswith("compact"))


def _names(published_name: str) -> list[str]:
    """The insulations one published row stands for, as a job writes them."""
    covering = ""
    for words in ("with outer covering", "without outer covering"):
        if published_name.endswith(words):
            published_name, covering = published_name.removesuffix(words), f" {words}"
    return [f"{name.strip().rstrip('*')}{covering}" for name in published_name.split("/")]


@pytest.mark.parametrize(
    ("insulation", "row"),
    [(name, row) for row in published("nec_ch9_table5") for name in _names(row["insulation"])],
    ids=lambda value: value if isinstance(value, str) else value["size"],
)
def test_insulated_conductor_as_published(insulation: str, row: dict[str, str]) -> None:
    conductor = look_up(row["size"], insulation)
    assert conductor.diameter_in == float(row["diameter_in"])
    assert conductor.area_in2 == float(row["area_in2"])


def test_rhw_without_covering_is_thw_from_6_awg_up() -> None:
    """NEC chapter 9 Table 5 puts the two in one row there; from memory."""
    for size in SIZES[rank("6") : rank("1000") + 1]:
        bare, thw = look_up(size, "RHW-2 without covering"), look_up(size, "THW")
        assert (bare.diameter_in, bare.area_in2) == (thw.diameter_in, thw.area_in2)
        assert bare.provenance == "from memory"


@pytest.mark.parametrize("insulation", NOT_COMPACT)
def test_area_is_that_of_the_diameter(insulation: str) -> None:
    """Table 5 gives four places of area; its diameters are rounded to 0.001 in, which is the tolerance."""
    areas = []
    for size in SIZES[: rank("1000") + 1]:
        conductor = look_up(size, insulation)
        half_step = math.pi / 2 * conductor.diameter_in * 0.0005 + 0.00005
        assert conductor.area_in2 == pytest.approx(math.pi / 4 * conductor.diameter_in**2, abs=half_step), (
            size
        )
        areas.append(conductor.area_in2)
    assert areas == sorted(set(areas))


@pytest.mark.parametrize(
    "row", published("nec_ch9_table8_bare"), ids=lambda row: f"{row['size']} {row['stranding']}"
)
def test_bare_conductor_as_published(row: dict[str, str]) -> None:
    """Table 8 rounds areas to 0.001 in2."""
    conductor = look_up(row["size"], "bare solid" if row["stranding"] == "solid" else "bare")
    assert conductor.diameter_in == float(row["diameter_in"])
    assert conductor.area_in2 == pytest.approx(float(row["area_in2"]), abs=0.0005 + 1e-9)


def test_insulation_is_thicker_than_nothing() -> None:
    for insulation in NOT_COMPACT:
        for size in SIZES[: rank("1000") + 1]:
            assert look_up(size, insulation).diameter_in > look_up(size, "bare").diameter_in


@pytest.mark.parametrize("row", published("nec_250_122"), ids=lambda row: row["overcurrent_device_A"])
def test_equipment_ground_as_published(row: dict[str, str]) -> None:
    """NEC 2023 Table 250.122; a device above the row before takes this row."""
    rating = int(row["overcurrent_device_A"])
    assert code_tables.equipment_ground(rating, "Cu").size == row["copper"]
    assert code_tables.equipment_ground(rating, "Al").size == row["aluminium"]


def test_equipment_ground_between_rows_takes_the_larger() -> None:
    """NEC 2023 Table 250.122 is headed "not exceeding": 225 A stands past 200 A, so the 300 A row holds."""
    assert code_tables.equipment_ground(225).size == "4"
    assert code_tables.equipment_ground(200).size == "6"
    with pytest.raises(NotInTables):
        code_tables.equipment_ground(6001)


def test_equipment_ground_ratings_as_published() -> None:
    """NEC 2023 Table 250.122: a rating holds to its last ampere, and one ampere more takes the next row."""
    rows = published("nec_250_122")
    for row, next_row in pairwise(rows):
        rating = int(row["overcurrent_device_A"])
        for amperes, holds in ((rating - 1, row), (rating, row), (rating + 1, next_row)):
            assert code_tables.equipment_ground(amperes, "Cu").size == holds["copper"], amperes
            assert code_tables.equipment_ground(amperes, "Al").size == holds["aluminium"], amperes


@pytest.mark.parametrize(
    "row",
    published("nec_250_122_two_metals"),
    ids=lambda row: f"{row['ocpd_not_exceeding_amperes']} {row['egc_metal']}",
)
def test_equipment_ground_as_three_copies_have_it(row: dict[str, str]) -> None:
    """Two copies agree in every cell; the third, of 2014, differs in aluminium from 5000 A up."""
    metal: Literal["Cu", "Al"] = "Cu" if row["egc_metal"] == "Cu" else "Al"
    amperes = int(row["ocpd_not_exceeding_amperes"])
    copies = [row["copy_1 (states NEC 2023)"], row["copy_2 (edition not stated)"]]
    if amperes < 5000 or metal == "Cu":
        copies.append(row["copy_3 (states NEC 2014)"])
    assert {code_tables.equipment_ground(amperes, metal).size} == set(copies)


@pytest.mark.parametrize("row", published("nec_312_6"), ids=lambda row: f"{row['table']} {row['size']}")
def test_bending_room_as_published(row: dict[str, str]) -> None:
    opposite = row["table"] == "312.6(B)(2)"
    low, _, high = row["size"].partition("-")
    for size in (low, high or low):
        for wires in range(1, 6):
            column = min(wires, 4) if opposite else wires  # 312.6(B)(2) has a column "4 or more"
            cell = row[f"wires_{column}_in"]
            if not row["wires_1_in"]:
                assert code_tables.bending_room(size, wires, opposite=opposite) is None
            elif not cell:
                with pytest.raises(NotInTables):
                    code_tables.bending_room(size, wires, opposite=opposite)
            else:
                room = code_tables.bending_room(size, wires, opposite=opposite)
                assert room is not None
                assert room.value == float(cell)


@pytest.mark.parametrize(
    ("size", "wires", "opposite", "room_in"),
    [("4/0", 2, True, 7.5), ("4/0", 1, False, 4.0)],
)
def test_bending_room_of_published_examples(size: str, wires: int, opposite: bool, room_in: float) -> None:
    """Published examples on NEC Tables 312.6(B)(2) and 312.6(A)."""
    room = code_tables.bending_room(size, wires, opposite=opposite)
    assert room is not None
    assert room.value == room_in


@pytest.mark.parametrize(
    ("first", "last", "percent"),
    [(1, 3, 100), (4, 6, 80), (7, 9, 70), (10, 20, 50), (21, 30, 45), (31, 40, 40), (41, 400, 35)],
)
def test_adjustment_factors(first: int, last: int, percent: float) -> None:
    """NEC 2023 Table 310.15(C)(1)."""
    for edition in editions.editions():
        assert code_tables.adjustment(first, edition=edition).value == percent
        assert code_tables.adjustment(last, edition=edition).value == percent


@pytest.mark.parametrize(("wires", "percent"), [(1, 53), (2, 31), (3, 40), (40, 40)])
def test_fill_limits(wires: int, percent: float) -> None:
    """NEC chapter 9 Table 1, and note 4 for nipples."""
    assert code_tables.fill_limit(wires).value == percent
    assert code_tables.fill_limit(wires, nipple=True).value == 60


@pytest.mark.parametrize(
    "row", published("nec_ch9_table4"), ids=lambda row: f"{row['raceway']} {row['trade_size']}"
)
def test_fill_columns_of_table_4_follow_from_the_limits(row: dict[str, str]) -> None:
    """NEC chapter 9 Table 4 prints the area at each limit, rounded to 0.001 in2 from an unrounded area."""
    area = float(row["area_in2"])
    for column, limit in (
        ("one_wire_53_in2", code_tables.fill_limit(1)),
        ("two_wires_31_in2", code_tables.fill_limit(2)),
        ("over_two_40_in2", code_tables.fill_limit(3)),
        ("area_60_in2", code_tables.fill_limit(3, nipple=True)),
    ):
        assert float(row[column]) == pytest.approx(area * limit.value / 100, abs=0.0011), column


@pytest.mark.parametrize("size", ["1/2", "3/4", "1", "1-1/4", "1-1/2", "2"])
def test_inside_of_ent_as_published(size: str) -> None:
    """NEC chapter 9 Table 4 of 2023; the older, smaller set of areas is of editions no job may name."""
    cells = {
        row["quantity"]: float(row["copy_1 (NEC 2023 ch. 9 page)"])
        for row in published("nec_ch9_table4_ent")
        if row["trade_size"] == size
    }
    found = internal("ENT", size)
    assert (found.diameter_in, found.area_in2) == (cells["internal_diameter"], cells["area_100pct"])
