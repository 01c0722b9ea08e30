"""Ends a run that is stopped, or that nobody can hear, with an exit code and words, never a traceback.

Loaded before anything that takes time, so that it holds from the start.
"""

from __future__ import annotations

import errno
import io
import os
import signal
import sys
from collections.abc import Callable
from types import FrameType
from typing import BinaryIO, NoReturn

_NOT_WRITTEN = 4  # as in messages.py, which takes long to load
_STOPPED = 128
"""A stopped run's exit code is this and the signal's number: 130 after Ctrl-C, as shells have it."""
_SIGNALS = tuple(
    getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK") if hasattr(signal, name)
)


class _CannotSay(Exception):
    """What was to be said on standard output did not arrive."""

    def __init__(self, reason: OSError) -> None:
        super().__init__(str(reason))
        self.reason = reason


def ended_well(run: Callable[[], object]) -> NoReturn:
    """Call the command; end with its exit code, or with one for what stopped it."""
    for number in _SIGNALS:
        if signal.getsignal(number) is not signal.SIG_IGN:  # ignored on purpose, as by nohup
            signal.signal(number, _stop)
    _occupy_closed_streams()
    sys.stdout, sys.stderr = _Outlet(sys.stdout, 1), _Outlet(sys.stderr, 2)
    try:
        code = _exit_code(run)
        sys.stdout.flush()
    except _CannotSay as error:
        code = _unheard(error.reason)
    except OSError as error:
        code = _refused(error)
    sys.exit(code)


def _exit_code(run: Callable[[], object]) -> str | int | None:
    try:
        run()
    except SystemExit as end:
        return end.code
    return 0


def _stop(number: int, _: FrameType | None) -> NoReturn:
    """End by way of an exception, so that nothing half-written is left over; once is enough."""
    for one in _SIGNALS:
        signal.signal(one, signal.SIG_IGN)
    print("Stopped.", file=sys.stderr)
    raise SystemExit(_STOPPED + number)


def _occupy_closed_streams() -> None:
    """A closed stream's number would be given to the next file opened, and words be written into it."""
    for number in range(3):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDONLY)


class _Outlet(io.TextIOWrapper):
    """Text out as UTF-8, whatever the terminal's habit; when a stream takes no more, an error of its own that
    nothing in between mistakes for a file's fault.
    """

    def __init__(self, stream: object, number: int) -> None:
        if isinstance(stream, io.TextIOWrapper):
            buffer: BinaryIO = stream.detach()
        else:  # it was closed from the start
            buffer = open(number, "wb", closefd=False)  # noqa: SIM115  # as long as the run
        super().__init__(buffer, encoding="utf-8", errors="replace", line_buffering=number == 2)
        self._number = number

    def write(self, text: str) -> int:
        return self._tried(super().write, text) or 0

    def flush(self) -> None:
        self._tried(super().flush)

    def _tried(self, do: Callable[..., int | None], *what: str) -> int | None:
        try:
            return do(*what)
        except OSError as error:
            os.dup2(os.open(os.devnull, os.O_WRONLY), self._number)  # for what is still held back
            if self._number == 2:  # nobody is left to tell; the exit code still says it
                return None
            raise _CannotSay(error) from error


def _unheard(reason: OSError) -> int:
    if reason.errno == errno.EPIPE:  # the reader has seen enough
        return _STOPPED + 13
    why = "it is closed" if reason.errno == errno.EBADF else (reason.strerror or "refused").lower()
    print(
        f"could not write to standard output: {why}. What was to be said there is lost; run again with "
        "another place to write to.",
        file=sys.stderr,
    )
    return _NOT_WRITTEN


def _refused(reason: OSError) -> int:
    """What the system refused outside of any file of ours, most often because the folder is gone."""
    try:
        os.getcwd()
        words = f"the system refused to go on: {reason}. Try again, or in another folder."
    except OSError:
        words = "the current folder is gone or cannot be read. Go to another folder, then run again."
    print(words, file=sys.stderr)
    return _NOT_WRITTEN
