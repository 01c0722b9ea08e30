"""Full-scale marking templates for knockouts in electrical enclosures: read_job, solve, check, plan, draw.

The names load their stage when first used, so that a small question does not pay for the whole pipeline.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from templates_engine.checks import check
    from templates_engine.drawing import draw
    from templates_engine.job import read_job
    from templates_engine.layout import solve
    from templates_engine.sheets import plan

__version__ = "0.1.0"
__all__ = ["__version__", "check", "draw", "plan", "read_job", "solve"]

_HOME = {"read_job": "job", "solve": "layout", "check": "checks", "plan": "sheets", "draw": "drawing"}


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
