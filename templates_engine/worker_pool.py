"""Runs functions in processes of their own, each stopped when it takes too long; the caller goes on."""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections.abc import Callable, Iterator
from concurrent.futures import Future
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from typing import Any, NoReturn, TypeVar

from pebble import ProcessExpired, ProcessPool

from templates_engine.errors import Problem, TemplatesError

ResultT = TypeVar("ResultT")

UNGUARDED = 'In a script of your own make the call below `if __name__ == "__main__":`, or over one core.'

WorkerDied = (ProcessExpired, BrokenProcessPool)
"""What is raised where the process that did the work ended before it was done, or could not begin."""


class WorkerPool:
    """A few warm processes; one is replaced after ``tasks_each``, so that no memory is held for ever."""

    def __init__(self, count: int, warm: Callable[[], object], tasks_each: int) -> None:
        _refuse_unguarded_script()
        self._pool = ProcessPool(
            max_workers=count,
            max_tasks=tasks_each,
            initializer=warm,
            context=multiprocessing.get_context("spawn"),
        )

    def submit(self, function: Callable[..., ResultT], *values: Any, within_s: float) -> Future[ResultT]:
        """What the function will give, or raise: TimeoutError and WorkerDied beside its own errors."""
        with _no_ctrl_c():
            future: Future[ResultT] = self._pool.schedule(_tidily, args=(function, *values), timeout=within_s)
        return future

    def stop(self) -> None:
        """Ends all processes, those at work too once they have taken back what is half done."""
        self._pool.stop()  # type: ignore[no-untyped-call]
        self._pool.join()


def _refuse_unguarded_script() -> None:
    """Every process reads the script that started it, and one that starts processes while it is read would
    go on for ever. Raises TemplatesError where that has begun.
    """
    if getattr(multiprocessing.current_process(), "_inheriting", False):
        words = "a script that works on many jobs at once is read anew by each process it starts."
        raise TemplatesError([Problem(words, UNGUARDED)])


@contextmanager
def _no_ctrl_c() -> Iterator[None]:
    """Processes that are started meanwhile never hear of it: the terminal sends it to all, and theirs would
    end with a traceback while they load.
    """
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


class _Stopped(BaseException):
    """The process was told to end; an exception, so that what is half written is taken back."""


def _stop(number: int, frame: object) -> NoReturn:
    signal.signal(signal.SIGTERM, signal.SIG_IGN)
    raise _Stopped


def _tidily(function: Callable[..., ResultT], *values: Any) -> ResultT:
    """Calls the function in the worker; told to end meanwhile, the worker does so without leaving a mess."""
    before = signal.signal(signal.SIGTERM, _stop)
    try:
        return function(*values)
    except _Stopped:
        os._exit(signal.SIGTERM)
    finally:
        signal.signal(signal.SIGTERM, before)
