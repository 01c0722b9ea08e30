"""Checks bushings and the bonding of metal raceways, by what they carry and where they enter."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.checks.checked_face import LARGE, CheckedFace
from templates_engine.checks.contents import missing_contents
from templates_engine.checks.model import Answer, Measurement, MissingInput, Rule
from templates_engine.layout.model import Hole
from templates_engine.trade.raceways import facts
from templates_engine.wiring.panel import system_of

OVER_VOLTS_TO_GROUND = 250


def _is_metal(hole: Hole) -> bool:
    return bool(facts(hole.type).is_metal)


# --- insulated bushings -------------------------------------------------------------------------------------


def _insulated(site: CheckedFace) -> Iterator[Answer]:
    for each in site.loaded:
        hole, bushing = each.hole, each.hole.raceway.bushing
        if each.has_large is False:
            none = f"has no conductor as large as {LARGE} AWG, and needs none insulated"
            yield Measurement((hole.id,), 1.0, 1.0, hole.id, none)
        elif each.has_large and bushing is not None:
            extra = "has an insulated bushing"
            if bushing == "bonding":
                extra = "has a bonding bushing; see that its throat is insulating"
            yield Measurement((hole.id,), float(bushing != "plain"), 1.0, hole.id, extra)
    unknown = tuple(
        each
        for each in site.loaded
        if each.has_large is None and each.hole.raceway.bushing in (None, "plain")
    )
    yield from missing_contents(unknown)
    for each in site.loaded:
        if each.has_large and each.hole.raceway.bushing is None:
            yield MissingInput("bushing", each.hole.id)


INSULATED = Rule(
    name="insulated bushings",
    what="Raceways with conductors of 4 AWG or larger end in an insulated bushing, or a bonding bushing with "
    "an insulating throat.",
    limit="insulated, from 4 AWG up",
    source="NEC 300.4(G)",
    leaves_out="Whether a bonding bushing's throat is insulating; threaded hubs that are smooth and rounded, "
    "which need none.",
    rests_on="code",
    measure=_insulated,
    short=f"{{what}} carries conductors of {LARGE} AWG or larger through a plain bushing",
    fine="{what} {extra}",
    remedy="Write bushing: insulated, or bonding with an insulating throat.",
    missing_remedy="Write bushing: insulated, or bonding with an insulating throat.",
    unit="insulated bushing",
)


# --- bonding ------------------------------------------------------------------------------------------------


def _over_volts(site: CheckedFace) -> Iterator[Answer]:
    system = system_of(site.job.enclosure)
    for hole in site.face.holes:
        if not _is_metal(hole) or hole.raceway.knockout != "concentric":
            continue
        if system is None:
            yield MissingInput("system", hole.id, "Write system: under 'enclosure'.")
            continue
        words = f"{hole.id} is at a concentric knockout with {system.volts_to_ground} V to ground"
        bushing = hole.raceway.bushing
        if system.volts_to_ground <= OVER_VOLTS_TO_GROUND:
            yield Measurement((hole.id,), 1.0, 1.0, words, "and needs no bonding bushing", hole.id)
        elif bushing is None:
            yield MissingInput("bushing", hole.id)
        else:
            bonding = float(bushing == "bonding")
            yield Measurement((hole.id,), bonding, 1.0, words, "and has a bonding bushing", hole.id)


_BOND = (
    "Use a bonding bushing with its jumper, or write knockout: cut where the hole is cut or the enclosure "
    "listed for it."
)

OVER_VOLTS = Rule(
    name="bonding over 250 V",
    what="A metal raceway at a concentric knockout is bonded with a bonding bushing where a phase has over "
    "250 V to ground.",
    limit="a bonding bushing, over 250 V to ground",
    source="NEC 250.97",
    leaves_out="Enclosures listed for bonding at their concentric knockouts; other listed bonding fittings; "
    "the size of the bonding jumper; metal conduit of metric sizes.",
    rests_on="code",
    measure=_over_volts,
    short="{what} and has no bonding bushing",
    fine="{what} {extra}",
    remedy=_BOND,
    missing_remedy=_BOND,
    unit="bonding bushing",
)


def _service(site: CheckedFace) -> Iterator[Answer]:
    if not site.job.enclosure.service:
        return
    for hole in site.face.holes:
        load = hole.raceway.load
        if not _is_metal(hole) or (load is not None and load.circuits):
            continue
        if hole.raceway.bushing is None:
            yield MissingInput("bushing", hole.id)
        else:
            yield Measurement((hole.id,), float(hole.raceway.bushing == "bonding"), 1.0, hole.id)


SERVICE = Rule(
    name="bonding at the service",
    what="Metal raceways at service equipment that may carry service conductors have a bonding bushing.",
    limit="a bonding bushing, or another listed way to bond besides standard locknuts and bushings",
    source="NEC 250.92(A), (B)",
    leaves_out="Which raceways carry service conductors: all are taken as such that carry no circuits of the "
    "panel. Threaded hubs, threadless couplings and bonding locknuts serve too.",
    rests_on="code",
    measure=_service,
    short="{what} has no bonding bushing, and needs one or its equal if it carries service conductors",
    fine="{what} has a bonding bushing, as service raceways need",
    remedy="Write bushing: bonding where service conductors enter.",
    missing_remedy="Write bushing: bonding where service conductors enter.",
    unit="bonding bushing",
    only_cautions=True,
)

RULES = (INSULATED, OVER_VOLTS, SERVICE)
