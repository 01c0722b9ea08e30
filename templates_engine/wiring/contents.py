"""Counts everything one raceway of a job carries; whether it is allowed the checks say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property

from templates_engine.errors import JobProblems, Problem
from templates_engine.job.model import Circuit, Enclosure, Job, Raceway, RacewayWiring, Wire
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
    Use,
    adjusted_percent,
)
from templates_engine.wiring.neutrals import in_words, listed_carrying, neutrals_for
from templates_engine.wiring.panel import SYSTEMS, System, has_neutral, name_of, phase_of, system_of, trouble


def contents_of_raceway(raceway: Raceway, job: Job) -> RacewayContents | None:
    """What one raceway carries, None when the job does not say; raises JobProblems: impossible circuits."""
    if raceway.wiring is None:
        return None
    if problems := _impossible(raceway, raceway.wiring.circuits, job.enclosure):
        raise JobProblems(problems)
    return _with_fill(_Count(raceway, raceway.wiring, job).contents(), raceway, job.code)


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


def _impossible(raceway: Raceway, circuits: Sequence[Circuit], enclosure: Enclosure) -> list[Problem]:
    """What is wrong with the circuits of one raceway, in the job file's order."""
    found = [*(trouble(circuit, enclosure) for circuit in circuits), _taken_twice(circuits)]
    place = raceway.place
    return [Problem(*each, place.file, place.line, place.key) for each in found if each is not None]


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


def _with_fill(counted: RacewayContents, raceway: Raceway, edition: str) -> RacewayContents:
    """The same with its fill, where conductors and size are known, or why there is none."""
    if counted.missing or not counted.groups or raceway.size is None:
        return counted
    try:
        fill = fill_of(counted.groups, raceway.size, nipple=raceway.nipple, edition=edition)
    except NotInTables as error:
        return replace(counted, fill_trouble=error.message)
    return replace(counted, fill=fill)


class _Count(Struct, frozen=True, dict=True):
    """The wiring of one raceway, counted part by part; a part is empty where an input of it is missing."""

    raceway: Raceway
    wiring: RacewayWiring
    job: Job

    def contents(self) -> RacewayContents:
        """Everything but the fill."""
        missing = tuple(dict.fromkeys(self._missing()))
        carrying = None if missing else self._carrying()
        return RacewayContents(
            raceway=self.raceway.id,
            groups=tuple(self._groups()),
            circuits=self.circuits,
            neutrals=self.neutrals,
            neutrals_why=self._neutrals_why(),
            current_carrying=carrying,
            current_carrying_nonlinear=self._carrying_if_nonlinear(carrying),
            fill=None,
            fill_trouble="",
            missing=missing,
            missing_for_adjustment=("system",) if self._is_open and self.system is None else (),
            notes=tuple(self._notes()),
            protected=tuple(self._protected()),
            missing_for_devices=tuple(self._missing_for_devices()),
        )

    def _missing(self) -> Iterator[str]:
        """The inputs without which conductors cannot be counted."""
        if self._missing_for_neutrals:
            yield self._missing_for_neutrals
        if self.wiring.circuits and self.wiring.wire is None:
            yield "wire"
        if self._is_ground_left_open and not self._is_metal:
            yield "ground"

    # --- circuits and their neutrals ------------------------------------------------------------------------

    @cached_property
    def system(self) -> System | None:
        return system_of(self.job.enclosure)

    @property
    def nonlinear(self) -> bool | None:
        """Whether most of the load is, by the raceway's own word or the enclosure's; None: not said."""
        own = self.raceway.nonlinear_loads
        return self.job.enclosure.nonlinear_loads if own is None else own

    @cached_property
    def circuits(self) -> tuple[CircuitPhases, ...]:
        return tuple(map(self._with_phases, self.wiring.circuits))

    def _with_phases(self, circuit: Circuit) -> CircuitPhases:
        system, numbering = self.system, self.job.enclosure.numbering
        phases: tuple[str, ...] = ()
        colours: tuple[str, ...] = ()
        if system is not None:
            phases = tuple(phase_of(each, system, numbering) for each in circuit.spaces)
            colours = tuple(map(system.colour, phases))
        return CircuitPhases(name_of(circuit), circuit.spaces, phases, colours, has_neutral(circuit, system))

    @cached_property
    def neutrals(self) -> tuple[Neutral, ...]:
        """The circuits' own."""
        if self._missing_for_neutrals or self.wiring.neutrals is None:
            return ()
        nonlinear = self.nonlinear is True
        return neutrals_for(
            self.circuits, self.wiring.neutrals, self.system, self.job.code, nonlinear=nonlinear
        )

    def _neutrals_why(self) -> str:
        if self._missing_for_neutrals or not self.circuits:
            return ""
        return in_words(self.circuits, self.wiring.neutrals or "none", self.neutrals)

    @cached_property
    def _missing_for_neutrals(self) -> str:
        """The input without which the circuits' neutrals cannot be counted; "" where there is none."""
        served = [circuit for circuit in self.circuits if circuit.has_neutral]
        if served and self.wiring.neutrals is None:
            return "neutrals"
        several_poles = any(len(circuit.spaces) > 1 for circuit in served)
        needs_phases = self.wiring.neutrals == "shared" or (self.wiring.neutrals == "own" and several_poles)
        return "system" if served and needs_phases and self.system is None else ""

    # --- conductors -----------------------------------------------------------------------------------------

    def _groups(self) -> Iterator[Conductors]:
        wire, system = self.wiring.wire, self.system
        if self.circuits and wire is not None:
            colours = tuple(colour for circuit in self.circuits for colour in circuit.colours)
            yield Conductors(self._poles, wire, "phase", colours)
            if self.neutrals:
                yield Conductors(len(self.neutrals), wire, "neutral", _neutral_colours(system, self.neutrals))
        for group in self.wiring.conductors:
            colours = ()
            if group.use == "neutral":
                colours = _neutral_colours(system, range(group.count))
            elif group.use == "ground":
                colours = (_ground_colour(group.wire),) * group.count
            yield Conductors(group.count, group.wire, group.use, colours)
        if self.wiring.ground is not None:
            yield Conductors(1, self.wiring.ground, "ground", (_ground_colour(self.wiring.ground),))

    @property
    def _poles(self) -> int:
        return sum(len(circuit.spaces) for circuit in self.circuits)

    def _listed(self, use: Use) -> int:
        """How many conductors of one use the job lists one by one."""
        return sum(group.count for group in self.wiring.conductors if group.use == use)

    @property
    def _is_ground_left_open(self) -> bool:
        return bool(self.wiring.circuits) and self.wiring.ground is None and not self.wiring.ground_named

    @property
    def _is_metal(self) -> bool:
        """Whether the raceway is itself an equipment grounding conductor (NEC 250.118)."""
        return bool(facts(self.raceway.type).is_metal)

    def _notes(self) -> Iterator[str]:
        if self._is_ground_left_open and self._is_metal:
            yield "No ground wire is named: the metal raceway is taken as the ground."
        if self._is_open and self.system is not None:
            neutrals, phases = self._listed("neutral"), self._listed("phase")
            words = f"{neutrals} neutrals of {phases} phase conductors may carry current or not"
            yield f"The job lists no circuits: {words}, and as many as can are taken to."

    # --- those that carry current; grounds never do ---------------------------------------------------------

    @cached_property
    def _ranges(self) -> list[tuple[int, int]]:
        """The fewest and the most listed neutrals that carry current, for the system, or for every one with a
        neutral where it is not known.
        """
        systems = [self.system] if self.system else [one for one in SYSTEMS.values() if one.has_neutral]
        phases, neutrals, nonlinear = self._listed("phase"), self._listed("neutral"), self.nonlinear is True
        return [listed_carrying(phases, neutrals, one, nonlinear=nonlinear) for one in systems]

    @property
    def _served(self) -> int:
        """All that carry current, the listed neutrals left out."""
        own = sum(neutral.carries_current for neutral in self.neutrals)
        return self._poles + self._listed("phase") + own

    @cached_property
    def _is_open(self) -> bool:
        """Whether the job leaves open what decides the adjustment."""
        lows, highs = zip(*self._ranges, strict=True)
        least, most = self._served + min(lows), self._served + max(highs)
        return adjusted_percent(least) != adjusted_percent(most)

    def _carrying(self) -> int | None:
        """How many carry current, by what the job says of its loads; None where it is open."""
        if self._is_open:
            return None if self.system is None else self._served + max(high for _, high in self._ranges)
        return self._served + max(low for low, _ in self._ranges)

    def _carrying_if_nonlinear(self, carrying: int | None) -> int | None:
        """The same if the loads were mostly nonlinear, where the job does not say."""
        is_wye = self.system.is_wye if self.system else self._listed("neutral") > 0
        if carrying is None or not is_wye or self.nonlinear is not None:
            return carrying
        return self._poles + self._listed("phase") + len(self.neutrals) + self._listed("neutral")

    # --- devices --------------------------------------------------------------------------------------------

    def _protected(self) -> Iterator[ProtectedConductors]:
        for circuit in self.wiring.circuits:
            rating = circuit.breaker or self.wiring.breaker
            if rating is not None and self.wiring.wire is not None:
                yield ProtectedConductors(f"circuit {name_of(circuit)}", self.wiring.wire, rating, 1)
        for group in self.wiring.conductors:
            if group.use == "phase" and group.protected_by is not None:
                what = f"{group.count} of {with_unit(group.wire.size)}"
                yield ProtectedConductors(what, group.wire, group.protected_by, group.in_parallel)

    def _missing_for_devices(self) -> Iterator[str]:
        if self.wiring.breaker is None and any(circuit.breaker is None for circuit in self.wiring.circuits):
            yield "breaker"
        if any(group.use == "phase" and group.protected_by is None for group in self.wiring.conductors):
            yield "protected by"


def _neutral_colours(system: System | None, neutrals: Sequence[object]) -> tuple[str, ...]:
    return (system.neutral_colour,) * len(neutrals) if system else ()


def _ground_colour(wire: Wire) -> str:
    """Green when insulated, else bare (NEC 250.119)."""
    return "bare" if wire.insulation == "bare" else "green"
