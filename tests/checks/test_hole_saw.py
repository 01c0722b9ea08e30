"""What the usual hole saw cuts against the circle that is drawn and the standard knockout's limits."""

from __future__ import annotations

from check_cases import finding, findings, one_raceway
from factories import make_face, make_job, make_raceway, make_row

NAME = "hole saw"


def test_a_saw_larger_than_the_circle_but_within_the_limits_is_named() -> None:
    # 3/4: saw 1-1/8 [usual hole saws]; knockout 1.109, 1.094 to 1.141 [NEMA knockout dimensions].
    found = finding(one_raceway("3/4", cutter="hole saw"), NAME)
    assert found.outcome.value == "ok"
    assert found.message == (
        "The usual hole saw cuts a hole larger than the circle drawn, but within the standard knockout's "
        "limits: A1 1-1/8 in for a circle of 1.109 in."
    )
    assert (found.provided, found.required) == (1.125, 1.109)


def test_a_saw_that_cuts_the_circle_itself() -> None:
    found = finding(one_raceway("1/2", cutter="hole saw"), NAME)
    assert found.message == "Every usual hole saw cuts the circle that is drawn."


def test_like_holes_are_named_together_and_each_size_once() -> None:
    row = make_row(
        make_raceway("3/4", "A1", cutter="hole saw"),
        make_raceway("3/4", "A2", cutter="hole saw"),
        make_raceway("2", "A3", cutter="hole saw"),
        make_raceway("2", "A4"),
    )
    found = finding(make_job(make_face(row)), NAME)
    assert found.message.endswith(
        "A1 and A2 1-1/8 in for a circle of 1.109 in; A3 2-1/2 in for a circle of 2.469 in."
    )
    assert found.holes == ("A1", "A2", "A3")


def test_a_circle_drawn_for_a_punch_but_to_be_sawn_is_cautioned() -> None:
    found = finding(one_raceway("2", cutter="hole saw", hole="punch"), NAME)
    assert found.outcome.value == "caution"
    assert "A1 2-1/2 in for a circle of 2.416 in" in found.message
    assert found.remedy.startswith("Write the diameter of the saw in hand as the hole")


def test_a_saw_outside_the_limits_is_cautioned(monkeypatch) -> None:
    from templates_engine.checks import holes
    from templates_engine.trade.cutters import HoleSaw

    monkeypatch.setattr(holes, "hole_saw", lambda size: HoleSaw("3/4", 1.142, "", "", ""))
    found = finding(one_raceway("3/4", cutter="hole saw"), NAME)
    assert found.outcome.value == "caution"
    assert "outside the standard knockout's limits" in found.message
    monkeypatch.setattr(holes, "hole_saw", lambda size: HoleSaw("3/4", 1.141, "", "", ""))
    assert finding(one_raceway("3/4", cutter="hole saw"), NAME).outcome.value == "ok"


def test_a_size_without_a_usual_saw_is_not_checked() -> None:
    found = finding(one_raceway("5", type="RMC", cutter="hole saw", depth=14.0), NAME)
    assert found.outcome.value == "not checked"
    assert found.remedy == "Write the hole saw's diameter as the hole."


def test_holes_that_no_saw_cuts_or_that_are_given_are_left_alone() -> None:
    assert not findings(one_raceway("3/4"), NAME)
    assert not findings(one_raceway("3/4", cutter="hole saw", hole=1.125), NAME)
    assert not findings(one_raceway("3/4", cutter="hole saw", knockout="concentric"), NAME)
