"""Reads a PDF back into circles, lines, text and page sizes, inches, with an engine the writer does not use.

Every place is in inches from the page's lower left corner, with the matrices of all enclosing forms applied,
and only what its clip windows let show is reported. Pages count from 0. A file is given by path or as bytes.
"""

from __future__ import annotations

import ctypes
import functools
import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy
import pypdfium2
import pypdfium2.raw as pdfium

Source = Path | str | bytes
"""A file's path, or the file's bytes; what was read of a page is kept while the file stays as it is."""
Matrix = tuple[float, float, float, float, float, float]
Window = tuple[float, float, float, float]

POINTS_PER_INCH = 72.0
_EVERYWHERE: Window = (-math.inf, -math.inf, math.inf, math.inf)
_IDENTITY: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
_ROUND_WITHIN_IN = 0.0005


@dataclass(frozen=True)
class ReadText:
    """One line of text: where its base line starts, its type size on paper, and its turn in degrees."""

    text: str
    x_in: float
    y_in: float
    size_pt: float
    angle: float
    end_x_in: float
    end_y_in: float


@dataclass(frozen=True)
class _Found:
    """A page object with the matrix to page points and the window it shows through, in page points."""

    raw: Any
    matrix: Matrix
    window: Window


def _kept(read: Callable[[Source, int], list[Any]]) -> Callable[[Source, int], list[Any]]:
    """Keeps what was read of the last pages, as several tests ask the same of a page, one after another."""

    @functools.lru_cache(maxsize=200)
    def kept(source: Source, page: int, _: tuple[int, int] | None) -> list[Any]:
        return read(source, page)

    def asked(source: Source, page: int) -> list[Any]:
        if isinstance(source, bytes):
            return kept(source, page, None)
        now = Path(source).stat()
        return kept(str(source), page, (now.st_mtime_ns, now.st_size))

    return asked


def page_count(source: Source) -> int:
    with _open(source) as document:
        return len(document)


def page_size_in(source: Source, page: int) -> tuple[float, float]:
    """Width and height of the page's crop box, which is what gets printed."""
    with _open(source) as document:
        left, bottom, right, top = document[page].get_cropbox()
        return (right - left) / POINTS_PER_INCH, (top - bottom) / POINTS_PER_INCH


def page_boxes_in(source: Source, page: int) -> dict[str, Window]:
    """Media, crop and trim box as (left, bottom, right, top); a box the file lacks is left out."""
    with _open(source) as document:
        leaf = document[page]
        getters = {"media": leaf.get_mediabox, "crop": leaf.get_cropbox, "trim": leaf.get_trimbox}
        boxes = {name: getter(fallback_ok=False) for name, getter in getters.items()}
        return {
            name: tuple(value / POINTS_PER_INCH for value in box)  # type: ignore[misc]
            for name, box in boxes.items()
            if box is not None
        }


def read_circles(source: Source, page: int) -> list[tuple[float, float, float]]:
    """Centre x, y and diameter of every circle of which any part of the line shows, in the order drawn."""
    circles = []
    for path, window in _paths(source, page):
        circle = _as_circle(path)
        if circle is not None and _ring_shows(*circle, window):
            circles.append(circle)
    return circles


def read_lines(source: Source, page: int) -> list[tuple[float, float, float, float]]:
    """Ends (x1, y1, x2, y2) of the showing part of every straight stroke, outlines' sides included."""
    lines = []
    for path, window in _paths(source, page):
        for (_, *begin), (kind, *end) in pairwise(path):
            if kind == "line":
                shown = _clipped((begin[0], begin[1], end[0], end[1]), window)
                if shown is not None:
                    lines.append(shown)
    return lines


def read_text(source: Source, page: int) -> str:
    """All text that shows, one line of text a line, in the order drawn; a fraction reads "13/16"."""
    return "\n".join(line.text for line in read_text_lines(source, page))


def read_text_lines(source: Source, page: int) -> list[ReadText]:
    """All lines of text that show, with their places, in the order drawn."""
    return list(_text_lines(source, page))


@_kept
def _text_lines(source: Source, page: int) -> list[ReadText]:
    with _open(source) as document:
        leaf = document[page]
        text_page = leaf.get_textpage()
        pieces = [
            piece
            for found in _objects(leaf)
            if pdfium.FPDFPageObj_GetType(found.raw) == pdfium.FPDF_PAGEOBJ_TEXT
            and (piece := _text_piece(found, text_page)) is not None
        ]
    return _joined(pieces)


def raster(source: Source, page: int, dpi: float) -> tuple[numpy.ndarray, float, float]:
    """The page as grey pixels [row from the top, column], and the pixels an inch of both axes.

    The engine rounds the bitmap up to whole pixels and stretches the page to fit, so the scale is pixels over
    the page's size, never the dpi asked for.
    """
    with _open(source) as document:
        leaf = document[page]
        pixels = leaf.render(scale=dpi / POINTS_PER_INCH, grayscale=True).to_numpy()
        if pixels.ndim == 3:
            pixels = pixels[:, :, 0]
        width_pt, height_pt = leaf.get_size()
        return (
            pixels.copy(),
            pixels.shape[1] * POINTS_PER_INCH / width_pt,
            pixels.shape[0] * POINTS_PER_INCH / height_pt,
        )


def _open(source: Source) -> Any:
    return pypdfium2.PdfDocument(source if isinstance(source, bytes) else str(source))


# --- the tree of objects --------------------------------------------------------------------------


def _objects(leaf: Any) -> Iterator[_Found]:
    for index in range(pdfium.FPDFPage_CountObjects(leaf)):
        yield from _unfolded(pdfium.FPDFPage_GetObject(leaf, index), _IDENTITY, _EVERYWHERE)


def _unfolded(raw: Any, outer: Matrix, window: Window) -> Iterator[_Found]:
    """The object itself, or what a form holds, however deep."""
    window = _narrowed(window, _clip_window(raw, outer))
    if pdfium.FPDFPageObj_GetType(raw) != pdfium.FPDF_PAGEOBJ_FORM:
        yield _Found(raw, outer, window)
        return
    inner = _times(_matrix(raw), outer)
    for index in range(pdfium.FPDFFormObj_CountObjects(raw)):
        yield from _unfolded(pdfium.FPDFFormObj_GetObject(raw, index), inner, window)


def _matrix(raw: Any) -> Matrix:
    matrix = pdfium.FS_MATRIX()
    if not pdfium.FPDFPageObj_GetMatrix(raw, matrix):
        raise AssertionError("the engine gives no matrix for an object")
    return (matrix.a, matrix.b, matrix.c, matrix.d, matrix.e, matrix.f)


def _times(first: Matrix, then: Matrix) -> Matrix:
    a, b, c, d, e, f = first
    p, q, r, s, t, u = then
    return (a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u)


def _moved(matrix: Matrix, x: float, y: float) -> tuple[float, float]:
    a, b, c, d, e, f = matrix
    return a * x + c * y + e, b * x + d * y + f


def _clip_window(raw: Any, outer: Matrix) -> Window:
    """The rectangle the object is clipped to, page points."""
    clip = pdfium.FPDFPageObj_GetClipPath(raw)
    window = _EVERYWHERE
    for path in range(max(0, pdfium.FPDFClipPath_CountPaths(clip))):
        count = pdfium.FPDFClipPath_CountPathSegments(clip, path)
        segments = (pdfium.FPDFClipPath_GetPathSegment(clip, path, index) for index in range(count))
        places = [_moved(outer, *_segment_point(segment)) for segment in segments]
        xs, ys = [place[0] for place in places], [place[1] for place in places]
        window = _narrowed(window, (min(xs), min(ys), max(xs), max(ys)))
    return window


def _narrowed(a: Window, b: Window) -> Window:
    return max(a[0], b[0]), max(a[1], b[1]), min(a[2], b[2]), min(a[3], b[3])


# --- paths ----------------------------------------------------------------------------------------

Step = tuple[str, float, float]


@_kept
def _paths(source: Source, page: int) -> list[tuple[list[Step], Window]]:
    """Every path as steps ("move" | "line" | "curve", x, y) and its window, inches."""
    with _open(source) as document:
        leaf = document[page]
        return [
            (_steps(found), tuple(value / POINTS_PER_INCH for value in found.window))  # type: ignore[misc]
            for found in _objects(leaf)
            if pdfium.FPDFPageObj_GetType(found.raw) == pdfium.FPDF_PAGEOBJ_PATH
        ]


def _steps(found: _Found) -> list[Step]:
    to_page = _times(_matrix(found.raw), found.matrix)
    names = {
        pdfium.FPDF_SEGMENT_MOVETO: "move",
        pdfium.FPDF_SEGMENT_LINETO: "line",
        pdfium.FPDF_SEGMENT_BEZIERTO: "curve",
    }
    steps: list[Step] = []
    start = (0.0, 0.0)
    for index in range(pdfium.FPDFPath_CountSegments(found.raw)):
        segment = pdfium.FPDFPath_GetPathSegment(found.raw, index)
        x, y = (value / POINTS_PER_INCH for value in _moved(to_page, *_segment_point(segment)))
        name = names[pdfium.FPDFPathSegment_GetType(segment)]
        steps.append((name, x, y))
        if name == "move":
            start = (x, y)
        if pdfium.FPDFPathSegment_GetClose(segment) and math.dist(start, (x, y)) > 1e-6:
            steps.append(("line", *start))
    return steps


def _segment_point(segment: Any) -> tuple[float, float]:
    x, y = ctypes.c_float(), ctypes.c_float()
    if not pdfium.FPDFPathSegment_GetPoint(segment, x, y):
        raise AssertionError("the engine gives no point for a path segment")
    return x.value, y.value


def _as_circle(path: list[Step]) -> tuple[float, float, float] | None:
    """Centre and diameter when the path is nothing but curves and they run round one circle."""
    curves = [step[1:] for step in path if step[0] == "curve"]
    if len(curves) < 6 or len(curves) % 3 or any(step[0] == "line" for step in path):
        return None
    joins = [curves[index] for index in range(2, len(curves), 3)]
    x = sum(join[0] for join in joins) / len(joins)
    y = sum(join[1] for join in joins) / len(joins)
    radii = [math.dist((x, y), place) for place in joins + list(_halfway([path[0][1:], *curves]))]
    if max(radii) - min(radii) > max(_ROUND_WITHIN_IN, 0.0005 * max(radii)):
        return None
    at_joins = [math.dist((x, y), join) for join in joins]
    return x, y, 2 * sum(at_joins) / len(at_joins)


def _halfway(points: list[tuple[float, float]]) -> Iterator[tuple[float, float]]:
    """The middle of every cubic curve; ``points`` is its start, then three points a curve."""
    for index in range(0, len(points) - 3, 3):
        (ax, ay), (bx, by), (cx, cy), (dx, dy) = points[index : index + 4]
        yield (ax + 3 * bx + 3 * cx + dx) / 8, (ay + 3 * by + 3 * cy + dy) / 8


def _ring_shows(x: float, y: float, diameter: float, window: Window) -> bool:
    """Whether any point of the circle's line lies within the window."""
    left, bottom, right, top = window
    if left > right or bottom > top:
        return False
    nearest = math.hypot(max(left - x, 0, x - right), max(bottom - y, 0, y - top))
    farthest = math.hypot(max(abs(left - x), abs(right - x)), max(abs(bottom - y), abs(top - y)))
    return nearest <= diameter / 2 <= farthest


def _clipped(
    line: tuple[float, float, float, float], window: Window
) -> tuple[float, float, float, float] | None:
    """The part of a line within the window, or None."""
    x1, y1, x2, y2 = line
    enter, leave = 0.0, 1.0
    for delta, before, after in (
        (x2 - x1, window[0] - x1, window[2] - x1),
        (y2 - y1, window[1] - y1, window[3] - y1),
    ):
        if delta == 0:
            if not before <= 0 <= after:
                return None
            continue
        first, last = sorted((before / delta, after / delta))
        enter, leave = max(enter, first), min(leave, last)
    if enter > leave:
        return None
    at = lambda share: (x1 + share * (x2 - x1), y1 + share * (y2 - y1))  # noqa: E731
    return (*(at(enter) if enter > 0 else (x1, y1)), *(at(leave) if leave < 1 else (x2, y2)))


# --- text -----------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Piece:
    text: str
    start: tuple[float, float]
    end: tuple[float, float]
    size_pt: float
    angle: float
    spoken_as: str | None


def _text_piece(found: _Found, text_page: Any) -> _Piece | None:
    """One shown string, page points; None when its middle is clipped away."""
    to_page = _times(_matrix(found.raw), found.matrix)
    quad = pdfium.FS_QUADPOINTSF()
    if not pdfium.FPDFPageObj_GetRotatedBounds(found.raw, quad):
        return None
    corners = [
        _moved(found.matrix, getattr(quad, f"x{corner}"), getattr(quad, f"y{corner}"))
        for corner in (1, 2, 3, 4)
    ]
    middle = (sum(x for x, _ in corners) / 4, sum(y for _, y in corners) / 4)
    window = found.window
    if not (window[0] <= middle[0] <= window[2] and window[1] <= middle[1] <= window[3]):
        return None
    a, b, c, d, x, y = to_page
    size = ctypes.c_float()
    pdfium.FPDFTextObj_GetFontSize(found.raw, size)
    along = (a / math.hypot(a, b), b / math.hypot(a, b))
    reach = max((cx - x) * along[0] + (cy - y) * along[1] for cx, cy in corners)
    end = (x + reach * along[0], y + reach * along[1])
    spoken = _actual_text(found.raw)
    text = _plain_text(found.raw, text_page) if spoken is None else spoken
    if text.strip() == "-":  # the engine adds a space to a hyphen in turned text
        text = "-"
    return _Piece(text, (x, y), end, size.value * math.hypot(c, d), math.degrees(math.atan2(b, a)), spoken)


def _plain_text(raw: Any, text_page: Any) -> str:
    length = pdfium.FPDFTextObj_GetText(raw, text_page, None, 0)
    buffer = ctypes.create_string_buffer(max(length, 2))
    pdfium.FPDFTextObj_GetText(raw, text_page, ctypes.cast(buffer, ctypes.POINTER(pdfium.FPDF_WCHAR)), length)
    return buffer.raw[:length].decode("utf-16-le").rstrip("\0")


def _actual_text(raw: Any) -> str | None:
    """What the file says the marked glyphs read as."""
    for index in range(pdfium.FPDFPageObj_CountMarks(raw)):
        mark = pdfium.FPDFPageObj_GetMark(raw, index)
        buffer = ctypes.create_string_buffer(256)
        needed = ctypes.c_ulong()
        if pdfium.FPDFPageObjMark_GetParamStringValue(
            mark,
            b"ActualText",
            ctypes.cast(buffer, ctypes.POINTER(pdfium.FPDF_WCHAR)),
            256,
            needed,
        ):
            return buffer.raw[: needed.value].decode("utf-16-le").rstrip("\0")
    return None


def _joined(pieces: list[_Piece]) -> list[ReadText]:
    """Pieces that follow each other along one base line, put together."""
    lines: list[list[_Piece]] = []
    for piece in pieces:
        if lines and _follows(lines[-1][-1], piece):
            lines[-1].append(piece)
        else:
            lines.append([piece])
    return [_line(line) for line in lines]


def _follows(before: _Piece, after: _Piece) -> bool:
    if abs((before.angle - after.angle + 180) % 360 - 180) > 0.01:
        return False
    along = (math.cos(math.radians(before.angle)), math.sin(math.radians(before.angle)))
    dx, dy = after.start[0] - before.end[0], after.start[1] - before.end[1]
    size = max(before.size_pt, after.size_pt)
    spaces = 0.4 * (len(before.text) - len(before.text.rstrip(" ")))
    gap, rise = dx * along[0] + dy * along[1], dy * along[0] - dx * along[1]
    return abs(rise) <= 0.5 * size and -0.5 * size <= gap <= (0.2 + spaces) * size


def _line(pieces: list[_Piece]) -> ReadText:
    text = ""
    for index, piece in enumerate(pieces):
        said_already = piece.spoken_as is not None and index > 0 and pieces[index - 1].spoken_as is not None
        text += "" if said_already else piece.text
    first, last = pieces[0], pieces[-1]
    start, end = ([value / POINTS_PER_INCH for value in place] for place in (first.start, last.end))
    return ReadText(text, start[0], start[1], max(p.size_pt for p in pieces), first.angle, end[0], end[1])
