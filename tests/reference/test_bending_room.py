"""Room to bend conductors at terminals against published answers; each test names its source."""

from __future__ import annotations

import pytest
from factories import make_face, make_job, make_raceway, make_row

from templates_engine.checks import Finding, check
from templates_engine.job.model import ConductorGroup, RacewayWiring, TerminalLugs, Wire
from templates_engine.layout import solve
from templates_engine.values import replace


def found(size: str, lugs: TerminalLugs) -> Finding:
    group = ConductorGroup(3, Wire(size, "THHN", "Cu"), "phase")
    wiring = RacewayWiring((), None, None, None, False, (group,), None)
    job = make_job(make_face(make_row(make_raceway("4", wiring=wiring)), depth=12, lugs=lugs))
    job = replace(job, enclosure=replace(job.enclosure, kind="panelboard"))
    return next(each for each in check(solve(job)) if each.check == "bending room")


@pytest.mark.parametrize(
    ("size", "wires", "opposite", "room"),
    [
        # NEC Table 312.6(B)(2), published example: 4/0, two wires a lug, entering opposite the terminals
        ("4/0", 2, True, 7.5),
        # NEC Table 312.6(A), published example: 4/0, one wire, not opposite
        ("4/0", 1, False, 4.0),
        # NEC Table 312.6(B)(2), read; three copies print these inches at 250 kcmil
        ("250", 1, True, 8.5),
        ("250", 2, True, 8.5),
        ("250", 3, True, 9.0),
        ("250", 4, True, 10.0),
        ("500", 1, True, 14.0),
        # NEC Table 312.6(A), read
        ("500", 1, False, 6.0),
        ("3", 1, False, 2.0),
    ],
)
def test_bending_room(size, wires, opposite, room):
    exact = found(size, TerminalLugs(room, wires, opposite))
    assert (exact.outcome.value, exact.required, exact.unit) == ("ok", room, "in")
    short = found(size, TerminalLugs(room - 0.01, wires, opposite))
    assert (short.outcome.value, short.required) == ("fail", room)
