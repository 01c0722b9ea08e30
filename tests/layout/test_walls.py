"""Holes stay out of the walls beside the face: the flat begins past the thickness of the metal."""

from __future__ import annotations

import pytest
from factories import from_edge, make_face, make_job, make_row

from templates_engine.checks import check
from templates_engine.checks.model import Outcome
from templates_engine.errors import CannotFit
from templates_engine.job.model import FaceJob, Lips
from templates_engine.layout import solve
from templates_engine.values import replace

TEN_GAUGE_IN = 0.1345
"""Manufacturers' standard gauge for sheet steel."""
KNOCKOUT_IN = 1.375
"""Trade size 1: NEMA knockout table."""


def face(start_in: float, metal_in: float | None, lips: Lips | None = None) -> FaceJob:
    return replace(make_face(make_row("1", placing=from_edge(start_in)), lips=lips), metal_in=metal_in)


def test_a_hole_tangent_to_the_outside_edge_would_cut_the_side_wall() -> None:
    with pytest.raises(CannotFit, match=r"flat of the face; 0\.1345 in is missing"):
        solve(make_job(face(KNOCKOUT_IN / 2, TEN_GAUGE_IN)))


def test_a_hole_tangent_to_the_wall_is_on_the_flat() -> None:
    layout = solve(make_job(face(KNOCKOUT_IN / 2 + TEN_GAUGE_IN, TEN_GAUGE_IN)))
    flat = next(one for one in check(layout) if one.check == "flat metal along the face")
    assert flat.outcome is Outcome.OK
    assert flat.provided == pytest.approx(0.0, abs=1e-6)


def test_a_lip_wider_than_the_metal_counts_alone() -> None:
    lips = Lips(start_in=0.5)
    assert solve(make_job(face(KNOCKOUT_IN / 2 + 0.5, TEN_GAUGE_IN, lips)))
    with pytest.raises(CannotFit, match=r"flat of the face; 0\.1 in is missing"):
        solve(make_job(face(KNOCKOUT_IN / 2 + 0.4, TEN_GAUGE_IN, lips)))


def test_a_knockout_into_the_back_wall_fails() -> None:
    row = replace(make_row("1"), back_line=0.106, strut=None)
    layout = solve(make_job(replace(make_face(row), metal_in=TEN_GAUGE_IN)))
    depth = next(one for one in check(layout) if one.check == "depth of the can")
    assert depth.outcome is Outcome.FAIL
