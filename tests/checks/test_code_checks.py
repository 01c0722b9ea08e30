"""Checks that rest on code articles: ok, caution or fail, exactly at the limit, and not checked."""

from __future__ import annotations

from typing import Any

import pytest
from check_cases import (
    circuits,
    conductors,
    finding,
    findings,
    one_raceway,
    outcome,
    outcomes,
    with_enclosure,
    words,
)
from factories import make_face, make_job, make_raceway, make_row

from templates_engine.job.model import ConductorGroup, RacewayWiring, TerminalLugs, Wire

WYE = {"system": "208Y/120"}


# --- fill and adjustment ------------------------------------------------------------------------------------


def test_fill_passes_fails_and_is_told_in_percent():
    assert outcome(one_raceway("1-1/4", wiring=conductors((3, "1"), (1, "6", "ground"))), "fill") == "ok"
    found = finding(one_raceway("1", wiring=conductors((3, "1"), (1, "6", "ground"))), "fill")
    assert found.outcome.value == "fail"
    assert (found.unit, found.required) == ("%", 40)
    # The area that NEC chapter 9 Table 4 prints, .864, not the .8643 of its diameter.
    assert found.provided == pytest.approx(100 * (3 * 0.1562 + 0.0507) / 0.864, abs=1e-6)


def test_the_last_wire_let_in_by_note_7_passes_and_the_next_fails():
    at_limit = finding(one_raceway("1", wiring=conductors((26, "12"))), "fill")
    assert at_limit.outcome.value == "ok"
    assert "note 7" in at_limit.message
    assert outcome(one_raceway("1", wiring=conductors((27, "12"))), "fill") == "fail"


def test_a_nipple_may_be_fuller():
    wiring = conductors((30, "12"), (1, "10", "ground"))
    assert outcome(one_raceway("1", wiring=wiring), "fill") == "fail"
    assert outcome(one_raceway("1", wiring=wiring, nipple=True), "fill") == "ok"


@pytest.mark.parametrize(
    ("more", "missing"),
    [
        ({"wiring": None}, "circuits or conductors"),
        ({"wiring": circuits(1, neutrals=None)}, "neutrals"),
        ({"wiring": circuits(1, wire=None)}, "wire"),
        ({"wiring": circuits(1, 3, neutrals="shared")}, "system"),
        ({"wiring": circuits(1, ground=None, ground_named=False), "type": "PVC 40"}, "ground"),
    ],
)
def test_fill_names_the_input_it_lacks(more, missing):
    found = finding(one_raceway("1", **more), "fill")
    assert found.outcome.value == "not checked"
    assert f"'{missing}'" in found.message
    assert (found.provided, found.required) == (None, None)


def test_sixty_raceways_without_loads_make_one_line():
    row = make_row(*["1/2"] * 20)
    found = finding(make_job(make_face(row, width=60)), "fill")
    assert len(found.holes) == 20
    assert "and 16 more" in found.message


def test_metric_conduit_has_no_listed_inside():
    found = finding(one_raceway("20", type="metric", wiring=conductors((3, "12"))), "fill")
    assert found.outcome.value == "not checked"
    assert "metric" in found.message


@pytest.mark.parametrize(
    ("wires", "percent", "expected"), [(3, 100, "ok"), (4, 80, "caution"), (10, 50, "caution")]
)
def test_more_than_three_current_carrying_conductors_caution(wires, percent, expected):
    found = finding(one_raceway("2", wiring=conductors((wires, "12"))), "ampacity adjustment")
    assert (found.outcome.value, found.provided) == (expected, percent)


def test_a_nipple_needs_no_adjustment():
    job = one_raceway("2", wiring=conductors((9, "12")), nipple=True)
    assert outcome(job, "ampacity adjustment") == "ok"


def test_nonlinear_loads_are_told_where_they_change_the_factor():
    wiring = circuits(1, 3, 5, 2, 4, 6, neutrals="shared")
    told = words(one_raceway("2", wiring=wiring, enclosure=WYE), "ampacity adjustment")
    assert "6 current-carrying conductors" in told
    assert "8 and 70 % where loads are mostly nonlinear" in told


# --- shared neutral, bushings -------------------------------------------------------------------------------


@pytest.mark.parametrize(("together", "expected"), [(True, "ok"), (False, "fail"), (None, "not checked")])
def test_a_shared_neutral_needs_simultaneous_disconnect(together, expected):
    wiring = circuits(1, 3, 5, neutrals="shared", simultaneous_disconnect=together)
    found = finding(one_raceway("1", wiring=wiring, enclosure=WYE), "shared neutral")
    assert found.outcome.value == expected
    assert found.source == "NEC 210.4(B)"


def test_own_neutrals_need_none():
    assert findings(one_raceway("1", wiring=circuits(1, 3, 5), enclosure=WYE), "shared neutral") == []


def test_circuits_of_one_phase_share_nothing():
    wiring = circuits(1, 2, neutrals="shared", simultaneous_disconnect=False)
    assert findings(one_raceway("1", wiring=wiring, enclosure=WYE), "shared neutral") == []


@pytest.mark.parametrize(
    ("size", "bushing", "expected"),
    [
        ("4", "plain", "fail"),
        ("6", "plain", "ok"),
        ("4", "insulated", "ok"),
        ("500", "bonding", "ok"),
        ("4", None, "not checked"),
        ("6", None, "ok"),
    ],
)
def test_from_4_awg_up_bushings_are_insulated(size, bushing, expected):
    job = one_raceway("3", wiring=conductors((3, size)), bushing=bushing)
    assert outcome(job, "insulated bushings") == expected


def test_bushings_without_a_load_are_not_checked():
    assert outcome(one_raceway("3", bushing="plain"), "insulated bushings") == "not checked"
    assert findings(one_raceway("3", bushing="insulated"), "insulated bushings") == []


# --- bonding ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("system", "bushing", "expected"),
    [
        ("480Y/277", "plain", ["fail"]),
        ("480Y/277", "insulated", ["fail"]),
        ("480Y/277", "bonding", ["ok"]),
        ("480Y/277", None, ["not checked"]),
        ("480 delta", "plain", ["fail"]),
        ("208Y/120", "plain", ["ok"]),
        ("240 delta high leg", None, ["ok"]),
        (None, "plain", ["not checked"]),
    ],
)
def test_concentric_knockouts_over_250_volts_are_bonded(system, bushing, expected):
    job = one_raceway("1", bushing=bushing, knockout="concentric", enclosure={"system": system})
    assert outcomes(job, "bonding over 250 V") == expected


@pytest.mark.parametrize("more", [{"knockout": "cut"}, {"knockout": "concentric", "type": "PVC 40"}])
def test_cut_holes_and_nonmetallic_raceways_need_no_bonding_bushing(more):
    job = one_raceway("1", bushing="plain", enclosure={"system": "480Y/277"}, **more)
    assert findings(job, "bonding over 250 V") == []


@pytest.mark.parametrize(
    ("bushing", "expected"), [("bonding", ["ok"]), ("plain", ["caution"]), (None, ["not checked"])]
)
def test_service_raceways_are_bonded(bushing, expected):
    job = one_raceway("2", bushing=bushing, wiring=conductors((3, "1/0")), enclosure={"service": True})
    assert outcomes(job, "bonding at the service") == expected


def test_branch_circuits_are_no_service_raceway():
    job = one_raceway("2", bushing="plain", wiring=circuits(1), enclosure={"service": True})
    assert findings(job, "bonding at the service") == []
    assert findings(one_raceway("2", bushing="plain"), "bonding at the service") == []


# --- bending room -------------------------------------------------------------------------------------------


def with_lugs(size: str, lugs: TerminalLugs | None, kind: str = "panelboard", count: int = 3) -> Any:
    row = make_row(make_raceway("4", wiring=conductors((count, size), (1, "750", "ground"))))
    return with_enclosure(make_job(make_face(row, depth=12, lugs=lugs)), kind=kind)


@pytest.mark.parametrize(
    ("size", "distance", "wires", "opposite", "expected"),
    [
        ("500", 14.0, 1, True, "ok"),
        ("500", 13.99, 1, True, "fail"),
        ("500", 6.0, 1, False, "ok"),
        ("500", 5.99, 1, False, "fail"),
        ("12", 0.5, 1, True, "ok"),
    ],
)
def test_bending_room_at_its_limit(size, distance, wires, opposite, expected):
    assert outcome(with_lugs(size, TerminalLugs(distance, wires, opposite)), "bending room") == expected


def test_bending_room_wants_the_lugs_from_8_awg_up():
    assert outcome(with_lugs("8", None), "bending room") == "not checked"
    assert findings(with_lugs("10", None), "bending room") == []
    assert findings(with_lugs("500", None, kind="pull box"), "bending room") == []
    assert findings(with_lugs("500", None, kind="wireway"), "bending room") == []
    assert outcome(with_lugs("500", TerminalLugs(5.0, 1, False), kind="wireway"), "bending room") == "fail"


def test_bending_room_of_unknown_conductors_is_not_checked():
    unknown = make_job(make_face(make_row("4"), depth=12))
    assert outcome(with_enclosure(unknown, kind="panelboard"), "bending room") == "not checked"
    grounds = make_job(make_face(make_row(make_raceway("1", wiring=conductors((1, "4", "ground"))))))
    assert findings(with_enclosure(grounds, kind="panelboard"), "bending room") == []


def test_bending_room_the_table_does_not_give_is_not_checked():
    assert outcomes(with_lugs("1", TerminalLugs(12.0, 2, False)), "bending room") == ["not checked"]


# --- air space, support, panel spaces -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("location", "gap", "expected"),
    [
        ("dry", 0.0, "ok"),
        ("damp", 0.25, "ok"),
        ("wet", 0.25, "ok"),
        ("damp", 0.24, "fail"),
        ("wet", 0.0, "fail"),
        (None, 0.0, "not checked"),
    ],
)
def test_damp_and_wet_places_want_air_behind(location, gap, expected):
    job = one_raceway("1", enclosure={"kind": "cabinet", "location": location, "back_gap_in": gap})
    assert outcome(job, "air space behind") == expected


@pytest.mark.parametrize(
    ("type", "distance", "expected"),
    [
        ("EMT", 36.0, "ok"),
        ("EMT", 36.01, "fail"),
        ("FMC", 12.0, "ok"),
        ("FMC", 12.01, "fail"),
        ("EMT", None, "not checked"),
    ],
)
def test_first_support(type, distance, expected):
    assert outcome(one_raceway("1", type=type, first_support=distance), "first support") == expected


def test_the_support_article_of_the_type_is_named():
    assert "358.30" in words(one_raceway("1", first_support=12.0), "first support")
    told = finding(one_raceway("20", type="metric", first_support=12.0), "first support")
    assert told.outcome.value == "not checked"


@pytest.mark.parametrize(
    ("wiring", "enclosure", "expected", "word"),
    [
        (circuits(1, (2, 4, 6)), WYE, ["ok"], "2 circuits"),
        (circuits((1, 5)), WYE, ["caution"], "follow one another"),
        (circuits(3), {"system": "240 delta high leg"}, ["caution"], "high leg B"),
        (circuits(1), {"system": "240 delta high leg"}, ["ok"], ""),
        (circuits(1), {}, ["not checked"], "'system'"),
    ],
)
def test_panel_spaces(wiring, enclosure, expected, word):
    found = findings(one_raceway("1", wiring=wiring, enclosure=enclosure), "panel spaces")
    assert [each.outcome.value for each in found] == expected
    assert word in found[0].message


def test_a_space_in_two_raceways_of_a_panelboard_cautions_and_of_a_pull_box_does_not():
    raceways = [make_raceway("1", f"A{number}", wiring=circuits(1)) for number in (1, 2)]
    job = with_enclosure(make_job(make_face(make_row(*raceways))), **WYE)
    assert outcome(job, "panel spaces") == "ok"
    assert words(with_enclosure(job, kind="panelboard"), "panel spaces") == "Space 1 is in both A1 and A2."


def test_a_bare_ground_asks_for_no_insulated_bushing():
    """NEC 300.4(G) speaks of insulated conductors [from memory]."""
    job = one_raceway(
        "1", bushing="plain", wiring=RacewayWiring((), None, None, None, False, (
            ConductorGroup(3, Wire("6", "THHN", "Cu"), "phase"),
            ConductorGroup(1, Wire("4", "bare", "Cu"), "ground"),
        ), None),
    )  # fmt: skip
    assert outcome(job, "insulated bushings") == "ok"
