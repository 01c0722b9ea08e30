"""Turns a row's fittings into the figures its gaps and checks rest on, each once.

The cover page words them.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from templates_engine.job import raceway_fittings
from templates_engine.job.model import Job, Row
from templates_engine.job.shop.model import MEASURED
from templates_engine.layout.hole_spec import HoleSpec
from templates_engine.layout.model import FittingFigure
from templates_engine.trade.fittings import (
    BETWEEN_FITTINGS,
    BONDING_LUG,
    KINDS,
    FittingKind,
    allowance,
    habit_gap,
)
from templates_engine.trade.not_in_tables import NotInTables

STRAP_GAP = "outsides apart for straps"
_ORDER = (*KINDS, STRAP_GAP, BONDING_LUG, BETWEEN_FITTINGS)


def figures(
    job: Job, row: Row, cuts: Sequence[HoleSpec], worked_out: Collection[int]
) -> tuple[FittingFigure, ...]:
    """Every figure of the raceways whose gaps were worked out (by index), and the shop's own of the rest."""
    found: list[FittingFigure] = []
    for index, cut in enumerate(cuts):
        kinds = raceway_fittings.kinds(cut.raceway, job, on_strut=row.is_strapped)
        of_cut = (figure for kind in kinds for figure in _figures(job, cut, kind))
        found += (figure for figure in of_cut if index in worked_out or figure.provenance == MEASURED)
    if worked_out:
        between = allowance(BETWEEN_FITTINGS)
        found.append(
            FittingFigure(BETWEEN_FITTINGS, "", between.length_in, between.source, between.provenance)
        )
    return tuple(sorted(dict.fromkeys(found), key=lambda figure: _ORDER.index(figure.what)))


def _figures(job: Job, cut: HoleSpec, kind: FittingKind) -> Iterator[FittingFigure]:
    size = cut.size
    try:
        found = raceway_fittings.envelope(cut.raceway, kind, job)
    except NotInTables:
        return
    is_own = found.provenance == MEASURED
    if kind == "strap" and not is_own:
        gap = habit_gap("strut straps")
        yield FittingFigure(STRAP_GAP, "", gap.gap_in, gap.source, gap.provenance)
        return
    label = size.raceway_name if is_own else size.trade_size
    yield FittingFigure(kind, label, found.diameter_in, found.source, found.provenance)
    lug = raceway_fittings.bonding_lug(cut.raceway, job)
    if kind == "bonding bushing" and lug is not None:
        label = label if lug.provenance == MEASURED else ""
        yield FittingFigure(BONDING_LUG, label, lug.length_in, lug.source, lug.provenance)
