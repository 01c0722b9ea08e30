"""Turns a row's fittings into the figures its gaps and checks rest on, each once; a cover page words them."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.job import raceway_fittings
from templates_engine.job.model import Job
from templates_engine.job.shop.model import MEASURED
from templates_engine.layout.hole_spec import HoleSpec
from templates_engine.layout.model import FittingFigure
from templates_engine.layout.row.fitted_row import FittedRow
from templates_engine.trade.fittings import (
    BETWEEN_FITTINGS,
    BONDING_LUG,
    KINDS,
    FittingKind,
    allowance,
    habit_gap,
)

STRAP_GAP = "outsides apart for straps"
_ORDER = (*KINDS, STRAP_GAP, BONDING_LUG, BETWEEN_FITTINGS)


def figures(row: FittedRow) -> tuple[FittingFigure, ...]:
    """Every figure of the raceways whose gaps were worked out, and the shop's own of the rest."""
    found: list[FittingFigure] = []
    for index, cut in enumerate(row.cuts):
        kinds = raceway_fittings.kinds(cut.raceway, row.job, on_strut=row.row.is_strapped)
        of_cut = (figure for kind in kinds for figure in _figures(row.job, cut, kind))
        found += (figure for figure in of_cut if index in row.fitted or figure.provenance == MEASURED)
    if row.fitted:
        between = allowance(BETWEEN_FITTINGS)
        found.append(
            FittingFigure(BETWEEN_FITTINGS, "", between.length_in, between.source, between.provenance)
        )
    return tuple(sorted(dict.fromkeys(found), key=lambda figure: _ORDER.index(figure.what)))


def _figures(job: Job, cut: HoleSpec, kind: FittingKind) -> Iterator[FittingFigure]:
    size, found = cut.size, raceway_fittings.known_envelope(cut.raceway, kind, job)
    if found is None:
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
