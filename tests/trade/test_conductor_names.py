"""Wire sizes, insulations, editions and insides of raceways as written, and the refusals."""

from __future__ import annotations

import math

import pytest

from templates_engine.trade import code_tables, editions
from templates_engine.trade.conductors import (
    INSULATIONS,
    SIZES,
    find_insulation,
    find_size,
    is_at_least,
    is_kcmil,
    look_up,
    rank,
    with_unit,
)
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceway_areas import internal
from templates_engine.trade.raceways import TYPES, sizes


def test_sizes_stand_in_order_of_copper() -> None:
    """Solid and stranded bare diameters grow along SIZES, NEC chapter 9 Table 8."""
    assert SIZES[0] == "14"
    assert SIZES[-1] == "2000"
    diameters = [look_up(size, "bare").diameter_in for size in SIZES[: rank("1000") + 1]]
    assert diameters == sorted(set(diameters))


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("12", "12"),
        ("#12", "12"),
        ("# 12 AWG", "12"),
        ("No. 12", "12"),
        ("12 awg", "12"),
        ("4/0", "4/0"),
        ("4/0 AWG", "4/0"),
        ("500", "500"),
        ("500 kcmil", "500"),
        ("500MCM", "500"),
    ],
)
def test_finds_size(text: str, size: str) -> None:
    assert find_size(text) == size


@pytest.mark.parametrize(
    ("text", "remedy"),
    [
        ("0", "Write 1/0."),
        ("000", "Write 3/0."),
        ("13", "nearest sizes are 14 or 12"),
        ("275", "nearest sizes are 250 or 300"),
        ("500 AWG", "Write 500 kcmil."),
        ("12 kcmil", "Write 12 AWG."),
        ("4/0 kcmil", "Write 4/0 AWG."),
        ("5/0", "1/0 to 4/0"),
        ("twelve", "1/0 to 4/0"),
        ("", "1/0 to 4/0"),
        ("2.5 mm2", "1/0 to 4/0"),
        ("٤", "1/0 to 4/0"),
        ("9" * 40, "1/0 to 4/0"),
    ],
)
def test_refuses_size(text: str, remedy: str) -> None:
    with pytest.raises(NotInTables) as refused:
        find_size(text)
    assert remedy in refused.value.remedy


def test_order_and_units_of_sizes() -> None:
    assert is_at_least("4", "4")
    assert is_at_least("1/0", "4")
    assert is_at_least("250", "4/0")
    assert not is_at_least("6", "4")
    assert not is_at_least("1", "1/0")
    assert [with_unit(size) for size in ("12", "4/0", "500")] == ["12 AWG", "4/0 AWG", "500 kcmil"]
    assert [is_kcmil(size) for size in ("14", "4/0", "250")] == [False, False, True]


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("THHN", "THHN"),
        ("thwn2", "THWN-2"),
        ("THWN 2", "THWN-2"),
        ("xhhw-2", "XHHW-2"),
        ("RHW-2", "RHW-2"),
        ("RHW-2 with outer covering", "RHW-2"),
        ("RHW-2 with covering", "RHW-2"),
        ("RHW-2 without covering", "RHW-2 without covering"),
        ("RHW-2 without outer covering", "RHW-2 without covering"),
        ("RHH*", "RHH without covering"),
        ("Bare", "bare"),
        ("bare solid", "bare solid"),
    ],
)
def test_finds_insulation(text: str, name: str) -> None:
    assert find_insulation(text) == name


@pytest.mark.parametrize("name", INSULATIONS)
def test_each_insulations_own_name_finds_it(name: str) -> None:
    assert find_insulation(name) == find_insulation(name.lower()) == name


def test_refuses_insulation() -> None:
    with pytest.raises(NotInTables, match=r"Did you mean THHN\?"):
        find_insulation("THHNN")
    with pytest.raises(NotInTables, match="Write THHN, THWN"):
        find_insulation("rubber")


def test_covering_adds_area() -> None:
    for size in SIZES[: rank("1000") + 1]:
        assert look_up(size, "RHW-2").area_in2 > look_up(size, "RHW-2 without covering").area_in2


def test_look_up_takes_names_as_written_and_says_them_plainly() -> None:
    conductor = look_up("#12 AWG", "thwn2")
    assert (conductor.size, conductor.insulation) == ("12", "THWN-2")
    assert (conductor.diameter_in, conductor.area_in2) == (0.130, 0.0133)
    assert conductor.source == "NEC chapter 9 Table 5"


def test_bare_area_is_computed_and_says_so() -> None:
    bare = look_up("2/0", "bare")
    assert bare.area_in2 == pytest.approx(math.pi / 4 * 0.419**2, abs=0.00005)
    assert "computed (area)" in bare.provenance


def test_refuses_what_the_tables_end_before() -> None:
    with pytest.raises(NotInTables, match="14 AWG to 1000 kcmil"):
        look_up("1250", "THHN")
    with pytest.raises(NotInTables, match="14 AWG to 8 AWG"):
        look_up("6", "bare solid")


# --- insides of raceways ------------------------------------------------------------------------------------


@pytest.mark.parametrize("type", [type for type in TYPES if type != "metric"])
def test_every_size_has_an_inside(type: str) -> None:
    for size in sizes(type):
        assert internal(type, size.trade_size).diameter_in < size.outside_diameter_in


def test_inside_of_types_that_borrow() -> None:
    assert internal("aluminum RMC", "2") == internal("RMC", "MD 53")
    assert internal("LFNC-A", "1-1/2").area_in2 == 2.018
    assert internal("LFNC-B", "1-1/2").area_in2 == 1.981
    assert internal("LFNC", "1-1/2").area_in2 == 1.981
    assert internal("LFNC", "1/2").area_in2 == 0.312
    assert "smaller of A and B" in internal("LFNC", "1/2").provenance


def test_inside_of_metric_conduit_is_not_made_up() -> None:
    with pytest.raises(NotInTables, match="metric"):
        internal("metric", "20")
    with pytest.raises(NotInTables):
        internal("EMT", "5")


# --- the code's tables --------------------------------------------------------------------------------------


def test_editions() -> None:
    assert editions.editions() == ("NEC 2023", "NEC 2020", "NEC 2017")
    for text in ("NEC 2020", "nec2020", "2020"):
        assert editions.find_edition(text) == "NEC 2020"
    for text in ("NEC 2014", "", "NEC", "20", "CEC 2021"):
        with pytest.raises(NotInTables, match="NEC 2023, NEC 2020 or NEC 2017"):
            editions.find_edition(text)


def test_figures_name_their_edition_and_whether_it_was_read() -> None:
    read, remembered = code_tables.adjustment(5), code_tables.adjustment(5, edition="NEC 2017")
    assert read.source == "NEC 2023 Table 310.15(C)(1)"
    assert read.provenance == "read on a public page"
    assert remembered.source == "NEC 2017 Table 310.15(B)(3)(a)"
    assert remembered.provenance.startswith("from memory")
    assert code_tables.fill_limit(3).source == "NEC 2023 chapter 9 Table 1"
    assert code_tables.equipment_ground(20).source == "NEC 2023 Table 250.122"


@pytest.mark.parametrize(
    ("type", "inches", "article"),
    [
        ("EMT", 36, "358.30"),
        ("IMC", 36, "342.30"),
        ("GRC", 36, "344.30"),
        ("aluminium RMC", 36, "344.30"),
        ("PVC 40", 36, "352.30"),
        ("PVC 80", 36, "352.30"),
        ("FMC", 12, "348.30"),
        ("LFMC", 12, "350.30"),
        ("LFNC", 12, "356.30"),
    ],
)
def test_first_support(type: str, inches: float, article: str) -> None:
    """NEC 358.30(A), 342.30(A), 344.30(A): 3 ft; the others from memory."""
    support = code_tables.first_support(type)
    assert (support.value, support.unit, support.source) == (inches, "in", f"NEC 2023 {article}")


def test_code_tables_refuse_what_they_do_not_hold() -> None:
    with pytest.raises(NotInTables, match="No support distance"):
        code_tables.first_support("metric")
    with pytest.raises(NotInTables, match="rating in amperes"):
        code_tables.equipment_ground(0)
    with pytest.raises(NotInTables, match="gives no room for 5 wires"):
        code_tables.bending_room("250", 5, opposite=False)
    with pytest.raises(NotInTables, match="no column for 6 wires"):
        code_tables.bending_room("500", 6, opposite=False)
    with pytest.raises(ValueError, match="fill nothing"):
        code_tables.fill_limit(0)
    with pytest.raises(ValueError, match="need no room"):
        code_tables.bending_room("500", 0, opposite=True)


def test_many_wires_opposite_take_the_last_column() -> None:
    """NEC Table 312.6(B)(2): the last column is four or more wires."""
    four, nine = (code_tables.bending_room("500", wires, opposite=True) for wires in (4, 9))
    assert four == nine
    assert four is not None
    assert four.value == 16
