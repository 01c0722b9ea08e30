"""Turns one Picture into an SVG at true scale, in inches; which face and which way round, drawing decides."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from html import escape
from typing import get_args

from templates_engine.drawing.shapes import (
    DrawnCircle,
    DrawnRect,
    Fraction,
    Layer,
    Line,
    Pen,
    Picture,
    Polygon,
    Run,
    Shape,
    Words,
)
from templates_engine.drawing.text_width import (
    FRACTION_GAP,
    REPLACEMENT,
    fraction_parts,
    metrics,
    needs_gap,
    text_width,
)
from templates_engine.outputs import MAKER
from templates_engine.writers.plain_numbers import number

_POINTS_PER_INCH = 72
_BOTTOM_TO_TOP: tuple[Layer, ...] = ("frame", "edge", "joint", "ruler", "centre", "cut", "words")
assert set(_BOTTOM_TO_TOP) == set(get_args(Layer)), "a layer has no place in the stack"
_ANCHORS = {"left": "start", "middle": "middle", "right": "end"}
_FONTS = "'DejaVu Sans', sans-serif"


def svg_bytes(picture: Picture) -> bytes:
    """The picture as SVG: one user unit is one inch, each layer a group named by what its shapes mean.

    Shapes keep their order within a layer; layers lie over each other frame first, words last.
    """
    bounds = picture.bounds
    size = f'width="{number(bounds.width)}in" height="{number(bounds.height)}in"'
    view = f'viewBox="{number(bounds.left)} 0 {number(bounds.width)} {number(bounds.height)}"'
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} {view}>',
        f"<title>{_text(picture.name)}</title>",
        f"<metadata>{MAKER}</metadata>",
        *_layers(picture),
        "</svg>",
    ]
    return ("\n".join(lines) + "\n").encode("utf-8")


def _layers(picture: Picture) -> Iterable[str]:
    for layer in _BOTTOM_TO_TOP:
        shapes = [shape for shape in picture.shapes if shape.layer == layer]
        if shapes:
            yield f'<g id="{layer}" fill="none" stroke="none">'
            yield from (_element(shape, picture.bounds.top) for shape in shapes)
            yield "</g>"


def _element(shape: Shape, top: float) -> str:
    """One shape; SVG's y runs down, so a height y is drawn at ``top - y``."""
    match shape:
        case Line(start, end, pen):
            ends = _lengths(x1=start.x, y1=top - start.y, x2=end.x, y2=top - end.y)
            return f"<line{ends}{_stroke(pen)}/>"
        case DrawnCircle(centre, diameter, pen):
            return f"<circle{_lengths(cx=centre.x, cy=top - centre.y, r=diameter / 2)}{_stroke(pen)}/>"
        case DrawnRect(rect, pen, _, fill, corner):
            box = _lengths(x=rect.left, y=top - rect.top, width=rect.width, height=rect.height)
            round_off = _lengths(rx=corner) if corner > 0 else ""
            return f"<rect{box}{round_off}{_fill(fill)}{_stroke(pen)}/>"
        case Polygon(places, pen, _, solid):
            listed = " ".join(f"{number(place.x)},{number(top - place.y)}" for place in places)
            return f'<polygon points="{listed}"{_fill(0.0 if solid else None)}{_stroke(pen)}/>'
        case Words():
            return _words(shape, top)


def _words(words: Words, top: float) -> str:
    """Text in a system of points of its own: viewers round type sizes that are a fraction of a unit."""
    turn = f" rotate({number(-words.angle)})" if words.angle else ""
    scale = number(1 / _POINTS_PER_INCH, 9)
    place = f"translate({number(words.at.x)} {number(top - words.at.y)}){turn} scale({scale})"
    weight = ' font-weight="bold"' if words.bold else ""
    look = f'font-family="{_FONTS}" font-size="{number(words.size_pt)}"{weight}{_fill(words.grey)}'
    plain = all(isinstance(run, str) for run in words.runs)
    anchor = _ANCHORS[words.anchor if plain else "left"]
    content = "".join(_text(str(run)) for run in words.runs) if plain else "".join(_placed_runs(words))
    return f'<text transform="{place}" {look} text-anchor="{anchor}" xml:space="preserve">{content}</text>'


def _placed_runs(words: Words) -> Iterator[str]:
    """Runs each at its own place: few viewers anchor or shift a line of mixed sizes rightly by themselves."""
    width = _width_pt(words.runs, words)
    start = {"left": 0.0, "middle": -width / 2, "right": -width}[words.anchor]
    before = ""
    for index, run in enumerate(words.runs):
        x = start + _width_pt(words.runs[:index], words)
        if isinstance(run, Fraction):
            yield _fraction(run, words, x, needs_gap(before))
            before = str(run.denominator)
        elif run:
            yield _tspan(run, x)
            before = run


def _fraction(fraction: Fraction, words: Words, x: float, apart: bool) -> str:
    """Raised, slash, lowered; an unseen hyphen keeps text taken out from reading "213/16"."""
    size, font = words.size_pt, metrics(words.bold)
    parts = []
    if apart:
        hyphen_size = FRACTION_GAP * size / font.of("-")
        parts.append(_tspan("-", x, 0.0, hyphen_size, ' fill="none"'))
        x += FRACTION_GAP * size
    for text, scale, rise in fraction_parts(fraction):
        parts.append(_tspan(text, x, -rise * size, scale * size if scale != 1.0 else None))
        x += font.of(text) * (scale * size)
    return "".join(parts)


def _tspan(text: str, x: float, y: float = 0.0, size_pt: float | None = None, more: str = "") -> str:
    size = "" if size_pt is None else f' font-size="{number(size_pt)}"'
    return f'<tspan x="{number(x)}" y="{number(y)}"{size}{more}>{_text(text)}</tspan>'


def _width_pt(runs: Sequence[Run], words: Words) -> float:
    return text_width(runs, words.size_pt, words.bold) * _POINTS_PER_INCH


def _lengths(**values: float) -> str:
    """Attributes that hold a length each."""
    return "".join(f' {name}="{number(value)}"' for name, value in values.items())


def _stroke(pen: Pen | None) -> str:
    if pen is None:
        return ""
    dash = f' stroke-dasharray="{" ".join(number(length) for length in pen.dash)}"' if pen.dash else ""
    return f' stroke="#000000" stroke-width="{number(pen.width)}"{dash}'


def _fill(grey: float | None) -> str:
    if grey is None:
        return ""
    level = round(255 * min(max(grey, 0.0), 1.0))
    return f' fill="#{level:02x}{level:02x}{level:02x}"'


def _text(text: str) -> str:
    """Text as XML holds it; characters XML forbids become the replacement sign."""
    return escape("".join(each if _allowed(ord(each)) else REPLACEMENT for each in text))


def _allowed(code: int) -> bool:
    """Char of XML 1.0, section 2.2, less line breaks and tabs, which a line of text cannot show."""
    return 0x20 <= code <= 0xD7FF or 0xE000 <= code <= 0xFFFD or 0x10000 <= code <= 0x10FFFF
