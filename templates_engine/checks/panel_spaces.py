"""Looks for breakers that cannot sit in their panel spaces, and for single poles on a high leg."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import listed, not_checked, unique
from templates_engine.job.model import Circuit, Job
from templates_engine.layout.model import Hole, Layout
from templates_engine.wiring.panel import System, follow_one_another, name_of, phase_of, system_of

ABOUT = About(
    name="panel spaces",
    what="Each space feeds one raceway of a panelboard, the poles of a breaker follow one another on one "
    "side, and no single pole with a neutral stands on a high leg.",
    limit="none broken",
    source="common practice, no source",
    leaves_out="Circuits whose poles stand on one phase, which stop the job; breaker ratings; handle ties "
    "across spaces.",
    rests_on="custom",
)

_REMEDY = "Compare the circuits with the panel schedule."


def run(layout: Layout) -> Iterable[Finding]:
    circuits = [
        (hole, circuit)
        for face in layout.faces
        for hole in face.holes
        if hole.raceway.load
        for circuit in hole.raceway.load.circuits
    ]
    if not circuits:
        return
    system = system_of(layout.job.enclosure)
    if system is None:
        yield from not_checked(
            ABOUT, "", {"system": []}, "Write system: under 'enclosure', such as 208Y/120."
        )
        return
    odd = list(_odd(circuits, layout.job, system))
    told = (
        f"{listed([words for _, words in odd])}."
        if odd
        else f"All {len(circuits)} circuits can stand where they are."
    )
    yield Finding(
        check=ABOUT.name,
        outcome=Outcome.CAUTION if odd else Outcome.OK,
        face="",
        holes=unique(hole for hole, _ in odd),
        provided=float(len(odd)),
        required=0.0,
        unit="circuits",
        source=ABOUT.source,
        message=f"{told[0].upper()}{told[1:]}",
        remedy=_REMEDY if odd else "",
    )


def _odd(circuits: list[tuple[Hole, Circuit]], job: Job, system: System) -> Iterator[tuple[str, str]]:
    """Hole id and words for every circuit that looks wrong."""
    numbering = job.enclosure.numbering
    taken: dict[int, str] = {}
    for hole, circuit in circuits:
        if not follow_one_another(circuit, numbering):
            yield hole.id, f"the spaces of circuit {name_of(circuit)} do not follow one another on one side"
        if len(circuit.spaces) == 1 and circuit.neutral is not False:
            phase = phase_of(circuit.spaces[0], system, numbering)
            if phase == system.high_leg:
                yield hole.id, f"circuit {name_of(circuit)} is a single pole on the high leg {phase}"
        for space in circuit.spaces:
            other = taken.setdefault(space, hole.id)
            if other != hole.id and job.enclosure.kind == "panelboard":
                yield hole.id, f"space {space} is in both {other} and {hole.id}"
