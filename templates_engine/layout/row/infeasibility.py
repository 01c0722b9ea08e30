"""Turns a row without places into every reason, with the room needed, the room there is and the room missing.

Reasons come one after the other, as they are asked for: a trial that fails needs the first alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templates_engine.geometry import TOLERANCE_IN
from templates_engine.job.model import KeepOut, Spread
from templates_engine.layout.row.constraints import RowConstraints
from templates_engine.layout.row.exact_search import PlacementProblem, fits
from templates_engine.layout.row.failure import FailureMessage, missing_words
from templates_engine.layout.row.free_runs import FreeRun, free_runs
from templates_engine.layout.row.shortfall import least_shortfall
from templates_engine.layout.row.snap_grid import ANYWHERE
from templates_engine.layout.row.wanted_places import placement_problem
from templates_engine.trade.not_in_tables import listed
from templates_engine.units import LengthFormat
from templates_engine.values import Struct

MOST_TRIED = 40
"""Keep-outs that are taken away one by one to find those that stand in the way."""
MOST_NAMED = 8
"""Keep-outs named in a sentence; further ones are counted."""


class Reason(Struct, frozen=True):
    """One thing that stops a row: in words, the length lacking (None where no length would help), and the
    raceways (by index) whose places it makes doubtful.
    """

    why: str
    missing_in: float | None
    about: tuple[int, ...] = ()

    def said(self, lengths: LengthFormat) -> str:
        if self.missing_in is None:
            return self.why
        return f"{self.why} {missing_words(self.missing_in, lengths)} is missing."


def told(group: RowConstraints, reasons: Sequence[Reason]) -> FailureMessage:
    """All reasons in words, and the most that one of them lacks."""
    sentences = " Also, ".join(reason.said(group.lengths) for reason in reasons)
    lacks = [reason.missing_in for reason in reasons if reason.missing_in is not None]
    most_in = max(lacks) if len(lacks) == len(reasons) else None
    return FailureMessage(f"Row {group.row.name} does not fit: {sentences}", most_in)


def reasons_against(group: RowConstraints) -> Iterator[Reason]:
    """Everything that stops a row, none when it has places.

    A run next to a raceway that cannot stand where it is put, or with one that can stand nowhere, is not
    measured.
    """
    doubtful: set[int] = set()
    has_limits = True
    for reason in _limits(group):
        has_limits = False
        yield reason
    for reasons in (_two_places, _nowhere, _bad_places, _bad_neighbours):
        for reason in reasons(group):
            doubtful.update(reason.about)
            yield reason
    for run in free_runs(group) if has_limits else ():
        if doubtful.isdisjoint(range(run.first - 1, run.last + 2)):
            problem = placement_problem(group, run, group.grid)
            if not fits(problem):
                yield _lack_of_room(group, run, problem)


def _limits(group: RowConstraints) -> Iterator[Reason]:
    """Limits of a spread row that do not lie on the face in their order."""
    placing, width_in, lengths = group.row.placing, group.face.width_in, group.lengths
    if not isinstance(placing, Spread):
        return
    if not -TOLERANCE_IN <= placing.low_in < placing.high_in <= width_in + TOLERANCE_IN:
        yield Reason(
            f"it is to be spread from {lengths.say(placing.low_in)} to {lengths.say(placing.high_in)}, "
            f"but the {group.face.face.value} face runs from 0 to {lengths.say(width_in)}.",
            None,
        )


def _two_places(group: RowConstraints) -> Iterator[Reason]:
    """A raceway that starts the row at one place and is pinned at another."""
    for index, start in group.start.items():
        pin = group.given[index]
        if abs(start.at_in - pin.at_in) > TOLERANCE_IN:
            id, at = group.id(index), f"centre at {group.lengths.say(start.at_in)}"
            key = "factory knockout" if group.cuts[index].raceway.factory_knockout else "at"
            puts = "" if start.words.endswith(at) else f", which puts its {at}"
            yield Reason(
                f"{id} {pin.words}, but it also {start.words}{puts}: "
                f"leave out {key}: of {id}, or place: of row {group.row.name}.",
                None,
                (index,),
            )


def _nowhere(group: RowConstraints) -> Iterator[Reason]:
    """Raceways that could stand nowhere even if they were alone."""
    word, lengths = group.face.face.value, group.lengths
    for index, cut in enumerate(group.cuts):
        id, (low, high) = group.id(index), group.flat(index)
        if high < low - TOLERANCE_IN:
            yield Reason(
                f"{id} needs a hole of {lengths.say(cut.diameter_in)}, but the flat of the "
                f"{word} face is {lengths.say(cut.diameter_in + high - low)} wide;",
                low - high,
                (index,),
            )
        elif index in group.given or group.allowed(index, group.grid):
            continue
        elif group.allowed(index, ANYWHERE):
            step = lengths.say(group.grid.step_in or 0.0)
            yield Reason(f"{id} has no place on a graduation of {step}.", None, (index,))
        else:
            near = f"{named(group.keep_outs)} and the edges leave no room for it."
            yield Reason(f"{id} has no place at all on the {word} face: {near}", None, (index,))


def _bad_places(group: RowConstraints) -> Iterator[Reason]:
    """Given places off the flat or too near a keep-out."""
    for index, place in group.given.items():
        low, high = group.flat(index)
        if high < low - TOLERANCE_IN:
            continue  # no place is on the flat, as told above
        head = f"{group.id(index)} {place.words},"
        over = max(low - place.at_in, place.at_in - high)
        if over > TOLERANCE_IN:
            yield Reason(f"{head} and its hole runs off the flat of the face;", over, (index,))
        for keep_out in group.keep_outs:
            if taken := group.met_by(index, place.at_in, keep_out):
                over = min(place.at_in - taken.low, taken.high - place.at_in)
                yield Reason(f"{head} and comes too near {_kept_off(keep_out)};", over, (index,))


def _kept_off(keep_out: KeepOut) -> str:
    """The keep-out, and for whose sake it is kept off where it does not say how far."""
    without = ", which gives no `clear`, for its fittings" if keep_out.clear_in is None else ""
    if keep_out.is_factory:
        without = ", for its fittings"
    return f'the keep-out "{keep_out.name}"{without}'


def _bad_neighbours(group: RowConstraints) -> Iterator[Reason]:
    """Neighbours whose given places are out of order or too close."""
    say = group.lengths.say
    for index, spacing in enumerate(group.spacings):
        one, other = group.given.get(index), group.given.get(index + 1)
        if one is None or other is None:
            continue
        apart = other.at_in - one.at_in
        if apart >= spacing.centres_in - TOLERANCE_IN:
            continue
        how = f"their centres are {say(apart)} apart and need {say(spacing.centres_in)};"
        if apart < 0:
            how = "that is the wrong order, raceways are listed in the order they stand;"
        pair = f"{group.id(index)} {one.words} and {group.id(index + 1)} {other.words}:"
        yield Reason(f"{pair} {how}", spacing.centres_in - apart)


# --- runs without room --------------------------------------------------------------------------------------


def _lack_of_room(group: RowConstraints, run: FreeRun, problem: PlacementProblem) -> Reason:
    """Why a run of free raceways has no places."""
    say, low, high = group.lengths.say, run.low, run.high
    needs = low.clear_in + group.centres_between(run.first, run.last) + high.clear_in
    there_is = high.at_in - low.at_in
    missing = group.grid.inches(least_shortfall(problem))
    graduations, off_graduations = say(group.grid.step_in or 0.0), placement_problem(group, run, ANYWHERE)
    verb = "needs" if run.first == run.last else "need"
    text = (
        f"between {low.words} and {high.words} {_ids(group, run)} "
        f"{verb} {say(needs)}, there is {say(there_is)}"
    )
    if needs > there_is + TOLERANCE_IN:
        off_graduations_in = least_shortfall(off_graduations)
        besides = {
            f"keeping off {named(_touching(group, run))}": off_graduations_in - (needs - there_is),
            f"standing on graduations of {graduations}": missing - off_graduations_in,
        }
        for what, more_in in besides.items():
            if more_in > TOLERANCE_IN:
                text += f", and {what} takes {missing_words(more_in, group.lengths)} more"
    elif fits(off_graduations):
        text += f", but not with every centre on a graduation of {graduations}"
    elif blockers := _blockers(group, run):
        text += f", but {named(blockers)} {'stands' if len(blockers) == 1 else 'stand'} in the way"
    return Reason(f"{text};", missing)


def _touching(group: RowConstraints, run: FreeRun) -> Sequence[KeepOut]:
    """The keep-outs that keep one of a run's raceways from some place."""
    cuts = ((index, group.cuts[index]) for index in run.indexes)
    one_of_each = {(cut.radius_in, cut.size.outside_diameter_in): index for index, cut in cuts}.values()
    return [one for one in group.keep_outs if any(group.forbidden_by(index, one) for index in one_of_each)]


def _blockers(group: RowConstraints, run: FreeRun) -> Sequence[KeepOut]:
    """The keep-outs each of which, taken away, lets the run fit; when none does, or so many touch it that no
    single one is to blame, all that touch it.
    """
    touching = _touching(group, run)
    if len(touching) > MOST_TRIED:
        return touching

    def fits_among(keep_outs: Sequence[KeepOut]) -> bool:
        return fits(placement_problem(group.with_keep_outs(keep_outs), run, ANYWHERE))

    alone = [one for one in touching if fits_among([other for other in touching if other is not one])]
    return touching if not alone and fits_among(()) else alone


def named(keep_outs: Sequence[KeepOut]) -> str:
    """The keep-outs by name, in a sentence."""
    names = [f'"{keep_out.name}"' for keep_out in keep_outs]
    if not names:
        return "the keep-outs"
    word = "keep-out" if len(names) == 1 else "keep-outs"
    if len(names) > MOST_NAMED:
        names = [*names[: MOST_NAMED - 1], f"{len(names) - MOST_NAMED + 1} more"]
    return f"the {word} {listed(names, 'and')}"


def _ids(group: RowConstraints, run: FreeRun) -> str:
    if run.first == run.last:
        return group.id(run.first)
    joint = "and" if run.last == run.first + 1 else "to"
    return f"{group.id(run.first)} {joint} {group.id(run.last)}"
