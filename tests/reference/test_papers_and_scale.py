"""Paper sizes and scale bars of finished files against the published figures.

ISO 216:2007, series A: sides in the ratio 1 to the square root of 2, A0 of one square metre, each next size
made by halving the longer side in whole millimetres (A0 841 x 1189). ANSI/ASME Y14.1: size A 8-1/2 x 11 in,
and size B, 11 x 17 in, two of it side by side. Both from memory, and beside them the sizes another library
holds. 1 in = 25.4 mm exactly: Federal Register 24 FR 5348 (1 July 1959). 1 in = 72 units of a PDF page:
ISO 32000-1:2008, 8.3.2.3.
"""

from __future__ import annotations

import math
import re
from pathlib import Path

import pikepdf
import pytest
from pdf_reading import page_count, read_lines, read_text_lines
from reportlab.lib import pagesizes

from templates_engine import pipeline
from templates_engine.job import read_job_text
from templates_engine.trade.papers import PAPERS, Paper, read_paper

A0_MM = (841, 1189)
ANSI_A_IN = (8.5, 11.0)
MM_PER_INCH, POINTS_PER_INCH = 25.4, 72.0
SIZES_IN = {
    "letter": (8.5, 11.0),
    "legal": (8.5, 14.0),  # common practice, no source
    "tabloid": (11.0, 17.0),
    "A4": (210 / MM_PER_INCH, 297 / MM_PER_INCH),
    "A3": (297 / MM_PER_INCH, 420 / MM_PER_INCH),
}
WITHIN_PT = 0.001

JOB = """
job: papers
enclosure: {{mark: P-1, kind: cabinet, width: 20, height: 17, depth: 7}}
faces:
  - face: top
    rows: [{{back line: 2, gap: 1, place: centred, raceways: [{{type: EMT, size: 1, count: 3}}]}}]
print: {{paper: {paper}}}
"""


def halved(size: tuple[int, int], times: int) -> tuple[int, int]:
    for _ in range(times):
        size = (size[1] // 2, size[0])
    return size


@pytest.mark.parametrize(("name", "times"), [("A3", 3), ("A4", 4)])
def test_series_a_comes_from_halving_a0(name: str, times: int) -> None:
    paper = read_paper(name)
    found = (paper.short_in * MM_PER_INCH, paper.long_in * MM_PER_INCH)
    assert found == pytest.approx(halved(A0_MM, times), abs=1e-9)
    assert A0_MM[0] * A0_MM[1] == pytest.approx(1e6, rel=1e-4)
    assert found[1] / found[0] == pytest.approx(math.sqrt(2), rel=3e-3)


def test_size_a_is_letter_and_two_of_it_make_size_b() -> None:
    letter, tabloid = read_paper("letter"), read_paper("tabloid")
    assert (letter.short_in, letter.long_in) == ANSI_A_IN
    assert (tabloid.short_in, tabloid.long_in) == (ANSI_A_IN[1], 2 * ANSI_A_IN[0])


@pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.name)
def test_another_library_holds_the_same_sizes(paper: Paper) -> None:
    name = {"tabloid": "ELEVENSEVENTEEN"}.get(paper.name, paper.name)
    short_pt, long_pt = getattr(pagesizes, name if name.isupper() else name.upper())
    assert paper.short_in * POINTS_PER_INCH == pytest.approx(short_pt, abs=WITHIN_PT)
    assert paper.long_in * POINTS_PER_INCH == pytest.approx(long_pt, abs=WITHIN_PT)


@pytest.fixture(scope="module", params=PAPERS, ids=lambda paper: paper.name)
def printed(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[Paper, Path]:
    paper: Paper = request.param
    path = tmp_path_factory.mktemp("papers") / f"{paper.name}.pdf"
    pipeline.write_template(
        pipeline.solve_job(read_job_text(JOB.format(paper=paper.name), "papers.yaml")), path
    )
    return paper, path


def test_every_page_is_exactly_its_paper(printed: tuple[Paper, Path]) -> None:
    paper, path = printed
    wanted = sorted(side_in * POINTS_PER_INCH for side_in in SIZES_IN[paper.name])
    with pikepdf.open(path) as pdf:
        for page in pdf.pages:
            left, bottom, right, top = (float(value) for value in page.mediabox)
            assert (left, bottom) == (0, 0)
            assert sorted((right, top)) == pytest.approx(wanted, abs=WITHIN_PT)
            assert "/UserUnit" not in page
            assert "/Rotate" not in page or int(page.Rotate) == 0


def test_bars_are_graduated_in_inches_and_millimetres_of_72_points_an_inch(
    printed: tuple[Paper, Path],
) -> None:
    """Every half inch 36 points, every centimetre 72 / 2.54 points, over the whole bar, across and down."""
    _, path = printed
    sheets = 0
    for page in range(page_count(path)):
        texts = [line.text for line in read_text_lines(path, page)]
        said = next((text for text in texts if text.startswith("Measure here first")), None)
        if said is None:
            continue  # a cover page; its bar stands among other words
        sheets += 1
        readings = re.findall(r"(\d+) in and (\d+) mm", said)
        lines = [tuple(value * POINTS_PER_INCH for value in line) for line in read_lines(path, page)]
        for (inches, mm), upright in zip(readings, (False, True), strict=True):
            longest = max(int(inches) * 72.0, int(mm) / 25.4 * 72.0)
            base = _bar(lines, longest, upright)
            assert _graduations(lines, base, upright, +1) == pytest.approx(
                [36.0 * index for index in range(2 * int(inches) + 1)], abs=WITHIN_PT
            )
            assert _graduations(lines, base, upright, -1) == pytest.approx(
                [72.0 / 2.54 * index for index in range(int(mm) // 10 + 1)], abs=WITHIN_PT
            )
    assert sheets >= 1


def _bar(lines, longest: float, upright: bool):  # type: ignore[no-untyped-def]
    return next(
        line
        for line in lines
        if abs(line[0] - line[2] if upright else line[1] - line[3]) < WITHIN_PT
        and abs(math.dist(line[:2], line[2:]) - longest) < WITHIN_PT
    )


def _graduations(lines, base, upright: bool, side: int) -> list[float]:  # type: ignore[no-untyped-def]
    """Distances from the bar's zero, points, of the ticks on one side of its line: above or left is +1."""
    x, y = min(base[0], base[2]), min(base[1], base[3])
    found = set()
    for x1, y1, x2, y2 in lines:
        if upright:
            along, off, reach = y1 - y, abs(x1 - x), (x - x2) * side
        else:
            along, off, reach = x1 - x, abs(y1 - y), (y2 - y) * side
        is_square = abs(y1 - y2 if upright else x1 - x2) < WITHIN_PT
        if is_square and off < WITHIN_PT and reach > 3.0:
            found.add(round(along, 4))
    return sorted(found)
