"""Refuses a spacing from centre to centre at which raceways would touch; larger ones are for the solver."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from templates_engine.job.model import SPACING_OF_ROW, GapRequest, Row
from templates_engine.layout.hole_spec import HoleSpec
from templates_engine.layout.job_changes import RoundingSteps
from templates_engine.layout.row.failure import RowError
from templates_engine.layout.row.infeasibility import missing_words
from templates_engine.layout.tolerance import TOLERANCE_IN
from templates_engine.units import LengthFormat


def check_apart(row: Row, cuts: Sequence[HoleSpec], lengths: LengthFormat) -> None:
    """Raises RowError where a spacing is so small that two raceways would touch."""
    close = [
        (earlier, later, asked)
        for earlier, later in pairwise(cuts)
        for asked in [row.asked_before(later.raceway)]
        if _over_in(earlier, later, asked) > -TOLERANCE_IN
    ]
    if not close:
        return
    earlier, later, asked = max(close, key=lambda pair: _over_in(*pair))
    assert asked.apart != "fittings"
    over_in = _over_in(earlier, later, asked)
    how = f"overlap by {missing_words(over_in, lengths)}" if over_in > TOLERANCE_IN else "touch"
    step_in = RoundingSteps.of_unit(lengths.unit).fine_in
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
