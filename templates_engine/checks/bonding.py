"""Checks bonding at concentric knockouts over 250 V to ground, and points out service raceways."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, not_checked
from templates_engine.layout.model import FaceLayout, Hole, Layout
from templates_engine.trade.raceways import facts
from templates_engine.wiring.panel import System, system_of

OVER_VOLTS_TO_GROUND = 250

ABOUT = About(
    name="bonding over 250 V",
    what="A metal raceway at a concentric knockout is bonded with a bonding bushing where a phase has over "
    "250 V to ground.",
    limit="a bonding bushing, over 250 V to ground",
    source="NEC 250.97",
    leaves_out="Enclosures listed for bonding at their concentric knockouts; other listed bonding fittings; "
    "the size of the bonding jumper; metal conduit of metric sizes.",
    rests_on="code",
)

_REMEDY = (
    "Use a bonding bushing with its jumper, or write knockout: cut where the hole is cut or the enclosure "
    "listed for it."
)


def run(layout: Layout) -> Iterable[Finding]:
    system = system_of(layout.job.enclosure)
    for face in layout.faces:
        concentric = [hole for hole in metal_holes(face) if hole.raceway.knockout == "concentric"]
        if system is None:
            missing = {"system": [hole.id for hole in concentric]} if concentric else {}
            yield from not_checked(ABOUT, face.job.face.value, missing, "Write system: under 'enclosure'.")
            continue
        yield from judge(
            ABOUT,
            face.job.face.value,
            (case for hole in concentric for case in _case(hole, system)),
            when_short=Outcome.FAIL,
            short=lambda case: f"{case.what} and has no bonding bushing",
            fine=lambda case: f"{case.what} {case.extra}",
            remedy=_REMEDY,
            unit="bonding bushing",
        )
        silent = [hole.id for hole in concentric if _is_over(system) and hole.raceway.bushing is None]
        yield from not_checked(ABOUT, face.job.face.value, {"bushing": silent} if silent else {}, _REMEDY)


def metal_holes(face: FaceLayout) -> list[Hole]:
    """The holes of a face whose raceway is metal."""
    return [hole for hole in face.holes if facts(hole.type).is_metal]


def _is_over(system: System) -> bool:
    return system.volts_to_ground > OVER_VOLTS_TO_GROUND


def _case(hole: Hole, system: System) -> Iterable[Case]:
    words = f"{hole.id} is at a concentric knockout with {system.volts_to_ground} V to ground"
    if not _is_over(system):
        yield Case((hole.id,), 1.0, 1.0, words, "and needs no bonding bushing", hole.id)
    elif hole.raceway.bushing is not None:
        bonding = float(hole.raceway.bushing == "bonding")
        yield Case((hole.id,), bonding, 1.0, words, "and has a bonding bushing", hole.id)
