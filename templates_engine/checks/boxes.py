"""Checks the room for conductors inside the enclosure: to bend at terminals, and to be pulled through."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.checks.checked_face import CheckedFace, HoleContents
from templates_engine.checks.contents import missing_contents
from templates_engine.checks.model import Answer, Measurement, MissingInput, NoFigure, Outcome, Remark, Rule
from templates_engine.checks.openings import Disc, distance
from templates_engine.checks.wording import unique
from templates_engine.job.model import Enclosure, Face, Pull
from templates_engine.layout.frame import to_space
from templates_engine.layout.model import FaceLayout, PlacedRow
from templates_engine.trade.code_tables import bending_room
from templates_engine.trade.conductors import is_at_least, with_unit
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceways import RacewaySize
from templates_engine.values import Struct

STRAIGHT_TRADE_SIZES = 8
"""Box length in trade sizes of the largest raceway of a straight pull."""
TURN_TRADE_SIZES = 6
"""Distances of angle and U pulls in trade sizes of the largest raceway."""

# --- room to bend -------------------------------------------------------------------------------------------

WITH_TERMINALS = ("panelboard", "cabinet")
"""Kinds of enclosure that are asked for their lugs; others are checked where the job gives some."""
RULED_FROM = "8"
"""The smallest size for which the tables give a room."""
_LUGS_REMEDIES = {
    unit: f"Write under the face lugs: {{distance: {distance}, wires: 1, opposite: no}}."
    for unit, distance in (("in", "12 in"), ("mm", "300 mm"))
}


@Rule(
    name="bending room",
    what="Between this face and the terminals there is room to bend the largest conductor of each raceway.",
    limit="Table 312.6(A), or {bending opposite the terminals} where conductors enter through the wall "
    "opposite the terminals",
    source="NEC 312.6(A), 312.6(B); panelboards 408.55, wireways 376.23(A)",
    leaves_out="Compact aluminium conductors; reductions for removable lugs; smaller terminals than those "
    "the job gives; the exceptions of 408.55. For two and three wires of 250 kcmil opposite the terminals "
    "the printed inches are taken, 8-1/2 and 9; the millimetres of one printing read 9 and 10 in.",
    rests_on="code",
    short="{what} needs {needed} to bend at its terminals, {there} is there",
    remedy="Take a deeper gutter, smaller or fewer wires a terminal, or enter through another wall.",
    missing_remedy="Write the conductors the raceways carry.",
    no_figure_remedy="Check the wires at one terminal in 'lugs'.",
)
def bending(site: CheckedFace) -> Iterator[Answer]:
    lugs = site.face.job.lugs
    if lugs is None:
        if site.job.enclosure.kind in WITH_TERMINALS:
            for each in site.hole_contents:
                if _may_need_room(each):
                    yield MissingInput("lugs", each.hole.id, _LUGS_REMEDIES[site.job.unit])
        return
    for each in site.hole_contents:
        size = each.largest
        if size is None:
            continue
        try:
            figure = bending_room(size, lugs.wires, opposite=lugs.opposite, edition=site.job.code)
        except NotInTables as error:
            yield NoFigure(each.hole.id, error.message)
            continue
        wires = with_unit(size) if lugs.wires == 1 else f"{lugs.wires} wires of {with_unit(size)} a terminal"
        table = f" ({figure.source})" if figure else ""
        what = f"{each.hole.id}, with {wires}{table},"
        needed_in = figure.value if figure else 0.0
        yield Measurement((each.hole.id,), lugs.distance_in, needed_in, what, label=each.hole.id)
    yield from missing_contents(site.hole_contents)


def _may_need_room(each: HoleContents) -> bool:
    """Whether a room may be asked for; so too where it is not known what the raceway carries."""
    return bool(each.missing) or (each.largest is not None and is_at_least(each.largest, RULED_FROM))


# --- pulls --------------------------------------------------------------------------------------------------

_OPPOSITE = {Face.TOP: Face.BOTTOM, Face.BOTTOM: Face.TOP, Face.LEFT: Face.RIGHT, Face.RIGHT: Face.LEFT}


class _End(Struct, frozen=True):
    """One end of a pull: the hole, what its raceway carries, its row and face."""

    hole_contents: HoleContents
    row: PlacedRow
    face: FaceLayout

    @property
    def id(self) -> str:
        return self.hole_contents.hole.id

    @property
    def trade_size_in(self) -> float:
        """The trade size as a number, which is what NEC 314.28(A) counts in."""
        size = self.hole_contents.hole.raceway.size
        assert isinstance(size, RacewaySize), "a placed hole has a size"
        return size.trade_size_in


class _BoxPull(Struct, frozen=True):
    """A pull whose ends are both known and whose kind agrees with their walls."""

    pull: Pull
    start: _End
    end: _End

    @property
    def words(self) -> str:
        return f"{self.start.id} to {self.end.id}"

    @property
    def is_straight(self) -> bool:
        return self.pull.kind == "straight"

    @property
    def is_ruled(self) -> bool:
        """Whether NEC 314.28(A) applies: from 4 AWG up, and where the job does not say."""
        return (
            self.start.hole_contents.has_large is not False or self.end.hole_contents.has_large is not False
        )

    @property
    def largest_in(self) -> float:
        return max(self.start.trade_size_in, self.end.trade_size_in)


def _ends(site: CheckedFace) -> dict[str, list[_End]]:
    """Every hole of the layout as a possible end of a pull, by its id; the job reader lets only one of each
    through, but a job drawn by its faces may lack some.
    """
    found: dict[str, list[_End]] = {}
    for face in site.layout.faces:
        hole_contents = {each.hole: each for each in site.at(face).hole_contents}
        for row in face.rows:
            for hole in row.holes:
                found.setdefault(hole.id, []).append(_End(hole_contents[hole], row, face))
    return found


def _pulls(site: CheckedFace) -> tuple[_BoxPull, ...]:
    """The pulls that stand as the job says them."""
    pulls = site.job.enclosure.pulls
    ends = _ends(site) if pulls else {}
    read = (_read(pull, ends) for pull in pulls)
    return tuple(one for one in read if isinstance(one, _BoxPull))


def _read(pull: Pull, ends: dict[str, list[_End]]) -> _BoxPull | list[str]:
    """A pull with its ends, or what of it does not stand as the job says it."""
    found = {name: ends.get(name, []) for name in (pull.start, pull.end)}
    wrong = [
        f"a pull names {name}, which is on {'several faces' if alike else 'no face laid out here'}"
        for name, alike in found.items()
        if len(alike) != 1
    ]
    if wrong:
        return wrong
    start, end = found[pull.start][0], found[pull.end][0]
    kind = _kind_between(start.face, end.face)
    if kind != pull.kind:
        return [f"the pull {pull.start} to {pull.end} is called {pull.kind}, its walls make it {kind}"]
    return _BoxPull(pull, start, end)


def _kind_between(one: FaceLayout, other: FaceLayout) -> str:
    """What a pull between two walls is: straight, angle or U."""
    if one.job.face is other.job.face:
        return "U"
    return "straight" if _OPPOSITE[one.job.face] is other.job.face else "angle"


@Rule(
    name="pulls as written",
    what="A pull box names its pulls, and each runs between the walls that its kind says.",
    limit="straight to the wall opposite, U within one wall, angle otherwise",
    source="NEC 314.28(A)",
    leaves_out="Pulls to or from the back.",
    rests_on="code",
    missing_remedy="Write under 'enclosure' pulls: [{from: A1, to: B1, kind: angle}], one for each pull.",
    at_worst=Outcome.NOT_CHECKED,
    once_a_job=True,
)
def as_written(site: CheckedFace) -> Iterator[Answer]:
    """What stops all rules about pulls, told once."""
    enclosure, ends = site.job.enclosure, _ends(site)
    may_be_ruled = any(end.hole_contents.has_large is not False for alike in ends.values() for end in alike)
    if enclosure.kind == "pull box" and not enclosure.pulls and may_be_ruled:
        yield MissingInput("pulls")
    remedy = "Write the kind its walls make: straight to the wall opposite, U on one wall, else angle."
    read = (_read(pull, ends) for pull in enclosure.pulls)
    for words in unique(words for one in read if isinstance(one, list) for words in one):
        yield Remark(Outcome.NOT_CHECKED, f"{words[0].upper()}{words[1:]}.", remedy=remedy)


@Rule(
    name="pulls, straight",
    what="A box through which conductors of 4 AWG or larger are pulled straight is long enough from wall to "
    "wall.",
    limit="8 times the trade size of the largest raceway of the pull",
    source="NEC 314.28(A)(1)",
    leaves_out="Boxes marked for smaller dimensions (314.28(A)(3)); metal thickness: the enclosure's nominal "
    "size is taken; pulls to or from the back.",
    rests_on="code",
    short="The straight pull {what} needs {needed} of box from wall to wall, {there} is there",
    fine="The straight pull {what} has {there} of box from wall to wall, {needed} is needed{extra}",
    remedy="Take a longer box, or smaller raceways.",
)
def straight(site: CheckedFace) -> Iterator[Answer]:
    for pull in _pulls(site):
        if not pull.is_straight or pull.start.face is not site.face:
            continue
        required = STRAIGHT_TRADE_SIZES * pull.largest_in if pull.is_ruled else 0.0
        extra = "" if pull.is_ruled else ": no conductor is as large as 4 AWG"
        length_in = site.to_opposite_wall_in
        yield Measurement((pull.start.id, pull.end.id), length_in, required, pull.words, extra)


@Rule(
    name="pulls, angle and U",
    what="Where conductors of 4 AWG or larger turn in a box, the wall opposite each entry is far enough "
    "away.",
    limit="6 times the trade size of the largest raceway in a row, plus the sizes of the others in that row",
    source="NEC 314.28(A)(2)",
    leaves_out="Wireways, of which 376.23(B) speaks of the distance between entries alone, which another "
    "check measures; entries opposite a removable cover; boxes marked for smaller dimensions "
    "(314.28(A)(3)); metal thickness: the enclosure's nominal size is taken.",
    rests_on="code",
    short="{what} needs {needed} to the wall opposite ({extra}), {there} is there",
    fine="{what} has {there} to the wall opposite, {needed} is needed ({extra})",
    remedy="Take a larger box, or split the row over two walls or two rows.",
)
def turning(site: CheckedFace) -> Iterator[Answer]:
    """One row of one wall at a time, which counts whole.

    ::

            +--------------------------------+
            |<- 6 x largest + the others --->|
           (o) A1  3
           (o) A2  2          6 x 3 + 2 = 20
            +--------------------------------+
    """
    is_wireway = site.job.enclosure.kind == "wireway"
    turning = [pull for pull in _pulls(site) if not (pull.is_straight or is_wireway) and pull.is_ruled]
    here = [end for pull in turning for end in (pull.start, pull.end) if end.face is site.face]
    for row in dict.fromkeys(end.row for end in here):
        sizes = sorted(
            (hole.raceway.size.trade_size_in for hole in row.holes if hole.raceway.size), reverse=True
        )
        required = TURN_TRADE_SIZES * sizes[0] + sum(sizes[1:])
        sum_words = " + ".join([f"{TURN_TRADE_SIZES} x {sizes[0]:g}", *(f"{size:g}" for size in sizes[1:])])
        holes = tuple(hole.id for hole in row.holes)
        there_in = site.to_opposite_wall_in
        yield Measurement(holes, there_in, required, f"Row {row.row.name}", sum_words)


@Rule(
    name="pulls, between entries",
    what="The two raceways of an angle or U pull with conductors of 4 AWG or larger enter far enough from "
    "each other.",
    limit="6 times the trade size of the larger raceway",
    source="NEC 314.28(A)(2); wireways 376.23(B)",
    leaves_out="Boxes marked for smaller dimensions (314.28(A)(3)). Measured straight from edge to edge of "
    "the raceways, the stricter reading; the article does not say from where.",
    rests_on="code",
    short="The entries of the pull {what} are {there} apart, {needed} is needed",
    remedy="Move the two raceways of the pull farther from each other.",
)
def entries(site: CheckedFace) -> Iterator[Answer]:
    for pull in _pulls(site):
        if pull.is_straight or not pull.is_ruled or pull.start.face is not site.face:
            continue
        apart = distance(_opening(pull.start, site.job.enclosure), _opening(pull.end, site.job.enclosure))
        yield Measurement((pull.start.id, pull.end.id), apart, TURN_TRADE_SIZES * pull.largest_in, pull.words)


def _opening(end: _End, enclosure: Enclosure) -> Disc:
    """The raceway's entry as a disc in its wall."""
    hole, face = end.hole_contents.hole, end.face.job.face
    normal = (1.0, 0.0, 0.0) if face.is_side else (0.0, 1.0, 0.0)
    return Disc(to_space(enclosure, face, hole.centre), normal, hole.outside_diameter_in / 2)
