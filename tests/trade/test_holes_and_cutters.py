"""Holes for sizes, pilots for cutters, sheet metal and strut as written."""

from __future__ import annotations

import pytest

from templates_engine.trade import cutters, fittings, gauges, knockouts, strut
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceways import TYPES, RacewaySize, look_up, sizes
from templates_engine.trade.tables import TableRow, read_table
from templates_engine.units import read_length, tape

EVERY_SIZE = [size for type in TYPES for size in sizes(type)]


def _named(size: RacewaySize) -> str:
    return f"{size.type} {size.trade_size}"


@pytest.mark.parametrize("size", EVERY_SIZE, ids=_named)
def test_every_size_has_a_hole_and_a_pilot_for_every_cutter(size: RacewaySize) -> None:
    hole = knockouts.look_up(size)
    for cutter in cutters.CUTTERS:
        pilot = cutters.pilot(cutter, size, hole.nominal_in)
        assert 0 < pilot.diameter_in < hole.nominal_in
        assert cutter.split()[0] in pilot.words or "draw stud" in pilot.words
        assert pilot.source
        assert pilot.provenance


@pytest.mark.parametrize("size", sizes("metric"), ids=_named)
def test_metric_holes_clear_their_size_by_half_a_millimetre(size: RacewaySize) -> None:
    """From memory: nominal half a millimetre over the size, made to 0.2 to 0.7 over."""
    hole, punch = knockouts.look_up(size), knockouts.field_punch(size)
    over_mm = [
        (each - size.outside_diameter_in) * 25.4 for each in (hole.least_in, hole.nominal_in, hole.most_in)
    ]
    assert over_mm == pytest.approx([0.2, 0.5, 0.7])
    assert hole.least_in <= punch.nominal_in <= hole.nominal_in


def test_metric_punches() -> None:
    """From memory."""
    punches_mm = [round(knockouts.field_punch(size).nominal_in * 25.4, 6) for size in sizes("metric")]
    assert punches_mm == [16.2, 20.4, 25.4, 32.5, 40.5, 50.5, 63.5]


def test_metric_40_does_not_take_the_knockout_of_another_40() -> None:
    """A metric size and a trade size may be the same text."""
    metric = knockouts.look_up(look_up("metric", "40"))
    assert 1.5 < metric.nominal_in < 1.7


@pytest.mark.parametrize("trade_size", ["5", "6"])
def test_no_field_punch_is_made_up_for_large_sizes(trade_size: str) -> None:
    with pytest.raises(NotInTables, match="hole: knockout"):
        knockouts.field_punch(look_up("RMC", trade_size))


@pytest.mark.parametrize(
    ("type", "trade_size", "pilot_in"),
    [
        ("EMT", "1/2", 7 / 16),
        ("EMT", "3/4", 7 / 8),
        ("EMT", "2", 7 / 8),
        ("EMT", "2-1/2", 1.25),
        ("RMC", "6", 1.25),
        ("metric", "25", 7 / 16),
        ("metric", "63", 7 / 8),
    ],
)
def test_draw_stud_pilots(type: str, trade_size: str, pilot_in: float) -> None:
    """From memory: 3/8, 3/4 and 1-1/8 in draw studs, the pilot slightly larger."""
    size = look_up(type, trade_size)
    pilot = cutters.pilot("punch", size, knockouts.look_up(size).nominal_in)
    assert pilot.diameter_in == pilot_in
    assert pilot.provenance == "from memory"


@pytest.mark.parametrize("stud", read_table("draw_studs").rows, ids=lambda row: row.text("stud"))
def test_a_draw_stud_goes_through_its_pilot(stud: TableRow) -> None:
    assert stud.inches("stud") < stud.inches("pilot") <= stud.inches("stud") + 0.13
    assert (
        stud.text("words")
        == f"{tape(stud.inches('pilot'))} in pilot for a {tape(stud.inches('stud'))} in draw stud"
    )


def test_hole_saws_are_called_by_their_diameter() -> None:
    for size in sizes("EMT"):
        saw = cutters.hole_saw(size)
        assert read_length(saw.words) == saw.diameter_in


def test_drilled_pilots() -> None:
    """Common practice, no source: 1/4 in under a hole saw, 1/8 in under a step bit."""
    size = look_up("EMT", "2")
    assert cutters.pilot("step bit", size, 2.5).diameter_in == 0.125
    assert cutters.pilot("hole saw", size, 2.5).diameter_in == 0.25
    assert cutters.hole_saw(size).words == "2-1/2"


@pytest.mark.parametrize(
    ("cutter", "hole_in", "wrong"),
    [
        ("punch", 0.4375, "No usual punch cuts a hole of 0.4375 in."),
        ("punch", 0.3, "No usual punch"),
        ("punch", 7.6, "No usual punch"),
        ("hole saw", 0.25, "No usual hole saw"),
        ("step bit", 0.1, "No usual step bit"),
    ],
)
def test_refuses_a_hole_the_cutter_does_not_make(cutter: str, hole_in: float, wrong: str) -> None:
    with pytest.raises(NotInTables) as refused:
        cutters.pilot(cutter, look_up("EMT", "1/2"), hole_in)
    assert wrong in refused.value.message


def test_refuses_an_unknown_cutter() -> None:
    with pytest.raises(NotInTables, match=r"Did you mean hole saw\?"):
        cutters.pilot("holesaw", look_up("EMT", "1/2"), 0.875)
    for size in (look_up("RMC", "5"), look_up("metric", "20")):
        with pytest.raises(NotInTables, match="No usual hole saw"):
            cutters.hole_saw(size)


# --- fittings -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", fittings.KINDS)
def test_every_fitting_up_to_4_is_listed_and_larger_than_the_hole_it_covers(kind: str) -> None:
    for size in sizes("RMC")[:10]:
        envelope = fittings.look_up(kind, size)
        assert envelope.kind == kind
        assert envelope.provenance
        if kind in ("locknut", "hub", "punch die"):
            assert envelope.diameter_in > knockouts.look_up(size).nominal_in


@pytest.mark.parametrize("kind", fittings.KINDS)
def test_fittings_grow_with_the_size(kind: str) -> None:
    widths = [fittings.look_up(kind, size).diameter_in for size in sizes("RMC")[:10]]
    assert widths == sorted(set(widths))


def test_a_fitting_of_one_published_table() -> None:
    """One published table of fittings, +/- 1/8 in."""
    two = look_up("RMC", "2")
    found = {kind: fittings.look_up(kind, two).diameter_in for kind in ("locknut", "bonding bushing", "hub")}
    assert found == {"locknut": 2.95, "bonding bushing": 3.03, "hub": 3.11}
    assert fittings.look_up("plain bushing", two).diameter_in == 3.03
    half_way = fittings.look_up("hub", look_up("EMT", "3-1/2"))
    assert half_way.diameter_in == pytest.approx((4.80 + 5.67) / 2)
    assert half_way.provenance.startswith("computed")


def test_straps_keep_the_habitual_gap_between_any_two() -> None:
    one, other = look_up("EMT", "1/2"), look_up("LFMC", "2")
    centres_in = (
        fittings.look_up("strap", one).diameter_in + fittings.look_up("strap", other).diameter_in
    ) / 2
    clear_in = centres_in - (one.outside_diameter_most_in + other.outside_diameter_most_in) / 2
    assert clear_in == pytest.approx(1.125)


def test_what_is_not_known_is_not_made_up() -> None:
    with pytest.raises(NotInTables, match="write the gap as a length"):
        fittings.look_up("locknut", look_up("RMC", "5"))
    with pytest.raises(NotInTables, match="not in the tables"):
        fittings.look_up("hub", look_up("metric", "40"))
    with pytest.raises(NotInTables, match=r"Did you mean locknut\?"):
        fittings.look_up("lock nut", look_up("RMC", "2"))
    with pytest.raises(NotInTables, match="strut straps"):
        fittings.habit_gap("elbows")


# --- strut and gauges ---------------------------------------------------------------------------------------


def test_strut_by_depth() -> None:
    found = strut.look_up(1.625)
    assert found is not None
    assert (found.words, found.source, found.provenance) == ("1-5/8", "MFMA-4", "read")
    assert strut.look_up(41.3 / 25.4) == found  # the same channel measured in millimetres
    assert strut.look_up(1.5) is None
    for row in strut.depths():
        assert read_length(row.words) == row.depth_in


@pytest.mark.parametrize(
    ("text", "words", "thickness_in"),
    [
        ("16 ga", "16 ga steel (0.0598 in)", 0.0598),
        ("16 gauge", "16 ga steel (0.0598 in)", 0.0598),
        ("16-gauge sheet steel", "16 ga steel (0.0598 in)", 0.0598),
        ("16ga.", "16 ga steel (0.0598 in)", 0.0598),
        ("18 GA steel", "18 ga steel (0.0478 in)", 0.0478),
        ("0.0598 in", "0.0598 in", 0.0598),
        ("1/8", "1/8", 0.125),
    ],
)
def test_sheet_metal(text: str, words: str, thickness_in: float) -> None:
    assert gauges.thickness(text) == (words, thickness_in)


def test_sheet_metal_in_millimetres() -> None:
    assert gauges.thickness("1.5 mm")[1] == pytest.approx(1.5 / 25.4)
    assert gauges.thickness("1.5", "mm")[1] == pytest.approx(1.5 / 25.4)


@pytest.mark.parametrize(
    ("gauge", "ounces"),
    [(24, 16), (22, 20), (20, 24), (18, 32), (16, 40), (14, 50), (12, 70), (11, 80), (10, 90)],
)
def test_manufacturers_standard_gauge_is_a_weight(gauge: int, ounces: int) -> None:
    """Defined by ounces to the square foot, of steel at 41.82 lb/ft2 to the inch; from memory."""
    assert gauges.thickness(f"{gauge} ga")[1] == round(ounces / 16 / 41.82, 4)


@pytest.mark.parametrize(
    ("text", "remedy"),
    [
        ("16", "A gauge is written 16 ga."),
        ("13 ga", "24, 22, 20, 18, 16, 14, 12, 11 or 10 ga"),
        ("16 ga stainless", "Write its thickness"),
        ("16 ga aluminium", "Write its thickness"),
        ("thick", "A gauge is written 16 ga."),
        ("", "A gauge is written 16 ga."),
        ("1 in", "at most 0.5 in"),
        ("0", "more than zero"),
    ],
)
def test_refuses_sheet_metal(text: str, remedy: str) -> None:
    with pytest.raises(NotInTables) as refused:
        gauges.thickness(text)
    assert remedy in refused.value.remedy
