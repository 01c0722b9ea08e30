"""The commands `new` and `page` as they are typed: what is written, what is left alone, what is said."""

from __future__ import annotations

import re
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest

from templates_engine.guided_start.samples import sample_text

MINE = "# written by hand\njob: mine\n"


def command(*words: str, at: Path, typed: str = "") -> subprocess.CompletedProcess[str]:
    line = [sys.executable, "-m", "templates_engine", *words]
    return subprocess.run(line, input=typed, capture_output=True, text=True, cwd=at, timeout=120, check=False)


def test_the_help_names_both(tmp_path: Path) -> None:
    said = command("--help", at=tmp_path).stdout
    assert re.search(r"^\s+new\s", said, re.MULTILINE)
    assert re.search(r"^\s+page\s", said, re.MULTILINE)
    for name in ("new", "page"):
        assert "Exit codes" in command(name, "--help", at=tmp_path).stdout


def test_a_sample_is_copied_word_for_word_under_the_name_given(tmp_path: Path) -> None:
    done = command("new", "first", "--like", "wireway", at=tmp_path)
    assert done.returncode == 0
    assert (tmp_path / "first.yaml").read_text() == sample_text("wireway")


@pytest.mark.parametrize("way", [("--like", "wireway"), ()])
def test_a_job_that_is_there_is_never_lost_and_nothing_is_asked(tmp_path: Path, way: tuple[str, ...]) -> None:
    (tmp_path / "job.yaml").write_text(MINE)
    done = command("new", "job.yaml", *way, at=tmp_path, typed="x\n")
    assert done.returncode == 4
    assert "--overwrite job.yaml" in done.stderr
    assert done.stdout == ""
    assert (tmp_path / "job.yaml").read_text() == MINE


def test_a_job_named_to_be_lost_is_written_over(tmp_path: Path) -> None:
    (tmp_path / "job.yml").write_text(MINE)
    done = command("new", "job.yml", "--like", "wireway", "--overwrite", "job.yml", at=tmp_path)
    assert done.returncode == 0
    assert (tmp_path / "job.yml").read_text() == sample_text("wireway")


def test_a_name_that_means_another_format_is_refused(tmp_path: Path) -> None:
    done = command("new", "job.pdf", "--like", "wireway", at=tmp_path)
    assert done.returncode == 4
    assert "Did you mean job.yaml?" in done.stderr
    assert not list(tmp_path.iterdir())


def test_answers_are_kept_when_the_typing_ends_and_go_on_from_there(tmp_path: Path) -> None:
    (tmp_path / "job.answers").write_text("somebody else's\n")
    done = command("new", at=tmp_path, typed="Mill\nW-1\n")
    assert done.returncode == 130
    kept = tmp_path / "job-2.answers"
    assert f"--answers {kept.name}" in done.stderr
    assert "job: Mill\nmark: W-1\n" in kept.read_text()
    assert (tmp_path / "job.answers").read_text() == "somebody else's\n"
    again = command("new", "--answers", kept.name, at=tmp_path, typed="wireway\n")
    assert again.returncode == 130
    assert "kind: wireway\n" in kept.read_text()
    assert not (tmp_path / "job.yaml").exists()


def test_a_folder_or_a_port_that_is_none_is_told(tmp_path: Path) -> None:
    for words in (("no such folder",), ("--port", "70000")):
        done = command("page", *words, "--no-browser", at=tmp_path)
        assert done.returncode == 2
        assert done.stderr.count("\n") == 1


@pytest.fixture
def address(tmp_path: Path) -> Iterator[str]:
    line = [sys.executable, "-m", "templates_engine", "page", str(tmp_path), "--no-browser"]
    process = subprocess.Popen(line, stdout=subprocess.PIPE, text=True, cwd=tmp_path)
    assert process.stdout is not None
    found = re.search(r"http://127\.0\.0\.1:\d+/", process.stdout.readline())
    assert found is not None
    yield found.group()
    process.terminate()
    process.communicate(timeout=30)


def test_the_page_says_where_it_is_and_answers_there(address: str, tmp_path: Path) -> None:
    with urllib.request.urlopen(address, timeout=30) as answer:
        assert f"Jobs in {tmp_path.name}" in answer.read().decode()
