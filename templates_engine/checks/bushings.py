"""Checks that conductors of 4 AWG and larger enter through something insulated."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, not_checked
from templates_engine.checks.support.loads import LARGE, Loaded, loads, missing_inputs
from templates_engine.layout.model import Layout

ABOUT = About(
    name="insulated bushings",
    what="Raceways with conductors of 4 AWG or larger end in an insulated bushing, or a bonding bushing with "
    "an insulating throat.",
    limit="insulated, from 4 AWG up",
    source="NEC 300.4(G)",
    leaves_out="Whether a bonding bushing's throat is insulating; threaded hubs that are smooth and rounded, "
    "which need none.",
    rests_on="code",
)

_REMEDY = "Write bushing: insulated, or bonding with an insulating throat."


def run(layout: Layout) -> Iterable[Finding]:
    for face in layout.faces:
        loaded = loads(face, layout.job)
        yield from judge(
            ABOUT,
            face.job.face.value,
            (case for each in loaded for case in _case(each)),
            when_short=Outcome.FAIL,
            short=lambda case: (
                f"{case.what} carries conductors of {LARGE} AWG or larger through a plain bushing"
            ),
            fine=lambda case: f"{case.what} {case.extra}",
            remedy=_REMEDY,
            unit="insulated bushing",
        )
        yield from not_checked(ABOUT, face.job.face.value, _missing(loaded), _REMEDY)


def _case(each: Loaded) -> Iterable[Case]:
    hole = each.hole
    if each.has_large is False:
        yield Case(
            (hole.id,),
            1.0,
            1.0,
            hole.id,
            f"has no conductor as large as {LARGE} AWG, and needs none insulated",
        )
    if each.has_large and hole.raceway.bushing is not None:
        insulated = hole.raceway.bushing != "plain"
        extra = "has an insulated bushing"
        if hole.raceway.bushing == "bonding":
            extra = "has a bonding bushing; see that its throat is insulating"
        yield Case((hole.id,), float(insulated), 1.0, hole.id, extra)


def _missing(loaded: tuple[Loaded, ...]) -> dict[str, list[str]]:
    unknown = tuple(
        each for each in loaded if each.has_large is None and each.hole.raceway.bushing in (None, "plain")
    )
    missing = missing_inputs(unknown)
    silent = [each.hole.id for each in loaded if each.has_large and each.hole.raceway.bushing is None]
    return missing | ({"bushing": silent} if silent else {})
