"""Turns readings of a hole from both walls inside into the metal's thickness, where the job does not give it.

::

    |<-t->|<-- left -->+<-- right -->|<-t->|      left + right + 2 t = the width outside, wherever the sheet
         wall        hole           wall          lies: so t is known, and left tells the place
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templates_engine.sheets.model import FacePlan
from templates_engine.values import replace
from templates_engine.verify.distances import Distance, distance_of, edge_distance
from templates_engine.verify.readings import Reading

THICKEST_IN = 0.25
"""No enclosure's sheet metal is thicker."""


def with_metal_read(plan: FacePlan, readings: Sequence[Reading]) -> tuple[FacePlan, tuple[Reading, ...]]:
    """The face and its readings with the metal's thickness as read; unchanged where it is given or unread."""
    thick = list(_thicknesses(plan, readings)) if plan.rule_edges is None else []
    metal = sum(thick) / len(thick) if thick else -1.0
    if not 0 < metal <= THICKEST_IN:
        return plan, tuple(readings)
    layout = plan.layout
    known = replace(plan, layout=replace(layout, job=replace(layout.job, metal_in=metal)))
    return known, tuple(
        replace(one, distance=distance_of(one.distance.name, known)) if any(one.distance.on_can) else one
        for one in readings
    )


def both_walls(plan: FacePlan) -> tuple[Distance, ...]:
    """The first hole from both walls: what tells the thickness, and with it the place along the face."""
    face, first = plan.layout.job.face, plan.layout.holes[0]
    return tuple(edge_distance(word, first, plan) for word in (face.start_edge, face.end_edge))


def _thicknesses(plan: FacePlan, readings: Sequence[Reading]) -> Iterator[float]:
    """By every hole that was read from both walls."""
    face = plan.layout.job.face
    read = {one.distance.key: one.read_in for one in readings}
    for hole in plan.layout.holes:
        start, end = (read.get(frozenset((word, hole.id))) for word in (face.start_edge, face.end_edge))
        if start is not None and end is not None:
            yield (plan.plane.width_in - start - end) / 2
