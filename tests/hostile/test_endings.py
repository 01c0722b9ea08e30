"""Stopped, unheard, or in a place that is gone: words and an exit code, no traceback, nothing left over."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from faults import FIRST, environment, hearing_signals, run, start

COMMANDS = (
    ("holes", FIRST),
    ("check", FIRST),
    ("fit", FIRST),
    ("draw", FIRST),
    ("export", FIRST, "--as", "json"),
    ("tables",),
    ("explain",),
    ("schema",),
    ("printer", "list"),
    ("--help",),
)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")
@pytest.mark.parametrize("words", COMMANDS, ids=lambda words: words[0])
def test_words_that_find_no_room_are_missed(words: tuple[str, ...], tmp_path: Path) -> None:
    with open("/dev/full", "w") as full:
        code, _, said = run(*words, cwd=tmp_path, stdout=full)
    assert (code, "could not write to standard output: no space left" in said) == (4, True), said
    assert "Traceback" not in said


def test_a_closed_standard_output_is_told(tmp_path: Path) -> None:
    def close() -> None:
        hearing_signals()
        os.close(1)

    code, _, said = run("holes", FIRST, cwd=tmp_path, stdout=None, preexec_fn=close)
    assert (code, "could not write to standard output: it is closed" in said) == (4, True), said


def test_a_reader_that_has_seen_enough_ends_the_run_quietly(tmp_path: Path) -> None:
    reader, writer = os.pipe()
    os.close(reader)
    code, _, said = run("tables", "raceways", cwd=tmp_path, stdout=writer)
    os.close(writer)
    assert (code, said) == (141, "")


def test_a_full_error_stream_keeps_the_exit_code(tmp_path: Path) -> None:
    with open("/dev/full", "w") as full:
        assert run("draw", "nothing.yaml", cwd=tmp_path, stderr=full)[0] == 2


def test_a_working_folder_that_is_gone_is_told(tmp_path: Path) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()
    script = f"rmdir {gone}; exec {sys.executable} -m templates_engine draw {FIRST}"
    done = subprocess.run(
        ["sh", "-c", script], cwd=gone, env=environment(tmp_path), capture_output=True, text=True, check=False
    )
    assert (done.returncode, "the current folder is gone" in done.stderr) == (4, True), done.stderr


@pytest.mark.parametrize(("number", "code"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
def test_a_run_stopped_while_it_loads_ends_without_a_traceback(
    number: signal.Signals, code: int, tmp_path: Path
) -> None:
    (tmp_path / "click.py").write_text(
        f"import os, time\nos.kill(os.getpid(), {int(number)})\ntime.sleep(30)\n", encoding="utf-8"
    )
    given = environment(tmp_path)
    given["PYTHONPATH"] = os.pathsep.join((str(tmp_path), given["PYTHONPATH"]))
    ended, _, said = run("draw", FIRST, cwd=tmp_path, env=given)
    assert (ended, said) == (code, "Stopped.\n")


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
def test_a_run_stopped_while_it_writes_leaves_nothing_behind(number: signal.Signals, tmp_path: Path) -> None:
    (tmp_path / "sitecustomize.py").write_text(
        "import os, time\nreal = os.fsync\n"
        "def slow(handle):\n    print('ready', flush=True)\n    time.sleep(30)\n    real(handle)\n"
        "os.fsync = slow\n",
        encoding="utf-8",
    )
    out = tmp_path / "out"
    out.mkdir()
    given = environment(tmp_path)
    given["PYTHONPATH"] = os.pathsep.join((str(tmp_path), given["PYTHONPATH"]))
    with start("draw", FIRST, "-o", out / "x.pdf", cwd=tmp_path, env=given) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
        assert len(list(out.iterdir())) == 1
        process.send_signal(number)
        _, said = process.communicate(timeout=30)
    assert (process.returncode, said) == (128 + number, "Stopped.\n")
    assert list(out.iterdir()) == []


def test_an_ignored_signal_stays_ignored(tmp_path: Path) -> None:
    def ignore() -> None:
        signal.signal(signal.SIGHUP, signal.SIG_IGN)

    (tmp_path / "sitecustomize.py").write_text(
        "import os, signal\nreal = os.fsync\n"
        "def hung_up(handle):\n    os.kill(os.getpid(), signal.SIGHUP)\n    real(handle)\n"
        "os.fsync = hung_up\n",
        encoding="utf-8",
    )
    given = environment(tmp_path)
    given["PYTHONPATH"] = os.pathsep.join((str(tmp_path), given["PYTHONPATH"]))
    assert run("draw", FIRST, cwd=tmp_path, env=given, preexec_fn=ignore)[0] == 0


def test_two_rows_at_one_place_are_drawn_as_a_draft(tmp_path: Path) -> None:
    row = "{strut: 1-5/8, gap: 1-1/8, place: centred, raceways: [{type: EMT, size: 1, count: 4}]}"
    (tmp_path / "job.yaml").write_text(
        "job: two\nenclosure: {mark: W, kind: wireway, width: 20, height: 9, depth: 8, back gap: 1/4}\n"
        f"faces: [{{face: top, mark from: outside, rows: [{row}, {row}]}}]\n",
        encoding="utf-8",
    )
    code, _, said = run("draw", "job.yaml", "--draft", cwd=tmp_path)
    assert (code, "DRAFT" in said) == (0, True), said


def test_a_hole_far_off_the_face_is_drawn_as_a_draft_in_a_moment(tmp_path: Path) -> None:
    text = FIRST.read_text(encoding="utf-8").replace("strut: 1-5/8", "strut: [10, 10, 10, 10]")
    (tmp_path / "job.yaml").write_text(text, encoding="utf-8")
    before = time.process_time(), os.times().children_user
    code, _, said = run("draw", "job.yaml", "--draft", cwd=tmp_path)
    assert code == 0, said
    assert os.times().children_user - before[1] < 20  # it took 59; about 1 now


@pytest.mark.parametrize("encoding", ["C", "POSIX"])
def test_names_outside_the_terminal_s_letters_do_no_harm(encoding: str, tmp_path: Path) -> None:
    job = os.path.join(os.fsencode(tmp_path), b"b\xff.yaml")
    Path(os.fsdecode(job)).write_bytes(FIRST.read_bytes())
    given = environment(tmp_path, LC_ALL=encoding, PYTHONUTF8="0", PYTHONCOERCECLOCALE="0")
    code, _, said = run("draw", os.fsdecode(b"b\xff.yaml"), cwd=tmp_path, env=given)
    assert (code, said) == (0, "")
