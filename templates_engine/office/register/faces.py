"""Holds a face as the register keeps it, and tells what moved from one to another."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from templates_engine.layout.model import FaceLayout, Layout
from templates_engine.sheets.model import FacePlan
from templates_engine.values import Struct

_SAME_IN = 1e-6


class RecordedHole(Struct, frozen=True):
    """A hole as it is marked."""

    id: str
    called: str
    u_in: float
    v_in: float
    hole_in: float
    pilot_in: float | None

    def is_at(self, other: RecordedHole) -> bool:
        """Whether both are marked and cut alike, whatever they are called."""
        apart_in = math.dist((self.u_in, self.v_in), (other.u_in, other.v_in))
        return self.is_cut_as(other) and apart_in < _SAME_IN

    def is_cut_as(self, other: RecordedHole) -> bool:
        """Whether the same tools make both."""
        if (self.pilot_in is None) != (other.pilot_in is None):
            return False
        sizes = ((self.hole_in, other.hole_in), (self.pilot_in or 0.0, other.pilot_in or 0.0))
        return all(abs(mine - its) < _SAME_IN for mine, its in sizes)


class RecordedFace(Struct, frozen=True):
    """A face with its fingerprints; ``sheets`` is what is added to it for the way it is cut into sheets."""

    face: str
    start_edge: str
    end_edge: str
    fingerprint: str
    sheets: str
    mark_from: str
    width_in: float
    depth_in: float
    holes: tuple[RecordedHole, ...]

    @property
    def code(self) -> str:
        """As it is printed: "K7QM-2XWD-4QP"."""
        return f"{self.fingerprint}-{self.sheets}" if self.sheets else self.fingerprint


def recorded_face(face: FaceLayout, sheets: str = "") -> RecordedFace:
    """What is kept of a face."""
    job = face.job
    holes = tuple(
        RecordedHole(
            one.id, one.raceway_name, one.u_in, one.v_in, one.hole_diameter_in, one.pilot_diameter_in
        )
        for one in face.holes
    )
    return RecordedFace(
        job.face.value,
        job.face.start_edge,
        job.face.end_edge,
        face.fingerprint,
        sheets,
        job.mark_from.value,
        job.width_in,
        job.depth_in,
        holes,
    )


def faces_of_layout(layout: Layout) -> tuple[RecordedFace, ...]:
    """All faces, not yet cut into sheets."""
    return tuple(recorded_face(face) for face in layout.faces)


def faces_of_plan(faces: Sequence[FacePlan]) -> tuple[RecordedFace, ...]:
    """All faces as they are drawn."""
    return tuple(
        recorded_face(one.layout, one.fingerprint.removeprefix(f"{one.layout.fingerprint}-")) for one in faces
    )


# --- what moved ---------------------------------------------------------------------------------------------


class Move(Struct, frozen=True):
    """A hole that is there on both, elsewhere or under another name."""

    old: RecordedHole
    new: RecordedHole

    @property
    def is_moved(self) -> bool:
        return not self.old.is_at(self.new)


class Moves(Struct, frozen=True):
    """What became of the holes of a sheet."""

    moved: tuple[Move, ...]
    """Elsewhere, or the same under another name."""
    removed: tuple[RecordedHole, ...]
    added: tuple[RecordedHole, ...]
    stay: int
    """Holes that are where they were, by the same name."""


def moves(old: RecordedFace, new: RecordedFace) -> Moves:
    """Holes that stay where they are first, by whatever name; then those of one name and one raceway, then
    those of one raceway, as moved; what is left was removed or added.
    """
    left_old, left_new = list(old.holes), list(new.holes)
    pairs = [*_taken(left_old, left_new, same_name=True, same_place=True)]
    pairs += _taken(left_old, left_new, same_name=False, same_place=True)
    pairs += _taken(left_old, left_new, same_name=True, same_place=False)
    pairs += _taken(left_old, left_new, same_name=False, same_place=False)
    told = tuple(one for one in pairs if one.is_moved or one.old.id != one.new.id)
    order = [hole.id for hole in new.holes]
    moved = tuple(sorted(told, key=lambda one: order.index(one.new.id)))
    return Moves(moved, tuple(left_old), tuple(left_new), len(pairs) - len(told))


def _taken(
    old: list[RecordedHole], new: list[RecordedHole], *, same_name: bool, same_place: bool
) -> Iterator[Move]:
    """Takes the pairs out of both."""
    for hole in tuple(old):
        for other in new:
            is_named = not same_name or hole.id == other.id
            is_same = hole.is_at(other) if same_place else hole.is_cut_as(other)
            if is_named and is_same and (same_place or hole.called == other.called):
                old.remove(hole)
                new.remove(other)
                yield Move(hole, other)
                break
