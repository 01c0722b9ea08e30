"""Counts everything one raceway of a job carries; whether it is allowed the checks say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from templates_engine.errors import JobProblems, Problem
from templates_engine.job.model import (
    Circuit,
    ConductorGroup,
    Enclosure,
    FilePlace,
    Job,
    Raceway,
    RacewayWiring,
    Wire,
)
from templates_engine.trade.code_tables import adjustment
from templates_engine.trade.conductors import with_unit
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceways import facts
from templates_engine.values import Struct, replace
from templates_engine.wiring.fill import fill_of
from templates_engine.wiring.model import (
    CircuitPhases,
    Conductors,
    Neutral,
    ProtectedConductors,
    RacewayContents,
)
from templates_engine.wiring.neutrals import in_words, listed_carrying, neutrals_for
from templates_engine.wiring.panel import SYSTEMS, System, has_neutral, name_of, phase_of, system_of, trouble


def contents_of_raceway(raceway: Raceway, job: Job) -> RacewayContents | None:
    """What one raceway carries, None when the job does not say; raises JobProblems: impossible circuits."""
    if raceway.wiring is None:
        return None
    problems = circuit_problems(raceway, job.enclosure)
    if problems:
        raise JobProblems(problems)
    return _with_fill(_counted(raceway, raceway.wiring, job), raceway, job.code)


def contents_of_job(job: Job) -> dict[tuple[str, str], RacewayContents]:
    """What every raceway of a job carries, by face and raceway id, counted once; only those of which the job
    says it. Raises JobProblems: impossible circuits.
    """
    return {
        (face.face.value, raceway.id): counted
        for face in job.faces
        for row in face.rows
        for raceway in row.raceways
        if (counted := contents_of_raceway(raceway, job)) is not None
    }


def circuit_problems(raceway: Raceway, enclosure: Enclosure) -> tuple[Problem, ...]:
    """What is wrong with the circuits of one raceway, in the job file's order."""
    if raceway.wiring is None:
        return ()
    found = [trouble(circuit, enclosure) for circuit in raceway.wiring.circuits]
    found.append(_taken_twice(raceway.wiring.circuits))
    return tuple(_problem(raceway.place, *each) for each in found if each is not None)


def _taken_twice(circuits: Sequence[Circuit]) -> tuple[str, str] | None:
    """The panel space that two circuits of one raceway take, in words, None when each has its own."""
    spaces = [space for circuit in circuits for space in dict.fromkeys(circuit.spaces)]
    twice = next((space for space in spaces if spaces.count(space) > 1), None)
    if twice is None:
        return None
    return (
        f"Space {twice} is taken by two circuits of this raceway.",
        "Write each panel space once in a raceway.",
    )


def _problem(place: FilePlace, message: str, remedy: str) -> Problem:
    return Problem(message, remedy, place.file, place.line, place.key)


@dataclass
class _Count:
    """The parts of a RacewayContents while they are gathered."""

    groups: list[Conductors]
    missing: list[str]
    notes: list[str]


def _counted(raceway: Raceway, wiring: RacewayWiring, job: Job) -> RacewayContents:
    """Everything but the fill."""
    enclosure = job.enclosure
    system = system_of(enclosure)
    circuits = tuple(_with_phases(circuit, enclosure, system) for circuit in wiring.circuits)
    count = _Count([], [], [])
    nonlinear = is_nonlinear(raceway, enclosure)
    neutrals, why = _neutrals(wiring, circuits, job, nonlinear is True, count)
    _add_circuits(wiring, circuits, neutrals, system, count)
    _add_explicit(wiring, system, count)
    _add_ground(raceway, wiring, count)
    carrying = _current_carrying(wiring, circuits, neutrals, system, nonlinear, count)
    whole = not count.missing
    now, if_nonlinear = (carrying.now, carrying.if_nonlinear) if whole else (None, None)
    return RacewayContents(
        raceway=raceway.id,
        groups=tuple(count.groups),
        circuits=circuits,
        neutrals=neutrals,
        neutrals_why=why,
        conductor_count=sum(group.count for group in count.groups) if whole else None,
        current_carrying=now,
        current_carrying_nonlinear=if_nonlinear,
        adjustment_percent=None if now is None else _percent(now),
        adjustment_nonlinear_percent=None if if_nonlinear is None else _percent(if_nonlinear),
        fill=None,
        fill_trouble="",
        missing=tuple(dict.fromkeys(count.missing)),
        missing_for_adjustment=carrying.missing,
        notes=tuple(count.notes),
        protected=tuple(_protected(wiring)),
        missing_for_devices=tuple(dict.fromkeys(_devices_missing(wiring))),
    )


def is_nonlinear(raceway: Raceway, enclosure: Enclosure) -> bool | None:
    """Whether most of a raceway's load is nonlinear, by its own word or the enclosure's; None: not said."""
    return enclosure.nonlinear_loads if raceway.nonlinear_loads is None else raceway.nonlinear_loads


def _protected(wiring: RacewayWiring) -> Iterator[ProtectedConductors]:
    for circuit in wiring.circuits:
        rating = circuit.breaker or wiring.breaker
        if rating is not None and wiring.wire is not None:
            yield ProtectedConductors(f"circuit {name_of(circuit)}", wiring.wire, rating, 1)
    for group in wiring.conductors:
        if group.use == "phase" and group.protected_by is not None:
            what = f"{group.count} of {with_unit(group.wire.size)}"
            yield ProtectedConductors(what, group.wire, group.protected_by, group.in_parallel)


def _devices_missing(wiring: RacewayWiring) -> Iterator[str]:
    if wiring.breaker is None and any(circuit.breaker is None for circuit in wiring.circuits):
        yield "breaker"
    if any(group.use == "phase" and group.protected_by is None for group in wiring.conductors):
        yield "protected by"


def _with_phases(circuit: Circuit, enclosure: Enclosure, system: System | None) -> CircuitPhases:
    phases = (
        ()
        if system is None
        else tuple(phase_of(each, system, enclosure.numbering) for each in circuit.spaces)
    )
    colours = () if system is None else tuple(system.colour(phase) for phase in phases)
    return CircuitPhases(name_of(circuit), circuit.spaces, phases, colours, has_neutral(circuit, system))


def _neutrals(
    wiring: RacewayWiring,
    circuits: Sequence[CircuitPhases],
    job: Job,
    nonlinear: bool,
    count: _Count,
) -> tuple[tuple[Neutral, ...], str]:
    """The circuits' neutrals and why so many; notes what is missing to count them."""
    system = system_of(job.enclosure)
    if not circuits:
        return (), ""
    if not any(circuit.has_neutral for circuit in circuits):
        return (), in_words(circuits, "none", ())
    if wiring.neutrals is None:
        count.missing.append("neutrals")
        return (), ""
    if system is None and _need_phases(circuits, wiring.neutrals):
        count.missing.append("system")
        return (), ""
    neutrals = neutrals_for(circuits, wiring.neutrals, system, job.code, nonlinear=nonlinear)
    return neutrals, in_words(circuits, wiring.neutrals, neutrals)


def _need_phases(circuits: Sequence[CircuitPhases], arrangement: str) -> bool:
    """Whether the neutrals cannot be counted without the system: shared ones, or those of several poles."""
    several_poles = any(circuit.has_neutral and len(circuit.spaces) > 1 for circuit in circuits)
    return arrangement == "shared" or (arrangement == "own" and several_poles)


def _add_circuits(
    wiring: RacewayWiring,
    circuits: Sequence[CircuitPhases],
    neutrals: Sequence[Neutral],
    system: System | None,
    count: _Count,
) -> None:
    if not circuits:
        return
    if wiring.wire is None:
        count.missing.append("wire")
        return
    colours = [colour for circuit in circuits for colour in circuit.colours]
    poles = sum(len(circuit.spaces) for circuit in circuits)
    count.groups.append(Conductors(poles, wiring.wire, "phase", tuple(colours)))
    if neutrals:
        colour = (system.neutral_colour,) * len(neutrals) if system else ()
        count.groups.append(Conductors(len(neutrals), wiring.wire, "neutral", colour))


def _add_explicit(wiring: RacewayWiring, system: System | None, count: _Count) -> None:
    """Adds the conductors listed one by one."""
    for group in wiring.conductors:
        colours: tuple[str, ...] = ()
        if group.use == "neutral" and system is not None:
            colours = (system.neutral_colour,) * group.count
        if group.use == "ground":
            colours = (ground_colour(group.wire),) * group.count
        count.groups.append(Conductors(group.count, group.wire, group.use, colours))


def ground_colour(wire: Wire) -> str:
    """Green when insulated, else bare (NEC 250.119)."""
    return "bare" if wire.insulation == "bare" else "green"


def _add_ground(raceway: Raceway, wiring: RacewayWiring, count: _Count) -> None:
    if wiring.ground is not None:
        count.groups.append(Conductors(1, wiring.ground, "ground", (ground_colour(wiring.ground),)))
    elif wiring.circuits and not wiring.ground_named:
        if not facts(raceway.type).is_metal:  # no equipment grounding conductor itself (NEC 250.118)
            count.missing.append("ground")
        else:
            count.notes.append("No ground wire is named: the metal raceway is taken as the ground.")


class _Carrying(Struct, frozen=True):
    """How many conductors carry current, by what the job says of its loads and if they were mostly nonlinear;
    None where the job leaves open what decides the adjustment.
    """

    now: int | None
    if_nonlinear: int | None
    missing: tuple[str, ...] = ()


def _current_carrying(
    wiring: RacewayWiring,
    circuits: Sequence[CircuitPhases],
    neutrals: Sequence[Neutral],
    system: System | None,
    nonlinear: bool | None,
    count: _Count,
) -> _Carrying:
    """Counts them; grounds never count."""
    listed = _listed(wiring, "neutral")
    phases = sum(len(circuit.spaces) for circuit in circuits) + _listed(wiring, "phase")
    served = phases + sum(neutral.carries_current for neutral in neutrals)
    everything = phases + len(neutrals) + listed
    ranges = listed_ranges(wiring.conductors, system, nonlinear=nonlinear is True)
    fewest, most = served + max(low for low, _ in ranges), served + max(high for _, high in ranges)
    least = served + min(low for low, _ in ranges)
    if _percent(least) == _percent(most):
        now = fewest
    elif system is None:
        return _Carrying(None, None, ("system",))
    else:
        now = most
        words = f"{listed} neutrals of {_listed(wiring, 'phase')} phase conductors may carry current or not"
        count.notes.append(f"The job lists no circuits: {words}, and as many as can are taken to.")
    is_wye = system.is_wye if system else listed > 0
    return _Carrying(now, everything if is_wye and nonlinear is None else now)


def listed_ranges(
    groups: Sequence[ConductorGroup], system: System | None, *, nonlinear: bool
) -> list[tuple[int, int]]:
    """The fewest and the most neutrals among listed conductors that carry current, for the system, or for
    every one with a neutral where it is not known.
    """
    phases, neutrals = (
        sum(group.count for group in groups if group.use == use) for use in ("phase", "neutral")
    )
    systems = [system] if system else [one for one in SYSTEMS.values() if one.has_neutral]
    return [listed_carrying(phases, neutrals, one, nonlinear=nonlinear) for one in systems]


def _percent(carrying: int) -> float:
    return adjustment(carrying).value


def _listed(wiring: RacewayWiring, use: str) -> int:
    """How many conductors of one use the job lists one by one."""
    return sum(group.count for group in wiring.conductors if group.use == use)


def _with_fill(counted: RacewayContents, raceway: Raceway, edition: str) -> RacewayContents:
    """The same with its fill, where conductors and size are known, or why there is none."""
    if counted.missing or not counted.groups or raceway.size is None:
        return counted
    try:
        return replace(
            counted, fill=fill_of(counted.groups, raceway.size, nipple=raceway.nipple, edition=edition)
        )
    except NotInTables as error:
        return replace(counted, fill_trouble=error.message)
