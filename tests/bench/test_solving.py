"""A long row is solved at once: four times the raceways cost little more than four times the time."""

from __future__ import annotations

import time
from typing import Any

import pytest
from factories import from_edge, make_face, make_job, make_keep_out, make_raceway, make_row

from templates_engine.job.model import Job, Placing
from templates_engine.layout import solve

SIZES = ("1", "3/4", "1/2", "1-1/4")
LARGE, SMALL = 60, 15
MOST = (LARGE / SMALL) ** 3
"""Work that grows with the cube of a row's length; a search over combinations grows by thousands."""


def row_of(count: int, placing: Placing | None, snap: float | None) -> Job:
    raceways = [make_raceway(SIZES[n * 7 % 4], f"A{n}") for n in range(1, count + 1)]
    keep_outs = [make_keep_out((u, u + 1.0 + u % 3 / 8), (1.5, 2.5)) for u in range(10, 170, 16)]
    row = make_row(*raceways, gap=0.75, placing=placing, snap=snap)
    return make_job(make_face(row, width=190.0, keep_outs=keep_outs))


@pytest.mark.parametrize("snap", [None, 1 / 16])
@pytest.mark.parametrize("placing", [None, from_edge(6.0)])
def test_sixty_raceways_round_ten_keep_outs(
    benchmark: Any, placing: Placing | None, snap: float | None
) -> None:
    large, small = row_of(LARGE, placing, snap), row_of(SMALL, placing, snap)
    assert len(solve(large).faces[0].holes) == LARGE
    solve(small)
    times = []
    for _ in range(5):
        start = time.perf_counter()
        solve(small)
        times.append(time.perf_counter() - start)
    benchmark.pedantic(solve, args=(large,), rounds=5)
    ratio = benchmark.stats.stats.min / min(times)
    benchmark.extra_info["60 raceways / 15 raceways"] = round(ratio, 1)
    assert ratio < MOST
