"""The page's requests: what is answered, and what is refused."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from templates_engine.page.app import make_app
from templates_engine.page.guard import MOST_BODY

PORT = 8123
JSON = {"content-type": "application/json"}
SAMPLE = (Path(__file__).parents[2] / "sample_jobs" / "08_too_shallow.yaml").read_text()


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("jobs")
    (place / "LP-1.yaml").write_text(SAMPLE)
    (place / "shop.yaml").write_text("gap: 1-1/8\n")
    outside = tmp_path_factory.mktemp("outside") / "secret.yaml"
    outside.write_text(SAMPLE)
    (place / "link.yaml").symlink_to(outside)
    return place


@pytest.fixture(scope="module")
def client(folder: Path) -> Iterator[TestClient]:
    with TestClient(make_app(folder, PORT), base_url=f"http://127.0.0.1:{PORT}") as made:
        yield made


def post(client: TestClient, place: str, body: Any, **headers: str) -> Any:
    return client.post(
        place, content=json.dumps(body), headers={"content-type": "application/json", **headers}
    )


def test_the_page_lists_the_folder_and_carries_all_it_needs(client: TestClient) -> None:
    page = client.get("/")
    assert page.status_code == 200
    assert "<option>LP-1.yaml</option>" in page.text
    assert "link.yaml" not in page.text
    assert "shop.yaml" not in page.text
    assert "http://" not in page.text
    assert "https://" not in page.text
    for asset in ("page.css", "page.js", "idiomorph.min.js", "idiomorph.LICENSE.txt"):
        assert client.get(f"/assets/{asset}").status_code == 200
    assert "script-src 'self'" in page.headers["content-security-policy"]


def test_a_text_is_drawn(client: TestClient) -> None:
    got = post(client, "/draw", {"text": SAMPLE}).json()
    assert got["is_drawn"]
    assert "<svg" in got["fragments"]["drawing"]


@pytest.mark.parametrize(
    "headers",
    [
        {"host": "example.org"},
        {"host": f"127.0.0.1:{PORT + 1}"},
        {"origin": "http://example.org"},
        {"origin": "null"},
        {"origin": f"http://127.0.0.1:{PORT + 1}"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
)
def test_another_host_or_origin_is_refused(client: TestClient, headers: dict[str, str]) -> None:
    assert post(client, "/draw", {"text": SAMPLE}, **headers).status_code == 403
    assert client.get("/", headers=headers).status_code == 403


def test_its_own_origin_is_answered(client: TestClient) -> None:
    own = {"origin": f"http://127.0.0.1:{PORT}", "sec-fetch-site": "same-origin"}
    assert post(client, "/draw", {"text": SAMPLE}, **own).status_code == 200


def test_large_bodies_are_refused_whatever_they_say_of_themselves(client: TestClient) -> None:
    large = json.dumps({"text": "x" * MOST_BODY})
    assert client.post("/draw", content=large, headers=JSON).status_code == 413

    def in_pieces() -> Iterator[bytes]:
        yield from (b"x" * 100_000 for _ in range(12))

    answer = client.post("/draw", content=in_pieces(), headers=JSON)
    assert answer.status_code == 413


def test_a_form_of_another_site_cannot_post(client: TestClient) -> None:
    assert client.post("/draw", content="{}", headers={"content-type": "text/plain"}).status_code == 415


@pytest.mark.parametrize(
    "body", [[], "x", {}, {"text": 1}, {"text": "", "change": 1}, {"text": "", "name": "../a"}]
)
def test_a_body_the_page_never_sends_is_refused(client: TestClient, body: Any) -> None:
    got = post(client, "/draw", body)
    assert got.status_code == 400
    assert got.json()["refused"]


@pytest.mark.parametrize(
    "name",
    [
        "../x.yaml",
        "/etc/passwd",
        "a/b.yaml",
        "..",
        "",
        "x.txt",
        "shop.yaml",
        ".x.yaml",
        "a\0.yaml",
        "link.yaml",
    ],
)
def test_no_name_leads_out_of_the_folder(client: TestClient, folder: Path, name: str) -> None:
    before = {path: path.read_bytes() for path in folder.iterdir()}
    assert post(client, "/open", {"name": name}).status_code == 409
    assert post(client, "/save", {"name": name, "text": "x", "version": ""}).status_code == 409
    assert {path: path.read_bytes() for path in folder.iterdir()} == before


def test_a_job_is_opened_saved_and_never_over_a_file_that_changed_meanwhile(
    client: TestClient, folder: Path
) -> None:
    (folder / "LP-2.yaml").write_text(SAMPLE)
    opened = post(client, "/open", {"name": "LP-2.yaml"}).json()
    assert opened["text"] == SAMPLE
    saved = post(
        client, "/save", {"name": "LP-2.yaml", "text": SAMPLE + "# a\n", "version": opened["version"]}
    )
    assert saved.status_code == 200
    assert (folder / "LP-2.yaml").read_text() == SAMPLE + "# a\n"
    (folder / "LP-2.yaml").write_text(SAMPLE + "# by another\n")
    late = post(client, "/save", {"name": "LP-2.yaml", "text": SAMPLE, "version": saved.json()["version"]})
    assert late.status_code == 409
    assert "changed meanwhile" in late.json()["refused"]
    assert (folder / "LP-2.yaml").read_text() == SAMPLE + "# by another\n"
    new = post(client, "/save", {"name": "LP-2.yaml", "text": SAMPLE, "version": ""})
    assert "there already" in new.json()["refused"]


def test_an_answer_that_takes_too_long_is_stopped_and_the_page_goes_on(client: TestClient) -> None:
    import asyncio
    import time

    from templates_engine.page.worker import StoppedWorker, Workers

    workers = Workers(1)

    async def both() -> int:
        with pytest.raises(StoppedWorker, match="stopped"):
            await workers.run(time.sleep, 60, within_s=0.5)
        return await workers.run(abs, -3)

    try:
        assert asyncio.run(both()) == 3
    finally:
        workers.stop()
