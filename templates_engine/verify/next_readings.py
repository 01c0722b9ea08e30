"""Names the distances whose readings would settle what is wrong with taped sheets, or that nothing is."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from templates_engine.sheets.model import FacePlan
from templates_engine.verify.causes import Cause, Effects, joint_slips, lone_slips
from templates_engine.verify.distances import Distance, bar_distances, edge_distances
from templates_engine.verify.explanation import Explanation
from templates_engine.verify.readings import Reading, hole_distances

ALLOWED_IN = 1 / 32
"""Over the row, from layout to metal."""
ALLOWED_WORDS = {"in": "1/32 in", "mm": "0.8 mm"}
"""It as a rule of either unit shows it."""
LONG_ENOUGH = 0.75
"""A row is measured once a reading distances this share of it."""
SHORT_ROW_IN = 6.0
"""Over less than this no error that a printer makes comes to ALLOWED_IN."""
SEEN = 0.5
"""A reading shows a direction when at least this share of an error along it comes into the reading."""
MOST_NAMED = 4
MOST_DISTANCES = 600
_PLAIN_IN = 0.25
"""Beyond this two explanations are told apart no better for being further apart."""


def worthwhile_distances(plan: FacePlan, from_can: bool, is_metric: bool) -> list[Distance]:
    """All that is worth measuring: pairs of holes, holes from the can's edges where that is done, bars."""
    edges = edge_distances(plan) if from_can else ()
    return [*_worthy_holes(plan), *edges, *bar_distances(plan, is_metric)]


def telling_distances(
    rivals: Sequence[Explanation],
    distances: Sequence[Distance],
    readings: Sequence[Reading],
    effects: Effects,
) -> tuple[Distance, ...]:
    """Few distances whose readings would tell the rivals apart, the most telling first; never none.

    A distance that was read is named only where reading it again tells more than any other.
    """
    read = {one.distance.key for one in readings}
    fresh = [distance for distance in distances if distance.key not in read]
    again = [
        one.distance
        for one in readings
        if any(readings[n].distance.key == one.distance.key for r in rivals for n in r.misread)
    ]
    chosen: list[Distance] = []
    open_pairs = {(a, b) for a in range(len(rivals)) for b in range(a)}
    for pool in (fresh, again):
        offs = {distance: [one.expected_off_in(distance, effects) for one in rivals] for distance in pool}
        while open_pairs and len(chosen) < MOST_NAMED:
            best = max(pool, key=lambda distance: _worth(offs[distance], open_pairs), default=None)
            settled = {pair for pair in open_pairs if best and _apart(offs[best], pair) > ALLOWED_IN}
            if best is None or not settled:
                break
            chosen.append(best)
            open_pairs -= settled
    if len(rivals) == 1 and fresh:
        chosen.append(max(fresh, key=lambda distance: abs(rivals[0].expected_off_in(distance, effects))))
    return tuple(chosen) or _longest(fresh) or _worst(readings)


def joint_by_joint(
    plan: FacePlan, distances: Sequence[Distance], readings: Sequence[Reading], effects: Effects
) -> tuple[Distance, ...]:
    """What to read when several things are wrong at once: each joint by its nearest holes, then the bars."""
    read = {one.distance.key for one in readings}
    fresh = [distance for distance in distances if distance.key not in read]
    chosen: list[Distance] = []
    for slip in joint_slips(plan):
        over = [
            distance
            for distance in fresh
            if distance.bar is None and abs(effects.effect(slip, distance)) > SEEN
        ]
        if over:
            chosen.append(min(over, key=lambda distance: (distance.length_in, distance.name)))
    chosen += (distance for distance in fresh if distance.bar is not None)
    return tuple(dict.fromkeys(chosen))[:MOST_NAMED] or _longest(fresh) or _worst(readings)


def distances_to_measure(plan: FacePlan, given: Sequence[Distance]) -> tuple[Distance, ...]:
    """What must read true, besides what was given, before the sheets are good.

    The whole row is measured, over every joint that has holes on both sides, and to every sheet with a hole:
    one that slipped alone leaves what is measured past it as it was. A slip along a joint shows from another
    row, or else from the can's edges, where a rule can be set to them.
    """
    effects = Effects(plan)
    holes = _worthy_holes(plan)
    needs: list[tuple[Cause, Sequence[Distance], float]] = []
    for axis in ("x", "y"):
        scale = Cause("scale", axis)
        most = max((effects.effect(scale, distance) for distance in holes), default=0.0)
        needs.append((scale, holes, LONG_ENOUGH * most if most > SHORT_ROW_IN else 0.0))
    distances = [*holes, *edge_distances(plan)]
    needs += ((slip, distances, SEEN) for slip in _slips_between(plan))
    chosen: list[Distance] = []
    for cause, pool, least in needs:
        if least and all(
            abs(effects.effect(cause, distance)) < least - 1e-9 for distance in (*given, *chosen)
        ):
            best = max(pool, key=lambda distance: abs(effects.effect(cause, distance)), default=None)
            if best and abs(effects.effect(cause, best)) >= least - 1e-9:
                chosen.append(best)
    return tuple(dict.fromkeys(chosen))


def hidden_slips(plan: FacePlan) -> tuple[int, ...]:
    """The sheets with a hole whose slip along their joints no distance shows: a rule finds no edge there."""
    effects = Effects(plan)
    distances = [*_worthy_holes(plan), *edge_distances(plan)]
    with_hole = {effects.sheet_at(plan.centre_of(hole)) for hole in plan.layout.holes}
    return tuple(
        slip.sheets[0]
        for slip in lone_slips(plan)
        if slip.axis == "y"
        and len(slip.sheets) == 1
        and slip.sheets[0] in with_hole
        and len(plan.sheets) > 1
        and all(abs(effects.effect(slip, distance)) < SEEN for distance in distances)
    )


def _slips_between(plan: FacePlan) -> Iterator[Cause]:
    """All slips of some sheets against others."""
    for slip in dict.fromkeys((*joint_slips(plan), *lone_slips(plan))):
        if len(slip.sheets) < len(plan.sheets):
            yield slip


def placing_distances(plan: FacePlan, given: Sequence[Distance]) -> tuple[Distance, ...]:
    """Distances from the can's edges that still would show whether good sheets lie true on it."""
    read = [distance for distance in given if any(distance.on_can)]
    along = [distance for distance in edge_distances(plan) if abs(distance.along.x) > SEEN]
    upright = [distance for distance in edge_distances(plan) if abs(distance.along.y) > SEEN]
    named: list[Distance] = []
    if not any(abs(distance.along.x) > SEEN for distance in read):
        named += along[:1]
    if not any(abs(distance.along.y) > SEEN for distance in read):
        named += (*upright[:1], *upright[-1:])
    return tuple(dict.fromkeys(named))


# --- choosing -----------------------------------------------------------------------------------------------


def _worthy_holes(plan: FacePlan) -> list[Distance]:
    """Pairs of holes; of very many, the longest and those of neighbours."""
    distances = list(hole_distances(plan))
    if len(distances) <= MOST_DISTANCES:
        return distances
    distances.sort(key=lambda distance: -distance.length_in)
    return distances[: MOST_DISTANCES // 2] + distances[-MOST_DISTANCES // 2 :]


def _apart(offs: Sequence[float], pair: tuple[int, int]) -> float:
    return abs(offs[pair[0]] - offs[pair[1]])


def _worth(offs: Sequence[float], open_pairs: set[tuple[int, int]]) -> tuple[int, float]:
    """How many pairs of rivals a reading settles, and how plainly."""
    apart = [_apart(offs, pair) for pair in sorted(open_pairs)]
    plainly = sum(min(one, _PLAIN_IN) for one in apart)
    return sum(one > ALLOWED_IN for one in apart), round(plainly, 6)


def _longest(fresh: Sequence[Distance]) -> tuple[Distance, ...]:
    """The longest distances: what a scale error shows best in."""
    return tuple(sorted(fresh, key=lambda distance: -distance.length_in)[:2])


def _worst(readings: Sequence[Reading]) -> tuple[Distance, ...]:
    """The reading that is furthest off, to be read again."""
    return (max(readings, key=lambda one: abs(one.off_in)).distance,)


def names_of(distances: Iterable[Distance]) -> tuple[str, ...]:
    """Distances as they are typed before the = of a reading: "A1-A7"."""
    return tuple(distance.name for distance in distances)
