"""Settles all requests of one sheet in one pass, by need and then in the order they were made.

Each takes its first free spot. One that must stand and finds none has others move, along chains like people
on a full bench; where not even that helps it takes the least crowded spot, or stays away where it is told
elsewhere.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import islice, tee

from templates_engine.drawing.words.ink import ANYTHING, PLACED, Ink, SheetInk, Stroke, stroke
from templates_engine.drawing.words.requests import LabelRequest, Placed, Priority, Spot

MOST_LOOKED_AT = 400
"""Spots looked at where others would have to move: crowded sheets have thousands."""
MOST_MOVED, MOST_TRIED, MOST_TIMES = 2, 15, 2
"""How many others may move for one, in how many of its spots that is tried, how often for the same others."""
MOST_FOR_OTHERS = 250
"""Spots tried for each that has to move."""


def settle(requests: Iterable[LabelRequest], ink: SheetInk) -> tuple[Placed, ...]:
    """Every request that found a place, those that must stand always, unless they are told elsewhere too. The
    ink then holds them too.
    """
    placer = _Placer(ink)
    for request in sorted(requests, key=lambda one: one.need):
        if placer.place(request) or not request.must_stand or placer.make_way(request, {request.key}):
            continue
        if not request.is_told_elsewhere and not placer.oust(request):
            placer.squeeze_in(request)
    return tuple(sorted(placer.placed.values(), key=lambda one: one.request.need))


class _Placer:
    def __init__(self, ink: SheetInk) -> None:
        self.ink = ink
        self.placed: dict[object, Placed] = {}
        self._spots: dict[object, Iterator[Spot]] = {}

    def spots(self, request: LabelRequest) -> Iterator[Spot]:
        """The spots that nothing fixed is in the way of, found when first asked for."""
        found = self._spots.get(request.key)
        if found is None:
            found = (spot for spot in request.spots() if _is_free(self.ink, spot, ANYTHING & ~PLACED))
        self._spots[request.key], again = tee(found)
        return again

    def place(self, request: LabelRequest, most: int | None = None) -> bool:
        """At the first spot, or among the first so many, where nothing is in the way."""
        for spot in islice(self.spots(request), most):
            if _is_free(self.ink, spot, PLACED):
                self._put(Placed(request, spot))
                return True
        return False

    def make_way(self, request: LabelRequest, asked: set[object]) -> bool:
        """At a spot where only few other words are in the way, and they find another place, if need be by
        others making way for them in turn. Nobody in ``asked`` is asked again, so that the search ends soon.
        """
        for spot, others in self._worth_trying(request):
            if not asked.intersection(one.request.key for one in others) and self._moves(
                request, spot, others, asked
            ):
                return True
        return False

    def _worth_trying(self, request: LabelRequest) -> list[tuple[Spot, list[Placed]]]:
        times: Counter[tuple[object, ...]] = Counter()
        found = []
        for spot in islice(self.spots(request), MOST_LOOKED_AT):
            others = self._movable(spot)
            keys = tuple(one.request.key for one in others)
            times[keys] += 1
            if others and times[keys] <= MOST_TIMES:
                found.append((spot, others))
        return sorted(found, key=lambda one: len(one[1]))[:MOST_TRIED]

    def _moves(self, request: LabelRequest, spot: Spot, others: list[Placed], asked: set[object]) -> bool:
        """Puts the request there and the others elsewhere, or leaves all as it was."""
        before = dict(self.placed)
        self._lift(others)
        self._put(Placed(request, spot))
        for other in others:
            if self.place(other.request, MOST_FOR_OTHERS):
                continue
            asked.add(other.request.key)
            if not self.make_way(other.request, asked):
                self._restore(before)
                return False
        return True

    def _restore(self, before: dict[object, Placed]) -> None:
        self._lift([one for key, one in self.placed.items() if before.get(key) is not one])
        for key, one in before.items():
            if key not in self.placed:
                self._put(one)

    def oust(self, request: LabelRequest) -> bool:
        """Where only words stand that are told elsewhere too: the fewest of them go."""
        ways = []
        for spot in islice(self.spots(request), MOST_LOOKED_AT):
            others = {one.key: self.placed[one.key] for one in _in_the_way(self.ink, spot, PLACED)}
            if all(one.request.is_told_elsewhere for one in others.values()):
                ways.append((spot, others))
        if not ways:
            return False
        spot, others = min(ways, key=lambda way: len(way[1]))
        self._lift(others.values())
        self._put(Placed(request, spot))
        return True

    def squeeze_in(self, request: LabelRequest) -> None:
        """At the spot with the least in the way; what has no spot at all stays away."""
        free_of_fixed = list(islice(self.spots(request), MOST_LOOKED_AT))
        spots = free_of_fixed or list(islice(request.spots(), MOST_LOOKED_AT))
        if spots:
            self._put(Placed(request, min(spots, key=self._crowding), is_clear=False))

    def _movable(self, spot: Spot) -> list[Placed]:
        """The words in the way of a spot, each once, when they are few and may move."""
        found: dict[object, Placed] = {}
        for one in _in_the_way(self.ink, spot, PLACED):
            other = self.placed[one.key]
            found[one.key] = other
            if len(found) > MOST_MOVED or other.request.need is Priority.MARK:
                return []
        return list(found.values())

    def _crowding(self, spot: Spot) -> tuple[bool, int]:
        """Other words and circles are worst."""
        found = set(_in_the_way(self.ink, spot, ANYTHING))
        worst = Ink.WORDS | Ink.CIRCLE | Ink.BAR
        return any(one.kind & worst for one in found), len(found)

    def _put(self, placed: Placed) -> None:
        for one in _strokes(placed):
            self.ink.add(one)
        self.placed[placed.request.key] = placed

    def _lift(self, all_placed: Iterable[Placed]) -> None:
        for placed in all_placed:
            for one in _strokes(placed):
                self.ink.remove(one)
            del self.placed[placed.request.key]


def _is_free(ink: SheetInk, spot: Spot, kinds: int) -> bool:
    """Whether nothing of these kinds, as far as the spot avoids them, is in its way or its leader's."""
    return next(_in_the_way(ink, spot, kinds), None) is None


def _in_the_way(ink: SheetInk, spot: Spot, kinds: int) -> Iterator[Stroke]:
    yield from ink.blockers(spot.rect, spot.avoid & kinds, spot.clear_in)
    if spot.leader is not None:
        for part in spot.leader.parts:
            yield from ink.blockers(part, spot.leader.avoid & kinds, 0.0)


def _strokes(placed: Placed) -> tuple[Stroke, ...]:
    """What the placed words are to the words after them; a leader's parts lift with them."""
    key, spot = placed.request.key, placed.spot
    parts = spot.leader.parts if spot.leader else ()
    return (
        stroke(spot.rect, placed.request.kind, key),
        *(stroke(part, Ink.LEADER, key) for part in parts),
    )
