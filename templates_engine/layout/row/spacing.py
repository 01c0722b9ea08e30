"""Turns the neighbours of a row into the distances their centres must keep; the row is placed elsewhere."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise

from templates_engine.geometry import TOLERANCE_IN
from templates_engine.job.model import SPACING_OF_ROW, FaceJob, GapRequest, Row
from templates_engine.layout.hole_spec import HoleSpec
from templates_engine.layout.model import RowLine
from templates_engine.layout.row.failure import RowError, missing_words
from templates_engine.layout.row.fitted_row import FittedRow, pair_asks
from templates_engine.layout.row.fitting_gaps import RequiredSpacing, lug_side, side_by_side
from templates_engine.layout.row.snap_grid import FINE_STEP_IN
from templates_engine.units import LengthFormat
from templates_engine.values import Struct


class Spacing(Struct, frozen=True):
    """What a pair of neighbours needs, and what asked for it."""

    gap_in: float
    centres_in: float
    governed_by: str
    fittings: str = ""
    """The kinds of the fittings that govern; empty where the job gives the gap as a length."""

    def widened(self, by_in: float, need: RequiredSpacing) -> Spacing:
        """The same for what other raceways need past the pair."""
        return Spacing(self.gap_in + by_in, self.centres_in + by_in, need.words, need.kinds)


def spacings_of(face: FaceJob, row: FittedRow, line: RowLine) -> tuple[Spacing, ...]:
    """What the neighbours of a row of the face must keep, one after the other."""
    fitted = row.fitted
    lugs = {index: lug_side(one, face, row.row, line) for index, one in fitted.items()}

    def need(one: int, other: int) -> RequiredSpacing | None:
        """What two raceways ask for whose fittings decide, along with those between them."""
        if not all(pair_asks(row.row, index) for index in range(one, other)):
            return None
        return side_by_side(fitted[one], fitted[other], line, (lugs[one], lugs[other]))

    spacings = [
        _between(row.row, one, other, need(index, index + 1))
        for index, (one, other) in enumerate(pairwise(row.cuts))
    ]
    most_in = max((2 * one.farthest_in + one.kept_in for one in fitted.values()), default=0.0)
    _clear_past_small_ones(spacings, need, most_in)
    return tuple(spacings)


def _between(row: Row, earlier: HoleSpec, later: HoleSpec, fittings: RequiredSpacing | None) -> Spacing:
    """The clear gap and the centre distance two neighbours of a row must keep, along u.

    ::

        ( earlier )<- gap ->(  later  )      centres = half the one + gap + half the other,
            +-------centres------+           each raceway taken at its largest

    ``fittings`` is what their fittings need, where the job asks for that.
    """
    sides_in = earlier.reach_in + later.reach_in
    if fittings is not None:
        return Spacing(fittings.centres_in - sides_in, fittings.centres_in, fittings.words, fittings.kinds)
    asked = row.asked_before(later.raceway)
    assert asked.apart != "fittings"
    if asked.measured == "centre to centre":
        return Spacing(asked.apart - sides_in, asked.apart, asked.words)
    return Spacing(asked.apart, sides_in + asked.apart, asked.words)


def _clear_past_small_ones(
    spacings: list[Spacing], need: Callable[[int, int], RequiredSpacing | None], most_in: float
) -> None:
    """Widens the gaps round small raceways where the fittings on both sides of them would else meet.

    ``most_in`` is more than any two raceways need.
    """
    for first in range(len(spacings)):
        for last in range(first + 2, len(spacings) + 1):
            apart_in = sum(spacing.centres_in for spacing in spacings[first:last])
            if apart_in >= most_in:
                break
            far = need(first, last)
            lack_in = 0.0 if far is None else far.centres_in - apart_in
            if far is not None and lack_in > TOLERANCE_IN:
                share_in = lack_in / (last - first)
                spacings[first:last] = [one.widened(share_in, far) for one in spacings[first:last]]


# --- a spacing too small for the raceways -------------------------------------------------------------------


def check_apart(row: Row, cuts: Sequence[HoleSpec], lengths: LengthFormat) -> None:
    """Raises RowError where a spacing from centre to centre is so small that two raceways would touch."""
    pairs = [(earlier, later, row.asked_before(later.raceway)) for earlier, later in pairwise(cuts)]
    close = [pair for pair in pairs if _over_in(*pair) > -TOLERANCE_IN]
    if not close:
        return
    earlier, later, asked = max(close, key=lambda pair: _over_in(*pair))
    assert asked.apart != "fittings"
    over_in = _over_in(earlier, later, asked)
    how = f"overlap by {missing_words(over_in, lengths)}" if over_in > TOLERANCE_IN else "touch"
    step_in = FINE_STEP_IN[lengths.unit]
    least_in = (math.floor((asked.apart + over_in) / step_in + TOLERANCE_IN) + 1) * step_in
    key = "spacing" if asked.words == SPACING_OF_ROW else "spacing before"
    pair = " and ".join(f"{cut.raceway.id} ({cut.size.raceway_name})" for cut in (earlier, later))
    apart, gap_key = lengths.say(asked.apart), key.replace("spacing", "gap")
    raise RowError(
        row.place,
        f"Row {row.name} does not fit: at {apart} from centre to centre ({asked.words}) {pair} would {how}.",
        f"Write `{key}: {lengths.say(least_in)}` or more, or `{gap_key}:` with the clear distance between "
        "raceways.",
    )


def _over_in(earlier: HoleSpec, later: HoleSpec, asked: GapRequest) -> float:
    """By how much two raceways would overlap where their centres are spaced; less than nothing if clear."""
    if asked.measured == "clear" or asked.apart == "fittings":
        return -math.inf
    return earlier.reach_in + later.reach_in - asked.apart
