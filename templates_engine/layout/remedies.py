"""A row that failed into the changes that make it fit, each one solved before it is offered."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations

from templates_engine.geometry import gap_between_circles
from templates_engine.job.model import Centred, FaceJob, FromEdge, Job, Row
from templates_engine.layout.back_line import deep_enough, strut_words
from templates_engine.layout.faces import Attempt, attempt
from templates_engine.layout.failure import Failure
from templates_engine.layout.freedom import nearest_step, room_of
from templates_engine.layout.model import Hole
from templates_engine.layout.tolerance import TOLERANCE_IN
from templates_engine.units import MM_PER_INCH, Speech

_MOST_WIDER_IN = 24.0
"""How much wider than the room missing an enclosure is still looked for."""


@dataclass(frozen=True)
class Remedy:
    """One change that makes the row fit: what to do in words, and the job with it done."""

    words: str
    job: Job


@dataclass(frozen=True)
class Steps:
    """To what a proposed length is rounded, inches: whole millimetres for a metric job."""

    fine_in: float
    enclosure_in: float

    @staticmethod
    def of(job: Job) -> Steps:
        return Steps(1 / MM_PER_INCH, 10 / MM_PER_INCH) if job.unit == "mm" else Steps(1 / 16, 1 / 2)


class Case:
    """A failed row of a job, and the trying of changes to it."""

    def __init__(self, job: Job, failure: Failure) -> None:
        self.job, self.failure = job, failure
        self.before = attempt(job)
        self.speech = Speech(job.unit, job.denominator)
        self.steps = Steps.of(job)

    @property
    def face(self) -> FaceJob:
        return self.job.faces[self.failure.face]

    @property
    def row(self) -> Row:
        return self.face.rows[self.failure.row]

    def with_row(self, row: Row, *more: Row) -> Job:
        """The job with the failed row replaced, and further rows added to the end of its face."""
        rows = list(self.face.rows)
        rows[self.failure.row] = row
        faces = list(self.job.faces)
        faces[self.failure.face] = replace(self.face, rows=(*rows, *more))
        return replace(self.job, faces=tuple(faces))

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
        return _can_be_cut(face, tried, self.failure.face, mine)

    def _solved(self, tried: Attempt) -> bool:
        target = (self.failure.face, self.failure.row)
        return target not in tried.failed_rows and tried.failed_rows <= self.before.failed_rows


def remedies_for(job: Job, failure: Failure) -> tuple[Remedy, ...]:
    """The changes that make a failed row fit, likeliest first; empty when nothing tried does."""
    makers: tuple[Callable[[Case], Iterator[Remedy]], ...] = ()
    if failure.error.kind == "room":
        makers = (
            _smaller_gap,
            _other_start,
            _moved_pins,
            _centred,
            _without_snap,
            _other_strut,
            _larger,
            _two_rows,
        )
    elif failure.error.kind == "back line":
        makers = (_deeper_strut,)
    case = Case(job, failure)
    return tuple(remedy for maker in makers for remedy in maker(case))


def remedy_words(failure: Failure, remedies: tuple[Remedy, ...]) -> str:
    """The remedies as the last words of the error."""
    if not remedies:
        return failure.error.remedy or "No single change tried makes it fit; take raceways out of the row."
    if len(remedies) == 1:
        return f"This makes it fit: {remedies[0].words}."
    return f"Any one of these makes it fit: {'; '.join(remedy.words for remedy in remedies)}."


def _smaller_gap(case: Case) -> Iterator[Remedy]:
    """The largest gap on a graduation that fits; a gap of nothing is not offered."""
    row, step = case.row, case.steps.fine_in
    if row.gap == "fittings":
        return
    fitting, failing = 0, math.ceil((row.gap - TOLERANCE_IN) / step)
    while failing - fitting > 1:  # a smaller gap never needs more room
        middle = (fitting + failing) // 2
        fitting, failing = (
            (middle, failing)
            if case.solves(case.with_row(replace(row, gap=middle * step)))
            else (fitting, middle)
        )
    changed = case.with_row(replace(row, gap=fitting * step))
    if fitting > 0 and case.helps(changed):
        yield Remedy(f"make the gap {case.speech.say(fitting * step)}", changed)


def _other_start(case: Case) -> Iterator[Remedy]:
    """The nearest distance on a graduation at which the row can start from its edge."""
    placing = case.row.placing
    group = case.before.groups.get((case.failure.face, case.failure.row))
    if not isinstance(placing, FromEdge) or group is None:
        return
    index = 0 if placing.edge == "start" else len(group.cuts) - 1
    if group.cuts[index].raceway.at_in is not None:
        return
    free = replace(group, row=replace(group.row, placing=Centred()))
    room = room_of(free, index, case.speech)
    beside = group.cuts[index].reach_in if placing.to == "near side" else 0.0
    if placing.edge == "start":
        room = tuple((low - beside, high - beside) for low, high in room)
    else:
        far = group.face.width_in - beside
        room = tuple((far - high, far - low) for low, high in room)
    distance_in = nearest_step(room, placing.distance_in, case.steps.fine_in)
    if distance_in is None or distance_in < 0:
        return
    changed = case.with_row(replace(case.row, placing=replace(placing, distance_in=distance_in)))
    if case.helps(changed):
        face = case.face.face
        edge = face.start_edge if placing.edge == "start" else face.end_edge
        yield Remedy(f"start it {case.speech.say(distance_in)} from the {edge} edge", changed)


def _moved_pins(case: Case) -> Iterator[Remedy]:
    """For each pinned raceway the nearest graduation where it lets the row fit."""
    group = case.before.groups.get((case.failure.face, case.failure.row))
    if group is None:
        return
    raceways = case.row.raceways
    for index, raceway in enumerate(raceways):
        if raceway.at_in is None:
            continue
        cuts = list(group.cuts)
        cuts[index] = replace(cuts[index], raceway=replace(raceway, at_in=None))
        room = room_of(replace(group, cuts=tuple(cuts)), index, case.speech)
        at_in = nearest_step(room, raceway.at_in, case.steps.fine_in)
        if at_in is None:
            continue
        moved = (*raceways[:index], replace(raceway, at_in=at_in), *raceways[index + 1 :])
        changed = case.with_row(replace(case.row, raceways=moved))
        if case.helps(changed):
            yield Remedy(f"pin {raceway.id} at {case.speech.say(at_in)}", changed)


def _centred(case: Case) -> Iterator[Remedy]:
    changed = case.with_row(replace(case.row, placing=Centred()))
    if not isinstance(case.row.placing, Centred) and case.helps(changed):
        yield Remedy("centre the row (place: centred)", changed)


def _without_snap(case: Case) -> Iterator[Remedy]:
    changed = case.with_row(replace(case.row, snap_in=None))
    if case.row.snap_in is not None and case.helps(changed):
        yield Remedy("leave out snap", changed)


def _other_strut(case: Case) -> Iterator[Remedy]:
    """Where keep-outs are in the way: the strut nearest in depth that carries the row past them."""
    row, strut = case.row, case.row.strut
    if row.back_line != "strut" or strut is None or not case.face.keep_outs:
        return
    others = deep_enough(strut, case.job.enclosure.back_gap_in)
    for other in sorted(others, key=lambda one: (abs(one.total_in - strut.total_in), one.total_in)):
        changed = case.with_row(replace(row, strut=other))
        if case.helps(changed):
            yield Remedy(f"use {strut_words(other, case.speech)}", changed)
            return


def _deeper_strut(case: Case) -> Iterator[Remedy]:
    """Every single strut that reaches the enclosure's back and carries the row."""
    if case.row.strut is None:
        return
    for other in deep_enough(case.row.strut, case.job.enclosure.back_gap_in):
        changed = case.with_row(replace(case.row, strut=other))
        if case.helps(changed):
            yield Remedy(f"use {strut_words(other, case.speech)}", changed)


def _larger(case: Case) -> Iterator[Remedy]:
    """The next larger enclosure, on whole steps, along the face's u."""
    step, missing = case.steps.enclosure_in, case.failure.error.told.missing_in or 0.0
    now_in = case.face.width_in
    first = max(
        math.ceil((now_in + missing - TOLERANCE_IN) / step), math.floor(now_in / step + TOLERANCE_IN) + 1
    )
    last = first + math.ceil(_MOST_WIDER_IN / step)
    if not case.solves(_widened(case, last * step)):
        return
    for count in range(_first_that(case, first, last, step), last + 1):
        changed = _widened(case, count * step)
        if case.helps(changed):
            kind = f"{case.speech.say(count * step)} {'high' if case.face.face.is_side else 'wide'}"
            kept = " with the keep-outs where they are" if case.face.keep_outs else ""
            yield Remedy(f"take an enclosure {kind}{kept}", changed)
            return


def _first_that(case: Case, first: int, last: int, step: float) -> int:
    """The first count of steps worth a look, ``last`` being known to fit.

    A wider enclosure never harms a row measured from the start edge, so halving finds it. From the end edge
    the row moves with that edge, past keep-outs that do not: every count has to be tried.
    """
    placing = case.row.placing
    if isinstance(placing, FromEdge) and placing.edge == "end":
        return first
    failing, fitting = first - 1, last
    while fitting - failing > 1:
        middle = (failing + fitting) // 2
        failing, fitting = (
            (failing, middle) if case.solves(_widened(case, middle * step)) else (middle, fitting)
        )
    return fitting


def _widened(case: Case, extent_in: float) -> Job:
    """The job with the enclosure's width (on a side face its height) changed, and all faces that share it."""
    enclosure, side = case.job.enclosure, case.face.face.is_side
    by_in = extent_in - case.face.width_in
    if side:
        enclosure = replace(enclosure, height_in=enclosure.height_in + by_in)
    else:
        enclosure = replace(enclosure, width_in=enclosure.width_in + by_in)
    faces = tuple(
        replace(face, width_in=face.width_in + by_in) if face.face.is_side == side else face
        for face in case.job.faces
    )
    return replace(case.job, enclosure=enclosure, faces=faces)


def _two_rows(case: Case) -> Iterator[Remedy]:
    """The later raceways in a row of their own in front, parted as near the middle as fits."""
    row, count = case.row, len(case.row.raceways)
    names = {one.name for one in case.face.rows}
    name = next((letter for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ" if letter not in names), None)
    if name is None:
        return
    for kept in sorted(range(1, count), key=lambda kept: (abs(2 * kept - count), -kept)):
        back = replace(row, raceways=row.raceways[:kept])
        front = replace(row, name=name, back_line="auto", raceways=row.raceways[kept:])
        changed = case.with_row(back, front)
        if case.helps(changed, new_rows=1):
            first, last = row.raceways[kept].id, row.raceways[-1].id
            which = first if first == last else f"{first} to {last}"
            yield Remedy(f"put {which} in a row of their own in front (back line: auto)", changed)
            return


def _can_be_cut(face: FaceJob, tried: Attempt, face_index: int, rows: set[int]) -> bool:
    """Whether the holes of ``rows`` lie on the flat, back to front, and cut into no hole or raceway."""
    placed = {row: one.holes for (at, row), one in tried.rows.items() if at == face_index}
    mine = [hole for row in rows for hole in placed.get(row, ())]
    others = [hole for row, holes in placed.items() if row not in rows for hole in holes]
    pairs = [*combinations(mine, 2), *((one, other) for one in mine for other in others)]
    return all(_on_flat(hole, face) for hole in mine) and all(_apart(one, other) for one, other in pairs)


def _on_flat(hole: Hole, face: FaceJob) -> bool:
    half = hole.hole_diameter_in / 2
    back, front = face.lips.back_in, face.depth_in - face.lips.front_in
    return back - TOLERANCE_IN <= hole.v_in - half and hole.v_in + half <= front + TOLERANCE_IN


def _apart(one: Hole, other: Hole) -> bool:
    return (
        gap_between_circles(one.circle, other.circle) > TOLERANCE_IN
        and gap_between_circles(one.body, other.body) > -TOLERANCE_IN
    )
