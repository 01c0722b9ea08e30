"""Turns a face's lips, keep-outs and inside corner into lines and rectangles of the sheet plane."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.geometry import Point, Rect
from templates_engine.job.model import KeepOut, MarkFrom
from templates_engine.sheets.model import FacePlan, Plane


def keep_out_rect(plane: Plane, keep_out: KeepOut) -> Rect:
    """The square or rectangle of a keep-out."""
    low, high = Point(keep_out.u_low_in, keep_out.v_low_in), Point(keep_out.u_high_in, keep_out.v_high_in)
    return line_rect(plane.from_face(low), plane.from_face(high))


def inside_corner(plan: FacePlan) -> Rect | None:
    """From inside, the corner the sheet is pushed into; None from outside, or where no metal is given."""
    return None if plan.layout.job.mark_from is MarkFrom.OUTSIDE else plan.rule_edges


def edge_strips(plan: FacePlan, wide_in: float) -> tuple[Rect, Rect, Rect]:
    """Along the back edge and both ends, where rulers stand."""
    face = plan.plane.rect
    return (
        Rect(face.left, face.top - wide_in, face.right, face.top),
        Rect(face.left, face.bottom, face.left + wide_in, face.top),
        Rect(face.right - wide_in, face.bottom, face.right, face.top),
    )


def line_rect(start: Point, end: Point) -> Rect:
    """A level or upright line as a rectangle without thickness; of two corners, the rectangle between."""
    return Rect(min(start.x, end.x), min(start.y, end.y), max(start.x, end.x), max(start.y, end.y))


def lip_lines(plan: FacePlan) -> Iterator[tuple[Point, Point]]:
    """Where the metal along the face's edges stops being flat."""
    lips, plane = plan.layout.job.lips, plan.plane
    width, depth = plane.width_in, plane.depth_in
    for v in (lips.back_in, depth - lips.front_in):
        if 0 < v < depth:
            yield plane.from_face(Point(0, v)), plane.from_face(Point(width, v))
    for u in (lips.start_in, width - lips.end_in):
        if 0 < u < width:
            yield plane.from_face(Point(u, 0)), plane.from_face(Point(u, depth))
