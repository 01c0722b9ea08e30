"""Runs answers in processes of their own, each stopped when it takes too long; the page goes on."""

from __future__ import annotations

import asyncio
import multiprocessing
from collections.abc import Callable
from concurrent.futures import TimeoutError as TooLong
from typing import Any, TypeVar

from pebble import ProcessExpired, ProcessPool

from templates_engine.page.answer import warm

ResultT = TypeVar("ResultT")

ANSWER_WITHIN_S = 5.0
DRAW_WITHIN_S = 60.0
"""A PDF is read back before it is handed out, which takes longer than a drawing on the screen."""
_WORKERS = 2
_ANSWERS_EACH = 2000
"""Answers after which a worker is replaced, so that no memory is held for ever."""


class StoppedWorker(Exception):
    """The answer took too long, or its process died; the message says what to do."""


class Workers:
    """A few warm processes."""

    def __init__(self, count: int = _WORKERS) -> None:
        self._pool = ProcessPool(
            max_workers=count,
            max_tasks=_ANSWERS_EACH,
            initializer=warm,
            context=multiprocessing.get_context("spawn"),
        )

    async def run(
        self, function: Callable[..., ResultT], *values: Any, within_s: float = ANSWER_WITHIN_S
    ) -> ResultT:
        """What the function gives, run in a worker. Raises StoppedWorker."""
        future = self._pool.schedule(function, args=values, timeout=within_s)
        try:
            result: ResultT = await asyncio.wrap_future(future)
        except (TimeoutError, TooLong) as error:
            words = f"This job takes longer than {within_s:.0f} s and was stopped."
            raise StoppedWorker(
                f"{words} Fewer holes or keep-outs, or the commands in a terminal, go on."
            ) from error
        except ProcessExpired as error:
            raise StoppedWorker("The program that draws stopped. Change something to try again.") from error
        return result

    def stop(self) -> None:
        """Ends all processes."""
        self._pool.stop()  # type: ignore[no-untyped-call]
        self._pool.join()
