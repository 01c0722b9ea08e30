"""Runs functions in processes of their own, each stopped when it takes too long; the caller goes on."""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections.abc import Callable, Iterator
from concurrent.futures import Future
from contextlib import contextmanager
from typing import Any, NoReturn, TypeVar

from pebble import ProcessExpired, ProcessPool

ResultT = TypeVar("ResultT")

WorkerDied = ProcessExpired
"""The process that did the work ended before it was done."""


class WorkerPool:
    """A few warm processes; one is replaced after ``tasks_each``, so that no memory is held for ever."""

    def __init__(self, count: int, warm: Callable[[], object], tasks_each: int) -> None:
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
