"""The page driven in a real browser, without a network but for loopback: type, see, drag, cure, download."""

from __future__ import annotations

import csv
import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

sync_api = pytest.importorskip("playwright.sync_api")
CHROMIUM = shutil.which("chromium")
pytestmark = [pytest.mark.browser, pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")]

SAMPLES = sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.yaml"))
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("jobs")
    for sample in SAMPLES:
        shutil.copy(sample, place)
    return place


@pytest.fixture(scope="module")
def address(folder: Path) -> Iterator[str]:
    """The page's address, served by the command itself."""
    command = [sys.executable, "-m", "templates_engine", "page", str(folder), "--no-browser"]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=folder, env=os.environ)
    assert process.stdout is not None
    found = re.search(r"http://\S+", process.stdout.readline())
    assert found is not None
    yield found.group()
    process.terminate()
    process.communicate(timeout=20)


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with sync_api.sync_playwright() as playwright:
        made = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield made
        made.close()


@pytest.fixture
def page(browser: Any, address: str) -> Iterator[Any]:
    """A new tab that may ask loopback alone, and in which no script fails."""
    context = browser.new_context(viewport={"width": 1400, "height": 1000})
    tab = context.new_page()
    troubles: list[str] = []
    tab.on("pageerror", lambda error: troubles.append(str(error)))
    context.route(
        "**/*", lambda route: route.continue_() if route.request.url.startswith(address) else route.abort()
    )
    own = (address, "blob:", "data:")
    context.on("request", lambda one: None if one.url.startswith(own) else troubles.append(one.url))
    tab.goto(address)
    wait_for(tab, ".hole")
    yield tab
    context.close()
    assert troubles == []


def wait_for(tab: Any, what: str) -> None:
    tab.wait_for_selector(what, timeout=60_000)


def after(tab: Any, does: Callable[[], object]) -> None:
    """Does something, and waits until the page has drawn what came of it and nothing more is on its way."""
    count = "Number(document.body.dataset.drawn || 0)"
    before = tab.evaluate(count)
    does()
    end = time.monotonic() + 60
    while tab.evaluate(count) <= before:
        assert time.monotonic() < end, "the page did not draw"
        tab.wait_for_timeout(20)
    tab.wait_for_selector("main[aria-busy=false]")


def start_from(tab: Any, name: str) -> None:
    after(tab, lambda: tab.select_option("#samples", name))


def text(tab: Any) -> str:
    return str(tab.input_value("#text"))


def centres(path: Path) -> dict[str, tuple[float, float]]:
    """Each hole's u and v by the command's own export of a job file."""
    command = [sys.executable, "-m", "templates_engine", "holes", str(path), "--as", "csv"]
    done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=path.parent)
    rows = list(csv.DictReader(done.stdout.splitlines()))
    return {f"{row['face']} {row['hole']}": (float(row["u_in"]), float(row["v_in"])) for row in rows}


def pdf_of(tab: Any) -> bytes:
    """The bytes of the PDF that the page made."""
    tab.click("#pdf")
    wait_for(tab, "#made a")
    tab.evaluate("for (const link of document.querySelectorAll('#made a')) link.removeAttribute('target')")
    with tab.expect_download() as download:
        tab.locator("#made a").last.click()
    return Path(download.value.path()).read_bytes()


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_each_sample_is_drawn_and_its_pdf_is_the_commands(page: Any, sample: Path, tmp_path: Path) -> None:
    start_from(page, sample.stem.split("_", 1)[1].replace("_", " "))
    assert text(page) == sample.read_text()
    page.fill("#name", sample.name)
    if "Expected exit code: 1" in sample.read_text():
        page.check("#draft")
    job = tmp_path / sample.name
    job.write_text(text(page))
    draw(job, "--draft")
    assert pdf_of(page) == (tmp_path / "x.pdf").read_bytes()


def draw(job: Path, *more: str) -> int:
    """The exit code of the command that draws a job as x.pdf beside it."""
    command = [
        sys.executable,
        "-m",
        "templates_engine",
        "draw",
        str(job),
        "-o",
        str(job.parent / "x.pdf"),
        *more,
    ]
    return subprocess.run(command, capture_output=True, check=False, cwd=job.parent).returncode


def test_from_an_empty_job_to_a_downloaded_pdf(page: Any, tmp_path: Path) -> None:
    """By the form alone: a 24 in wide box, its right side, four raceways of two sizes, one of them pinned."""
    start_from(page, "/")
    for field, value in (
        ("#f-job", "Mill"),
        ("#f-enclosure-width", "24"),
        ("#f-enclosure-height", "30"),
        ("#f-enclosure-depth", "8"),
        ("#f-enclosure-back_gap", "1/4"),
        ("#f-faces-0-rows-0-raceways-0-count", ""),
        ("#f-faces-0-rows-0-raceways-0-size", "2"),
    ):
        after(page, lambda field=field, value=value: page.fill(field, value))
    after(page, lambda: page.select_option("#f-faces-0-face", "right"))
    for _ in range(2):
        after(page, lambda: page.get_by_role("button", name="Add a raceway to row A").click())
    after(page, lambda: page.fill("#f-faces-0-rows-0-raceways-2-size", "1-1/4"))
    after(page, lambda: page.fill("#f-faces-0-rows-0-raceways-2-at", "20-1/2"))
    assert page.inner_text("#problems").strip() == ""
    assert page.locator(".hole").count() == 3
    job = tmp_path / "job.yaml"
    job.write_text(text(page))
    found = centres(job)
    assert found["right A3"][0] == 20.5
    assert draw(job) == 0
    assert pdf_of(page) == (tmp_path / "x.pdf").read_bytes()


def test_text_and_form_follow_each_other_and_comments_stay(page: Any) -> None:
    start_from(page, "panelboard top")
    after(page, lambda: page.fill("#f-enclosure-width", "22"))
    assert "width: 22\n" in text(page)
    assert text(page).startswith("# A lighting panelboard")
    after(page, lambda: page.fill("#text", text(page).replace("width: 22", "width: 23   # wider")))
    assert page.input_value("#f-enclosure-width") == "23"
    after(page, lambda: page.fill("#f-enclosure-width", "24"))
    assert "width: 24   # wider\n" in text(page)


def test_a_dragged_hole_is_pinned_on_the_tape(page: Any) -> None:
    start_from(page, "panelboard top")
    box = page.locator("#hole-A3 .knockout").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

    def drag() -> None:
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x + 20, y, steps=8)
        page.mouse.up()

    after(page, drag)
    found = re.search(r"size: 1-1/4, at: ([0-9-]+(?:/[0-9]+)?) in", text(page))
    assert found is not None
    after(page, lambda: page.click("#undo"))
    assert " at: " not in text(page)


def test_bad_input_keeps_the_last_good_drawing_greyed(page: Any) -> None:
    start_from(page, "panelboard top")
    after(page, lambda: page.fill("#f-enclosure-depth", "5-3/"))
    assert page.locator("#drawing.stale .hole").count() == 7
    assert "has a '/'" in page.inner_text("#f-enclosure-depth-p")
    line = text(page).split("\n").index("  depth: 5-3/") + 1
    assert page.locator("#line-marks .bad").inner_text() == str(line)
    after(page, lambda: page.fill("#f-enclosure-depth", "5-3/4"))
    assert page.locator("#drawing.stale").count() == 0


def test_a_remedy_is_taken_with_one_press_and_undone_with_one(page: Any) -> None:
    start_from(page, "panelboard top")
    after(page, lambda: page.fill("#f-enclosure-depth", "3"))
    before = text(page)
    assert "A check fails" in page.inner_text("#faces")
    wait_for(page, ".remedy")
    after(page, page.locator(".remedy").first.click)
    assert "No check fails" in page.inner_text("#faces")
    after(page, lambda: page.click("#undo"))
    assert text(page) == before


def test_nothing_typed_is_lost_by_a_reload(page: Any) -> None:
    start_from(page, "panelboard top")
    after(page, lambda: page.fill("#f-job", "Kept by the browser"))
    page.reload()
    wait_for(page, "#hole-A7")
    assert "job: Kept by the browser\n" in text(page)


def test_a_job_of_the_folder_is_opened_and_saved(page: Any, folder: Path) -> None:
    after(page, lambda: page.select_option("#jobs", "08_too_shallow.yaml"))
    after(page, lambda: page.fill("#f-revision", "Z"))
    page.click("#save")
    page.wait_for_timeout(500)
    assert "Saved" in page.inner_text("#status")
    assert "revision: Z\n" in (folder / "08_too_shallow.yaml").read_text()


def test_by_keyboard_alone(page: Any) -> None:
    """Tab reaches a hole, the arrows move it one mark of the tape."""
    start_from(page, "panelboard top")
    page.focus("#hole-A4")
    after(page, lambda: page.keyboard.press("ArrowRight"))
    assert "size: 1, at: 10-15/16 in" in text(page)
    assert page.evaluate("document.activeElement.id") == "hole-A4"


@pytest.mark.parametrize(
    ("width", "scheme"), [(390, "light"), (390, "dark"), (1400, "light"), (1400, "dark")]
)
def test_no_serious_fault_for_those_who_cannot_see_or_point_well(
    browser: Any, address: str, width: int, scheme: str
) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright")
    size = {"width": width, "height": 900}
    context = browser.new_context(viewport=size, color_scheme=scheme, bypass_csp=True)
    tab = context.new_page()
    tab.goto(address)
    wait_for(tab, ".hole")
    found = axe.Axe().run(tab).response["violations"]
    context.close()
    grave = [
        (one["id"], one["nodes"][0]["html"][:200])
        for one in found
        if one["impact"] in ("serious", "critical")
    ]
    assert grave == []


def test_a_narrow_window_scrolls_one_way_only(browser: Any, address: str) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 800})
    tab = context.new_page()
    tab.goto(address)
    wait_for(tab, ".hole")
    assert tab.evaluate("document.documentElement.scrollWidth") <= 390
    context.close()


def test_readings_of_taped_sheets_say_which_to_move_and_show_it(page: Any) -> None:
    start_from(page, "panelboard top")
    wait_for(page, "[data-reading='A1-A7']")
    assert "2 sheets" in page.inner_text("#cost")
    read = {"left-A1": "2-1/2", "front-A1": "3-9/32", "front-A4": "3-25/32", "front-A7": "3-29/32"}
    for name, value in read.items():
        page.fill(f"[data-reading='{name}']", value)
    page.fill("[data-reading='A1-A7']", "15-1/16")
    wait_for(page, "[data-reading='bar across sheet 2']")
    assert "cannot tell" in page.inner_text("#taped")
    page.fill("[data-reading='A2-A4']", "5-3/8")
    page.fill("[data-reading='bar across sheet 2']", "10")
    wait_for(page, "#drawing .sheets .to-move")
    said = page.inner_text("#taped")
    assert "sheet 2 sits 1/8 in too far toward RIGHT" in said
    assert "move sheet 2 toward LEFT by 1/8 in" in said
    assert "templates-engine" not in said
    moved = page.locator("#drawing .sheets .to-move")
    assert moved.count() == 1
    assert moved.locator("text").text_content() == "sheet 2"
    assert "rotate(180)" in moved.locator("path").get_attribute("transform")
    page.reload()
    wait_for(page, "#drawing .sheets .to-move")
    assert page.input_value("[data-reading='A2-A4']") == "5-3/8"
    page.click("#no-readings")
    page.wait_for_selector("#drawing .sheets", state="detached", timeout=60_000)


def test_a_printer_is_measured_kept_and_named_under_paper(page: Any) -> None:
    page.click("#printers-part summary")
    page.click("#printer-sheet")
    wait_for(page, "#printer-made a")
    for name, value in (
        ("name", "shop laser"),
        ("across", "6-61/64"),
        ("down", "-0.20 %"),
        ("margins", "1/4; 1/4; 3/8; 1/2"),
    ):
        page.fill(f"#p-{name}", value)
    page.click("text=Keep the printer")
    wait_for(page, "#printers li")
    said = "shop laser prints 0.67 % too short across and 0.20 % too short down"
    assert said in page.inner_text("#printers")
    page.click("text=Keep the printer")
    page.wait_for_selector("#printer-said :text('measured anew')", timeout=60_000)
    start_from(page, "panelboard top")
    after(page, lambda: page.fill("#f-print-printer", "shop laser"))
    assert page.locator("#printer-names option").all_inner_texts() == ["shop laser"]
    assert "printer: shop laser\n" in text(page) or "printer: shop laser}" in text(page)


def test_a_printer_is_forgotten_once_that_is_meant(page: Any) -> None:
    answers = [False, True]
    page.on("dialog", lambda dialog: dialog.accept() if answers.pop(0) else dialog.dismiss())
    page.click("#printers-part summary")
    for name, value in (("name", "attic inkjet"), ("across", "-0.3 %"), ("down", "0 %"), ("margins", "5")):
        page.fill(f"#p-{name}", value)
    page.click("text=Keep the printer")
    page.wait_for_selector("#printer-said p", timeout=60_000)
    assert "attic inkjet" not in page.inner_text("#printers")
    page.fill("#p-margins", "1/4; 1/4; 3/8; 1/2")
    page.click("text=Keep the printer")
    wait_for(page, "#printers li")
    page.click("[data-printer='attic inkjet']")
    assert "attic inkjet" in page.inner_text("#printers")
    page.click("[data-printer='attic inkjet']")
    page.wait_for_selector("#printer-said :text('is removed')", timeout=60_000)
    assert "attic inkjet" not in page.inner_text("#printers")
    assert "attic inkjet" not in page.locator("#printer-names option").all_inner_texts()


def test_what_moved_holes_unasked_stands_at_the_verdict(page: Any) -> None:
    start_from(page, "panelboard top")
    assert "no `cutter` is named" in page.inner_text("#faces .note b")
