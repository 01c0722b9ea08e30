"""Runs answers in processes of their own, each stopped when it takes too long; the page goes on."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import Any, TypeVar

from templates_engine.page.answer import warm
from templates_engine.worker_pool import WorkerDied, WorkerPool

ResultT = TypeVar("ResultT")

ANSWER_WITHIN_S = 5.0
DRAW_WITHIN_S = 60.0
"""A PDF is read back before it is handed out, which takes longer than a drawing on the screen."""
_WORKERS = 2
_ANSWERS_EACH = 2000


class StoppedWorker(Exception):
    """The answer took too long, or its process died; the message says what to do."""


class Workers:
    """A few warm processes."""

    def __init__(self, count: int = _WORKERS) -> None:
        self._pool = WorkerPool(count, warm, _ANSWERS_EACH)

    async def run(
        self, function: Callable[..., ResultT], *values: Any, within_s: float = ANSWER_WITHIN_S
    ) -> ResultT:
        """What the function gives, run in a worker. Raises StoppedWorker."""
        try:
            return await asyncio.wrap_future(self._pool.submit(function, *values, within_s=within_s))
        except TimeoutError as error:
            words = f"This job takes longer than {within_s:.0f} s and was stopped."
            raise StoppedWorker(
                f"{words} Fewer holes or keep-outs, or the commands in a terminal, go on."
            ) from error
        except WorkerDied as error:
            raise StoppedWorker("The program that draws stopped. Change something to try again.") from error

    def stop(self) -> None:
        """Ends all processes."""
        self._pool.stop()
