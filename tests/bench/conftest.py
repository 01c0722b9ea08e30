"""Leaves out what is timed where other tests run beside it: `python -m pytest tests/bench` runs it alone."""

from __future__ import annotations

from pathlib import Path

import pytest


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if hasattr(config, "workerinput"):
        for item in items:
            if item.path.is_relative_to(Path(__file__).parent):
                item.add_marker(pytest.mark.skip(reason="timed alone: python -m pytest tests/bench"))
