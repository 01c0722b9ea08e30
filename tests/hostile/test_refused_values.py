"""Every mistake of `refused_values.yaml`, made alone in a sound job: one problem, on its line."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from hostile_texts import SOUND, problems_of, spoilt

from templates_engine.job import read_job_text

Case = tuple[int, str, int, str, str, str]
TABLE = Path(__file__).with_name("refused_values.yaml").read_text(encoding="utf-8")
CASES: list[Case] = [tuple(row) for group in yaml.safe_load(TABLE).values() for row in group]


def test_the_job_to_be_spoilt_is_sound() -> None:
    assert len(read_job_text(SOUND, "job.yaml").faces) == 2


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case[3] or 'file'}-{case[1].strip()[:40]}")
def test_one_mistake_is_one_problem_on_its_line(case: Case) -> None:
    line, text, at, key, message, remedy = case
    problems = problems_of(spoilt(line, text))
    assert [problem.message for problem in problems] == [message or problems[0].message]
    assert (problems[0].file, problems[0].line, problems[0].key) == ("job.yaml", at, key)
    assert remedy in problems[0].remedy
    assert problems[0].remedy.endswith((".", "?"))
