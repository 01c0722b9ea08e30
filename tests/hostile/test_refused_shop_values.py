"""Every mistake of `refused_shop_values.yaml` is one problem of the shop file, on its line; exit code 2."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
import yaml
from hostile_texts import SOUND
from hypothesis import given
from hypothesis import strategies as st
from random_runs import examples

from templates_engine.errors import JobProblems
from templates_engine.job.shop.read import read_shop_text

Case = tuple[str, int | None, str, str, str]
TABLE = Path(__file__).with_name("refused_shop_values.yaml").read_text(encoding="utf-8")
CASES: list[Case] = [tuple(row) for group in yaml.safe_load(TABLE).values() for row in group]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case[0][:50])
def test_one_mistake_is_one_problem_on_its_line(case: Case) -> None:
    text, line, key, message, remedy = case
    with pytest.raises(JobProblems) as caught:
        read_shop_text(text, "shop.yaml")
    (problem,) = caught.value.problems
    assert problem.message == (message or problem.message)
    assert (problem.file, problem.line, problem.key) == ("shop.yaml", line, key)
    assert remedy in problem.remedy
    assert problem.remedy.endswith((".", "?"))


def test_all_mistakes_are_told_in_file_order() -> None:
    text = "fittings:\n- {kind: hub, size: 9, across: 1}\n- {kind: nut, size: 2, across: 3}\ngap: x\n"
    with pytest.raises(JobProblems) as caught:
        read_shop_text(text, "shop.yaml")
    assert [problem.line for problem in caught.value.problems] == [2, 3, 4]


def _shop_file(folder: Path) -> None:
    (folder / "shop.yaml").write_text("gap: much", encoding="utf-8")


def _folder(folder: Path) -> None:
    (folder / "shop.yaml").mkdir()


def _utf_16(folder: Path) -> None:
    (folder / "shop.yaml").write_text("gap: 1", encoding="utf-16")


def _broken_link(folder: Path) -> None:
    (folder / "shop.yaml").symlink_to(folder / "gone.yaml")


@pytest.mark.parametrize(
    ("damage", "words"),
    [
        (_shop_file, "shop.yaml:1: gap: 'much' is no gap"),
        (_folder, "shop.yaml: This is a folder, not a shop file."),
        (_utf_16, "shop.yaml:1: The file is saved as UTF-16"),
        (_broken_link, "shop.yaml: There is no such file."),
    ],
)
def test_a_damaged_shop_file_ends_the_command_with_two(tmp_path: Path, damage, words: str) -> None:
    (tmp_path / "job.yaml").write_text(SOUND, encoding="utf-8")
    damage(tmp_path)
    command = [sys.executable, "-m", "templates_engine", "check", str(tmp_path / "job.yaml")]
    done = subprocess.run(command, capture_output=True, text=True, env=os.environ.copy(), check=False)
    assert done.returncode == 2
    assert words in done.stderr
    assert "Traceback" not in done.stderr


WORDS = st.sampled_from(
    ["fittings", "punches", "gap", "paper", "margins", "printer", "units", "kind", "size", "across", "lug",
     "hole", "pilot", "die", "type", "hub", "2", "3-1/16", "mm", "EMT", "metric", "", "-1", "fittings"]
)  # fmt: skip
VALUES = st.recursive(
    WORDS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(WORDS, inner, max_size=4),
    max_leaves=12,
)


@examples(200)
@given(st.dictionaries(WORDS, VALUES, max_size=5))
def test_any_keys_and_values_are_read_or_refused_in_words(content: dict[str, object]) -> None:
    try:
        read_shop_text(yaml.safe_dump(content, allow_unicode=True), "shop.yaml")
    except JobProblems as error:
        for problem in error.problems:
            assert problem.message.endswith(".")
            assert problem.remedy
