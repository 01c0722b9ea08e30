"""Holes in factory knockouts stand where the job lists them, on every face and side; all others keep off."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from random_runs import examples

from templates_engine.errors import CannotFit
from templates_engine.job import read_job_text
from templates_engine.layout import solve
from templates_engine.layout.model import FaceLayout

LARGEST_IN = {"1/2": 0.875, "3/4": 1.109, "1": 1.375}
"""Nominal knockouts by the NEMA table of knockouts and clearance holes."""
SIZES = tuple(LARGEST_IN)
CASES = [(face, side) for face in ("top", "bottom", "left", "right") for side in ("outside", "inside")]

JOB = """
job: factory knockouts
enclosure: {{mark: E-1, kind: cabinet, width: 30, height: 30, depth: 9, back gap: 1/4}}
faces:
  - face: {face}
    mark from: {side}
    factory knockouts: [{knockouts}]
    rows:
      - raceways: [{first}]
      - strut: 5-5/8
        gap: 1/2
        place: centred
        raceways: [{second}, {{type: EMT, size: 1}}]
"""


def _listed(name: str, u: float, v: float) -> str:
    return f"{{name: {name}, along: {u}, from back: {v}, sizes: [1/2, 3/4, 1], rings: concentric}}"


def _laid_out(face: str, side: str, knockouts: list[str], rows: list[list[str]]) -> FaceLayout:
    first, second = (", ".join(row) for row in rows)
    text = JOB.format(face=face, side=side, knockouts=", ".join(knockouts), first=first, second=second)
    return solve(read_job_text(text, "job.yaml")).faces[0]


@examples(10)
@given(
    st.lists(st.integers(0, 64), min_size=4, max_size=4),
    st.lists(st.integers(0, 64), min_size=3, max_size=3),
    st.lists(st.sampled_from(SIZES), min_size=4, max_size=4),
)
@pytest.mark.parametrize(("face", "side"), CASES)
def test_a_used_knockout_is_the_hole_s_centre(
    face: str, side: str, along: list[int], back: list[int], sizes: list[str]
) -> None:
    """Two in a row of their own; two on strut with a free raceway, and one that nothing uses."""
    us = [2 + 4 * place + step / 64 for place, step in enumerate(along)]
    vs = [2 + back[0] / 64] * 2 + [6 + step / 64 for step in back[1:]]
    names = [f"K{place + 1}" for place in range(4)]
    knockouts = [_listed(*each) for each in zip(names, us, vs, strict=True)]
    raceways = [f"{{type: EMT, size: {s}, factory knockout: {k}}}" for s, k in zip(sizes, names, strict=True)]
    found = _laid_out(face, side, [_listed("spare", 25, 6.5), *knockouts], [raceways[:2], raceways[2:]])
    for hole, u, v, size in zip(found.holes, us, vs, sizes, strict=False):
        assert (hole.u_in, hole.v_in, hole.hole_diameter_in) == (u, v, LARGEST_IN[size])
        assert [tuple(one) for one in hole.quarter_points_in[2:]] == [
            (u, v - LARGEST_IN[size] / 2),
            (u, v + LARGEST_IN[size] / 2),
        ]
    free = found.holes[-1]
    for u, v in [
        (25, 6.5),
        *(one for one, size in zip(zip(us, vs, strict=True), sizes, strict=True) if size != "1"),
    ]:
        assert math.dist((free.u_in, free.v_in), (u, v)) > 1.375


UNUSED = """
job: factory knockouts
enclosure: {mark: E-1, kind: cabinet, width: 30, height: 30, depth: 9, back gap: 1/4}
faces:
  - face: top
    rows: [{raceways: [{type: EMT, size: 1, at: 5}], back line: 2}]
  - face: left
    factory knockouts:
      - {along: 5, from back: 2.5, sizes: 1}
      - {along: 15, from back: 2.5, sizes: [1/2, 1], rings: concentric}
      - {along: 25, from back: 2.5, sizes: 1}
    rows:
      - {back line: 6, place: centred, raceways: [{type: EMT, size: 1}]}
      - {back line: 2, place: centred, raceways: [{type: EMT, size: 1}]}
"""


def test_the_second_row_of_the_second_face_keeps_off_and_is_told() -> None:
    solved = solve(read_job_text(UNUSED, "job.yaml"))
    hole = solved.faces[1].holes[1]
    assert abs(hole.u_in - 15) > 1.375  # both holes' halves at the least
    told = [note for note in solved.notes if "keep" in note.words]
    assert [(note.face, note.holes) for note in told] == [("left", (hole.id,))]
    assert 'moved by the keep-out "factory knockout K2", to keep fittings off rings' in told[0].words


def test_used_or_not_in_the_way_it_says_nothing() -> None:
    text = UNUSED.replace("along: 15", "along: 18")
    words = " ".join(note.words for note in solve(read_job_text(text, "job.yaml")).notes)
    assert "factory" not in words
    assert "clear" not in words


def test_no_remedy_moves_a_raceway_out_of_its_knockout() -> None:
    """Two too near each other: the pinned one is to move, as the other cannot."""
    text = (
        UNUSED.replace("along: 5,", "along: 13-1/2,")
        .replace("along: 15", "along: 20")
        .replace(
            "- {back line: 2, place: centred, raceways: [{type: EMT, size: 1}]}",
            "- {back line: 2, gap: 1, place: centred, raceways: [{type: EMT, size: 1, factory knockout: K1}, "
            "{type: EMT, size: 1, at: 15}]}",
        )
    )
    with pytest.raises(CannotFit) as caught:
        solve(read_job_text(text, "job.yaml"))
    words = str(caught.value)
    assert "B1 is in the factory knockout K1 at 13-1/2 in and B2 is pinned" in words
    assert "pin B2 at" in words
    assert "pin B1" not in words


def test_reducing_washers_take_the_next_larger_ring_with_its_own_centre() -> None:
    """Eccentric rings of 3/4 and 1-1/4 (1.109 and 1.734 in, NEMA): the first takes 1/2, the second 1."""
    knockouts = [
        f"{{name: K{n}, along: [{u}, {u}], from back: [1.875, 2], sizes: [3/4, 1-1/4], rings: eccentric}}"
        for n, u in ((1, 5), (2, 11))
    ]
    raceways = [
        f"{{type: EMT, size: {size}, factory knockout: K{n}, reducing washers: yes}}"
        for n, size in ((1, "1/2"), (2, "1"))
    ]
    rows = [["{type: EMT, size: 1, factory knockout: K3}"], raceways]
    found = _laid_out("right", "inside", [*knockouts, _listed("K3", 20, 6)], rows)
    places = {
        hole.id: (hole.u_in, hole.v_in, hole.hole_diameter_in, hole.raceway.knockout) for hole in found.holes
    }
    assert places["B1"] == (5, 1.875, 1.109, "eccentric")
    assert places["B2"] == (11, 2, 1.734, "single")


def test_what_stands_too_near_unused_rings_is_told_without_a_word_of_keys_they_do_not_take() -> None:
    text = UNUSED.replace("back line: 2, place: centred, raceways: [{", "back line: 2, raceways: [{at: 14, ")
    with pytest.raises(CannotFit) as caught:
        solve(read_job_text(text, "job.yaml"))
    assert 'too near the keep-out "factory knockout K2", for its fittings; ' in str(caught.value)


def test_a_row_in_front_is_clear_of_what_a_knockout_puts_forward() -> None:
    """The second row's back line: 2.5 in and half of 1.163 in (1 in EMT, ANSI C80.3), and its gap."""
    text = UNUSED.replace(
        "{back line: 6, place: centred, raceways: [{type: EMT, size: 1}]}",
        "{back line: 1, raceways: [{type: EMT, size: 1, factory knockout: K1}]}",
    ).replace(
        "{back line: 2, place: centred, raceways: [{type: EMT, size: 1}]}",
        "{back line: auto, gap: 1/2, raceways: [{type: EMT, size: 1, at: 10, cutter: hole saw}]}",
    )
    row = solve(read_job_text(text, "job.yaml")).faces[1].rows[1]
    assert row.back_line_in is not None
    assert row.back_line_in >= 2.5 + 1.163 / 2 + 0.5 - 1e-9
