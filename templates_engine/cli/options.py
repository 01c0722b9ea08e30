"""Holds what several commands take, and what all of them say of their exit codes."""

from __future__ import annotations

from pathlib import Path

import click

EPILOG = (
    "Exit codes: 0 done; 1 a check failed; 2 the job file or the command has problems; 3 it cannot fit; "
    "4 cannot write."
)

FILE = click.Path(path_type=Path)


class CommandGroup(click.Group):
    """Commands listed in the order in which they are added, as one works with them."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(self.commands)


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
    type=click.IntRange(1, 256),
    help="For many jobs: how many cores to use; all of them.",
)
