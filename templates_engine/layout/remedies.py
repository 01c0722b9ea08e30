"""Turns a row that failed into the changes that make it fit, each one solved before it is offered.

Changes that findings of checks share are in job_changes.py.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from templates_engine.geometry import gap_between_circles, near_pairs
from templates_engine.job.model import Centred, FaceJob, FromEdge, Job
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
    touching_in,
    two_rows,
    with_apart,
)
from templates_engine.layout.model import Hole
from templates_engine.layout.row.failure import Failure
from templates_engine.layout.row.infeasibility import named
from templates_engine.layout.row.slack import nearest_step, room_of
from templates_engine.layout.tolerance import TOLERANCE_IN
from templates_engine.values import replace

_MOST_PARTINGS = 60


class FailedRow(RowTrial):
    """A row that found no places, and the trying of changes to it."""

    def __init__(self, job: Job, failure: Failure) -> None:
        super().__init__(job, failure.face, failure.row)
        self.failure = failure
        self.before = attempt(job)

    def solves(self, changed: Job) -> bool:
        """Whether the row finds places in the changed job, and no other row loses its own."""
        return self._solved(attempt(changed))

    def helps(self, changed: Job, *, new_rows: int = 0) -> bool:
        """Whether the row can moreover be cut as changed: its holes on the flat, and none into another."""
        tried = attempt(changed)
        if not self._solved(tried):
            return False
        face = changed.faces[self.failure.face]
        mine = {self.failure.row, *range(len(face.rows) - new_rows, len(face.rows))}
        return can_be_cut(face, tried, self.failure.face, mine)

    def _solved(self, tried: Attempt) -> bool:
        target = (self.failure.face, self.failure.row)
        return target not in tried.failed_rows and tried.failed_rows <= self.before.failed_rows


def remedies_for(job: Job, failure: Failure) -> tuple[Remedy, ...]:
    """The changes that make a failed row fit, likeliest first; empty when nothing tried does."""
    makers: tuple[Callable[[FailedRow], Iterator[Remedy]], ...] = ()
    if failure.error.kind == "room":
        makers = (
            _smaller_gap,
            _other_start,
            _moved_pins,
            centred,
            _without_snap,
            _less_clear,
            other_order,
            _other_strut,
            _larger,
            _two_rows,
            fewer,
        )
    elif failure.error.kind == "back line":
        makers = (_deeper_strut,)
    trial = FailedRow(job, failure)
    return tuple(remedy for maker in makers for remedy in maker(trial))


def remedy_words(failure: Failure, remedies: tuple[Remedy, ...], raceways: int) -> str:
    """The remedies as the last words of the error of a row with that many raceways."""
    if not remedies:
        is_tried_alone = failure.error.kind == "room" and raceways > 1
        none_alone = ", and none of its raceways fits alone" if is_tried_alone else ""
        return failure.error.remedy or f"No single change tried makes it fit{none_alone}."
    if len(remedies) == 1:
        return f"This makes it fit: {remedies[0].words}."
    return f"Any one of these makes it fit: {'; '.join(remedy.words for remedy in remedies)}."


def _smaller_gap(trial: FailedRow) -> Iterator[Remedy]:
    """The largest gap or spacing on a graduation that fits; a gap of nothing is not offered."""
    row, step = trial.row, trial.steps.fine_in
    failing = math.ceil((_widest_gap(trial) - TOLERANCE_IN) / step)
    touching = math.floor(touching_in(row) / step + TOLERANCE_IN) if row.spacing_in is not None else 0

    def at(count: int) -> Job:
        return trial.with_row(with_apart(row, count * step))

    if failing <= touching:
        return
    # A smaller gap never needs more room.
    fitting = last_that(lambda count: trial.solves(at(count)), touching, failing)
    if fitting > touching and trial.helps(at(fitting)):
        less = ", less than its fittings are taken to need: measure them" if row.gap == "fittings" else ""
        yield Remedy(f"make the {apart_words(row)} {trial.lengths.say(fitting * step)}{less}", at(fitting))


def _widest_gap(trial: FailedRow) -> float:
    """A gap or spacing that is no smaller than any the row asks for, inches."""
    if trial.row.spacing_in is not None:
        return trial.row.spacing_in
    if trial.row.gap != "fittings":
        return trial.row.gap
    group = trial.before.groups.get((trial.failure.face, trial.failure.row))
    if group is None:
        return 0.0
    return max((*(spacing.gap_in for spacing in group.spacings), *group.limit_gaps_in), default=0.0)


def _other_start(trial: FailedRow) -> Iterator[Remedy]:
    """The nearest distance on a graduation at which the row can start from its edge."""
    placing = trial.row.placing
    group = trial.before.groups.get((trial.failure.face, trial.failure.row))
    if not isinstance(placing, FromEdge) or group is None:
        return
    index = 0 if placing.edge == "start" else len(group.cuts) - 1
    if group.cuts[index].raceway.at_in is not None:
        return
    free = replace(group, row=replace(group.row, placing=Centred()))
    room = room_of(free, index, trial.lengths)
    beside = group.cuts[index].reach_in if placing.to == "near side" else 0.0
    if placing.edge == "start":
        room = tuple((low - beside, high - beside) for low, high in room)
    else:
        far = group.face.width_in - beside
        room = tuple((far - high, far - low) for low, high in room)
    distance_in = nearest_step(room, placing.distance_in, trial.steps.fine_in)
    if distance_in is None or distance_in < 0:
        return
    changed = trial.with_row(replace(trial.row, placing=replace(placing, distance_in=distance_in)))
    if trial.helps(changed):
        face = trial.face.face
        edge = face.start_edge if placing.edge == "start" else face.end_edge
        yield Remedy(f"start it {trial.lengths.say(distance_in)} from the {edge} edge", changed)


def _moved_pins(trial: FailedRow) -> Iterator[Remedy]:
    """For each pinned raceway the nearest graduation where it lets the row fit."""
    group = trial.before.groups.get((trial.failure.face, trial.failure.row))
    if group is None:
        return
    raceways = trial.row.raceways
    for index, raceway in enumerate(raceways):
        if raceway.at_in is None or raceway.factory_knockout:
            continue
        cuts = list(group.cuts)
        cuts[index] = replace(cuts[index], raceway=replace(raceway, at_in=None))
        room = room_of(replace(group, cuts=tuple(cuts)), index, trial.lengths)
        at_in = nearest_step(room, raceway.at_in, trial.steps.fine_in)
        if at_in is None:
            continue
        moved = (*raceways[:index], replace(raceway, at_in=at_in), *raceways[index + 1 :])
        changed = trial.with_row(replace(trial.row, raceways=moved))
        if trial.helps(changed):
            yield Remedy(f"pin {raceway.id} at {trial.lengths.say(at_in)}", changed)


def _without_snap(trial: FailedRow) -> Iterator[Remedy]:
    changed = trial.with_row(replace(trial.row, snap_in=None))
    if trial.row.snap_in is not None and trial.helps(changed):
        yield Remedy("leave out snap", changed)


def _less_clear(trial: FailedRow) -> Iterator[Remedy]:
    """The most clear distance on a graduation that fits, for the keep-outs that give none."""
    step, face = trial.steps.fine_in, trial.face
    silent = [one for one in face.keep_outs if one.clear_in is None and not one.is_factory]
    group = trial.before.groups.get((trial.failure.face, trial.failure.row))
    if not silent or group is None:
        return

    def at(count: int) -> Job:
        keep_outs = (replace(one, clear_in=count * step) if one in silent else one for one in face.keep_outs)
        faces = list(trial.job.faces)
        faces[trial.face_index] = replace(face, keep_outs=tuple(keep_outs))
        return replace(trial.job, faces=tuple(faces))

    most_in = max(room - cut.radius_in for room, cut in zip(group.rooms_in, group.cuts, strict=True))
    # Less clear distance never needs more room.
    fitting = last_that(lambda count: trial.solves(at(count)), 0, math.ceil(most_in / step) + 1)
    if trial.helps(at(fitting)):
        where = named(silent).removeprefix("the ")
        yield Remedy(
            f"write clear: {trial.lengths.say(fitting * step)} at the {where}, less than the fittings there "
            "are taken to need: measure them",
            at(fitting),
        )


def _other_strut(trial: FailedRow) -> Iterator[Remedy]:
    """Where keep-outs are in the way: the strut nearest in depth that carries the row past them."""
    row, strut = trial.row, trial.row.strut
    if row.back_line != "strut" or strut is None or not trial.face.keep_outs:
        return
    others = deep_enough(strut, trial.job.enclosure.back_gap_in)
    for other in sorted(others, key=lambda one: (abs(one.total_in - strut.total_in), one.total_in)):
        changed = trial.with_row(replace(row, strut=other))
        if trial.helps(changed):
            yield Remedy(f"use {strut_words(other, trial.lengths)}", changed)
            return


def _deeper_strut(trial: FailedRow) -> Iterator[Remedy]:
    """Every single strut that reaches the enclosure's back and carries the row."""
    if trial.row.strut is None:
        return
    for other in deep_enough(trial.row.strut, trial.job.enclosure.back_gap_in):
        changed = trial.with_row(replace(trial.row, strut=other))
        if trial.helps(changed):
            yield Remedy(f"use {strut_words(other, trial.lengths)}", changed)


def _larger(trial: FailedRow) -> Iterator[Remedy]:
    """The next larger enclosure along the face's u."""
    yield from larger(trial, along(trial.face), trial.failure.error.told.missing_in or 0.0)


def _two_rows(trial: FailedRow) -> Iterator[Remedy]:
    """Two rows, looked for among so many partings that a row far too long is answered at once."""
    yield from two_rows(trial, _MOST_PARTINGS)


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
