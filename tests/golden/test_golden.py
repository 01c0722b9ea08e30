"""All that a person gets from every sample job, and from every face and side, is as a person last read it.

When a difference is meant, write the texts anew with ``python -m tests.golden.rewrite`` and read the diff.
"""

from __future__ import annotations

import difflib
from itertools import islice
from pathlib import Path

import pytest
from golden_text import HERE, golden_file, jobs, text_of

JOBS = jobs()


@pytest.mark.parametrize("name", JOBS)
def test_everything_printed_is_as_it_was_read(name: str, tmp_path: Path) -> None:
    wanted = golden_file(name).read_text(encoding="utf-8")
    found = text_of(name, JOBS[name], tmp_path)
    diff = difflib.unified_diff(wanted.splitlines(), found.splitlines(), "as read", "now", lineterm="", n=1)
    told = "\n".join(islice(diff, 60))
    assert found == wanted, (
        f"{told}\n\nIf this is meant: python -m tests.golden.rewrite {name}, and read the diff."
    )


def test_every_golden_text_is_of_a_job_there_is() -> None:
    assert {path.stem for path in HERE.glob("*.txt")} == set(JOBS)
