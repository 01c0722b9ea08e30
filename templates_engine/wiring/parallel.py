"""Gathers the parallel sets of each feeder over all faces of a job."""

from __future__ import annotations

from collections.abc import Mapping

from templates_engine.job.model import ConductorGroup, Job, Raceway

Sets = Mapping[str, tuple[Raceway, ...]]
"""The raceways of each feeder, in the job's order, by the feeder's name."""


def sets_of(job: Job) -> Sets:
    """Every feeder that a raceway names, with all its raceways."""
    found: dict[str, list[Raceway]] = {}
    for face in job.faces:
        for row in face.rows:
            for raceway in row.raceways:
                if raceway.parallel_set_of:
                    found.setdefault(raceway.parallel_set_of, []).append(raceway)
    return {name: tuple(raceways) for name, raceways in found.items()}


def in_parallel(raceway: Raceway, here: int, sets: Sets) -> int:
    """How many conductors are one over all sets of a raceway's feeder; ``here`` of them lie in it."""
    others = [one for one in sets.get(raceway.parallel_set_of, ()) if one is not raceway]
    return here + sum(max((group.in_parallel for group in phases_of(one)), default=0) for one in others)


def phases_of(raceway: Raceway) -> tuple[ConductorGroup, ...]:
    """The phase conductors that the job lists in a raceway."""
    groups = raceway.wiring.conductors if raceway.wiring else ()
    return tuple(group for group in groups if group.use == "phase")
