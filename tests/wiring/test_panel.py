"""Panel spaces to phases and colours, and circuits that cannot be."""

from __future__ import annotations

import pytest
from factories import make_enclosure

from templates_engine.job.model import Circuit
from templates_engine.wiring.panel import SYSTEMS, follow_one_another, has_neutral, phase_of, trouble


@pytest.mark.parametrize(
    ("system", "numbering", "expected"),
    [
        ("208Y/120", "odd left", "AABBCCAABBCC"),
        ("480Y/277", "odd left", "AABBCCAABBCC"),
        ("240 delta high leg", "odd left", "AABBCCAABBCC"),
        ("120/240", "odd left", "AABBAABBAABB"),
        ("208Y/120", "down", "ABCABCABCABC"),
        ("120/240", "down", "ABABABABABAB"),
    ],
)
def test_phases_of_the_first_twelve_spaces(system, numbering, expected):
    found = "".join(phase_of(space, SYSTEMS[system], numbering) for space in range(1, 13))
    assert found == expected


@pytest.mark.parametrize(
    ("system", "colours", "neutral"),
    [
        ("208Y/120", ("black", "red", "blue"), "white"),
        ("480Y/277", ("brown", "orange", "yellow"), "grey"),
        ("120/240", ("black", "red"), "white"),
        ("240 delta high leg", ("black", "orange", "blue"), "white"),
        ("240 delta", ("black", "red", "blue"), "white"),
        ("480 delta", ("brown", "orange", "yellow"), "grey"),
    ],
)
def test_colours(system, colours, neutral):
    """Common practice, no source; the orange high leg on B is NEC 110.15."""
    assert SYSTEMS[system].colours == colours
    assert SYSTEMS[system].neutral_colour == neutral


def test_the_high_leg_is_b():
    assert SYSTEMS["240 delta high leg"].high_leg == "B"
    assert SYSTEMS["240 delta high leg"].colour("B") == "orange"


def said(circuit: Circuit, **enclosure: object) -> tuple[str, str] | None:
    return trouble(circuit, make_enclosure(**{"system": "208Y/120", **enclosure}))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("spaces", "system"),
    [((1,), "208Y/120"), ((1, 3), "120/240"), ((2, 4, 6), "480Y/277"), ((1, 3), "480 delta")],
)
def test_circuits_that_stand(spaces, system):
    assert said(Circuit(spaces, None), system=system) is None


@pytest.mark.parametrize(
    ("circuit", "enclosure", "message", "remedy"),
    [
        (Circuit((1, 2), None), {}, "spaces 1 and 2 both on phase A", "1, 3"),
        (Circuit((1, 3, 5), None), {"system": "120/240"}, "spaces 1 and 5 both on phase A", "1, 3"),
        (Circuit((1, 4), None), {"numbering": "down"}, "spaces 1 and 4 both on phase A", "1, 2"),
        (Circuit((1, 1), None), {}, "takes a space twice", "once"),
        (Circuit((43,), None), {"spaces": 42}, "space 43 of a panel with 42", "1 to 42"),
        (Circuit((1,), None), {"system": "480 delta"}, "single pole", "system"),
        (Circuit((1,), None), {"system": "240 delta"}, "single pole", "system"),
        (Circuit((1, 3), True), {"system": "240 delta"}, "asks for a neutral", "neutral: no"),
        (Circuit((1, 3), True), {"system": "480 delta"}, "asks for a neutral", "neutral: no"),
    ],
)
def test_circuits_that_cannot_be_say_why_and_what_to_write(circuit, enclosure, message, remedy):
    found = said(circuit, **enclosure)
    assert found is not None
    assert message in found[0]
    assert remedy in found[1]


def test_without_a_system_phases_are_not_judged():
    assert said(Circuit((1, 2), None), system=None) is None


@pytest.mark.parametrize(
    ("spaces", "numbering", "expected"),
    [
        ((1, 3, 5), "odd left", True),
        ((2, 4), "odd left", True),
        ((1, 5), "odd left", False),
        ((1, 4), "odd left", False),
        ((1, 2, 3), "down", True),
        ((1, 3), "down", False),
    ],
)
def test_a_breaker_takes_spaces_that_follow_one_another(spaces, numbering, expected):
    assert follow_one_another(Circuit(spaces, None), numbering) is expected


@pytest.mark.parametrize(
    ("circuit", "system", "expected"),
    [
        (Circuit((1,), None), "208Y/120", True),
        (Circuit((1, 3), None), "208Y/120", False),
        (Circuit((1, 3), True), "208Y/120", True),
        (Circuit((1,), False), "208Y/120", False),
        (Circuit((1, 3), None), "480 delta", False),
    ],
)
def test_neutral_as_the_poles_need_or_as_written(circuit, system, expected):
    assert has_neutral(circuit, SYSTEMS[system]) is expected
