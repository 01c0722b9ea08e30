"""What raceways carry: neutrals and why, conductors, current-carrying ones, colours, and inputs that are
missing."""

from __future__ import annotations

import itertools
from itertools import product
from typing import Any

import pytest
from factories import make_enclosure, make_face, make_job, make_raceway, make_row
from hypothesis import example, given
from hypothesis import strategies as st

from templates_engine.errors import JobProblems
from templates_engine.job.model import Circuit, ConductorGroup, RacewayWiring, Wire
from templates_engine.values import replace
from templates_engine.wiring import RacewayContents, contents_of_raceway
from templates_engine.wiring.model import CircuitPhases
from templates_engine.wiring.neutrals import least_groups, listed_carrying
from templates_engine.wiring.panel import SYSTEMS

TWELVE = Wire("12", "THHN", "Cu")
BARE = Wire("12", "bare", "Cu")


def wiring(*circuits: int | tuple[int, ...] | Circuit, **more: Any) -> RacewayWiring:
    made = []
    for each in circuits:
        spaces = (each,) if isinstance(each, int) else each
        made.append(spaces if isinstance(spaces, Circuit) else Circuit(spaces, None))
    whole = RacewayWiring(tuple(made), TWELVE, "shared", TWELVE, True, (), None)
    return replace(whole, **more)


def count(
    what: RacewayWiring | None, system: str | None = "208Y/120", **raceway: Any
) -> RacewayContents | None:
    enclosure = make_enclosure(system=system, kind="panelboard", spaces=42)
    one = make_raceway("2", wiring=what, **raceway)
    return contents_of_raceway(one, make_job(make_face(make_row(one)), enclosure=enclosure))


def counted(what: RacewayWiring, system: str | None = "208Y/120", **raceway: Any) -> RacewayContents:
    found = count(what, system, **raceway)
    assert found is not None
    return found


def test_a_raceway_without_a_load_carries_nothing_known():
    assert count(None) is None


# --- neutrals -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("circuits", "neutrals", "why"),
    [
        ((1, 3, 5), 1, "no phase has more than one circuit"),
        ((1, 3, 5, 2), 2, "circuits 1 and 2 are all on phase A"),
        ((1, 3, 5, 2, 4, 6), 2, "on phase A"),
        ((1, 7, 13), 3, "circuits 1, 7 and 13 are all on phase A"),
        (((2, 4, 6),), 0, "no circuit here has one"),
        (((2, 4, 6), 1), 1, "no phase has more than one circuit"),
    ],
)
def test_shared_neutrals_are_the_most_circuits_on_one_phase(circuits, neutrals, why):
    found = counted(wiring(*circuits))
    assert len(found.neutrals) == neutrals
    assert why in found.neutrals_why


def test_own_neutrals_are_one_each_and_none_is_none():
    assert len(counted(wiring(1, 3, 5, neutrals="own")).neutrals) == 3
    assert counted(wiring(1, 3, 5, neutrals="none")).neutrals == ()


def test_circuits_of_several_phases_do_not_share_with_one_another():
    pairs = [Circuit((1, 3), True), Circuit((9, 11), True), Circuit((6, 8), True)]  # A B, B C, C A
    found = counted(wiring(*pairs))
    assert [each.phases for each in found.circuits] == [("A", "B"), ("B", "C"), ("C", "A")]
    assert len(found.neutrals) == 3
    assert "several phases" in found.neutrals_why


def test_a_single_pole_shares_with_the_two_other_phases():
    assert len(counted(wiring(Circuit((1, 3), True), 5)).neutrals) == 1


PHASES = st.sampled_from([("A",), ("B",), ("C",), ("A", "B"), ("B", "C"), ("A", "C"), ("A", "B", "C")])


@example([("A",), ("B",), ("B", "C"), ("A", "C")])
@given(st.lists(PHASES, min_size=1, max_size=6))
def test_no_smaller_number_of_neutrals_would_do(phases):
    circuits = [
        CircuitPhases(str(number), (number,), each, (), True) for number, each in enumerate(phases, start=1)
    ]
    groups = least_groups(circuits)
    for group in groups:
        used = [phase for circuit in group for phase in circuit.phases]
        assert len(used) == len(set(used))
    assert sorted(circuit.name for group in groups for circuit in group) == sorted(
        each.name for each in circuits
    )
    assert not any(works(phases, choice) for choice in product(range(len(groups) - 1), repeat=len(phases)))


def works(phases: list[tuple[str, ...]], choice: tuple[int, ...]) -> bool:
    """Whether circuits put on neutrals by choice have no phase twice on one."""
    used = [(neutral, phase) for neutral, each in zip(choice, phases, strict=True) for phase in each]
    return len(used) == len(set(used))


# --- conductors and current ---------------------------------------------------------------------------------


def test_conductors_colours_and_ground():
    found = counted(wiring(1, 3, 5, ground=BARE))
    groups = [(group.count, group.use, group.colours) for group in found.groups]
    assert groups == [
        (3, "phase", ("black", "red", "blue")),
        (1, "neutral", ("white",)),
        (1, "ground", ("bare",)),
    ]
    assert found.conductor_count == 5


@pytest.mark.parametrize(
    ("what", "system", "linear", "nonlinear"),
    [
        (wiring(1, 3, 5), "208Y/120", 3, 4),
        (wiring(1, 3), "208Y/120", 3, 3),  # two phases of a wye and a neutral: it counts
        (wiring(1, 3), "120/240", 2, 2),
        (wiring(1), "208Y/120", 2, 2),
        (wiring(1, 3, 5, neutrals="own"), "208Y/120", 6, 6),
        (wiring((2, 4, 6)), "480Y/277", 3, 3),
        (wiring(Circuit((2, 4, 6), True)), "480Y/277", 3, 4),
        (wiring(1, 5), "240 delta high leg", 2, 2),  # A and C are the two halves of one winding
        (wiring(1, 3), "240 delta high leg", 3, 3),  # the current of B, the high leg, does not cancel
    ],
)
def test_current_carrying_conductors(what, system, linear, nonlinear):
    found = counted(what, system)
    assert (found.current_carrying, found.current_carrying_nonlinear) == (linear, nonlinear)


def listed(*groups: tuple[int, str]) -> RacewayWiring:
    made = tuple(ConductorGroup(number, TWELVE, use) for number, use in groups)  # type: ignore[arg-type]
    return RacewayWiring((), None, None, None, False, made, None)


@pytest.mark.parametrize(
    ("what", "system", "expected"),
    [
        (listed((4, "phase")), None, 4),
        (listed((3, "phase"), (1, "neutral")), "208Y/120", 3),
        (listed((6, "phase"), (2, "neutral")), "208Y/120", 6),
        (listed((2, "phase"), (1, "neutral")), "208Y/120", 3),
        (listed((2, "phase"), (1, "neutral")), "120/240", 2),
        (listed((3, "phase"), (1, "neutral")), None, 3),  # on any system that has a neutral
        (listed((3, "phase"), (1, "ground")), None, 3),
    ],
)
def test_listed_neutrals_count_unless_they_balance_every_phase(what, system, expected):
    assert counted(what, system).current_carrying == expected


@pytest.mark.parametrize(
    ("phases", "neutrals", "system", "carrying", "factor"),
    [
        # Common readings of NEC 310.15(E), read on a public code forum and in a code question of the day:
        (1, 1, "208Y/120", 2, 100),
        (2, 1, "208Y/120", 3, 100),
        (3, 1, "480Y/277", 3, 100),
        (1, 1, "120/240", 2, 100),
        (2, 1, "120/240", 2, 100),
        (2, 1, "240 delta high leg", 2, 100),
        (3, 1, "240 delta high leg", 3, 100),
        # Worked examples, made from read figures: two full 4-wire circuits; three of two phases and neutral.
        (6, 2, "208Y/120", 6, 80),
        (6, 3, "120/240", 6, 80),
        # Two 4-wire circuits and one of two wires.
        (7, 3, "208Y/120", 8, 70),
        (7, 3, None, 8, 70),
    ],
)
def test_listed_neutrals_by_published_counts(phases, neutrals, system, carrying, factor):
    found = counted(listed((phases, "phase"), (neutrals, "neutral"), (1, "ground")), system)
    assert (found.current_carrying, found.adjustment_percent) == (carrying, factor)


@pytest.mark.parametrize(
    "system", [one for one in SYSTEMS.values() if one.has_neutral], ids=lambda one: one.name
)
@pytest.mark.parametrize("neutrals", range(1, 6))
@pytest.mark.parametrize("phases", range(1, 13))
def test_listed_neutrals_against_every_way_to_share_the_phases_out(phases, neutrals, system):
    """Each neutral serves one phase conductor at least; as many of them have a neutral as can have one."""
    most_each = len(system.phases)
    ways = [
        way
        for way in itertools.combinations_with_replacement(range(1, most_each + 1), neutrals)
        if sum(way) <= phases
    ]
    most_served = max(map(sum, ways), default=0)
    cancels = {(True, 3)} if system.is_wye else {(False, 2), (False, 3)}
    counts = [
        sum((system.is_wye, served) not in cancels for served in way)
        for way in ways
        if sum(way) == most_served
    ] or [neutrals]
    assert listed_carrying(phases, neutrals, system) == (min(counts), max(counts))


@pytest.mark.parametrize(
    ("what", "system", "missing"),
    [
        (wiring(1, neutrals=None), "208Y/120", ("neutrals",)),
        (wiring(1, wire=None), "208Y/120", ("wire",)),
        (wiring(1, 3), None, ("system",)),
        (wiring(Circuit((1, 3), True), neutrals="own"), None, ("system",)),
        (wiring(1, neutrals=None, wire=None), "208Y/120", ("neutrals", "wire")),
    ],
)
def test_what_is_missing_is_named_and_nothing_is_guessed(what, system, missing):
    found = counted(what, system)
    assert found.missing == missing
    assert found.conductor_count is found.current_carrying is found.fill is found.adjustment_percent is None


def test_own_neutrals_of_single_poles_need_no_system():
    found = counted(wiring(1, 3, neutrals="own"), None)
    assert (found.missing, found.conductor_count, found.current_carrying) == ((), 5, 4)


def test_a_ground_not_named_is_missing_only_in_nonmetallic_raceways():
    silent = wiring(1, ground=None, ground_named=False)
    assert counted(silent, type="PVC 40").missing == ("ground",)
    assert counted(silent).missing == ()
    assert "metal raceway" in counted(silent).notes[0]
    assert counted(wiring(1, ground=None), type="PVC 40").missing == ()


@pytest.mark.parametrize("circuits", [((1, 2),), (1, (1, 3))])
def test_impossible_circuits_are_problems_with_their_place(circuits):
    with pytest.raises(JobProblems) as caught:
        count(wiring(*circuits), line=33)
    problem = caught.value.problems[0]
    assert (problem.file, problem.line) == ("job.yaml", 33)
    assert problem.remedy
