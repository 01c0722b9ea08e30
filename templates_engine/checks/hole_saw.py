"""Compares what the usual hole saw cuts with the circle that is drawn for it and the standard's limits."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import TOLERANCE_IN, listed, speech_of, unique, unlisted
from templates_engine.job.model import Cutter
from templates_engine.layout.model import FaceLayout, Hole, Layout
from templates_engine.trade.cutters import hole_saw
from templates_engine.trade.knockouts import look_up
from templates_engine.trade.names import NotListed
from templates_engine.units import Speech

ABOUT = About(
    name="hole saw",
    what="The usual hole saw for a trade size cuts within the limits of the standard knockout; where it is "
    "not the circle drawn, both are named.",
    limit="the least and the most of the standard knockout",
    source="usual hole saws, partly from memory: verify; NEMA knockout dimensions",
    leaves_out="The saw in hand, and how much larger than itself it cuts; holes given by their diameter.",
    rests_on="custom",
)
_REMEDY = "Write the diameter of the saw in hand as the hole, or cutter: punch."


@dataclass(frozen=True)
class _Sawn:
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


def run(layout: Layout) -> Iterable[Finding]:
    speech = speech_of(layout.job)
    for face in layout.faces:
        sawn, why = _sawn(face)
        wrong = [one for one in sawn if not one.is_within or one.is_drawn_as_punched]
        if wrong:
            yield _finding(face, Outcome.CAUTION, wrong, _wrong_words(wrong, speech), _REMEDY)
        elif sawn:
            yield _finding(face, Outcome.OK, sawn, _fine_words(sawn, speech), "")
        yield from unlisted(ABOUT, face.job.face.value, why, "Write the hole saw's diameter as the hole.")


def _sawn(face: FaceLayout) -> tuple[list[_Sawn], dict[str, str]]:
    """The holes a saw cuts by trade size, and the tables' sentence for those they do not list."""
    found: list[_Sawn] = []
    why: dict[str, str] = {}
    for hole in face.holes:
        raceway = hole.raceway
        is_sawn = raceway.cutter is Cutter.HOLE_SAW and raceway.knockout == "cut"
        if not is_sawn or not isinstance(raceway.hole, str) or raceway.size is None:
            continue
        try:
            saw, standard = hole_saw(raceway.size), look_up(raceway.size)
        except NotListed as error:
            why[hole.id] = error.message
            continue
        least, most = standard.least_in - TOLERANCE_IN, standard.most_in + TOLERANCE_IN
        found.append(_Sawn(hole, saw.diameter_in, least <= saw.diameter_in <= most))
    return found, why


def _finding(face: FaceLayout, outcome: Outcome, sawn: list[_Sawn], message: str, remedy: str) -> Finding:
    first = sawn[0]
    return Finding(
        check=ABOUT.name,
        outcome=outcome,
        face=face.job.face.value,
        holes=unique(one.hole.id for one in sawn),
        provided=first.saw_in,
        required=first.hole.hole_diameter_in,
        unit="in",
        source=ABOUT.source,
        message=message,
        remedy=remedy,
    )


def _each(sawn: list[_Sawn], speech: Speech) -> str:
    """A1's saw and circle, once for all holes of one saw and one circle."""
    groups: dict[tuple[float, float], list[str]] = {}
    for one in sawn:
        groups.setdefault((one.saw_in, one.hole.hole_diameter_in), []).append(one.hole.id)
    return "; ".join(
        f"{listed(ids)} {speech.drill(saw)} {speech.unit} for a circle of {speech.drill(drawn)} {speech.unit}"
        for (saw, drawn), ids in groups.items()
    )


def _wrong_words(wrong: list[_Sawn], speech: Speech) -> str:
    if any(not one.is_within for one in wrong):
        return f"The usual hole saw cuts outside the standard knockout's limits: {_each(wrong, speech)}."
    return (
        "The circle is drawn as a field punch cuts it, but a hole saw is to cut it, usually: "
        f"{_each(wrong, speech)}."
    )


def _fine_words(sawn: list[_Sawn], speech: Speech) -> str:
    other = [one for one in sawn if abs(one.over_in) > TOLERANCE_IN]
    if not other:
        return "Every usual hole saw cuts the circle that is drawn."
    ways = unique("larger" if one.over_in > 0 else "smaller" for one in other)
    return (
        f"The usual hole saw cuts a hole {' or '.join(ways)} than the circle drawn, but within the standard "
        f"knockout's limits: {_each(other, speech)}."
    )
