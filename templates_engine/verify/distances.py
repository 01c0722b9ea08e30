"""Turns the two places of "A1-A7" into a Distance of the face or of a scale bar; readings says what was read.

::

    +-----------------back----------------+     a hole's centre by its id; an edge of the can by its word,
    |    A1         A2              A3    |     then square to that edge; a corner of the can: "left front";
    |  start                          end |     the bars printed on a sheet: "bar across sheet 2"
    +----------------front----------------+
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import Literal

from templates_engine.errors import Problem, TemplatesError
from templates_engine.geometry import Point
from templates_engine.job.model import MarkFrom
from templates_engine.layout.model import Hole
from templates_engine.sheets.model import FacePlan
from templates_engine.trade.not_in_tables import nearest
from templates_engine.units import MM_PER_INCH, LengthFormat
from templates_engine.values import Struct

Axis = Literal["x", "y"]
BAR_WORDS: dict[Axis, str] = {"x": "across", "y": "upright"}
"""How the two bars of a sheet are called, by the sheet's axis they run along."""
_DASHES = re.compile("[\u2010-\u2015\u2212\u00ad\uff0d\u2043~]+")
_SMALL_WORDS = {"the", "from", "edge", "corner", "of", "centre", "center", "hole", "can"}
_BAR = re.compile(r"\bbars?\b")
_HOW = (
    'Write two places and what the rule read, such as A1-A7="31-7/16", left-A1="2-1/2" or '
    '"bar across sheet 2=9".'
)


class ReadingError(TemplatesError):
    """Readings that do not say what was measured."""


class Distance(Struct, frozen=True):
    """A distance of the layout between two named places, ``start`` and ``end`` in the sheet plane.

    ``on_can`` says which of the two is an edge or corner of the can, which no sheet moves. A scale bar has a
    sheet and an axis, ``bar``; then its places say nothing but its length.
    """

    between: tuple[str, ...]
    start: Point
    end: Point
    on_can: tuple[bool, bool] = (False, False)
    bar: tuple[int, Axis] | None = None
    is_metric: bool = False
    """Whether it is a bar's side with millimetre ticks."""

    @property
    def name(self) -> str:
        """As a reading is written: "A1-A7", "left front corner to A7"."""
        is_plain = not any(sign in word for word in self.between for sign in " -")
        return ("-" if is_plain else " to ").join(self.between)

    @property
    def length_in(self) -> float:
        return math.dist(self.start, self.end)

    def said(self, lengths: LengthFormat) -> str:
        """What a rule should read: from an edge the mark that the sheets give, else to 64ths."""
        is_corner = any(word.endswith(" corner") for word in self.between)
        if any(self.on_can) and not is_corner:
            return lengths.say(self.length_in)
        return lengths.say_to_64ths(self.length_in)

    @property
    def along(self) -> Point:
        """The direction from start to end, of length 1; none where both are one place, as in a draft."""
        length = self.length_in
        if length == 0:
            return Point(0.0, 0.0)
        return Point((self.end.x - self.start.x) / length, (self.end.y - self.start.y) / length)

    @property
    def key(self) -> frozenset[str]:
        """The same for A1-A7 and A7-A1."""
        return frozenset(self.between)


def distance_of(pair: str, plan: FacePlan, is_metric: bool = False) -> Distance:
    """The distance that words name. ``is_metric`` tells a bar's side. Raises ReadingError."""
    pair = plain_words(pair)
    if _names_bar(pair.lower(), plan):
        return _bar(pair, plan, is_metric)
    found, unknown = [], ""
    for first, second in _splits(pair):
        one, other = _place(first, plan), _place(second, plan)
        if one and other:
            found.append((one, other))
        else:
            unknown = unknown or (second if one else first)
    if not found:
        raise problem(*_not_found(pair, unknown, plan))
    if len(found) > 1:
        raise problem(f"'{shortened(pair)}' can be read in two ways.", "Write it with the word to: A1 to A7.")
    return _between(pair, *found[0])


def edge_distance(word: str, hole: Hole, plan: FacePlan) -> Distance:
    """A hole from an edge; where the metal inside is unknown, from the edge outside."""
    return _between(word, _edges(plan)[word], _at(hole, plan))


def edge_distances(plan: FacePlan) -> Iterator[Distance]:
    """Each hole from the edges a rule can be set to: both ends, and the front, or inside the back.

    None inside where the metal's thickness is neither given nor read.
    """
    if plan.rule_edges is None:
        return
    from_inside = plan.layout.job.mark_from is MarkFrom.INSIDE
    face = plan.layout.job.face
    for word in (face.start_edge, face.end_edge, "back" if from_inside else "front"):
        for hole in plan.layout.holes:
            yield edge_distance(word, hole, plan)


def bar_distances(plan: FacePlan, is_metric: bool) -> Iterator[Distance]:
    """Every bar of the sheets, first those across."""
    for axis in BAR_WORDS:
        for sheet in plan.sheets:
            if bar := _sheet_bar(plan, sheet.number, axis, is_metric):
                yield bar


def plain_words(text: str) -> str:
    """Words with plain dashes and single spaces."""
    return " ".join(_DASHES.sub("-", text).split()).strip("'\"\u201c\u201d\u2018\u2019")


# --- holes, edges and corners -------------------------------------------------------------------------------


class _Somewhere(Struct, frozen=True):
    """A place of the face; an edge leaves ``x`` or ``y`` open."""

    word: str
    x: float | None
    y: float | None
    on_can: bool = False


def _between(pair: str, one: _Somewhere, other: _Somewhere) -> Distance:
    start, end = _foot(one, other), _foot(other, one)
    if start is None or end is None or (one.on_can and other.on_can):
        message = f"'{shortened(pair)}' measures the can, not the sheets."
        raise problem(message, "Measure from an edge or corner to a hole, or between two holes.")
    if math.dist(start, end) < 1e-6:
        raise problem(f"'{shortened(pair)}' is no distance.", "Name two places apart from each other.")
    return Distance((one.word, other.word), start, end, (one.on_can, other.on_can))


def _splits(pair: str) -> Iterator[tuple[str, str]]:
    """Every way to read it as two places: at the word to, else at each hyphen."""
    first, *second = re.split(r"\s+to\s+", pair, maxsplit=1, flags=re.IGNORECASE)
    if second:
        yield first, second[0]
        return
    for index, sign in enumerate(pair):
        if sign == "-":
            yield pair[:index].strip(), pair[index + 1 :].strip()


def _place(word: str, plan: FacePlan) -> _Somewhere | None:
    hole = _hole(word, plan)
    if hole is not None:
        return _at(hole, plan)
    edges = _edges(plan)
    side = plan.layout.job.mark_from.value
    words = [one for one in word.lower().split() if one not in _SMALL_WORDS and one != side]
    if len(words) == 1 and (hole := _hole(words[0], plan)):
        return _at(hole, plan)
    if not words or len(words) > 2 or any(one not in edges for one in words):
        return None
    named = [edges[one] for one in words]
    xs, ys = [one.x for one in named if one.x is not None], [one.y for one in named if one.y is not None]
    if len(xs) > 1 or len(ys) > 1:
        return None
    name = f"{' '.join(words)} corner" if xs and ys else words[0]
    return _Somewhere(name, xs[0] if xs else None, ys[0] if ys else None, on_can=True)


def _at(hole: Hole, plan: FacePlan) -> _Somewhere:
    return _Somewhere(hole.id, *plan.centre_of(hole))


def _hole(word: str, plan: FacePlan) -> Hole | None:
    """The hole of that id; another case of letters will do where only one hole has it."""
    exact = [hole for hole in plan.layout.holes if hole.id == word]
    alike = [hole for hole in plan.layout.holes if plain_words(hole.id).lower() == plain_words(word).lower()]
    return exact[0] if exact else alike[0] if len(alike) == 1 else None


def _edges(plan: FacePlan) -> dict[str, _Somewhere]:
    """The can's edges by their words; those outside where the corners inside cannot be told."""
    face, rect = plan.layout.job.face, plan.rule_edges or plan.plane.rect
    start, end = (rect.left, rect.right) if plan.plane.u_runs_right else (rect.right, rect.left)
    return {
        face.start_edge: _Somewhere(face.start_edge, start, None, True),
        face.end_edge: _Somewhere(face.end_edge, end, None, True),
        "back": _Somewhere("back", None, rect.top, True),
        "front": _Somewhere("front", None, rect.bottom, True),
    }


def _foot(place: _Somewhere, other: _Somewhere) -> Point | None:
    """The place itself, or the point of an edge square across from the other place."""
    x = other.x if place.x is None else place.x
    y = other.y if place.y is None else place.y
    return None if x is None or y is None else Point(x, y)


# --- bars ---------------------------------------------------------------------------------------------------


def _names_bar(pair: str, plan: FacePlan) -> bool:
    """Whether a scale bar is meant; holes may be called bars too."""
    says_which = any(word in pair.split() for word in BAR_WORDS.values())
    holes_are_bars = any(_BAR.search(hole.id.lower()) for hole in plan.layout.holes)
    return _BAR.search(pair) is not None and (says_which or not holes_are_bars)


def _bar(pair: str, plan: FacePlan, is_metric: bool) -> Distance:
    """The bar that words such as "bar across sheet 2" name."""
    words = re.findall(r"[a-z]+|\d+", pair.lower())
    axes = [axis for axis, word in BAR_WORDS.items() if word in words]
    numbers = [int(word) for word in words if word.isdecimal()]
    stray = [
        word for word in words if not word.isdecimal() and word not in ("bar", "sheet", "on", "of", "the")
    ]
    how = 'Write "bar across sheet 2=9", or upright for the bar that stands up the sheet.'
    if len(axes) != 1 or len(stray) != 1:
        raise problem(f"'{shortened(pair)}' does not say which bar.", how)
    if not numbers and len(plan.sheets) == 1:
        numbers = [1]
    if len(numbers) != 1:
        raise problem(f"'{shortened(pair)}' does not say which sheet's bar.", how)
    found = _sheet_bar(plan, numbers[0], axes[0], is_metric)
    if found is None:
        count = len(plan.sheets)
        face = plan.layout.job.face.value
        has = f"sheets 1 to {count}" if count > 1 else "one sheet"
        raise problem(f"there is no sheet {numbers[0]} with such a bar.", f"The {face} has {has}.")
    return found


def _sheet_bar(plan: FacePlan, number: int, axis: Axis, is_metric: bool) -> Distance | None:
    """The bar of a sheet, by the side that was read; None where there is none."""
    if not 1 <= number <= len(plan.bars):
        return None
    bars = plan.bars[number - 1]
    lengths = bars.across if axis == "x" else bars.upright
    if not lengths.inches:
        return None
    length = lengths.millimetres / MM_PER_INCH if is_metric else float(lengths.inches)
    name = f"bar {BAR_WORDS[axis]} sheet {number}"
    return Distance((name,), Point(0.0, 0.0), Point(length, 0.0), bar=(number, axis), is_metric=is_metric)


# --- problems -----------------------------------------------------------------------------------------------


def _not_found(pair: str, unknown: str, plan: FacePlan) -> tuple[str, str]:
    if not unknown:
        return f"'{shortened(pair)}' names one place only.", _HOW
    ids = [hole.id for hole in plan.layout.holes]
    near = nearest(unknown, ids) if len(ids) < 200 else None
    edges = ", ".join(_edges(plan))
    hint = f"Did you mean {near}? " if near else ""
    shown = ", ".join(ids[:12]) + (", ..." if len(ids) > 12 else "")
    face = plan.layout.job.face.value
    return (
        f"'{shortened(unknown)}' is no place of the {face}.",
        f"{hint}Its holes: {shown}; its edges: {edges}.",
    )


def shortened(text: str) -> str:
    """Text fit for a message."""
    return text if len(text) <= 60 else f"{text[:57]}..."


def problem(message: str, remedy: str = _HOW) -> ReadingError:
    return ReadingError([Problem(message, remedy)])
