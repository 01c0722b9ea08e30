"""What many jobs cost: those that are unchanged, and what holding many in hand takes; measured in one run."""

from __future__ import annotations

import time
from pathlib import Path

from panels import make_building

from templates_engine.office.batch import draw_building
from templates_engine.office.draw_one import State

MOST_OF_DRAWING = 0.6
"""An unchanged job is solved, checked and planned, but neither drawn, written nor read back."""
MOST_TIMES = 3.0
"""Twice the work is 2."""


def seconds(site: Path, state: State) -> float:
    before = time.process_time()
    made = draw_building([site], site.parent / f"{site.name} drawn", count=1)
    taken = time.process_time() - before
    assert made.count(state) == len(made.jobs)
    return taken


def test_unchanged_jobs_cost_less_and_twice_the_jobs_twice_the_time(tmp_path: Path) -> None:
    make_building(tmp_path / "few", 10)
    make_building(tmp_path / "many", 20)
    seconds(tmp_path / "few", State.DRAWN)  # loads what all need
    many = seconds(tmp_path / "many", State.DRAWN)
    unchanged = min(seconds(tmp_path / "many", State.UNCHANGED) for _ in range(3))
    assert unchanged / many < MOST_OF_DRAWING
    fewer = min(seconds(tmp_path / "few", State.UNCHANGED) for _ in range(3))
    assert unchanged / fewer < MOST_TIMES
