"""Turns a row that failed into the changes that make it fit, each one solved before it is offered.

Changes that findings of checks share are in job_changes.py.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from itertools import islice

from templates_engine.geometry import TOLERANCE_IN, Interval, gap_between_circles, near_pairs
from templates_engine.job.model import FaceJob, FromEdge, Job, Strut
from templates_engine.layout.back_line import deep_enough, strut_words
from templates_engine.layout.faces import Attempt, attempt
from templates_engine.layout.job_changes import (
    Remedy,
    RowTrial,
    along,
    apart_words,
    centred,
    fewer,
    larger,
    last_that,
    other_order,
    started,
    touching_in,
    two_rows,
    with_apart,
    with_face,
)
from templates_engine.layout.model import Hole
from templates_engine.layout.row.failure import Failure
from templates_engine.layout.row.infeasibility import named
from templates_engine.layout.row.place_row import room_of
from templates_engine.layout.row.snap_grid import nearest_step
from templates_engine.values import replace


class FailedRow(RowTrial):
    """A row that found no places, and the trying of changes to it."""

    most_partings = 60  # a row far too long is answered at once

    def __init__(self, job: Job, failure: Failure) -> None:
        super().__init__(job, failure.face, failure.row)
        self.failure = failure
        self.before = attempt(job)
        self.group = self.before.groups.get((failure.face, failure.row))

    def solves(self, changed: Job) -> bool:
        """Whether the row finds places in the changed job, and no other row loses its own."""
        return self._solved(attempt(changed))

    def helps(self, changed: Job) -> bool:
        """Whether the row can moreover be cut as changed: its holes on the flat, and none into another."""
        tried = attempt(changed)
        if not self._solved(tried):
            return False
        face = changed.faces[self.face_index]
        mine = {self.row_index, *range(len(self.face.rows), len(face.rows))}
        return can_be_cut(face, tried, self.face_index, mine)

    def _solved(self, tried: Attempt) -> bool:
        target = (self.face_index, self.row_index)
        return target not in tried.failed_rows and tried.failed_rows <= self.before.failed_rows


def remedies_for(job: Job, failure: Failure) -> tuple[Remedy, ...]:
    """The changes that make a failed row fit, likeliest first; empty when nothing tried does."""
    trial = FailedRow(job, failure)
    return tuple(
        remedy
        for maker in _MAKERS[failure.error.kind]
        for remedy in islice(trial.helpful(maker), None if maker in _ALL_OFFERED else 1)
    )


def remedy_words(job: Job, failure: Failure) -> str:
    """What would make the row fit, each change tried: the last words of its error."""
    remedies = remedies_for(job, failure)
    if not remedies:
        raceways = job.faces[failure.face].rows[failure.row].raceways
        is_tried_alone = failure.error.kind == "room" and len(raceways) > 1
        none_alone = ", and none of its raceways fits alone" if is_tried_alone else ""
        return failure.error.remedy or f"No single change tried makes it fit{none_alone}."
    if len(remedies) == 1:
        return f"This makes it fit: {remedies[0].words}."
    return f"Any one of these makes it fit: {'; '.join(remedy.words for remedy in remedies)}."


# --- changes to try -----------------------------------------------------------------------------------------


def _smaller_gap(trial: FailedRow) -> Iterator[Remedy]:
    """The largest gap or spacing on a graduation that fits; a gap of nothing is not offered."""
    row, step = trial.row, trial.fine_in
    failing = math.ceil((_widest_gap(trial) - TOLERANCE_IN) / step)
    touching = math.floor(touching_in(row) / step + TOLERANCE_IN) if row.spacing_in is not None else 0

    def at(count: int) -> Job:
        return trial.with_row(with_apart(row, count * step))

    if failing <= touching:
        return
    # A smaller gap never needs more room.
    fitting = last_that(lambda count: trial.solves(at(count)), touching, failing)
    if fitting > touching:
        less = ", less than its fittings are taken to need: measure them" if row.gap == "fittings" else ""
        yield Remedy(f"make the {apart_words(row)} {trial.lengths.say(fitting * step)}{less}", at(fitting))


def _widest_gap(trial: FailedRow) -> float:
    """A gap or spacing that is no smaller than any the row asks for, inches."""
    if trial.row.spacing_in is not None:
        return trial.row.spacing_in
    if trial.row.gap != "fittings":
        return trial.row.gap
    if trial.group is None:
        return 0.0
    return max(
        (*(spacing.gap_in for spacing in trial.group.spacings), *trial.group.limit_gaps_in), default=0.0
    )


def _other_start(trial: FailedRow) -> Iterator[Remedy]:
    """The nearest distance on a graduation at which the row can start from its edge."""
    placing, group = trial.row.placing, trial.group
    if not isinstance(placing, FromEdge) or group is None:
        return
    index = 0 if placing.edge == "start" else len(group.cuts) - 1
    if group.cuts[index].raceway.at_in is not None:
        return
    beside = group.cuts[index].reach_in if placing.to == "near side" else 0.0
    room = room_of(group.without_start(), index)
    if placing.edge == "start":
        room = tuple(Interval(low - beside, high - beside) for low, high in room)
    else:
        far = group.face.width_in - beside
        room = tuple(Interval(far - high, far - low) for low, high in room)
    distance_in = nearest_step(room, placing.distance_in, trial.fine_in)
    if distance_in is not None and distance_in >= 0:
        yield started(trial, placing, distance_in)


def _moved_pins(trial: FailedRow) -> Iterator[Remedy]:
    """For each pinned raceway the nearest graduation where it lets the row fit."""
    raceways, group = trial.row.raceways, trial.group
    for index, raceway in enumerate(raceways):
        if group is None or raceway.at_in is None or raceway.factory_knockout:
            continue
        at_in = nearest_step(room_of(group.without_pins([index]), index), raceway.at_in, trial.fine_in)
        if at_in is not None:
            moved = (*raceways[:index], replace(raceway, at_in=at_in), *raceways[index + 1 :])
            changed = trial.with_row(replace(trial.row, raceways=moved))
            yield Remedy(f"pin {raceway.id} at {trial.lengths.say(at_in)}", changed)


def _without_snap(trial: FailedRow) -> Iterator[Remedy]:
    if trial.row.snap_in is not None:
        yield Remedy("leave out snap", trial.with_row(replace(trial.row, snap_in=None)))


def _less_clear(trial: FailedRow) -> Iterator[Remedy]:
    """The most clear distance on a graduation that fits, for the keep-outs that give none."""
    step, face, group = trial.fine_in, trial.face, trial.group
    silent = [one for one in face.keep_outs if one.clear_in is None and not one.is_factory]
    if not silent or group is None:
        return

    def at(count: int) -> Job:
        keep_outs = (replace(one, clear_in=count * step) if one in silent else one for one in face.keep_outs)
        return with_face(trial.job, trial.face_index, replace(face, keep_outs=tuple(keep_outs)))

    most_in = max(room - cut.radius_in for room, cut in zip(group.rooms_in, group.cuts, strict=True))
    # Less clear distance never needs more room.
    fitting = last_that(lambda count: trial.solves(at(count)), 0, math.ceil(most_in / step) + 1)
    where = named(silent).removeprefix("the ")
    yield Remedy(
        f"write clear: {trial.lengths.say(fitting * step)} at the {where}, less than the fittings there "
        "are taken to need: measure them",
        at(fitting),
    )


def _other_strut(trial: FailedRow) -> Iterator[Remedy]:
    """Where keep-outs are in the way: the strut nearest in depth that carries the row past them."""
    strut = trial.row.strut
    if trial.row.back_line == "strut" and strut is not None and trial.face.keep_outs:
        others = deep_enough(strut, trial.job.enclosure.back_gap_in)
        for other in sorted(others, key=lambda one: (abs(one.total_in - strut.total_in), one.total_in)):
            yield _on_strut(trial, other)


def _deeper_strut(trial: FailedRow) -> Iterator[Remedy]:
    """Every single strut that reaches the enclosure's back."""
    if trial.row.strut is not None:
        others = deep_enough(trial.row.strut, trial.job.enclosure.back_gap_in)
        yield from (_on_strut(trial, other) for other in others)


def _on_strut(trial: FailedRow, strut: Strut) -> Remedy:
    return Remedy(f"use {strut_words(strut, trial.lengths)}", trial.with_row(replace(trial.row, strut=strut)))


def _larger(trial: FailedRow) -> Iterator[Remedy]:
    """The next larger enclosure along the face's u."""
    return larger(trial, along(trial.face), trial.failure.error.told.missing_in or 0.0)


_Maker = Callable[[FailedRow], Iterator[Remedy]]
_MAKERS: dict[str, tuple[_Maker, ...]] = {
    "words": (),
    "back line": (_deeper_strut,),
    "room": (
        _smaller_gap,
        _other_start,
        _moved_pins,
        centred,
        _without_snap,
        _less_clear,
        other_order,
        _other_strut,
        _larger,
        two_rows,
        fewer,
    ),
}
"""What is tried for each kind of failure."""
_ALL_OFFERED = (_moved_pins, _deeper_strut)
"""Of these every change that helps is offered, of others the first."""


# --- whether a row can be cut -------------------------------------------------------------------------------


def can_be_cut(face: FaceJob, tried: Attempt, face_index: int, rows: set[int]) -> bool:
    """Whether the holes of ``rows`` lie on the flat, back to front, and cut into no hole or raceway."""
    placed = {row: one.holes for (at, row), one in tried.rows.items() if at == face_index}
    mine = [hole for row in rows for hole in placed.get(row, ())]
    others = [hole for row, holes in placed.items() if row not in rows for hole in holes]
    if not all(_on_flat(hole, face) for hole in mine):
        return False
    holes = [*mine, *others]
    widest_in = max((max(one.circle.diameter, one.body.diameter) for one in holes), default=0.0)
    return all(
        _apart(holes[one], holes[other])
        for one, other in near_pairs([hole.centre for hole in holes], widest_in + TOLERANCE_IN)
        if one < len(mine)
    )


def _on_flat(hole: Hole, face: FaceJob) -> bool:
    half = hole.hole_diameter_in / 2
    back, front = face.flat_v
    return back - TOLERANCE_IN <= hole.v_in - half and hole.v_in + half <= front + TOLERANCE_IN


def _apart(one: Hole, other: Hole) -> bool:
    return (
        gap_between_circles(one.circle, other.circle) > TOLERANCE_IN
        and gap_between_circles(one.body, other.body) > -TOLERANCE_IN
    )
