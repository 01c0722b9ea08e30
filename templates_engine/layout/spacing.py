"""Two neighbours of a row into the distance their centres must keep; the row is placed elsewhere."""

from __future__ import annotations

from dataclasses import dataclass

from templates_engine.job.model import Row
from templates_engine.layout.cut import Cut
from templates_engine.layout.failure import RowError


@dataclass(frozen=True)
class Spacing:
    """What a pair of neighbours needs, and what asked for it."""

    gap_in: float
    centres_in: float
    governed_by: str


def between(row: Row, earlier: Cut, later: Cut) -> Spacing:
    """The clear gap and the centre distance two neighbours of a row must keep, along u.

    ::

        ( earlier )<- gap ->(  later  )      centres = half the one + gap + half the other,
            +-------centres------+           each raceway taken at its largest

    Raises RowError when the gap cannot be worked out.
    """
    gap_in, governed_by = _gap(row, earlier, later)
    centres_in = earlier.reach_in + gap_in + later.reach_in
    return Spacing(gap_in, centres_in, governed_by)


def _gap(row: Row, earlier: Cut, later: Cut) -> tuple[float, str]:
    if later.raceway.gap_before_in is not None:
        return later.raceway.gap_before_in, f"gap before {later.raceway.id}"
    if row.gap == "fittings":
        return gap_from_fittings(row, earlier, later)
    return row.gap, "gap of the row"


def gap_from_fittings(row: Row, earlier: Cut, later: Cut) -> tuple[float, str]:
    """The clear gap the pair's fittings need, inches, and which governs; not built yet: raises RowError.

    It belongs here: the largest of what straps, locknuts, bushings, connector or hub bodies and the punch's
    die need.
    """
    raise _not_built(row)


def row_gap(row: Row) -> float:
    """The row's own clear gap, inches, also toward limits and the row behind; raises RowError."""
    if row.gap == "fittings":
        raise _not_built(row)
    return row.gap


def _not_built(row: Row) -> RowError:
    return RowError(
        row.place,
        f"Row {row.name} asks for gaps worked out from its fittings, and that is not built yet.",
        "Write the clear gap as a length, such as gap: 1-1/8 in.",
    )
