"""Turns a job into what each row could stand on: struts, gaps and faces, each with the room left or missing.

The job need not fit as it is written. Codes, fittings and dies are for the checks.
"""

from __future__ import annotations

from templates_engine.advice.row_room import RowRoom, largest_apart, only_face, room_of_row
from templates_engine.job.model import Face, FaceJob, Job, Lips, MarkFrom, Row, Strut
from templates_engine.layout.job_changes import with_row
from templates_engine.trade import strut as strut_table
from templates_engine.values import Struct, replace


class OnStrut(Struct, frozen=True):
    """The row on one strut, or as written where ``strut`` is None."""

    strut: Strut | None
    is_written: bool
    room: RowRoom
    largest_apart_in: float | None
    """The largest gap that takes the row; of a row spaced centre to centre, the largest spacing."""


class OnFace(Struct, frozen=True):
    """The row, as it is written, on one of the four faces."""

    face: str
    width_in: float
    is_own: bool
    is_in_job: bool
    """If not, its lips and keep-outs are not known, and none are counted."""
    room: RowRoom


class RowFit(Struct, frozen=True):
    """All that one row could stand on."""

    face: str
    row: Row
    struts: tuple[OnStrut, ...]
    faces: tuple[OnFace, ...]


def fit_rows(job: Job) -> tuple[RowFit, ...]:
    """Every row of every face with the struts, gaps and faces that would take it."""
    return tuple(
        RowFit(face.face.value, row, _struts(job, at, index), _faces(job, at, index))
        for at, face in enumerate(job.faces)
        for index, row in enumerate(face.rows)
    )


def _struts(job: Job, face_index: int, row_index: int) -> tuple[OnStrut, ...]:
    """The row as written, every single strut, and those stacks that take the row; factory knockouts stay
    where they are on any.
    """
    alone = only_face(job, face_index)
    row = alone.faces[0].rows[row_index]
    written = _on_strut(alone, row_index, row, is_written=True)
    if row.is_in_factory_knockouts:
        return (written,)
    shim_in = row.strut.shim_in if row.strut else 0.0
    depths = [(one.depth_in,) for one in strut_table.depths()]
    stacks = strut_table.stacked_pairs()
    others = [
        _on_strut(alone, row_index, _held(row, Strut(each, shim_in)), is_written=False)
        for each in sorted([*depths, *stacks], key=lambda each: (sum(each), len(each)))
        if row.strut is None or each != row.strut.depths_in or row.back_line not in ("strut", "auto")
    ]
    useful = [one for one in others if one.strut and (len(one.strut.depths_in) == 1 or one.room.takes)]
    return (written, *useful)


def _held(row: Row, strut: Strut) -> Row:
    """The row on that strut: on the wall, or in front of the rows behind where that is how it is written."""
    return replace(row, strut=strut, back_line="auto" if row.back_line == "auto" else "strut")


def _on_strut(job: Job, row_index: int, row: Row, *, is_written: bool) -> OnStrut:
    changed = with_row(job, 0, row_index, row)
    strut = row.strut if row.back_line in ("strut", "auto") else None
    return OnStrut(strut, is_written, room_of_row(changed, row_index), largest_apart(changed, row_index))


def _faces(job: Job, face_index: int, row_index: int) -> tuple[OnFace, ...]:
    own = only_face(job, face_index)
    here = room_of_row(own, row_index)
    row = own.faces[0].rows[row_index]
    if row.back_line == "auto" and here.line is not None:
        row = replace(row, back_line=here.line.at_in)  # what stands behind it stays on its own face
    known = {face.face: at for at, face in enumerate(job.faces)}
    found = []
    for face in Face:
        if row.is_in_factory_knockouts and face is not job.faces[face_index].face:
            continue  # they are nowhere else
        if face is job.faces[face_index].face:
            found.append(OnFace(face.value, own.faces[0].width_in, True, True, here))
            continue
        other = job.faces[known[face]] if face in known else _bare(job, face, row)
        moved = replace(job, faces=(replace(other, rows=(*other.rows, row)),))
        room = room_of_row(moved, len(other.rows))
        found.append(OnFace(face.value, other.width_in, False, face in known, room))
    return tuple(found)


def _bare(job: Job, face: Face, row: Row) -> FaceJob:
    """A face the job says nothing of: the enclosure's measures, all of it flat."""
    enclosure = job.enclosure
    width_in = enclosure.height_in if face.is_side else enclosure.width_in
    return FaceJob(face, row.place, MarkFrom.OUTSIDE, width_in, enclosure.depth_in, Lips(), (), (), None)
