"""How `check` sums up, and numbers of things in words."""

from __future__ import annotations

from pathlib import Path

import pytest
from test_commands import run

from templates_engine.checks.model import Finding, Outcome
from templates_engine.cli.messages import counted, verdict

JOB = """
job: one
enclosure: {width: 12, height: 12, depth: 4, back gap: 0}
faces:
  - face: left
    rows: [{strut: 13/16, place: centred, raceways: [{type: EMT, size: 1/2}]}]
"""


def of(outcome: Outcome) -> Finding:
    return Finding("x", outcome, "top", (), None, None, "", "", "", "")


@pytest.mark.parametrize(
    ("outcomes", "words"),
    [
        (
            [Outcome.OK] * 18 + [Outcome.NOT_CHECKED] * 3 + [Outcome.CAUTION],
            "passes: 18 ok, 3 not checked, 1 caution",
        ),
        ([Outcome.CAUTION] * 2 + [Outcome.OK], "passes: 1 ok, 2 cautions"),
        ([Outcome.OK], "passes: 1 ok"),
        ([Outcome.FAIL, Outcome.OK, Outcome.CAUTION], "fails: 1 failed, 1 ok, 1 caution"),
    ],
)
def test_a_verdict_counts_each_kind_of_finding(outcomes: list[Outcome], words: str) -> None:
    assert verdict([of(outcome) for outcome in outcomes]) == words


def test_one_of_a_thing_has_no_s() -> None:
    assert [counted(number, "hole") for number in (0, 1, 2)] == ["0 holes", "1 hole", "2 holes"]


def test_check_begins_with_the_counts_of_what_it_prints(tmp_path: Path) -> None:
    (tmp_path / "job.yaml").write_text(JOB, encoding="utf-8")
    first, *lines, paper = run("check", "job.yaml", "--all", cwd=tmp_path).stdout.splitlines()
    assert paper.startswith("Paper: ")
    said = {word: sum(line.startswith(f"{word}:") for line in lines) for word in ("ok", "not checked")}
    notes = [line for line in lines if line.startswith("note, left")]
    assert any("no `hole` and no `cutter`" in line for line in notes)
    assert lines[: len(notes)] == notes
    assert sum(said.values()) + len(notes) == len(lines)
    assert first == f"job.yaml: 1 hole; passes: {said['ok']} ok, {said['not checked']} not checked."


def test_check_prints_what_is_ok_only_when_asked(tmp_path: Path) -> None:
    (tmp_path / "job.yaml").write_text(JOB, encoding="utf-8")
    whole = run("check", "job.yaml", "--all", cwd=tmp_path).stdout.splitlines()
    short = run("check", "job.yaml", cwd=tmp_path).stdout.splitlines()
    *told, paper = (line for line in whole if not line.startswith("ok:"))
    assert short == [*told, "The checks that are ok are printed by --all.", paper]
    assert len(short) < len(whole)


def test_what_fails_comes_before_cautions_and_what_was_not_checked(tmp_path: Path) -> None:
    second = (
        "    rows: [{strut: 1-5/8, gap: 1/4, place: centred, raceways: [{type: EMT, size: 4, count: 2}]}]\n"
    )
    (tmp_path / "job.yaml").write_text(f"{JOB}  - face: right\n{second}", encoding="utf-8")
    done = run("check", "job.yaml", cwd=tmp_path)
    first, *lines = done.stdout.splitlines()
    assert done.returncode == 1
    assert first.startswith("job.yaml: 3 holes; fails: ")
    kinds = [line.split(":")[0] for line in lines[:-2] if not line.startswith("note, ")]
    order = ["fail", "caution", "not checked"]
    assert kinds == sorted(kinds, key=order.index)
    assert set(kinds) == set(order)
    assert "cures it: " in next(line for line in lines if line.startswith("fail: "))
    as_json = ("check", "job.yaml", "--as", "json")
    assert run(*as_json, cwd=tmp_path).stdout == run(*as_json, "--all", cwd=tmp_path).stdout


@pytest.mark.parametrize("command", [("holes",), ("draw", "-o", "x.pdf"), ("check",)], ids=lambda one: one[0])
def test_what_was_taken_for_keys_left_out_is_told(tmp_path: Path, command: tuple[str, ...]) -> None:
    (tmp_path / "job.yaml").write_text(JOB, encoding="utf-8")
    said = run(command[0], "job.yaml", *command[1:], cwd=tmp_path).stdout
    assert "note, left A1: the standard knockout is cut, its pilot for a knockout punch" in said
    assert "note, left: marked from outside, as no `mark from` is written." in said


def test_fit_names_the_way_a_row_runs(tmp_path: Path) -> None:
    (tmp_path / "job.yaml").write_text(JOB, encoding="utf-8")
    side = run("fit", "job.yaml", cwd=tmp_path).stdout
    assert "to the front  top to bottom  largest gap" in side
    assert "to the front  along the face  takes the row" in side
    (tmp_path / "job.yaml").write_text(JOB.replace("left", "top"), encoding="utf-8")
    assert "to the front  left to right  largest gap" in run("fit", "job.yaml", cwd=tmp_path).stdout
