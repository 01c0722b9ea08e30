"""Which way a face reads on paper, against a person who walks round the enclosure and looks at it.

The person is a camera: a 4 x 4 view matrix turns points of space into right, up and depth as seen. The
face's corners are taken from ``to_space`` and looked at; nothing here uses the normals or the product the
program decides by.
"""

from __future__ import annotations

import numpy as np
import pytest
from factories import make_enclosure

from templates_engine.geometry import Point
from templates_engine.job.model import Face, MarkFrom
from templates_engine.layout.frame import to_space, u_runs_right

ENCLOSURE = make_enclosure(width=20.0, height=30.0, depth=8.0, back_gap_in=0.25)
MIDDLE = np.array([10.0, 15.0, 4.25])
EXTENT = {Face.TOP: 20.0, Face.BOTTOM: 20.0, Face.LEFT: 30.0, Face.RIGHT: 30.0}


def camera(eye: np.ndarray, target: np.ndarray, up: np.ndarray) -> np.ndarray:
    """The view matrix of someone at ``eye`` looking at ``target``, head toward ``up``: right, up, backward.

    Right is found by solving for the direction at right angles to the line of sight and to up, and its sense
    by the one fact all cameras share: the three rows make a rotation, so their determinant is +1.
    """
    backward = (eye - target) / np.linalg.norm(eye - target)
    upright = up - backward * (up @ backward)
    upright /= np.linalg.norm(upright)
    right = np.linalg.svd(np.stack([backward, upright]))[2][2]
    turn = np.stack([right, upright, backward])
    if np.linalg.det(turn) < 0:
        turn[0] *= -1
    view = np.eye(4)
    view[:3, :3] = turn
    view[:3, 3] = -turn @ eye
    return view


def seen(view: np.ndarray, place: tuple[float, float, float]) -> np.ndarray:
    """Right and up of a point as the camera sees it, in perspective."""
    right, up, backward, _ = view @ np.array([*place, 1.0])
    assert backward < 0, "the point must lie before the camera"
    on_picture: np.ndarray = np.array([right, up]) / -backward
    return on_picture


def look_at(face: Face, mark_from: MarkFrom) -> np.ndarray:
    """The camera of someone marking a face: beyond its middle or inside the enclosure, back edge upward."""
    centre = np.array(to_space(ENCLOSURE, face, Point(EXTENT[face] / 2, 4.0)))
    outward = centre - MIDDLE
    eye = centre + outward if mark_from is MarkFrom.OUTSIDE else MIDDLE
    return camera(eye, centre, np.array([0.0, 0.0, -1.0]))


def test_the_camera_itself_sees_a_person_facing_the_wall_as_the_page_does() -> None:
    view = camera(np.array([10.0, 15.0, 100.0]), MIDDLE, np.array([0.0, 1.0, 0.0]))
    assert seen(view, (20, 15, 4))[0] > seen(view, (0, 15, 4))[0]
    assert seen(view, (10, 30, 4))[1] > seen(view, (10, 0, 4))[1]


@pytest.mark.parametrize("mark_from", list(MarkFrom))
@pytest.mark.parametrize("face", list(Face))
def test_u_runs_as_the_person_marking_sees_it(face: Face, mark_from: MarkFrom) -> None:
    view = look_at(face, mark_from)
    start, end = (seen(view, to_space(ENCLOSURE, face, Point(u, 4.0))) for u in (5.0, EXTENT[face] - 5.0))
    back, front = (seen(view, to_space(ENCLOSURE, face, Point(EXTENT[face] / 2, v))) for v in (1.0, 7.0))
    assert back[1] > front[1], "the back edge must be at the top of the paper"
    assert abs(end[0] - start[0]) > 0.1
    assert u_runs_right(face, mark_from) == (end[0] > start[0])


def test_the_eight_cases_as_written_in_words() -> None:
    # From outside u runs right on top and right faces, left on bottom and left ones; from inside it flips.
    outside = {Face.TOP: True, Face.RIGHT: True, Face.BOTTOM: False, Face.LEFT: False}
    for face, right in outside.items():
        assert u_runs_right(face, MarkFrom.OUTSIDE) is right
        assert u_runs_right(face, MarkFrom.INSIDE) is not right


def test_corners_in_space() -> None:
    # 20 wide, 30 high, 8 deep, 1/4 off the wall.
    assert to_space(ENCLOSURE, Face.TOP, Point(0, 0)) == (0, 30, 0.25)
    assert to_space(ENCLOSURE, Face.TOP, Point(20, 8)) == (20, 30, 8.25)
    assert to_space(ENCLOSURE, Face.BOTTOM, Point(20, 8)) == (20, 0, 8.25)
    assert to_space(ENCLOSURE, Face.LEFT, Point(0, 0)) == (0, 30, 0.25)
    assert to_space(ENCLOSURE, Face.LEFT, Point(30, 8)) == (0, 0, 8.25)
    assert to_space(ENCLOSURE, Face.RIGHT, Point(0, 8)) == (20, 30, 8.25)
    assert to_space(ENCLOSURE, Face.RIGHT, Point(30, 0)) == (20, 0, 0.25)


def test_a_raceway_strapped_to_the_wall_meets_top_and_bottom_at_the_same_u() -> None:
    above, below = (to_space(ENCLOSURE, face, Point(6.5, 2.0)) for face in (Face.TOP, Face.BOTTOM))
    assert (above[0], above[2]) == (below[0], below[2])
    left, right = (to_space(ENCLOSURE, face, Point(6.5, 2.0)) for face in (Face.LEFT, Face.RIGHT))
    assert left[1:] == right[1:]
