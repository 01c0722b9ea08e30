"""Tells where more than three current-carrying conductors in a raceway cut their ampacity."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, not_checked
from templates_engine.checks.support.loads import Loaded, loads, missing_inputs
from templates_engine.layout.model import Layout

WHOLE_PERCENT = 100

ABOUT = About(
    name="ampacity adjustment",
    what="A raceway's current-carrying conductors are few enough to keep their whole ampacity.",
    limit="100 %, which is up to three current-carrying conductors",
    source="NEC Table 310.15(C)(1), counting by 310.15(E) and (F)",
    leaves_out="Ampacities, breakers and ambient temperature; raceways lying together without spacing; "
    "conductors that do not carry current at the same time. Loads are taken as mostly linear.",
    rests_on="code",
)


def run(layout: Layout) -> Iterable[Finding]:
    for face in layout.faces:
        loaded = loads(face, layout.job)
        yield from judge(
            ABOUT,
            face.job.face.value,
            (case for each in loaded for case in _case(each)),
            when_short=Outcome.CAUTION,
            short=lambda case: f"{case.what} {case.extra}: their ampacity is adjusted to {case.provided:g} %",
            fine=lambda case: f"{case.what} {case.extra}: no adjustment",
            remedy="Size the conductors for the adjusted ampacity, share neutrals, or use more raceways.",
            unit="%",
        )
        remedy = "Write what the raceway carries: circuits with wire and neutrals, or conductors."
        yield from not_checked(ABOUT, face.job.face.value, missing_inputs(loaded), remedy)


def _case(each: Loaded) -> Iterable[Case]:
    load = each.carried
    if load is None or load.adjustment_percent is None or load.current_carrying is None:
        return
    nipple = each.hole.raceway.nipple
    percent = WHOLE_PERCENT if nipple else load.adjustment_percent
    extra = f"has {load.current_carrying} current-carrying conductors"
    if load.current_carrying == 1:
        extra = "has one current-carrying conductor"
    if nipple and load.adjustment_percent < WHOLE_PERCENT:
        extra += ", and is a short nipple, 310.15(C)(1)(b)"
    elif load.adjustment_nonlinear_percent != load.adjustment_percent:
        many, percent_then = load.current_carrying_nonlinear, load.adjustment_nonlinear_percent
        extra += f" ({many} and {percent_then:g} % where loads are mostly nonlinear)"
    yield Case((each.hole.id,), percent, WHOLE_PERCENT, each.hole.id, extra)
