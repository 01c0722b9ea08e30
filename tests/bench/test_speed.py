"""How much the whole pipeline costs beside the bare minimum, as ratios taken in one run; never an absolute
time.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from replay import register_fonts, replay

from templates_engine import pipeline
from templates_engine.job import read_job
from templates_engine.resources import folder

TWELVE_SHEETS = """
job: speed
enclosure: {mark: WW-9, kind: wireway, width: 9 ft 6 in, height: 8, depth: 6, back gap: 1/4}
faces:
  - face: top
    rows:
      - {strut: 13/16, gap: 1-1/8, snap: 1/16, place: {spread: {from: 2, to: 106}},
         raceways: [{type: EMT, size: 1, count: 20}, {type: EMT, size: 2, count: 10}]}
print: {paper: letter, orientation: landscape, extra sheets: 0}
"""
ROUNDS = 7


def best(work: Callable[[], object], rounds: int = ROUNDS) -> float:
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


@pytest.fixture
def twelve(tmp_path: Path) -> Path:
    path = tmp_path / "twelve.yaml"
    path.write_text(TWELVE_SHEETS, encoding="utf-8")
    return path


def test_a_twelve_sheet_face_warm_beside_a_bare_replay(benchmark, twelve: Path, tmp_path: Path) -> None:
    register_fonts()

    def whole() -> None:
        pipeline.write_template(pipeline.solve_job(read_job(twelve)), tmp_path / "twelve.pdf")

    document = pipeline.draw_job(pipeline.solve_job(read_job(twelve)))
    sheets = sum(page.bookmark.startswith("top, sheet") for page in document.pages)
    assert sheets == 12
    whole()
    replay(document)
    bare: list[float] = []
    # In turn, so that a busy moment of the machine weighs on both.
    benchmark.pedantic(
        whole, setup=lambda: bare.append(best(lambda: replay(document), rounds=1)), rounds=ROUNDS
    )
    ratio = benchmark.stats.stats.min / min(bare)
    benchmark.extra_info["whole pipeline / bare replay"] = round(ratio, 2)
    assert ratio < WARM_LIMIT


def test_a_sheet_costs_few_bytes(twelve: Path, tmp_path: Path) -> None:
    """Under 25 KB a sheet beyond the embedded fonts."""
    import pypdf

    path = tmp_path / "twelve.pdf"
    document = pipeline.write_template(pipeline.solve_job(read_job(twelve)), path)[-1].document
    reader = pypdf.PdfReader(path)
    fonts = sum(
        len(item._data)
        for number in range(1, len(reader.xref[0]) + 1)
        if (item := reader.get_object(number)) is not None
        and isinstance(item, pypdf.generic.StreamObject)
        and "/Length1" in item
    )
    assert fonts > 0
    assert (path.stat().st_size - fonts) / len(document.pages) < 25_000


def test_the_command_cold_beside_importing_its_libraries(benchmark, tmp_path: Path) -> None:
    """Starting the command and a whole draw, against importing the libraries that a draw uses, each in a
    process of its own.
    """
    sample = sorted(folder("sample_jobs").glob("*.yaml"))[0]
    bare = [sys.executable, "-c", "import click, msgspec, pypdf, reportlab.pdfgen.canvas, segno, yaml"]
    start = [sys.executable, "-m", "templates_engine", "--help"]
    draw = [sys.executable, "-m", "templates_engine", "draw", str(sample), "-o", str(tmp_path / "cold.pdf")]

    # As installed: with its bytecode kept, which the first run of each writes where it is missing.
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}

    def run(command: list[str]) -> None:
        subprocess.run(command, check=True, capture_output=True, env=kept)

    for command in (bare, start, draw):
        run(command)
    libraries = best(lambda: run(bare))
    drawn = best(lambda: run(draw))
    benchmark.pedantic(run, args=(start,), rounds=ROUNDS)
    benchmark.extra_info["start / libraries"] = round(benchmark.stats.stats.min / libraries, 2)
    benchmark.extra_info["whole draw / libraries"] = round(drawn / libraries, 2)
    assert benchmark.stats.stats.min / libraries < START_LIMIT
    assert drawn / libraries < DRAW_LIMIT


WARM_LIMIT = 1.9
START_LIMIT = 0.8
DRAW_LIMIT = 2.5
