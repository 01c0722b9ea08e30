"""Offers the command line: words for people and exit codes; every computation is the pipeline's."""

from __future__ import annotations

from templates_engine.cli.ending import ended_well

__all__ = ["start"]


def start() -> None:
    """The console command; what it needs is loaded once nothing can end it with a traceback."""
    ended_well(_command)


def _command() -> None:
    from templates_engine.cli.main import main

    main()
