"""Marks where tape goes across a joint: a dotted frame on free paper, half of it on either sheet.

::

       sheet 1   |   sheet 2          a piece on either half of a long joint, one on a short one; none where
             .---+---.                a hole, a mark or words would lie under it
             :tape:tape
             '---+---'
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from templates_engine.drawing.shapes import Line, Shape
from templates_engine.drawing.style import TAPE
from templates_engine.drawing.words import centred
from templates_engine.drawing.words.ink import ON_PAPER, Ink, SheetInk, stroke
from templates_engine.geometry import Point, Rect
from templates_engine.sheets.face_lines import line_rect
from templates_engine.sheets.model import TAPE_REACH_IN, FacePlan, Joint, Sheet
from templates_engine.values import Struct

ALONG_IN = 0.75
"""Of the joint's line, the width of common tape."""
_SIZES = ((ALONG_IN, TAPE_REACH_IN), (0.5, TAPE_REACH_IN), (0.4, 0.18))
"""How far a piece goes along the joint, and to either side of it: smaller ones where a joint is crowded."""
_NARROW_IN = 0.3
"""A half of an upright joint's piece that is narrower has its word along the joint."""
LONG_JOINT_IN = 4.0
"""From this length on a joint gets two pieces."""
_STEP_IN = 0.1
TAPE_WORD = "tape"
_AVOID = (ON_PAPER | Ink.KNOCKOUT) & ~Ink.JOINT


class TapePiece(Struct, frozen=True):
    """A piece across a joint, between two distances along it from its start."""

    joint: Joint
    low_in: float
    high_in: float
    reach_in: float
    """How far it goes to either side."""

    def half(self, sheet: int) -> Rect:
        """What lies on one of the joint's two sheets: on the first left of the line, or above it."""
        (x, y), reach = self.joint.start, self.reach_in if sheet == self.joint.second else -self.reach_in
        if self.joint.is_upright:
            return line_rect(Point(x, y - self.low_in), Point(x + reach, y - self.high_in))
        return line_rect(Point(x + self.low_in, y), Point(x + self.high_in, y - reach))


Tape = Mapping[tuple[int, int], Sequence[TapePiece]]
"""The pieces across each joint, by its first and second sheet."""


def place_tape(plan: FacePlan, inks: Mapping[int, SheetInk]) -> Tape:
    """Pieces on all joints, clear of all that either sheet shows on its half."""
    found = {}
    for joint in plan.joints:
        length = abs(joint.end.x - joint.start.x) + abs(joint.end.y - joint.start.y)
        halves = ((0.0, length / 2), (length / 2, length)) if length >= LONG_JOINT_IN else ()
        pieces = [piece for low, high in halves if (piece := _first_free(joint, low, high, inks))]
        if not pieces and (piece := _first_free(joint, 0.0, length, inks)):
            pieces = [piece]
        for piece in pieces:
            for sheet in (joint.first, joint.second):
                inks[sheet].add(stroke(piece.half(sheet), Ink.TAPE))
        found[joint.first, joint.second] = pieces
    return found


def _first_free(joint: Joint, low: float, high: float, inks: Mapping[int, SheetInk]) -> TapePiece | None:
    for piece in _pieces(joint, low, high):
        if all(inks[sheet].is_free(piece.half(sheet), _AVOID) for sheet in (joint.first, joint.second)):
            return piece
    return None


def _pieces(joint: Joint, low: float, high: float) -> Iterator[TapePiece]:
    """Pieces between two distances along the joint, large ones and those in the middle first."""
    for along_in, reach_in in _SIZES:
        steps = int((high - low - along_in) / _STEP_IN)
        starts = [low + step * _STEP_IN for step in range(steps + 1)]
        middle = (low + high - along_in) / 2
        for start in sorted(starts, key=lambda start: abs(start - middle)):
            yield TapePiece(joint, start, start + along_in, reach_in)


def tape_shapes(sheet: Sheet, tape: Tape) -> Iterator[Shape]:
    """This sheet's half of every piece across its joints."""
    for joint in sheet.joints:
        for piece in tape[joint.first, joint.second]:
            half = piece.half(sheet.number)
            for start, end in _open_frame(half, joint):
                yield Line(sheet.on_page(start), sheet.on_page(end), TAPE, "joint")
            is_turned = joint.is_upright and half.width < _NARROW_IN
            middle = half.moved(*sheet.offset).middle
            yield centred(TAPE_WORD, middle, 90.0 if is_turned else 0.0, "joint")


def _open_frame(half: Rect, joint: Joint) -> Iterator[tuple[Point, Point]]:
    """Three sides; the one on the joint, where the halves meet, is left open."""
    at = joint.start.x if joint.is_upright else joint.start.y
    left, bottom, right, top = half
    around = (Point(left, bottom), Point(right, bottom), Point(right, top), Point(left, top))
    for start, end in pairwise((*around, around[0])):
        ends = (start.x, end.x) if joint.is_upright else (start.y, end.y)
        if ends != (at, at):
            yield start, end
