"""A row without places into the reason, with the room needed, the room there is and the room missing."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from templates_engine.geometry import Interval
from templates_engine.job.model import KeepOut, Spread
from templates_engine.layout.failure import RowError, Told
from templates_engine.layout.grid import Grid
from templates_engine.layout.members import Members
from templates_engine.layout.row_solver import Line, fits
from templates_engine.layout.shortfall import least_shortfall
from templates_engine.layout.stretches import Fixed, Stretch
from templates_engine.layout.tolerance import TOLERANCE_IN
from templates_engine.units import Speech

MOST_TRIED = 40
"""Keep-outs that are taken away one by one to find those that stand in the way."""
MOST_NAMED = 8
"""Keep-outs named in a sentence; further ones are counted."""

LineOf = Callable[[Members, Stretch, Grid], Line]


def missing_words(missing_in: float, speech: Speech) -> str:
    """The lack in decimals, for rounded it would be too little; never "0 in" for one too small to show."""
    said = speech.exact(missing_in)
    return f"less than 0.01 {speech.unit}" if said == "0" else f"{said} {speech.unit}"


def check_limits(group: Members, speech: Speech) -> None:
    """Raises RowError for limits of a spread row that do not lie on the face in their order."""
    placing, width_in = group.row.placing, group.face.width_in
    if not isinstance(placing, Spread):
        return
    if not -TOLERANCE_IN <= placing.low_in < placing.high_in <= width_in + TOLERANCE_IN:
        raise _room(
            group,
            f"it is to be spread from {speech.say(placing.low_in)} to {speech.say(placing.high_in)}, but the "
            f"{group.face.face.value} face runs from 0 to {speech.say(width_in)}.",
            None,
            speech,
        )


def check_somewhere(group: Members, fixed: Mapping[int, Fixed], grid: Grid, speech: Speech) -> None:
    """Raises RowError for the first free raceway that could stand nowhere even if it were alone."""
    for index, cut in enumerate(group.cuts):
        low, high = group.flat(index)
        if high < low - TOLERANCE_IN:
            raise _room(
                group,
                f"{group.id(index)} needs a hole of {speech.say(cut.diameter_in)}, but the flat of the "
                f"{group.face.face.value} face is {speech.say(cut.diameter_in + high - low)} wide;",
                low - high,
                speech,
            )
        if index in fixed:
            continue
        allowed = group.allowed(index)
        if not allowed:
            raise _room(
                group,
                f"{group.id(index)} has no place at all on the {group.face.face.value} face: "
                f"{named(group.keep_outs)} and the edges leave no room for it.",
                None,
                speech,
            )
        if not group.allowed(index, grid):
            raise _room(
                group,
                f"{group.id(index)} has no place on a graduation of {speech.say(grid.step_in or 0.0)}.",
                None,
                speech,
            )


def check_fixed(group: Members, fixed: Mapping[int, Fixed], speech: Speech) -> None:
    """Raises RowError for a given place off the flat or too near a keep-out."""
    for index, place in fixed.items():
        low, high = group.flat(index)
        head = f"{group.id(index)} {place.words},"
        over = max(low - place.at_in, place.at_in - high)
        if over > TOLERANCE_IN:
            raise _room(group, f"{head} and its hole runs off the flat of the face;", over, speech)
        for keep_out in group.keep_outs:
            taken = group.forbidden_by(index, keep_out)
            if taken is not None and _inside(place.at_in, taken):
                over = min(place.at_in - taken.low, taken.high - place.at_in)
                raise _room(group, f'{head} and comes too near the keep-out "{keep_out.name}";', over, speech)


def check_fixed_neighbours(group: Members, fixed: Mapping[int, Fixed], speech: Speech) -> None:
    """Raises RowError for two neighbours whose given places are out of order or too close."""
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
            how = f"their centres are {speech.say(apart)} apart and need {speech.say(spacing.centres_in)};"
        raise _room(group, f"{pair} {how}", spacing.centres_in - apart, speech)


def stretch_error(
    group: Members, stretch: Stretch, line: Line, line_of: LineOf, grid: Grid, speech: Speech
) -> RowError:
    """Why a stretch of free raceways has no places; ``line_of`` turns a stretch into a Line."""
    return RowError(
        group.row.place, lambda: _lack_of_room(group, stretch, line, line_of, grid, speech), kind="room"
    )


def _lack_of_room(
    group: Members, stretch: Stretch, line: Line, line_of: LineOf, grid: Grid, speech: Speech
) -> Told:
    needs = stretch.low.clear_in + group.centres_between(stretch.first, stretch.last) + stretch.high.clear_in
    there_is = stretch.high.at_in - stretch.low.at_in
    missing = grid.inches(least_shortfall(line))
    verb = "needs" if stretch.first == stretch.last else "need"
    text = (
        f"between {stretch.low.words} and {stretch.high.words} {_ids(group, stretch)} "
        f"{verb} {speech.say(needs)}, there is {speech.say(there_is)}"
    )
    if needs > there_is + TOLERANCE_IN:
        return _told(group, f"{text};", missing, speech)
    if fits(line_of(group, stretch, Grid(None))):
        step = speech.say(grid.step_in or 0.0)
        return _told(group, f"{text}, but not with every centre on a graduation of {step};", missing, speech)
    blockers = _blockers(group, stretch, line_of)
    if blockers:
        text += f", but {named(blockers)} {'stands' if len(blockers) == 1 else 'stand'} in the way"
    return _told(group, f"{text};", missing, speech)


def _blockers(group: Members, stretch: Stretch, line_of: LineOf) -> Sequence[KeepOut]:
    """The keep-outs each of which, taken away, lets the stretch fit; when none does, or so many touch it that
    no single one is to blame, all that touch it.
    """
    cuts = enumerate(group.cuts[stretch.first : stretch.last + 1], stretch.first)
    one_of_each = {(cut.radius_in, cut.size.outside_diameter_in): index for index, cut in cuts}.values()
    touching = [
        one for one in group.keep_outs if any(group.forbidden_by(index, one) for index in one_of_each)
    ]
    if len(touching) > MOST_TRIED:
        return touching

    def fits_among(keep_outs: Sequence[KeepOut]) -> bool:
        return fits(line_of(group.with_keep_outs(keep_outs), stretch, Grid(None)))

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


def _ids(group: Members, stretch: Stretch) -> str:
    if stretch.first == stretch.last:
        return group.id(stretch.first)
    joint = "and" if stretch.last == stretch.first + 1 else "to"
    return f"{group.id(stretch.first)} {joint} {group.id(stretch.last)}"


def _inside(place_in: float, taken: Interval) -> bool:
    return taken.low + TOLERANCE_IN < place_in < taken.high - TOLERANCE_IN


def _room(group: Members, why: str, missing_in: float | None, speech: Speech) -> RowError:
    return RowError(group.row.place, lambda: _told(group, why, missing_in, speech), kind="room")


def _told(group: Members, why: str, missing_in: float | None, speech: Speech) -> Told:
    message = f"Row {group.row.name} does not fit: {why}"
    if missing_in is not None:
        message += f" {missing_words(missing_in, speech)} is missing."
    return Told(message, missing_in)
