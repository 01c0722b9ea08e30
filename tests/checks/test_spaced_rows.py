"""What checks, remedies and exports say of rows spaced centre to centre and of rows on a centre line."""

from __future__ import annotations

import csv
import io
import json

import pytest
from factories import from_edge, make_face, make_job, make_raceway, make_row

from templates_engine.advice import advise
from templates_engine.checks import check, check_one
from templates_engine.checks.model import Finding, Outcome
from templates_engine.job.model import CentreLine, Job
from templates_engine.layout import solve
from templates_engine.layout.model import Layout
from templates_engine.values import replace
from templates_engine.writers.csv_file import csv_bytes
from templates_engine.writers.json_file import json_bytes


def spaced(spacing: float = 3.0) -> Job:
    """Two faces with two rows each; the second row of the second face is spaced, by its centres."""
    back = make_row("1", strut=0.8125)
    row = make_row("2", "1", "1", name="B", back_line=CentreLine(5), strut=None, spacing=spacing)
    placed = replace(row, placing=from_edge(3))
    return make_job(make_face(back, face="bottom"), make_face(back, placed, depth=8.0))


def of_top(name: str, layout: Layout) -> Finding:
    (one,) = [finding for finding in check_one(name, layout) if finding.face == "top"]
    return one


def test_a_spacing_kept_exactly_passes() -> None:
    found = of_top("gaps as asked", solve(spaced()))
    assert found.outcome is Outcome.OK
    assert found.message.endswith("between B1 and B2 (spacing of the row, 3 in centre to centre).")
    assert found.provided == found.required == pytest.approx(3 - (2.197 + 1.163) / 2)


def test_a_spacing_fallen_short_of_fails() -> None:
    layout = solve(spaced())
    face = layout.faces[1]
    holes = face.rows[1].holes
    near = replace(holes[2], u_in=holes[1].u_in + 2.9)
    row = replace(face.rows[1], holes=(*holes[:2], near))
    moved = replace(layout, faces=(layout.faces[0], replace(face, rows=(face.rows[0], row))))
    found = of_top("gaps as asked", moved)
    assert found.outcome is Outcome.FAIL
    assert found.holes == ("B2", "B3")
    assert "(spacing of the row, 3 in centre to centre)" in found.message


def test_a_pairs_own_spacing_is_held_against_the_layout() -> None:
    members = [make_raceway("1", f"B{number}") for number in (1, 2, 3)]
    members[1] = replace(members[1], at_in=8.0)  # the first pair has room to spare
    members[2] = replace(members[2], spacing_before_in=2.0)
    row = replace(make_row(*members, name="B", strut=3.25, gap=1.0), placing=from_edge(3))
    found = of_top("gaps as asked", solve(make_job(make_face(make_row("1", strut=0.8125), row))))
    assert "B2 and B3 (spacing before B3, 2 in centre to centre)" in found.message


def test_straps_say_that_a_row_on_a_centre_line_has_none() -> None:
    told = [one for one in check_one("straps", solve(spaced())) if one.face == "top"]
    between, found = sorted(told, key=lambda one: one.outcome is Outcome.NOT_CHECKED)
    assert (between.outcome, between.holes) == (Outcome.OK, ("A1", "B3"))
    assert found.outcome is Outcome.NOT_CHECKED
    assert found.message == "Row B stands on a centre line without strut, where no straps are needed."
    assert found.holes == ("B1", "B2", "B3")


def test_a_spacing_too_small_for_the_fittings_is_cured_by_a_larger_one() -> None:
    layout = solve(spaced(spacing=2.0))
    findings = check(layout)
    told = next(
        one for one in advise(layout, findings) if one.check == "fittings apart" and one.face == "top"
    )
    assert told.outcome is Outcome.CAUTION
    assert told.remedy.startswith("This cures it: make the spacing 2-3/8 in for row B: this caution is gone")


def test_a_centre_line_too_near_the_front_is_moved_by_a_remedy() -> None:
    row = make_row("2", name="B", back_line=CentreLine(7.5), strut=None, spacing=3)
    layout = solve(make_job(make_face(make_row("1", strut=0.8125), row, depth=8.0)))
    told = next(one for one in advise(layout, check(layout)) if one.check == "depth of the can")
    # a 2 in knockout of 2.469 in: its centre 1.2345 in from the front of 8 in, 6-3/4 on the tape
    assert told.outcome is Outcome.FAIL
    assert "make the centre line 6-3/4 in for row B: every hole fits" in told.remedy


def test_exports_tell_centre_lines_and_centre_distances_apart_from_backs_and_gaps() -> None:
    layout = solve(spaced())
    first, second = json.loads(json_bytes(layout, {}, ()))["faces"][1]["rows"]
    assert (first["back_line_in"], first["centre_line_in"]) == (0.8125, None)
    assert (second["back_line_in"], second["centre_line_in"]) == (None, 5.0)
    assert [gap["centres_in"] for gap in second["gaps"]] == [3.0, 3.0]
    assert [gap["required_in"] for gap in second["gaps"]] == [1.32, 1.837]
    assert {gap["governed_by"] for gap in second["gaps"]} == {"spacing of the row"}
    lines = list(csv.DictReader(io.StringIO(csv_bytes(layout, ()).decode())))
    told = [(line["hole"], line["row_back_line_in"], line["row_centre_line_in"]) for line in lines[1:]]
    assert told == [("A1", "0.8125", ""), ("B1", "", "5"), ("B2", "", "5"), ("B3", "", "5")]
