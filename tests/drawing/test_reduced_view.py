"""The cover page's reduced view names every hole, however many there are and however small they come out."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from collisions import crossings, drawn_on
from factories import make_face, make_job, make_printing, make_row

from templates_engine.checks import check
from templates_engine.drawing import draw
from templates_engine.drawing.cover.reduced_view import reduced_view
from templates_engine.drawing.document import Document
from templates_engine.drawing.leader_labels import upright_labels
from templates_engine.drawing.shapes import DrawnCircle, Line, Words
from templates_engine.geometry import Interval, Point
from templates_engine.job.model import FaceJob, Job
from templates_engine.layout import solve
from templates_engine.sheets import plan
from templates_engine.units import LengthFormat


def face_of(*counts: int, width: float, depth: float = 8.0, size: str = "1/2") -> FaceJob:
    """Rows of so many alike raceways one in front of the other."""
    rows = [
        make_row(*([size] * count), name="ABCD"[number], gap=0.5, back_line=0.75 + 1.9 * number)
        for number, count in enumerate(counts)
    ]
    return make_face(*rows, width=width, depth=depth)


def names_of(job: Job) -> tuple[list[str], list[str]]:
    layout = solve(job)
    view = reduced_view(plan(layout).faces[0], LengthFormat("in"), 7.5, 2.0)
    ids = [hole.id for hole in layout.faces[0].holes]
    return ids, ["".join(map(str, shape.runs)) for shape in view.shapes if isinstance(shape, Words)]


@pytest.mark.parametrize("counts", [(3,), (7,), (40,), (70, 70), (20, 20, 20)])
@pytest.mark.parametrize("width", [20.0, 100.0, 190.0])
def test_every_hole_is_named_once(counts: tuple[int, ...], width: float) -> None:
    if max(counts) * 1.25 > width:
        width = max(counts) * 1.3
    ids, words = names_of(make_job(face_of(*counts, width=width)))
    assert sorted(word for word in words if word in ids) == sorted(ids)
    assert not any("all names are on the sheets" in word for word in words)


def test_leaders_lead_from_each_hole_to_its_own_name() -> None:
    job = make_job(face_of(30, 30, width=100.0))
    layout = solve(job)
    face = plan(layout).faces[0]
    view = reduced_view(face, LengthFormat("in"), 7.5, 2.0)
    rings = [shape.centre for shape in view.shapes if isinstance(shape, DrawnCircle)]
    leaders = [one for one in view.shapes if isinstance(one, Line) and one.layer == "frame"]
    names = [one for one in view.shapes if isinstance(one, Words) and one.bold]
    for hole, centre in zip(layout.faces[0].holes, rings, strict=True):
        (own,) = [line for line in leaders if math.dist(line.start, centre) < 1e-9]
        goes_up = own.end.y > own.start.y
        there = [name for name in names if (name.at.y > own.start.y) == goes_up]
        near = min(there, key=lambda name: abs(name.at.x - 0.045 - own.end.x))
        assert near.runs == (hole.id,)
        assert goes_up == (hole.row == "A")


@pytest.mark.parametrize("counts", [(7,), (40,), (70, 70)])
def test_names_and_leaders_cross_no_other_name(counts: tuple[int, ...]) -> None:
    job = make_job(face_of(*counts, width=100.0), printing=make_printing())
    layout = solve(job)
    document: Document = draw(layout, plan(layout), check(layout))
    cover = [page for page in document.pages if "cover page" in page.bookmark]
    for page in cover:
        assert list(crossings(drawn_on(document, page))) == [], page.bookmark


def test_crowded_names_stand_a_pitch_apart_in_order_about_their_places() -> None:
    places = [
        ("N1", Point(1.0, 0.0)),
        ("N2", Point(1.02, 0.0)),
        ("N3", Point(1.04, 0.0)),
        ("N4", Point(3.0, 0)),
    ]
    found = upright_labels(places, Interval(0.0, 6.0))
    assert found is not None
    assert found.names == ("N1", "N2", "N3", "N4")
    assert found.feet[3] == 3.0
    gaps = [b - a for a, b in pairwise(found.feet[:3])]
    assert gaps[0] == pytest.approx(gaps[1])
    assert gaps[0] > 0.12
    assert sum(found.feet[:3]) / 3 == pytest.approx(1.02)


def test_names_that_find_no_room_at_all_are_said_to_be_on_the_sheets() -> None:
    assert upright_labels([(f"N{n}", Point(n / 1000, 0.0)) for n in range(400)], Interval(0.0, 7.0)) is None
