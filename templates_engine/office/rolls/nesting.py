"""Turns the faces of many jobs into pages of a roll, piece beside piece with cut lines between them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from templates_engine.drawing.corrected import corrected
from templates_engine.drawing.shapes import Document, DrawnPage, DrawnRect, Pen, Picture, Placement, Words
from templates_engine.drawing.style import SMALL_PT
from templates_engine.drawing.words import set_words
from templates_engine.geometry import Point, Rect
from templates_engine.office.rolls.packing import PackedPage, pack
from templates_engine.office.rolls.pieces import MARGIN_IN, JobPieces, Piece
from templates_engine.sheets.model import Correction
from templates_engine.trade.papers import MOST_SIDE_IN
from templates_engine.values import Struct, replace

AS_IT_IS = Correction(1.0, 1.0)
CUT = Pen(0.01, (0.12, 0.06))
_WORDS_IN = 0.08
"""The cut's words stand so far inside the frame."""


class Rolls(Struct, frozen=True):
    """The pages of a roll, a Document each, cover pages on office paper, and what nesting saves."""

    pages: tuple[Document, ...]
    covers: tuple[Document, ...]
    """One for each size of office paper."""
    names: tuple[tuple[str, ...], ...]
    """The pieces of each page."""
    length_in: float
    alone_in: float
    """What the faces would take of the roll, each by itself."""


def nested(jobs: Sequence[JobPieces], width_in: float, factors: Correction = AS_IT_IS) -> Rolls:
    """All pieces with their widths along the roll, on little of it; ``factors`` are those of its printer."""
    pieces = [piece for job in jobs for piece in job.pieces]
    true_in, most_in = width_in / factors.across, MOST_SIDE_IN / max(factors.down, 1.0)
    packed = pack([(one.width_in, one.height_in) for one in pieces], true_in, most_in)
    pages = tuple(_document(page, pieces, true_in) for page in packed)
    if factors != AS_IT_IS:
        pages = tuple(corrected(one, factors.down, factors.across) for one in pages)
    return Rolls(
        pages=pages,
        covers=tuple(_together([cover for job in jobs for cover in job.covers])),
        names=tuple(tuple(pieces[one.number].name for one in page.pieces) for page in packed),
        length_in=sum(page.page_width_in for page in pages),
        alone_in=sum(job.alone_in for job in jobs),
    )


def _document(packed: PackedPage, pieces: Sequence[Piece], width_in: float) -> Document:
    """A page of the roll, as high as the roll is wide."""
    pictures: list[Picture] = []
    placements: list[Placement] = []
    shapes: list[DrawnRect | Words] = []
    for one in packed.pieces:
        piece = pieces[one.number]
        corner = Point(one.along_in, width_in - one.across_in - piece.height_in)
        pictures += _pictures(piece, one.number)
        placements += _placements(piece, one.number, corner)
        shapes += _cut_line(piece, corner)
    page = DrawnPage(
        tuple(shapes), tuple(placements), ", ".join(pieces[one.number].name for one in packed.pieces)
    )
    title = f"{len(packed.pieces)} full-scale marking templates on a roll"
    return Document(title, page.bookmark, packed.length_in, width_in, tuple(pictures), (page,))


def _pictures(piece: Piece, number: int) -> Iterator[Picture]:
    """The piece's pictures and what stands on its page, under names no other piece has."""
    yield from (replace(picture, name=f"{number}-{picture.name}") for picture in piece.pictures)
    yield Picture(f"{number}-page", Rect(0.0, 0.0, piece.width_in, piece.height_in), piece.page.shapes)


def _placements(piece: Piece, number: int, corner: Point) -> Iterator[Placement]:
    own = Placement("page", Point(0.0, 0.0), Rect(0.0, 0.0, piece.width_in, piece.height_in))
    for one in (*piece.page.placements, own):
        yield replace(
            one,
            picture=f"{number}-{one.picture}",
            origin=Point(one.origin.x + corner.x, one.origin.y + corner.y),
            window=one.window.moved(*corner),
        )


def _cut_line(piece: Piece, corner: Point) -> Iterator[DrawnRect | Words]:
    """The frame to cut along, and in the white inside it whose it is."""
    frame = Rect(corner.x, corner.y, corner.x + piece.width_in, corner.y + piece.height_in)
    yield DrawnRect(frame, CUT, "frame")
    at = Point(frame.left + _WORDS_IN, frame.top - MARGIN_IN + _WORDS_IN)
    yield Words(at, set_words(f"Cut out along this frame: {piece.name}"), SMALL_PT, "frame")


def _together(covers: Sequence[Document]) -> Iterator[Document]:
    """Cover pages of one paper size in one Document."""
    sizes = dict.fromkeys((one.page_width_in, one.page_height_in) for one in covers)
    for width_in, height_in in sizes:
        same = [one for one in covers if (one.page_width_in, one.page_height_in) == (width_in, height_in)]
        pages = tuple(page for one in same for page in one.pages)
        yield Document("Cover pages of templates on a roll", "", width_in, height_in, (), pages)


def cost_words(rolls: Rolls, roll_name: str) -> str:
    """What the pages take of the roll, and what nesting saves."""
    pages = "1 page" if len(rolls.pages) == 1 else f"{len(rolls.pages)} pages"
    took, alone = _feet(rolls.length_in), _feet(rolls.alone_in)
    words = f"{pages} of a {roll_name}, {took:g} ft"
    if alone <= took:
        return f"{words}."
    return f"{words}; face by face it would take {alone:g} ft, so {alone - took:.1f} ft are saved."


def _feet(inches: float) -> float:
    """Up to the next tenth."""
    return math.ceil(round(inches / 12 * 10, 6)) / 10
