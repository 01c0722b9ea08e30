"""Puts bytes under a file name all at once or not at all; what they mean is for others."""

from __future__ import annotations

import contextlib
import errno
import os
import tempfile
from collections.abc import Callable
from pathlib import Path

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


def write_atomically(path: Path, data: bytes, check: Callable[[Path], None] | None = None) -> None:
    """Write a file whole: beside its place first, then checked, then moved over the name.

    ``check`` is given the finished file and raises to refuse it. Until the move the old file stands
    untouched; after a failure or an interruption nothing is left over. Raises CannotWrite.
    """
    path = asked = Path(path)
    try:
        path = _real(asked)
        _refuse_unusable(path)
        mode = _mode_for(path)
        handle, name = tempfile.mkstemp(prefix=f".{path.name[:40]}.", suffix=".part", dir=path.parent)
    except (OSError, ValueError) as error:
        raise cannot_write(asked, error) from error
    part = Path(name)
    try:
        _fill(handle, data)
        if check is not None:
            check(part)
        os.chmod(part, mode)
        os.replace(part, path)
    except OSError as error:
        raise cannot_write(asked, error) from error
    finally:  # on Ctrl-C too
        with contextlib.suppress(OSError):
            part.unlink()
    _flush_folder(path.parent)


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


def _fill(handle: int, data: bytes) -> None:
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
