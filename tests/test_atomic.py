"""A file comes whole or not at all, and whatever stops it is said in plain words."""

from __future__ import annotations

import errno
import hashlib
import os
import platform
import signal
import stat
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from templates_engine import atomic
from templates_engine.atomic import sweep, write_atomically
from templates_engine.errors import CannotWrite

ROOT = Path(__file__).parents[2]


def names(folder: Path) -> list[str]:
    return sorted(each.name for each in folder.iterdir())


def test_new_file_is_whole_and_alone(tmp_path: Path) -> None:
    write_atomically(tmp_path / "one.pdf", b"new")
    assert (tmp_path / "one.pdf").read_bytes() == b"new"
    assert names(tmp_path) == ["one.pdf"]


def test_new_file_gets_the_usual_permissions_and_an_old_one_keeps_its_own(tmp_path: Path) -> None:
    path = tmp_path / "one.pdf"
    before = os.umask(0o027)
    try:
        write_atomically(path, b"new")
    finally:
        os.umask(before)
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    path.chmod(0o604)
    write_atomically(path, b"newer")
    assert stat.S_IMODE(path.stat().st_mode) == 0o604


def test_a_link_keeps_pointing_at_the_file_it_named(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "real" / "one.pdf").write_bytes(b"old")
    (tmp_path / "link.pdf").symlink_to("real/one.pdf")
    write_atomically(tmp_path / "link.pdf", b"new")
    assert (tmp_path / "link.pdf").is_symlink()
    assert (tmp_path / "real" / "one.pdf").read_bytes() == b"new"


@pytest.mark.parametrize(
    ("stop", "raised"),
    [
        (ValueError("refused"), ValueError),
        (KeyboardInterrupt(), KeyboardInterrupt),
        (MemoryError(), MemoryError),
    ],
)
def test_old_file_stands_and_nothing_is_left_over(
    stop: BaseException, raised: type[BaseException], tmp_path: Path
) -> None:
    (tmp_path / "one.pdf").write_bytes(b"old")

    def check(part: Path) -> None:
        assert part.read_bytes() == b"new"
        assert part.parent == tmp_path
        raise stop

    with pytest.raises(raised):
        write_atomically(tmp_path / "one.pdf", b"new", check)
    assert (tmp_path / "one.pdf").read_bytes() == b"old"
    assert names(tmp_path) == ["one.pdf"]


def _folder_of_that_name(folder: Path) -> Path:
    (folder / "one.pdf").mkdir()
    return folder / "one.pdf"


def _file_as_folder(folder: Path) -> Path:
    (folder / "file").write_bytes(b"")
    return folder / "file" / "one.pdf"


def _loop(folder: Path) -> Path:
    (folder / "loop.pdf").symlink_to("loop.pdf")
    return folder / "loop.pdf"


def _pipe(folder: Path) -> Path:
    os.mkfifo(folder / "pipe")
    return folder / "pipe"


@pytest.mark.parametrize(
    ("name", "words"),
    [
        (_folder_of_that_name, "a folder has that name. Choose another file name"),
        (lambda folder: folder / "gone" / "one.pdf", "its folder does not exist. Make the folder first"),
        (_file_as_folder, "part of its folder's name is a file"),
        (lambda folder: folder / ("x" * 300), "the name is too long. Choose a shorter name"),
        (lambda folder: folder / "a\0b.pdf", "the name holds a character no file name may have"),
        (_loop, "links"),
        (_pipe, "not an ordinary file"),
        (lambda _: Path("/"), "a folder has that name"),
        (lambda _: Path(""), "a folder has that name"),
    ],
)
def test_a_name_that_cannot_be_written_is_explained(
    name: Callable[[Path], Path], words: str, tmp_path: Path
) -> None:
    path = name(tmp_path)
    before = names(tmp_path)
    with pytest.raises(CannotWrite, match=words) as caught:
        write_atomically(path, b"new")
    assert str(caught.value).startswith("could not write ")
    assert names(tmp_path) == before


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "the disk is full. Free some space"),
        (errno.EDQUOT, "quota is used up"),
        (errno.EACCES, "no permission to write there. Choose a folder you may write in"),
        (errno.EROFS, "the disk is read-only. Write to another disk"),
        (errno.EBUSY, "the file is in use. Close it in the other program"),
        (errno.EIO, "input/output error. Try another folder"),
    ],
)
@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_what_the_system_refuses_is_explained(
    number: int, words: str, step: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "one.pdf").write_bytes(b"old")

    def refuse(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(atomic.os, step, refuse)
    with pytest.raises(CannotWrite, match=words):
        write_atomically(tmp_path / "one.pdf", b"new")
    assert (tmp_path / "one.pdf").read_bytes() == b"old"
    assert names(tmp_path) == ["one.pdf"]


def test_a_file_open_in_another_program_is_explained(monkeypatch: pytest.MonkeyPatch) -> None:
    error = PermissionError(errno.EACCES, "refused")
    monkeypatch.setattr(error, "winerror", 32, raising=False)
    message = str(atomic.cannot_write(Path("one.pdf"), error))
    assert message == (
        "could not write one.pdf: the file is in use. Close it in the other program, then run again."
    )


SCRIPT = """
import resource, sys, time
from pathlib import Path
from templates_engine.atomic import sweep, write_atomically
def wait(part):
    print("ready", flush=True)
    time.sleep(60)
if sys.argv[3] == "little room":
    resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))
write_atomically(Path(sys.argv[1]), b"n" * int(sys.argv[2]), wait if sys.argv[3] == "wait" else None)
"""


def run(*arguments: object) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", SCRIPT, *map(str, arguments)],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


@pytest.mark.parametrize("kill", [signal.SIGKILL, signal.SIGINT])
def test_a_run_killed_before_the_move_leaves_the_old_file(kill: signal.Signals, tmp_path: Path) -> None:
    path = tmp_path / "one.pdf"
    path.write_bytes(b"old")
    with run(path, 1000, "wait") as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
        assert len(names(tmp_path)) == 2
        sweep(tmp_path)  # by a run beside it
        assert len(names(tmp_path)) == 2
        process.send_signal(kill)
        process.communicate(timeout=10)
    assert path.read_bytes() == b"old"
    if kill is signal.SIGKILL:
        assert len(names(tmp_path)) == 2
        sweep(tmp_path)  # by the next run
    assert names(tmp_path) == ["one.pdf"]


def test_only_what_surely_nobody_writes_is_swept(tmp_path: Path) -> None:
    gone = subprocess.Popen([sys.executable, "-c", ""])
    gone.wait()
    here, elsewhere = hashlib.sha256(platform.node().encode()).hexdigest()[:8], "0" * 8
    ours = f".a.pdf.{here}-{os.getpid()}-00000000.part"
    kept = [ours, f".b.pdf.{elsewhere}-{gone.pid}-00000000.part", ".c.pdf.part", "d.part", ".e.txt.1-2-3.old"]
    old = f".f.pdf.{elsewhere}-{gone.pid}-00000000.old"
    for name in (*kept, old, f".g.pdf.{here}-{gone.pid}-0a1b2c3d.old"):
        (tmp_path / name).write_bytes(b"half")
    os.utime(tmp_path / old, (0, time.time() - 25 * 3600))
    sweep(tmp_path)
    assert names(tmp_path) == sorted(kept)
    sweep(tmp_path / "nowhere")


def test_a_process_that_ended_without_being_waited_for_writes_nothing_more(tmp_path: Path) -> None:
    here = hashlib.sha256(platform.node().encode()).hexdigest()[:8]
    with subprocess.Popen([sys.executable, "-c", ""], stdout=subprocess.PIPE) as ended:
        assert ended.stdout is not None
        ended.stdout.read()  # until it ends
        for _ in range(100):
            (tmp_path / f".a.pdf.{here}-{ended.pid}-00000000.part").write_bytes(b"half")
            sweep(tmp_path)
            if not names(tmp_path):
                break
            time.sleep(0.05)
        assert names(tmp_path) == []


def test_a_disk_that_takes_only_part_is_explained_and_cleared(tmp_path: Path) -> None:
    path = tmp_path / "one.pdf"
    path.write_bytes(b"old")
    with run(path, 100_000, "little room") as process:
        _, said = process.communicate(timeout=20)
    assert process.returncode == 1
    assert "CannotWrite: could not write" in said
    assert "larger than this disk or account allows" in said
    assert path.read_bytes() == b"old"
    assert names(tmp_path) == ["one.pdf"]


@pytest.mark.skipif(os.geteuid() == 0, reason="the administrator may write anywhere")
def test_a_folder_without_permission_is_explained(tmp_path: Path) -> None:
    folder = tmp_path / "locked"
    folder.mkdir(mode=0o500)
    with pytest.raises(CannotWrite, match="no permission"):
        write_atomically(folder / "one.pdf", b"new")


def test_a_protected_file_is_not_replaced(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "one.pdf"
    path.write_bytes(b"old")
    path.chmod(0o444)
    if os.geteuid() == 0:  # the administrator passes every test of permission
        monkeypatch.setattr(atomic.os, "access", lambda *_: False)
    with pytest.raises(CannotWrite, match="no permission"):
        write_atomically(path, b"new")
    assert path.read_bytes() == b"old"


def test_two_writers_at_once_leave_one_whole_file(tmp_path: Path) -> None:
    path = tmp_path / "one.pdf"
    sizes = (200_000, 300_000)
    processes = [run(path, size, "straight") for size in sizes]
    limit = time.monotonic() + 20
    for process in processes:
        process.communicate(timeout=max(1.0, limit - time.monotonic()))
        assert process.returncode == 0
    assert path.stat().st_size in sizes
    assert names(tmp_path) == ["one.pdf"]
