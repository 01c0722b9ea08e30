"""Runs one function on many orders over the cores of the machine, and hands out its results in order."""

from __future__ import annotations

import gc
import os
from collections import deque
from collections.abc import Callable, Generator, Iterator, Sequence
from functools import partial
from importlib import import_module
from typing import TYPE_CHECKING, TypeVar

from templates_engine.errors import Problem, TemplatesError

if TYPE_CHECKING:
    from concurrent.futures import Future

OrderT = TypeVar("OrderT")
ResultT = TypeVar("ResultT")

_WITHIN_S = 600.0
"""No job takes as long; one that does is stopped, so that the others end."""
_TASKS_EACH = 5000
_LOADED = ("pipeline", "job.read.job", "sheets", "drawing", "writers.pdf_parts", "writers.pdf_check")
_WAITING_EACH = 32
"""Orders handed to a process ahead of time: none waits for work, and few are lost when it is stopped."""


def cores() -> int:
    """How many this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def each_done(
    function: Callable[[OrderT], ResultT], orders: Sequence[OrderT], count: int
) -> Generator[tuple[OrderT, ResultT | TemplatesError], None, None]:
    """Every order with what the function gives for it, or with the error that stopped it.

    ``function`` is one of a module. Closing the iterator early stops the work; what is half done is undone.
    """
    count = min(count, len(orders))
    return _here(function, orders) if count <= 1 else _over_processes(function, orders, count)


def _here(
    function: Callable[[OrderT], ResultT], orders: Sequence[OrderT]
) -> Generator[tuple[OrderT, ResultT | TemplatesError], None, None]:
    gc.enable()  # the command line does without for its one job
    for order in orders:
        yield order, _given(partial(function, order))


def _over_processes(
    function: Callable[[OrderT], ResultT], orders: Sequence[OrderT], count: int
) -> Generator[tuple[OrderT, ResultT | TemplatesError], None, None]:
    from templates_engine.worker_pool import WorkerPool

    pool = WorkerPool(count, _warm, _TASKS_EACH)
    submit = partial(pool.submit, function, within_s=_WITHIN_S)
    try:
        for order, future in _ahead(submit, orders, count * _WAITING_EACH):
            given = _given(future.result)
            yield order, given
    finally:
        pool.stop()


def _ahead(
    submit: Callable[[OrderT], Future[ResultT]], orders: Sequence[OrderT], most: int
) -> Iterator[tuple[OrderT, Future[ResultT]]]:
    """Every order with its future, a few more handed in than are asked for."""
    waiting: deque[tuple[OrderT, Future[ResultT]]] = deque()
    for order in orders:
        waiting.append((order, submit(order)))
        if len(waiting) > most:
            yield waiting.popleft()
    yield from waiting


def _given(ask: Callable[[], ResultT]) -> ResultT | TemplatesError:
    from templates_engine.worker_pool import UNGUARDED, WorkerDied

    try:
        return ask()
    except TemplatesError as error:
        return error
    except TimeoutError:
        words = f"it takes longer than {_WITHIN_S / 60:.0f} minutes and was stopped."
        return TemplatesError([Problem(words, "Give it fewer holes or keep-outs, or run it alone.")])
    except WorkerDied:
        words = "the process that worked on it ended before it was done."
        return TemplatesError([Problem(words, f"Run again; if this comes back, with --cores 1. {UNGUARDED}")])
    except Exception as error:
        words = f"the program has a fault here ({type(error).__name__}: {error})."
        return TemplatesError([Problem(words, "Nothing was written of this job; report it with the job.")])


def _warm() -> None:
    """Loads what a first job needs, and keeps the garbage collector from looking through it again."""
    for name in _LOADED:
        import_module(f"templates_engine.{name}")
    gc.freeze()
