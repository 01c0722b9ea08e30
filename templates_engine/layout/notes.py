"""Turns a solved job into what moved its holes unasked: defaults taken, pins and keep-outs, with the holes.

What moved the holes of a row is found in row/moved_by.py.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templates_engine.job.model import FaceJob, Job, KeepOut
from templates_engine.layout.faces import Attempt
from templates_engine.layout.model import Note, PlacedRow
from templates_engine.layout.row.constraints import RowConstraints
from templates_engine.layout.row.infeasibility import named
from templates_engine.layout.row.moved_by import Moved, moved_by_keep_outs, moved_by_pins
from templates_engine.layout.tolerance import TOLERANCE_IN
from templates_engine.units import MM_PER_INCH, LengthFormat


def notes(job: Job, tried: Attempt) -> tuple[Note, ...]:
    """Everything to be told of a job's faces, by face; ``tried`` has places for every row."""
    lengths = job.lengths
    found: list[Note] = []
    for index, face in enumerate(job.faces):
        word = face.face.value
        rows = [tried.rows[index, row] for row in range(len(face.rows))]
        found += (Note(one.words, one.holes, word) for one in job.defaults_taken if one.face == word)
        found += _flexible(rows, word)
        found += _off_the_tape(rows, word, lengths)
        groups = [tried.groups[index, row] for row in range(len(face.rows))]
        found += _pins(groups, rows, word, lengths)
        found += _keep_outs(face, groups, rows, lengths)
    return tuple(found)


def _flexible(rows: Sequence[PlacedRow], word: str) -> Iterator[Note]:
    ids = tuple(
        hole.id
        for row in rows
        for hole in row.holes
        if hole.outside_diameter_most_in > hole.outside_diameter_in
    )
    if ids:
        yield Note(
            "flexible raceways vary in diameter, so their centres are set by the mean: measure those in hand",
            ids,
            word,
        )


def _off_the_tape(rows: Sequence[PlacedRow], word: str, lengths: LengthFormat) -> Iterator[Note]:
    """Holes of rows without ``snap`` whose centres lie between the graduations of the tape, along the row."""
    step_in = (
        0.5 / MM_PER_INCH if lengths.unit == "mm" else 1 / lengths.denominator
    )  # as LengthFormat.mark rounds
    ids = tuple(
        hole.id
        for row in rows
        if row.row.snap_in is None
        for hole in row.holes
        if abs(hole.u_in / step_in - round(hole.u_in / step_in)) * step_in > TOLERANCE_IN
    )
    if ids:
        yield Note(
            f"no `snap` is given, so centres lie between marks of the tape and are given to the nearest "
            f"{lengths.say(step_in)}",
            ids,
            word,
        )


def _pins(
    groups: Sequence[RowConstraints], rows: Sequence[PlacedRow], word: str, lengths: LengthFormat
) -> Iterator[Note]:
    """Holes that would stand elsewhere if a neighbour were not pinned."""
    for group, row in zip(groups, rows, strict=True):
        for pinned, ids in moved_by_pins(group, [hole.u_in for hole in row.holes], lengths).items():
            whose = pinned[0] if len(pinned) == 1 else f"{', '.join(pinned[:-1])} and {pinned[-1]}"
            fixed_by = "`at`" if _all_written(group, pinned) else "the factory knockout"
            yield Note(f"moved by {fixed_by} of {whose}", tuple(ids), word)


def _all_written(group: RowConstraints, pinned: Sequence[str]) -> bool:
    """Whether these raceways' places stand in the job as such, and not their factory knockouts'."""
    return not any(cut.raceway.factory_knockout for cut in group.cuts if cut.raceway.id in pinned)


# --- keep-outs ----------------------------------------------------------------------------------------------


def _keep_outs(
    face: FaceJob, groups: Sequence[RowConstraints], rows: Sequence[PlacedRow], lengths: LengthFormat
) -> Iterator[Note]:
    moved: Moved = {}
    for group, row in zip(groups, rows, strict=True):
        for keep_outs, ids in moved_by_keep_outs(group, [hole.u_in for hole in row.holes], lengths).items():
            moved.setdefault(keep_outs, []).extend(ids)
    for keep_outs, ids in moved.items():
        yield Note(_why_moved(keep_outs, lengths), tuple(ids), face.face.value)
    movers = {id(one) for keep_outs in moved for one in keep_outs}
    silent = [
        one for one in face.keep_outs if one.clear_in is None and not one.is_factory and id(one) not in movers
    ]
    if silent:
        yield Note(f"{named(silent)} {_gives(silent)}, and moved no hole", (), face.face.value)


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
