"""Sheets as printed, taped and read wrongly, place by place; no formula of the diagnosis is used."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping
from dataclasses import dataclass, field

from templates_engine.geometry import Point
from templates_engine.job.model import MarkFrom
from templates_engine.sheets.model import FacePlan
from templates_engine.verify.causes import Cause

METAL_IN = 0.0747
"""Of the can that is marked from inside; no job here gives it."""


@dataclass
class Taped:
    """One face's sheets on the metal: printed at a scale, leaning, moved sheet by sheet, turned as a whole.

    The printer's scale leaves the zero of the rulers, the can's start corner at the back, where it is.
    """

    made: FacePlan
    scale: tuple[float, float] = (0.0, 0.0)
    lean: float = 0.0
    moved: Mapping[int, tuple[float, float]] = field(default_factory=dict)
    turn: float = 0.0

    def sheet_of(self, at: Point) -> int:
        """The sheet that shows a place: the last one whose part between the joints holds it."""
        holds = [
            one.number
            for one in self.made.sheets
            if one.own.left - 1e-9 <= at.x <= one.own.right + 1e-9
            and one.own.bottom - 1e-9 <= at.y <= one.own.top + 1e-9
        ]
        return max(holds)

    def ink(self, hole_id: str) -> Point:
        """Where a hole's centre came to lie."""
        hole = next(hole for hole in self.made.layout.holes if hole.id == hole_id)
        at = self.made.centre_of(hole)
        rect = self.made.plane.rect
        zero = Point(rect.left if self.made.plane.u_runs_right else rect.right, rect.top)
        dx, dy = self.moved.get(self.sheet_of(at), (0.0, 0.0))
        x = at.x + (at.x - zero.x) * self.scale[0] + (at.y - zero.y) * self.lean + dx
        y = at.y + (at.y - zero.y) * self.scale[1] + dy
        cos, sin = math.cos(self.turn), math.sin(self.turn)
        return Point(
            zero.x + (x - zero.x) * cos - (y - zero.y) * sin,
            zero.y + (x - zero.x) * sin + (y - zero.y) * cos,
        )

    def distance(self, pair: str) -> float:
        """What lies between the places of "A1-A7", "left-A1" or "bar across sheet 2"."""
        if pair.startswith("bar "):
            axis, bars = 0 if "across" in pair else 1, self.made.bars[int(pair.split()[-1]) - 1]
            return (bars.across, bars.upright)[axis].inches * (1 + self.scale[axis])
        first, second = pair.split("-")
        at, face = self.ink(second), self.made.layout.job.face
        width, depth = self.made.plane.width_in, self.made.plane.depth_in
        u = at.x if self.made.plane.u_runs_right else width - at.x
        thick = METAL_IN if self.made.layout.job.mark_from is MarkFrom.INSIDE else 0.0
        from_edge = {face.start_edge: u - thick, face.end_edge: width - u - thick}
        from_edge |= {"back": depth - at.y - thick, "front": at.y}  # inside the front is open
        return from_edge[first] if first in from_edge else math.dist(self.ink(first), at)

    def read(self, pair: str, denominator: int = 0, hand: random.Random | None = None) -> str:
        """A reading, exact or to the rule's marks, laid on by a hand that is off by a little."""
        length = self.distance(pair) + (hand.gauss(0.0, 1 / 150) if hand else 0.0)
        if denominator:
            length = round(length * denominator) / denominator
        return f"{pair}={length:.6f}"


def claimed(made: FacePlan, causes: tuple[tuple[Cause, float], ...]) -> Taped:
    """The sheets as a verdict says they lie."""
    scale, turn, lean = [0.0, 0.0], 0.0, 0.0
    moved: dict[int, list[float]] = {sheet.number: [0.0, 0.0] for sheet in made.sheets}
    for cause, amount in causes:
        axis = 0 if cause.axis == "x" else 1
        if cause.kind == "scale":
            scale[axis] = amount
        elif cause.kind == "turn":
            turn = amount
        elif cause.kind == "lean":
            lean = amount
        elif cause.kind == "slip":
            for sheet in cause.sheets:
                moved[sheet][axis] += amount
        else:
            raise AssertionError(f"{cause.kind} is not simulated")
    return Taped(made, (scale[0], scale[1]), lean, {n: (x, y) for n, (x, y) in moved.items()}, turn)
