"""Fittings beside keep-outs, strut that is made, straps between rows: at the limit, on the second of all."""

from __future__ import annotations

import pytest
from check_cases import finding, findings, moved, outcome, outcomes
from factories import from_edge, make_face, make_job, make_keep_out, make_raceway, make_row

from templates_engine.job.model import KeepOut
from templates_engine.job.shop.model import Shop, ShopFitting
from templates_engine.layout import solve
from templates_engine.layout.model import Layout
from templates_engine.trade.fittings import look_up
from templates_engine.trade.raceways import look_up as raceway
from templates_engine.values import replace

NAME = "fittings at keep-outs"
STUD = make_keep_out(15.0, 4.0, diameter=0.5, name="ground stud")


def across(kind: str, size: str, type: str = "EMT") -> float:
    return look_up(kind, raceway(type, size)).diameter_in


def two_faces(*second: object, keep_outs: tuple[KeepOut, ...] = (STUD,), **more: object) -> Layout:
    """A top without anything in the way, and a left side with two rows; B2 stands at 20 in, 4 in deep."""
    raceways = [make_raceway("1", id, **more) for id in ("B1", "B2")]  # type: ignore[arg-type]
    back = make_row(make_raceway("1", "A1"), back_line=1.0, strut=None, placing=from_edge(2.0))
    front = make_row(*raceways, name="B", back_line=3.4185, strut=None, gap=16.0, placing=from_edge(2.0))
    side = make_face(back, front, face="left", width=40.0, keep_outs=keep_outs)
    return solve(make_job(make_face(make_row("1")), side))


@pytest.mark.parametrize(("extra", "expected"), [(0.01, "ok"), (0.0, "ok"), (-0.001, "caution")])
@pytest.mark.parametrize(
    ("kind", "where", "more"),
    [
        ("locknut", "inside", {"cutter": "hole saw"}),
        ("bonding bushing", "inside", {"cutter": "hole saw", "bushing": "bonding"}),
        ("punch die", "outside", {}),
    ],
)
def test_each_thing_round_the_hole_may_touch_the_keep_out(kind, where, more, extra, expected):
    layout = two_faces(**more)
    reach = max(across(kind, "1"), across("locknut", "1")) / 2
    at = moved(layout, "B2", u=15.0 + 0.25 + reach + extra, v=4.0)
    found = finding(at, NAME)
    assert (found.outcome.value, found.face, found.holes) == (expected, "left", ("B2",))
    assert found.provided == pytest.approx(extra)


def test_a_locknut_on_a_ground_stud_is_found_though_the_knockout_only_touches_it():
    layout = two_faces(cutter="hole saw")
    tangent = moved(layout, "B2", u=15.25 + 1.375 / 2, v=4.0)
    assert outcome(tangent, "keep-outs") == "ok"
    found = finding(tangent, NAME)
    assert found.provided == pytest.approx(1.375 / 2 - 1.73 / 2)
    assert "B2's locknut inside overlaps the keep-out 'ground stud' by 3/16 in (0.1775)" in found.message


def test_a_hub_of_a_wet_place_and_the_second_keep_out_count():
    far = make_keep_out((0.0, 0.1), name="seam")
    layout = two_faces(keep_outs=(far, STUD), cutter="hole saw", type="RMC")
    at = moved(layout, "B2", u=15.25 + across("hub", "1") / 2 - 0.001, v=4.0)
    assert outcome(at, NAME) == "ok"
    job = replace(at.job, enclosure=replace(at.job.enclosure, location="wet"))
    wet = finding(replace(at, job=job), NAME)
    assert wet.outcome.value == "caution"
    assert "B2's hub outside overlaps the keep-out 'ground stud'" in wet.message


def test_every_fitting_in_the_way_and_every_hole_is_told():
    layout = two_faces()
    at = moved(moved(layout, "B1", u=14.5, v=4.0), "B2", u=15.5, v=4.0)
    found = finding(at, NAME)
    assert found.holes == ("B1", "B2")


def test_an_explicit_clear_distance_does_not_hide_fittings_in_the_way():
    stud = replace(STUD, clear_in=0.0)
    row = make_row(make_raceway("1", cutter="hole saw", at=15.25 + 1.375 / 2), back_line=3.4185, strut=None)
    layout = solve(make_job(make_face(row, keep_outs=[stud])))
    assert (outcome(layout, "keep-outs"), outcome(layout, NAME)) == ("ok", "caution")


def test_fittings_that_no_table_has_are_not_checked():
    six = make_row(make_raceway("6", type="RMC"), back_line=2.0, strut=None)
    layout = solve(make_job(make_face(six, depth=14, keep_outs=[make_keep_out((0, 1))])))
    assert outcomes(layout, NAME) == ["not checked"]


def test_faces_without_keep_outs_say_nothing():
    assert [one.face for one in findings(two_faces(), NAME)] == ["left"]


# --- strut that is made -------------------------------------------------------------------------------------


def on_strut(*depths: float, unit: str = "in") -> Layout:
    """The strut of the second row of the second face."""
    row = make_row(make_raceway("1", "B1"), name="B", strut=depths, placing=from_edge(15.0))
    first = make_row("1", placing=from_edge(2.0))
    faces = (make_face(first, depth=16), make_face(first, row, face="left", width=30.0, depth=16))
    return solve(make_job(*faces, unit=unit))  # type: ignore[arg-type]


def found_on(*depths: float, unit: str = "in"):
    (one,) = [
        each for each in findings(on_strut(*depths, unit=unit), "strut that is made") if each.face == "left"
    ]
    return one


@pytest.mark.parametrize("depth", [0.8125, 0.875, 1.0, 1.375, 1.625, 2.4375, 3.25, 41 / 25.4, 21 / 25.4])
def test_depths_that_are_made_pass(depth):
    assert found_on(depth).outcome.value == "ok"
    assert found_on(1.625, depth).outcome.value == "ok"


def test_a_depth_that_is_not_made_names_those_next_to_it():
    found = found_on(1.5)
    assert (found.outcome.value, found.holes, found.provided) == ("caution", ("B1",), 1.5)
    assert "No strut 1-1/2 in deep is made (row B); 1-3/8 in or 1-5/8 in is" in found.message
    assert "No strut 1/2 in deep is made (row B); 13/16 in is" in found_on(0.5).message
    assert "No strut 4 in deep is made (row B); 3-1/4 in is" in found_on(4.0).message


def test_the_second_of_stacked_struts_is_looked_up_too():
    assert "No strut 1-1/2 in deep" in found_on(1.625, 1.5).message


def test_the_limit_is_a_sixty_fourth():
    assert found_on(1.625 + 1 / 64).outcome.value == "ok"
    assert found_on(1.625 + 1 / 64 + 1e-6).outcome.value == "caution"


# --- straps -------------------------------------------------------------------------------------------------


def test_straps_of_the_second_row_are_looked_at():
    first = make_row("1", "1", gap=2.0)
    second = make_row("1", "1", name="B", gap=1.0, strut=4.0, placing=from_edge(15.0))
    found = finding(make_job(make_face(first, second, width=40, depth=12)), "straps")
    assert (found.outcome.value, found.holes) == ("caution", ("B1", "B2"))


@pytest.mark.parametrize(("gap", "expected"), [(1.126, "ok"), (1.125, "ok"), (1.124, "caution")])
def test_straps_between_rows_ask_for_the_habitual_gap(gap, expected):
    """Eight 1 in EMT in two rows, 1.163 in across; the rows 5/8 in apart passed once."""
    four = ("1",) * 4
    behind = make_row(*four, gap=1.125)
    front = make_row(*four, name="B", gap=1.125, strut=1.625 + 1.163 + gap)
    layout = solve(make_job(make_face(behind, front, depth=12)))
    found = finding(layout, "straps")
    assert found.outcome.value == expected
    if expected == "caution":
        assert found.holes == ("A1", "B1", "A2", "B2", "A3", "B3", "A4", "B4")
        assert found.provided == pytest.approx(gap)


@pytest.mark.parametrize(("gap", "expected"), [(0.5625, "ok"), (0.5615, "caution")])
def test_beside_a_row_without_straps_half_of_it_is_enough(gap, expected):
    behind = make_row("1", strut=1.625)
    front = make_row("1", name="B", strut=None, back_line=1.625 + 1.163 + gap)
    assert outcome(make_job(make_face(behind, front, depth=12)), "straps") == expected


def test_rows_that_are_given_back_lines_both_are_left_out():
    rows = [
        make_row("1", "1", name=name, gap=0.5, strut=None, back_line=line)
        for name, line in (("A", 1.0), ("B", 2.5))
    ]
    assert findings(make_job(make_face(*rows, depth=12)), "straps") == []


def test_a_row_put_clear_of_another_counts_as_strapped():
    rows = (make_row("1", strut=1.625), make_row("1", "1", name="B", gap=1.0, strut=None, back_line="auto"))
    found = finding(make_job(make_face(*rows, depth=12)), "straps")
    assert (found.outcome.value, found.holes) == ("caution", ("B1", "B2"))


def test_the_shops_strap_counts_between_rows():
    rows = (make_row("1", strut=1.625), make_row("1", name="B", strut=1.625 + 1.163 + 1.2))
    job = make_job(make_face(*rows, depth=12))
    assert outcome(job, "straps") == "ok"
    wide = replace(job, shop=Shop("shop.yaml", (ShopFitting("strap", None, "1", 2.4),)))
    found = finding(wide, "straps")
    assert (found.outcome.value, found.required) == ("caution", pytest.approx(2.4 - 1.163))
