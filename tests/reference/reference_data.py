"""Rows of the published tables copied beside the tests; where they come from stands in data/SOURCES.md."""

from __future__ import annotations

import csv
from pathlib import Path


def published(name: str) -> list[dict[str, str]]:
    """Every row of one file, all cells as text."""
    with (Path(__file__).parent / "data" / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))
