"""Turns what a rule read on taped sheets into a verdict: good, print again, a slip, or what to measure next.

The readings are explained with as little as will do: nothing wrong, then one cause, then two. A misread
reading is a cause like others, so one reading alone decides nothing. Where several explain them about
equally well nothing is decided, and distances are named that tell them apart.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from enum import Enum

from templates_engine.sheets.model import FacePlan
from templates_engine.units import Unit
from templates_engine.values import Struct, replace
from templates_engine.verify.causes import Cause, Effects, Kind, possible_causes
from templates_engine.verify.distances import Axis, Distance
from templates_engine.verify.explanation import Explanation, explanations
from templates_engine.verify.metal_thickness import both_walls, with_metal_read
from templates_engine.verify.next_readings import (
    ALLOWED_IN,
    ALLOWED_WORDS,
    distances_to_measure,
    joint_by_joint,
    names_of,
    placing_distances,
    telling_distances,
    worthwhile_distances,
)
from templates_engine.verify.readings import Reading

__all__ = ["ALLOWED_IN", "ALLOWED_WORDS", "Diagnosis", "Verdict", "diagnose", "distances_to_measure"]

READ_WITHIN_IN = 0.011
"""How far off a careful reading is, as a standard deviation: one to a 1/32 in mark, by a steady hand."""
COARSE = 16
"""A rule read to this fraction of an inch is off by half a mark, as much as is allowed."""
COARSER = 1.5
"""How much further off its readings are."""
ON_A_MARK = 1 / 16
"""A distance this part of a mark away from it reads as one."""
FIT_TO_PAGE = 0.02
"""No printer is further off: a print setting."""
GROSSLY = 2.0
"""Beside so gross an error readings may be this much further off."""
SURE = 0.9
"""What is at least so likely, of all that explains the readings, is said to be so."""
ABSURD = 0.1
"""What is less likely than this, beside the likeliest, is not offered."""
TO_SPARE = 2
"""So many readings more than wrongs are wanted before anything is said of the sheets."""
TO_SPARE_WITHOUT_BAR = 4
"""So many before a scale is believed that no bar was read for: slips may pass for one."""
UNKNOWNS_ON_CAN = 4
"""A slip along, one across, a turn, and the metal's thickness."""
MOST_RIVALS = 12
MOST_SHOWN = 4


class Verdict(Enum):
    """What to do with the sheets."""

    GOOD = "good"
    REPRINT = "reprint"
    SLIPPED = "a sheet slipped"
    CANNOT_TELL = "cannot tell"


_VERDICTS: dict[Kind, Verdict] = {
    "scale": Verdict.REPRINT,
    "sheet scale": Verdict.REPRINT,
    "lean": Verdict.REPRINT,
    "turn": Verdict.SLIPPED,
    "slip": Verdict.SLIPPED,
    "misread": Verdict.CANNOT_TELL,
}
"""What each kind of cause comes to, the gravest first: a wrong print, then how the sheets lie."""
_GRAVEST_FIRST = tuple(_VERDICTS)


class Diagnosis(Struct, frozen=True):
    """The verdict and what it rests on.

    ``causes`` are the causes and their amounts, the gravest first: a scale is how much too large sheets came
    out along the paper as it lies, as a share, and ``scale_within`` how far off that is; a slip is how far
    sheets lie off to the right (x) or toward the back edge (y). ``measure`` names distances to measure next.
    """

    verdict: Verdict
    causes: tuple[tuple[Cause, float], ...] = ()
    scale_within: float = 0.0
    measure: tuple[str, ...] = ()
    read_again: str = ""
    """A reading that all the others contradict."""
    all_good_so_far: bool = False
    too_coarse: bool = False
    """The rule seems to have been read to 1/16 in."""
    possible: tuple[Diagnosis, ...] = ()
    """What would explain the readings about equally well, the likeliest first."""

    def scale(self, axis: Axis) -> float | None:
        """How much too large the sheets came out along an axis; None where the readings do not say."""
        found = (amount for cause, amount in self.causes if (cause.kind, cause.axis) == ("scale", axis))
        return next(found, None)


def diagnose(plan: FacePlan, readings: Sequence[Reading], unit: Unit = "in") -> Diagnosis:
    """What the readings of one face say of its sheets; bars are named with the side of ``unit``.

    From inside where the job does not give the metal's thickness, it is taken from readings from both walls;
    until then readings from the can say nothing, and sheets are not good.
    """
    known, readings = with_metal_read(plan, readings)
    needed: tuple[Distance, ...] = ()
    if known.rule_edges is None:
        readings, needed = [one for one in readings if not any(one.distance.on_can)], both_walls(plan)
    elif plan.rule_edges is None:
        needed = placing_distances(known, [one.distance for one in readings])
    if any(abs(one.off_in) > ALLOWED_IN + 1e-9 for one in readings):
        return _explained(known, readings, unit, metal_is_read=known is not plan)
    missing = (*distances_to_measure(known, [one.distance for one in readings]), *needed)
    if missing:
        measure = tuple(dict.fromkeys(names_of(missing)))
        return Diagnosis(Verdict.CANNOT_TELL, measure=measure, all_good_so_far=True)
    return Diagnosis(Verdict.GOOD)


def _explained(plan: FacePlan, readings: Sequence[Reading], unit: Unit, *, metal_is_read: bool) -> Diagnosis:
    """What is wrong, of readings some of which are off; or what would tell."""
    given, is_metric = [one.distance for one in readings], unit == "mm"
    effects = Effects(plan)
    from_can = any(any(distance.on_can) for distance in given)
    distances = worthwhile_distances(plan, from_can, is_metric)
    causes = _told_apart(possible_causes(plan, from_can), [*given, *distances], effects)
    causes += (Cause("misread", reading=number) for number in range(len(readings)))
    coarse = not is_metric and _is_coarse(readings)
    rule = _RuleAccuracy(READ_WITHIN_IN * (COARSER if coarse else 1), ALLOWED_IN * (COARSER if coarse else 1))
    if all(abs(one.off_in) <= rule.worst_in for one in readings):
        off = (one.distance for one in readings if abs(one.off_in) > ALLOWED_IN + 1e-9)
        return Diagnosis(Verdict.CANNOT_TELL, measure=names_of(off), too_coarse=True)
    found = _by_likelihood(explanations(readings, causes, effects, rule.within_in))
    rivals = [one for one in found if one.worst_in <= rule.worst_in + 1e-9]
    if not rivals:
        gross = [one for one in found if one.worst_in <= GROSSLY * rule.worst_in + 1e-9]
        if gross and _is_scale_alone(gross[0]) and _share(gross, _is_fit_to_page) >= SURE:
            return _fit_to_page(gross[0], rule)
        again = joint_by_joint(plan, distances, readings, effects)
        return Diagnosis(Verdict.CANNOT_TELL, measure=names_of(again), too_coarse=coarse)
    best = rivals[0]
    unread = _bars_unread(best, given, distances) or (
        _places_unread(best, given, distances, effects) if metal_is_read else ()
    )
    share = _share(rivals, lambda one: one.includes(best, 2 * rule.within_in))
    is_about_sheets = best.is_about_sheets and len(readings) >= len(best.causes) + TO_SPARE and not unread
    if is_about_sheets and share >= SURE and (not coarse or _is_plain(best, readings)):
        return _diagnosed(best, rule)
    if not unread and _is_fit_to_page(best) and _share(rivals, _is_fit_to_page) >= SURE:
        return _fit_to_page(best, rule)  # whatever slipped or was misread besides, it is to be printed again
    if share >= SURE and len(best.causes) == 1 and best.misread:
        name = given[best.misread[0]].name
        return Diagnosis(Verdict.CANNOT_TELL, _causes(best), read_again=name, measure=(name,))
    named = unread or telling_distances(rivals[:MOST_RIVALS], distances, readings, effects)
    worth_saying = [one for one in rivals if one.log_weight >= best.log_weight + math.log(ABSURD)]
    possible = tuple(_diagnosed(one, rule) for one in worth_saying[:MOST_SHOWN])
    return Diagnosis(Verdict.CANNOT_TELL, measure=names_of(named), possible=possible, too_coarse=coarse)


class _RuleAccuracy(Struct, frozen=True):
    """How far off readings are, as a standard deviation and at most."""

    within_in: float
    worst_in: float


def _is_coarse(readings: Sequence[Reading]) -> bool:
    """Whether all was read to 1/16 in, though most distances lie between such marks."""

    def off_mark(length_in: float) -> float:
        return abs(length_in * COARSE - round(length_in * COARSE))

    between = sum(off_mark(one.distance.length_in) > ON_A_MARK for one in readings)
    return all(off_mark(one.read_in) < 1e-6 for one in readings) and 2 * between > len(readings)


def _by_likelihood(found: Iterable[Explanation]) -> list[Explanation]:
    return sorted(found, key=lambda one: -one.log_weight)


def _share(found: Sequence[Explanation], wanted: Callable[[Explanation], bool]) -> float:
    """How likely one of the wanted explanations is true, if one of all is; the likeliest comes first."""
    weights = [math.exp(one.log_weight - found[0].log_weight) for one in found]
    return sum(weight for one, weight in zip(found, weights, strict=True) if wanted(one)) / sum(weights)


def _is_plain(one: Explanation, readings: Sequence[Reading]) -> bool:
    """Whether even readings to 1/16 in show it: one scale or slip that comes to two such marks."""
    plain = len(one.causes) == 1 and one.causes[0].kind in ("scale", "slip")
    shown = (abs(each.off_in - left) for each, left in zip(readings, one.left_in, strict=True))
    return plain and one.worst_in <= ALLOWED_IN + 1e-9 and max(shown) >= 2 / COARSE


def _is_fit_to_page(one: Explanation) -> bool:
    """Whether it says that the whole print is off by more than a printer can be."""
    pairs = zip(one.causes, one.amounts, strict=True)
    return any(cause.kind == "scale" and abs(amount) > FIT_TO_PAGE for cause, amount in pairs)


def _is_scale_alone(one: Explanation) -> bool:
    return {cause.kind for cause in one.causes} == {"scale"}


def _bars_unread(
    one: Explanation, given: Sequence[Distance], distances: Sequence[Distance]
) -> tuple[Distance, ...]:
    """The bars to read before a scale is believed that other things could pass for.

    Of a sheet that is said to be off scale alone, its own and one of another; of a whole print that is said
    to be off scale, one along that axis where little else was read, or where something else is said as well.
    """
    bars = [distance for distance in distances if distance.bar]
    read = {distance.bar for distance in given if distance.bar}
    kinds = {cause.kind for cause in one.causes}
    few = len(given) < len(one.causes) + TO_SPARE_WITHOUT_BAR
    if "scale" in kinds and (few or not _is_scale_alone(one)):
        axes = {cause.axis for cause in one.causes if cause.kind == "scale"}
        axes -= {axis for _, axis in read}
        along = {
            distance.bar[1]: distance for distance in reversed(bars) if distance.bar
        }  # the first sheet's
        return tuple(distance for axis, distance in along.items() if axis in axes)
    accused = {cause.sheets[0] for cause in one.causes if cause.kind == "sheet scale"}
    if not accused:
        return ()
    sheets_read = {sheet for sheet, _ in read}
    own = [distance for distance in bars if distance.bar and distance.bar[0] in accused - sheets_read]
    others = [distance for distance in bars if distance.bar and distance.bar[0] not in accused]
    return (*own, *(others[:1] if sheets_read <= accused else ()))


def _places_unread(
    one: Explanation, given: Sequence[Distance], distances: Sequence[Distance], effects: Effects
) -> tuple[Distance, ...]:
    """From the can, before it is believed how all sheets lie on it, where the metal's thickness was read too:
    two distances that show a turn best, unless one more was read than there are unknowns.
    """
    accused = [cause for cause in one.causes if cause.is_all]
    read = {distance.key for distance in given if any(distance.on_can)}
    if not accused or len(read) > UNKNOWNS_ON_CAN:
        return ()
    turn = Cause("turn", None, accused[0].sheets, is_all=True)
    unread = [distance for distance in distances if any(distance.on_can) and distance.key not in read]
    return tuple(sorted(unread, key=lambda distance: -abs(effects.effect(turn, distance)))[:2])


def _told_apart(causes: Iterable[Cause], distances: Sequence[Distance], effects: Effects) -> list[Cause]:
    """The causes less those that no distance can tell from an earlier one, or that none can show."""
    kept: dict[tuple[float, ...], Cause] = {}
    for cause in causes:
        sizes = [round(effects.effect(cause, distance), 6) for distance in distances]
        lead = next((size for size in sizes if size), 0.0)
        if not lead or max(map(abs, sizes)) < 0.25:
            continue
        sign = 1 if lead > 0 else -1
        kept.setdefault(tuple(sign * size + 0.0 for size in sizes), cause)
    return list(kept.values())


def _fit_to_page(best: Explanation, rule: _RuleAccuracy) -> Diagnosis:
    """A print that is grossly off; what else may be wrong shows on the next one."""
    diagnosis = _diagnosed(best, rule)
    return replace(diagnosis, causes=tuple(one for one in diagnosis.causes if one[0].kind == "scale"))


# --- from an explanation to a verdict -----------------------------------------------------------------------


def _causes(one: Explanation) -> tuple[tuple[Cause, float], ...]:
    pairs = zip(one.causes, one.amounts, strict=True)
    return tuple(sorted(pairs, key=lambda pair: _GRAVEST_FIRST.index(pair[0].kind)))


def _diagnosed(best: Explanation, rule: _RuleAccuracy) -> Diagnosis:
    """What an explanation says, its gravest cause first: a wrong print, then how the sheets lie."""
    causes = _causes(best)
    gravest, _ = causes[0]
    within = max(best.within) * rule.within_in if gravest.kind == "scale" else 0.0
    return Diagnosis(_VERDICTS[gravest.kind], causes, within)
