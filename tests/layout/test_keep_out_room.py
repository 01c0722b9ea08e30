"""Room for fittings beside a keep-out that gives no clear distance; widths are those of the trade tables."""

from __future__ import annotations

import pytest
from factories import from_edge, make_face, make_job, make_keep_out, make_raceway, make_row

from templates_engine.errors import CannotFit
from templates_engine.job.model import FaceJob, Job, KeepOut, Raceway
from templates_engine.job.shop.model import Shop, ShopFitting
from templates_engine.layout import solve
from templates_engine.layout.faces import attempt
from templates_engine.layout.remedies import remedies_for
from templates_engine.values import replace

KEPT_IN = 1 / 16
"""Between fittings and what stands beside them: common practice, no source."""


def silent(*place: object, **more: object) -> KeepOut:
    return replace(make_keep_out(*place, **more), clear_in=None)  # type: ignore[arg-type]


def wall(at: float) -> KeepOut:
    """From ``at`` on nothing may stand."""
    return silent((at, 20.0))


def face(*raceways: Raceway, keep_out: KeepOut) -> FaceJob:
    return make_face(make_row(*raceways, gap=1.0, placing=from_edge(2.0)), keep_outs=[keep_out])


def pushed(raceway: Raceway, location: str | None = None) -> float:
    """How far a hole's centre stays off a wall-like keep-out that it is pushed against, on a second face."""
    raceway = replace(raceway, id="L2")
    row = make_row(make_raceway("1", "L1"), raceway, gap=20.0, placing=from_edge(2.0))
    low = silent((3.6, 26.0))
    job = make_job(
        make_face(make_row("1"), width=20.0), make_face(row, face="left", width=40.0, keep_outs=[low])
    )
    job = replace(job, enclosure=replace(job.enclosure, location=location))
    return solve(job).faces[1].holes[1].u_in - 26.0


@pytest.mark.parametrize(
    ("raceway", "location", "kind"),
    [
        (make_raceway("1", cutter="hole saw"), None, "locknut"),
        (make_raceway("1", type="RMC", cutter="hole saw"), None, "locknut"),
        (make_raceway("1", type="RMC", cutter="hole saw"), "wet", "hub"),
        (make_raceway("1", type="RMC", cutter="hole saw", bushing="bonding"), None, "locknut"),
        (make_raceway("4", type="RMC", cutter="hole saw", bushing="bonding"), None, "bonding bushing"),
        (make_raceway("1"), None, "punch die"),
    ],
)
def test_the_widest_thing_round_the_hole_decides(raceway: Raceway, location: str | None, kind: str) -> None:
    from templates_engine.trade.fittings import look_up

    assert raceway.size is not None
    across_in = look_up(kind, raceway.size).diameter_in
    assert pushed(raceway, location) == pytest.approx(across_in / 2 + KEPT_IN)


def test_a_clear_distance_that_is_given_is_obeyed_whatever_the_fittings() -> None:
    raceways = [make_raceway("1", "A1"), make_raceway("1", "A2")]
    for clear in (0.0, 0.125):
        at = replace(wall(6.0), u_low_in=4.0, u_high_in=6.0, clear_in=clear)
        assert solve(make_job(face(*raceways, keep_out=at))).faces[0].holes[1].u_in == pytest.approx(
            6.0 + 1.375 / 2 + clear
        )


def test_a_locknut_no_longer_sits_on_a_ground_stud() -> None:
    """A knockout of 1 in trade size, 1-3/8 in across, against a stud; its locknut is 1.73 in across."""
    stud = silent(6.0, 2.2065, diameter=0.5, name="ground stud")
    job = make_job(
        face(make_raceway("1", cutter="hole saw"), make_raceway("1", "A2", cutter="hole saw"), keep_out=stud)
    )
    row = solve(job).faces[0].rows[0]
    away = abs(row.holes[1].u_in - 6.0) if row.holes[1].u_in > 6 else 6.0 - row.holes[1].u_in
    assert away >= 0.25 + 1.73 / 2 - 1e-9


def test_fittings_no_table_has_leave_hole_and_raceway_clear() -> None:
    six = make_raceway("6", "A2", type="RMC", cutter="hole saw")
    at = replace(wall(6.0), u_low_in=3.2, u_high_in=8.0)
    job = make_job(
        make_face(make_row(make_raceway("1"), six, gap=1.0, placing=from_edge(2.0)), depth=16, keep_outs=[at])
    )
    hole = solve(job).faces[0].holes[1]
    assert hole.u_in == pytest.approx(8.0 + hole.hole_diameter_in / 2)


def test_the_shops_own_fittings_count() -> None:
    own = Shop("shop.yaml", (ShopFitting("locknut", None, "1", 2.5),))
    at = replace(wall(6.0), u_low_in=3.4, u_high_in=6.0)
    saw = [make_raceway("1", id, cutter="hole saw") for id in ("A1", "A2")]
    job = replace(make_job(face(*saw, keep_out=at)), shop=own)
    assert solve(job).faces[0].holes[1].u_in == pytest.approx(6.0 + 1.25 + KEPT_IN)


def test_a_pin_beside_such_a_keep_out_is_told_and_offered_a_clear_distance() -> None:
    pinned = [make_raceway("1", "A1", cutter="hole saw"), make_raceway("1", "A2", at=7.1, cutter="hole saw")]
    job = make_job(face(*pinned, keep_out=silent((8.0, 20.0))))
    with pytest.raises(CannotFit) as error:
        solve(job)
    assert 'the keep-out "seam", which gives no `clear`, for its fittings' in str(error.value)
    offered = {one.words: one.job for failure in attempt(job).failures for one in remedies_for(job, failure)}
    (words,) = [text for text in offered if "write clear:" in text]
    # The knockout reaches to 7.7875: 0.2125 in are left.
    assert words.startswith('write clear: 3/16 in at the keep-out "seam"')
    layout = solve(offered[words])
    assert layout.faces[0].holes[1].u_in == 7.1


def test_a_keep_out_that_gives_its_distance_is_left_alone_by_that_remedy() -> None:
    fixed, open_ = make_keep_out((8.0, 20.0), clear=0.3125), silent((0.0, 0.1))
    job: Job = make_job(make_face(make_row(make_raceway("1", at=7.1)), keep_outs=[fixed, open_]))
    offered = [one.words for failure in attempt(job).failures for one in remedies_for(job, failure)]
    assert not [text for text in offered if "write clear:" in text]
