"""A long row is placed at once: the bound has room, so that only a change of kind trips it."""

from __future__ import annotations

import time

import pytest
from factories import from_edge, make_face, make_job, make_keep_out, make_raceway, make_row

from templates_engine.job.model import Placing
from templates_engine.layout import solve

SIZES = ("1", "3/4", "1/2", "1-1/4")
MOST_SECONDS = 0.5
"""Twenty times what it takes on an idle machine; a search that tries combinations takes minutes."""


@pytest.mark.parametrize("snap", [None, 1 / 16])
@pytest.mark.parametrize("placing", [None, from_edge(6.0)])
def test_sixty_raceways_round_ten_keep_outs(placing: Placing | None, snap: float | None) -> None:
    raceways = [make_raceway(SIZES[n * 7 % 4], f"A{n}") for n in range(1, 61)]
    keep_outs = [make_keep_out((u, u + 1.0 + u % 3 / 8), (1.5, 2.5)) for u in range(10, 170, 16)]
    row = make_row(*raceways, gap=0.75, placing=placing, snap=snap)
    job = make_job(make_face(row, width=190.0, keep_outs=keep_outs))
    solve(job)
    best = min(_seconds(job) for _ in range(3))
    assert best < MOST_SECONDS
    assert len(solve(job).faces[0].holes) == 60


def _seconds(job: object) -> float:
    start = time.perf_counter()
    solve(job)  # type: ignore[arg-type]
    return time.perf_counter() - start
