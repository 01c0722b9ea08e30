"""Turns each face of a solved job into a piece of a roll, no wider than it needs, and its cover pages."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Literal

from templates_engine.drawing import draw, draw_cover
from templates_engine.drawing.shapes import Document, DrawnPage, Picture
from templates_engine.job.model import FaceJob, Job, MarginsIn, PaperSize
from templates_engine.layout.model import FaceLayout, Layout
from templates_engine.pipeline import Solved, plan_job
from templates_engine.sheets.model import SheetPlan
from templates_engine.sheets.paper_pages import TITLE_STRIP_IN
from templates_engine.sheets.tiles import BORDER_IN
from templates_engine.values import Struct, astuple, replace

if TYPE_CHECKING:
    from templates_engine.verify.printers import Printer

MARGIN_IN = 0.25
"""White round every piece: room for the cut."""


class Piece(Struct, frozen=True):
    """One sheet of a face, drawn on a page of its own size, in true inches."""

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
    other_paper: str
    """What to mind where the printer was measured on another paper; "" elsewhere."""


def pieces_of(solved: Solved, roll: PaperSize, *, draft: bool, printer: Printer | None = None) -> JobPieces:
    """The job's faces as pieces for a roll, for a measured printer if one is given.

    Raises CannotFit where the roll is too narrow for anything.
    """
    job = solved.layout.job
    pieces: list[Piece] = []
    covers: list[Document] = []
    alone_in, other_paper = 0.0, ""
    for face in solved.layout.faces:
        whole = plan_job(_only(solved, face, _on(job, face.job, roll)))
        alone_in += _length_in(whole, roll) * sum(len(one.sheets) for one in whole.faces)
        alone = _only(solved, face, piece_job(job, face.job, roll, printer))
        tight = plan_job(alone, printer)
        drawn = draw(alone.layout, tight, solved.findings, solved.contents, draft=draft)
        pieces += _pieces(drawn, f"{job.enclosure.mark} {face.job.face.value}")
        cover = draw_cover(alone.layout, tight, solved.findings, solved.contents, draft=draft)
        covers += [cover] if cover is not None else []
        other_paper = tight.other_paper_words
    return JobPieces(tuple(pieces), tuple(covers), alone_in, other_paper)


def piece_job(job: Job, face: FaceJob, roll: PaperSize, printer: Printer | None = None) -> Job:
    """The job of one face alone, its width along the roll and no more of the roll's width than it needs."""
    needed_in = face.depth_in + 2 * BORDER_IN + TITLE_STRIP_IN
    margin_in = MARGIN_IN
    if printer is not None:
        needed_in *= printer.correction.across
        margin_in = max((MARGIN_IN, *(astuple(printer.margins) if printer.margins else ())))
    narrow = replace(roll, short_in=min(roll.short_in, needed_in + 2 * margin_in))
    return _on(job, face, narrow, "landscape", margin_in)


def _on(
    job: Job,
    face: FaceJob,
    roll: PaperSize,
    orientation: Literal["either", "landscape"] = "either",
    margin_in: float = MARGIN_IN,
) -> Job:
    """The job of one face, to be printed on that roll; the printer it names is for its own paper."""
    settings = replace(
        job.printing,
        papers=(roll,),
        margins=MarginsIn(margin_in, margin_in, margin_in, margin_in),
        margins_named=True,
        orientation=orientation,
        printer=None,
    )
    return replace(job, faces=(face,), printing=settings)


def _only(solved: Solved, face: FaceLayout, job: Job) -> Solved:
    notes = tuple(one for one in solved.layout.notes if one.face in ("", face.job.face.value))
    return Solved(Layout(job, (face,), notes), solved.findings, solved.contents)


def _length_in(whole: SheetPlan, roll: PaperSize) -> float:
    """What a page takes of the roll's length."""
    is_upright = abs(whole.page_width_in - roll.short_in) < 1e-9
    return whole.page_height_in if is_upright else whole.page_width_in


def _pieces(drawn: Document, name: str) -> Iterator[Piece]:
    sheets = [page for page in drawn.pages if page.placements]
    for number, page in enumerate(sheets, start=1):
        called = name if len(sheets) == 1 else f"{name}, sheet {number} of {len(sheets)}"
        yield Piece(called, drawn.page_width_in, drawn.page_height_in, page, drawn.pictures)
