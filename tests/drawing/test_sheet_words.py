"""Every edge, lip and hole that a sheet shows is told on that sheet, read back by another library."""

from __future__ import annotations

import math
import re
from itertools import product
from pathlib import Path

import pdfplumber
import pytest
from collisions import crossings, drawn_on
from factories import make_face, make_job, make_raceway, make_row
from hypothesis import HealthCheck, assume, given, settings
from random_jobs import jobs
from random_runs import SLOW_OR_CHOOSY, examples, more_when_deep

from templates_engine import pipeline
from templates_engine.drawing import draw
from templates_engine.drawing.sheet.face_words import FaceWords, face_words
from templates_engine.drawing.words.requests import Priority
from templates_engine.errors import CannotFit
from templates_engine.geometry import Point
from templates_engine.job import read_job_text
from templates_engine.job.model import Job
from templates_engine.layout import solve
from templates_engine.layout.model import Layout
from templates_engine.sheets import plan
from templates_engine.sheets.model import FacePlan, Sheet, SheetPlan
from templates_engine.units import LengthFormat
from templates_engine.values import replace
from templates_engine.writers.pdf import pdf_bytes

CROWDED = """
job: crowded
enclosure: {{mark: WW-2, kind: wireway, width: 4 ft, height: 8, depth: {depth}, back gap: {gap}}}
faces:
  - face: {face}
    mark from: {side}
    lips: {{back: 1/2, front: 1/2}}
    rows:
      - {{back line: 13/16, gap: 3/4, place: centred, raceways: [{{type: EMT, size: 1, count: 20}}]}}
      - {{back line: 4-7/8, gap: 3/4, place: centred, raceways: [{{type: EMT, size: 3/4, count: 24}}]}}
print: {{paper: letter, joints: {joints}}}
"""
NEAR_EDGE_IN = 1.3


def edges_shown(face: FacePlan, sheet: Sheet) -> dict[str, tuple[Point, Point]]:
    """By the face's own numbers: which edge lies in the sheet's window, and from where to where."""
    job, plane, window = face.layout.job, face.plane.rect, sheet.window
    ends = job.face.start_edge.upper(), job.face.end_edge.upper()
    left, right = ends if face.plane.u_runs_right else ends[::-1]
    low, high = max(plane.left, window.left), min(plane.right, window.right)
    bottom, top = max(plane.bottom, window.bottom), min(plane.top, window.top)
    found = {}
    for word, y in (("BACK", plane.top), ("FRONT", plane.bottom)):
        if window.bottom < y < window.top:
            found[word] = Point(low, y), Point(high, y)
    for word, x in ((left, plane.left), (right, plane.right)):
        if window.left < x < window.right:
            found[word] = Point(x, bottom), Point(x, top)
    return found


def assert_edges_named_in_the_pdf(layout: Layout, planned: SheetPlan, path: Path) -> None:
    document = draw(layout, planned, ())
    path.write_bytes(pdf_bytes(document))
    with pdfplumber.open(path) as pdf:
        for face in planned.faces:
            pages = [
                page
                for page, drawn in zip(pdf.pages, document.pages, strict=True)
                if drawn.bookmark.startswith(f"{face.layout.job.face.value}, sheet")
            ]
            for sheet, page in zip(face.sheets, pages, strict=True):
                characters = [one for one in page.chars if one["text"].strip()]
                for word, line in edges_shown(face, sheet).items():
                    assert _is_named(characters, sheet, word, line, float(page.height)), (sheet.number, word)


def _is_named(
    characters: list[dict[str, object]], sheet: Sheet, word: str, line: tuple[Point, Point], height: float
) -> bool:
    """Whether WORDEDGE: and what to do follow each other on the page, all beside the line."""
    text = "".join(str(one["text"]) for one in characters)
    wanted = f"{word}EDGE"
    start = text.find(wanted)
    while start >= 0:
        after = text[start + len(wanted) : start + len(wanted) + 40]
        tells = after.startswith((":", ",tothewall:")) and any(
            what in after for what in ("crease", "trim", "OUTSIDE", "cut")
        )
        places = []
        for one in characters[start : start + len(wanted)]:
            x, y = float(one["x0"]) / 72, (height - float(one["bottom"])) / 72  # type: ignore[arg-type]
            places.append(Point(x - sheet.offset.x, y - sheet.offset.y))
        if tells and all(_off(place, line) <= NEAR_EDGE_IN for place in places):
            return True
        start = text.find(wanted, start + 1)
    return False


def _off(place: Point, line: tuple[Point, Point]) -> float:
    (x1, y1), (x2, y2) = line
    return math.dist(place, (min(max(place.x, x1), x2), min(max(place.y, y1), y2)))


def assert_holes_told(face: FacePlan, words: FaceWords, lengths: LengthFormat) -> None:
    """Raceway, both tape marks, pilot and bushing, nearest to their own hole unless a line leads there."""
    told = {
        placed.request.key[1]: placed
        for one in words.sheets.values()
        for placed in one.placed
        if placed.request.need is Priority.HOLE_FIGURES
    }
    for hole in face.layout.holes:
        placed = told[hole.id]
        text = " ".join(placed.spot.lines)
        start = face.layout.job.face.start_edge
        for wanted in (
            f"{hole.id}: {hole.raceway_name}",
            f"{lengths.mark(hole.u_in)} from {start}",
            f"{lengths.mark(hole.v_in)} from back",
            f"pilot {lengths.drill(hole.pilot_diameter_in)} {lengths.unit}",
        ):
            assert wanted in text
        assert ("bonding bushing" in text) == (hole.raceway.bushing == "bonding")
        rect = placed.spot.rect
        middle = (rect.left + rect.right) / 2, (rect.bottom + rect.top) / 2
        off = {
            one.id: math.dist(middle, face.centre_of(one)) - one.hole_diameter_in / 2
            for one in face.layout.holes
        }
        assert min(off, key=lambda one: off[one]) == hole.id or placed.spot.leader is not None, hole.id


TOP, BOTTOM, TOP_INSIDE = ("top", "outside"), ("bottom", "inside"), ("top", "inside")
ALWAYS = [(BOTTOM, "butt", ("8", "1/4")), (TOP_INSIDE, "overlap", ("10", "0"))]
ALL = product([TOP, BOTTOM, TOP_INSIDE], ["overlap", "butt"], [("8", "0"), ("8", "1/4"), ("10", "0")])


@pytest.mark.hypothesis
@pytest.mark.parametrize(("taped", "joints", "can"), more_when_deep(ALWAYS, ALL))
def test_a_crowded_wireway_tells_every_edge_lip_and_hole(
    tmp_path: Path, taped: tuple[str, str], joints: str, can: tuple[str, str]
) -> None:
    (face, side), (depth, gap) = taped, can
    text = CROWDED.format(face=face, side=side, joints=joints, depth=depth, gap=gap)
    layout = pipeline.solve_job(read_job_text(text, "crowded.yaml")).layout
    planned = plan(layout)
    assert_edges_named_in_the_pdf(layout, planned, tmp_path / "crowded.pdf")
    (one,) = planned.faces
    lengths = LengthFormat("in")
    words = face_words(one, lengths, planned.view)
    assert_holes_told(one, words, lengths)
    for sheet in one.sheets:
        placed = words.sheets[sheet.number].placed
        assert all(each.is_clear for each in placed)
        lips = [each for each in placed if each.request.need is Priority.LIP]
        own = sheet.own
        assert len(lips) == sum(own.bottom <= y <= own.top for y in (0.5, one.plane.depth_in - 0.5))
        assert all(any("lip" in line for line in each.spot.lines) for each in lips)


@settings(examples(20), suppress_health_check=[*SLOW_OR_CHOOSY, HealthCheck.function_scoped_fixture])
@given(jobs())
def test_random_jobs_tell_every_edge_and_hole(tmp_path: Path, job: Job) -> None:
    try:
        layout = solve(job)
    except CannotFit:
        assume(False)
    planned = plan(layout)
    assert_edges_named_in_the_pdf(layout, planned, tmp_path / "random.pdf")
    lengths = job.lengths
    for face in planned.faces:
        words = face_words(face, lengths, planned.view)
        assert_holes_told(face, words, lengths)


def test_a_bonding_bushing_is_told_at_its_own_hole() -> None:
    plain, bonded = make_raceway("1", "A1"), replace(make_raceway("1", "A2"), bushing="bonding")
    planned = plan(solve(make_job(make_face(make_row(plain, bonded, gap=1.0), width=12.0, depth=6.0))))
    (face,) = planned.faces
    assert_holes_told(face, face_words(face, LengthFormat("in"), planned.view), LengthFormat("in"))


def test_figures_without_room_stand_in_the_table_of_holes_and_the_sheet_says_so(tmp_path: Path) -> None:
    """Four rows of nine 1/2 in EMT, 1-1/2 in apart: no words over words, none over a line, nothing lost."""
    rows = "\n".join(
        f"      - {{back line: {0.6 + 1.5 * n}, gap: 1/2, place: centred, "
        "raceways: [{type: EMT, size: 1/2, count: 9}]}"
        for n in range(4)
    )
    text = f"""
job: four rows
enclosure: {{mark: PB-4, kind: pull box, width: 24, height: 24, depth: 6.9, back gap: 0}}
faces:
  - face: top
    rows:
{rows}
print: {{paper: letter}}
"""
    solved = pipeline.solve_job(read_job_text(text, "four.yaml"))
    planned = plan(solved.layout)
    document = draw(solved.layout, planned, solved.findings)
    for page in document.pages:
        if "cover" not in page.bookmark:
            assert list(crossings(drawn_on(document, page))) == []
    (tmp_path / "four.pdf").write_bytes(pdf_bytes(document))
    with pdfplumber.open(tmp_path / "four.pdf") as pdf:
        pages = [page.extract_text() for page in pdf.pages]
    sheets = [page for page in pages if "Sheet " in page]
    covers = " ".join(pages[: len(pages) - len(sheets)])
    lacking = 0
    for sheet in sheets:
        shown = set(re.findall(r"\b([A-D][1-9])\b", sheet))
        without = {id for id in shown if f"{id}: " not in sheet}
        assert ("see the table of holes" in sheet or "in the table of holes" in sheet) == bool(without)
        lacking += len(without)
    assert lacking > 5
    for hole in solved.layout.faces[0].holes:
        assert re.search(rf"\b{hole.id}\b.*EMT", covers)
