"""Twice the holes or keep-outs take about twice the work, not four times; measured in one run."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from templates_engine import check, read_job, solve

MOST_TIMES = 3.0
"""Twice the work is 2; each with every other would be 4."""


def job(folder: Path, holes: int, keep_outs: int, width: int, gap: str) -> Path:
    """A wireway's top with one row, and keep-outs all along it in the row's way."""
    counts = [60] * (holes // 60)
    raceways = ", ".join(f"{{type: EMT, size: 1/2, count: {count}}}" for count in counts)
    standing = "".join(
        f"      - {{name: s{at}, along: {(at + 0.5) * width / keep_outs:.4f}, from back: 1.7, "
        "diameter: 1/8, clear: 1/16}\n"
        for at in range(keep_outs)
    )
    file = folder / f"{holes}_{keep_outs}.yaml"
    file.write_text(
        "job: long\n"
        f"enclosure: {{mark: W, kind: wireway, width: {width}, height: 10, depth: 6, back gap: 1/4}}\n"
        "faces:\n  - face: top\n    mark from: outside\n"
        + ("    keep out:\n" + standing if keep_outs else "")
        + f"    rows:\n      - {{strut: 1-5/8, gap: {gap}, place: centred, raceways: [{raceways}]}}\n",
        encoding="utf-8",
    )
    return file


def seconds(file: Path) -> float:
    """The least of three runs; the reading of the file is another's work."""
    wanted = read_job(file)
    taken = []
    for _ in range(3):
        before = time.process_time()
        check(solve(wanted))
        taken.append(time.process_time() - before)
    return min(taken)


@pytest.mark.parametrize(
    ("once", "twice"),
    [
        pytest.param((120, 0, 480, "1-1/8"), (240, 0, 480, "1-1/8"), id="240 holes"),
        pytest.param((60, 500, 1200, "1-1/8"), (60, 1000, 1200, "1-1/8"), id="1,000 keep-outs"),
        pytest.param((120, 350, 1200, "1/4"), (240, 350, 1200, "1/4"), id="240 holes among 350 keep-outs"),
    ],
)
def test_twice_is_about_twice(
    once: tuple[int, int, int, str], twice: tuple[int, int, int, str], tmp_path: Path
) -> None:
    less, more = seconds(job(tmp_path, *once)), seconds(job(tmp_path, *twice))
    assert more / less < MOST_TIMES
