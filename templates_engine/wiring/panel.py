"""Turns panel spaces into phases and insulation colours, for each system, or says what is wrong with them.

::

        odd left              down
        1  A  2               1 A
        3  B  4               2 B
        5  C  6               3 C
        7  A  8               4 A
"""

from __future__ import annotations

import itertools

from templates_engine.job.model import Circuit, Enclosure
from templates_engine.values import Struct


class System(Struct, frozen=True):
    """A supply: its phases in the order of the bus, their insulation colours, and whether it has a neutral.

    Phase order A, B, C: NEC 408.3(E). High leg on B, orange: NEC 110.15, 408.3(E). Other colours: common
    practice, no source.
    """

    name: str
    phases: tuple[str, ...]
    colours: tuple[str, ...]
    has_neutral: bool
    volts_to_ground: int
    """The most any phase has to ground; ungrounded, the voltage between phases (NEC article 100)."""
    high_leg: str = ""
    is_wye: bool = False

    def colour(self, phase: str) -> str:
        return self.colours[self.phases.index(phase)]

    @property
    def neutral_colour(self) -> str:
        """White, and grey on the higher voltage to tell them apart; common practice, no source."""
        return "grey" if self.volts_to_ground > 250 else "white"


_LOW = ("black", "red", "blue")
_HIGH = ("brown", "orange", "yellow")

SYSTEMS = {
    system.name: system
    for system in (
        System("208Y/120", ("A", "B", "C"), _LOW, True, 120, is_wye=True),
        System("480Y/277", ("A", "B", "C"), _HIGH, True, 277, is_wye=True),
        System("120/240", ("A", "B"), ("black", "red"), True, 120),
        System("240 delta high leg", ("A", "B", "C"), ("black", "orange", "blue"), True, 208, high_leg="B"),
        System("240 delta", ("A", "B", "C"), _LOW, False, 240),
        System("480 delta", ("A", "B", "C"), _HIGH, False, 480),
    )
}


def system_of(enclosure: Enclosure) -> System | None:
    """The enclosure's system, None when the job does not say."""
    return SYSTEMS.get(enclosure.system) if enclosure.system else None


def phase_of(space: int, system: System, numbering: str) -> str:
    """The phase a panel space stands on: 1, 2 on A with odd spaces left; 1 on A, 2 on B numbered down."""
    step = (space - 1) // 2 if numbering == "odd left" else space - 1
    return system.phases[step % len(system.phases)]


def name_of(circuit: Circuit) -> str:
    """The spaces as a person writes them: "5", "2,4,6"."""
    return ",".join(str(space) for space in circuit.spaces)


def has_neutral(circuit: Circuit, system: System | None) -> bool:
    """Whether a circuit has a neutral: as written, else a single pole has; never where there is none."""
    if system is not None and not system.has_neutral:
        return False
    return len(circuit.spaces) == 1 if circuit.neutral is None else circuit.neutral


def trouble(circuit: Circuit, enclosure: Enclosure) -> tuple[str, str] | None:
    """What makes a circuit impossible in this panel, and what to write instead; None when it stands."""
    name, spaces = name_of(circuit), circuit.spaces
    if len(set(spaces)) < len(spaces):
        return f"Circuit {name} takes a space twice.", "Write each space of its breaker once."
    beyond = [space for space in spaces if enclosure.spaces is not None and space > enclosure.spaces]
    if beyond:
        return (
            f"Circuit {name} takes space {beyond[0]} of a panel with {enclosure.spaces}.",
            f"Write a space from 1 to {enclosure.spaces}, or mend 'spaces'.",
        )
    system = system_of(enclosure)
    return None if system is None else _trouble_with_phases(circuit, system, enclosure.numbering)


def _trouble_with_phases(circuit: Circuit, system: System, numbering: str) -> tuple[str, str] | None:
    name = name_of(circuit)
    phases = [phase_of(space, system, numbering) for space in circuit.spaces]
    for place, phase in enumerate(phases):
        first = phases.index(phase)
        if first < place:
            step = 2 if numbering == "odd left" else 1
            start = circuit.spaces[0]
            most = min(len(phases), len(system.phases))
            meant = ", ".join(str(start + step * pole) for pole in range(most))
            return (
                f"Circuit {name} has spaces {circuit.spaces[first]} and {circuit.spaces[place]} both on "
                f"phase {phase}.",
                f"Write spaces on different phases, such as {meant}.",
            )
    if not system.has_neutral and (len(phases) == 1 or circuit.neutral):
        what = "is a single pole" if len(phases) == 1 else "asks for a neutral"
        return (
            f"Circuit {name} {what}, and a {system.name} system has no neutral to serve it.",
            "Write two or three spaces with neutral: no, or mend 'system'.",
        )
    return None


def follow_one_another(circuit: Circuit, numbering: str) -> bool:
    """Whether a breaker can take these spaces: one below the next on one side of the panel."""
    step = 2 if numbering == "odd left" else 1
    ordered = sorted(circuit.spaces)
    return all(later - earlier == step for earlier, later in itertools.pairwise(ordered))
