"""Lengths at the limits of what cans and strut come in, and slips of the unit in metric files."""

from __future__ import annotations

import pytest

from templates_engine.errors import JobProblems
from templates_engine.job import read_job_text

JOB = """\
job: x
units: {units}
enclosure: {{width: {width}, height: 30 in, depth: {depth}, back gap: {back_gap}}}
faces:
  - face: left
    rows:
      - {{strut: {strut}, place: centred, raceways: [{{type: EMT, size: 1}}]}}
  - face: right
    rows:
      - {{strut: {second}, place: centred, snap: {snap}, raceways: [{{type: EMT, size: 1}}]}}
"""


def problems(**values: str) -> list[str]:
    sound = {
        "units": "in", "width": "20 in", "depth": "6 in", "back_gap": "0", "strut": "1-5/8 in",
        "second": "13/16 in", "snap": "1/16 in",
    }  # fmt: skip
    try:
        read_job_text(JOB.format(**sound | values), "job.yaml")
    except JobProblems as error:
        return [f"{one.key}: {one.remedy}" for one in error.problems]
    return []


@pytest.mark.parametrize(
    ("key", "fits", "too_far"),
    [
        ("width", "144", "144-1/16"),
        ("width", "1", "15/16"),
        ("depth", "48", "48-1/16"),
        ("depth", "1", "15/16"),
        ("back_gap", "12", "12-1/16"),
        ("strut", "10", "10-1/16"),
        ("second", "3/8", "23/64"),
        ("snap", "1", "1-1/16"),
    ],
)
def test_a_limit_itself_passes_and_anything_past_it_does_not(key: str, fits: str, too_far: str) -> None:
    assert problems(**{key: fits}) == []
    assert len(problems(**{key: too_far})) == 1


def test_inches_in_a_metric_file_are_told_from_millimetres() -> None:
    (told,) = problems(units="mm", second="1.625")
    assert told == "faces[2].rows[1].strut: If inches are meant, write `1.625 in`, or take `units: mm` out."
    (told,) = problems(units="mm", width="20")
    assert "write `20 in`" in told
    assert problems(units="mm", width="508", depth="150", strut="41", second="21", snap="25") == []


def test_a_file_without_its_units_is_told_so_at_every_length() -> None:
    told = problems(width="500", depth="200", strut="41", second="21")
    assert [text.split(":")[0] for text in told] == [
        "enclosure.width", "enclosure.depth", "faces[1].rows[1].strut", "faces[2].rows[1].strut",
    ]  # fmt: skip
    assert all("`units: mm` for the whole file" in text for text in told)
