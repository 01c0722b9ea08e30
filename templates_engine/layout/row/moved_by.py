"""Turns a placed row into what moved its raceways, found by placing it anew; notes.py words it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TypeVar

from templates_engine.geometry import TOLERANCE_IN
from templates_engine.job.model import KeepOut
from templates_engine.layout.row.constraints import RowConstraints
from templates_engine.layout.row.failure import RowError
from templates_engine.layout.row.place_row import place_row

MOST_ALONE = 12
"""So many in a row's way are each tried alone, which takes solving the row once more for each."""

MoverT = TypeVar("MoverT")
Moved = dict[tuple[MoverT, ...], list[str]]
"""The ids that each thing moved; several together where any one of them is enough, or where they are too many
to try each alone.
"""


def moved_by_keep_outs(group: RowConstraints, places: Sequence[float]) -> Moved[KeepOut]:
    """The keep-outs without which raceways of the row would stand elsewhere, with their ids."""

    def moved(left_out: Sequence[KeepOut]) -> list[str]:
        others = [one for one in group.keep_outs if not any(one is out for out in left_out)]
        return _that_differ(group, places, place_row(group.with_keep_outs(others)))

    return _movers(_touching(group), moved)


def moved_by_pins(group: RowConstraints, places: Sequence[float]) -> Moved[int]:
    """The pins (by index) without which other raceways of the row, not pinned, would stand elsewhere."""
    pinned = [index for index, cut in enumerate(group.cuts) if cut.raceway.at_in is not None]
    free = {cut.raceway.id for cut in group.cuts if cut.raceway.at_in is None}

    def moved(unpinned: Sequence[int]) -> list[str]:
        try:
            others = place_row(group.without_pins(unpinned))
        except RowError:  # the pin stands off the graduations, and only there is room
            return []
        return [id for id in _that_differ(group, places, others) if id in free]

    return _movers(pinned, moved)


def _movers(things: Sequence[MoverT], moved_by: Callable[[Sequence[MoverT]], list[str]]) -> Moved[MoverT]:
    """Each thing that moved something by itself; where none did, all of them if they did together."""
    found: Moved[MoverT] = {}
    for one in things if len(things) <= MOST_ALONE else ():
        if ids := moved_by([one]):
            found[(one,)] = ids
    if things and not found and (ids := moved_by(things)):
        found[tuple(things)] = ids
    return found


def _that_differ(group: RowConstraints, places: Sequence[float], others: Sequence[float]) -> list[str]:
    pairs = enumerate(zip(places, others, strict=True))
    return [group.id(index) for index, (one, other) in pairs if abs(one - other) > TOLERANCE_IN]


def _touching(group: RowConstraints) -> list[KeepOut]:
    """Keep-outs that can move the row: each that the row runs into when placed among those found so far.

    No other can move anything: the last placing is the best of all, and none of them is in its way.
    """
    met: Mapping[int, KeepOut] = {}
    while True:
        places = place_row(group.with_keep_outs([*met.values()]))
        more = {
            at: one
            for at, one in enumerate(group.keep_outs)
            if at not in met and any(group.met_by(index, u_in, one) for index, u_in in enumerate(places))
        }
        if not more:
            return [met[at] for at in sorted(met)]
        met = {**met, **more}
