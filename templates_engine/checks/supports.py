"""Checks how far from the enclosure each raceway is first supported, and what it lies on there."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.checks.checked_face import CheckedFace
from templates_engine.checks.model import Answer, Measurement, MissingInput, NoFigure, Rule
from templates_engine.trade.code_tables import first_support
from templates_engine.trade.not_in_tables import NotInTables


def _first(site: CheckedFace) -> Iterator[Answer]:
    for hole in site.face.holes:
        provided = hole.raceway.first_support_in
        if provided is None:
            yield MissingInput("first support", hole.id)
            continue
        try:
            limit = first_support(hole.type, edition=site.job.code)
        except NotInTables as error:
            yield NoFigure(hole.id, error.message)
            continue
        verify = "" if limit.provenance.startswith("read") else ", from memory: verify"
        what, extra = f"{hole.id} ({hole.type})", f" ({limit.source}{verify})"
        yield Measurement((hole.id,), provided, limit.value, what, extra, hole.id, at_most=True)


FIRST = Rule(
    name="first support",
    what="Each raceway is fastened near the enclosure.",
    limit="36 in for EMT, IMC, RMC, PVC and ENT, 12 in for flexible raceways",
    source="NEC 358.30, 342.30, 344.30, 352.30, 362.30, 348.30, 350.30, 356.30",
    leaves_out="The exceptions: 5 ft where structure allows no nearer fastening; flexible raceways that are "
    "fished, are whips of up to 6 ft to luminaires, or must stay flexible (3 to 5 ft by trade size); "
    "nipples; later supports.",
    rests_on="code",
    measure=_first,
    short="{what} is first supported {there} from the enclosure, {needed} is allowed{extra}",
    fine="{what} is first supported {there} from the enclosure, {needed} is allowed{extra}",
    remedy="Fasten the raceway nearer to the enclosure.",
    missing_remedy="Write first support: with its distance from the enclosure.",
    no_figure_remedy="Check it by the code that is adopted.",
)

# --- factory knockouts and strut ----------------------------------------------------------------------------

LEAST_SHIM_IN = 1 / 16
"""Less than this a strap takes up (common practice, no source)."""


def _off_strut(site: CheckedFace) -> Iterator[Measurement]:
    for row in site.face.rows:
        line_in = row.back_line_in
        for hole in row.holes if line_in is not None else ():
            if not hole.raceway.factory_knockout or line_in is None:
                continue
            off_in = hole.v_in - hole.outside_diameter_in / 2 - line_in
            side = "behind" if off_in < 0 else "in front of"
            lies_on = "its strut's face" if row.row.is_strapped else f"row {row.row.name}'s back line"
            knockout = hole.raceway.factory_knockout
            what = f"{hole.id}, in factory knockout {knockout}, has its back {side} {lies_on}"
            yield Measurement((hole.id,), abs(off_in), LEAST_SHIM_IN, what, label=hole.id, at_most=True)


OFF_STRUT = Rule(
    name="factory knockouts and strut",
    what="A raceway in a factory knockout has its back where its strut is, as the knockout does not move.",
    limit="1/16 in before or behind, which a strap takes up",
    source="common practice, no source",
    leaves_out="Raceways that are bent or offset between knockout and strut.",
    rests_on="custom",
    measure=_off_strut,
    short="{what}, by {there}",
    fine="Raceways in factory knockouts lie on their strut, {label}'s back within {there}",
    remedy="Shim the raceway, take another strut, or bend an offset into it.",
)

RULES = (FIRST, OFF_STRUT)
