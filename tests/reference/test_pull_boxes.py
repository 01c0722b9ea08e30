"""Pull boxes against published answers; each test names its source."""

from __future__ import annotations

from typing import Any

import pytest
from factories import make_face, make_job, make_place, make_raceway, make_row

from templates_engine.checks import Finding, check
from templates_engine.job.model import FaceJob, Job, Pull
from templates_engine.layout import solve
from templates_engine.values import replace


def face(word: str, letter: str, *sizes: str) -> FaceJob:
    raceways = [make_raceway(size, f"{letter}{number}", type="RMC") for number, size in enumerate(sizes, 1)]
    return make_face(make_row(*raceways), face=word, width=60, depth=12)


def box(*faces: FaceJob, pulls: list[tuple[str, str, str]], width: float) -> Job:
    made: Any = tuple(Pull(start, end, kind, make_place("pulls")) for start, end, kind in pulls)  # type: ignore[arg-type]
    job = make_job(*faces)
    return replace(job, enclosure=replace(job.enclosure, width_in=width, height_in=60, pulls=made))


def found(job: Job, name: str, face: str = "left") -> Finding:
    return next(each for each in check(solve(job)) if each.check == name and each.face == face)


@pytest.mark.parametrize(
    ("sizes", "length"),
    [
        # EC&M, "Quizzes on the Code: sizing pull boxes", Sept 2000, question 1
        (("2",), 16),
        # the same, question 2
        (("2-1/2", "2", "1-1/2"), 20),
    ],
)
def test_straight_pulls(sizes, length):
    pulls = [(f"L{number}", f"R{number}", "straight") for number in range(1, len(sizes) + 1)]
    faces = (face("left", "L", *sizes), face("right", "R", *sizes))
    exact = found(box(*faces, pulls=pulls, width=length), "pulls, straight")
    assert (exact.outcome.value, exact.required, exact.unit) == ("ok", length, "in")
    short = found(box(*faces, pulls=pulls, width=length - 0.01), "pulls, straight")
    assert (short.outcome.value, short.required) == ("fail", length)


def test_angle_pull_to_the_opposite_wall():
    """Public how-to on pull boxes after NEC 314.28(A)(2): 3 in with a 2 in in the same wall, 6 x 3 + 2 = 20
    in."""
    faces = (face("left", "L", "3", "2"), face("top", "T", "3"))
    pulls = [("L1", "T1", "angle")]
    exact = found(box(*faces, pulls=pulls, width=20), "pulls, angle and U")
    assert (exact.outcome.value, exact.required) == ("ok", 20)
    assert found(box(*faces, pulls=pulls, width=19.99), "pulls, angle and U").outcome.value == "fail"


def test_angle_pull_between_its_entries():
    """The same: 18 in between the entries of a pull of 3 in raceways."""
    faces = (face("left", "L", "3"), face("top", "T", "3"))
    job = box(*faces, pulls=[("L1", "T1", "angle")], width=60)
    assert found(job, "pulls, between entries").required == 18
