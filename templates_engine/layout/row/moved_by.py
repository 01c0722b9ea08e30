"""Turns a placed row into what moved its raceways, found by placing it anew without that.

The words are for notes.py.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from templates_engine.job.model import KeepOut
from templates_engine.layout.row.constraints import RowConstraints
from templates_engine.layout.row.failure import RowError
from templates_engine.layout.row.place_row import place_row
from templates_engine.layout.tolerance import TOLERANCE_IN
from templates_engine.units import LengthFormat
from templates_engine.values import replace

Moved = dict[tuple[KeepOut, ...], list[str]]
"""The ids that each keep-out moved; several together where any one of them is enough, or where they are too
many to try each alone.
"""
MovedByPins = dict[tuple[str, ...], list[str]]
"""The same of raceways pinned by `at`, by their ids."""
MOST_ALONE = 12
"""So many in a row's way are each tried alone, which takes solving the row once more for each."""


def moved_by_keep_outs(group: RowConstraints, places: Sequence[float], lengths: LengthFormat) -> Moved:
    """The keep-outs without which raceways of the row would stand elsewhere, with their ids."""
    touching = _touching(group, lengths)
    moved: Moved = {}
    for one in touching if len(touching) <= MOST_ALONE else ():
        ids = _elsewhere(group, [other for other in group.keep_outs if other is not one], places, lengths)
        if ids:
            moved[(one,)] = ids
    if touching and not moved:
        ids = _elsewhere(group, (), places, lengths)
        if ids:
            moved[tuple(touching)] = ids
    return moved


def _touching(group: RowConstraints, lengths: LengthFormat) -> list[KeepOut]:
    """Keep-outs that can move the row: each that the row runs into when placed among those found so far.

    No other can move anything: the last placing is the best of all, and none of them is in its way.
    """
    met: Mapping[int, KeepOut] = {}
    while True:
        places = place_row(group.with_keep_outs([*met.values()]), lengths)
        more = {
            at: one for at, one in enumerate(group.keep_outs) if at not in met and _is_met(group, one, places)
        }
        if not more:
            return [met[at] for at in sorted(met)]
        met = {**met, **more}


def _is_met(group: RowConstraints, keep_out: KeepOut, places: Sequence[float]) -> bool:
    for index, u_in in enumerate(places):
        taken = group.forbidden_by(index, keep_out)
        if taken is not None and taken.low + TOLERANCE_IN < u_in < taken.high - TOLERANCE_IN:
            return True
    return False


def _elsewhere(
    group: RowConstraints, keep_outs: Sequence[KeepOut], places: Sequence[float], lengths: LengthFormat
) -> list[str]:
    """The ids that stand elsewhere among these keep-outs alone."""
    others = place_row(group.with_keep_outs(keep_outs), lengths)
    return _that_differ(group, places, others)


def _that_differ(group: RowConstraints, places: Sequence[float], others: Sequence[float]) -> list[str]:
    pairs = enumerate(zip(places, others, strict=True))
    return [group.id(index) for index, (one, other) in pairs if abs(one - other) > TOLERANCE_IN]


# --- pins ---------------------------------------------------------------------------------------------------


def moved_by_pins(group: RowConstraints, places: Sequence[float], lengths: LengthFormat) -> MovedByPins:
    """The pins without which other raceways of the row, not pinned themselves, would stand elsewhere."""
    pinned = [index for index, cut in enumerate(group.cuts) if cut.raceway.at_in is not None]
    moved: MovedByPins = {}
    for index in pinned if len(pinned) <= MOST_ALONE else ():
        ids = _without_pins(group, [index], places, lengths)
        if ids:
            moved[(group.id(index),)] = ids
    if pinned and not moved:
        ids = _without_pins(group, pinned, places, lengths)
        if ids:
            moved[tuple(group.id(index) for index in pinned)] = ids
    return moved


def _without_pins(
    group: RowConstraints, unpinned: Sequence[int], places: Sequence[float], lengths: LengthFormat
) -> list[str]:
    """The ids of raceways without a pin that stand elsewhere when these pins are left out; none where the row
    has no places at all then.
    """
    cuts = list(group.cuts)
    for index in unpinned:
        cuts[index] = replace(cuts[index], raceway=replace(cuts[index].raceway, at_in=None))
    try:
        others = place_row(replace(group, cuts=tuple(cuts)), lengths)
    except RowError:  # the pin stands off the graduations, and only there is room
        return []
    free = {cut.raceway.id for cut in group.cuts if cut.raceway.at_in is None}
    return [id for id in _that_differ(group, places, others) if id in free]
