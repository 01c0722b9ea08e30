"""Requests of all shapes, whole and damaged: each is answered with words or a drawing, never a failure."""

from __future__ import annotations

import json
import random
import resource
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings
from random_runs import USUAL
from starlette.testclient import TestClient

from templates_engine.page import app as page_app
from templates_engine.page.app import make_app

PORT = 8125
SAMPLES = [path.read_text() for path in sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.yaml"))]
PLACES = (
    *("/draw", "/remedies", "/sheets", "/open", "/save", "/jobs", "/sample", "/printers", "/printer-sheet"),
    *("/keep-printer", "/forget-printer", "/pdf", "/", "/nowhere", "/assets/../app.py"),
)
ANSWERS = {200, 400, 403, 404, 405, 409, 413, 415}
SCRAPS = (
    *(
        "",
        "\0",
        "\t",
        "\r",
        "\x85",
        "\u2028",
        "\ud800",
        "é",
        "{",
        "[",
        "&a",
        "*a",
        ": ",
        "- ",
        "'",
        '"',
        "<script>",
    ),
    *("{{7*7}}", "1/0", "-1", "9" * 400, "../x", "nan", "!!python/object:os.system", "top", "EMT", "1-1/4"),
)
SHORT, LONG = 150, 3000
"""Requests of a usual run and of a deep one."""
GROWTH_KB = 60_000
"""What the process may grow once it is warm."""


class HereAndNow:
    """Workers that answer in this very process, so that a failure is seen and memory is one's own."""

    async def run(self, function: Any, *values: Any, within_s: float = 0.0) -> Any:
        return function(*values)

    def stop(self) -> None:
        """Nothing runs."""


@pytest.fixture
def client(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[TestClient]:
    monkeypatch.setattr(page_app, "Workers", HereAndNow)
    with TestClient(make_app(tmp_path, PORT), base_url=f"http://127.0.0.1:{PORT}") as made:
        yield made


def damaged(chance: random.Random, text: str) -> str:
    """A text with a few cuts, doublings and scraps in it."""
    for _ in range(chance.randrange(4)):
        at = chance.randrange(len(text) + 1)
        cut = chance.choice((0, 0, 1, 5, 80))
        text = text[:at] + chance.choice((*SCRAPS, text[at : at + 30])) + text[at + cut :]
    return text


def value(chance: random.Random, deep: int = 0) -> Any:
    """Anything JSON can say."""
    kinds = ("text", "number", "flag", "none") + (("list", "table") if deep < 3 else ())
    kind = chance.choice(kinds)
    if kind == "text":
        return chance.choice(SCRAPS)
    if kind == "number":
        return chance.choice((0, 1, -1, 3, 10**30, 0.5, -1e308))
    if kind == "list":
        return [value(chance, deep + 1) for _ in range(chance.randrange(4))]
    if kind == "table":
        return {chance.choice((*SCRAPS, "do", "path", "value")): value(chance, deep + 1) for _ in range(3)}
    return {"flag": chance.random() < 0.5, "none": None}[kind]


def path(chance: random.Random) -> Any:
    steps: list[Any] = [
        "faces",
        0,
        "rows",
        0,
        "raceways",
        0,
        "size",
        "enclosure",
        "width",
        "place",
        "print",
        7,
        -1,
    ]
    return [chance.choice(steps) for _ in range(chance.randrange(8))]


def change(chance: random.Random) -> Any:
    do = chance.choice(("set", "add", "take out", "place", "pin", "several", "nothing"))
    made = {
        "do": do,
        "path": path(chance),
        "value": value(chance),
        "entry": chance.choice(("faces[1].rows[1].raceways[1]", "faces[9]", "")),
        "nth": chance.choice((0, 1, -5, "x")),
        "at": chance.choice(("10 in", "-1", "")),
        "changes": [],
    }
    return chance.choice((made, made, made, None, value(chance)))


def body(chance: random.Random) -> Any:
    made: dict[str, Any] = {
        "text": damaged(chance, chance.choice(SAMPLES)),
        "change": change(chance),
        "face": chance.choice(("top", "left", "", "x")),
        "name": chance.choice(("job.yaml", "../x.yaml", "a\0.yaml", "shop.yaml", "")),
        "version": "",
        "paper": chance.choice(("letter", "x", "0 x 0", "9" * 99)),
        "readings": {"A1-A2": chance.choice(SCRAPS)} if chance.random() < 0.7 else value(chance),
        **{key: chance.choice(SCRAPS) for key in ("across", "down", "first", "second")},
    }
    for key in list(made):
        if chance.random() < 0.08:
            made[key] = value(chance)
        elif chance.random() < 0.05:
            del made[key]
    return made


@pytest.mark.hypothesis
def test_no_request_fails_and_memory_does_not_grow(client: TestClient) -> None:
    is_deep = settings().max_examples > USUAL
    chance = random.Random(None if is_deep else 11)
    count, start_kb = (LONG if is_deep else SHORT), 0
    for number in range(count):
        place = chance.choice((*PLACES, "/draw", "/draw", "/draw", "/draw"))
        if place in ("/pdf", "/remedies", "/printer-sheet", "/sheets") and chance.random() < 0.8:
            place = "/draw"
        sent = json.dumps(body(chance)) if chance.random() < 0.95 else damaged(chance, "{}")
        data = sent.encode("utf-8", "surrogatepass")
        got = client.request(
            chance.choice(("POST", "POST", "POST", "GET")),
            place,
            content=data,
            headers={"content-type": "application/json"},
        )
        assert got.status_code in ANSWERS, (place, data)
        assert "Traceback" not in got.text
        if number == count // 3:
            start_kb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - start_kb < GROWTH_KB
