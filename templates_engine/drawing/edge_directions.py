"""Says which word stands at which side of the sheet: BACK at the top, the others as the frame says."""

from __future__ import annotations

from typing import Literal

from templates_engine.job.model import MarkFrom
from templates_engine.sheets.model import FacePlan
from templates_engine.units import LengthFormat
from templates_engine.values import Struct

Way = Literal["up", "down", "side"]
"""Which edge of a face as it lies on the sheet."""


class EdgeDirections(Struct, frozen=True):
    """The words at the four sides of the paper, in capitals."""

    up: str
    down: str
    left: str
    right: str


def edge_directions(plan: FacePlan) -> EdgeDirections:
    """The four edge words of a face as the sheet shows it."""
    face = plan.layout.job.face
    start, end = face.start_edge.upper(), face.end_edge.upper()
    left, right = (start, end) if plan.plane.u_runs_right else (end, start)
    return EdgeDirections("BACK", "FRONT", left, right)


def side_words(plan: FacePlan) -> str:
    """Which face, and the side the sheet is taped to: "TOP, tape to the OUTSIDE"."""
    job = plan.layout.job
    name = f"{job.face.value.upper()} SIDE" if job.face.is_side else job.face.value.upper()
    return f"{name}, tape to the {job.mark_from.value.upper()}"


def how_to_hold(plan: FacePlan) -> str:
    """How the sheet lies on the metal, so that it is neither mirrored nor turned."""
    edges = edge_directions(plan)
    job = plan.layout.job
    return (
        f"Printed side toward you, taped to the {job.mark_from.value} of the {job.face.value}: "
        f"BACK goes to the wall, {edges.left} is then on the sheet's left and {edges.right} on its right."
    )


def edge_instructions(plan: FacePlan, edge: Way) -> tuple[str, ...]:
    """What to do with the paper at one of the face's edges, the fullest words first."""
    job = plan.layout.job
    if job.mark_from is MarkFrom.OUTSIDE:
        if folds(plan, edge):
            return "crease or trim on the line", "crease or trim", "crease"
        return "trim on the line, no room behind", "trim, no room behind", "trim"
    if edge == "down" and not job.has_front_lip:
        return "trim on the line, open front", "trim on the line", "trim"
    if job.metal_in is None:
        return (
            "the can's OUTSIDE; cut the metal's thickness inside it",
            "OUTSIDE; cut inside it",
            "cut inside",
        )
    return "trim on the inner line, push it into the corner", "trim on the inner line", "trim inner line"


def folds(plan: FacePlan, edge: Way) -> bool:
    """Whether paper can be folded over one of the face's edges: from outside, where there is room behind."""
    return plan.layout.job.mark_from is MarkFrom.OUTSIDE and (edge != "up" or plan.back_gap_in > 0)


def what_distances_run_from(plan: FacePlan, lengths: LengthFormat) -> str:
    """From inside, the edges all distances run from are out of sight: how far off the corners are."""
    job = plan.layout.job
    if job.mark_from is MarkFrom.OUTSIDE:
        return "All distances run from the can's outside edges."
    if job.metal_in is None:
        return (
            "All distances run from the can's OUTSIDE edges. Inside, the corners lie one thickness of metal "
            "further in; the job does not give it, so measure it and shift the sheet by it."
        )
    thick = f"{lengths.exact(job.metal_in)} {lengths.unit}"
    return (
        f"All distances run from the can's OUTSIDE edges. Inside, the corners lie {thick} further in "
        f"(the inner line): a rule set in the corner reads {thick} less."
    )
