"""From a key pressed to a new drawing: what the page adds to solving a job, as ratios taken in one run; many
requests at once.
"""

from __future__ import annotations

import json
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from starlette.testclient import TestClient
from test_speed import best

from templates_engine.checks import check
from templates_engine.job import read_job_text
from templates_engine.layout import solve
from templates_engine.page.answer import PageRequest, answer
from templates_engine.page.app import make_app
from templates_engine.wiring import fit_sizes

PORT = 8124
SAMPLES = sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.yaml"))
SIXTY = """
job: sixty raceways
enclosure: {mark: WW-60, kind: wireway, width: 12 ft, height: 8, depth: 8, back gap: 1/4}
faces:
  - face: top
    rows:
      - {strut: 1-5/8, gap: 1-1/8, snap: 1/16, place: {from: left, to: centre, distance: 4},
         raceways: [{type: EMT, size: 1/2, count: 60}]}
"""
FOLD = 4
"""The page reads the text once more for its form, and writes form, drawing and tables: no more than this many
times the bare reading, solving and checking.
"""
FLOOR_S = 0.030
"""What the form alone may take, whatever the job."""


@pytest.mark.parametrize("text", [*(path.read_text() for path in SAMPLES), SIXTY])
def test_an_answer_beside_the_bare_solving(benchmark, text: str) -> None:
    def bare() -> None:
        check(solve(fit_sizes(read_job_text(text, "x"))))

    assert answer(PageRequest(text)).is_drawn
    benchmark.pedantic(answer, (PageRequest(text),), rounds=5)
    assert benchmark.stats.stats.min <= FOLD * best(bare) + FLOOR_S


def test_fifty_requests_at_once_are_all_answered_each_with_its_own() -> None:
    """Each asks for another width; the page's two processes take turns."""
    widths = [f"{119 + number / 2:g} in" for number in range(50)]
    with TestClient(make_app(None, PORT), base_url=f"http://127.0.0.1:{PORT}") as client:

        def ask(width: str) -> str:
            text = SIXTY.replace("12 ft", width)
            body = json.dumps({"text": text, "change": {"do": "set", "path": ["revision"], "value": "B"}})
            got = client.post("/draw", content=body, headers={"content-type": "application/json"})
            assert got.status_code == 200
            assert got.json()["is_drawn"]
            return str(got.json()["text"])

        with ThreadPoolExecutor(50) as many:
            texts = list(many.map(ask, widths))
    assert [f"width: {width}," in text for width, text in zip(widths, texts, strict=True)] == [True] * 50
    assert all("revision: B" in text for text in texts)
