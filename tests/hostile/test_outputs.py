"""No command writes over a file it did not make, unless that file is named."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from command_line import run as run_here
from faults import FIRST

from templates_engine.atomic import NewFile
from templates_engine.errors import CannotWrite
from templates_engine.outputs import CSV_START, write_outputs
from templates_engine.writers.csv_file import COLUMNS


def run(*words: str | Path, cwd: Path) -> tuple[int, str, str]:
    """(exit code, standard output, standard error)."""
    done = run_here(*words, cwd=cwd)
    return done.returncode, done.stdout, done.stderr


MINE = b"a year's work\n"
ROLL_JOB = """\
job: roll
enclosure: {mark: W-1, kind: wireway, width: 30, height: 10, depth: 6, back gap: 1/4}
faces:
  - face: top
    mark from: outside
    rows: [{strut: 1-5/8, gap: 1-1/8, place: centred, raceways: [{type: EMT, size: 1, count: 2}]}]
print: {paper: 24 in roll}
"""


@pytest.fixture
def job(tmp_path: Path) -> Path:
    (tmp_path / "job.yaml").write_bytes(FIRST.read_bytes())
    return tmp_path / "job.yaml"


@pytest.mark.parametrize("kind", ["pdf", "svg", "dxf", "json", "csv"])
def test_what_it_made_itself_may_be_made_again_and_nothing_else(kind: str, job: Path) -> None:
    words = ("draw", job) if kind == "pdf" else ("export", job, "--as", kind)
    out = job.with_suffix(f".{kind}")
    assert run(*words, cwd=job.parent)[0] == 0
    first = out.read_bytes()
    assert run(*words, cwd=job.parent)[0] == 0
    assert out.read_bytes() == first
    out.write_bytes(MINE)
    code, _, said = run(*words, cwd=job.parent)
    assert code == 4
    assert f"add: --overwrite {out.name}" in said
    assert out.read_bytes() == MINE
    assert run(*words, "--overwrite", out, cwd=job.parent)[0] == 0
    assert out.read_bytes() == first


def test_a_table_is_known_by_its_heading() -> None:
    assert ",".join(COLUMNS).startswith(CSV_START)


@pytest.mark.parametrize("name", ["job", "shop", "printers", "notes"])
def test_a_file_without_a_suffix_is_not_written_over(name: str, job: Path) -> None:
    (job.parent / name).write_bytes(job.read_bytes())
    for words in (("draw", job), ("export", job, "--as", "svg"), ("printer", "sheet")):
        assert run(*words, "-o", name, cwd=job.parent)[0] == 4
    assert (job.parent / name).read_bytes() == job.read_bytes()


def test_a_roll_s_lead_file_is_guarded_too_and_neither_file_is_written(tmp_path: Path) -> None:
    job = tmp_path / "X-cover"
    job.write_text(ROLL_JOB, encoding="utf-8")
    code, _, said = run("draw", job, "-o", "X", cwd=tmp_path)
    assert code == 4
    assert "X-cover" in said
    assert job.read_text(encoding="utf-8") == ROLL_JOB
    assert [one.name for one in tmp_path.iterdir()] == ["X-cover"]


@pytest.mark.parametrize("link", [os.symlink, os.link])
def test_a_link_to_the_job_does_not_lead_to_it(link: object, job: Path) -> None:
    out = job.parent / "out.pdf"
    link(job, out)  # type: ignore[operator]
    assert run("draw", job, "-o", "./out.pdf", cwd=job.parent)[0] == 4
    assert job.read_bytes() == FIRST.read_bytes()


def test_two_outputs_that_are_one_file_are_refused(tmp_path: Path) -> None:
    (tmp_path / "job.yaml").write_text(ROLL_JOB, encoding="utf-8")
    (tmp_path / "X.pdf").touch()
    (tmp_path / "X-cover.pdf").symlink_to("X.pdf")
    code, _, said = run("draw", "job.yaml", "-o", "X.pdf", cwd=tmp_path)
    assert (code, "it is the same file as" in said) == (4, True)
    assert (tmp_path / "X.pdf").read_bytes() == b""


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("out.docx", "means a word processor's document, but a PDF is to be written. Did you mean out.pdf?"),
        ("OUT.DXF", "means a DXF drawing"),
        ("shop.yaml", "means a job or shop file"),
        ("", "a folder has that name"),
        ("/", "a folder has that name"),
        (".", "a folder has that name"),
        ("..", "a folder has that name"),
        ("/dev/null", "not an ordinary file"),
    ],
)
def test_a_name_that_is_a_slip_is_told(name: str, words: str, job: Path) -> None:
    code, _, said = run("draw", job, "-o", name, cwd=job.parent)
    assert (code, words in said) == (4, True), said
    assert [one.name for one in job.parent.iterdir()] == ["job.yaml"]


def test_a_name_to_overwrite_that_is_not_written_is_told(job: Path) -> None:
    code, _, said = run("draw", job, "-o", "a.pdf", "--overwrite", "b.pdf", cwd=job.parent)
    assert (code, "--overwrite names b.pdf, but what is written is a.pdf" in said) == (4, True)


def test_an_empty_face_name_is_told(job: Path) -> None:
    code, _, said = run("draw", job, "--face", "", cwd=job.parent)
    assert code == 2
    assert "the job has no face ''" in said


def test_files_of_one_run_come_all_or_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    one, two, three = (tmp_path / name for name in ("one.json", "two.json", "three.json"))
    two.write_bytes(b"")
    real = os.replace
    moved: list[str] = []

    def refuse_the_third(source: Path, target: Path) -> None:
        moved.append(Path(target).name)
        if Path(target) == three:
            raise PermissionError(13, "refused")
        real(source, target)

    monkeypatch.setattr("templates_engine.atomic.os.replace", refuse_the_third)
    with pytest.raises(CannotWrite, match=r"three\.json"):
        write_outputs("json", [NewFile(path, b"new") for path in (one, two, three)])
    assert moved[:3] == ["one.json", "two.json", "three.json"]
    assert [path.name for path in tmp_path.iterdir()] == ["two.json"]
    assert two.read_bytes() == b""
