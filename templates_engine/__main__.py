"""python -m templates_engine."""

from templates_engine.cli import main

main()
