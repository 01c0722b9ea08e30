"""The boxes of a matrix code cover its dark modules and nothing else, and its words keep within what fits."""

from __future__ import annotations

import pytest
import segno
from factories import make_face, make_job, make_row

from templates_engine.drawing.qr_code import (
    MOST_BYTES,
    QUIET_MODULES,
    code_shapes,
    code_text,
    sheet_code,
)
from templates_engine.drawing.shapes import DrawnRect
from templates_engine.geometry import Point, Rect
from templates_engine.layout import solve
from templates_engine.sheets import plan

AREA = Rect(1.0, 2.0, 1.9, 2.9)


@pytest.mark.parametrize("text", ["one", "a" * 60, "A1 ø … 港" * 5])
def test_boxes_are_the_dark_modules_exactly(text: str) -> None:
    matrix = [[bool(module) for module in row] for row in segno.make(text, error="m", micro=False).matrix]
    boxes = [shape for shape in code_shapes(matrix, AREA) if isinstance(shape, DrawnRect)]
    module = AREA.width / (len(matrix) + 2 * QUIET_MODULES)
    for row, line in enumerate(matrix):
        for column, is_dark in enumerate(line):
            middle = Point(
                AREA.left + (QUIET_MODULES + column + 0.5) * module,
                AREA.top - (QUIET_MODULES + row + 0.5) * module,
            )
            assert sum(box.rect.holds(middle) for box in boxes) == is_dark
    assert all(box.fill == 0.0 and box.pen is None for box in boxes)
    assert sum(box.rect.width * box.rect.height for box in boxes) == pytest.approx(
        sum(map(sum, matrix)) * module**2
    )


def test_the_quiet_zone_stays_white() -> None:
    face = make_face(make_row("2", "1"))
    job = make_job(face)
    (planned,) = plan(solve(job)).faces
    for number in (None, *range(1, len(planned.sheets) + 1)):
        boxes = [
            shape.rect for shape in sheet_code(job, planned, number, AREA) if isinstance(shape, DrawnRect)
        ]
        modules = 45 if len(code_text(job, planned, number)) > 62 else 41
        quiet = QUIET_MODULES * AREA.width / (modules + QUIET_MODULES * 2)
        assert min(box.left for box in boxes) >= AREA.left + quiet - 1e-9
        assert max(box.top for box in boxes) <= AREA.top - quiet + 1e-9


@pytest.mark.parametrize("title", ["", "x" * 500, "港" * 200, "ø" * 77])
def test_the_words_never_outgrow_the_code(title: str) -> None:
    from templates_engine.values import replace

    face = make_face(make_row("2", "1"))
    job = replace(make_job(face), title=title, revision=title)
    (planned,) = plan(solve(job)).faces
    text = code_text(job, planned, 1)
    assert len(text.encode()) <= MOST_BYTES
    assert planned.fingerprint in text.splitlines()
    assert segno.make(text, error="m", micro=False, encoding="utf-8").version <= 6
