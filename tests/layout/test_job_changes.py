"""Changes of a job: what they change, and that they leave the rest alone."""

from __future__ import annotations

from itertools import islice

import pytest
from factories import make_face, make_job, make_keep_out, make_raceway, make_row

from templates_engine.job.model import Job, Raceway
from templates_engine.layout import solve
from templates_engine.layout.faces import attempt
from templates_engine.layout.job_changes import RowTrial, enlarged, last_that, other_order
from templates_engine.layout.remedies import remedies_for


def orders(job: Job) -> list[str]:
    (failure,) = attempt(job).failures
    found = [one for one in remedies_for(job, failure) if "list the raceways" in one.words]
    for one in found:
        solve(one.job)
    return [one.words for one in found]


def seamed(*sizes: str) -> Job:
    """A face of 13 in with a seam from 4 to 5: 4 in before it, 8 behind."""
    row = make_row(*sizes, gap=1.0)
    return make_job(make_face(row, width=13.0, depth=6.0, keep_outs=[make_keep_out((4.0, 5.0))]))


def test_another_order_is_offered_where_it_makes_room() -> None:
    # 3 in EMT is 3.5 in outside, its knockout 3.594. In the 8 in behind the seam two do not fit: 3.594 +
    # 3.5 + 1 is 8.094. Before it one does, and then a 3 and a 1 behind: 1.797 + 1.75 + 1 + 0.5815 + 0.6875.
    assert orders(seamed("1", "3", "3")) == ["list the raceways in the reverse order (A3, A2, A1)"]


class Pleased(RowTrial):
    """A case that every change helps."""

    def solves(self, changed: Job) -> bool:
        return True

    def helps(self, changed: Job) -> bool:
        return True


def tried(*raceways: Raceway | str) -> list[str]:
    case = Pleased(make_job(make_face(make_row(*raceways))), 0, 0)
    return [one.words for one in islice(case.helpful(other_order), 1)]


def test_an_order_that_changes_nothing_on_the_metal_is_not_tried() -> None:
    assert tried("3", "1", "2") == ["list the raceways in the reverse order (A3, A2, A1)"]
    assert tried("1", "3", "1") == ["list the raceways largest first (A2, A1, A3)"]
    assert tried("3", "3", "3") == []


def test_a_row_with_pins_or_gaps_of_pairs_keeps_its_order() -> None:
    assert tried("3", make_raceway("1", "A2", at=9.0)) == []
    assert tried("3", make_raceway("1", "A2", gap_before=2.0)) == []


@pytest.mark.parametrize(
    ("dimension", "enclosure", "top", "left"),
    [
        ("width", (22.0, 30.0, 8.0), (22.0, 8.0), (30.0, 8.0)),
        ("height", (20.0, 32.0, 8.0), (20.0, 8.0), (32.0, 8.0)),
        ("depth", (20.0, 30.0, 10.0), (20.0, 10.0), (30.0, 10.0)),
    ],
)
def test_a_larger_enclosure_has_larger_faces(dimension, enclosure, top, left) -> None:
    job = make_job(make_face(make_row("1")), make_face(make_row(make_raceway("1")), face="left", width=30.0))
    larger = enlarged(job, dimension, 2.0)
    box = larger.enclosure
    assert (box.width_in, box.height_in, box.depth_in) == enclosure
    assert [(face.width_in, face.depth_in) for face in larger.faces] == [top, left]


@pytest.mark.parametrize(("fitting", "failing", "limit"), [(0, 20, 7), (20, 0, 13), (3, 4, 3)])
def test_halving_finds_the_turn_from_either_side(fitting, failing, limit) -> None:
    up = fitting < failing
    assert last_that(lambda n: n <= limit if up else n >= limit, fitting, failing) == limit
