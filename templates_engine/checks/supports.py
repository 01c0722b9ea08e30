"""Checks how far from the enclosure each raceway is first supported."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.checks.checked_face import CheckedFace
from templates_engine.checks.model import Answer, Measurement, MissingInput, NoFigure, Rule
from templates_engine.trade.code_tables import first_support
from templates_engine.trade.names import NotListed


def _first(site: CheckedFace) -> Iterator[Answer]:
    for hole in site.face.holes:
        provided = hole.raceway.first_support_in
        if provided is None:
            yield MissingInput("first support", hole.id)
            continue
        try:
            limit = first_support(hole.type, edition=site.job.code)
        except NotListed as error:
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

RULES = (FIRST,)
