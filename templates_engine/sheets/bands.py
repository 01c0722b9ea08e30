"""Joins both axes of a face: level joints cut it into bands, and each band gets upright joints of its own.

::

    +---------+---------------+
    |    1    |       2       |   band 0        level joints run from end to end; upright joints of
    +------+--+-----+---------+                 neighbouring bands meet, or stand LEAST_STRETCH_IN apart
    |  3   |   4    |    5    |   band 1
    +------+--------+---------+

What joints do to holes is for field; which sheets they make, for tiles.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain

from templates_engine.sheets.field import Field, Joints, Places
from templates_engine.sheets.joints import CIRCLE_HARM, Axis, Obstacle, harm_at, joint_places
from templates_engine.sheets.level import LevelSearch
from templates_engine.sheets.settle import Settling

MOST_SETTLED = 20
"""How many choices of level joints are settled before the best of them is taken."""


def best_joints(field: Field) -> Joints:
    """The joints that do least harm with fewest sheets; upright ones run through where that costs nothing.

    Every band takes as many columns: a further one would be a further sheet. With one band or one column, and
    wherever no hole need be harmed, the straight joints are the best there are. Else each band's joints are
    weighed alone for the level joints to choose from (``LevelSearch``), and for those the upright ones are
    settled together (``_settled``). With one level joint that is exact as far as MOST_TRIED and MOST_SETTLED
    reach; with more, upright joints are exact for the level ones that leave the bands alone the least harm.
    """
    best = straight_joints(field)
    harm = field.harm(best)
    if field.across.count == 1 or field.down.count == 1 or harm == 0:
        return best
    choices = [(0, best.level), *LevelSearch(field).choices(harm)]
    for least, level in choices[:MOST_SETTLED]:
        if least >= field.harm(best):
            break
        best = min(best, _settled(field, level), key=field.rank)
    return best


def straight_joints(field: Field) -> Joints:
    """Every upright joint from top to bottom: either axis is at its best alone."""
    level = joint_places(field.down, field.level_obstacles)
    upright = joint_places(field.across, tuple(hole.across for hole in field.holes))
    assert level is not None
    assert upright is not None
    return Joints(level, (upright,) * field.down.count)


def _settled(field: Field, level: Places) -> Joints:
    """Upright joints for each band between the level ones: the best that any start leads to, or, where they
    still cut a hole, the least harmful there are (``Settling``).
    """
    obstacles = [field.band_obstacles(rows) for rows in field.bands(level)]
    found = (
        _improved(field, Joints(level, _outward(field, obstacles, fixed)), obstacles)
        for fixed in _starts(field, obstacles)
    )
    best = min(found, key=field.rank)
    cuts = field.harm(best) // CIRCLE_HARM
    better = Settling(field, level).better_than(cuts * CIRCLE_HARM) if cuts else None
    return _improved(field, Joints(level, better), obstacles) if better else best


def _starts(field: Field, obstacles: Sequence[tuple[Obstacle, ...]]) -> Iterator[dict[int, Places]]:
    """Joints of one or more bands to begin with, by the bands' numbers.

    Each band at its best alone; two neighbours with joints that run through both; all of them; and where a
    band has a single joint, every place of it that can matter in the first.
    """
    bands = range(len(obstacles))
    for band in bands:
        yield {band: _straight(field, obstacles[band : band + 1])}
    for band in bands[:-1]:
        through = _straight(field, obstacles[band : band + 2])
        yield {band: through, band + 1: through}
    yield dict.fromkeys(bands, _straight(field, obstacles))
    if field.across.count == 2:
        for place in _ends_of_stretches(field.across, obstacles[0]):
            yield {0: (place,)}


def _straight(field: Field, obstacles: Sequence[tuple[Obstacle, ...]]) -> Places:
    """The best joints that run through all of some bands."""
    places = joint_places(field.across, tuple(chain.from_iterable(obstacles)))
    assert places is not None
    return places


def _outward(
    field: Field, obstacles: Sequence[tuple[Obstacle, ...]], fixed: dict[int, Places]
) -> tuple[Places, ...]:
    """The fixed bands' joints, then each further band at its best beside the one before it."""
    chosen = dict(fixed)
    below, above = range(max(fixed) + 1, len(obstacles)), range(min(fixed) - 1, -1, -1)
    for band, beside in (*((one, one - 1) for one in below), *((one, one + 1) for one in above)):
        places = joint_places(field.across, obstacles[band], (chosen[beside],))
        assert places is not None  # to meet all joints of the band beside is always possible
        chosen[band] = places
    return tuple(chosen[band] for band in range(len(obstacles)))


def _ends_of_stretches(across: Axis, obstacles: tuple[Obstacle, ...]) -> Iterator[float]:
    """Both ends of every stretch along which a single joint does the same harm.

    From one end or the other a stretch leaves a joint beside it the most room, so no other place need be
    tried for the first of two bands; where the two joints meet, they are straight.
    """
    (places,) = across.stages(obstacles)
    harms = [harm_at(place, obstacles) for place in places]
    for index, place in enumerate(places):
        around = harms[max(index - 1, 0) : index + 2]
        if len(around) < 3 or len(set(around)) > 1:
            yield place


def _improved(field: Field, joints: Joints, obstacles: Sequence[tuple[Obstacle, ...]]) -> Joints:
    """One band after another set anew between its neighbours, for as long as that helps."""
    best, rank = joints, field.rank(joints)
    changed = True
    while changed:
        changed = False
        for band, own in enumerate(obstacles):
            upright = best.upright
            neighbours = upright[max(band - 1, 0) : band] + upright[band + 1 : band + 2]
            places = joint_places(field.across, own, neighbours)
            if places is None:
                continue
            tried = Joints(best.level, (*upright[:band], places, *upright[band + 1 :]))
            if (found := field.rank(tried)) < rank:
                best, rank, changed = tried, found, True
    return best
