"""Turns a solved job into what moved its holes unasked: defaults taken, pins and keep-outs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templates_engine.geometry import TOLERANCE_IN
from templates_engine.job.model import FaceJob, Job, KeepOut
from templates_engine.layout.faces import Attempt
from templates_engine.layout.model import Note, PlacedRow
from templates_engine.layout.row.constraints import RowConstraints
from templates_engine.layout.row.infeasibility import named
from templates_engine.layout.row.moved_by import Moved, moved_by_keep_outs, moved_by_pins
from templates_engine.trade.not_in_tables import listed
from templates_engine.units import MM_PER_INCH, LengthFormat

_Told = Iterator[tuple[str, Sequence[str]]]
"""What is told, and the ids of the holes it is about."""
_Placed = Sequence[tuple[RowConstraints, PlacedRow]]
"""The rows of a face, each as numbers and as placed."""


def notes(job: Job, tried: Attempt) -> tuple[Note, ...]:
    """Everything to be told of a job's faces, by face; ``tried`` has places for every row."""
    found: list[Note] = []
    for index, face in enumerate(job.faces):
        word, wheres = face.face.value, [(index, row) for row in range(len(face.rows))]
        placed = [(tried.groups[where], tried.rows[where]) for where in wheres]
        rows = [row for _, row in placed]
        told = (
            *((one.words, one.holes) for one in job.defaults_taken if one.face == word),
            *_flexible(rows),
            *_off_the_tape(rows, job.lengths),
            *_pins(placed),
            *_keep_outs(face, placed, job.lengths),
        )
        found += (Note(words, tuple(holes), word) for words, holes in told)
    return tuple(found)


def _flexible(rows: Sequence[PlacedRow]) -> _Told:
    holes = (hole for row in rows for hole in row.holes)
    ids = [hole.id for hole in holes if hole.outside_diameter_most_in > hole.outside_diameter_in]
    if ids:
        yield (
            "flexible raceways vary in diameter, so their centres are set by the mean: measure those in hand",
            ids,
        )


def _off_the_tape(rows: Sequence[PlacedRow], lengths: LengthFormat) -> _Told:
    """Holes of rows without ``snap`` whose centres lie between the graduations of the tape, along the row."""
    # As LengthFormat.mark rounds.
    step_in = 0.5 / MM_PER_INCH if lengths.unit == "mm" else 1 / lengths.denominator
    holes = (hole for row in rows if row.row.snap_in is None for hole in row.holes)
    ids = [
        hole.id
        for hole in holes
        if abs(hole.u_in / step_in - round(hole.u_in / step_in)) * step_in > TOLERANCE_IN
    ]
    if ids:
        yield (
            f"no `snap` is given, so centres lie between marks of the tape and are given to the nearest "
            f"{lengths.say(step_in)}",
            ids,
        )


def _pins(placed: _Placed) -> _Told:
    """Holes that would stand elsewhere if a neighbour were not pinned."""
    for group, row in placed:
        for pinned, ids in moved_by_pins(group, [hole.u_in for hole in row.holes]).items():
            is_factory = any(group.cuts[index].raceway.factory_knockout for index in pinned)
            fixed_by = "the factory knockout" if is_factory else "`at`"
            yield f"moved by {fixed_by} of {listed(map(group.id, pinned), 'and')}", ids


# --- keep-outs ----------------------------------------------------------------------------------------------


def _keep_outs(face: FaceJob, placed: _Placed, lengths: LengthFormat) -> _Told:
    moved: Moved[KeepOut] = {}
    for group, row in placed:
        for keep_outs, ids in moved_by_keep_outs(group, [hole.u_in for hole in row.holes]).items():
            moved.setdefault(keep_outs, []).extend(ids)
    for keep_outs, ids in moved.items():
        yield _why_moved(keep_outs, lengths), ids
    movers = {id(one) for keep_outs in moved for one in keep_outs}
    silent = [
        one for one in face.keep_outs if one.clear_in is None and not one.is_factory and id(one) not in movers
    ]
    if silent:
        yield f"{named(silent)} {_gives(silent)}, and moved no hole", ()


def _why_moved(keep_outs: Sequence[KeepOut], lengths: LengthFormat) -> str:
    words = f"moved by {named(keep_outs)}"
    clear = {one.clear_in for one in keep_outs}
    if all(one.is_factory for one in keep_outs):
        return f"{words}, to keep fittings off rings that are not knocked out"
    if None in clear:
        return f"{words}, which {_gives(keep_outs)}"
    if len(clear) == 1:
        return f"{words}, to stay {lengths.say(clear.pop() or 0.0)} clear" if clear != {0.0} else words
    return words


def _gives(keep_outs: Sequence[KeepOut]) -> str:
    verb = "gives" if len(keep_outs) == 1 else "give"
    return f"{verb} no `clear`, so the room is kept that the fittings beside need"
