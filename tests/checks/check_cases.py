"""What tests of checks share: wires, wiring, layouts moved by hand, and one finding out of many."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from factories import make_face, make_job, make_raceway, make_row

from templates_engine.checks import Finding, check
from templates_engine.job.model import Circuit, ConductorGroup, Enclosure, Job, RacewayWiring, Wire
from templates_engine.layout import solve
from templates_engine.layout.model import Hole, Layout
from templates_engine.values import replace


def wire(size: str = "12", insulation: str = "THHN", metal: Any = "Cu") -> Wire:
    return Wire(size, insulation, metal)


def circuits(*numbers: int | tuple[int, ...], size: str = "12", **more: Any) -> RacewayWiring:
    """Circuits with own neutrals and a ground of the same size; ``more`` are fields of Load."""
    made = tuple(Circuit((each,) if isinstance(each, int) else each, None) for each in numbers)
    wiring = RacewayWiring(made, wire(size), "own", wire(size), True, (), None)
    return replace(wiring, **more)


def conductors(*groups: tuple[int, str] | tuple[int, str, str], insulation: str = "THHN") -> RacewayWiring:
    """Conductors by count, size and, where it is not a phase, use."""
    made = []
    for group in groups:
        use: Any = group[2] if len(group) == 3 else "phase"
        made.append(ConductorGroup(group[0], wire(group[1], insulation), use))
    return RacewayWiring((), None, None, None, False, tuple(made), None)


def one_raceway(
    size: str = "1", *, depth: float = 8.0, enclosure: dict[str, Any] | None = None, **raceway: Any
) -> Job:
    """A job with one raceway in the top of a box."""
    job = make_job(make_face(make_row(make_raceway(size, "A1", **raceway)), depth=depth))
    return with_enclosure(job, **(enclosure or {}))


def with_enclosure(job: Job, **more: Any) -> Job:
    """The job with fields of its enclosure changed."""
    enclosure: Enclosure = replace(job.enclosure, **more)
    return replace(job, enclosure=enclosure)


def findings(layout: Layout | Job, name: str) -> list[Finding]:
    """What the check of that name finds."""
    solved = layout if isinstance(layout, Layout) else solve(layout)
    return [finding for finding in check(solved) if finding.check == name]


def finding(layout: Layout | Job, name: str) -> Finding:
    """The only finding of the check of that name."""
    found = findings(layout, name)
    assert len(found) == 1, [each.message for each in found]
    return found[0]


def outcome(layout: Layout | Job, name: str) -> str:
    return finding(layout, name).outcome.value


def outcomes(layout: Layout | Job, name: str) -> list[str]:
    return [each.outcome.value for each in findings(layout, name)]


def moved(layout: Layout, id: str, *, u: float | None = None, v: float | None = None, **more: Any) -> Layout:
    """The layout with one hole put at a place by hand, as no solver would."""

    def one(hole: Hole) -> Hole:
        if hole.id != id:
            return hole
        return replace(hole, u_in=hole.u_in if u is None else u, v_in=hole.v_in if v is None else v, **more)

    faces = tuple(
        replace(
            face,
            rows=tuple(replace(row, holes=tuple(one(hole) for hole in row.holes)) for row in face.rows),
        )
        for face in layout.faces
    )
    return replace(layout, faces=faces)


def solved_row(*sizes: str, gap: float = 1.0, **face: Any) -> Layout:
    """A solved layout of one row of EMT."""
    return solve(make_job(make_face(make_row(*sizes, gap=gap), **face)))


def words(layout: Layout | Job, name: str) -> str:
    return finding(layout, name).message


def names(found: Sequence[Finding]) -> list[str]:
    return [each.check for each in found]
