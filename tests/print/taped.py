"""Reads a printed template back as a person would: page by page, put together by the registration marks.

Nothing here knows how the sheets were planned or drawn: places come from the PDF's own vectors and words
(pdfium), and what
they ought to be comes from the job's 3-D frame.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from pdf_reading import page_count, read_circles, read_lines, read_text_lines

MARK_RING_IN = 0.14
MARK_NAME = re.compile(r"\d+-\d+[a-z]+")


@dataclass
class PrintedSheet:
    """One true-scale page: where the marks, circles and long lines are, inches from the page's lower left."""

    page: int
    number: int
    words: list[str]
    word_places: dict[str, tuple[float, float]]
    marks: dict[str, np.ndarray]
    circles: list[tuple[float, float, float]]
    lines: list[tuple[float, float, float, float]]
    shift: np.ndarray = field(default_factory=lambda: np.zeros(2))


@dataclass
class Taped:
    """Sheets in one plane. ``corner`` is the back edge's left end on paper, ``far`` its right end."""

    sheets: list[PrintedSheet]
    worst_mark_in: float
    corner: np.ndarray
    far: np.ndarray

    def circles(self) -> list[tuple[float, float, float]]:
        """Every circle of every sheet, x to the right and y up from the back left corner of the paper."""
        found = []
        for sheet in self.sheets:
            for x, y, diameter in sheet.circles:
                at = np.array((x, y)) + sheet.shift - self.corner
                found.append((float(at[0]), float(at[1]), diameter))
        return found


def printed_sheets(path: Path, face: str) -> list[PrintedSheet]:
    """The true-scale pages of a face, told by their own words "Sheet n of m" and the face's name in
    capitals.
    """
    sheets = []
    for page in range(page_count(path)):
        lines = read_text_lines(path, page)
        words = [line.text for line in lines]
        number = next(
            (int(found[1]) for w in words if (found := re.search(r"\bSheet (\d+) of \d+", w))), None
        )
        if number is None or not any(re.search(rf": {face.upper()}\b", word) for word in words):
            continue
        circles = read_circles(path, page)
        rings = [np.array((x, y)) for x, y, d in circles if abs(d - MARK_RING_IN) < 1e-4]
        marks: dict[str, np.ndarray] = {}
        for line in lines:
            if MARK_NAME.fullmatch(line.text.strip()):
                at = np.array((line.x_in, line.y_in))
                marks[line.text.strip()] = min(rings, key=lambda ring: float(np.linalg.norm(ring - at)))
        others = [circle for circle in circles if abs(circle[2] - MARK_RING_IN) >= 1e-4]
        places = {line.text.strip(): (line.x_in, line.y_in) for line in lines}
        sheets.append(PrintedSheet(page, number, words, places, marks, others, read_lines(path, page)))
    return sheets


def taped(path: Path, face: str) -> Taped:
    """All sheets of a face laid together mark on mark, starting from sheet 1."""
    sheets = printed_sheets(path, face)
    assert sheets, f"no true-scale sheet of the {face}"
    placed = [sheets[0]]
    waiting = sheets[1:]
    while waiting:
        sheet, base, shared = next(
            (one, other, common)
            for one in waiting
            for other in placed
            if len(common := one.marks.keys() & other.marks.keys()) >= 2
        )
        moves = [base.marks[name] + base.shift - sheet.marks[name] for name in sorted(shared)]
        sheet.shift = np.mean(moves, axis=0)
        waiting.remove(sheet)
        placed.append(sheet)
    worst = 0.0
    for one in placed:
        for other in placed:
            for name in one.marks.keys() & other.marks.keys():
                off = one.marks[name] + one.shift - other.marks[name] - other.shift
                worst = max(worst, float(np.linalg.norm(off)))
    ends = _back_edge(placed)
    return Taped(placed, worst, *ends)


def _back_edge(sheets: list[PrintedSheet]) -> tuple[np.ndarray, np.ndarray]:
    """The two ends of the highest level line longer than an inch: the face's back edge."""
    level = [
        (y1 + sheet.shift[1], min(x1, x2) + sheet.shift[0], max(x1, x2) + sheet.shift[0])
        for sheet in sheets
        for x1, y1, x2, y2 in sheet.lines
        if abs(y1 - y2) < 1e-6 and abs(x1 - x2) > 1.0
    ]
    top = max(y for y, _, _ in level)
    ends = [(left, right) for y, left, right in level if abs(y - top) < 1e-3]
    return np.array((min(a for a, _ in ends), top)), np.array((max(b for _, b in ends), top))


# --- where a hole must be, from the frame alone ------------------------------------------------------------

OUTWARD = {"top": (0, 1, 0), "bottom": (0, -1, 0), "left": (-1, 0, 0), "right": (1, 0, 0)}
ALONG = {"top": (1, 0, 0), "bottom": (1, 0, 0), "left": (0, -1, 0), "right": (0, -1, 0)}


def on_paper(face: str, mark_from: str, width_in: float, u: float, v: float) -> tuple[float, float]:
    """A place of a face as a viewer sees it whose paper's top is toward the wall, from the back left
    corner on paper.

    The viewer looks along ``forward``; to the right is forward x up. X right, Y up, Z away from the wall.
    """
    outward = np.array(OUTWARD[face], dtype=float)
    forward = -outward if mark_from == "outside" else outward
    up = np.array((0.0, 0.0, -1.0))
    right = np.cross(forward, up)
    place = np.array(ALONG[face], dtype=float) * u + np.array((0.0, 0.0, 1.0)) * v
    corners = [np.array(ALONG[face], dtype=float) * end for end in (0.0, width_in)]
    leftmost = min(float(right @ corner) for corner in corners)
    return float(right @ place) - leftmost, float(up @ place)
