"""The command line: words for people and exit codes; every computation is the pipeline's."""

from templates_engine.cli.main import main

__all__ = ["main"]
