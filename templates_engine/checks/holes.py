"""Compares each hole with the thread that goes through it, the standard knockout and the usual hole saw."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from templates_engine.checks.checked_face import CheckedFace
from templates_engine.checks.fitting_sizes import envelope, listed_holes, thread_in
from templates_engine.checks.model import TOLERANCE_IN, Answer, Measurement, NoFigure, Outcome, Remark, Rule
from templates_engine.checks.wording import length, listed, unique
from templates_engine.job.model import Cutter
from templates_engine.job.shop.model import MEASURED
from templates_engine.layout.model import Hole
from templates_engine.trade.cutters import hole_saw
from templates_engine.trade.knockouts import look_up
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.units import LengthFormat
from templates_engine.values import Struct

LEAST_COVER_IN = 0.0
LOCKNUTS_VARY_IN = 0.125
"""How much smaller a locknut may be than the typical one of the table, as the table's note says.

A shop's own locknut is taken as it gives it.
"""


def _sizes_known(site: CheckedFace) -> Iterator[Measurement]:
    for hole in site.face.holes:
        doubts = _doubts(hole, site.lengths)
        size = f"{hole.id} ({hole.type} {hole.trade_size}) is placed by an outside diameter"
        words = f"{size} {' and '.join(doubts)}"
        yield Measurement((hole.id,), float(len(doubts)), 0.0, words, label=hole.id, at_most=True)


def _doubts(hole: Hole, lengths: LengthFormat) -> list[str]:
    mean, most = hole.outside_diameter_in, hole.outside_diameter_most_in
    doubts = []
    if most - mean > TOLERANCE_IN:
        doubts.append(f"of {length(mean, lengths)}, the mean of a range up to {length(most, lengths)}")
    if hole.raceway.size is not None and hole.raceway.size.provenance.startswith("from memory"):
        doubts.append(f"of {length(mean, lengths)} from memory" if not doubts else "from memory")
    return doubts


SIZES_KNOWN = Rule(
    name="raceway sizes known",
    what="Each raceway's outside diameter, which places its hole, was read in a standard and is one figure.",
    limit="none from memory, none made within a range",
    source="the raceway tables' own note of how each figure was had",
    leaves_out="Knockouts, pilots, dies and fittings, whose sources stand beside them.",
    rests_on="custom",
    measure=_sizes_known,
    short="{what}",
    fine="Every raceway's outside diameter was read in a standard",
    remedy="Measure the raceway in hand and compare it with the hole table before cutting.",
    unit="doubts",
)


def _threads(site: CheckedFace) -> Iterator[Measurement]:
    for hole in site.face.holes:
        yield Measurement((hole.id,), hole.hole_diameter_in, thread_in(hole), hole.id)


THREADS = Rule(
    name="hole takes the thread",
    what="Each hole is at least as wide as the thread that goes through it.",
    limit="the outside diameter of a rigid raceway of that trade size",
    source="ANSI C80.1 outside diameters; geometry",
    leaves_out="How easily it goes; paint and burrs.",
    rests_on="geometry",
    measure=_threads,
    short="{what} has a hole of {there} for a thread of {needed}",
    fine="Every thread goes through its hole, {what}'s with the least room: {there} for {needed}",
    remedy="Write hole: knockout, or the diameter that is really cut.",
)


def _standard(site: CheckedFace) -> Iterator[Answer]:
    for hole in site.face.holes:
        if hole.raceway.size is None:
            continue
        try:
            standard = look_up(hole.raceway.size)
        except NotInTables as error:
            yield NoFigure(hole.id, error.message)
            continue
        cut, size = hole.hole_diameter_in, hole.trade_size
        yield Measurement((hole.id,), cut, standard.least_in, hole.id, size)
        if not hole.raceway.has_reducing_washers:
            yield Measurement((hole.id,), cut, standard.most_in, hole.id, size, at_most=True)


STANDARD = Rule(
    name="hole as the standard",
    what="Each hole is within the limits of the standard knockout for its trade size.",
    limit="the least and the most of the standard knockout",
    source="NEMA knockout dimensions; for metric conduit usual clearance holes, from memory",
    leaves_out="How exactly a cutter cuts; how large a hole with reducing washers is.",
    rests_on="custom",
    measure=_standard,
    short="{what} is cut {there}, the standard knockout for {extra} is {needed} {bound}",
    fine="Every hole is within the standard's limits",
    remedy="Check that the fitting seats on this hole, or write hole: knockout, or reducing washers: yes.",
    no_figure_remedy="Check that the fitting seats on this hole.",
)


def _covers(site: CheckedFace) -> Iterator[Measurement]:
    """How much metal the smallest locknut covers on the open side.

    ::

             knockout, at its largest
            (----------------------------)
            [ raceway at one side ]            cover = locknut / 2 - (knockout - raceway / 2)
         {------- smallest locknut ------}
    """
    for hole in listed_holes(site, "locknut"):
        if hole.raceway.has_reducing_washers:
            continue
        locknut = envelope(hole, "locknut", site)
        varies_in = 0.0 if locknut.provenance == MEASURED else LOCKNUTS_VARY_IN
        cover = (locknut.diameter_in - varies_in) / 2 - (hole.hole_most_in - thread_in(hole) / 2)
        yield Measurement((hole.id,), cover, LEAST_COVER_IN, hole.id)


COVERS = Rule(
    name="locknut covers the hole",
    what="The smallest locknut covers the largest knockout, however far off centre the raceway stands.",
    limit="0 in of cover on the open side",
    source="NEMA bulletin 71, text; typical locknuts, within about 1/8 in: verify",
    leaves_out="Holes with reducing washers, which cover them; holes cut worse than their limits.",
    rests_on="custom",
    measure=_covers,
    short="{what} may leave an opening of {lack} beside a small locknut",
    fine="A small locknut covers every hole, {what}'s with {room} to spare",
    remedy="Centre the raceway in its hole, or use a larger locknut or a washer.",
    names_shop=True,
)


# --- hole saws ----------------------------------------------------------------------------------------------


class _SawnHole(Struct, frozen=True):
    """A hole to be sawn: the usual saw, and whether the drawing and the standard agree with it."""

    hole: Hole
    saw_in: float
    is_within: bool
    """Whether the saw cuts within the standard's limits."""

    @property
    def is_drawn_as_punched(self) -> bool:
        return self.hole.raceway.hole == "punch"

    @property
    def over_in(self) -> float:
        return self.saw_in - self.hole.hole_diameter_in


_SAW_REMEDY = "Write the diameter of the saw in hand as the hole, or cutter: punch."


def _saws(site: CheckedFace) -> Iterable[Answer]:
    sawn: list[_SawnHole] = []
    for hole in site.face.holes:
        raceway = hole.raceway
        is_sawn = raceway.cutter is Cutter.HOLE_SAW and raceway.knockout == "cut"
        if not is_sawn or not isinstance(raceway.hole, str) or raceway.size is None:
            continue
        try:
            saw, standard = hole_saw(raceway.size), look_up(raceway.size)
        except NotInTables as error:
            yield NoFigure(hole.id, error.message)
            continue
        least, most = standard.least_in - TOLERANCE_IN, standard.most_in + TOLERANCE_IN
        sawn.append(_SawnHole(hole, saw.diameter_in, least <= saw.diameter_in <= most))
    wrong = [one for one in sawn if not one.is_within or one.is_drawn_as_punched]
    if wrong:
        yield _saw_remark(Outcome.CAUTION, wrong, _wrong_words(wrong, site.lengths), _SAW_REMEDY)
    elif sawn:
        yield _saw_remark(Outcome.OK, sawn, _fine_words(sawn, site.lengths), "")


def _saw_remark(outcome: Outcome, sawn: list[_SawnHole], message: str, remedy: str) -> Remark:
    first = sawn[0]
    holes = unique(one.hole.id for one in sawn)
    return Remark(outcome, message, holes, first.saw_in, first.hole.hole_diameter_in, remedy)


def _each(sawn: list[_SawnHole], lengths: LengthFormat) -> str:
    """A1's saw and circle, once for all holes of one saw and one circle."""
    groups: dict[tuple[float, float], list[str]] = {}
    for one in sawn:
        groups.setdefault((one.saw_in, one.hole.hole_diameter_in), []).append(one.hole.id)
    unit = lengths.unit
    return "; ".join(
        f"{listed(ids)} {lengths.drill(saw)} {unit} for a circle of {lengths.drill(drawn)} {unit}"
        for (saw, drawn), ids in groups.items()
    )


def _wrong_words(wrong: list[_SawnHole], lengths: LengthFormat) -> str:
    if any(not one.is_within for one in wrong):
        return f"The usual hole saw cuts outside the standard knockout's limits: {_each(wrong, lengths)}."
    return (
        "The circle is drawn as a field punch cuts it, but a hole saw is to cut it, usually: "
        f"{_each(wrong, lengths)}."
    )


def _fine_words(sawn: list[_SawnHole], lengths: LengthFormat) -> str:
    other = [one for one in sawn if abs(one.over_in) > TOLERANCE_IN]
    if not other:
        return "Every usual hole saw cuts the circle that is drawn."
    ways = unique("larger" if one.over_in > 0 else "smaller" for one in other)
    return (
        f"The usual hole saw cuts a hole {' or '.join(ways)} than the circle drawn, but within the standard "
        f"knockout's limits: {_each(other, lengths)}."
    )


SAWS = Rule(
    name="hole saw",
    what="The usual hole saw for a trade size cuts within the limits of the standard knockout; where it is "
    "not the circle drawn, both are named.",
    limit="the least and the most of the standard knockout",
    source="usual hole saws, partly from memory: verify; NEMA knockout dimensions",
    leaves_out="The saw in hand, and how much larger than itself it cuts; holes given by their diameter.",
    rests_on="custom",
    measure=_saws,
    no_figure_remedy="Write the hole saw's diameter as the hole.",
)

RULES = (SIZES_KNOWN, THREADS, STANDARD, COVERS, SAWS)
