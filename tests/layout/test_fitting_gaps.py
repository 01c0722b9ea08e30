"""Gaps worked out from fittings: what governs a pair, what a row keeps in front of another, and lugs."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from factories import from_edge, make_enclosure, make_face, make_job, make_raceway, make_row, spread
from hypothesis import given
from hypothesis import strategies as st
from random_runs import examples

from templates_engine.checks import check
from templates_engine.errors import CannotFit
from templates_engine.job.model import Job, Lips, Raceway, Row
from templates_engine.job.shop.model import MEASURED, Shop, ShopFitting, ShopPunch
from templates_engine.layout import solve
from templates_engine.layout.faces import attempt
from templates_engine.layout.model import Gap, PlacedRow
from templates_engine.layout.remedies import remedies_for
from templates_engine.trade.fittings import look_up
from templates_engine.trade.raceways import look_up as raceway_size
from templates_engine.values import replace

CLEAR_IN = 1 / 16
"""Kept between fittings: common practice, no source."""
OFF_STRUT = {"strut": None, "back_line": 1.5}


def across(kind: str, size: str, type: str = "EMT") -> float:
    return look_up(kind, raceway_size(type, size)).diameter_in


def job_of(*raceways: Raceway, shop: Shop | None = None, wet: bool = False, **row: object) -> Job:
    """One row of given raceways, gaps from their fittings, on a wide and deep face."""
    face = make_face(make_row(*raceways, **{"gap": "fittings", **row}), width=80.0, depth=16.0)  # type: ignore[arg-type]
    enclosure = make_enclosure(80.0, 30.0, 16.0, location="wet" if wet else None)
    job = make_job(face, enclosure=enclosure)
    return job if shop is None else replace(job, shop=shop)


def pair(**more: object) -> tuple[Raceway, Raceway]:
    one, other = (make_raceway(id=id, **more) for id in ("A1", "A2"))  # type: ignore[arg-type]
    return one, other


def gap_of(job: Job) -> Gap:
    (gap,) = solve(job).faces[0].rows[0].gaps
    assert gap.provided_in == pytest.approx(gap.required_in)
    return gap


def centres(job: Job) -> float:
    first, second = solve(job).faces[0].holes
    return second.u_in - first.u_in


def problem(job: Job) -> str:
    with pytest.raises(CannotFit) as error:
        solve(job)
    (only,) = error.value.problems
    return str(only)


# --- what governs -------------------------------------------------------------------------------------------


def test_on_strut_the_straps_govern_small_raceways() -> None:
    gap = gap_of(job_of(*pair(size="1")))
    assert gap.required_in == pytest.approx(1.125)
    assert (gap.governed_by, gap.fittings) == ("straps of A1 and A2", "straps")


def test_off_strut_the_locknuts_do() -> None:
    job = job_of(*pair(size="2", type="RMC"), **OFF_STRUT)
    assert centres(job) == pytest.approx(across("locknut", "2") + CLEAR_IN)
    assert gap_of(job).governed_by == "locknuts of A1 and A2 inside"


@pytest.mark.parametrize("bushing", ["plain", "insulated", "bonding"])
def test_a_bushing_where_it_is_wider_than_the_locknut(bushing: str) -> None:
    job = job_of(*pair(size="2", bushing=bushing), **OFF_STRUT)
    assert centres(job) == pytest.approx(across(f"{bushing} bushing", "2") + CLEAR_IN)
    assert gap_of(job).governed_by == f"{bushing} bushings of A1 and A2 inside"
    narrower = job_of(*pair(size="2-1/2", type="RMC", bushing=bushing), **OFF_STRUT)
    assert gap_of(narrower).governed_by == "locknuts of A1 and A2 inside"


def test_a_connector_outside_where_it_is_wider_than_all_inside() -> None:
    job = job_of(*pair(size="3"), **OFF_STRUT)
    assert centres(job) == pytest.approx(across("connector", "3") + CLEAR_IN)
    assert gap_of(job).governed_by == "connectors of A1 and A2 outside"


def with_tool_room(job: Job, room_in: float) -> Job:
    faces = (
        replace(face, rows=tuple(replace(row, tool_room_in=room_in) for row in face.rows))
        for face in job.faces
    )
    return replace(job, faces=tuple(faces))


def test_room_for_a_wrench_stays_between_fittings() -> None:
    job = job_of(*pair(size="3"), **OFF_STRUT)
    assert centres(with_tool_room(job, 0.5)) == pytest.approx(across("connector", "3") + 0.5)
    assert centres(with_tool_room(job, 0.01)) == pytest.approx(centres(job))
    turned = job_of(*pair(size="4", bushing="bonding"), **OFF_STRUT)
    assert centres(with_tool_room(turned, 1.0)) == pytest.approx(centres(turned) + 1.0 - CLEAR_IN)


def test_hubs_in_a_wet_place() -> None:
    job = job_of(*pair(size="4", type="RMC"), wet=True, **OFF_STRUT)
    assert centres(job) == pytest.approx(across("hub", "4") + CLEAR_IN)
    assert gap_of(job).governed_by == "hubs of A1 and A2 outside"


def test_a_pair_of_two_kinds_is_named_by_both() -> None:
    one, other = make_raceway("2", "A1", bushing="bonding"), make_raceway("2", "A2", type="RMC")
    gap = gap_of(job_of(one, other, **OFF_STRUT))
    assert gap.governed_by == "bonding bushing of A1 and locknut of A2 inside"
    assert gap.fittings == "bonding bushing and locknut inside"


def test_a_wide_die_beside_a_knockout() -> None:
    shop = Shop("s", (ShopFitting("punch die", None, "2", 4.0),))
    job = job_of(*pair(size="2"), shop=shop, **OFF_STRUT)
    assert centres(job) == pytest.approx((4.0 + 2.469) / 2 + CLEAR_IN, abs=1e-3)
    assert gap_of(job).governed_by == "punch die of A1 beside the knockout of A2"
    for more in ({"cutter": "hole saw"}, {"knockout": "concentric"}):
        assert "die" not in gap_of(job_of(*pair(size="2", **more), shop=shop, **OFF_STRUT)).governed_by


def test_raceways_wider_than_their_fittings_still_do_not_overlap() -> None:
    tiny = tuple(ShopFitting(kind, None, "2", 2.2) for kind in ("locknut", "connector", "punch die"))
    gap = gap_of(job_of(*pair(size="2", type="RMC", cutter="hole saw"), shop=Shop("s", tiny), **OFF_STRUT))
    assert (gap.required_in, gap.governed_by) == (0.0, "outsides of A1 and A2")


def test_the_shops_figures_go_before_the_tables() -> None:
    shop = Shop("s", (ShopFitting("locknut", None, "2", 3.2),))
    assert centres(job_of(*pair(size="2", type="RMC"), shop=shop, **OFF_STRUT)) == pytest.approx(
        3.2 + CLEAR_IN
    )


def test_straps_as_a_shop_measured_them_keep_the_clearance_too() -> None:
    shop = Shop("s", (ShopFitting("strap", None, "2", 2.9),))
    narrow = ShopFitting("locknut", None, "2", 2.5)
    shop = replace(shop, fittings=(*shop.fittings, narrow))
    job = job_of(*pair(size="2", type="RMC", cutter="hole saw"), shop=shop)
    assert centres(job) == pytest.approx(2.9 + CLEAR_IN)
    assert gap_of(job).fittings == "straps"


def test_centres_of_mixed_sizes_stand_aside_of_each_other_across_the_row() -> None:
    """Backs in line: a 4 in raceway's centre is farther from the back than a 1/2 in one's."""
    one, other = make_raceway("4", "A1", type="RMC"), make_raceway("1/2", "A2", type="RMC")
    first, second = solve(job_of(one, other, **OFF_STRUT)).faces[0].holes
    need = (across("locknut", "4") + across("locknut", "1/2")) / 2 + CLEAR_IN
    assert math.hypot(second.u_in - first.u_in, second.v_in - first.v_in) == pytest.approx(need)
    assert second.u_in - first.u_in == pytest.approx(math.sqrt(need**2 - ((4.5 - 0.84) / 2) ** 2))


def test_large_fittings_do_not_meet_past_a_small_raceway() -> None:
    shop = Shop("s", (ShopFitting("locknut", None, "5", 6.5),))
    raceways = [
        make_raceway(size, f"A{n}", type="RMC", cutter="hole saw")
        for n, size in enumerate(("5", "1/2", "5"), start=1)
    ]
    row = solve(job_of(*raceways, shop=shop, **OFF_STRUT)).faces[0].rows[0]
    assert row.holes[2].u_in - row.holes[0].u_in == pytest.approx(6.5 + CLEAR_IN)
    assert {gap.governed_by for gap in row.gaps} == {"locknuts of A1 and A3 inside"}
    assert row.gaps[0].required_in == pytest.approx(row.gaps[1].required_in)


# --- which gaps ---------------------------------------------------------------------------------------------


def test_a_single_gap_may_be_left_to_the_fittings() -> None:
    raceways = [make_raceway("2", f"A{n}", gap_before="fittings" if n == 2 else None) for n in (1, 2, 3)]
    first, second = solve(job_of(*raceways, gap=3.0)).faces[0].rows[0].gaps
    assert (first.required_in, first.governed_by) == (pytest.approx(1.125), "straps of A1 and A2")
    assert (second.required_in, second.governed_by, second.fittings) == (3.0, "gap of the row", "")


def test_a_gap_given_for_a_pair_goes_before_the_fittings() -> None:
    one, other = make_raceway("2", "A1"), make_raceway("2", "A2", gap_before=0.5)
    assert gap_of(job_of(one, other)).required_in == 0.5


def test_a_single_raceway_asks_for_no_figures() -> None:
    assert len(solve(job_of(make_raceway("6", type="RMC"))).faces[0].holes) == 1


def test_a_spread_row_keeps_its_fittings_inside_the_limits() -> None:
    job = job_of(*pair(size="4", bushing="bonding"), placing=spread(2.0, 13.5), **OFF_STRUT)
    first, second = solve(job).faces[0].holes
    half = across("bonding bushing", "4") / 2
    assert first.u_in - half >= 2.0 - 1e-9
    assert second.u_in + half <= 13.5 + 1e-9
    with pytest.raises(CannotFit):
        solve(job_of(*pair(size="4", bushing="bonding"), placing=spread(2.0, 12.8), **OFF_STRUT))


# --- a row in front of another ------------------------------------------------------------------------------


def two_rows(
    front_strut: float | None = None, back_strut: float | None = 1.625, **front: object
) -> tuple[PlacedRow, ...]:
    line = "strut" if back_strut else 1.625
    back = make_row(
        make_raceway("2", "A1", type="RMC"),
        gap=1.0,
        strut=back_strut,
        back_line=line,
        placing=from_edge(10.0),
    )
    row = make_row(
        make_raceway("2", "B1", type="RMC", **front),  # type: ignore[arg-type]
        name="B",
        back_line="auto",
        strut=front_strut,
        gap="fittings",
        placing=from_edge(10.0),
    )
    return solve(make_job(make_face(back, row, depth=16.0))).faces[0].rows


def test_a_row_in_front_stands_as_far_off_as_fittings_straight_in_front_need() -> None:
    back, front = two_rows(back_strut=None)
    apart = front.holes[0].v_in - back.holes[0].v_in
    assert apart == pytest.approx(across("locknut", "2") + CLEAR_IN)
    assert "for the locknuts of A1 and B1 inside" in front.line.words


def test_straps_of_both_rows_ask_for_more_than_their_fittings() -> None:
    back, front = two_rows()
    assert front.holes[0].v_in - back.holes[0].v_in == pytest.approx(2.375 + 1.125)
    assert front.line.words.endswith("for straps")


def test_strut_of_its_own_stands_on_strut() -> None:
    _, front = two_rows(front_strut=1.625)
    assert front.back_line_in == 4.875 + 1.625


def test_rows_placed_so_have_fittings_that_do_not_collide() -> None:
    back = make_row(*[make_raceway("1", f"A{n}", bushing="bonding") for n in (1, 2)], gap="fittings")
    front = make_row(
        *[make_raceway("4", f"B{n}", type="RMC", bushing="bonding") for n in (1, 2)],
        name="B", back_line="auto", strut=None, gap="fittings",
    )  # fmt: skip
    layout = solve(make_job(make_face(back, front, depth=18.0)))
    assert not cautions(check(layout))


# --- lugs ---------------------------------------------------------------------------------------------------


def lugged(lips: Lips | None = None, depth: float = 8.0, rows: int = 1, **more: object) -> tuple[Gap, ...]:
    raceways = [make_raceway("2", f"A{n}", bushing="bonding") for n in (1, 2, 3)]
    row = make_row(*raceways, gap="fittings", strut=None, back_line=2.0)
    others = [
        make_row(make_raceway("1", f"{name}1"), name=name, strut=None, back_line=line, placing=from_edge(2.0))
        for name, line in (("B", 5.0), ("C", 7.5))
    ]
    order = {1: [row], 2: [row, others[0]], 3: [others[0], row, others[1]]}[rows]
    job = make_job(make_face(*order, depth=depth, lips=lips, width=30.0))
    return next(one for one in solve(job).faces[0].rows if one.row.name == "A").gaps


BODY_IN = across("bonding bushing", "2")
REACH_IN = BODY_IN / 2 + 0.5
V_IN = 2.0 + 2.197 / 2


def test_a_lug_turned_to_the_back_or_front_takes_no_room_in_the_row() -> None:
    for lips in (None, Lips(back_in=V_IN - REACH_IN), Lips(back_in=2.0)):
        for gap in lugged(lips):
            assert gap.required_in == pytest.approx(BODY_IN + CLEAR_IN - 2.197)
            assert gap.fittings == "bonding bushings inside"


def test_a_lug_with_no_room_there_points_along_the_row_and_each_gap_holds_one() -> None:
    tight = Lips(back_in=V_IN - REACH_IN + 0.01, front_in=8.0 - V_IN - REACH_IN + 0.01)
    for gap in lugged(tight):
        assert gap.required_in == pytest.approx(BODY_IN + 0.5 + CLEAR_IN - 2.197)
        assert gap.fittings == "bonding lug and bonding bushing inside"
        assert "lug of A" in gap.governed_by


def test_between_other_rows_a_lug_is_never_turned_out_of_its_own() -> None:
    assert {gap.fittings for gap in lugged(rows=2)} == {"bonding bushings inside"}
    assert {gap.fittings for gap in lugged(rows=3, depth=12.0)} == {"bonding lug and bonding bushing inside"}


def test_a_shops_own_lug_is_taken() -> None:
    shop = Shop("s", (ShopFitting("bonding bushing", None, "2", 3.1, 0.75),))
    face = make_face(
        make_row(*pair(size="2", bushing="bonding"), gap="fittings", strut=None, back_line=0.5), depth=3.5
    )
    gap = gap_of(replace(make_job(face), shop=shop))
    assert gap.required_in == pytest.approx(3.1 + 0.75 + CLEAR_IN - 2.197)


# --- figures nobody has -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("type", "size", "words"), [("RMC", "5", "5 in RMC"), ("metric", "20", "20 mm conduit")]
)
def test_a_missing_figure_names_raceway_fitting_and_what_to_write(type: str, size: str, words: str) -> None:
    text = problem(job_of(make_raceway("2", "A1"), make_raceway(size, "A2", type=type)))
    assert "asks for gaps worked out from its fittings" in text
    assert f"the locknut of A2 ({words})" in text
    assert f"punch die of A2 ({words}) are." in text
    assert "gap: 1-1/8 in" in text
    key = "type: metric, " if type == "metric" else ""
    assert (
        f"shop.yaml beside the job, such as fittings: [{{kind: locknut, {key}size: {size}, across: ...}}]"
        in text
    )
    assert "A1" not in text


def test_the_entry_it_asks_for_is_taken() -> None:
    """What the remedy says to write, written."""
    from templates_engine.job.shop.read import read_shop_text

    raceways = pair(size="5", type="RMC", cutter="hole saw")
    assert "size: 5" in problem(job_of(*raceways))
    shop = read_shop_text("fittings: [{kind: locknut, size: 5, across: 6-1/2}]", "shop.yaml").shop
    assert centres(job_of(*raceways, shop=shop, **OFF_STRUT)) == pytest.approx(6.5 + CLEAR_IN)


def test_a_row_in_front_tells_of_figures_missing_behind_it() -> None:
    back = make_row(make_raceway("6", "A1", type="RMC"), gap=1.0)
    front = make_row("2", name="B", back_line="auto", strut=None, gap="fittings")
    text = problem(make_job(make_face(back, front, depth=20.0)))
    assert "Row B asks" in text
    assert "the locknut of A1 (6 in RMC)" in text
    assert "in row A" in text


# --- remedies -----------------------------------------------------------------------------------------------


def test_a_row_that_does_not_fit_is_offered_a_gap_and_told_that_it_is_less() -> None:
    # Seven of 2.197 in EMT: 15.651 with knockouts, 4.349 in left for six gaps: 11/16 in on the tape.
    raceways = [make_raceway("2", f"A{n}") for n in range(1, 8)]
    job = make_job(make_face(make_row(*raceways, gap="fittings"), depth=5.0))
    (failure,) = attempt(job).failures
    remedies = remedies_for(job, failure)
    assert remedies[0].words == (
        "make the gap 11/16 in, less than its fittings are taken to need: measure them"
    )
    for remedy in remedies:
        solve(remedy.job)


# --- figures carried ----------------------------------------------------------------------------------------


def figure_names(row: PlacedRow) -> list[tuple[str, str]]:
    return [(figure.what, figure.label) for figure in row.figures]


def test_every_figure_used_is_carried_once() -> None:
    raceways = [make_raceway("2", f"A{n}", bushing="bonding") for n in (1, 2, 3)]
    (row,) = solve(job_of(*raceways)).faces[0].rows
    assert figure_names(row) == [
        ("locknut", "2"),
        ("bonding bushing", "2"),
        ("connector", "2"),
        ("punch die", "2"),
        ("outsides apart for straps", ""),
        ("bonding lug", ""),
        ("between fittings", ""),
    ]
    assert all(figure.source and figure.provenance for figure in row.figures)


def test_rows_with_given_gaps_carry_the_shops_figures_alone() -> None:
    raceways = pair(size="2", bushing="bonding")
    assert solve(job_of(*raceways, gap=1.0)).faces[0].rows[0].figures == ()
    shop = Shop("s", (ShopFitting("bonding bushing", None, "2", 3.1), ShopFitting("hub", None, "2", 3.4)))
    (row,) = solve(job_of(*raceways, gap=1.0, shop=shop)).faces[0].rows
    assert figure_names(row) == [("bonding bushing", "2 in EMT")]
    assert row.figures[0].provenance == MEASURED


# --- the shop's punches -------------------------------------------------------------------------------------


def test_the_shops_punch_makes_hole_and_pilot() -> None:
    shop = Shop("its file", (), (ShopPunch(None, "2", 2.42, 0.8125),))
    punched, standard, given, other, sawn = (
        solve(
            job_of(
                make_raceway("2", "A1", hole="punch"),
                make_raceway("2", "A2"),
                make_raceway("2", "A3", hole=2.42),
                make_raceway("2", "A4", hole=2.6),
                make_raceway("2", "A5", hole="punch", cutter="hole saw"),
                gap=1.0,
                shop=shop,
            )
        )
        .faces[0]
        .holes
    )
    assert (punched.hole_least_in, punched.hole_diameter_in, punched.hole_most_in) == (2.42, 2.42, 2.42)
    assert punched.hole_source == f"its file; {MEASURED}"
    assert punched.pilot_diameter_in == standard.pilot_diameter_in == given.pilot_diameter_in == 0.8125
    assert standard.hole_diameter_in != 2.42
    assert punched.pilot_source == f"its file; {MEASURED}"
    assert other.pilot_diameter_in == 1.25, "a hole of another diameter is another punch's"
    assert sawn.pilot_diameter_in == 0.25


def test_a_pilot_as_large_as_the_hole_is_refused_in_words() -> None:
    shop = Shop("s", (), (ShopPunch(None, "1/2", None, 0.88),))
    text = problem(job_of(make_raceway("1/2", "A1"), shop=shop))
    assert "pilot of 0.88 in, no smaller than the hole of 0.875 in" in text


# --- rows placed so pass the checks -------------------------------------------------------------------------

FITTING_CHECKS = ("fittings apart", "straps", "bonding lugs", "knockouts apart",
                  "raceways apart", "gaps as asked")  # fmt: skip
SIZES = ("1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "3-1/2", "4")


def cautions(findings: object) -> list[str]:
    return [
        finding.message
        for finding in findings  # type: ignore[attr-defined]
        if finding.check in FITTING_CHECKS and finding.outcome.value in ("fail", "caution", "not checked")
    ]


@st.composite
def rows(draw: st.DrawFn) -> Row:
    raceways = [
        make_raceway(
            draw(st.sampled_from(SIZES)),
            f"A{number}",
            type=draw(st.sampled_from(["EMT", "RMC", "PVC 40"])),
            bushing=draw(st.sampled_from([None, "plain", "insulated", "bonding"])),
            cutter=draw(st.sampled_from(["punch", "step bit"])),
        )
        for number in range(1, draw(st.integers(2, 6)) + 1)
    ]
    on_strut = draw(st.booleans())
    return make_row(
        *raceways,
        gap="fittings",
        strut=1.625 if on_strut else None,
        back_line="strut" if on_strut else draw(st.sampled_from([0.5, 1.5, 3.0])),
        snap=draw(st.sampled_from([None, 1 / 16])),
    )


@st.composite
def shops(draw: st.DrawFn) -> Shop:
    kinds = st.sampled_from(["locknut", "bonding bushing", "connector", "hub", "punch die", "strap"])
    made = {}
    for kind, size in draw(st.sets(st.tuples(kinds, st.sampled_from(SIZES)), max_size=4)):
        outside = raceway_size("RMC", size).outside_diameter_in
        wide = outside * draw(st.floats(1.05, 2.5))
        made[kind, size] = ShopFitting(kind, None, size, wide, draw(st.sampled_from([None, 1.0])))
    return Shop("s", tuple(made.values()))


@examples(150)
@given(rows(), shops(), st.booleans(), st.sampled_from([9.0, 12.0, 16.0]))
def test_a_row_placed_by_its_fittings_passes_their_checks(
    row: Row, shop: Shop, wet: bool, depth: float
) -> None:
    enclosure = make_enclosure(80.0, 30.0, depth, location="wet" if wet else None)
    job = replace(make_job(make_face(row, width=80.0, depth=depth), enclosure=enclosure), shop=shop)
    assert cautions(check(solve(job))) == []


@examples(100)
@given(rows())
def test_a_hair_closer_and_a_check_speaks_unless_the_clearance_governs(row: Row) -> None:
    """Gaps are the least there are: with each pair closer by the clearance and a hair, a check cautions."""
    layout = solve(make_job(make_face(row, width=80.0, depth=16.0)))
    (placed,) = layout.faces[0].rows
    if placed.row.snap_in is not None:
        return
    for (one, other), gap in zip(pairwise(placed.holes), placed.gaps, strict=True):
        if "outsides" in gap.fittings or "lug" in gap.fittings:
            continue
        apart, aside = other.u_in - one.u_in, other.v_in - one.v_in
        if gap.fittings == "straps":
            nearer = apart - 0.001
        else:
            nearer = math.sqrt((math.hypot(apart, aside) - CLEAR_IN - 0.001) ** 2 - aside**2)
        closer = replace(other, u_in=one.u_in + nearer)
        near = replace(placed, holes=(one, closer), gaps=())
        faces = (replace(layout.faces[0], rows=(near,)),)
        assert cautions(check(replace(layout, faces=faces))), gap.governed_by
