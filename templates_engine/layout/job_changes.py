"""Turns a job into the same job with one thing changed, in words; whether it helps, its RowTrial tries.

A RowTrial is one row in trouble: of a row without places in remedies.py, of a finding in the stage of advice.
"""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from collections.abc import Callable, Iterator

from templates_engine.job.model import SPACING_OF_ROW, Centred, FaceJob, FromEdge, Job, Raceway, Row
from templates_engine.layout.tolerance import TOLERANCE_IN
from templates_engine.trade.enclosure_sizes import MOST_CAN_IN, Dimension
from templates_engine.units import MM_PER_INCH, Unit
from templates_engine.values import Struct, replace

_ADJECTIVES: dict[Dimension, str] = {"width": "wide", "height": "high", "depth": "deep"}
_MOST_LARGER_IN = 24.0
"""How much larger than the room missing an enclosure is still looked for."""


class Remedy(Struct, frozen=True):
    """One change that helps: what to do in words, and the job with it done."""

    words: str
    job: Job


class RoundingSteps(Struct, frozen=True):
    """To what a proposed length is rounded, inches: whole millimetres for a metric job."""

    fine_in: float
    enclosure_in: float

    @staticmethod
    def of(job: Job) -> RoundingSteps:
        return RoundingSteps.of_unit(job.unit)

    @staticmethod
    def of_unit(unit: Unit) -> RoundingSteps:
        return (
            RoundingSteps(1 / MM_PER_INCH, 10 / MM_PER_INCH) if unit == "mm" else RoundingSteps(1 / 16, 1 / 2)
        )


class RowTrial(ABC):
    """A row of a job that is in trouble, and the trying of changes to it."""

    def __init__(self, job: Job, face_index: int, row_index: int) -> None:
        self.job, self.face_index, self.row_index = job, face_index, row_index
        self.lengths = job.lengths
        self.steps = RoundingSteps.of(job)

    @property
    def face(self) -> FaceJob:
        return self.job.faces[self.face_index]

    @property
    def row(self) -> Row:
        return self.face.rows[self.row_index]

    def with_row(self, row: Row, *more: Row) -> Job:
        """The job with the row replaced, and further rows added to the end of its face."""
        return with_row(self.job, self.face_index, self.row_index, row, *more)

    @abstractmethod
    def solves(self, changed: Job) -> bool:
        """Whether the changed job passes a quick trial; no larger enclosure is looked for where it fails."""

    @abstractmethod
    def helps(self, changed: Job, *, new_rows: int = 0) -> bool:
        """Whether the changed job is good enough to be offered."""


def with_row(job: Job, face_index: int, row_index: int, row: Row, *more: Row) -> Job:
    """The job with one row replaced, and further rows added to the end of its face."""
    rows = list(job.faces[face_index].rows)
    rows[row_index] = row
    faces = list(job.faces)
    faces[face_index] = replace(faces[face_index], rows=(*rows, *more))
    return replace(job, faces=tuple(faces))


def with_apart(row: Row, apart_in: float) -> Row:
    """The row with another gap, or where it is spaced centre to centre, with another spacing."""
    if row.spacing_in is not None:
        return replace(row, spacing_in=apart_in)
    return replace(row, gap=apart_in, gap_from_shop=False)


def apart_words(row: Row) -> str:
    """What the row's raceways are kept apart by: its gap or its spacing."""
    return "gap" if row.spacing_in is None else "spacing"


def touching_in(row: Row) -> float:
    """The spacing at which the first two neighbours that are held to it would touch; 0 where none are."""
    pairs = zip(row.raceways, row.raceways[1:], strict=False)
    return max(
        (
            (_diameter(one) + _diameter(other)) / 2
            for one, other in pairs
            if row.asked_before(other).words == SPACING_OF_ROW
        ),
        default=0.0,
    )


def last_that(fits: Callable[[int], bool], fitting: int, failing: int) -> int:
    """The last number that fits from ``fitting``, which does, toward ``failing``, which does not."""
    while abs(failing - fitting) > 1:
        middle = (fitting + failing) // 2
        fitting, failing = (middle, failing) if fits(middle) else (fitting, middle)
    return fitting


def centred(trial: RowTrial) -> Iterator[Remedy]:
    """The row centred on its face."""
    changed = trial.with_row(replace(trial.row, placing=Centred()))
    if not isinstance(trial.row.placing, Centred) and trial.helps(changed):
        yield Remedy("centre the row (place: centred)", changed)


def other_order(trial: RowTrial) -> Iterator[Remedy]:
    """The row's raceways reversed or sorted by size, the first of these that helps.

    Pins and gaps of single pairs belong to places in the row; a row that has some keeps its order.
    """
    raceways = trial.row.raceways
    if any(one.at_in is not None or one.has_own_gap for one in raceways):
        return
    orders = {
        "in the reverse order": raceways[::-1],
        "largest first": tuple(sorted(raceways, key=lambda one: -_diameter(one))),
        "smallest first": tuple(sorted(raceways, key=_diameter)),
    }
    tried = {_kinds(raceways)}
    for words, order in orders.items():
        if _kinds(order) in tried:
            continue
        tried.add(_kinds(order))
        changed = trial.with_row(replace(trial.row, raceways=order))
        if trial.helps(changed):
            yield Remedy(f"list the raceways {words} ({', '.join(one.id for one in order)})", changed)
            return


def _diameter(raceway: Raceway) -> float:
    return raceway.size.outside_diameter_most_in if raceway.size else 0.0


def _kinds(raceways: tuple[Raceway, ...]) -> tuple[object, ...]:
    """What tells raceways apart on the metal: two orders alike in this are one."""
    return tuple((one.size, one.hole, one.cutter, one.bushing, one.knockout) for one in raceways)


def two_rows(trial: RowTrial, most_tries: int | None = None) -> Iterator[Remedy]:
    """The later raceways in a row of their own in front, parted as near the middle as fits."""
    row, count = trial.row, len(trial.row.raceways)
    names = {one.name for one in trial.face.rows}
    name = next((letter for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ" if letter not in names), None)
    if name is None:
        return
    partings = sorted(range(1, count), key=lambda kept: (abs(2 * kept - count), -kept))
    for kept in partings[:most_tries]:
        back = replace(row, raceways=row.raceways[:kept])
        front = replace(row, name=name, back_line="auto", raceways=row.raceways[kept:])
        changed = trial.with_row(back, front)
        if trial.helps(changed, new_rows=1):
            first, last = row.raceways[kept].id, row.raceways[-1].id
            which = (
                f"{first} in a row of its own"
                if first == last
                else f"{first} to {last} in a row of their own"
            )
            yield Remedy(f"put {which} in front (back line: auto)", changed)
            return


def fewer(trial: RowTrial) -> Iterator[Remedy]:
    """As many of the raceways as fit in the order they are listed, the rest left out.

    Found at either end of the row, or else round the first raceway that fits alone: where nothing is offered,
    none of them does.
    """
    count = len(trial.row.raceways)

    def at(first: int, kept: int) -> Job:
        start, *others = trial.row.raceways[first : first + kept]
        return trial.with_row(
            replace(trial.row, raceways=(replace(start, gap_before_in=None, spacing_before_in=None), *others))
        )

    # A shorter row hardly ever needs more room, so halving finds the most; the last trial decides.
    from_start = last_that(lambda kept: trial.solves(at(0, kept)), 0, count)
    from_end = last_that(lambda kept: trial.solves(at(count - kept, kept)), 0, count)
    for kept, first in sorted(((from_start, 0), (from_end, count - from_end)), key=lambda pair: -pair[0]):
        if kept and trial.helps(changed := at(first, kept)):
            yield Remedy(_taken_out(trial.row.raceways, first, kept), changed)
            return
    alone = (first for first in range(count) if count > 1 and trial.helps(at(first, 1)))
    for first in alone:
        kept = 1
        while first + kept < count and trial.helps(at(first, kept + 1)):
            kept += 1
        yield Remedy(_taken_out(trial.row.raceways, first, kept), at(first, kept))
        return


def _taken_out(raceways: tuple[Raceway, ...], first: int, kept: int) -> str:
    """What is taken out of a row so that ``kept`` of its raceways stay, and which those are."""
    left = raceways[first : first + kept]
    out = [_span(part) for part in (raceways[:first], raceways[first + kept :]) if part]
    fit = f"{kept} of {len(raceways)} fit" if kept > 1 else f"1 of {len(raceways)} fits"
    return f"take {', and '.join(out)} out of the row ({fit}: {_span(left)})"


def _span(raceways: tuple[Raceway, ...]) -> str:
    """Neighbours by their ids: A1, A1 and A2, A1 to A3."""
    first, last = raceways[0].id, raceways[-1].id
    if len(raceways) == 1:
        return first
    return f"{first} {'and' if len(raceways) == 2 else 'to'} {last}"


def along(face: FaceJob) -> Dimension:
    """The dimension of the enclosure that runs along a face's u."""
    return "height" if face.face.is_side else "width"


def extent(job: Job, dimension: Dimension) -> float:
    """One dimension of the enclosure, inches."""
    enclosure = job.enclosure
    if dimension == "depth":
        return enclosure.depth_in
    return enclosure.height_in if dimension == "height" else enclosure.width_in


def enlarged(job: Job, dimension: Dimension, by_in: float) -> Job:
    """The job with a dimension of the enclosure changed, and all faces that share it; keep-outs stay."""
    enclosure = job.enclosure
    if dimension == "depth":
        deeper = tuple(replace(face, depth_in=face.depth_in + by_in) for face in job.faces)
        return replace(job, enclosure=replace(enclosure, depth_in=enclosure.depth_in + by_in), faces=deeper)
    faces = tuple(
        replace(face, width_in=face.width_in + by_in) if along(face) == dimension else face
        for face in job.faces
    )
    if dimension == "height":
        enclosure = replace(enclosure, height_in=enclosure.height_in + by_in)
    else:
        enclosure = replace(enclosure, width_in=enclosure.width_in + by_in)
    return replace(job, enclosure=enclosure, faces=faces)


def larger(trial: RowTrial, dimension: Dimension, missing_in: float = 0.0) -> Iterator[Remedy]:
    """The next larger enclosure in one dimension, on whole steps; ``missing_in`` is lacking at the least."""
    step, now_in = trial.steps.enclosure_in, extent(trial.job, dimension)
    first = max(
        math.ceil((now_in + missing_in - TOLERANCE_IN) / step), math.floor(now_in / step + TOLERANCE_IN) + 1
    )
    last = min(first + math.ceil(_MOST_LARGER_IN / step), math.floor(MOST_CAN_IN[dimension] / step))
    if last < first:
        return

    def at(count: int) -> Job:
        return enlarged(trial.job, dimension, count * step - now_in)

    if not trial.solves(at(last)):
        return
    # A wider enclosure never harms a row measured from the start edge, so halving finds it. From the end edge
    # the row moves with that edge, past keep-outs that do not: every count has to be tried.
    placing = trial.row.placing
    if not (isinstance(placing, FromEdge) and placing.edge == "end"):
        first = last_that(lambda count: trial.solves(at(count)), last, first - 1)
    for count in range(first, last + 1):
        changed = at(count)
        if trial.helps(changed):
            kind = f"{trial.lengths.say(count * step)} {_ADJECTIVES[dimension]}"
            kept = " with the keep-outs where they are" if trial.face.keep_outs else ""
            yield Remedy(f"take an enclosure {kind}{kept}", changed)
            return
