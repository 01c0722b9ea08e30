"""Turns "A1-A7=31-7/16" into two places of a face and what a rule read between them; measured judges it.

A place is a hole's centre by its id, an edge by its word (then square to that edge), or a corner:
"left front corner".
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from templates_engine.errors import Problem, TemplatesError
from templates_engine.geometry import Point
from templates_engine.layout.model import Hole
from templates_engine.sheets.model import FacePlan
from templates_engine.trade.names import nearest
from templates_engine.units import LengthError, Speech, read_length

FARTHEST_OFF = 0.20
LEAST_FAR_IN = 0.25
"""A reading off by more than this share and this length is a slip of the pen, not of the paper."""
_HOW = 'Write two places and what the rule read, such as A1-A7="31-7/16" or left-A1="2-1/2".'


class ReadingError(TemplatesError):
    """Readings that do not say what was measured."""


@dataclass(frozen=True)
class Span:
    """A distance of the layout between two named places, ``start`` and ``end`` in the sheet plane."""

    between: tuple[str, str]
    start: Point
    end: Point

    @property
    def name(self) -> str:
        """As a reading is written: "A1-A7"."""
        return "-".join(self.between)

    @property
    def length_in(self) -> float:
        return math.dist(self.start, self.end)

    @property
    def along(self) -> Point:
        """The direction from start to end, of length 1."""
        length = self.length_in
        return Point((self.end.x - self.start.x) / length, (self.end.y - self.start.y) / length)


@dataclass(frozen=True)
class Taken:
    """What a rule read over a span."""

    span: Span
    read_in: float

    @property
    def off_in(self) -> float:
        """How much too long it read."""
        return self.read_in - self.span.length_in


def read_taken(texts: tuple[str, ...], plan: FacePlan, speech: Speech) -> tuple[Taken, ...]:
    """All readings; raises ReadingError with every one that cannot be used."""
    taken: list[Taken] = []
    problems: list[Problem] = []
    for text in texts:
        try:
            taken.append(_taken(text, plan, speech))
        except ReadingError as error:
            problems += error.problems
    if problems:
        raise ReadingError(problems)
    return tuple(taken)


def hole_spans(plan: FacePlan) -> Iterator[Span]:
    """Every pair of holes, the order of the layout kept."""
    holes = plan.layout.holes
    for index, first in enumerate(holes):
        for second in holes[index + 1 :]:
            yield Span((first.id, second.id), plan.centre_of(first), plan.centre_of(second))


def _taken(text: str, plan: FacePlan, speech: Speech) -> Taken:
    pair, equals, value = text.partition("=")
    if not equals:
        raise _problem(f"'{_short(text)}' has no =.", _HOW)
    span = _span(" ".join(pair.split()), plan)
    try:
        read_in = read_length(value, speech.unit)
    except LengthError as error:
        raise _problem(f"{span.name}: {error.message}", error.remedy) from error
    off = abs(read_in - span.length_in)
    if off > LEAST_FAR_IN and off > FARTHEST_OFF * span.length_in:
        message = (
            f"{span.name} should read {speech.say(span.length_in)}; {speech.say(read_in)} is far from it."
        )
        raise _problem(message, "Are these the right two places, and is the reading right?")
    return Taken(span, read_in)


def _span(pair: str, plan: FacePlan) -> Span:
    """The two places of "A1-A7" or "left back corner to A7"; ids may hold hyphens: every split is tried."""
    found, unknown = [], ""
    for first, second in _splits(pair):
        one, other = _place(first, plan), _place(second, plan)
        if one and other:
            found.append((first, second, one, other))
        else:
            unknown = unknown or (second if one else first)
    if not found:
        raise _problem(*_not_found(pair, unknown, plan))
    if len(found) > 1:
        raise _problem(f"'{_short(pair)}' can be read in two ways.", "Write it with the word to: A1 to A7.")
    first, second, one, other = found[0]
    start, end = _foot(one, other), _foot(other, one)
    if start is None or end is None:
        raise _problem(
            f"'{_short(pair)}' names two edges.", "Measure from an edge to a hole, or between two corners."
        )
    if math.dist(start, end) < 1e-6:
        raise _problem(f"'{_short(pair)}' is no distance.", "Name two places apart from each other.")
    return Span((first, second), start, end)


def _splits(pair: str) -> Iterator[tuple[str, str]]:
    first, to, second = pair.partition(" to ")
    if to:
        yield first.strip(), second.strip()
        return
    for index, sign in enumerate(pair):
        if sign == "-":
            yield pair[:index].strip(), pair[index + 1 :].strip()


@dataclass(frozen=True)
class _Somewhere:
    """A place of the face; an edge leaves ``x`` or ``y`` open."""

    x: float | None
    y: float | None


def _place(word: str, plan: FacePlan) -> _Somewhere | None:
    hole = _hole(word, plan)
    if hole is not None:
        return _Somewhere(*plan.centre_of(hole))
    edges = _edges(plan)
    words = word.lower().removesuffix("corner").split()
    if not words or len(words) > 2 or any(one not in edges for one in words):
        return None
    named = [edges[one] for one in words]
    xs, ys = [one.x for one in named if one.x is not None], [one.y for one in named if one.y is not None]
    if len(xs) > 1 or len(ys) > 1:
        return None
    return _Somewhere(xs[0] if xs else None, ys[0] if ys else None)


def _hole(word: str, plan: FacePlan) -> Hole | None:
    """The hole of that id; another case of letters will do where only one hole has it."""
    exact = [hole for hole in plan.layout.holes if hole.id == word]
    alike = [hole for hole in plan.layout.holes if hole.id.lower() == word.lower()]
    return exact[0] if exact else alike[0] if len(alike) == 1 else None


def _edges(plan: FacePlan) -> dict[str, _Somewhere]:
    """The edges by their words; none where the corners seen from inside cannot be told."""
    face, rect = plan.layout.job.face, plan.rule_edges
    if rect is None:
        return {}
    start, end = (rect.left, rect.right) if plan.plane.u_runs_right else (rect.right, rect.left)
    return {
        face.start_edge: _Somewhere(start, None),
        face.end_edge: _Somewhere(end, None),
        "back": _Somewhere(None, rect.top),
        "front": _Somewhere(None, rect.bottom),
    }


def _foot(place: _Somewhere, other: _Somewhere) -> Point | None:
    """The place itself, or the point of an edge square across from the other place."""
    x = other.x if place.x is None else place.x
    y = other.y if place.y is None else place.y
    return None if x is None or y is None else Point(x, y)


def _not_found(pair: str, unknown: str, plan: FacePlan) -> tuple[str, str]:
    if not unknown:
        return f"'{_short(pair)}' names one place only.", _HOW
    ids = [hole.id for hole in plan.layout.holes]
    near = nearest(unknown, ids) if len(ids) < 200 else None
    edges = ", ".join(_edges(plan)) or "none from inside before the job gives the sheet metal"
    hint = f"Did you mean {near}? " if near else ""
    shown = ", ".join(ids[:12]) + (", ..." if len(ids) > 12 else "")
    face = plan.layout.job.face.value
    return f"'{_short(unknown)}' is no place of the {face}.", f"{hint}Its holes: {shown}; its edges: {edges}."


def _short(text: str) -> str:
    return text if len(text) <= 60 else f"{text[:57]}..."


def _problem(message: str, remedy: str) -> ReadingError:
    return ReadingError([Problem(message, remedy)])
