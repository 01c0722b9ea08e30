"""Checks how far from the enclosure each raceway is first supported."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import (
    Case,
    judge,
    needed,
    not_checked,
    speech_of,
    there,
    unlisted,
)
from templates_engine.layout.model import FaceLayout, Layout
from templates_engine.trade.code_tables import Figure
from templates_engine.trade.code_tables import first_support as listed_distance
from templates_engine.trade.names import NotListed

ABOUT = About(
    name="first support",
    what="Each raceway is fastened near the enclosure.",
    limit="36 in for EMT, IMC, RMC and PVC, 12 in for flexible raceways",
    source="NEC 358.30, 342.30, 344.30, 352.30, 348.30, 350.30, 356.30",
    leaves_out="The exceptions, such as 5 ft where structure allows no nearer fastening; nipples; later "
    "supports.",
    rests_on="code",
)


def run(layout: Layout) -> Iterable[Finding]:
    speech, edition = speech_of(layout.job), layout.job.code
    for face in layout.faces:
        listed, why = _limits(face, edition)
        yield from judge(
            ABOUT,
            face.job.face.value,
            _cases(face, listed),
            when_short=Outcome.FAIL,
            short=lambda case: (
                f"{case.what} is first supported {there(case, speech)} from the enclosure, "
                f"{needed(case, speech)} is allowed{case.extra}"
            ),
            fine=lambda case: (
                f"{case.what} is first supported {there(case, speech)} from the enclosure, "
                f"{needed(case, speech)} is allowed{case.extra}"
            ),
            remedy="Fasten the raceway nearer to the enclosure.",
        )
        silent = [hole.id for hole in face.holes if hole.raceway.first_support_in is None]
        remedy = "Write first support: with its distance from the enclosure."
        yield from not_checked(
            ABOUT, face.job.face.value, {"first support": silent} if silent else {}, remedy
        )
        yield from unlisted(ABOUT, face.job.face.value, why, "Check it by the code that is adopted.")


def _limits(face: FaceLayout, edition: str) -> tuple[dict[str, Figure], dict[str, str]]:
    """The limit for each hole with a support given, and the tables' sentence where they list none."""
    limits, why = {}, {}
    for hole in face.holes:
        if hole.raceway.first_support_in is None:
            continue
        try:
            limits[hole.id] = listed_distance(hole.type, edition=edition)
        except NotListed as error:
            why[hole.id] = error.message
    return limits, why


def _cases(face: FaceLayout, limits: dict[str, Figure]) -> Iterable[Case]:
    for hole in face.holes:
        if hole.id in limits and hole.raceway.first_support_in is not None:
            limit = limits[hole.id]
            verify = "" if limit.how_had.startswith("read") else ", from memory: verify"
            extra = f" ({limit.source}{verify})"
            provided = hole.raceway.first_support_in
            yield Case(
                (hole.id,), provided, limit.value, f"{hole.id} ({hole.type})", extra, hole.id, at_most=True
            )
