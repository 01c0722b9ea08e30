"""A small sound job to be spoilt, and what its reading says; shared by the tests of bad input."""

from __future__ import annotations

import pytest

from templates_engine.errors import JobProblems, Problem
from templates_engine.job import read_job_text

SOUND = """\
job: Pump station
enclosure:
  back gap: 0
  width: 20 in
  height: 36 in
  depth: 5-3/4 in
  spaces: 42
faces:
  - face: top
    rows:
      - strut: 1-5/8 in
        gap: 1 in
        place: centred
        raceways:
          - {id: A1, type: EMT, size: 1}
          - {id: A2, type: EMT, size: 2}
  - face: left
    rows:
      - strut: 13/16 in
        place: centred
        raceways:
          - {id: L1, type: RMC, size: 1}
"""


def spoilt(line: int, text: str) -> str:
    """The sound job with one line (counted from 1) replaced by others."""
    lines = SOUND.splitlines()
    assert lines[line - 1] != text, "nothing would change"
    return "\n".join([*lines[: line - 1], text, *lines[line:]]) + "\n"


def problems_of(text: str) -> tuple[Problem, ...]:
    """Every problem the text has."""
    with pytest.raises(JobProblems) as caught:
        read_job_text(text, "job.yaml")
    return caught.value.problems
