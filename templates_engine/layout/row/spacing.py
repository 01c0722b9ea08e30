"""Turns two neighbours of a row into the distance their centres must keep; the row is placed elsewhere."""

from __future__ import annotations

from templates_engine.job.model import Row
from templates_engine.layout.hole_spec import HoleSpec
from templates_engine.layout.row.fitting_gaps import RequiredSpacing
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


def spacing_of(
    row: Row, earlier: HoleSpec, later: HoleSpec, fittings: RequiredSpacing | None = None
) -> Spacing:
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
