"""Turns a row without places into every reason, with the room needed, the room there is and the room missing.

Reasons come one after the other, as they are asked for: a trial that fails needs the first alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from templates_engine.geometry import Interval
from templates_engine.job.model import KeepOut, Spread
from templates_engine.layout.row.constraints import RowConstraints
from templates_engine.layout.row.exact_search import PlacementProblem, fits
from templates_engine.layout.row.failure import FailureMessage
from templates_engine.layout.row.free_runs import FreeRun, GivenPlace, free_runs, start_of
from templates_engine.layout.row.shortfall import least_shortfall
from templates_engine.layout.row.snap_grid import SnapGrid
from templates_engine.layout.tolerance import TOLERANCE_IN
from templates_engine.units import LengthFormat
from templates_engine.values import Struct

MOST_TRIED = 40
"""Keep-outs that are taken away one by one to find those that stand in the way."""
MOST_NAMED = 8
"""Keep-outs named in a sentence; further ones are counted."""

LineOf = Callable[[RowConstraints, FreeRun, SnapGrid], PlacementProblem]


class Reason(Struct, frozen=True):
    """One thing that stops a row: in words, the length lacking (None where no length would help), and the
    raceways (by index) whose places it makes doubtful.
    """

    why: str
    missing_in: float | None
    about: tuple[int, ...] = ()


def missing_words(missing_in: float, lengths: LengthFormat) -> str:
    """The lack in decimals, for rounded it would be too little; never "0 in" for one too small to show."""
    said = lengths.exact(missing_in)
    return f"less than 0.01 {lengths.unit}" if said == "0" else f"{said} {lengths.unit}"


def told(group: RowConstraints, reasons: Sequence[Reason], lengths: LengthFormat) -> FailureMessage:
    """All reasons in words, and the most that one of them lacks."""
    sentences = [_sentence(reason, lengths) for reason in reasons]
    message = f"Row {group.row.name} does not fit: {' Also, '.join(sentences)}"
    lacks = [reason.missing_in for reason in reasons]
    return FailureMessage(message, None if None in lacks else max(lack for lack in lacks if lack is not None))


def _sentence(reason: Reason, lengths: LengthFormat) -> str:
    if reason.missing_in is None:
        return reason.why
    return f"{reason.why} {missing_words(reason.missing_in, lengths)} is missing."


def reasons_against(
    group: RowConstraints,
    fixed: Mapping[int, GivenPlace],
    line_of: LineOf,
    grid: SnapGrid,
    lengths: LengthFormat,
) -> Iterator[Reason]:
    """Everything that stops a row, none when it has places; ``line_of`` turns a run into a PlacementProblem.

    A run next to a raceway that cannot stand where it is put, or with one that can stand nowhere, is not
    measured.
    """
    doubtful: set[int] = set()
    has_limits = True
    for reason in _limits(group, lengths):
        has_limits = False
        yield reason
    for reasons in (
        _two_places(group, fixed, grid, lengths),
        _nowhere(group, fixed, grid, lengths),
        _bad_places(group, fixed, lengths),
        _bad_neighbours(group, fixed, lengths),
    ):
        for reason in reasons:
            doubtful.update(reason.about)
            yield reason
    if has_limits:
        for run in free_runs(group, fixed, lengths):
            if doubtful.isdisjoint(range(run.first - 1, run.last + 2)):
                line = line_of(group, run, grid)
                if not fits(line):
                    yield _lack_of_room(group, run, line, line_of, grid, lengths)


def _limits(group: RowConstraints, lengths: LengthFormat) -> Iterator[Reason]:
    """Limits of a spread row that do not lie on the face in their order."""
    placing, width_in = group.row.placing, group.face.width_in
    if not isinstance(placing, Spread):
        return
    if not -TOLERANCE_IN <= placing.low_in < placing.high_in <= width_in + TOLERANCE_IN:
        yield Reason(
            f"it is to be spread from {lengths.say(placing.low_in)} to {lengths.say(placing.high_in)}, "
            f"but the {group.face.face.value} face runs from 0 to {lengths.say(width_in)}.",
            None,
        )


def _two_places(
    group: RowConstraints, fixed: Mapping[int, GivenPlace], grid: SnapGrid, lengths: LengthFormat
) -> Iterator[Reason]:
    """A raceway that starts the row at one place and is pinned at another."""
    for index, start in start_of(group, grid, lengths).items():
        if abs(start.at_in - fixed[index].at_in) > TOLERANCE_IN:
            id, at = group.id(index), f"centre at {lengths.say(start.at_in)}"
            key = "factory knockout" if group.cuts[index].raceway.factory_knockout else "at"
            puts = "" if start.words.endswith(at) else f", which puts its {at}"
            yield Reason(
                f"{id} {fixed[index].words}, but it also {start.words}{puts}: "
                f"leave out {key}: of {id}, or place: of row {group.row.name}.",
                None,
                (index,),
            )


def _nowhere(
    group: RowConstraints, fixed: Mapping[int, GivenPlace], grid: SnapGrid, lengths: LengthFormat
) -> Iterator[Reason]:
    """Raceways that could stand nowhere even if they were alone."""
    word = group.face.face.value
    for index, cut in enumerate(group.cuts):
        low, high = group.flat(index)
        if high < low - TOLERANCE_IN:
            yield Reason(
                f"{group.id(index)} needs a hole of {lengths.say(cut.diameter_in)}, but the flat of the "
                f"{word} face is {lengths.say(cut.diameter_in + high - low)} wide;",
                low - high,
                (index,),
            )
        elif index not in fixed:
            allowed = group.allowed(index)
            if not allowed:
                why = (
                    f"{group.id(index)} has no place at all on the {word} face: "
                    f"{named(group.keep_outs)} and the edges leave no room for it."
                )
                yield Reason(why, None, (index,))
            elif not group.allowed(index, grid):
                step = lengths.say(grid.step_in or 0.0)
                yield Reason(f"{group.id(index)} has no place on a graduation of {step}.", None, (index,))


def _bad_places(
    group: RowConstraints, fixed: Mapping[int, GivenPlace], lengths: LengthFormat
) -> Iterator[Reason]:
    """Given places off the flat or too near a keep-out."""
    for index, place in fixed.items():
        low, high = group.flat(index)
        if high < low - TOLERANCE_IN:
            continue  # no place is on the flat, as told above
        head = f"{group.id(index)} {place.words},"
        over = max(low - place.at_in, place.at_in - high)
        if over > TOLERANCE_IN:
            yield Reason(f"{head} and its hole runs off the flat of the face;", over, (index,))
        for keep_out in group.keep_outs:
            taken = group.forbidden_by(index, keep_out)
            if taken is not None and _inside(place.at_in, taken):
                over = min(place.at_in - taken.low, taken.high - place.at_in)
                yield Reason(f"{head} and comes too near {_kept_off(keep_out)};", over, (index,))


def _kept_off(keep_out: KeepOut) -> str:
    """The keep-out, and for whose sake it is kept off where it does not say how far."""
    without = ", which gives no `clear`, for its fittings" if keep_out.clear_in is None else ""
    if keep_out.is_factory:
        without = ", for its fittings"
    return f'the keep-out "{keep_out.name}"{without}'


def _bad_neighbours(
    group: RowConstraints, fixed: Mapping[int, GivenPlace], lengths: LengthFormat
) -> Iterator[Reason]:
    """Neighbours whose given places are out of order or too close."""
    for index, spacing in enumerate(group.spacings):
        if index not in fixed or index + 1 not in fixed:
            continue
        apart = fixed[index + 1].at_in - fixed[index].at_in
        if apart >= spacing.centres_in - TOLERANCE_IN:
            continue
        pair = f"{group.id(index)} {fixed[index].words} and {group.id(index + 1)} {fixed[index + 1].words}:"
        if apart < 0:
            how = "that is the wrong order, raceways are listed in the order they stand;"
        else:
            how = f"their centres are {lengths.say(apart)} apart and need {lengths.say(spacing.centres_in)};"
        yield Reason(f"{pair} {how}", spacing.centres_in - apart)


def _lack_of_room(
    group: RowConstraints,
    run: FreeRun,
    line: PlacementProblem,
    line_of: LineOf,
    grid: SnapGrid,
    lengths: LengthFormat,
) -> Reason:
    """Why a run of free raceways has no places."""
    needs = run.low.clear_in + group.centres_between(run.first, run.last) + run.high.clear_in
    there_is = run.high.at_in - run.low.at_in
    missing = grid.inches(least_shortfall(line))
    verb = "needs" if run.first == run.last else "need"
    text = (
        f"between {run.low.words} and {run.high.words} {_ids(group, run)} "
        f"{verb} {lengths.say(needs)}, there is {lengths.say(there_is)}"
    )
    if needs > there_is + TOLERANCE_IN:
        off_graduations_in = least_shortfall(line_of(group, run, SnapGrid(None)))
        kept_off = f"keeping off {named(_touching(group, run))}"
        on_graduations = f"standing on graduations of {lengths.say(grid.step_in or 0.0)}"
        text += _taken_besides(off_graduations_in - (needs - there_is), kept_off, lengths)
        text += _taken_besides(missing - off_graduations_in, on_graduations, lengths)
        return Reason(f"{text};", missing)
    if fits(line_of(group, run, SnapGrid(None))):
        step = lengths.say(grid.step_in or 0.0)
        return Reason(f"{text}, but not with every centre on a graduation of {step};", missing)
    blockers = _blockers(group, run, line_of)
    if blockers:
        text += f", but {named(blockers)} {'stands' if len(blockers) == 1 else 'stand'} in the way"
    return Reason(f"{text};", missing)


def _taken_besides(more_in: float, what: str, lengths: LengthFormat) -> str:
    """What keep-outs or graduations take of a run that is too short without them already."""
    if more_in <= TOLERANCE_IN:
        return ""
    return f", and {what} takes {missing_words(more_in, lengths)} more"


def _touching(group: RowConstraints, run: FreeRun) -> Sequence[KeepOut]:
    """The keep-outs that keep one of a run's raceways from some place."""
    cuts = enumerate(group.cuts[run.first : run.last + 1], run.first)
    one_of_each = {(cut.radius_in, cut.size.outside_diameter_in): index for index, cut in cuts}.values()
    return [one for one in group.keep_outs if any(group.forbidden_by(index, one) for index in one_of_each)]


def _blockers(group: RowConstraints, run: FreeRun, line_of: LineOf) -> Sequence[KeepOut]:
    """The keep-outs each of which, taken away, lets the run fit; when none does, or so many touch it that
    no single one is to blame, all that touch it.
    """
    touching = _touching(group, run)
    if len(touching) > MOST_TRIED:
        return touching

    def fits_among(keep_outs: Sequence[KeepOut]) -> bool:
        return fits(line_of(group.with_keep_outs(keep_outs), run, SnapGrid(None)))

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
    return f"the {word} {', '.join(names[:-1])} and {names[-1]}" if names[1:] else f"the {word} {names[0]}"


def _ids(group: RowConstraints, run: FreeRun) -> str:
    if run.first == run.last:
        return group.id(run.first)
    joint = "and" if run.last == run.first + 1 else "to"
    return f"{group.id(run.first)} {joint} {group.id(run.last)}"


def _inside(place_in: float, taken: Interval) -> bool:
    return taken.low + TOLERANCE_IN < place_in < taken.high - TOLERANCE_IN
