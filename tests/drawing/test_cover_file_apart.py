"""Sheets on a roll: their cover pages are a file of their own, on office paper, and measure nothing."""

from __future__ import annotations

from pathlib import Path

import pytest
from collisions import crossings, drawn_on, outside, said
from pdf_reading import page_count, page_size_in, read_text_lines

from templates_engine import pipeline
from templates_engine.drawing import draw_cover
from templates_engine.drawing.shapes import Words
from templates_engine.job import read_job_text
from templates_engine.sheets.model import PageFormat
from templates_engine.units import to_mm
from templates_engine.verify.printers import Printer

JOB = """
job: roll
units: {units}
enclosure: {{mark: WW-9, kind: wireway, width: {wide} in, height: 8 in, depth: 6 in, back gap: 1/4 in}}
faces:
  - face: top
    rows:
      - {{strut: 13/16 in, gap: 1-1/8 in, place: {{from: left, to: centre, distance: 4 in}},
         raceways: [{{type: EMT, size: 1, count: 9}}, {{type: EMT, size: 2, circuits: [1, 3, 5],
                     wire: {{size: 12, insulation: THHN}}}}]}}
print: {{paper: {paper}}}
"""


def solved(units: str = "in", paper: str = "24 in roll", wide: int = 96) -> pipeline.Solved:
    return pipeline.solve_job(read_job_text(JOB.format(units=units, paper=paper, wide=wide), "roll.yaml"))


def words_of(path: Path) -> str:
    return " / ".join(line.text for page in range(page_count(path)) for line in read_text_lines(path, page))


# Letter is 215.9 x 279.4 mm (ANSI/ASME Y14.1 A); A4 is 210 x 297 mm (ISO 216).
@pytest.mark.parametrize(("units", "size_mm"), [("in", (215.9, 279.4)), ("mm", (210.0, 297.0))])
def test_cover_pages_for_a_roll_are_on_office_paper(tmp_path, units, size_mm):
    cover, sheets = pipeline.write_template(solved(units), tmp_path / "out.pdf")
    assert (cover.path.name, sheets.path.name) == ("out-cover.pdf", "out.pdf")
    for page in range(page_count(cover.path)):
        assert [to_mm(side) for side in page_size_in(cover.path, page)] == pytest.approx(size_mm, abs=0.05)
    assert page_count(sheets.path) == 1
    assert 24.0 in [pytest.approx(side) for side in page_size_in(sheets.path, 0)]
    told = words_of(cover.path)
    assert "The sheets are in another file" in told
    assert "Cautions" in told
    assert "Circuits" in told or "circuits" in told
    assert "bank or ID card" not in told
    assert "Sheet 1 of 1" in words_of(sheets.path)
    assert "Cautions" not in words_of(sheets.path)


def test_cover_pages_on_any_other_paper_lead_the_sheets(tmp_path):
    (only,) = pipeline.write_template(solved(paper="letter"), tmp_path / "out.pdf")
    told = words_of(only.path)
    assert "Cautions" in told
    assert "Sheet 1 of" in told
    assert "bank or ID card" in told
    assert sorted(one.name for one in tmp_path.iterdir()) == ["out.pdf"]


def test_a_printer_s_correction_is_for_the_sheets_alone(tmp_path):
    printer = Printer("plotter", -0.7, 0.4, "24 in roll")
    cover, sheets = pipeline.write_template(solved(), tmp_path / "out.pdf", printer=printer)
    assert page_size_in(cover.path, 0) == pytest.approx((8.5, 11.0))
    assert "The sheets are corrected for plotter" in words_of(cover.path)
    (plain,) = pipeline.write_template(solved(), tmp_path / "plain.pdf")[1:]
    for page in (0,):
        wide, plain_wide = page_size_in(sheets.path, page)[0], page_size_in(plain.path, page)[0]
        assert wide / plain_wide == pytest.approx(1 / 1.004, abs=0.125 / 90)


def test_no_words_of_the_cover_pages_cross_anything():
    one = solved()
    plan = pipeline.plan_job(one)
    document = draw_cover(one.layout, plan, one.findings, one.contents)
    assert document is not None
    assert isinstance(plan.cover_apart, PageFormat)
    for page in document.pages:
        found = drawn_on(document, page)
        assert list(crossings(found)) == [], page.bookmark
        assert list(outside(found, plan.cover_apart.printable)) == [], page.bookmark


def test_a_narrow_hole_table_names_every_raceway_in_full():
    one = solved()
    document = draw_cover(one.layout, pipeline.plan_job(one), one.findings)
    assert document is not None
    words = [said(shape.runs) for shape in document.pages[0].shapes if isinstance(shape, Words)]
    assert words.count("1 in EMT") == 9
    assert any(word.startswith("Hole cut, and its limits: 1.375 (1.359 to 1.406)") for word in words)
