"""Checks bushings and the bonding of metal raceways, by what they carry and where they enter."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.checks.checked_face import LARGE, CheckedFace
from templates_engine.checks.contents import missing_contents
from templates_engine.checks.model import (
    TOLERANCE_IN,
    Answer,
    Measurement,
    MissingInput,
    Outcome,
    Remark,
    Rule,
)
from templates_engine.checks.wording import short_list
from templates_engine.layout.model import Hole
from templates_engine.trade.knockouts import look_up
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceways import facts
from templates_engine.wiring.panel import system_of

OVER_VOLTS_TO_GROUND = 250


def _is_metal(hole: Hole) -> bool:
    return bool(facts(hole.type).is_metal)


# --- insulated bushings -------------------------------------------------------------------------------------


def _insulated(site: CheckedFace) -> Iterator[Answer]:
    for each in site.hole_contents:
        hole, bushing = each.hole, each.hole.raceway.bushing
        if each.has_large_circuit is False:
            none = f"has no circuit conductor as large as {LARGE} AWG, and needs none insulated"
            yield Measurement((hole.id,), 1.0, 1.0, hole.id, none)
        elif each.has_large_circuit and bushing is not None:
            extra = "has an insulated bushing"
            if bushing == "bonding":
                extra = "has a bonding bushing; see that its throat is insulating"
            yield Measurement((hole.id,), float(bushing != "plain"), 1.0, hole.id, extra)
    unknown = tuple(
        each
        for each in site.hole_contents
        if each.has_large_circuit is None and each.hole.raceway.bushing in (None, "plain")
    )
    yield from missing_contents(unknown)
    for each in site.hole_contents:
        if each.has_large_circuit and each.hole.raceway.bushing is None:
            yield MissingInput("bushing", each.hole.id)


INSULATED = Rule(
    name="insulated bushings",
    what="Raceways with insulated circuit conductors of 4 AWG or larger end in an insulated bushing, or "
    "a bonding bushing with an insulating throat.",
    limit="insulated, from 4 AWG up",
    source="NEC 300.4(G)",
    leaves_out="Grounds, which are no circuit conductors; whether a bonding bushing's throat is insulating; "
    "threaded hubs that are smooth and rounded, which need none, nor do from 2020 on fittings listed for it.",
    rests_on="code",
    measure=_insulated,
    short=f"{{what}} carries circuit conductors of {LARGE} AWG or larger through a plain bushing",
    fine="{what} {extra}",
    remedy="Write bushing: insulated, or bonding with an insulating throat.",
    missing_remedy="Write bushing: insulated, or bonding with an insulating throat.",
    unit="insulated bushing",
)


# --- bushings of threaded and plastic conduit ---------------------------------------------------------------


def _at_ends(site: CheckedFace) -> Iterator[Answer]:
    for hole in site.face.holes:
        if hole.type not in BUSHED:
            continue
        if hole.raceway.bushing is None:
            yield MissingInput("bushing", hole.id)
        else:
            bushing = f"{'an' if hole.raceway.bushing == 'insulated' else 'a'} {hole.raceway.bushing} bushing"
            yield Measurement((hole.id,), 1.0, 1.0, f"{hole.id} ({hole.type})", bushing, hole.id)


BUSHED = ("RMC", "aluminium RMC", "IMC", "PVC 40", "PVC 80")

AT_ENDS = Rule(
    name="bushings at conduit ends",
    what="Rigid and intermediate metal conduit and PVC conduit end in a bushing, whatever they carry.",
    limit="a bushing, or for PVC an adapter",
    source="NEC 344.46, 342.46, 352.46",
    leaves_out="Enclosures whose own hubs protect the wires as well; conduit of metric sizes.",
    rests_on="code",
    measure=_at_ends,
    fine="{what} ends in {extra}",
    missing_remedy="Write bushing: plain, insulated or bonding.",
    unit="bushing",
    at_worst=Outcome.NOT_CHECKED,
)


# --- bonding ------------------------------------------------------------------------------------------------


def _over_volts(site: CheckedFace) -> Iterator[Answer]:
    system = system_of(site.job.enclosure)
    for hole in site.face.holes:
        at = _weak_place(hole)
        if not _is_metal(hole) or not at:
            continue
        if system is None:
            yield MissingInput("system", hole.id, "Write system: under 'enclosure'.")
            continue
        words = f"{hole.id} is at {at} with {system.volts_to_ground} V to ground"
        bushing = hole.raceway.bushing
        if system.volts_to_ground <= OVER_VOLTS_TO_GROUND:
            yield Measurement((hole.id,), 1.0, 1.0, words, "and needs no bonding bushing", hole.id)
        elif bushing is None:
            yield MissingInput("bushing", hole.id)
        else:
            bonding = float(bushing == "bonding")
            yield Measurement((hole.id,), bonding, 1.0, words, "and has a bonding bushing", hole.id)


def _weak_place(hole: Hole) -> str:
    """What of a hole is not sure to bond through its locknuts, in words; "" for a plain hole of its size."""
    place = ""
    if hole.raceway.knockout in ("concentric", "eccentric"):
        place = f"{'a' if hole.raceway.knockout == 'concentric' else 'an'} {hole.raceway.knockout} knockout"
    elif _is_oversized(hole):
        place = "an oversized hole"
    return f"{place or 'a hole'} with reducing washers" if hole.raceway.has_reducing_washers else place


def _is_oversized(hole: Hole) -> bool:
    """Whether a hole is larger than any standard knockout of its trade size."""
    assert hole.raceway.size is not None, "a placed hole has a size"
    try:
        return hole.hole_diameter_in > look_up(hole.raceway.size).most_in + TOLERANCE_IN
    except NotInTables:
        return False


_BOND = (
    "Use a bonding bushing with its jumper, or write knockout: cut, and hole: knockout, where the hole is "
    "cut in plain metal or the enclosure listed for it."
)

OVER_VOLTS = Rule(
    name="bonding over 250 V",
    what="A metal raceway at a concentric or eccentric knockout, at reducing washers, or at a hole cut "
    "larger than its trade size's, is bonded with a bonding bushing where a phase has over 250 V to ground.",
    limit="a bonding bushing, over 250 V to ground",
    source="NEC 250.97",
    leaves_out="The two locknuts, one inside and one outside, by whose exception a plain hole is bonded (one "
    "inside for fittings that seat on a shoulder); enclosures listed for bonding at their concentric "
    "knockouts; other listed bonding fittings; that the text names no reducing washers, on which views "
    "differ; the size of the bonding jumper; metal conduit of metric sizes.",
    rests_on="code",
    measure=_over_volts,
    short="{what} and has no bonding bushing",
    fine="{what} {extra}",
    remedy=_BOND,
    missing_remedy=_BOND,
    unit="bonding bushing",
)


def _service(site: CheckedFace) -> Iterator[Answer]:
    weak: list[str] = []
    for hole in site.face.holes if site.job.enclosure.service else ():
        wiring, bushing = hole.raceway.wiring, hole.raceway.bushing
        if not _is_metal(hole) or (wiring is not None and wiring.circuits):
            continue
        if _weak_place(hole) and bushing != "bonding":
            weak.append(hole.id)
        elif bushing is None:
            yield MissingInput("bushing", hole.id)
        else:
            yield Measurement((hole.id,), float(bushing == "bonding"), 1.0, hole.id)
    if weak:
        words = (
            f"{short_list(weak)}: rings, reducing washers or an oversized hole without a bonding bushing; if "
            "service conductors enter there, only a jumper round it bonds."
        )
        yield Remark(Outcome.CAUTION, words, tuple(weak), 0.0, 1.0, SERVICE.remedy)


SERVICE = Rule(
    name="bonding at the service",
    what="Metal raceways at service equipment that may carry service conductors have a bonding bushing.",
    limit="a bonding bushing, or another listed way to bond besides standard locknuts and bushings; at "
    "rings, reducing washers and oversized holes a jumper round them",
    source="NEC 250.92(A), (B)",
    leaves_out="Which raceways carry service conductors: all are taken as such that carry no circuits of the "
    "panel. At a plain hole threaded hubs, threadless couplings and bonding locknuts serve too.",
    rests_on="code",
    measure=_service,
    short="{what} has no bonding bushing, and needs one or its equal if it carries service conductors",
    fine="{what} has a bonding bushing, as service raceways need",
    remedy="Write bushing: bonding where service conductors enter.",
    missing_remedy="Write bushing: bonding where service conductors enter.",
    unit="bonding bushing",
    at_worst=Outcome.CAUTION,
)

# --- paint --------------------------------------------------------------------------------------------------


def _on_paint(site: CheckedFace) -> Iterator[Answer]:
    enclosure, system = site.job.enclosure, system_of(site.job.enclosure)
    is_strict = enclosure.service or (system is not None and system.volts_to_ground > OVER_VOLTS_TO_GROUND)
    for hole in site.face.holes:
        if not _is_metal(hole):
            continue
        if enclosure.finish is None:
            if is_strict:
                yield MissingInput("finish", hole.id)
            continue
        is_bare = enclosure.finish != "painted" or enclosure.paint_at_fittings in ("scraped", "cut through")
        is_bonded = hole.raceway.bushing == "bonding"
        short = f"{hole.id}'s fittings seat on paint"
        if enclosure.paint_at_fittings is None:
            short = f"{hole.id}'s fittings seat on a painted wall, and nothing says what becomes of the paint"
        yield Measurement((hole.id,), float(is_bare or is_bonded), 1.0, hole.id, short=short)


_PAINT = (
    "Scrape the paint off under locknuts and bushings, or use fittings made to cut through it, and write "
    "paint at fittings: scraped, or cut through."
)

ON_PAINT = Rule(
    name="paint at fittings",
    what="Locknuts and fittings of metal raceways seat on bare metal or cut through paint, or a bonding "
    "bushing's jumper goes round it.",
    limit="no paint between fitting and wall",
    source="NEC 250.12, 250.96(A)",
    leaves_out="Enclosures whose finish is not told, but at services and over 250 V to ground; other "
    "nonconductive coatings; threads; raceways that are no equipment ground, beside a ground wire.",
    rests_on="code",
    measure=_on_paint,
    fine="Fittings of metal raceways seat on metal without paint, or are bonded round it",
    remedy=_PAINT,
    missing_remedy="Write finish: bare, galvanized or painted, under 'enclosure'.",
    unit="bare metal",
    at_worst=Outcome.CAUTION,
)

RULES = (INSULATED, AT_ENDS, OVER_VOLTS, SERVICE, ON_PAINT)
