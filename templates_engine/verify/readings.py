"""Turns "A1-A7=31-7/16" into a distance of the face and what a rule read over it; diagnosis.py judges it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import combinations

from templates_engine.errors import Problem
from templates_engine.layout.model import FaceLayout
from templates_engine.sheets.model import FacePlan
from templates_engine.units import LengthError, LengthFormat, Unit, read_reading
from templates_engine.values import Struct
from templates_engine.verify.distances import (
    Distance,
    ReadingError,
    distance_of,
    plain_words,
    problem,
    shortened,
)

FARTHEST_OFF = 0.20
LEAST_FAR_IN = 0.6
"""A reading off by more than this share and this length is a slip of the pen, not of the paper."""
FIT_TO_PAGE = 0.07
"""By how much "fit to page" usually shrinks, at most."""
DISAGREE_IN = 1 / 16
"""Two readings of one distance are no further apart, even to the coarsest mark."""
NOT_YET = "?"
"""Stands in a suggested command where a reading is to be typed."""
_QUOTES = "\"'\u201c\u201d\u2018\u2019\u2033\u201e\u00ab\u00bb`"


class Reading(Struct, frozen=True):
    """What a rule read over a distance."""

    distance: Distance
    read_in: float

    @property
    def off_in(self) -> float:
        """How much too long it read."""
        return self.read_in - self.distance.length_in


def readings_of(
    texts: Sequence[str],
    plan: FacePlan,
    lengths: LengthFormat,
    others: Sequence[FaceLayout] = (),
) -> tuple[Reading, ...]:
    """All readings; raises ReadingError with every one that cannot be used.

    ``others`` are the job's other faces, so that a hole of theirs is said to be one.
    """
    readings: list[Reading] = []
    problems: list[Problem] = []
    for text in texts:
        try:
            readings.append(_reading(text, plan, lengths))
        except ReadingError as error:
            problems += (_on_another_face(text, plan, others) or one for one in error.problems)
    problems += _disagreeing(readings, lengths)
    if problems:
        raise ReadingError(problems)
    return tuple(readings)


def face_measured(texts: Sequence[str], faces: Sequence[FacePlan], unit: Unit) -> FacePlan | None:
    """The only face that has every place the readings name, else the first with a hole they name.

    None where several have every place, or none has any: the readings do not say.
    """
    named = [face for face in faces if _names_places_of(texts, face, unit)]
    if not named:
        named = [face for face in faces if _names_a_hole_of(texts, face)][:1]
    return named[0] if len(named) == 1 else None


def _names_places_of(texts: Sequence[str], plan: FacePlan, unit: Unit) -> bool:
    """Whether every reading names places of this face; one without any places decides nothing."""
    for pair, equals, value in map(_parts, texts):
        try:
            distance_of(pair if equals else "", plan, _is_metric(value, unit))
        except ReadingError:
            if equals:
                return False
    return True


def _names_a_hole_of(texts: Sequence[str], plan: FacePlan) -> bool:
    """Whether any reading names a hole of this face."""
    ids = {hole.id.lower() for hole in plan.layout.holes}
    return any(word in ids for text in texts for word in _words(text))


def hole_distances(plan: FacePlan) -> Iterator[Distance]:
    """Every pair of holes, the order of the layout kept."""
    places = [(hole.id, plan.centre_of(hole)) for hole in plan.layout.holes]
    for (first, start), (second, end) in combinations(places, 2):
        yield Distance((first, second), start, end)


# --- one reading --------------------------------------------------------------------------------------------


def _reading(text: str, plan: FacePlan, lengths: LengthFormat) -> Reading:
    pair, equals, value = _parts(text)
    if not equals:
        raise _without_equals(text)
    distance = distance_of(pair, plan, _is_metric(value, lengths.unit))
    if value == NOT_YET:
        raise problem(
            f"{distance.name} has no reading yet.", f"Put what the rule read in place of the {NOT_YET}."
        )
    try:
        read_in = read_reading(value, lengths.unit).length_in
    except LengthError as error:
        raise problem(f"{distance.name}: {error.message}", error.remedy) from error
    off = abs(read_in - distance.length_in)
    rect = plan.plane.rect
    # Of a print shrunk to the page, what is far from the rulers' zero comes far from the can's other edge.
    shrunk = FIT_TO_PAGE * max(rect.width, rect.height) if any(distance.on_can) else 0.0
    if off > LEAST_FAR_IN + shrunk and off > FARTHEST_OFF * distance.length_in:
        should, did = distance.said(lengths), lengths.say_to_64ths(read_in)
        message = f"{distance.name} should read {should}; {did} is far from it."
        raise problem(message, "Are these the right two places, and is the reading right?")
    return Reading(distance, read_in)


def _parts(text: str) -> tuple[str, str, str]:
    """The places, the = and the length, without quotation marks round any of them."""
    text = _unquoted(text.replace("\uff1d", "=").strip().rstrip(",;"))
    pair, equals, value = text.partition("=")
    return _unquoted(pair), equals, _unquoted(value)


def _unquoted(text: str) -> str:
    """Without quotation marks round it; no place and no length begins with one, but inches end with one."""
    text = text.strip()
    while text and text[0] in _QUOTES:
        text = text[1:].strip()
        if text and text[-1] in _QUOTES:
            text = text[:-1].strip()
    return text


def _is_metric(value: str, unit: Unit) -> bool:
    """Whether the metric side of a rule was read; where nothing was yet, whether it will be."""
    try:
        return read_reading(value, unit).is_metric
    except LengthError:
        return unit == "mm"


def _without_equals(text: str) -> ReadingError:
    words = plain_words(text)
    if re.fullmatch(r"[\d./\- ]+(in|mm|cm)?[\"']?", words):
        remedy = 'Put quotation marks round a reading with a space in it, such as "A1-A7=31 7/16".'
        return problem(f"'{shortened(text)}' stands alone, without its places.", remedy)
    return problem(f"'{shortened(text)}' has no =.")


# --- several readings ---------------------------------------------------------------------------------------


def _disagreeing(readings: Sequence[Reading], lengths: LengthFormat) -> Iterator[Problem]:
    """Readings of one distance that cannot both be right."""
    first: dict[frozenset[str], Reading] = {}
    for one in readings:
        earlier = first.setdefault(one.distance.key, one)
        apart = abs(one.read_in - earlier.read_in)
        if apart > DISAGREE_IN + 1e-9 and abs(one.distance.length_in - earlier.distance.length_in) < 1e-9:
            yield Problem(
                f"{one.distance.name} is given as {lengths.say(earlier.read_in)} and as "
                f"{lengths.say(one.read_in)}: {lengths.say(apart)} apart.",
                "Measure it once more and leave the wrong reading out.",
            )


def _on_another_face(text: str, plan: FacePlan, others: Sequence[FaceLayout]) -> Problem | None:
    """What to say of a hole that is on another face."""
    here = {plain_words(hole.id).lower() for hole in plan.layout.holes}
    words = _words(text)
    for other in others:
        for hole in other.holes:
            if hole.id.lower() in words and hole.id.lower() not in here:
                face, there = plan.layout.job.face.value, other.job.face.value
                return Problem(
                    f"{hole.id} is a hole of the {there}, and these readings are taken as the {face}'s.",
                    f"Give the readings of one face at a time: --face {there} for the {there}'s.",
                )
    return None


def _words(text: str) -> list[str]:
    """The words a reading's places are made of, in small letters."""
    return re.split(r"[-\s]+", plain_words(_parts(text)[0]).lower())
