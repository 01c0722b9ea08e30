"""Remedies of findings: every one offered solves, cures what it is offered for and harms nothing else."""

from __future__ import annotations

import pytest
from advice_jobs import jobs
from factories import (
    from_edge,
    make_enclosure,
    make_face,
    make_job,
    make_place,
    make_raceway,
    make_row,
)
from hypothesis import given
from random_runs import examples

from templates_engine.advice import Offer, advise, offers
from templates_engine.advice.advise import MOST_OFFERED, is_measured
from templates_engine.checks import check
from templates_engine.checks.model import Finding, Outcome
from templates_engine.errors import CannotFit
from templates_engine.job.model import ConductorGroup, Job, Lips, Pull, RacewayWiring, TerminalLugs, Wire
from templates_engine.layout import solve
from templates_engine.layout.model import Layout
from templates_engine.values import replace

BAD = (Outcome.FAIL, Outcome.CAUTION)


def found(layout: Layout, name: str, face: str = "top") -> Finding:
    (one,) = [each for each in check(layout) if (each.check, each.face) == (name, face)]
    return one


def offered(job: Job, name: str, face: str = "top") -> tuple[Offer, ...]:
    """What is offered for one bad finding, each seen to hold."""
    layout = solve(job)
    finding = found(layout, name, face)
    assert finding.outcome in BAD
    made = offers(layout, check(layout), finding)
    for offer in made:
        assert_holds(layout, finding, offer)
    return made


def words(job: Job, name: str, face: str = "top") -> list[str]:
    return [offer.words for offer in offered(job, name, face)]


def failing(findings: tuple[Finding, ...], outcome: Outcome) -> set[tuple[str, str]]:
    return {(one.check, one.face) for one in findings if one.outcome is outcome}


def assert_holds(layout: Layout, finding: Finding, offer: Offer) -> None:
    """The offered job solves, the finding is gone from it, and no check fails that did not before."""
    before, after = check(layout), check(solve(offer.job))
    same = [one for one in after if (one.check, one.face) == (finding.check, finding.face)]
    assert all(one.outcome is not Outcome.FAIL for one in same)
    assert failing(after, Outcome.FAIL) <= failing(before, Outcome.FAIL)
    if finding.outcome is Outcome.CAUTION:
        assert all(one.outcome is not Outcome.CAUTION for one in same)
        assert failing(after, Outcome.CAUTION) <= failing(before, Outcome.CAUTION) | failing(
            before, Outcome.FAIL
        )
    else:
        new = failing(after, Outcome.CAUTION) - failing(before, Outcome.CAUTION)
        told = offer.words.partition(", but with a caution: ")[2]
        assert all(name in told for name, _ in new - failing(before, Outcome.FAIL))


# --- random jobs --------------------------------------------------------------------------------------------


@pytest.mark.hypothesis
def test_every_remedy_offered_solves() -> None:
    seen: set[Outcome] = set()

    @examples(40)
    @given(jobs())
    def hold(job: Job) -> None:
        try:
            layout = solve(job)
        except CannotFit:
            return  # what is then offered, tests/layout/test_remedies.py holds to the same
        findings = check(layout)
        for finding in findings:
            for offer in offers(layout, findings, finding):
                assert_holds(layout, finding, offer)
                seen.add(finding.outcome)

    hold()
    assert set(BAD) == seen


# --- one by one ---------------------------------------------------------------------------------------------


def shallow_can(**more: float) -> Job:
    row = make_row(make_raceway("4", type="RMC"), strut=1.625, placing=from_edge(8.0))
    return make_job(make_face(row, depth=5.75), back_gap=0.25, **more)  # type: ignore[arg-type]


def test_a_strut_that_fits_a_stand_off_and_the_next_deeper_can() -> None:
    # 4 in rigid raceway is 4.5 in outside [ANSI C80.1], its knockout 4.641 [NEMA knockout table].
    # 13/16 - 1/4 + 4.5 / 2 = 2.8125; that and 4.641 / 2 reach 5.133 of 5.75.
    # On 1-5/8 it reaches 5.9455: 0.1955 too far, so off the wall 1/4 + 0.1955 = 0.4455, on the tape 1/2,
    # where the centre comes to 3.375; or a can of 6.
    assert words(shallow_can(), "depth of the can") == [
        "use 13/16 in strut: every hole fits, centre of A1 moves to 2-13/16 from the back",
        "stand the enclosure 1/2 in off the wall (back gap): every hole fits, "
        "centre of A1 moves to 3-3/8 from the back",
        "take an enclosure 6 in deep: every hole fits",
    ]


def test_a_strut_between_is_found_though_the_usual_ones_do_not_do() -> None:
    # On 3-1/4 the 2 in knockout (2.469 round 2.197) reaches 3.25 + 2.333 = 5.583 of 5.5, and the back lip
    # ends at 2, so 13/16 and 1-5/8 are too shallow: 2-7/16 - 0.136 is past it.
    job = make_job(make_face(make_row("2", strut=3.25), depth=5.5, lips=Lips(back_in=2.0)))
    assert words(job, "depth of the can")[0].startswith("use 2-7/16 in strut")


def test_a_metric_job_is_offered_whole_millimetres() -> None:
    told = words(replace(shallow_can(), unit="mm"), "depth of the can")
    # 0.1955 in is 4.97 mm on top of 6.35: 12 mm; the knockout reaches 151.02 mm: 160.
    assert told[0] == "use 20.64 mm strut: every hole fits, centre of A1 moves to 71.5 mm from the back"
    assert told[1].startswith("stand the enclosure 12 mm off the wall")
    assert told[2].startswith("take an enclosure 160 mm deep")


def test_the_sentence_stands_in_place_of_the_hint_and_the_hint_stays_where_nothing_was_tried() -> None:
    layout = solve(shallow_can())
    plain = check(layout)
    advised = advise(layout, plain)
    assert [one.check for one in advised] == [one.check for one in plain]
    (finding,) = [one for one in advised if one.check == "depth of the can"]
    assert len(finding.solved_remedies) == MOST_OFFERED
    assert finding.remedy == f"Any one of these cures it: {'; '.join(finding.solved_remedies)}."
    for old, new in zip(plain, advised, strict=True):
        if not is_measured(old):
            assert old == new
        assert replace(new, remedy=old.remedy, solved_remedies=()) == old


def test_a_hole_too_small_for_the_thread_is_cut_as_the_standard_has_it() -> None:
    raceway = make_raceway("4", type="RMC", hole=2.0, cutter="step bit")
    assert words(make_job(make_face(make_row(raceway))), "hole takes the thread") == [
        "cut the standard's knockout for A1 (hole: knockout): every hole fits"
    ]


def test_a_failure_that_no_change_cures_says_so_and_keeps_its_hint() -> None:
    # 500 kcmil wants 6 in to bend at a terminal with one wire, NEC Table 312.6(A); no layout changes that.
    wires = ConductorGroup(3, Wire("500", "THHN", "Cu"), "phase")
    raceway = make_raceway("3", wiring=RacewayWiring((), None, None, None, False, (wires,), None))
    job = make_job(make_face(make_row(raceway), lugs=TerminalLugs(3.0, 1, False)))
    layout = solve(job)
    plain = found(layout, "bending room")
    assert plain.outcome is Outcome.FAIL
    (advised,) = [one for one in advise(layout, check(layout)) if one.check == "bending room"]
    assert advised.remedy == f"No single change tried cures it. {plain.remedy}"
    assert advised.solved_remedies == ()


def test_the_gap_is_widened_to_the_next_graduation_that_passes() -> None:
    # Bonding bushings of 4 in are 5.39 across [one published table]: 5.39 - 4.5 = 0.89, on the tape 15/16.
    pair = [make_raceway("4", f"A{n}", type="RMC", bushing="bonding") for n in (1, 2)]
    job = make_job(make_face(make_row(*pair, gap=0.875)))
    first, *_ = words(job, "fittings apart")
    assert first.startswith("make the gap 15/16 in: this caution is gone, centre of A1 moves to ")


def test_a_gap_of_one_pair_grows_with_the_row() -> None:
    pair = [make_raceway("2", "A1"), make_raceway("2", "A2", gap_before=0.25)]
    first, *_ = offered(make_job(make_face(make_row(*pair, gap=1.125))), "straps")
    assert first.job.faces[0].rows[0].raceways[1].gap_before_in >= 1.125  # type: ignore[operator]


def test_a_can_in_a_damp_place_is_stood_off_the_wall() -> None:
    # NEC 312.2: 1/4 in of air.
    box = make_enclosure(kind="cabinet", location="damp")
    assert words(make_job(make_face(make_row("1")), enclosure=box), "air space behind", "")[0].startswith(
        "stand the enclosure 1/4 in off the wall (back gap)"
    )


def test_a_pull_box_too_short_for_a_straight_pull_is_made_longer() -> None:
    # NEC 314.28(A)(1): 8 x 3 = 24 in from wall to wall.
    pull = Pull("T1", "B1", "straight", make_place())
    top = make_face(make_row(make_raceway("3", "T1")))
    bottom = make_face(make_row(make_raceway("3", "B1")), face="bottom")
    box = make_enclosure(height=20.0, pulls=(pull,))
    assert words(make_job(top, bottom, enclosure=box), "pulls, straight") == [
        "take an enclosure 24 in high: every check passes"
    ]


def test_a_row_in_front_that_runs_into_the_one_behind_is_put_clear_of_it() -> None:
    behind, front = make_row("2", "2"), make_row("2", "2", name="B", back_line=2.0, strut=None)
    told = words(make_job(make_face(behind, front, depth=12.0)), "knockouts apart")
    assert any(each.startswith("put row B clear of the rows behind it (back line: auto)") for each in told)


def test_both_rows_of_a_finding_get_the_strut_that_cures_it() -> None:
    # 3-1/4 + 2.197 / 2 + 2.469 / 2 = 5.583 runs past 5.5 in both rows; 1-5/8 does not.
    left = make_row("2", strut=3.25, placing=from_edge(4.0))
    right = make_row("2", name="B", strut=3.25, placing=from_edge(4.0, "end"))
    first, *_ = offered(make_job(make_face(left, right, depth=5.5)), "depth of the can")
    assert first.words.startswith("use 1-5/8 in strut for rows A and B: every hole fits")
    assert [row.strut.total_in for row in first.job.faces[0].rows if row.strut] == [1.625, 1.625]


def test_a_row_starting_too_near_the_wall_is_moved() -> None:
    # A 2 in locknut is 2.95 across [one published table]; a centre 1.25 from the edge is 0.225 short: 1-1/2.
    job = make_job(make_face(make_row("2", "1", placing=from_edge(1.25))))
    assert any(
        each.startswith("start it 1-1/2 in from the left edge: this caution is gone")
        for each in words(job, "fittings at walls")
    )


def test_no_more_than_the_likeliest_are_offered() -> None:
    layout = solve(shallow_can())
    for finding in check(layout):
        assert len(offers(layout, check(layout), finding)) <= MOST_OFFERED
