"""Files that are no job at all: each is refused with its line, and none takes the machine with it."""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path

import pytest
import yaml
from hostile_texts import SOUND, problems_of, spoilt

from templates_engine.errors import JobProblems, Problem
from templates_engine.job import read_job, read_job_text
from templates_engine.job.text import yaml_tree


def problem_of_file(path: Path | str) -> Problem:
    """The only problem of a file."""
    with pytest.raises(JobProblems) as caught:
        read_job(path)
    (problem,) = caught.value.problems
    return problem


def saved(folder: Path, data: bytes) -> Path:
    path = folder / "job.yaml"
    path.write_bytes(data)
    return path


# --- on disk ------------------------------------------------------------------------------------------------


def test_missing_file(tmp_path: Path) -> None:
    problem = problem_of_file(tmp_path / "none.yaml")
    assert problem.message == "There is no such file."
    assert problem.file == str(tmp_path / "none.yaml")
    assert problem.line is None


def test_folder(tmp_path: Path) -> None:
    assert problem_of_file(tmp_path).message == "This is a folder, not a job file."


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    assert problem_of_file(tmp_path / "pipe").message == "This is not an ordinary file."


def test_no_permission(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = saved(tmp_path, SOUND.encode())

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    assert problem_of_file(path).message == "You have no permission to read this file."


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read everything")
def test_no_permission_for_real(tmp_path: Path) -> None:
    path = saved(tmp_path, SOUND.encode())
    path.chmod(0)
    assert problem_of_file(path).message == "You have no permission to read this file."


@pytest.mark.parametrize("name", ["a\0b", "x" * 5000], ids=["nul", "too long a name"])
def test_impossible_names(name: str) -> None:
    problem = problem_of_file(name)
    assert problem.message.startswith(("The file cannot be read: ", "There is no such file."))


@pytest.mark.skipif(sys.platform == "win32", reason="names are text there")
def test_name_that_is_no_text_can_still_be_printed() -> None:
    problem = problem_of_file(os.fsdecode(b"no-\xff.yaml"))
    assert problem.file.encode("utf-8") == b"no-\\udcff.yaml"


def test_larger_than_a_megabyte(tmp_path: Path) -> None:
    message = "The file is larger than 1 MB."
    assert problem_of_file(saved(tmp_path, b"#" * 1_000_001)).message == message
    assert problem_of_file(saved(tmp_path, b"#" * 1_000_000)).message == "The file is empty."
    assert problems_of("#" * 1_000_001)[0].message == message
    assert problems_of("é" * 500_001)[0].message == message


# --- encodings ----------------------------------------------------------------------------------------------


def test_utf8_with_byte_order_mark_is_read(tmp_path: Path) -> None:
    assert read_job(saved(tmp_path, SOUND.encode("utf-8-sig"))).title == "Pump station"


def test_windows_line_ends_are_read(tmp_path: Path) -> None:
    assert read_job(saved(tmp_path, SOUND.replace("\n", "\r\n").encode())).title == "Pump station"
    broken = spoilt(6, "  depth: 0").replace("\n", "\r\n")
    assert problem_of_file(saved(tmp_path, broken.encode())).line == 6


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32", "utf-32-be"])
def test_utf16_and_utf32_are_named(tmp_path: Path, encoding: str) -> None:
    problem = problem_of_file(saved(tmp_path, SOUND.encode(encoding)))
    assert problem.message == "The file is saved as UTF-16 or UTF-32, not as UTF-8."
    assert "UTF-8" in problem.remedy


def test_other_encodings_are_refused_on_their_line(tmp_path: Path) -> None:
    problem = problem_of_file(saved(tmp_path, spoilt(4, "  width: 20 in # ½").encode("latin-1")))
    assert (problem.line, problem.message) == (4, "A character here is not UTF-8 (byte 0xbd).")


# --- no job in it -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("text", ["", "\n\n", "# only a note\n", "---\n", "---\n...\n", "\ufeff"])
def test_nothing_in_it(text: str) -> None:
    (problem,) = problems_of(text)
    assert problem.message == "The file is empty."
    assert "`job:`" in problem.remedy


@pytest.mark.parametrize(
    ("text", "line", "what"),
    [("\n- a\n- b\n", 2, "a list"), ("hello\n", 1, "plain text"), ("job:x", 1, "plain text")],
)
def test_no_keys_at_the_top(text: str, line: int, what: str) -> None:
    (problem,) = problems_of(text)
    assert (problem.line, problem.message) == (line, f"The file holds {what}, not keys with values.")


# --- not the YAML of a job ----------------------------------------------------------------------------------

TOO_DEEP = "Values are nested more than 20 deep."
TOO_MANY = "The file holds more than 20000 values."
BRACKET = "The bracket opened here is not closed, or a comma is missing in it."
QUOTE = "A quote is opened here and never closed."
COLON = "A colon stands where none can."
BELOW_A_VALUE = "The line is indented below a line that has a value already."
OTHER = "The line cannot be read as YAML."

NOT_A_JOB = [
    ("second document", SOUND + "---\njob: b\n", 23, "A second document begins here (`---`).", "its own"),
    (
        "python tag",
        spoilt(1, "job: !!python/object/apply:os.getcwd []"),
        1,
        "The tag `!!python/object/apply:os.getcwd` is not read.",
        "Take it out",
    ),
    ("own tag", spoilt(1, "job: !mine x"), 1, "The tag `!mine` is not read.", "quotes"),
    ("text tag", spoilt(1, "job: !!str x"), 1, "The tag `!!str` is not read.", "quotes"),
    ("tag on a list", spoilt(1, "job: !!set {a}"), 1, "The tag `!!set` is not read.", "quotes"),
    (
        "alias of nothing",
        spoilt(1, "job: *name"),
        1,
        "`*name` repeats something that no `&name` above it names.",
        "quotes",
    ),
    (
        "alias of itself",
        spoilt(1, "job: &name [*name]"),
        1,
        "`*name` repeats something that no `&name` above it names.",
        "quotes",
    ),
    ("tab", spoilt(4, "\twidth: 20 in"), 4, "The line is indented with a tab.", "spaces"),
    ("tab after spaces", spoilt(4, "  \twidth: 20 in"), 4, "The line is indented with a tab.", "spaces"),
    ("open double quote", spoilt(4, '  width: "20 in'), 4, QUOTE, "Close it"),
    ("open single quote", spoilt(4, "  width: '20 in"), 4, QUOTE, "Close it"),
    ("open bracket", spoilt(4, "  width: [20 in"), 4, BRACKET, "comma"),
    ("open brace", spoilt(15, "          - {id: A1, type: EMT, size: 1"), 15, BRACKET, "comma"),
    ("two colons", spoilt(1, "job: Panel: LP1"), 1, COLON, "quotes"),
    ("indented too far", spoilt(5, "    height: 36 in"), 5, BELOW_A_VALUE, "like the line above"),
    ("keys below a value", spoilt(2, "enclosure: LP-1"), 3, BELOW_A_VALUE, "take the value there out"),
    ("list below a value", spoilt(8, "faces: top"), 9, BELOW_A_VALUE, "take the value there out"),
    ("keys below an entry", spoilt(9, "  - top"), 10, BELOW_A_VALUE, "take the value there out"),
    (
        "keys without braces",
        spoilt(15, "          - type: EMT, size: 1"),
        15,
        "Several keys stand on one line.",
        "{type: EMT, size: 2}",
    ),
    (
        "no space after a dash",
        spoilt(15, "          -{type: EMT, size: 1}"),
        15,
        "No space stands after the dash.",
        "a dash, a space",
    ),
    (
        "no dash",
        spoilt(15, "          {type: EMT, size: 1}"),
        15,
        "No dash stands before this entry.",
        "a dash and a space",
    ),
    (
        "comma after an entry",
        spoilt(15, "          - {type: EMT, size: 1},"),
        15,
        "A comma stands after the entry.",
        "Take it out",
    ),
    (
        "dash after a key",
        spoilt(4, "  width: - 20"),
        4,
        "A dash stands where no list can begin.",
        "below the key",
    ),
    ("at sign", spoilt(1, "job: @home"), 1, "A value cannot begin with this character.", "quotes"),
    ("per cent", spoilt(1, "job: %x"), 1, "A value cannot begin with this character.", "quotes"),
    (
        "escape",
        spoilt(1, 'job: "C:\\qobs"'),
        1,
        "A backslash in double quotes begins an escape that does not exist.",
        "single",
    ),
    ("key without colon", spoilt(8, "units"), 8, "A key on this line has no colon after it.", "a colon"),
    ("key by an equals sign", spoilt(6, "  depth = 5"), 6, "A key on this line has no colon after it.", ""),
    ("no space after a colon", spoilt(6, "  depth:5"), 6, "No space stands after the colon.", "a space"),
    ("after a quote", spoilt(4, '  width: "20" in'), 4, OTHER, "Check the indentation"),
    ("closing bracket", spoilt(4, "  width: 20]\n  x: ]"), 5, OTHER, "Check the indentation"),
    ("list among keys", spoilt(2, "- units: in"), 2, OTHER, "Check the indentation"),
    ("other YAML", "%YAML 9.0\n---\n" + SOUND, 1, OTHER, ""),
    (
        "control character",
        spoilt(2, "units: i\x08n"),
        2,
        "An unprintable character (U+0008) stands here.",
        "again",
    ),
    ("NUL", spoilt(2, "units: in\0"), 2, "An unprintable character (U+0000) stands here.", "again"),
    (
        "lone surrogate",
        spoilt(2, "units: \ud800"),
        2,
        "An unprintable character (U+D800) stands here.",
        "again",
    ),
    (
        "line separator",
        spoilt(2, "units: in\u2028"),
        2,
        "An unprintable character (U+2028) stands here.",
        "again",
    ),
    ("deep brackets", "job: " + "[" * 100_000, 1, TOO_DEEP, "never closed"),
    ("deep braces", "job: " + "{a: " * 100_000, 1, TOO_DEEP, "never closed"),
    ("deep dashes", "- " * 400_000, 1, TOO_DEEP, "never closed"),
    ("many values", "job: [" + "a, " * 60_000 + "]", 1, TOO_MANY, "job file of its own"),
    ("many keys", "\n".join(f"k{n}: v" for n in range(30_000)), 20_000, TOO_MANY, "job file of its own"),
]


@pytest.fixture(params=["CSafeLoader", "SafeLoader"])
def _either_parser(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    if not hasattr(yaml, request.param):
        pytest.skip("PyYAML was built without its parser in C")
    monkeypatch.setattr(yaml_tree, "_LOADER", getattr(yaml, request.param))


@pytest.mark.usefixtures("_either_parser")
@pytest.mark.parametrize(
    ("text", "line", "message", "remedy"),
    [case[1:] for case in NOT_A_JOB],
    ids=[case[0] for case in NOT_A_JOB],
)
def test_what_is_no_job_stops_the_reading_on_its_line(
    text: str, line: int, message: str | None, remedy: str
) -> None:
    problem = problems_of(text)[0]
    assert problem.message == (message or problem.message)
    assert problem.line == line
    assert remedy in problem.remedy


@pytest.mark.usefixtures("_either_parser")
def test_a_small_file_cannot_grow_without_end() -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 12)]
    began = time.perf_counter()
    (problem,) = problems_of("\n".join(lines))
    assert problem.message == TOO_MANY
    assert time.perf_counter() - began < 5


@pytest.mark.usefixtures("_either_parser")
def test_aliases_within_reason_are_read_where_they_stand() -> None:
    text = spoilt(15, "          - &one {type: EMT, size: 1}\n          - *one").replace("A2", "A3")
    raceways = read_job_text(text, "job.yaml").faces[0].rows[0].raceways
    assert [raceway.id for raceway in raceways] == ["A1", "A2", "A3"]
    bad = spoilt(15, "          - &one {type: EMT, size: 9}\n          - *one").replace("A2", "A3")
    assert [problem.key[-16:] for problem in problems_of(bad)] == ["raceways[1].size", "raceways[2].size"]


@pytest.mark.parametrize("space", ["\u00a0", "\u2009", "\u202f"], ids=["no-break", "thin", "narrow no-break"])
def test_spaces_that_look_plain_are_read_as_plain(space: str) -> None:
    text = spoilt(6, f"  depth:{space}5{space}3/4 in")
    assert read_job_text(text, "job.yaml").enclosure.depth_in == 5.75
    text = spoilt(3, f"{space} back{space}gap: 1/4")
    assert read_job_text(text, "job.yaml").enclosure.back_gap_in == 0.25


@pytest.mark.parametrize(
    ("units", "tape", "read"),
    [("inches", "16", ("in", 16)), ("Millimeters", "1/32", ("mm", 32)), ("inch", '1/64"', ("in", 64))],
)
def test_usual_words_for_units_and_tapes(units: str, tape: str, read: tuple[str, int]) -> None:
    job = read_job_text(spoilt(1, f"job: x\nunits: {units}\ntape: {tape}"), "job.yaml")
    assert (job.unit, job.denominator) == read


def test_a_row_longer_than_any_face_is_refused_at_once() -> None:
    longest = "\n".join(f"          - {{type: EMT, size: 1/2, count: {count}}}" for count in (99, 99, 99, 3))
    text = spoilt(15, longest).replace("          - {id: A2, type: EMT, size: 2}\n", "")
    assert len(read_job_text(text, "job.yaml").faces[0].rows[0].raceways) == 300
    (problem,) = problems_of(text.replace("count: 3}", "count: 4}"))
    assert (problem.line, problem.message) == (14, "A row has at most 300 raceways.")


def test_usual_words_for_systems_and_cutters() -> None:
    job = read_job_text(spoilt(7, "  system: 120/208"), "job.yaml")
    assert job.enclosure.system == "208Y/120"
    assert read_job_text(spoilt(7, "  system: 277/480V"), "job.yaml").enclosure.system == "480Y/277"
    text = spoilt(15, "          - {id: A1, type: EMT conduit, size: 1, cutter: holesaw}")
    (first, _) = read_job_text(text, "job.yaml").faces[0].rows[0].raceways
    assert (first.type, first.cutter.value) == ("EMT", "hole saw")
