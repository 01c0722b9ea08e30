"""Turns a Layout, its SheetPlan and its Findings into a Document of cover pages and true-scale sheets, face
after face, or into two where the sheets are on a roll.
"""

from __future__ import annotations

from collections.abc import Sequence

from templates_engine.checks.model import Finding
from templates_engine.drawing.cover.circuits import circuit_pages
from templates_engine.drawing.cover.pages import cover_pages
from templates_engine.drawing.shapes import Document, DrawnPage
from templates_engine.drawing.sheet.face_picture import face_picture
from templates_engine.drawing.sheet.face_words import face_words
from templates_engine.drawing.sheet.sheet_page import sheet_page
from templates_engine.drawing.sheet.title_strip import PrintedSheet
from templates_engine.layout.model import Layout
from templates_engine.sheets.model import SheetPlan
from templates_engine.wiring import Contents


def draw(
    layout: Layout,
    plan: SheetPlan,
    findings: Sequence[Finding],
    contents: Contents | None = None,
    *,
    draft: bool = False,
) -> Document:
    """The sheets, each face's cover pages before them, then the circuits. ``draft`` stamps every page.

    On a roll cover pages and circuits have a file of their own: see ``draw_cover``.
    """
    job = layout.job
    pages: list[DrawnPage] = []
    for face in plan.faces:
        words = face_words(face, job.lengths, plan.view)
        if plan.cover_apart is None:
            pages += cover_pages(layout, plan, face, findings, draft)
        printed = (PrintedSheet(job, plan, face, sheet, draft) for sheet in face.sheets)
        pages += (sheet_page(one, words) for one in printed)
    if plan.cover_apart is None:
        pages += circuit_pages(job, plan, contents or {})
    title = _title(layout, draft) + (" sheets" if plan.cover_apart else "")
    pictures = tuple(face_picture(face, job.unit) for face in plan.faces)
    size = plan.page_width_in, plan.page_height_in
    return Document(title, _subject(layout), *size, pictures, tuple(pages))


def draw_cover(
    layout: Layout,
    plan: SheetPlan,
    findings: Sequence[Finding],
    contents: Contents | None = None,
    *,
    draft: bool = False,
) -> Document | None:
    """Cover pages and circuits on office paper for sheets on a roll; None where they lead the sheets."""
    if plan.cover_apart is None:
        return None
    pages = [page for face in plan.faces for page in cover_pages(layout, plan, face, findings, draft)]
    pages += circuit_pages(layout.job, plan, contents or {})
    size = plan.cover_apart.width_in, plan.cover_apart.height_in
    return Document(_title(layout, draft) + " cover pages", _subject(layout), *size, (), tuple(pages))


def _title(layout: Layout, draft: bool) -> str:
    faces = ", ".join(face.job.face.value for face in layout.faces)
    return f"{layout.job.enclosure.mark} {faces}: full-scale marking template" + (" (DRAFT)" if draft else "")


def _subject(layout: Layout) -> str:
    job = layout.job
    parts = (job.title, f"revision {job.revision}" if job.revision else "", job.date)
    return ", ".join(filter(None, parts))
