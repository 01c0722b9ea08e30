"""Shows how far a long command is: a bar with the time left on a terminal, plain lines elsewhere."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

from templates_engine.cli.messages import say

if TYPE_CHECKING:
    from rich.console import Console
    from rich.progress import Progress


class ProgressLines:
    """What is progress_lines while a command goes on: lines, problems, and that one thing more is done."""

    def line(self, text: str) -> None:
        """One line on stdout."""
        click.echo(text)

    def problem(self, text: str) -> None:
        """One line on stderr."""
        say(text)

    def step(self) -> None:
        """One thing more is done."""


class _LinesAboveBar(ProgressLines):
    """The same above a bar, which is moved down for every line."""

    def __init__(self, progress: Progress) -> None:
        self._progress = progress

    def line(self, text: str) -> None:
        _print(self._progress.console, text)

    def problem(self, text: str) -> None:
        if sys.stderr.isatty():
            _print(self._progress.console, text)
        else:
            say(text)

    def step(self) -> None:
        self._progress.advance(self._progress.task_ids[0])


def _print(console: Console, text: str) -> None:
    """As it is: neither wrapped, nor coloured, nor with brackets taken for something else."""
    console.print(text, markup=False, highlight=False, emoji=False, soft_wrap=True)


@contextmanager
def progress_lines(count: int, what: str) -> Iterator[ProgressLines]:
    """Tells of so many things to be done: "drawing", over 40 jobs."""
    if not sys.stdout.isatty():
        yield ProgressLines()
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (TextColumn(what), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    console = Console(file=sys.stdout, no_color=True)
    with Progress(
        *columns, console=console, transient=True, redirect_stdout=False, redirect_stderr=False
    ) as progress:
        progress.add_task(what, total=count)
        yield _LinesAboveBar(progress)
