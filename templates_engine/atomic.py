"""Puts bytes under file names all at once or not at all; what they mean is for others."""

from __future__ import annotations

import contextlib
import errno
import hashlib
import os
import platform
import re
import secrets
import shutil
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NamedTuple

from templates_engine.errors import CannotWrite, Problem

_REMEDIES = {
    errno.ENOSPC: ("the disk is full", "Free some space, or write to another disk."),
    errno.EDQUOT: ("the disk quota is used up", "Free some space, or write to another disk."),
    errno.EFBIG: ("the file is larger than this disk or account allows", "Write to another disk."),
    errno.EACCES: (
        "there is no permission to write there",
        "Choose a folder you may write in, or ask its owner for permission.",
    ),
    errno.EPERM: (
        "there is no permission to write there",
        "Choose a folder you may write in, or ask its owner for permission.",
    ),
    errno.EROFS: ("the disk is read-only", "Write to another disk."),
    errno.ENOENT: ("its folder does not exist", "Make the folder first, or correct the name."),
    errno.ENOTDIR: ("part of its folder's name is a file", "Correct the name of the folder."),
    errno.EISDIR: ("a folder has that name", "Choose another file name, or write into the folder."),
    errno.ENODEV: ("it is not an ordinary file", "Choose another file name."),
    errno.ELOOP: ("its links lead round in a circle", "Choose another file name."),
    errno.ENAMETOOLONG: ("the name is too long", "Choose a shorter name."),
    errno.EBUSY: ("the file is in use", "Close it in the other program, then run again."),
    errno.ETXTBSY: ("the file is in use", "Close it in the other program, then run again."),
}
# Access denied, sharing violation, lock violation: most often a viewer holds the file open.
_IN_USE_ON_WINDOWS = {5, 32, 33}
_LONGEST_NAME = 255  # bytes, on every common file system
_LEFT_OVER = re.compile(r"\..+\.([0-9a-f]{8})-(\d+)-[0-9a-f]{8}\.(part|old)")
_SURELY_LEFT_S = 24 * 3600
"""No file is as long in the making."""


class NewFile(NamedTuple):
    """A file to be written: ``check`` is given the finished file before it takes its name, and raises to
    refuse it.
    """

    path: Path
    data: bytes
    check: Callable[[Path], None] | None = None


def write_atomically(path: Path, data: bytes, check: Callable[[Path], None] | None = None) -> None:
    """Write one file whole, or leave what stands there. Raises CannotWrite."""
    write_together([NewFile(Path(path), data, check)])


def write_together(files: Sequence[NewFile]) -> None:
    """Write all files whole, or none: beside their places first, then checked, then moved over the names.

    Until the moves the old files stand untouched; after a failure or an interruption all of them stand
    again and nothing is left over. Raises CannotWrite.
    """
    with contextlib.ExitStack() as leftovers:
        parts = [_part(file, leftovers) for file in files]
        moves = _Moves(leftovers)
        try:
            for file, (part, place) in zip(files, parts, strict=True):
                moves.move(part, place, file.path, can_fail_later=file is not files[-1])
        except BaseException:  # Ctrl-C too
            moves.undo()
            raise
    for folder in {place.parent for _, place in parts}:
        _flush_folder(folder)


def _part(file: NewFile, leftovers: contextlib.ExitStack) -> tuple[Path, Path]:
    """The finished and checked file beside its place, and that place."""
    try:
        place = _real(Path(file.path))
        _refuse_unusable(place)
    except (OSError, ValueError) as error:
        raise cannot_write(file.path, error) from error
    part = _beside(place, "part")
    leftovers.callback(_forget, part)  # before it is made: no moment is left to be stopped in
    try:
        _fill(part, file.data)
        if file.check is not None:
            file.check(part)
        os.chmod(part, _mode_for(place))
    except OSError as error:
        raise cannot_write(file.path, error) from error
    return part, place


class _Moves:
    """Moves of finished files over names, which can be taken back as long as later ones may fail."""

    def __init__(self, leftovers: contextlib.ExitStack) -> None:
        self._leftovers = leftovers
        self._undos: list[Callable[[], object]] = []

    def move(self, part: Path, place: Path, asked: Path, *, can_fail_later: bool) -> None:
        try:
            if can_fail_later:
                self._undos.append(self._way_back(place))
            os.replace(part, place)
        except OSError as error:
            raise cannot_write(asked, error) from error

    def undo(self) -> None:
        for undo in reversed(self._undos):
            with contextlib.suppress(OSError):
                undo()

    def _way_back(self, place: Path) -> Callable[[], object]:
        if not place.exists():
            return lambda: _forget(place)
        kept = _beside(place, "old")
        self._leftovers.callback(_forget, kept)
        try:
            os.link(place, kept)
        except OSError:  # a disk without links
            shutil.copy2(place, kept)
        return lambda: os.replace(kept, place)


def draft_beside(place: Path) -> Path:
    """A name for a file that is to take the place of one later; left over, it is swept as any other."""
    return _beside(place, "part")


def _beside(place: Path, suffix: str) -> Path:
    """A name beside a file's that no other run takes, and that says which process made it."""
    return place.with_name(f".{place.name[:40]}.{_machine()}-{os.getpid()}-{secrets.token_hex(4)}.{suffix}")


def _machine() -> str:
    """Tells machines apart that write to one disk."""
    return hashlib.sha256(platform.node().encode()).hexdigest()[:8]


def sweep(folder: Path) -> None:
    """Remove what killed runs left half written in a folder; what a run is still writing stays."""
    with contextlib.suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            found = _LEFT_OVER.fullmatch(entry.name)
            if found is not None and _is_left(Path(entry.path), found[1], int(found[2])):
                _forget(Path(entry.path))


def _is_left(path: Path, machine: str, process: int) -> bool:
    with contextlib.suppress(OSError):
        if time.time() - path.stat().st_mtime > _SURELY_LEFT_S:
            return True
    return machine == _machine() and not _is_running(process)


def _is_running(process: int) -> bool:
    """Whether a process of this machine still runs, or nobody can tell."""
    if os.name == "nt":  # where asking after a process could end it
        return True
    try:
        os.kill(process, 0)
        state = Path(f"/proc/{process}/stat").read_text(encoding="ascii").rpartition(")")[2].split()[0]
    except (ProcessLookupError, OverflowError):
        return False
    except (OSError, ValueError, IndexError):
        return True
    return state not in "ZX"  # ended, and only waited for


def _forget(path: Path) -> None:
    with contextlib.suppress(OSError):
        path.unlink()


def make_folder(folder: Path) -> None:
    """Make a folder and those above it, unless it is there. Raises CannotWrite."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except FileExistsError as error:
        raise cannot_write(folder, NotADirectoryError(errno.ENOTDIR, "")) from error
    except (OSError, ValueError) as error:
        raise cannot_write(folder, error) from error


def cannot_write(path: Path, error: OSError | ValueError) -> CannotWrite:
    """The system's reason in plain words, with what to do about it."""
    if isinstance(error, ValueError):
        why, remedy = "the name holds a character no file name may have", "Choose another file name."
    elif getattr(error, "winerror", None) in _IN_USE_ON_WINDOWS:
        why, remedy = _REMEDIES[errno.EBUSY]
    else:
        fallback = (error.strerror or "the system refused it").lower()
        why, remedy = _REMEDIES.get(error.errno or 0, (fallback, "Try another folder or file name."))
    shown = str(path).encode("utf-8", "backslashreplace").decode("utf-8")
    return CannotWrite([Problem(f"could not write {shown}: {why}.", remedy)])


def _real(path: Path) -> Path:
    """Where links lead: a move over a link would replace the link and leave its file old."""
    try:
        return path.resolve() if path.is_symlink() else path
    except RuntimeError as error:  # how Python before 3.13 reports a circle of links
        raise OSError(errno.ELOOP, "", str(path)) from error


def _refuse_unusable(path: Path) -> None:
    if "\0" in str(path):
        raise ValueError("embedded null byte")
    if len(os.fsencode(path.name)) > _LONGEST_NAME:  # said here, since the shorter temporary name would pass
        raise OSError(errno.ENAMETOOLONG, "", str(path))
    if not path.name or path.is_dir():
        raise IsADirectoryError(errno.EISDIR, "", str(path))
    if path.exists() and not path.is_file():
        raise OSError(errno.ENODEV, "", str(path))
    if path.exists() and not os.access(path, os.W_OK):
        raise PermissionError(errno.EACCES, "", str(path))  # a rename would replace even a protected file


def _mode_for(path: Path) -> int:
    """Permissions of the file that stands there, else those a new file would get."""
    with contextlib.suppress(FileNotFoundError):
        return path.stat().st_mode & 0o7777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _fill(part: Path, data: bytes) -> None:
    handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o600)
    with os.fdopen(handle, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _flush_folder(folder: Path) -> None:
    """Make the rename itself last through a power cut, where the system has such a thing."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
