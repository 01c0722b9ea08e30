"""The matrix code on every page of finished templates, read by a decoder that did not make it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import zxingcpp
from pdf_reading import page_count, raster
from taped import printed_sheets

from templates_engine import pipeline
from templates_engine.job import read_job, read_job_text
from templates_engine.resources import folder

SAMPLES = {path.stem[:2]: path for path in folder("sample_jobs").glob("*.yaml")}
OFFICE_DPI = 300

LONG_WORDS = """
job: "Ünterstraße 14, a very long name of a building with wings, annexes and a tower, phase 2"
revision: "revision twelve b 2"
enclosure: {mark: "MDP-1 north wing service entrance", kind: cabinet, width: 30, height: 17, depth: 7}
faces:
  - {face: bottom, mark from: inside,
     rows: [{back line: 1, gap: 1, place: centred, raceways: [{type: EMT, size: 2, count: 3}]}]}
print: {paper: letter, orientation: portrait, margins: {left: 1, right: 1, top: 1/4, bottom: 1/4}}
"""


def codes(path: Path, page: int, dpi: float = OFFICE_DPI) -> list[str]:
    pixels, _, _ = raster(path, page, dpi)
    return [found.text for found in zxingcpp.read_barcodes(pixels) if found.valid]


@pytest.mark.parametrize("number", ["01", "04"])
def test_every_page_of_a_sample_says_what_it_is(number: str, tmp_path: Path) -> None:
    solved = pipeline.solve_job(read_job(SAMPLES[number]))
    path = tmp_path / "template.pdf"
    pipeline.write_template(solved, path)
    (face,) = solved.layout.faces
    job, word = solved.layout.job, face.job.face.value
    sheets = printed_sheets(path, word)
    assert len(sheets) >= 2
    for sheet in sheets:
        (text,) = codes(path, sheet.page)
        lines = text.splitlines()
        assert lines[0].startswith(job.enclosure.mark)
        assert word.upper() in lines[0]
        assert face.job.mark_from.value.upper() in lines[0]
        assert lines[1:3] == [f"sheet {sheet.number} of {len(sheets)}", f"rev {job.revision}"]
        assert re.fullmatch(rf"{face.fingerprint}-[0-9A-Z]{{3}}", lines[3])
        assert any(lines[3] in word for word in sheet.words)
        assert lines[4] == job.title
    cover = codes(path, 0)
    assert cover[0].splitlines()[1] == f"cover page, {len(sheets)} sheets"
    assert face.fingerprint in cover[0]
    assert page_count(path) > len(sheets)


def test_long_and_foreign_words_are_cut_but_the_code_still_reads_when_coarse(tmp_path: Path) -> None:
    """On the narrowest strip, at half an office printer's fineness; fingerprint and sheet are never cut."""
    solved = pipeline.solve_job(read_job_text(LONG_WORDS, "long.yaml"))
    path = tmp_path / "template.pdf"
    pipeline.write_template(solved, path)
    (face,) = solved.layout.faces
    for sheet in printed_sheets(path, "bottom"):
        (text,) = codes(path, sheet.page, OFFICE_DPI / 2)
        lines = text.splitlines()
        assert lines[0].endswith("BOTTOM INSIDE")
        assert f"sheet {sheet.number} of " in lines[1]
        assert lines[3].startswith(face.fingerprint)
        assert lines[4].startswith("Ünterstraße 14")
        assert lines[4].endswith("…")


def test_a_blot_over_a_twentieth_of_the_code_does_not_stop_it_reading(tmp_path: Path) -> None:
    solved = pipeline.solve_job(read_job(SAMPLES["01"]))
    path = tmp_path / "template.pdf"
    pipeline.write_template(solved, path)
    sheet = printed_sheets(path, "top")[0]
    pixels, _, _ = raster(path, sheet.page, OFFICE_DPI)
    (found,) = zxingcpp.read_barcodes(pixels)
    corners = found.position
    side = corners.top_right.x - corners.top_left.x
    blot = int(side * 0.05**0.5)
    x, y = corners.top_left.x + side // 2, corners.top_left.y + side // 2
    pixels[y : y + blot, x : x + blot] = 0
    (spoiled,) = zxingcpp.read_barcodes(pixels)
    assert spoiled.text == found.text
