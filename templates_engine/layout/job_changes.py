"""Turns a job into the same job with one thing changed, in words; whether it helps, its RowTrial tries.

A trial is of one row in trouble: of a row without places in remedies.py, of a finding in the stage of advice.
"""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from collections.abc import Callable, Iterator
from itertools import pairwise
from typing import Self

from templates_engine.geometry import TOLERANCE_IN
from templates_engine.job.model import SPACING_OF_ROW, Centred, FaceJob, FromEdge, Job, Raceway, Row
from templates_engine.layout.row.snap_grid import FINE_STEP_IN
from templates_engine.trade.enclosure_sizes import MOST_CAN_IN, Dimension
from templates_engine.units import MM_PER_INCH, Unit
from templates_engine.values import Struct, replace

_ADJECTIVES: dict[Dimension, str] = {"width": "wide", "height": "high", "depth": "deep"}
_MOST_LARGER_IN = 24.0
"""How much larger than the room missing an enclosure is still looked for."""
_ENCLOSURE_STEP_IN: dict[Unit, float] = {"in": 1 / 2, "mm": 10 / MM_PER_INCH}
"""To what the size of a larger enclosure is rounded."""


class Remedy(Struct, frozen=True):
    """One change: what to do in words, and the job with it done."""

    words: str
    job: Job


class RowTrial(ABC):
    """A row of a job that is in trouble, and the trying of changes to it."""

    most_partings: int
    """How many ways to part the row in two are tried."""

    def __init__(self, job: Job, face_index: int, row_index: int) -> None:
        self.job, self.face_index, self.row_index = job, face_index, row_index
        self.face: FaceJob = job.faces[face_index]
        self.row: Row = self.face.rows[row_index]
        self.lengths = job.lengths
        self.fine_in = FINE_STEP_IN[job.unit]

    def with_row(self, row: Row, *more: Row) -> Job:
        """The job with the row replaced, and further rows added to the end of its face."""
        return with_row(self.job, self.face_index, self.row_index, row, *more)

    @abstractmethod
    def solves(self, changed: Job) -> bool:
        """Whether the changed job passes a quick trial; no larger enclosure is looked for where it fails."""

    @abstractmethod
    def helps(self, changed: Job) -> bool:
        """Whether the changed job is good enough to be offered."""

    def helpful(self, maker: Callable[[Self], Iterator[Remedy]]) -> Iterator[Remedy]:
        """The changes of one kind that help, each tried as it is asked for."""
        return (remedy for remedy in maker(self) if self.helps(remedy.job))


def with_row(job: Job, face_index: int, row_index: int, row: Row, *more: Row) -> Job:
    """The job with one row replaced, and further rows added to the end of its face."""
    rows = list(job.faces[face_index].rows)
    rows[row_index] = row
    return with_face(job, face_index, replace(job.faces[face_index], rows=(*rows, *more)))


def with_face(job: Job, index: int, face: FaceJob) -> Job:
    """The job with one face replaced."""
    return replace(job, faces=(*job.faces[:index], face, *job.faces[index + 1 :]))


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
    touching = (
        (_diameter(one) + _diameter(other)) / 2
        for one, other in pairwise(row.raceways)
        if row.asked_before(other).words == SPACING_OF_ROW
    )
    return max(touching, default=0.0)


def last_that(fits: Callable[[int], bool], fitting: int, failing: int) -> int:
    """The last number that fits from ``fitting``, which does, toward ``failing``, which does not."""
    while abs(failing - fitting) > 1:
        middle = (fitting + failing) // 2
        fitting, failing = (middle, failing) if fits(middle) else (fitting, middle)
    return fitting


# --- changes to try, the likeliest first --------------------------------------------------------------------


def started(trial: RowTrial, placing: FromEdge, distance_in: float) -> Remedy:
    """The row started at another distance from its edge."""
    face = trial.face.face
    edge = face.start_edge if placing.edge == "start" else face.end_edge
    changed = trial.with_row(replace(trial.row, placing=replace(placing, distance_in=distance_in)))
    return Remedy(f"start it {trial.lengths.say(distance_in)} from the {edge} edge", changed)


def centred(trial: RowTrial) -> Iterator[Remedy]:
    """The row centred on its face."""
    if not isinstance(trial.row.placing, Centred):
        changed = trial.with_row(replace(trial.row, placing=Centred()))
        yield Remedy("centre the row (place: centred)", changed)


def other_order(trial: RowTrial) -> Iterator[Remedy]:
    """The row's raceways reversed or sorted by size.

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
        if _kinds(order) not in tried:
            tried.add(_kinds(order))
            ids = ", ".join(one.id for one in order)
            changed = trial.with_row(replace(trial.row, raceways=order))
            yield Remedy(f"list the raceways {words} ({ids})", changed)


def _diameter(raceway: Raceway) -> float:
    return raceway.size.outside_diameter_most_in if raceway.size else 0.0


def _kinds(raceways: tuple[Raceway, ...]) -> tuple[object, ...]:
    """What tells raceways apart on the metal: two orders alike in this are one."""
    return tuple((one.size, one.hole, one.cutter, one.bushing, one.knockout) for one in raceways)


def two_rows(trial: RowTrial) -> Iterator[Remedy]:
    """The later raceways in a row of their own in front, parted as near the middle as fits."""
    row, count = trial.row, len(trial.row.raceways)
    names = {one.name for one in trial.face.rows}
    name = next((letter for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ" if letter not in names), None)
    if name is None:
        return
    partings = sorted(range(1, count), key=lambda kept: (abs(2 * kept - count), -kept))
    for kept in partings[: trial.most_partings]:
        back = replace(row, raceways=row.raceways[:kept])
        front = replace(row, name=name, back_line="auto", raceways=row.raceways[kept:])
        first, last = row.raceways[kept].id, row.raceways[-1].id
        which = (
            f"{first} in a row of its own" if first == last else f"{first} to {last} in a row of their own"
        )
        yield Remedy(f"put {which} in front (back line: auto)", trial.with_row(back, front))


def fewer(trial: RowTrial) -> Iterator[Remedy]:
    """As many of the raceways as fit in the order they are listed, the rest left out.

    Found at either end of the row, or else round the first raceway that fits alone: where nothing is offered,
    none of them does.
    """
    raceways, count = trial.row.raceways, len(trial.row.raceways)

    def at(first: int, kept: int) -> Job:
        start, *others = raceways[first : first + kept]
        start = replace(start, gap_before_in=None, spacing_before_in=None)
        return trial.with_row(replace(trial.row, raceways=(start, *others)))

    def remedy(first: int, kept: int) -> Remedy:
        return Remedy(_taken_out(raceways, first, kept), at(first, kept))

    # A shorter row hardly ever needs more room, so halving finds the most; the last trial decides.
    from_start = last_that(lambda kept: trial.solves(at(0, kept)), 0, count)
    from_end = last_that(lambda kept: trial.solves(at(count - kept, kept)), 0, count)
    ends = ((from_start, 0), (from_end, count - from_end))
    yield from (remedy(first, kept) for kept, first in sorted(ends, key=lambda end: -end[0]) if kept)
    for first in range(count) if count > 1 else ():
        if trial.helps(at(first, 1)):
            kept = 1
            while first + kept < count and trial.helps(at(first, kept + 1)):
                kept += 1
            yield remedy(first, kept)


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


# --- larger enclosures --------------------------------------------------------------------------------------


def along(face: FaceJob) -> Dimension:
    """The dimension of the enclosure that runs along a face's u."""
    return "height" if face.face.is_side else "width"


def _extent(job: Job, dimension: Dimension) -> float:
    """One dimension of the enclosure, inches."""
    return float(getattr(job.enclosure, f"{dimension}_in"))


def enlarged(job: Job, dimension: Dimension, by_in: float) -> Job:
    """The job with a dimension of the enclosure changed, and all faces that share it; keep-outs stay."""
    enclosure = replace(job.enclosure, **{f"{dimension}_in": _extent(job, dimension) + by_in})
    if dimension == "depth":
        faces = [replace(face, depth_in=face.depth_in + by_in) for face in job.faces]
    else:
        faces = [
            replace(face, width_in=face.width_in + by_in) if along(face) == dimension else face
            for face in job.faces
        ]
    return replace(job, enclosure=enclosure, faces=tuple(faces))


def larger(trial: RowTrial, dimension: Dimension, missing_in: float = 0.0) -> Iterator[Remedy]:
    """The next larger enclosures in one dimension, on whole steps; ``missing_in`` is lacking at the least."""
    step, now_in = _ENCLOSURE_STEP_IN[trial.job.unit], _extent(trial.job, dimension)
    first = max(
        math.ceil((now_in + missing_in - TOLERANCE_IN) / step), math.floor(now_in / step + TOLERANCE_IN) + 1
    )
    last = min(first + math.ceil(_MOST_LARGER_IN / step), math.floor(MOST_CAN_IN[dimension] / step))

    def at(count: int) -> Job:
        return enlarged(trial.job, dimension, count * step - now_in)

    if last < first or not trial.solves(at(last)):
        return
    # A wider enclosure never harms a row measured from the start edge, so halving finds it. From the end edge
    # the row moves with that edge, past keep-outs that do not: every count has to be tried.
    placing = trial.row.placing
    if not (isinstance(placing, FromEdge) and placing.edge == "end"):
        first = last_that(lambda count: trial.solves(at(count)), last, first - 1)
    kept = " with the keep-outs where they are" if trial.face.keep_outs else ""
    for count in range(first, last + 1):
        kind = f"{trial.lengths.say(count * step)} {_ADJECTIVES[dimension]}"
        yield Remedy(f"take an enclosure {kind}{kept}", at(count))
