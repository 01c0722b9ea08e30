"""Checks that rest on custom or remembered figures: they caution, never fail, and pass exactly at their
limit."""

from __future__ import annotations

import math

import pytest
from check_cases import finding, findings, moved, outcome, outcomes, solved_row, with_enclosure, words
from factories import make_face, make_job, make_raceway, make_row

from templates_engine.job.model import Lips
from templates_engine.layout import solve
from templates_engine.layout.model import Layout
from templates_engine.trade.fittings import look_up
from templates_engine.trade.raceways import look_up as raceway
from templates_engine.values import replace


def envelope(kind: str, size: str) -> float:
    return look_up(kind, raceway("EMT", size)).diameter_in


def pair(size: str, apart: float, **more: object) -> Layout:
    """Two raceways with centres ``apart``, in the middle of a wide and deep face."""
    raceways = [make_raceway(size, f"A{number}", **more) for number in (1, 2)]  # type: ignore[arg-type]
    layout = solve(make_job(make_face(make_row(*raceways, strut=3.25), width=40, depth=12)))
    return moved(moved(layout, "A1", u=15), "A2", u=15 + apart)


# --- fittings against each other ----------------------------------------------------------------------------


def test_large_bonding_bushings_do_not_fit_the_habitual_gap():
    row = make_row(*[make_raceway("4", f"A{number}", bushing="bonding") for number in (1, 2)], gap=7 / 8)
    found = finding(make_job(make_face(row, depth=10)), "fittings apart")
    assert found.outcome.value == "caution"
    assert found.holes == ("A1", "A2")
    assert found.provided == pytest.approx(4.5 + 7 / 8 - envelope("bonding bushing", "4"))
    assert found.provided == pytest.approx(-0.015)
    assert "0.015 in" in found.message
    assert "bonding bushings" in found.message


@pytest.mark.parametrize("slack", [0.0, 1.0])
def test_bushings_that_just_touch_pass(slack):
    assert (
        outcome(pair("2", envelope("bonding bushing", "2") + slack, bushing="bonding"), "fittings apart")
        == "ok"
    )


def test_bushings_short_of_touching_caution():
    close = pair("2", envelope("bonding bushing", "2") - 0.001, bushing="bonding")
    assert outcome(close, "fittings apart") == "caution"


def test_without_a_bushing_the_locknuts_and_connectors_count():
    widest = max(envelope("locknut", "2"), envelope("connector", "2"))
    assert outcome(pair("2", widest), "fittings apart") == "ok"
    assert outcome(pair("2", widest - 0.001), "fittings apart") == "caution"


def test_in_a_wet_place_hubs_are_taken_outside():
    wet = with_enclosure(make_job(make_face(make_row("4", "4", gap=1.0), depth=12)), location="wet")
    assert "hub" in words(wet, "fittings apart")


def test_fittings_no_table_has_are_not_checked():
    row = make_row(make_raceway("6", "A1", type="RMC"), strut=3.25)
    layout = solve(make_job(make_face(row, depth=14)))
    assert outcomes(layout, "fittings apart") == ["not checked"]
    assert "6 in RMC" in words(layout, "fittings at walls")
    assert outcome(layout, "punch die") == "not checked"


# --- fittings against walls ---------------------------------------------------------------------------------


@pytest.mark.parametrize(("extra", "expected"), [(0.5, "ok"), (0.0, "ok"), (-0.001, "caution")])
def test_a_locknut_may_touch_the_back_of_the_can(extra, expected):
    layout = moved(solved_row("1"), "A1", v=1.73 / 2 + extra)
    assert outcome(layout, "fittings at walls") == expected


@pytest.mark.parametrize(("lips", "place"), [(Lips(start_in=1), 1.5), (Lips(end_in=1), 18.5)])
def test_a_locknut_stays_off_the_lips(lips, place):
    layout = moved(solved_row("1", lips=lips), "A1", u=place)
    assert outcome(layout, "fittings at walls") == "caution"
    assert outcome(moved(layout, "A1", u=10), "fittings at walls") == "ok"


def test_a_connector_outside_runs_into_the_wall():
    job = make_job(make_face(make_row("2", back_line=0.0, strut=None)))
    found = finding(job, "fittings at walls")
    assert found.outcome.value == "caution"
    assert found.provided == pytest.approx(2.197 / 2 - envelope("locknut", "2") / 2)
    assert outcome(make_job(make_face(make_row("2", strut=0.8125))), "fittings at walls") == "ok"


def test_standing_off_the_wall_makes_room_for_the_connector():
    """Backs in the can's back plane: the locknut is in the way inside, the wall is 1 in farther off."""
    row = make_row(make_raceway("2", cutter="hole saw"), back_line=0.0, strut=None)
    on_wall, off_wall = make_job(make_face(row)), make_job(make_face(row), back_gap=1.0)
    assert "outside runs into the wall" not in words(off_wall, "fittings at walls")
    v = envelope("locknut", "2") / 2
    assert outcome(moved(solve(off_wall), "A1", v=v), "fittings at walls") == "ok"
    wide = with_enclosure(on_wall, location="wet")
    assert "hub outside runs into the wall" in words(moved(solve(wide), "A1", v=v), "fittings at walls")
    assert (
        outcome(moved(solve(with_enclosure(off_wall, location="wet")), "A1", v=v), "fittings at walls")
        == "ok"
    )


def test_the_sheet_metal_of_the_next_wall_takes_room():
    thick = make_job(replace(make_face(make_row("1")), metal_in=0.1345))
    touching = 0.1345 + envelope("locknut", "1") / 2
    for u, v in ((touching, 4.0), (20 - touching, 4.0), (10.0, touching), (10.0, 8 - touching)):
        layout = moved(solve(thick), "A1", u=u, v=v)
        assert outcome(layout, "fittings at walls") == "ok"
        inward = (0.001 if u < 10 else -0.001 if u > 10 else 0, 0.001 if v < 4 else -0.001 if v > 4 else 0)
        outward = moved(layout, "A1", u=u - inward[0], v=v - inward[1])
        assert outcome(outward, "fittings at walls") == "caution"


# --- straps, die, draw stud ---------------------------------------------------------------------------------


@pytest.mark.parametrize(("gap", "expected"), [(1.25, "ok"), (1.125, "ok"), (1.124, "caution")])
def test_straps_ask_for_the_habitual_gap(gap, expected):
    assert outcome(solved_row("1", "1", gap=gap), "straps") == expected


def test_rows_off_strut_have_no_straps():
    layout = solve(make_job(make_face(make_row("1", "1", gap=0.5, strut=None, back_line=1.0))))
    assert findings(layout, "straps") == []


@pytest.mark.parametrize(("extra", "expected"), [(0.0, "ok"), (-0.001, "caution")])
def test_the_die_lies_whole_on_the_metal(extra, expected):
    reach = envelope("punch die", "1") / 2
    assert outcome(moved(solved_row("1"), "A1", v=8 - reach - extra), "punch die") == expected
    assert outcome(moved(solved_row("1"), "A1", u=reach + extra), "punch die") == expected


def test_the_die_does_not_reach_over_the_next_knockout():
    limit = envelope("punch die", "1") / 2 + 1.375 / 2
    assert outcome(pair("1", limit), "punch die") == "ok"
    assert outcome(pair("1", limit - 0.001), "punch die") == "caution"


@pytest.mark.parametrize("more", [{"cutter": "hole saw"}, {"knockout": "concentric"}])
@pytest.mark.parametrize("name", ["punch die", "draw stud access"])
def test_no_punch_no_die(name, more):
    layout = solve(make_job(make_face(make_row(make_raceway("1", **more)))))
    assert findings(moved(layout, "A1", v=0.2), name) == []


@pytest.mark.parametrize(("from_wall", "expected"), [(2.0, "ok"), (1.0, "ok"), (0.999, "caution")])
def test_a_driver_needs_room_before_the_wall(from_wall, expected):
    layout = solve(make_job(make_face(make_row("1/2")), back_gap=0.25))
    assert outcome(moved(layout, "A1", v=from_wall - 0.25), "draw stud access") == expected


# --- bonding lugs, locknuts on large holes, hole sizes ------------------------------------------------------


def test_a_lug_turned_into_free_space_is_fine():
    assert outcome(pair("2", 3.5, bushing="bonding"), "bonding lugs") == "ok"


def test_a_lug_walled_in_all_round_cautions():
    """The middle one of three bushings on a strip of flat metal hardly wider than they are."""
    raceways = [make_raceway("1/2", f"A{number}", bushing="bonding") for number in (1, 2, 3)]
    lips = Lips(back_in=1.0, front_in=5.8)
    layout = solve(make_job(make_face(make_row(*raceways), lips=lips)))
    for number in (1, 2, 3):
        layout = moved(layout, f"A{number}", u=8 + 1.25 * number, v=1.6)
    found = finding(layout, "bonding lugs")
    assert (found.outcome.value, found.holes) == ("caution", ("A2",))
    assert outcome(moved(layout, "A3", u=14), "bonding lugs") == "ok"


def test_the_lug_passes_exactly_where_its_tip_touches():
    """In a square of flat metal the lug points into a corner."""
    reach = envelope("bonding bushing", "2") / 2 + 0.5
    half = reach * math.cos(math.pi / 4)
    row = make_row(make_raceway("2", bushing="bonding"))
    for shrink, expected in ((0.0, "ok"), (0.001, "caution")):
        lips = Lips(2 - half + shrink, 6 - half + shrink, 10 - half, 10 - half)
        layout = moved(solve(make_job(make_face(row))), "A1", u=10, v=2)
        face = layout.faces[0]
        layout = replace(layout, faces=(replace(face, job=replace(face.job, lips=lips)),))
        found = finding(layout, "bonding lugs")
        assert found.provided == pytest.approx(-shrink, abs=1e-9)
        assert found.outcome.value == expected


@pytest.mark.parametrize(("extra", "expected"), [(-0.1, "ok"), (0.0, "ok"), (0.001, "caution")])
def test_a_small_locknut_covers_a_large_hole(extra, expected):
    smallest = envelope("locknut", "1") - 0.125
    largest_covered = smallest / 2 + 1.315 / 2
    layout = moved(solved_row("1"), "A1", hole_most_in=largest_covered + extra)
    assert outcome(layout, "locknut covers the hole") == expected


@pytest.mark.parametrize(
    ("hole", "expected"),
    [(1.375, "ok"), (1.359, "ok"), (1.358, "caution"), (1.406, "ok"), (1.407, "caution")],
)
def test_holes_off_the_standard_caution(hole, expected):
    assert outcome(moved(solved_row("1"), "A1", hole_diameter_in=hole), "hole as the standard") == expected


def test_custom_figures_never_fail():
    layout = pair("4", 0.5, bushing="bonding")
    custom = ("fittings apart", "fittings at walls", "punch die", "straps", "metal between knockouts")
    for name in custom:
        assert "fail" not in outcomes(layout, name)
    assert math.isfinite(finding(layout, "fittings apart").provided or 0)


@pytest.mark.parametrize(
    ("type", "size", "expected", "word"),
    [
        ("EMT", "2", "ok", "read in a standard"),
        ("PVC 40", "2", "caution", "from memory"),
        ("FMC", "1", "caution", "mean of a range"),
    ],
)
def test_sizes_that_want_measuring_are_pointed_out(type, size, expected, word):
    job = make_job(make_face(make_row(make_raceway(size, type=type))))
    assert outcome(job, "raceway sizes known") == expected
    assert word in words(job, "raceway sizes known")
