"""What planning costs beside drawing the plan, a ratio taken in one run, and sheets beside what area asks."""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from factories import make_face, make_job, make_printing, make_row, spread

from templates_engine import pipeline
from templates_engine.job import read_job
from templates_engine.layout import solve
from templates_engine.layout.model import Layout
from templates_engine.sheets import plan

WIREWAY = """
job: planning
enclosure: {mark: WW-10, kind: wireway, width: 10 ft, height: 6, depth: 6, back gap: 0}
faces:
  - face: top
    rows:
      - {strut: 13/16, gap: 7/8, place: {spread: {from: 2, to: 118}},
         raceways: [{type: EMT, size: 1/2, count: 30}, {type: EMT, size: 3/4, count: 30}]}
print: {paper: letter}
"""
ROUNDS = 7
MOST_OF_DRAWING = 1.0
MOST_OVER_AREA = 1.35
"""A sheet's view less half the overlap at joints, beside the face: joints and borders waste the rest."""
MOST_GROWTH = 2.0
"""Of what planning a sheet costs, from a dozen sheets to 160."""
MOST_OF_WHOLE = 12.0
"""Leaving empty sheets out weighs more ways to cut a face up, each with its own empty sheets."""


def best(work: Callable[[], object], rounds: int = ROUNDS) -> float:
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


@pytest.fixture
def solved(tmp_path: Path) -> pipeline.Solved:
    path = tmp_path / "wireway.yaml"
    path.write_text(WIREWAY, encoding="utf-8")
    return pipeline.solve_job(read_job(path))


def test_planning_a_ten_foot_wireway_beside_drawing_it(benchmark, solved: pipeline.Solved) -> None:
    assert len(solved.layout.faces[0].holes) == 60
    drawing = best(lambda: pipeline.draw_job(solved)) - best(lambda: plan(solved.layout))
    benchmark.pedantic(lambda: plan(solved.layout), rounds=ROUNDS, warmup_rounds=1)
    ratio = benchmark.stats.stats.min / drawing
    benchmark.extra_info["planning over drawing"] = round(ratio, 3)
    assert ratio < MOST_OF_DRAWING


def test_sheets_of_a_ten_foot_wireway_beside_its_area(benchmark, solved: pipeline.Solved) -> None:
    made = benchmark.pedantic(lambda: plan(solved.layout), rounds=1)
    (face,) = made.faces
    view = (made.view.width - made.overlap_in) * made.view.height
    bound = math.ceil(face.plane.width_in * face.plane.depth_in / view)
    benchmark.extra_info["sheets over area bound"] = f"{len(face.sheets)} / {bound}"
    assert bound <= len(face.sheets) <= MOST_OVER_AREA * bound


def box(width: int, depth: int, count: int, leave_out: bool = False) -> Layout:
    """A top with one row at its back; the largest is deeper than any can."""
    row = make_row(*["1"] * count, strut=0.8125, gap=0.875, placing=spread(2.0, width - 2.0))
    face = make_face(row, width=width, depth=depth)
    return solve(make_job(face, printing=make_printing(leave_out_empty=leave_out)))


def test_a_sheet_of_160_beside_a_sheet_of_a_dozen(benchmark) -> None:
    small, large = box(30, 24, 10), box(120, 80, 40)
    counts = [len(plan(one).faces[0].sheets) for one in (small, large)]
    assert 10 <= counts[0] <= 14
    assert counts[1] >= 160
    few = best(lambda: plan(small)) / counts[0]
    benchmark.pedantic(lambda: plan(large), rounds=3, warmup_rounds=1)
    ratio = benchmark.stats.stats.min / counts[1] / few
    benchmark.extra_info["a sheet of 160 / a sheet of 12"] = round(ratio, 2)
    assert ratio < MOST_GROWTH


def test_leaving_empty_sheets_out_beside_printing_them(benchmark) -> None:
    whole, thinned = (box(60, 40, 20, leave_out) for leave_out in (False, True))
    printed = best(lambda: plan(whole), rounds=3)
    benchmark.pedantic(lambda: plan(thinned), rounds=3, warmup_rounds=1)
    ratio = benchmark.stats.stats.min / printed
    benchmark.extra_info["left out / printed"] = round(ratio, 2)
    assert ratio < MOST_OF_WHOLE
