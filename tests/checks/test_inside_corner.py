"""Faces marked from inside: the corners stand one thickness of metal in from the edges distances run from."""

from __future__ import annotations

import pytest
from factories import make_face, make_job, make_row

from templates_engine.checks import check
from templates_engine.checks.model import Finding, Outcome
from templates_engine.layout import solve
from templates_engine.values import replace


def findings(mark_from: str, metal_in: float | None) -> list[Finding]:
    face = replace(make_face(make_row("1"), mark_from=mark_from), metal_in=metal_in)
    return [one for one in check(solve(make_job(face))) if one.check == "marked from inside"]


def test_the_thickness_is_said_where_it_is_known() -> None:
    """14 gauge sheet steel is 0.0747 in thick: manufacturers' standard gauge."""
    (finding,) = findings("inside", 0.0747)
    assert finding.outcome is Outcome.OK
    assert "0.0747 in in from the edges" in finding.message


def test_not_checked_where_the_job_gives_no_metal() -> None:
    (finding,) = findings("inside", None)
    assert finding.outcome is Outcome.NOT_CHECKED
    assert "sheet metal" in finding.message


@pytest.mark.parametrize("metal_in", [None, 0.0747])
def test_nothing_is_said_of_a_face_marked_from_outside(metal_in: float | None) -> None:
    assert findings("outside", metal_in) == []


def test_the_fingerprint_tells_another_thickness_only_where_it_is_drawn() -> None:
    def fingerprint(mark_from: str, metal_in: float) -> str:
        face = replace(make_face(make_row("1"), mark_from=mark_from), metal_in=metal_in)
        return solve(make_job(face)).faces[0].fingerprint

    assert fingerprint("inside", 0.0598) != fingerprint("inside", 0.0747)
    assert fingerprint("outside", 0.0598) == fingerprint("outside", 0.0747)
