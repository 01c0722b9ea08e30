"""Looks up what the raceways of a row are fitted with, and the room that takes; what pairs need is for
fitting_gaps.

::

        ( hole )  fitting or die |<- kept between fittings ->| keep-out       all from the hole's centre
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from templates_engine.job import raceway_fittings
from templates_engine.job.model import FaceJob, Job, Row, Spread
from templates_engine.job.shop.model import MEASURED
from templates_engine.layout.hole_spec import HoleSpec
from templates_engine.layout.row.failure import RowError
from templates_engine.trade.fittings import (
    BETWEEN_FITTINGS,
    Allowance,
    FittingEnvelope,
    FittingKind,
    allowance,
)
from templates_engine.trade.not_in_tables import listed
from templates_engine.values import Struct


class FittedRaceway(Struct, frozen=True):
    """A raceway of a row with all that takes room round it."""

    cut: HoleSpec
    inside: tuple[FittingEnvelope, ...]
    outside: FittingEnvelope
    strap: FittingEnvelope | None
    die: FittingEnvelope | None
    lug: Allowance | None
    kept_in: float
    """What stays free between its fittings and a neighbour's."""

    @property
    def id(self) -> str:
        return self.cut.raceway.id

    @property
    def widest_inside(self) -> FittingEnvelope:
        return max(self.inside, key=lambda one: one.diameter_in)

    @property
    def widest_in(self) -> float:
        """Across the widest of everything round."""
        round_it = (*self.inside, self.outside, self.strap, self.die)
        return max(one.diameter_in for one in round_it if one is not None)

    @property
    def lug_reach_in(self) -> float:
        """From the centre to the lug's tip; 0 without one."""
        return 0.0 if self.lug is None else self.inside[-1].diameter_in / 2 + self.lug.length_in

    @property
    def farthest_in(self) -> float:
        """From the centre to the farthest point of anything round it."""
        return max(self.lug_reach_in, self.widest_in / 2)

    @property
    def beside_in(self) -> float:
        """How far its fittings stand out beyond the raceway's side, toward a limit."""
        return max(0.0, self.widest_in / 2 - self.cut.reach_in)


class FittedRow(Struct, frozen=True):
    """A row of a job with what is cut for each raceway; ``fitted`` holds, by index, those raceways whose
    fittings a gap depends on.
    """

    job: Job
    row: Row
    cuts: tuple[HoleSpec, ...]
    fitted: Mapping[int, FittedRaceway]


def fitted_row(job: Job, row: Row, cuts: tuple[HoleSpec, ...]) -> FittedRow:
    """The row with its fittings. Raises RowError, naming every figure that neither the shop file nor the
    tables have.
    """
    asked = _asked(row)
    wanted = {index: cut for index, cut in enumerate(cuts) if index in asked}
    return FittedRow(job, row, cuts, _all_fitted(job, row, wanted, row))


def fitted_behind(behind: FittedRow, front: Row) -> Sequence[FittedRaceway]:
    """All raceways of a row that ``front`` is to clear with its fittings; raises RowError like above."""
    cuts = dict(enumerate(behind.cuts))
    return tuple(_all_fitted(behind.job, behind.row, cuts, front).values())


def pair_asks(row: Row, index: int) -> bool:
    """Whether the gap after the raceway at ``index`` is to be worked out from fittings."""
    return row.asked_before(row.raceways[index + 1]).apart == "fittings"


def clearance_in() -> float:
    """What is kept between the fittings of neighbours where the row asks for no more."""
    return allowance(BETWEEN_FITTINGS).length_in


def strap_reach(job: Job, cut: HoleSpec) -> float:
    """From a raceway's centre to where its strap's room ends; a shop's own strap keeps what fittings keep."""
    strap = raceway_fittings.envelope(cut.raceway, "strap", job)
    return strap.diameter_in / 2 + (clearance_in() / 2 if strap.provenance == MEASURED else 0.0)


def rooms_beside(row: FittedRow, face: FaceJob) -> tuple[float, ...] | None:
    """How far each raceway's fittings reach from its centre, for keep-outs that give no clear distance; None
    where every keep-out gives its own.

    Straps stand on the strut, away from the face, and play no part; a bonding bushing's lug is turned away.
    """
    if all(keep_out.clear_in is not None for keep_out in face.keep_outs):
        return None
    return tuple(_room(row.job, cut) for cut in row.cuts)


def _room(job: Job, cut: HoleSpec) -> float:
    """Hole and raceway, and whatever fittings the shop file or the tables know."""
    kinds = raceway_fittings.kinds(cut.raceway, job, on_strut=False)
    known = filter(None, (raceway_fittings.known_envelope(cut.raceway, kind, job) for kind in kinds))
    return max([cut.radius_in, *(one.diameter_in / 2 + clearance_in() for one in known)])


# --- looking up ---------------------------------------------------------------------------------------------


def _asked(row: Row) -> frozenset[int]:
    count = len(row.raceways)
    if row.gap == "fittings" and (isinstance(row.placing, Spread) or row.back_line == "auto"):
        return frozenset(range(count))
    pairs = (index for index in range(count - 1) if pair_asks(row, index))
    return frozenset(one for index in pairs for one in (index, index + 1))


def _all_fitted(job: Job, row: Row, cuts: Mapping[int, HoleSpec], asking: Row) -> dict[int, FittedRaceway]:
    """The raceways of ``row``; ``asking`` is the row to be told of where figures are missing."""
    missing = [
        (cut, kind)
        for cut in cuts.values()
        for kind in raceway_fittings.kinds(cut.raceway, job, on_strut=row.is_strapped)
        if raceway_fittings.known_envelope(cut.raceway, kind, job) is None
    ]
    if missing:
        raise _unknown(asking, row, missing)
    return {index: _fitted(job, row, cut) for index, cut in cuts.items()}


def _fitted(job: Job, row: Row, cut: HoleSpec) -> FittedRaceway:
    raceway = cut.raceway
    return FittedRaceway(
        cut,
        inside=raceway_fittings.each_inside(raceway, job),
        outside=raceway_fittings.outside(raceway, job),
        strap=raceway_fittings.envelope(raceway, "strap", job) if row.is_strapped else None,
        die=raceway_fittings.envelope(raceway, "punch die", job)
        if raceway_fittings.is_punched(raceway)
        else None,
        lug=raceway_fittings.bonding_lug(raceway, job),
        kept_in=max(clearance_in(), row.tool_room_in),
    )


def _unknown(asking: Row, row: Row, missing: Sequence[tuple[HoleSpec, FittingKind]]) -> RowError:
    named = dict.fromkeys(
        f"the {kind} of {cut.raceway.id} ({cut.size.raceway_name})" for cut, kind in missing
    )
    of_row = "" if row.name == asking.name else f" in row {row.name}"
    cut, kind = missing[0]
    type_key = "type: metric, " if cut.size.type == "metric" else ""
    entry = f"fittings: [{{kind: {kind}, {type_key}size: {cut.size.trade_size}, across: ...}}]"
    return RowError(
        asking.place,
        f"Row {asking.name} asks for gaps worked out from its fittings, but no table says how wide "
        f"{listed(named, 'and')}{of_row} {'is' if len(named) == 1 else 'are'}.",
        "Write the gap as a length, such as gap: 1-1/8 in, or measure and write each in shop.yaml beside the "
        f"job, such as {entry}.",
    )
