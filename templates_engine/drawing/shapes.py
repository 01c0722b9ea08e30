"""Holds a device-neutral picture: shapes in inches, x to the right and y up; all that a writer needs."""

from __future__ import annotations

from typing import Literal, NamedTuple

from templates_engine.geometry import Point, Rect
from templates_engine.values import Struct


class Fraction(Struct, frozen=True):
    """A proper fraction set as one: the whole number before it is plain text of its own."""

    numerator: int
    denominator: int


Run = str | Fraction
Layer = Literal["cut", "centre", "edge", "joint", "ruler", "words", "frame"]
"""What a shape means: hole circles; centre and quarter marks; the face's edges; joints and registration
marks;
rulers and scale bars; text; frames, tables and other furniture."""


class Pen(Struct, frozen=True):
    """A black line: width in inches; ``dash`` is (on, off, ...) in inches, empty for solid."""

    width: float
    dash: tuple[float, ...] = ()


class Line(NamedTuple):
    start: Point
    end: Point
    pen: Pen
    layer: Layer


class DrawnCircle(NamedTuple):
    """The outline of a circle."""

    centre: Point
    diameter: float
    pen: Pen
    layer: Layer


class DrawnRect(NamedTuple):
    """The outline of a rectangle; ``fill`` 0 is black, 1 white, None leaves it open; ``corner`` is the
    corners' radius.
    """

    rect: Rect
    pen: Pen | None
    layer: Layer
    fill: float | None = None
    corner: float = 0.0


class Polygon(NamedTuple):
    """A closed outline through the points; filled black when ``solid``."""

    points: tuple[Point, ...]
    pen: Pen | None
    layer: Layer
    solid: bool = False


class Words(NamedTuple):
    """One line of text. ``at`` is on the base line, at its left end, middle or right end as ``anchor`` says.

    ``angle`` turns it counter-clockwise about ``at``, degrees. Sizes are type sizes: 1/72 in units,
    ``size_pt``.
    ``grey`` 0 is black.
    """

    at: Point
    runs: tuple[Run, ...]
    size_pt: float
    layer: Layer = "words"
    anchor: Literal["left", "middle", "right"] = "left"
    bold: bool = False
    angle: float = 0.0
    grey: float = 0.0


Shape = Line | DrawnCircle | DrawnRect | Polygon | Words


class Picture(Struct, frozen=True):
    """A reusable drawing under a name, in coordinates of its own; drawn once and placed on many pages."""

    name: str
    bounds: Rect
    shapes: tuple[Shape, ...]


class Placement(Struct, frozen=True):
    """A picture seen through a window on a page.

    A point p of the picture comes to (origin.x + scale_x * p.x, origin.y + scale_y * p.y) on the page; only
    what falls inside ``window`` (page coordinates) shows. Both scales are 1.0 for a true-scale view.
    """

    picture: str
    origin: Point
    window: Rect
    scale_x: float = 1.0
    scale_y: float = 1.0


class DrawnPage(Struct, frozen=True):
    """One sheet of paper: placements are drawn first, ``shapes`` over them. ``bookmark`` names it in the
    outline.
    """

    shapes: tuple[Shape, ...]
    placements: tuple[Placement, ...]
    bookmark: str
    level: int = 0
    """Depth in the outline: 0 a face's cover page, 1 its sheets."""


class Document(Struct, frozen=True):
    """A whole file: every page has the one paper size."""

    title: str
    subject: str
    page_width_in: float
    page_height_in: float
    pictures: tuple[Picture, ...]
    pages: tuple[DrawnPage, ...]
