"""Checks that circuits sharing a neutral open together."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, listed, not_checked
from templates_engine.checks.support.loads import Loaded, loads
from templates_engine.layout.model import Layout

ABOUT = About(
    name="shared neutral",
    what="Circuits that share a neutral have a simultaneous disconnect where they begin.",
    limit="simultaneous disconnect: yes",
    source="NEC 210.4(B)",
    leaves_out="Grouping and marking of the conductors (210.4(D)); line-to-line loads (210.4(C)).",
    rests_on="code",
)

_REMEDY = (
    "Write simultaneous disconnect: yes where a multipole breaker or identified handle ties are used, or "
    "neutrals: own."
)


def run(layout: Layout) -> Iterable[Finding]:
    for face in layout.faces:
        sharing = [each for each in loads(face, layout.job) if _shared(each)]
        yield from judge(
            ABOUT,
            face.job.face.value,
            (case for each in sharing for case in _case(each)),
            when_short=Outcome.FAIL,
            short=lambda case: f"{case.what} have no simultaneous disconnect",
            fine=lambda case: f"{case.what} open together",
            remedy=_REMEDY,
            unit="simultaneous disconnect",
        )
        silent = [each.hole.id for each in sharing if _opens_together(each) is None]
        missing = {"simultaneous disconnect": silent} if silent else {}
        yield from not_checked(ABOUT, face.job.face.value, missing, _REMEDY)


def _shared(each: Loaded) -> list[str]:
    """The shared neutrals of a raceway, in words."""
    neutrals = each.carried.neutrals if each.carried else ()
    return [listed(neutral.circuits) for neutral in neutrals if neutral.is_shared]


def _opens_together(each: Loaded) -> bool | None:
    load = each.hole.raceway.load
    return load.simultaneous_disconnect if load else None


def _case(each: Loaded) -> Iterable[Case]:
    together = _opens_together(each)
    if together is None:
        return
    words = "; ".join(_shared(each))
    yield Case(
        (each.hole.id,),
        float(together),
        1.0,
        f"Circuits {words} in {each.hole.id} share a neutral and",
        label=each.hole.id,
    )
