"""The pulls of a job with the holes at both ends, and what does not hold of them; measures nothing."""

from __future__ import annotations

from dataclasses import dataclass

from templates_engine.checks.support.discs import Disc
from templates_engine.checks.support.loads import Loaded, loads
from templates_engine.job.model import Enclosure, Face, Pull
from templates_engine.layout.frame import to_space
from templates_engine.layout.model import FaceLayout, Layout, PlacedRow
from templates_engine.trade.raceways import RacewaySize

_OPPOSITE = {Face.TOP: Face.BOTTOM, Face.BOTTOM: Face.TOP, Face.LEFT: Face.RIGHT, Face.RIGHT: Face.LEFT}


@dataclass(frozen=True)
class End:
    """One end of a pull: the hole, what its raceway carries, its row and face."""

    loaded: Loaded
    row: PlacedRow
    face: FaceLayout

    @property
    def id(self) -> str:
        return self.loaded.hole.id

    @property
    def trade_size_in(self) -> float:
        return size_in(self.loaded)


@dataclass(frozen=True)
class BoxPull:
    """A pull whose ends are both known and whose kind agrees with their walls."""

    pull: Pull
    start: End
    end: End

    @property
    def words(self) -> str:
        return f"{self.start.id} to {self.end.id}"

    @property
    def is_ruled(self) -> bool:
        """Whether NEC 314.28(A) applies: from 4 AWG up, and where the job does not say."""
        return self.start.loaded.has_large is not False or self.end.loaded.has_large is not False


def size_in(loaded: Loaded) -> float:
    """A raceway's trade size as a number, which is what NEC 314.28(A) counts in."""
    size = loaded.hole.raceway.size
    assert isinstance(size, RacewaySize), "a placed hole has a size"
    return size.trade_size_in


def ends(layout: Layout) -> tuple[End, ...]:
    """Every hole of the layout as a possible end of a pull."""
    return tuple(
        End(loaded, row, face)
        for face in layout.faces
        for loaded in loads(face, layout.job)
        for row in face.rows
        if loaded.hole in row.holes
    )


def box_pulls(layout: Layout) -> tuple[BoxPull, ...]:
    """The pulls that stand as the job says them."""
    known = ends(layout) if layout.job.enclosure.pulls else ()
    found = [(pull, _find(pull.start, known), _find(pull.end, known)) for pull in layout.job.enclosure.pulls]
    return tuple(
        BoxPull(pull, start[0], end[0])
        for pull, start, end in found
        if len(start) == 1 and len(end) == 1 and kind_between(start[0].face, end[0].face) == pull.kind
    )


def misfits(layout: Layout) -> tuple[str, ...]:
    """Sentences, without full stops, on pulls that do not stand as the job says them."""
    known = ends(layout) if layout.job.enclosure.pulls else ()
    words = []
    for pull in layout.job.enclosure.pulls:
        start, end = _find(pull.start, known), _find(pull.end, known)
        for name, found in ((pull.start, start), (pull.end, end)):
            if len(found) != 1:
                where = "several faces" if found else "no face laid out here"
                words.append(f"a pull names {name}, which is on {where}")
        if len(start) == 1 and len(end) == 1:
            kind = kind_between(start[0].face, end[0].face)
            if kind != pull.kind:
                words.append(
                    f"the pull {pull.start} to {pull.end} is called {pull.kind}, its walls make it {kind}"
                )
    return tuple(dict.fromkeys(words))


def _find(name: str, known: tuple[End, ...]) -> list[End]:
    """The holes of that id; the job reader lets only one through."""
    return [end for end in known if end.id == name]


def kind_between(one: FaceLayout, other: FaceLayout) -> str:
    """What a pull between two walls is: straight, angle or U."""
    if one.job.face is other.job.face:
        return "U"
    return "straight" if _OPPOSITE[one.job.face] is other.job.face else "angle"


def to_opposite_wall(face: Face, enclosure: Enclosure) -> float:
    """Inches from a wall to the one opposite, by the enclosure's nominal size."""
    return enclosure.width_in if face.is_side else enclosure.height_in


def opening(end: End, enclosure: Enclosure) -> Disc:
    """The raceway's entry as a disc in its wall."""
    hole, face = end.loaded.hole, end.face.job.face
    normal = (1.0, 0.0, 0.0) if face.is_side else (0.0, 1.0, 0.0)
    return Disc(to_space(enclosure, face, hole.centre), normal, hole.outside_diameter_in / 2)
