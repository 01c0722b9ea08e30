"""Marks where tape goes across a joint: a dotted frame on free paper, half of it on either sheet.

::

       sheet 1   |   sheet 2          a piece on either half of a long joint, one on a short one; none where
             .---+---.                a hole, a mark or words would lie under it
             :tape:tape
             '---+---'
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise

from templates_engine.drawing.shapes import Line, Shape, Words
from templates_engine.drawing.style import SMALL_PT, TAPE, capital_height_in
from templates_engine.drawing.words import set_words
from templates_engine.drawing.words.ink import ON_PAPER, Ink, SheetInk, stroke
from templates_engine.geometry import Point, Rect
from templates_engine.sheets.model import TAPE_REACH_IN, FacePlan, Joint, Sheet

ALONG_IN = 0.75
"""Of the joint's line, the width of common tape."""
_PIECES = ((ALONG_IN, TAPE_REACH_IN), (0.5, TAPE_REACH_IN), (0.4, 0.18))
"""How far a piece goes along the joint, and to either side of it: smaller ones where a joint is crowded."""
_NARROW_IN = 0.3
"""A half of an upright joint's piece that is narrower has its word along the joint."""
LONG_JOINT_IN = 4.0
"""From this length on a joint gets two pieces."""
_STEP_IN = 0.1
TAPE_WORD = "tape"
_AVOID = (ON_PAPER | Ink.KNOCKOUT) & ~Ink.JOINT
_Both = tuple[tuple[SheetInk, bool], tuple[SheetInk, bool]]
"""The two sheets of a joint, and whether each is its first."""


def place_tape(plan: FacePlan, inks: Mapping[int, SheetInk]) -> dict[tuple[int, int], tuple[Rect, ...]]:
    """Pieces on all joints, by first and second sheet, clear of all that either sheet shows on its half."""
    found = {}
    for joint in plan.joints:
        length = abs(joint.end.x - joint.start.x) + abs(joint.end.y - joint.start.y)
        halves = ((0.0, 0.5), (0.5, 1.0)) if length >= LONG_JOINT_IN else ()
        both = ((inks[joint.first], True), (inks[joint.second], False))

        def is_free(piece: Rect, joint: Joint = joint, both: _Both = both) -> bool:
            return all(ink.is_free(_half(piece, joint, first), _AVOID) for ink, first in both)

        def first_free(low: float, high: float, joint: Joint = joint, length: float = length) -> Rect | None:
            return next(filter(is_free, _places(joint, low * length, high * length)), None)

        pieces = [piece for low, high in halves if (piece := first_free(low, high))]
        if not pieces and (piece := first_free(0.0, 1.0)):
            pieces = [piece]
        for piece in pieces:
            for ink, first in both:
                ink.add(stroke(_half(piece, joint, first), Ink.TAPE))
        found[joint.first, joint.second] = tuple(pieces)
    return found


def tape_shapes(sheet: Sheet, tape: Mapping[tuple[int, int], tuple[Rect, ...]]) -> Iterator[Shape]:
    """This sheet's half of every piece across its joints."""
    for joint in sheet.joints:
        for piece in tape[joint.first, joint.second]:
            half = _half(piece, joint, sheet.number == joint.first)
            for start, end in _open_frame(half, joint):
                yield Line(sheet.on_page(start), sheet.on_page(end), TAPE, "joint")
            yield _word(sheet, half, joint)


def _word(sheet: Sheet, half: Rect, joint: Joint) -> Words:
    x, y = half.middle
    lift = capital_height_in(SMALL_PT) / 2
    is_turned = joint.is_upright and half.width < _NARROW_IN
    at, angle = (Point(x + lift, y), 90.0) if is_turned else (Point(x, y - lift), 0.0)
    return Words(sheet.on_page(at), set_words(TAPE_WORD), SMALL_PT, "joint", "middle", angle=angle)


def _places(joint: Joint, low: float, high: float) -> Iterator[Rect]:
    """Places for a piece between two distances along the joint, large ones and those in the middle first."""
    for along_in, reach_in in _PIECES:
        steps = int((high - low - along_in) / _STEP_IN)
        starts = [low + step * _STEP_IN for step in range(steps + 1)]
        middle = (low + high - along_in) / 2
        for start in sorted(starts, key=lambda start: abs(start - middle)):
            yield _piece(joint, start, start + along_in, reach_in)


def _piece(joint: Joint, low: float, high: float, reach_in: float) -> Rect:
    x, y = joint.start
    if joint.is_upright:
        return Rect(x - reach_in, y - high, x + reach_in, y - low)
    return Rect(x + low, y - reach_in, x + high, y + reach_in)


def _half(piece: Rect, joint: Joint, is_first: bool) -> Rect:
    x, y = joint.start
    if joint.is_upright:
        return (
            Rect(piece.left, piece.bottom, x, piece.top)
            if is_first
            else Rect(x, piece.bottom, piece.right, piece.top)
        )
    return (
        Rect(piece.left, y, piece.right, piece.top)
        if is_first
        else Rect(piece.left, piece.bottom, piece.right, y)
    )


def _open_frame(half: Rect, joint: Joint) -> Iterator[tuple[Point, Point]]:
    """Three sides; the one on the joint, where the halves meet, is left open."""
    around = (
        Point(half.left, half.bottom),
        Point(half.right, half.bottom),
        Point(half.right, half.top),
        Point(half.left, half.top),
    )
    for start, end in pairwise((*around, around[0])):
        on_joint = (
            start.x == end.x == joint.start.x if joint.is_upright else start.y == end.y == joint.start.y
        )
        if not on_joint:
            yield start, end
