"""Turns a Layout, its SheetPlan and its Findings into one Document: lead pages and true-scale sheets, face
after face.
"""

from __future__ import annotations

from collections.abc import Sequence

from templates_engine.checks.model import Finding
from templates_engine.drawing.circuits import Loads, circuit_pages
from templates_engine.drawing.face import face_picture
from templates_engine.drawing.lead import lead_pages
from templates_engine.drawing.shapes import Document, Page, Picture
from templates_engine.drawing.sheet import sheet_page
from templates_engine.layout.model import Layout
from templates_engine.sheets.model import SheetPlan
from templates_engine.units import Speech


def draw(
    layout: Layout,
    plan: SheetPlan,
    findings: Sequence[Finding],
    loads: Loads | None = None,
    *,
    draft: bool = False,
) -> Document:
    """The whole file: each face's lead pages and sheets, then the circuits. ``draft`` stamps every page."""
    job = layout.job
    speech = Speech(job.unit, job.denominator)
    pictures: list[Picture] = []
    pages: list[Page] = []
    for face in plan.faces:
        picture, room = face_picture(face, speech, plan.view if plan.bar_strip_in == 0.0 else None)
        pictures.append(picture)
        pages += lead_pages(job, plan, face, findings, draft)
        pages += (sheet_page(job, plan, face, sheet, room, draft) for sheet in face.sheets)
    pages += circuit_pages(job, plan, loads or {})
    faces = ", ".join(face.layout.job.face.value for face in plan.faces)
    return Document(
        title=f"{job.enclosure.mark} {faces}: full-scale marking template" + (" (DRAFT)" if draft else ""),
        subject=", ".join(
            part for part in (job.title, job.revision and f"revision {job.revision}", job.date) if part
        ),
        page_width_in=plan.page_width_in,
        page_height_in=plan.page_height_in,
        pictures=tuple(pictures),
        pages=tuple(pages),
    )
