"""Turns each face of a solved job into a piece of a roll, no wider than it needs, and its cover pages."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from templates_engine.drawing import draw, draw_cover
from templates_engine.drawing.shapes import Document, DrawnPage, Picture
from templates_engine.job.model import MarginsIn, PaperSize, PrintSettings
from templates_engine.layout.model import FaceLayout, Layout
from templates_engine.pipeline import Solved
from templates_engine.sheets import plan
from templates_engine.sheets.model import SheetPlan
from templates_engine.sheets.papers import TITLE_STRIP_IN
from templates_engine.sheets.tiles import BORDER_IN
from templates_engine.values import Struct, replace

MARGIN_IN = 0.25
"""White round every piece: room for the cut."""


class Piece(Struct, frozen=True):
    """One sheet of a face, drawn on a page of its own size."""

    name: str
    """ "LP-1 top", with the number of the sheet where the face has several."""
    width_in: float
    height_in: float
    page: DrawnPage
    pictures: tuple[Picture, ...]


class JobPieces(Struct, frozen=True):
    """The pieces of a job, its cover pages, and how long a roll it takes face by face."""

    pieces: tuple[Piece, ...]
    covers: tuple[Document, ...]
    alone_in: float


def pieces_of(solved: Solved, roll: PaperSize, *, draft: bool) -> JobPieces:
    """The job's faces as pieces for a roll. Raises CannotFit where the roll is too narrow for anything."""
    layout = _on(solved.layout, roll)
    pieces: list[Piece] = []
    covers: list[Document] = []
    alone_in = 0.0
    for face in layout.faces:
        alone = _only(layout, face)
        whole = plan(alone)
        alone_in += _length_in(whole, roll) * sum(len(one.sheets) for one in whole.faces)
        narrow = _on(alone, replace(roll, short_in=min(roll.short_in, _needed_in(face))), "landscape")
        tight = plan(narrow)
        drawn = draw(narrow, tight, solved.findings, solved.loads, draft=draft)
        pieces += _pieces(drawn, f"{layout.job.enclosure.mark} {face.job.face.value}")
        cover = draw_cover(narrow, tight, solved.findings, solved.loads, draft=draft)
        covers += [cover] if cover is not None else []
    return JobPieces(tuple(pieces), tuple(covers), alone_in)


def _on(layout: Layout, roll: PaperSize, orientation: Literal["either", "landscape"] = "either") -> Layout:
    """The layout to be printed on that roll, with no printer's correction."""
    margins = MarginsIn(MARGIN_IN, MARGIN_IN, MARGIN_IN, MARGIN_IN)
    settings: PrintSettings = replace(
        layout.job.printing, papers=(roll,), margins=margins, orientation=orientation, printer=None
    )
    return replace(layout, job=replace(layout.job, printing=settings))


def _only(layout: Layout, face: FaceLayout) -> Layout:
    notes = tuple(one for one in layout.notes if one.face in ("", face.job.face.value))
    return Layout(replace(layout.job, faces=(face.job,)), (face,), notes)


def _needed_in(face: FaceLayout) -> float:
    """How high a page has to be that shows the face in one, with its borders, strip and margins."""
    return face.job.depth_in + 2 * BORDER_IN + TITLE_STRIP_IN + 2 * MARGIN_IN


def _length_in(whole: SheetPlan, roll: PaperSize) -> float:
    """What a page takes of the roll's length."""
    is_upright = abs(whole.page_width_in - roll.short_in) < 1e-9
    return whole.page_height_in if is_upright else whole.page_width_in


def _pieces(drawn: Document, name: str) -> Iterator[Piece]:
    sheets = [page for page in drawn.pages if page.placements]
    for number, page in enumerate(sheets, start=1):
        called = name if len(sheets) == 1 else f"{name}, sheet {number} of {len(sheets)}"
        yield Piece(called, drawn.page_width_in, drawn.page_height_in, page, drawn.pictures)
