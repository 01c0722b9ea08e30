"""Turns a Document drawn at true size into the one a printer that is off scale prints at true size.

What stands on a page, bars, card outline and marks too, becomes a picture and is stretched as a whole: what
is true in the one Document is true on paper in the other, and nothing that drew it needs to know.
"""

from __future__ import annotations

from templates_engine.drawing.shapes import Document, DrawnPage, Picture, Placement
from templates_engine.errors import CannotFit, Problem
from templates_engine.geometry import Point, Rect
from templates_engine.trade.papers import MOST_SIDE_IN
from templates_engine.values import replace


def corrected(document: Document, factor_x: float, factor_y: float) -> Document:
    """The document with every page, and all that stands on it, stretched along its width and height.

    Raises CannotFit where a page would become longer than a PDF page may be.
    """
    width_in = round(document.page_width_in * factor_x, 9)
    height_in = round(document.page_height_in * factor_y, 9)
    if max(width_in, height_in) > MOST_SIDE_IN:
        raise CannotFit([_too_long(max(width_in, height_in))])
    whole = Rect(0.0, 0.0, document.page_width_in, document.page_height_in)
    own = tuple(
        Picture(f"page-{number}", whole, page.shapes) for number, page in enumerate(document.pages, 1)
    )
    both = zip(document.pages, own, strict=True)
    return replace(
        document,
        page_width_in=width_in,
        page_height_in=height_in,
        pictures=(*document.pictures, *own),
        pages=tuple(_stretched(page, picture, factor_x, factor_y) for page, picture in both),
    )


def _too_long(side_in: float) -> Problem:
    return Problem(
        f"the corrected page is {side_in:.1f} in long; a page of a PDF file is at most {MOST_SIDE_IN:g} in.",
        "Give paper in sheets instead of a roll: the face is then laid out over several.",
        key="print.paper",
    )


def _stretched(page: DrawnPage, own: Picture, factor_x: float, factor_y: float) -> DrawnPage:
    """The page with its own shapes as the last of its pictures, so that they still lie over the others."""
    placements = (*page.placements, Placement(own.name, Point(0.0, 0.0), own.bounds))
    stretched = (
        Placement(
            one.picture,
            one.origin.scaled(factor_x, factor_y),
            one.window.scaled(factor_x, factor_y),
            one.scale_x * factor_x,
            one.scale_y * factor_y,
        )
        for one in placements
    )
    return replace(page, shapes=(), placements=tuple(stretched))
