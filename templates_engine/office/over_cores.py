"""Runs one function on many orders, over the cores of the machine, and hands its results out in their order."""

from __future__ import annotations

import gc
import os
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, TypeVar

from templates_engine.errors import Problem, TemplatesError

if TYPE_CHECKING:
    from concurrent.futures import Future

OrderT = TypeVar("OrderT")
ResultT = TypeVar("ResultT")

_WITHIN_S = 600.0
"""No job takes as long; one that does is stopped, so that the others end."""
_TASKS_EACH = 5000
_WAITING_EACH = 32
"""Orders handed to a process ahead of time: none waits for work, and few are lost when it is stopped."""


def cores() -> int:
    """How many this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def each_done(
    function: Callable[[OrderT], ResultT], orders: Sequence[OrderT], count: int
) -> Iterator[tuple[OrderT, ResultT | TemplatesError]]:
    """Every order with what the function gives for it, or with the error that stopped it.

    ``function`` is one of a module. Closing the iterator early stops the work; what is half done is undone.
    """
    count = min(count, len(orders))
    return _here(function, orders) if count <= 1 else _over_processes(function, orders, count)


def _here(
    function: Callable[[OrderT], ResultT], orders: Sequence[OrderT]
) -> Iterator[tuple[OrderT, ResultT | TemplatesError]]:
    gc.enable()  # the command line does without for its one job
    for order in orders:
        yield order, _given(partial(function, order))


def _over_processes(
    function: Callable[[OrderT], ResultT], orders: Sequence[OrderT], count: int
) -> Iterator[tuple[OrderT, ResultT | TemplatesError]]:
    from templates_engine.worker_pool import WorkerPool

    pool = WorkerPool(count, _warm, _TASKS_EACH)
    try:
        running: deque[tuple[OrderT, Future[ResultT]]] = deque()
        for order in orders:
            running.append((order, pool.submit(function, order, within_s=_WITHIN_S)))
            if len(running) > count * _WAITING_EACH:
                yield _first(running)
        while running:
            yield _first(running)
    finally:
        pool.stop()


def _first(
    running: deque[tuple[OrderT, Future[ResultT]]],
) -> tuple[OrderT, ResultT | TemplatesError]:
    order, future = running.popleft()
    return order, _given(future.result)


def _given(ask: Callable[[], ResultT]) -> ResultT | TemplatesError:
    from templates_engine.worker_pool import WorkerDied

    try:
        return ask()
    except TemplatesError as error:
        return error
    except TimeoutError:
        words = f"it takes longer than {_WITHIN_S / 60:.0f} minutes and was stopped."
        return TemplatesError([Problem(words, "Give it fewer holes or keep-outs, or run it alone.")])
    except WorkerDied:
        words = "the process that worked on it ended before it was done."
        return TemplatesError([Problem(words, "Run again; if this comes back, with --cores 1.")])
    except Exception as error:
        words = f"the program has a fault here ({type(error).__name__}: {error})."
        return TemplatesError([Problem(words, "Nothing was written of this job; report it with the job.")])


def _warm() -> None:
    """Loads what a first job needs, which then is no rubbish to be looked through."""
    from templates_engine import drawing, job, pipeline
    from templates_engine.writers import pdf, pdf_check, pdf_parts

    assert (drawing, job, pipeline, pdf, pdf_check, pdf_parts)
    gc.freeze()
