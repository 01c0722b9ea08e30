"""Runs the command line for `python -m templates_engine`."""

from templates_engine.cli import start

start()
