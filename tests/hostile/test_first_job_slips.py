"""What an electrician or an office slips on in a first job file: each message whole, as a person reads it."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path
from typing import Any

import pytest
import yaml
from hostile_texts import SOUND

from templates_engine.errors import JobProblems
from templates_engine.job import read_job, read_job_text

TABLE: dict[str, Any] = yaml.safe_load(
    Path(__file__).with_name("first_job_slips.yaml").read_text(encoding="utf-8")
)


def spoilt(case: dict[str, Any]) -> str:
    lines = TABLE["job"].splitlines()
    assert lines[case["line"] - 1] != case["write"], "nothing would change"
    lines[case["line"] - 1] = case["write"]
    return "\n".join(lines) + "\n"


def said_of(text: str) -> list[str]:
    with pytest.raises(JobProblems) as caught:
        read_job_text(text, "job.yaml")
    return [str(problem) for problem in caught.value.problems]


def said_of_file(path: Path) -> str:
    with pytest.raises(JobProblems) as caught:
        read_job(path)
    (problem,) = caught.value.problems
    return str(problem)


def test_the_job_to_be_spoilt_is_sound() -> None:
    assert [len(face.rows) for face in read_job_text(TABLE["job"], "job.yaml").faces] == [1, 2]


@pytest.mark.parametrize("case", TABLE["refused"], ids=lambda case: f"{case['line']}-{case['write'].strip()}")
def test_a_slip_is_told_so_that_it_can_be_put_right(case: dict[str, Any]) -> None:
    assert said_of(spoilt(case)) == case["says"]


@pytest.mark.parametrize("case", TABLE["read"], ids=lambda case: f"{case['line']}-{case['write'].strip()}")
def test_plain_ways_of_writing_are_taken(case: dict[str, Any]) -> None:
    assert read_job_text(spoilt(case), "job.yaml").faces


# --- files that are no plain text ---------------------------------------------------------------------------

SAVE_AS_TEXT = (
    "Open it with the program that made it and save it as plain text (encoding UTF-8), under a name that "
    "ends in .yaml."
)


def packed(*names: str) -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as archive:
        for name in names:
            archive.writestr(name, "x" * (2_000_000 if name == names[-1] else 500))
    return file.getvalue()


def open_document(kind: str) -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as archive:
        archive.writestr("mimetype", f"application/vnd.oasis.opendocument.{kind}")
    return file.getvalue()


@pytest.mark.parametrize(
    ("data", "what"),
    [
        (packed("[Content_Types].xml", "word/document.xml"), "a word processor's file"),
        (open_document("text"), "a word processor's file"),
        (b"{\\rtf1\\ansi job: Clinic}", "a word processor's file"),
        (
            b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(2_000_000),
            "an older word processor's or spreadsheet file",
        ),
        (packed("[Content_Types].xml", "xl/workbook.xml"), "a spreadsheet"),
        (open_document("spreadsheet"), "a spreadsheet"),
        (packed("job.yaml"), "a packed (zip) file"),
        (b"%PDF-1.7\n", "a PDF"),
        (b"\x89PNG\r\n\x1a\n", "a picture"),
        (b"<!DOCTYPE html><html>", "a web page"),
    ],
)
def test_a_file_of_another_program_is_named(data: bytes, what: str, tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(data)
    assert said_of_file(path) == f"{path}: This is {what}, not a plain text file. {SAVE_AS_TEXT}"


# --- names of jobs ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["clinic", "Clinic", "clinic.txt", "clinic.yml", "clinc.yaml"])
def test_a_name_beside_the_job_is_answered_with_the_jobs_name(name: str, tmp_path: Path) -> None:
    for job in ("clinic.yaml", "annex.yaml"):
        (tmp_path / job).write_text(SOUND, encoding="utf-8")
    path = tmp_path / name
    assert said_of_file(path) == f"{path}: There is no such file. Did you mean {tmp_path / 'clinic.yaml'}?"


def test_a_hidden_ending_is_shown(tmp_path: Path) -> None:
    (tmp_path / "clinic.yaml.txt").write_text(SOUND, encoding="utf-8")
    path = tmp_path / "clinic.yaml"
    assert said_of_file(path) == f"{path}: There is no such file. Did you mean {path}.txt?"


def test_a_name_unlike_any_other_is_to_be_checked(tmp_path: Path) -> None:
    (tmp_path / "shop.yaml").write_text("gap: 1", encoding="utf-8")
    (tmp_path / "shops.pdf").write_text("x", encoding="utf-8")
    assert said_of_file(tmp_path / "shops").endswith(
        "There is no such file. Check the spelling of the name and the folder it is in."
    )


def test_a_folder_is_answered_with_a_job_inside_it(tmp_path: Path) -> None:
    wrong = f"{tmp_path}: This is a folder, not a job file. Name the job file inside it"
    assert said_of_file(tmp_path) == f"{wrong}."
    (tmp_path / "b.yaml").write_text(SOUND, encoding="utf-8")
    (tmp_path / "a.YAML").write_text(SOUND, encoding="utf-8")
    assert said_of_file(tmp_path) == f"{wrong}, such as {tmp_path / 'a.YAML'}."
