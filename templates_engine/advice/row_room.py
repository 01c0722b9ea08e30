"""Turns one row of a job into the room it has where it stands; what else it could stand on, fit.py asks.

::

        back lip |<- back_in ->( knockout )<- front_in ->| front lip
        the row's end |<- along_in ->| end of the flat metal          below zero: that much is missing
"""

from __future__ import annotations

import math

from templates_engine.geometry import TOLERANCE_IN
from templates_engine.job.model import FromEdge, Job
from templates_engine.layout.faces import Attempt, attempt
from templates_engine.layout.job_changes import last_that, touching_in, with_apart, with_row
from templates_engine.layout.model import RowLine
from templates_engine.layout.remedies import can_be_cut
from templates_engine.layout.row.constraints import RowConstraints
from templates_engine.layout.row.failure import Failure
from templates_engine.layout.row.place_row import place_row, room_of
from templates_engine.layout.row.snap_grid import ANYWHERE, FINE_STEP_IN
from templates_engine.values import Struct, replace


class RowRoom(Struct, frozen=True):
    """How a row stands on a face: inches left over, below zero missing; None where it cannot be said."""

    line: RowLine | None
    back_in: float | None
    front_in: float | None
    along_in: float | None
    """In one piece beyond the row, at the end away from where it starts."""
    hindrances: tuple[str, ...]
    """What stops the row, in words; none when the face takes it."""

    @property
    def takes(self) -> bool:
        """Whether the row can be cut there: on flat metal, clear of keep-outs and of other rows."""
        return not self.hindrances


def only_face(job: Job, face_index: int) -> Job:
    """The job with one face alone, which is then the first."""
    return replace(job, faces=(job.faces[face_index],))


def room_of_row(job: Job, row_index: int) -> RowRoom:
    """The room of one row of the job's first face."""
    tried = attempt(job)
    failure = next((one for one in tried.failures if one.row == row_index), None)
    group = tried.groups.get((0, row_index))
    if group is None:
        return _without_back_line(job, row_index, failure)
    back_in, front_in = _across(group, group.line)
    hindrances = _across_words(back_in, front_in)
    if failure is None:
        along_in: float | None = _left_along(group)
        hindrances = hindrances or _other_rows(job, tried, row_index)
    else:
        missing_in = failure.error.told.missing_in
        is_length = missing_in is not None and math.isfinite(missing_in)
        along_in = -missing_in if is_length and missing_in is not None else None
        hindrances = (*hindrances, "along" if is_length else failure.error.told.message)
    return RowRoom(group.line, back_in, front_in, along_in, hindrances)


def largest_apart(job: Job, row_index: int) -> float | None:
    """The largest gap on a graduation, or spacing where the row has that, inches, with which a row of the
    first face finds its places.

    None where it has none to change, or finds no places even with its raceways as close as can be.
    """
    row, step = job.faces[0].rows[row_index], FINE_STEP_IN[job.unit]

    def fits(count: int) -> bool:
        changed = with_row(job, 0, row_index, with_apart(row, count * step))
        return (0, row_index) in attempt(changed).rows

    failing = math.ceil(job.faces[0].width_in / step) + 1
    closest = 0 if row.spacing_in is None else math.floor(touching_in(row) / step + TOLERANCE_IN) + 1
    if closest >= failing or fits(failing) or not fits(closest):
        return None
    return last_that(fits, closest, failing) * step


def _without_back_line(job: Job, row_index: int, failure: Failure | None) -> RowRoom:
    """A row whose strut does not reach the enclosure's back, or that has some other fault."""
    row = job.faces[0].rows[row_index]
    at_the_back = with_row(job, 0, row_index, replace(row, back_line=0.0, strut=None))
    group = attempt(at_the_back).groups.get((0, row_index))
    if failure is not None and failure.error.kind == "back line" and group is not None and row.strut:
        line = RowLine(row.strut.total_in - job.enclosure.back_gap_in, "behind the enclosure's back")
        back_in, front_in = _across(group, line)
        return RowRoom(line, back_in, front_in, None, ("the strut ends behind the enclosure's back",))
    words = failure.error.told.message if failure else "the row behind it has no back line"
    return RowRoom(None, None, None, None, (words,))


def _across(group: RowConstraints, line: RowLine) -> tuple[float, float]:
    """The least room from a knockout to the back and to the front of the flat metal."""
    face = group.face
    flat_back, flat_front = face.flat_v
    holes = [(cut.centre_v(line), cut.diameter_in / 2) for cut in group.cuts]
    back = min(centre - radius for centre, radius in holes) - flat_back
    front = flat_front - max(centre + radius for centre, radius in holes)
    return back, front


def _across_words(back_in: float, front_in: float) -> tuple[str, ...]:
    short = (("back", back_in), ("front", front_in))
    return tuple(word for word, room_in in short if room_in < -TOLERANCE_IN)


def _left_along(group: RowConstraints) -> float:
    """What is left beyond the row, up to the next keep-out, limit or end, with all its raceways packed toward
    where it starts; snap left aside.
    """
    placing = group.row.placing
    is_from_end = isinstance(placing, FromEdge) and placing.edge == "end"
    index = 0 if is_from_end else len(group.cuts) - 1
    if open_to := room_of(group, index):
        low, high = open_to[-1 if is_from_end else 0]
        return high - low
    at_in, allowed = place_row(group)[index], group.allowed(index, ANYWHERE)
    if is_from_end:
        return max(at_in - low for low, _ in allowed if low <= at_in + TOLERANCE_IN)
    return min(high - at_in for _, high in allowed if high >= at_in - TOLERANCE_IN)


def _other_rows(job: Job, tried: Attempt, row_index: int) -> tuple[str, ...]:
    """The rows that the row's holes cut into, and those in front that it pushes off the face."""
    face = job.faces[0]
    words = [] if can_be_cut(face, _only(tried, row_index), 0, {row_index}) else ["its own holes overlap"]
    for other, row in enumerate(face.rows):
        if other == row_index:
            continue
        if not can_be_cut(face, _only(tried, row_index, other), 0, {row_index}) and not words:
            words.append(f"row {row.name} is in the way")
        elif other > row_index and row.back_line == "auto" and not can_be_cut(face, tried, 0, {other}):
            words.append(f"row {row.name} in front does not fit")
    return tuple(words)


def _only(tried: Attempt, *rows: int) -> Attempt:
    """The attempt as if the first face had these rows alone."""
    return replace(tried, rows={(0, at): tried.rows[0, at] for at in rows if (0, at) in tried.rows})
