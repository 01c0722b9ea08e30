"""What many jobs cost: those that are unchanged, and looking one up among many; measured in one run."""

from __future__ import annotations

import time
from contextlib import closing
from pathlib import Path

from panels import make_building, panel

from templates_engine.office.draw.batch import draw_building
from templates_engine.office.draw.one_job import State
from templates_engine.office.register.find_sheets import find_sheets
from templates_engine.office.register.store import Register, add_entry, connected
from templates_engine.values import replace

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


def test_a_sheet_is_found_among_ten_thousand_as_among_ten(tmp_path: Path) -> None:
    (tmp_path / "LP-1.yaml").write_text(panel("LP-1"), encoding="utf-8")
    Register(tmp_path / "register.sqlite").create()
    draw_building([tmp_path], tmp_path / "out", count=1)
    kept = Register(tmp_path / "register.sqlite")
    (sheet,) = kept.all()
    few = look_up(kept, sheet.face.code)
    with closing(connected(kept.file, "rw")) as connection:
        connection.execute("BEGIN IMMEDIATE")
        for number in range(10_000):
            entry = replace(sheet.entry, job=f"floor {number % 100}/LP-{number // 3}.yaml")
            face = replace(sheet.face, fingerprint=f"{number:04}-{number:04}")
            add_entry(connection, entry, [face])
        connection.execute("COMMIT")
    assert look_up(kept, sheet.face.code) / few < MOST_TIMES


def look_up(kept: Register, code: str) -> float:
    """The least seconds of five look-ups, the job solved anew in each."""
    taken = []
    for _ in range(5):
        before = time.process_time()
        (found,) = find_sheets(kept, code)
        taken.append(time.process_time() - before)
        assert found.is_current
    return min(taken)
