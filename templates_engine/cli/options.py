"""Holds what several commands take, and what all of them say of their exit codes."""

from __future__ import annotations

import math
from collections.abc import Callable
from enum import StrEnum
from pathlib import Path
from typing import Any

import click

EPILOG = (
    "Exit codes: 0 done; 1 a check failed; 2 the job file or the command has problems; 3 it cannot fit; "
    "4 cannot write."
)

FILE = click.Path(path_type=Path)


class NumberWithin(click.ParamType[int | float]):
    """A number within limits, both included."""

    name = "number"

    def __init__(self, kind: type[int] | type[float], least: int, most: int) -> None:
        self.kind = kind
        self.least, self.most = least, most

    def convert(
        self, value: str | float, param: click.Parameter | None, ctx: click.Context | None
    ) -> int | float:
        try:
            number = self.kind(value)
        except ValueError:
            number = math.nan
        if not self.least <= number <= self.most:
            what = "whole number" if self.kind is int else "number"
            self.fail(f"'{value}' is no {what} from {self.least} to {self.most}.", param, ctx)
        return number


class CommandGroup(click.Group):
    """Commands listed in the order in which they are added, as one works with them."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(self.commands)


def shown_as(kinds: type[StrEnum], default: StrEnum | None, words: str) -> Callable[[Any], Any]:
    """``--as``: one of the kinds, to be named where there is no default."""
    choice = click.Choice(kinds, case_sensitive=False)
    if default is None:
        return click.option("--as", "as_", type=choice, required=True, help=words)
    return click.option("--as", "as_", type=choice, default=default.value, help=words)


job_file = click.argument("job", metavar="JOB", type=FILE, help="The job file, YAML.")
overwrite_named = click.option(
    "--overwrite",
    metavar="FILE",
    multiple=True,
    type=FILE,
    help="Write over this file even if another program made it. May be repeated.",
)

job_paths = click.argument(
    "paths",
    metavar="PATHS...",
    nargs=-1,
    required=True,
    type=FILE,
    help="Job files, and folders with all job files in them.",
)
faces_named = click.option(
    "--face",
    metavar="FACE",
    multiple=True,
    help="Only this face: top, bottom, left or right. May be repeated.",
)
output_file = click.option("--output", "-o", metavar="FILE", type=FILE, help="Where to write.")
cores_wanted = click.option(
    "--cores",
    metavar="N",
    type=NumberWithin(int, 1, 256),
    help="For many jobs: how many cores to use, 1 to 256; all of them.",
)
