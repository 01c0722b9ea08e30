"""Raceway types and sizes as people write them, and the refusals that name the nearest ones."""

from __future__ import annotations

import pytest

from templates_engine.trade.not_in_tables import NotInTables, listed, nearest
from templates_engine.trade.raceways import TYPES, facts, find_type, look_up, sizes, trade_size_in


def test_types_are_the_words_of_job_files() -> None:
    assert TYPES == (
        "EMT", "RMC", "aluminium RMC", "IMC", "PVC 40", "PVC 80", "ENT", "FMC", "LFMC", "LFNC",
        "metric",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("text", "type"),
    [
        ("EMT", "EMT"),
        (" emt ", "EMT"),
        ("GRC", "RMC"),
        ("rigid", "RMC"),
        ("Rigid  Metal Conduit", "RMC"),
        ("aluminum RMC", "aluminium RMC"),
        ("Aluminium RMC", "aluminium RMC"),
        ("aluminum rigid", "aluminium RMC"),
        ("imc", "IMC"),
        ("PVC-40", "PVC 40"),
        ("pvc40", "PVC 40"),
        ("PVC Sch. 40", "PVC 40"),
        ("schedule 80 PVC", "PVC 80"),
        ("flex", "FMC"),
        ("LFNC-B", "LFNC"),
        ("Metric", "metric"),
        ("IEC 60423", "metric"),
    ],
)
def test_finds_type(text: str, type: str) -> None:
    assert find_type(text) == type


@pytest.mark.parametrize("type", TYPES)
def test_each_types_own_name_finds_it(type: str) -> None:
    assert find_type(type) == find_type(type.upper()) == type


@pytest.mark.parametrize(
    ("text", "remedy"),
    [
        ("rigd", "Did you mean RMC?"),
        ("MC", "Take it out; raceways are EMT, RMC"),
        ("liquidtight", "Write LFMC or LFNC."),
        ("2 in EMT", "Write `type: EMT` and `size: 2`."),
        ("rigid 1 1/4", "Write `type: RMC` and `size: 1-1/4`."),
        ("PVC", "Write PVC 40 or PVC 80."),
        ("", "Write EMT, RMC"),
        ("conduit", "Write EMT, RMC"),
        ("PVC 60", "Did you mean PVC"),
    ],
)
def test_refuses_type_with_the_nearest(text: str, remedy: str) -> None:
    with pytest.raises(NotInTables) as refused:
        find_type(text)
    assert f"'{text}'" in refused.value.message
    assert remedy in refused.value.remedy


@pytest.mark.parametrize("text", ["HDPE conduit", "RTRC", "fmt"])
def test_a_raceway_without_figures_is_not_taken_for_a_misspelt_one(text: str) -> None:
    with pytest.raises(NotInTables) as refused:
        find_type(text)
    assert refused.value.message.endswith("is a raceway whose sizes are not known here.")
    assert refused.value.remedy == f"Known are {listed(TYPES)}."


@pytest.mark.parametrize(
    ("type", "text", "trade_size"),
    [
        ("EMT", "1-1/4", "1-1/4"),
        ("EMT", "1 1/4", "1-1/4"),
        ("EMT", "1¼", "1-1/4"),
        ("EMT", "1.25", "1-1/4"),
        ("EMT", "1-1/4 in", "1-1/4"),
        ("EMT", '1-1/4"', "1-1/4"),
        ("EMT", "1-1/4''", "1-1/4"),
        ("EMT", ".5", "1/2"),
        ("EMT", " 2 ", "2"),
        ("EMT", "35 mm", "1-1/4"),
        ("EMT", "35mm", "1-1/4"),
        ("EMT", "MD 35", "1-1/4"),
        ("EMT", "md35", "1-1/4"),
        ("EMT", "metric 35", "1-1/4"),
        ("EMT", "metric designator 35", "1-1/4"),
        ("rigid", "MD 155", "6"),
        ("metric", "20", "20"),
        ("metric", "20 mm", "20"),
        ("metric", "M20", "20"),
        ("metric", "m 20", "20"),
    ],
)
def test_finds_size(type: str, text: str, trade_size: str) -> None:
    size = look_up(type, text)
    assert (size.type, size.trade_size) == (find_type(type), trade_size)


@pytest.mark.parametrize(
    ("type", "text", "remedy"),
    [
        ("EMT", "5", "the nearest is 4."),
        ("IMC", "6", "the nearest is 4."),
        ("LFNC", "2-1/2", "the nearest is 2."),
        ("EMT", "1.3", "the nearest is 1-1/4."),
        ("EMT", "35", "Write 1-1/4, or MD 35,"),
        ("EMT", "50 mm", "Write 1/2, 3/4"),
        ("EMT", "25.4 mm", "Write 1/2, 3/4"),  # an outside measure is no trade size
        ("EMT", "5.08 cm", "Write 1/2, 3/4"),
        ("RMC", "1/2'", "Write 1/2, 3/4"),  # half a foot is not trade size 6
        ("EMT", "1/2 ft", "Write 1/2, 3/4"),
        ("EMT", "M20", "Write 1/2, 3/4"),
        ("EMT", "two", "1-1/4"),
        ("EMT", "", "1-1/4"),
        ("EMT", "1,25", "1.25"),
        ("EMT", "11/4", "2-3/4"),
        ("metric", "3/4", "Write 16, 20, 25, 32, 40, 50 or 63."),
        ("metric", "21", "Write 16, 20, 25, 32, 40, 50 or 63."),
        ("metric", "٢٠", "Write 16, 20, 25, 32, 40, 50 or 63."),
    ],
)
def test_refuses_size_with_what_there_is(type: str, text: str, remedy: str) -> None:
    with pytest.raises(NotInTables) as refused:
        look_up(type, text)
    assert remedy in refused.value.remedy


@pytest.mark.parametrize("type", TYPES)
def test_every_size_is_found_by_its_own_name(type: str) -> None:
    for size in sizes(type):
        assert look_up(type, size.trade_size) is size
        if size.metric_designator:
            assert look_up(type, f"MD {size.metric_designator}") is size


@pytest.mark.parametrize("type", ["FMC", "LFMC", "LFNC"])
def test_flexible_types_have_a_range(type: str) -> None:
    for size in sizes(type):
        assert size.outside_diameter_in < size.outside_diameter_most_in
        assert size.provenance == "from memory"


@pytest.mark.parametrize("type", ["EMT", "RMC", "aluminium RMC", "IMC", "PVC 40", "PVC 80", "metric"])
def test_rigid_types_have_one_diameter(type: str) -> None:
    for size in sizes(type):
        assert size.outside_diameter_in == size.outside_diameter_most_in


def test_where_each_type_ends() -> None:
    assert {type: sizes(type)[-1].trade_size for type in TYPES} == {
        "EMT": "4", "RMC": "6", "aluminium RMC": "6", "IMC": "4", "PVC 40": "6", "PVC 80": "6",
        "ENT": "2", "FMC": "4", "LFMC": "4", "LFNC": "2", "metric": "63",
    }  # fmt: skip


def test_the_mean_lies_between_least_and_most() -> None:
    size = look_up("FMC", "2")
    assert size.outside_diameter_in == pytest.approx((2.350 + 2.454) / 2)
    assert size.outside_diameter_most_in == 2.454


def test_trade_sizes_count_in_inches() -> None:
    assert trade_size_in("1-1/4") == 1.25
    assert look_up("EMT", "3/4").trade_size_in == 0.75
    assert look_up("metric", "63").trade_size_in == pytest.approx(63 / 25.4)


def test_nearest_and_listed() -> None:
    assert nearest("hole-saw", ["punch", "Hole saw"]) == "Hole saw"
    assert nearest("zzz", ["punch", "hole saw"]) is None
    assert nearest("", []) is None
    assert listed([]) == ""
    assert listed(["a"]) == "a"
    assert listed(["a", "b", "c"]) == "a, b or c"


def test_every_type_says_what_it_is_made_of_and_ends_in() -> None:
    """Common practice, no source; metric conduit of IEC 60423 is made in metal and in plastic."""
    made = {type: (facts(type).is_metal, facts(type).ends_in_connector) for type in TYPES}
    assert made == {
        "EMT": (True, True),
        "RMC": (True, False),
        "aluminium RMC": (True, False),
        "IMC": (True, False),
        "PVC 40": (False, False),
        "PVC 80": (False, False),
        "ENT": (False, True),
        "FMC": (True, True),
        "LFMC": (True, True),
        "LFNC": (False, True),
        "metric": (None, False),
    }
