"""No words on any page cross anything, every hole is named, and all of it lies on the printable paper.

Sample jobs and random rows of up to 60 raceways, on the Document, whatever the paper and the side marked.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from collisions import Drawn, crossings, drawn_on, outside, said
from eight_cases import EIGHT
from factories import make_face, make_job, make_row
from hypothesis import assume, given
from random_jobs import jobs
from random_runs import examples

from templates_engine import pipeline
from templates_engine.drawing import draw
from templates_engine.drawing.shapes import Document
from templates_engine.drawing.sheet.face_words import face_words
from templates_engine.drawing.words.requests import Priority
from templates_engine.errors import CannotFit
from templates_engine.geometry import Rect, gap_circle_rect
from templates_engine.job import read_job, read_job_text
from templates_engine.job.model import Job
from templates_engine.layout import solve
from templates_engine.layout.model import Layout
from templates_engine.resources import folder
from templates_engine.sheets import plan
from templates_engine.sheets.model import SheetPlan
from templates_engine.units import LengthFormat

SAMPLES = sorted(folder("sample_jobs").glob("*.yaml"))
ID_PT, LEAST_PT = 14.0, 9.0
SEAM = "    keep out: [{{name: seam, along: {{from: 11-1/2, to: 12}}}}]\n"


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_no_words_of_a_sample_cross_anything(sample: Path) -> None:
    try:
        solved = pipeline.solve_job(read_job(sample))
    except CannotFit:
        pytest.skip("this sample shows a row that cannot fit; it is not drawn")
    if solved.fails:
        pytest.skip("this sample shows a failing layout; it is drawn only as a draft")
    assert_readable(pipeline.draw_job(solved), solved.layout, pipeline.plan_job(solved))


@examples(25)
@given(jobs())
def test_no_words_of_random_rows_cross_anything(job: Job) -> None:
    try:
        layout = solve(job)
    except CannotFit:
        assume(False)
    planned = plan(layout)
    assert_readable(draw(layout, planned, ()), layout, planned)


@pytest.mark.parametrize("joints", ["overlap", "butt"])
@pytest.mark.parametrize("metal", ["", ", sheet metal: 14 ga"])
@pytest.mark.parametrize("side", ["outside", "inside"])
@pytest.mark.parametrize("face", ["top", "bottom", "left", "right"])
def test_no_words_of_any_face_and_side_cross_anything(face: str, side: str, metal: str, joints: str) -> None:
    start = "top" if face in ("left", "right") else "left"
    text = EIGHT.replace("    rows:", f"{SEAM}    rows:").format(face=face, side=side, start=start)
    text = text.replace("back gap: 1/4", f"back gap: 1/4{metal}").replace(
        "letter", f"letter, joints: {joints}"
    )
    solved = pipeline.solve_job(read_job_text(text, "eight.yaml"))
    assert_readable(pipeline.draw_job(solved), solved.layout, pipeline.plan_job(solved))


def test_sixty_half_inch_raceways_close_together_are_all_named() -> None:
    row = make_row(*["1/2"] * 60, gap=0.25)
    layout = solve(make_job(make_face(row, width=60.0, depth=3.0)))
    planned = plan(layout)
    assert_readable(draw(layout, planned, ()), layout, planned)


def assert_readable(document: Document, layout: Layout, planned: SheetPlan) -> None:
    margins = planned.margins
    printable = Rect(
        margins.left_in,
        margins.bottom_in,
        document.page_width_in - margins.right_in,
        document.page_height_in - margins.top_in,
    )
    pages = [(page, drawn_on(document, page)) for page in document.pages]
    for page, found in pages:
        assert list(crossings(found)) == [], page.bookmark
        assert list(outside(found, printable)) == [], page.bookmark
        assert [said(words.runs) for words in found.cut_words] == [], page.bookmark
        assert all(words.size_pt >= LEAST_PT for words, _ in found.words)
    for face in layout.faces:
        word = face.job.face.value
        sheets = [found for page, found in pages if re.match(rf"{word}, sheet", page.bookmark)]
        for hole in face.holes:
            assert any(_names(found, hole.id) for found in sheets), f"{word} {hole.id} has no name"


def _names(found: Drawn, hole_id: str) -> bool:
    return any(said(words.runs) == hole_id and words.size_pt >= ID_PT for words, _ in found.words)


# --- the checker itself -------------------------------------------------------------------------------------


def test_the_checker_sees_each_kind_of_crossing() -> None:
    from templates_engine.drawing.shapes import DrawnCircle, DrawnPage, Line, Pen, Words
    from templates_engine.geometry import Point

    words = Words(Point(2, 2), ("A12",), 14.0, bold=True)
    empty = Document("", "", 8.5, 11, (), ())

    def crossed(*more: object) -> int:
        page = DrawnPage((words, *more), (), "x")  # type: ignore[arg-type]
        return len(list(crossings(drawn_on(empty, page))))

    pen = Pen(0.01)
    assert crossed() == 0
    assert crossed(Line(Point(2.1, 1), Point(2.1, 3), pen, "centre")) == 1
    assert crossed(Line(Point(1.9, 1), Point(1.9, 3), pen, "centre")) == 0
    assert crossed(Line(Point(1.9, 1.9), Point(2.6, 2.2), pen, "centre")) == 1
    assert crossed(DrawnCircle(Point(3, 2.05), 1.6, pen, "cut")) == 1
    assert crossed(DrawnCircle(Point(2.1, 2.05), 3.0, pen, "cut")) == 0
    assert crossed(words._replace(at=Point(2.3, 2.1))) == 1
    assert crossed(words._replace(at=Point(2.0, 2.2))) == 0
    assert crossed(words._replace(at=Point(2.2, 1.8), angle=90.0)) == 1


def test_no_name_of_a_mark_stands_in_a_knockout() -> None:
    """It could be taken for the hole's own."""
    sample = next(path for path in folder("sample_jobs").glob("03_*.yaml"))
    solved = pipeline.solve_job(read_job(sample))
    (face,) = pipeline.plan_job(solved).faces
    words = face_words(face, LengthFormat("in"), pipeline.plan_job(solved).view)
    names = [
        placed.spot.rect
        for one in words.sheets.values()
        for placed in one.placed
        if placed.request.need is Priority.MARK
    ]
    assert names
    for place in names:
        for hole in face.layout.holes:
            assert gap_circle_rect(face.circle_of(hole), place) > 0
