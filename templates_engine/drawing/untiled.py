"""Turns one face into a single true-scale Picture for other programs and shops; says which side it shows."""

from __future__ import annotations

from templates_engine.drawing.edge_directions import edge_directions
from templates_engine.drawing.shapes import Picture, Words
from templates_engine.drawing.sheet.face_picture import face_picture
from templates_engine.drawing.sheet.face_words import face_words
from templates_engine.drawing.sheet.sheet_page import draft_stamp
from templates_engine.drawing.sheet_map import edge_names
from templates_engine.drawing.style import SMALL_PT, line_height_in
from templates_engine.drawing.words import set_words, shortened
from templates_engine.geometry import Point
from templates_engine.job.model import Job, MarkFrom
from templates_engine.layout.model import FaceLayout
from templates_engine.sheets.face_plan import whole_face
from templates_engine.sheets.model import FacePlan
from templates_engine.values import replace

FROM_EDGE_IN = 0.14


def whole_picture(job: Job, face: FaceLayout, seen_from: MarkFrom, draft: bool = False) -> Picture:
    """The face at true scale as seen from that side, with a note under it; ``draft`` stamps it."""
    plan = whole_face(face, seen_from)
    picture = face_picture(plan, job.unit)
    (sheet,) = plan.sheets
    words = face_words(plan, job.lengths, None).sheets[sheet.number]
    notes = whole_notes(job, plan)
    step = line_height_in(SMALL_PT)
    base = plan.bounds.bottom - step * 0.5
    lines = tuple(
        Words(
            Point(0.0, base - index * step),
            set_words(shortened(note, SMALL_PT, plan.bounds.right)),
            SMALL_PT,
        )
        for index, note in enumerate(notes)
    )
    bounds = plan.bounds._replace(bottom=base - len(notes) * step)
    words_at_edges = edge_directions(plan)
    at_wall = replace(words_at_edges, up=f"{words_at_edges.up} (wall)")
    names = edge_names(at_wall, plan.plane.rect, FROM_EDGE_IN)
    stamp = draft_stamp(plan.plane.rect) if draft else ()
    name = f"{job.enclosure.mark}: {face.job.face.value} seen from {seen_from.value}"
    return Picture(name, bounds, (*picture.shapes, *words.shapes(sheet), *names, *lines, *stamp))


def whole_notes(job: Job, plan: FacePlan) -> tuple[str, ...]:
    """What a drawing that leaves this program must say of itself, gravest first."""
    face = plan.layout.job
    revision = f"revision {job.revision}" if job.revision else "no revision"
    seen = f"{face.face.value.upper()} seen from the {face.mark_from.value.upper()}"
    return (
        f"{job.enclosure.mark}: {seen}, BACK (wall) up",
        f"{revision}, fingerprint {plan.layout.fingerprint}, true size in inches",
        job.title,
    )
