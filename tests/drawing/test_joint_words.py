"""What a sheet says and shows at its joints and in its borders: trimming, tape, notches, crease or trim."""

from __future__ import annotations

import math

import pytest
from collisions import drawn_on, said

from templates_engine import pipeline
from templates_engine.drawing.shapes import Document, DrawnPage, Line, Words
from templates_engine.drawing.style import HATCH, TAPE
from templates_engine.geometry import Point
from templates_engine.job import read_job_text
from templates_engine.sheets.model import Joint, SheetPlan

JOB = """
job: joints
enclosure: {{mark: J-1, kind: wireway, width: 29, height: 8, depth: {depth}, back gap: {gap}}}
faces:
  - face: top
    mark from: {side}
    rows:
      - back line: 1-1/2
        gap: 1-1/8
        place: {{from: left, to: centre, distance: 3}}
        raceways: [{{type: EMT, size: 1, count: 3}}]
print: {{paper: letter, joints: {joints}}}
"""


def solved(joints: str = "overlap", depth: str = "6", gap: str = "1/4", side: str = "outside"):
    text = JOB.format(joints=joints, depth=depth, gap=gap, side=side)
    return pipeline.solve_job(read_job_text(text, "joints.yaml"))


def made(*args, **named):
    one = solved(*args, **named)
    return pipeline.plan_job(one), pipeline.draw_job(one)


def sheet_pages(document: Document) -> list[DrawnPage]:
    return [page for page in document.pages if "sheet" in page.bookmark]


def all_words(document: Document) -> str:
    return " / ".join(
        said(shape.runs) for page in document.pages for shape in page.shapes if isinstance(shape, Words)
    )


def words_at(plan: SheetPlan, page: DrawnPage, number: int, joint: Joint) -> list[tuple[str, float]]:
    """The words that run along an upright joint, and how far right of its line their base line stands."""
    sheet = plan.faces[0].sheets[number - 1]
    x = sheet.on_page(joint.start).x
    return [
        (said(shape.runs), shape.at.x - x)
        for shape in page.shapes
        if isinstance(shape, Words)
        and shape.layer == "joint"
        and shape.angle == 90
        and abs(shape.at.x - x) < 0.3
        and said(shape.runs) != "tape"
    ]


@pytest.mark.parametrize("joints", ["overlap", "butt"])
def test_words_at_a_joint_say_which_side_is_trimmed_off(joints):
    """The side that stays is the sheet's own, toward its middle; what is trimmed off lies past the line."""
    plan, document = made(joints)
    pages = sheet_pages(document)
    (face,) = plan.faces
    told = 0
    for joint in face.joints:
        assert joint.is_upright
        assert joint.is_butt == (joints == "butt")
        for number in (joint.first, joint.second):
            waste = 1 if number == joint.first else -1
            for text, right in words_at(plan, pages[number - 1], number, joint):
                told += 1
                middle = right - 0.05
                if "this side stays" in text or "from the line on" in text:
                    assert middle * waste < 0, text
                elif "this side" in text:
                    assert middle * waste > 0, text
                other = joint.first if number == joint.second else joint.second
                assert f"sheet {other}" in text
                if joints == "butt":
                    assert f"butt to sheet {other}" in text
                    assert "trim" in text
                else:
                    assert ("trim" in text) == (number == joint.second)
    assert told == 2 * len(face.joints)


def test_the_cover_page_says_how_its_own_joints_go_together():
    overlapped, butted = all_words(made("overlap")[1]), all_words(made("butt")[1])
    assert "edge to edge" in butted
    assert "edge to edge" not in overlapped
    assert "lay the sheet over" in overlapped
    assert "lay the sheet over" not in butted


def test_both_halves_of_a_piece_of_tape_meet_on_the_joint_clear_of_holes():
    plan, document = made()
    (face,) = plan.faces
    pages = sheet_pages(document)
    ends: dict[tuple[int, int], list[set[tuple[float, float]]]] = {}
    for joint in face.joints:
        for number in (joint.first, joint.second):
            sheet = face.sheets[number - 1]
            x = sheet.on_page(joint.start).x
            found = set()
            for shape in pages[number - 1].shapes:
                if getattr(shape, "pen", None) != TAPE or not hasattr(shape, "start"):
                    continue
                for end in (shape.start, shape.end):
                    place = Point(end.x - sheet.offset.x, end.y - sheet.offset.y)
                    for hole in face.layout.holes:
                        assert math.dist(place, face.centre_of(hole)) > hole.hole_diameter_in / 2
                    if abs(end.x - x) < 1e-9:
                        found.add((round(place.x, 6), round(place.y, 6)))
            ends.setdefault((joint.first, joint.second), []).append(found)
    for first, second in ends.values():
        assert first == second
        assert len(first) >= 2


KEEP_OUT = """    keep out:
      - {name: coupling, along: {from: AT, to: AT + 1}, clear: 0}
    rows:"""


def test_a_joint_beside_a_keep_out_has_its_piece_of_tape_and_the_word_stands_in_it():
    """A keep-out's line a quarter of an inch from the joint: the piece is narrow and its word upright."""
    plan = pipeline.plan_job(solved())
    x_in = plan.faces[0].joints[0].start.x
    start_in = round(x_in + 0.24, 4)
    keep_out = KEEP_OUT.replace("AT + 1", str(start_in + 1)).replace("AT", str(start_in))
    text = JOB.format(joints="overlap", depth="6", gap="1/4", side="outside").replace("    rows:", keep_out)
    one = pipeline.solve_job(read_job_text(text, "joints.yaml"))
    plan, document = pipeline.plan_job(one), pipeline.draw_job(one)
    assert plan.faces[0].joints[0].start.x == x_in
    for page, sheet in zip(sheet_pages(document)[:2], plan.faces[0].sheets, strict=False):
        line_x = sheet.on_page(plan.faces[0].joints[0].start).x
        frame = [
            end
            for shape in page.shapes
            if getattr(shape, "pen", None) == TAPE and hasattr(shape, "start")
            for end in (shape.start, shape.end)
            if abs(end.x - line_x) < 0.5
        ]
        left, right = min(end.x for end in frame), max(end.x for end in frame)
        low, high = min(end.y for end in frame), max(end.y for end in frame)
        assert right - left == pytest.approx(0.18)
        words = [
            shape
            for shape in page.shapes
            if isinstance(shape, Words) and said(shape.runs) == "tape" and abs(shape.at.x - line_x) < 0.5
        ]
        assert words
        for word in words:
            assert word.angle == 90.0
            assert left < word.at.x < right
            assert low < word.at.y < high


def hatching(page: DrawnPage) -> list[Line]:
    return [shape for shape in page.shapes if isinstance(shape, Line) and shape.pen == HATCH]


def test_corners_that_fold_are_hatched_outside_the_face_and_never_inside_work():
    plan, document = made()
    (face,) = plan.faces
    pages = sheet_pages(document)
    for sheet, page in zip(face.sheets, pages, strict=True):
        assert bool(hatching(page)) == (sheet.number in (1, len(pages)))
        for line in hatching(page):
            middle = sheet.offset
            x = (line.start.x + line.end.x) / 2 - middle.x
            y = (line.start.y + line.end.y) / 2 - middle.y
            assert not 1e-6 < x < face.plane.width_in - 1e-6
            assert not 1e-6 < y < face.plane.depth_in - 1e-6
    assert not any(map(hatching, sheet_pages(made(side="inside")[1])))


def test_a_drawing_for_a_cutter_has_no_paper_to_cut_out():
    for _, picture in pipeline.face_pictures(solved()):
        assert not any(getattr(shape, "pen", None) in (HATCH, TAPE) for shape in picture.shapes)


@pytest.mark.parametrize(
    ("gap", "word"), [("0", "trim on the line, no room behind"), ("1/4", "crease or trim")]
)
def test_the_back_edge_is_creased_only_where_there_is_room_behind(gap, word):
    words = all_words(made(gap=gap)[1])
    assert f"BACK EDGE, to the wall: {word}" in words
    assert "FRONT EDGE: crease or trim" in words


def test_nothing_at_a_joint_or_border_runs_off_its_sheet():
    _, document = made("butt")
    for page in sheet_pages(document):
        assert not drawn_on(document, page).cut_words
