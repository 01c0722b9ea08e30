"""The small map of the sheets: numbered where they lie, crossed out where one is left out, whole together."""

from __future__ import annotations

import pytest
from sheet_layouts import Drilled, face, layout

from templates_engine.drawing.shapes import DrawnRect, Line, Words
from templates_engine.drawing.sheet_map import sheet_map
from templates_engine.geometry import Rect
from templates_engine.job.model import Face, MarkFrom
from templates_engine.sheets.plan import plan

AREA = Rect(1.0, 2.0, 7.0, 3.0)
HOLES = [Drilled(2.0, 2.5, 1.0), Drilled(25.0, 2.5, 1.0)]


@pytest.mark.parametrize(
    ("which", "mark_from"),
    [(Face.TOP, MarkFrom.OUTSIDE), (Face.BOTTOM, MarkFrom.OUTSIDE), (Face.LEFT, MarkFrom.INSIDE)],
)
def test_what_is_left_out_is_crossed_and_shows_no_hole(which: Face, mark_from: MarkFrom) -> None:
    """A face 60 in long with holes at 2 and 25 in: nothing lies beyond, on whichever side that is drawn."""
    made = plan(layout([face(60, 5, HOLES, which, mark_from)], ["letter"], leave_out_empty=True)).faces[0]
    shapes = list(sheet_map(made, AREA, here=1))
    numbers = [shape.runs[0] for shape in shapes if isinstance(shape, Words)]
    assert numbers == [str(number + 1) for number in range(len(made.sheets))]
    crosses = [shape for shape in shapes if isinstance(shape, Line)]
    crossed = [Rect(*a.start, *a.end) for a in crosses[::2]]
    assert crossed
    for rising, falling, box in zip(crosses[::2], crosses[1::2], crossed, strict=True):
        assert (falling.start, falling.end) == (
            (rising.start.x, rising.end.y),
            (rising.end.x, rising.start.y),
        )
        assert any(isinstance(shape, DrawnRect) and shape.rect == pytest.approx(box) for shape in shapes)
    boxes = [shape.rect for shape in shapes if isinstance(shape, DrawnRect)]
    left, right = min(box.left for box in boxes), max(box.right for box in boxes)
    assert sum(box.width for box in boxes) == pytest.approx(
        right - left, abs=0.03
    )  # side by side, none twice
    for drilled in HOLES:
        share = drilled.u_in / 60 if made.plane.u_runs_right else 1 - drilled.u_in / 60
        at = left + share * (right - left)
        assert not any(box.left < at < box.right for box in crossed)
