"""What one does on the form and the drawing, as changes of the text; the job that comes of it is read."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from templates_engine.job import read_job_text
from templates_engine.job.text.edit import CannotEdit, content
from templates_engine.layout import solve
from templates_engine.page.edits import apply, as_path

SAMPLE = (Path(__file__).parents[2] / "sample_jobs" / "01_panelboard_top.yaml").read_text()
ROW = ["faces", 0, "rows", 0]


def centres(text: str) -> dict[str, float]:
    """Each hole's distance from its start edge, inches."""
    return {hole.id: hole.u_in for face in solve(read_job_text(text, "x")).faces for hole in face.holes}


def test_a_path_of_a_message_is_taken_apart() -> None:
    assert as_path("faces[2].rows[1].back line") == ("faces", 1, "rows", 0, "back line")


def test_a_field_is_set_and_cleared() -> None:
    after = apply(SAMPLE, {"do": "set", "path": ["enclosure", "width"], "value": " 24  in "})
    assert content(after)["enclosure"]["width"] == "24 in"
    cleared = apply(after, {"do": "set", "path": ["enclosure", "sheet metal"], "value": ""})
    assert "sheet metal" not in content(cleared)["enclosure"]


def test_lists_are_typed_with_commas() -> None:
    after = apply(SAMPLE, {"do": "set", "path": [*ROW, "strut"], "value": "13/16, 1-5/8"})
    assert content(after)["faces"][0]["rows"][0]["strut"] == ["13/16", "1-5/8"]


def test_circuits_are_typed_with_strokes_for_one_breaker() -> None:
    path = [*ROW, "raceways", 1, "circuits"]
    after = apply(SAMPLE, {"do": "set", "path": path, "value": "1, 3, 2/4/6"})
    assert content(after)["faces"][0]["rows"][0]["raceways"][1]["circuits"] == [
        "1",
        "3",
        {"spaces": ["2", "4", "6"]},
    ]


def test_a_hole_is_pinned_where_it_was_let_go() -> None:
    after = apply(SAMPLE, {"do": "pin", "entry": "faces[1].rows[1].raceways[3]", "nth": 0, "at": "9-1/2 in"})
    assert centres(after)["A3"] == 9.5


def test_one_of_several_alike_is_parted_before_it_is_pinned() -> None:
    """A4 and A5 are one entry with count: 2; the second alone is moved, and all names stay."""
    change = {"do": "pin", "entry": "faces[1].rows[1].raceways[4]", "nth": 1, "at": "13-1/2 in"}
    before, after = centres(SAMPLE), centres(apply(SAMPLE, change))
    assert list(after) == list(before)
    assert after["A5"] == 13.5
    assert after["A4"] == before["A4"]


def test_a_new_raceway_is_like_the_last() -> None:
    entries = content(apply(SAMPLE, {"do": "add", "path": [*ROW, "raceways"]}))["faces"][0]["rows"][0][
        "raceways"
    ]
    assert entries[-1] == {"type": "EMT", "size": "3/4"}


@pytest.mark.parametrize(("how", "edge"), [("from an edge", "left"), ("spread", ""), ("centred", "")])
def test_another_way_to_stand(how: str, edge: str) -> None:
    after = apply(SAMPLE, {"do": "place", "path": [*ROW, "place"], "value": how})
    place: Any = content(after)["faces"][0]["rows"][0]["place"]
    assert (place.get("from", "") if isinstance(place, dict) else "") == edge


@pytest.mark.parametrize(
    "change",
    [
        {},
        {"do": "set"},
        {"do": "set", "path": ["faces", "x"], "value": "1"},
        {"do": "add", "path": ["faces"]},
        {"do": "pin", "entry": "faces[9]", "at": "1"},
        {"do": "pin", "entry": "faces[1].rows[1].raceways[4]", "nth": "x", "at": "1"},
        {"do": "place", "path": [*ROW, "place"], "value": "anywhere"},
        {"do": "several", "changes": [{"do": "none"}]},
    ],
)
def test_a_change_that_makes_no_sense_is_refused(change: dict[str, Any]) -> None:
    with pytest.raises(CannotEdit):
        apply(SAMPLE, change)


def test_a_hole_in_a_factory_knockout_is_not_pinned_elsewhere() -> None:
    before, *entries = SAMPLE.split("- {type:")
    entries[2] = f" EMT, factory knockout: K1, size:{entries[2].split('size:', 1)[1]}"
    text = "- {type:".join([before, *entries])
    with pytest.raises(CannotEdit, match="does not move"):
        apply(text, {"do": "pin", "entry": "faces[1].rows[1].raceways[3]", "nth": 0, "at": "9-1/2 in"})
