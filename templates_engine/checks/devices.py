"""Checks conductors and grounds against the overcurrent devices before them, and parallel sets together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from templates_engine.checks.checked_face import CheckedFace, HoleContents
from templates_engine.checks.contents import missing_contents
from templates_engine.checks.model import Answer, Measurement, MissingInput, NoFigure, Outcome, Rule
from templates_engine.checks.wording import listed, unique
from templates_engine.job.model import Raceway, Wire
from templates_engine.trade.conductors import circular_mils, is_at_least, with_unit
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceways import facts
from templates_engine.wiring.ampacity import AMBIENT_C, Ampacity, Conditions, ampacity_of, largest_device
from templates_engine.wiring.grounds import least_ground
from templates_engine.wiring.model import ProtectedConductors
from templates_engine.wiring.parallel import in_parallel, phases_of, sets_of

SMALLEST_IN_PARALLEL = "1/0"

_MISSING_REMEDY = (
    "Write what the raceway carries, with breaker: 20 beside circuits, or protected by: 400 beside "
    "conductors."
)


def _conditions(site: CheckedFace, each: HoleContents, behind: ProtectedConductors) -> Conditions | None:
    """What the ampacity of some conductors of a raceway depends on; None where the job leaves it open."""
    raceway, enclosure = each.hole.raceway, site.job.enclosure
    carrying = each.contents.current_carrying if each.contents else None
    if carrying is None:
        return None
    ambient = next((one for one in (raceway.ambient_c, enclosure.ambient_c) if one is not None), AMBIENT_C)
    place: Literal["dry", "damp", "wet"] = enclosure.location or "dry"
    together = in_parallel(raceway, behind.in_parallel, sets_of(site.job))
    return Conditions(1 if raceway.nipple else carrying, ambient, place, enclosure.terminals_c, together)


def behind_devices(site: CheckedFace, each: HoleContents) -> Iterator[tuple[ProtectedConductors, Conditions]]:
    """The conductors of a raceway whose device is known, with what their ampacity depends on."""
    for behind in each.contents.protected if each.contents and not each.contents.missing else ():
        conditions = _conditions(site, each, behind)
        if conditions is not None:
            yield behind, conditions


def largest_ground(each: HoleContents) -> Wire | None:
    """The largest ground wire of a raceway, None where it has none."""
    groups = each.contents.groups if each.contents else ()
    grounds = [group.wire for group in groups if group.use == "ground"]
    return max(grounds, key=lambda wire: circular_mils(wire.size), default=None)


def _missing(site: CheckedFace) -> Iterator[MissingInput]:
    """The inputs without which devices, or the conductors behind them, are not known."""
    for each in site.hole_contents:
        if each.contents is None or each.contents.missing:
            continue
        for name in each.contents.missing_for_devices:
            yield MissingInput(name, each.hole.id)
        for name in each.contents.missing_for_adjustment if each.contents.protected else ():
            yield MissingInput(name, each.hole.id, "Write system: under 'enclosure', such as 208Y/120.")
    yield from missing_contents(tuple(each for each in site.hole_contents if each.missing))


# --- ampacity -----------------------------------------------------------------------------------------------


def _ampacity(site: CheckedFace) -> Iterator[Answer]:
    for each in site.hole_contents:
        for behind, conditions in behind_devices(site, each):
            yield _against_device(each, behind, conditions)
    yield from _missing(site)


def _against_device(each: HoleContents, behind: ProtectedConductors, conditions: Conditions) -> Answer:
    try:
        found = ampacity_of(behind.wire, conditions, behind.amperes)
    except NotInTables as error:
        return NoFigure(each.hole.id, error.message)
    largest = largest_device(behind.wire, found.amperes, conditions.in_parallel)
    what = f"{each.hole.id}, {behind.what}: {_wire_words(behind, conditions)} carries {_amperes(found)}"
    there = behind.amperes, largest
    return Measurement((each.hole.id,), *there, what, _sum(found), each.hole.id, at_most=True)


def _wire_words(behind: ProtectedConductors, conditions: Conditions) -> str:
    wire = behind.wire
    words = f"{with_unit(wire.size)} {wire.metal} {wire.insulation}"
    return words if conditions.in_parallel == 1 else f"{conditions.in_parallel} x {words}"


def _amperes(found: Ampacity) -> str:
    return f"{round(found.amperes, 1):g} A"


def _sum(found: Ampacity) -> str:
    """How an ampacity came about: "25 A at 90 C x 80 %, terminals of 60 C 15 A"."""
    words = f"{found.table_amperes:g} A at {found.degrees} C"
    if found.adjustment_percent != 100:
        words += f" x {found.adjustment_percent:g} %"
    if found.ambient_factor != 1:
        words += f" x {found.ambient_factor:g} for the air"
    words += f", terminals of {found.terminals_c} C {found.terminal_amperes:g} A"
    return words if found.in_parallel == 1 else f"{words}, times {found.in_parallel}"


AMPACITY = Rule(
    name="ampacity and device",
    what="Conductors carry, adjusted for what lies beside them and the air round them, what the device "
    "before them lets through.",
    limit="their ampacity, or up to 800 A the next standard device; 15, 20 and 30 A for copper of 14, 12 and "
    "10 AWG",
    source="NEC {ampacities}, {adjustment factors}, {ambient correction}, 110.14(C), 240.4(B) to (D), "
    "240.6(A); insulations by {temperatures of insulations}, from memory",
    leaves_out="Loads, continuous ones too: what a conductor must carry is not known here. Motor, "
    "transformer, tap and other circuits whose device may be larger (240.4(E) to (G)); branch circuits of "
    "several receptacles, for which the next standard device is not allowed; nonlinear loads where the job "
    "does not name them; sun on roofs; terminals are 60 C up to 100 A and 75 C above where the job gives "
    "none.",
    rests_on="code",
    measure=_ampacity,
    short="{what} ({extra}), which allows a device of {required:g} A, and {provided:g} A is there",
    fine="{what} ({extra}), enough for {provided:g} A",
    remedy="Take larger conductors or a smaller device, or fewer conductors in the raceway.",
    missing_remedy=_MISSING_REMEDY,
    no_figure_remedy="Check it by the code that is adopted.",
    unit="A",
    at_worst=Outcome.CAUTION,
)


# --- equipment ground ---------------------------------------------------------------------------------------


def _ground(site: CheckedFace) -> Iterator[Answer]:
    for each in site.hole_contents:
        ground = largest_ground(each)
        for behind, conditions in behind_devices(site, each):
            if ground is not None:
                yield _compared(site, each, behind, conditions, ground)
                continue
            by_metal = facts(each.hole.type).is_metal
            words = f"{each.hole.id} ({each.hole.type}) has no ground wire behind {behind.amperes} A"
            if by_metal:
                words = f"{each.hole.id} has no ground wire, and its metal is taken as the ground"
            yield Measurement((each.hole.id,), float(bool(by_metal)), 1.0, words, label=each.hole.id)
    yield from _missing(site)


def _compared(
    site: CheckedFace, each: HoleContents, behind: ProtectedConductors, conditions: Conditions, ground: Wire
) -> Answer:
    """The ground of a raceway against the least that a device asks for."""
    try:
        least = least_ground(behind, ground.metal, conditions, site.job.code)
        most = least_ground(behind, ground.metal, conditions, site.job.code, rounded_up=True)
    except NotInTables as error:
        return NoFigure(each.hole.id, error.message)
    there = f"a ground of {with_unit(ground.size)} {ground.metal}"
    what = f"{each.hole.id} has {there} for {behind.what} behind {behind.amperes} A, which asks for"
    asked = f"{with_unit(least)} {ground.metal}"
    if circular_mils(most) > circular_mils(ground.size) >= circular_mils(least):
        asked += f", or {with_unit(most)} where the load would allow smaller phases"
    room = circular_mils(ground.size), circular_mils(least)
    return Measurement((each.hole.id,), *room, f"{what} {asked}", label=each.hole.id)


GROUND = Rule(
    name="equipment ground",
    what="The equipment ground of each raceway is as large as the largest device before its conductors asks.",
    limit="Table 250.122 by the device; larger in proportion where the phases are larger than they need to "
    "be; never larger than the phases; in every parallel set the whole of it",
    source="NEC 250.122(A), (B), (C), (F), Table 250.122; 250.118 for metal raceways",
    leaves_out="Loads: phases are taken to need what their device lets through. Flexible metal raceways as "
    "a ground, which have limits of their own; grounds of motor circuits by 250.122(D); grounds in raceways "
    "of feeder taps; supply-side bonding jumpers (250.102).",
    rests_on="code",
    measure=_ground,
    short="{what}",
    fine="{what}",
    remedy="Take a larger ground, or in metal raceways none.",
    missing_remedy=_MISSING_REMEDY,
    no_figure_remedy="Check it by the code that is adopted.",
    unit="circular mils",
)


# --- parallel sets ------------------------------------------------------------------------------------------


def _parallel(site: CheckedFace) -> Iterator[Answer]:
    for name, raceways in sets_of(site.job).items():
        ids = tuple(raceway.id for raceway in raceways)
        unknown = [raceway.id for raceway in raceways if not phases_of(raceway)]
        if unknown:
            yield from (MissingInput("conductors", id) for id in unknown)
            continue
        faults = unique(_faults(raceways))
        words = f"Feeder {name} ({listed(ids)})"
        told = f"{words}: {listed(faults)}" if faults else f"The sets of feeder {name}, {listed(ids)},"
        yield Measurement(ids, float(len(faults)), 0.0, told, label=name, at_most=True)


def _faults(raceways: Sequence[Raceway]) -> Iterator[str]:
    """What makes some raceways no parallel sets of one feeder, in words."""
    first, *others = raceways
    if not others:
        yield f"{first.id} alone names it, and one set is none in parallel"
    for raceway in raceways:
        for group in phases_of(raceway):
            if not is_at_least(group.wire.size, SMALLEST_IN_PARALLEL):
                yield f"{with_unit(group.wire.size)} is smaller than {SMALLEST_IN_PARALLEL} AWG"
    for raceway in others:
        for use in ("phase", "neutral", "ground"):
            if _make_up(raceway, use) != _make_up(first, use):
                yield f"{raceway.id} has other {use} conductors than {first.id}"
        if _metal(raceway) != _metal(first):
            yield f"{raceway.id} is {raceway.type} and {first.id} {first.type}"


def _make_up(raceway: Raceway, use: str) -> list[tuple[int, str, str, str]]:
    groups = raceway.wiring.conductors if raceway.wiring else ()
    listed_ones = [
        (group.count, group.wire.size, group.wire.insulation, group.wire.metal)
        for group in groups
        if group.use == use
    ]
    ground = raceway.wiring.ground if raceway.wiring else None
    if use == "ground" and ground is not None:
        listed_ones.append((1, ground.size, ground.insulation, ground.metal))
    return sorted(listed_ones)


def _metal(raceway: Raceway) -> str:
    """What decides whether raceways are of one electrical character: steel, aluminium or none."""
    if not facts(raceway.type).is_metal:
        return "none"
    return "aluminium" if raceway.type == "aluminium RMC" else "steel"


PARALLEL = Rule(
    name="parallel sets",
    what="The raceways that name one feeder carry like sets: the same conductors and grounds, of 1/0 AWG at "
    "least, in raceways of one kind of metal.",
    limit="no difference between sets",
    source="NEC {parallel conductors}, 250.122(F)",
    leaves_out="Lengths and terminations, which must be the same too; the exceptions for smaller conductors; "
    "metal conduit of metric sizes.",
    rests_on="code",
    measure=_parallel,
    short="{what}",
    fine="{what} are alike",
    remedy="Write the same conductors in each set, and the raceways alike.",
    missing_remedy="Write the conductors of each set: [{count: 3, size: 500, insulation: THHN}].",
    unit="differences",
    once_a_job=True,
)


# --- phases together ----------------------------------------------------------------------------------------


def _together(site: CheckedFace) -> Iterator[Measurement]:
    for hole in site.face.holes:
        wiring = hole.raceway.wiring
        if wiring is None or wiring.circuits:
            continue
        if not phases_of(hole.raceway) or _metal(hole.raceway) != "steel":
            continue
        sets = (group for group in wiring.conductors if group.use != "ground")
        together = sum(group.count // group.in_parallel for group in sets)
        yield Measurement((hole.id,), together, 2, f"{hole.id} ({hole.type})", label=hole.id)


TOGETHER = Rule(
    name="phases together",
    what="The conductors of a circuit lie in one metal raceway together, so that it is not heated by them.",
    limit="two conductors of a circuit at least in a metal raceway: phases, or a phase and its neutral",
    source="NEC 300.3(B), 300.20(A)",
    leaves_out="Circuits by their spaces, whose raceways another check compares; whether the phases of a "
    "raceway are different ones; holes of single conductors in steel walls (300.20(B)); isolated phases in "
    "nonmetallic raceways; aluminium raceways, which are taken as steel.",
    rests_on="code",
    measure=_together,
    short="{what} has one phase conductor and none that goes back with it",
    fine="Every metal raceway has its circuits' conductors together",
    remedy="Put all phases, the neutral and the ground of the circuit into one raceway.",
    unit="phase conductors",
)

RULES = (AMPACITY, GROUND, PARALLEL, TOGETHER)
