"""Turns one face into a plan of a single sheet as large as the face, for exports; no paper, no joints."""

from __future__ import annotations

from templates_engine.geometry import Point, Rect
from templates_engine.job.model import MarkFrom
from templates_engine.layout.frame import u_runs_right
from templates_engine.layout.model import FaceLayout
from templates_engine.sheets.model import FacePlan, Plane, Sheet
from templates_engine.sheets.tiles import BORDER_IN
from templates_engine.values import replace


def whole_face(face: FaceLayout, seen_from: MarkFrom) -> FacePlan:
    """The face in one piece as seen from that side, whichever side the job marks it from."""
    job = replace(face.job, mark_from=seen_from)
    plane = Plane(job.width_in, job.depth_in, u_runs_right(job.face, seen_from))
    bounds = Rect(0.0, 0.0, job.width_in, job.depth_in).grown(BORDER_IN)
    sheet = Sheet(1, 0, 0, bounds, Point(0.0, 0.0), (), bounds)
    return FacePlan(replace(face, job=job), plane, bounds, (sheet,), (), 1, 1, ())
