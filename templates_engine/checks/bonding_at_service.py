"""Points out metal raceways of service equipment that have no bonding bushing."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.bonding import metal_holes
from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, not_checked
from templates_engine.layout.model import FaceLayout, Hole, Layout

ABOUT = About(
    name="bonding at the service",
    what="Metal raceways at service equipment that may carry service conductors have a bonding bushing.",
    limit="a bonding bushing, or another listed way to bond besides standard locknuts and bushings",
    source="NEC 250.92(A), (B)",
    leaves_out="Which raceways carry service conductors: all are taken as such that carry no circuits of the "
    "panel. Threaded hubs, threadless couplings and bonding locknuts serve too.",
    rests_on="code",
)

_REMEDY = "Write bushing: bonding where service conductors enter."


def run(layout: Layout) -> Iterable[Finding]:
    if not layout.job.enclosure.service:
        return
    for face in layout.faces:
        holes = _may_be_service(face)
        yield from judge(
            ABOUT,
            face.job.face.value,
            (case for hole in holes for case in _case(hole)),
            when_short=Outcome.CAUTION,
            short=lambda case: (
                f"{case.what} has no bonding bushing, and needs one or its equal if it carries service "
                f"conductors"
            ),
            fine=lambda case: f"{case.what} has a bonding bushing, as service raceways need",
            remedy=_REMEDY,
            unit="bonding bushing",
        )
        silent = [hole.id for hole in holes if hole.raceway.bushing is None]
        yield from not_checked(ABOUT, face.job.face.value, {"bushing": silent} if silent else {}, _REMEDY)


def _may_be_service(face: FaceLayout) -> list[Hole]:
    return [hole for hole in metal_holes(face) if hole.raceway.load is None or not hole.raceway.load.circuits]


def _case(hole: Hole) -> Iterable[Case]:
    if hole.raceway.bushing is not None:
        yield Case((hole.id,), float(hole.raceway.bushing == "bonding"), 1.0, hole.id)
