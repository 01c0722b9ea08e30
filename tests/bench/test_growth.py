"""Twice the holes or keep-outs take about twice the work, not four times; measured in one run."""

from __future__ import annotations

import time

import pytest
from factories import make_face, make_job, make_keep_out, make_row

from templates_engine import check, solve
from templates_engine.job import Job

MOST_TIMES = 3.0
"""Twice the work is 2; each with every other would be 4."""


def job(holes: int, keep_outs: int, width: int, gap: float) -> Job:
    """A top with one row, and keep-outs all along it in the row's way; wider than any can."""
    standing = [
        make_keep_out((at + 0.5) * width / keep_outs, 1.7, diameter=0.125, clear=0.0625, name=f"s{at}")
        for at in range(keep_outs)
    ]
    return make_job(make_face(make_row(*["1/2"] * holes, gap=gap), width=width, keep_outs=standing))


def seconds(wanted: Job) -> float:
    """The least of three runs."""
    taken = []
    for _ in range(3):
        before = time.process_time()
        check(solve(wanted))
        taken.append(time.process_time() - before)
    return min(taken)


@pytest.mark.parametrize(
    ("once", "twice"),
    [
        pytest.param((120, 0, 480, 1.125), (240, 0, 480, 1.125), id="240 holes"),
        pytest.param((60, 500, 1200, 1.125), (60, 1000, 1200, 1.125), id="1,000 keep-outs"),
        pytest.param((120, 350, 1200, 0.25), (240, 350, 1200, 0.25), id="240 holes among 350 keep-outs"),
    ],
)
def test_twice_is_about_twice(once: tuple[int, int, int, float], twice: tuple[int, int, int, float]) -> None:
    less, more = seconds(job(*once)), seconds(job(*twice))
    assert more / less < MOST_TIMES
