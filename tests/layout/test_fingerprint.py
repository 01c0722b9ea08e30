"""The fingerprint follows everything cut or drawn of a face, and nothing else."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from factories import make_face, make_job, make_keep_out, make_raceway, make_row

from templates_engine.job.model import Job, Lips
from templates_engine.layout import solve
from templates_engine.values import replace

SEAM = make_keep_out((0.0, 0.5), (0.0, 1.0))


def fingerprint(job: Job) -> str:
    return solve(job).faces[0].fingerprint


def base(**face: object) -> Job:
    row = face.pop("row", None) or make_row("2", "1-1/4")
    return make_job(make_face(row, keep_outs=[SEAM], **face))  # type: ignore[arg-type]


def test_it_is_written_in_two_groups_of_four() -> None:
    assert re.fullmatch(r"[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}", fingerprint(base()))


def test_the_same_job_has_the_same_one() -> None:
    assert fingerprint(base()) == fingerprint(base())


CHANGES: dict[str, Callable[[], Job]] = {
    "face": lambda: base(face="bottom"),
    "side of the metal": lambda: base(mark_from="inside"),
    "width": lambda: base(width=20.0625),
    "depth": lambda: base(depth=8.0625),
    "lip": lambda: base(lips=Lips(front_in=0.5)),
    "keep-outs left out": lambda: make_job(make_face(make_row("2", "1-1/4"))),
    "keep-out moved": lambda: make_job(
        make_face(make_row("2", "1-1/4"), keep_outs=[replace(SEAM, u_high_in=0.501)])
    ),
    "keep-out's name": lambda: make_job(
        make_face(make_row("2", "1-1/4"), keep_outs=[replace(SEAM, name="weld")])
    ),
    "strut": lambda: base(row=make_row("2", "1-1/4", strut=0.8125)),
    "gap": lambda: base(row=make_row("2", "1-1/4", gap=1.0001)),
    "order": lambda: base(row=make_row("1-1/4", "2")),
    "size": lambda: base(row=make_row("2", "1-1/2")),
    "type": lambda: base(row=make_row(make_raceway("2", type="RMC"), make_raceway("1-1/4", "A2"))),
    "hole": lambda: base(row=make_row(make_raceway("2", hole="punch"), make_raceway("1-1/4", "A2"))),
    "cutter": lambda: base(row=make_row(make_raceway("2", cutter="hole saw"), make_raceway("1-1/4", "A2"))),
    "id": lambda: base(row=make_row(make_raceway("2", "X1"), make_raceway("1-1/4", "A2"))),
}


@pytest.mark.parametrize("change", CHANGES)
def test_a_change_of_metal_or_drawing_changes_it(change: str) -> None:
    assert fingerprint(CHANGES[change]()) != fingerprint(base())


def test_no_two_changes_collide() -> None:
    assert len({fingerprint(job()) for job in CHANGES.values()}) == len(CHANGES)


def test_what_is_not_cut_or_drawn_leaves_it() -> None:
    job = base()
    other = replace(job, title="Other", revision="9", date="today", file="other.yaml", unit="mm")
    assert fingerprint(other) == fingerprint(job)
    marked = replace(job, enclosure=replace(job.enclosure, mark="PB-2", back_gap_in=0.0))
    assert fingerprint(marked) == fingerprint(job)


def test_less_than_a_millionth_leaves_it() -> None:
    assert fingerprint(base(row=make_row("2", "1-1/4", strut=1.625 + 1e-8))) == fingerprint(base())


def test_the_metals_thickness_counts_only_where_its_inside_corner_is_drawn() -> None:
    def thick(mark_from: str, metal_in: float | None) -> str:
        job = base(mark_from=mark_from)
        return fingerprint(replace(job, faces=(replace(job.faces[0], metal_in=metal_in),)))

    assert thick("inside", 0.0598) != thick("inside", None)
    assert thick("outside", 0.0598) == thick("outside", None)
