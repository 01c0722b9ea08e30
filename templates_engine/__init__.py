"""Full-scale marking templates for knockouts in electrical enclosures: read_job, solve, check, plan, draw;
for all stages at once solve_job and write_template; for many jobs draw_building and read_building.

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
    from templates_engine.office.building import read_building
    from templates_engine.office.draw.batch import draw_building
    from templates_engine.pipeline import solve_job, write_template
    from templates_engine.sheets import plan

__version__ = "0.1.0"
__all__ = [
    "__version__",
    "check",
    "draw",
    "draw_building",
    "plan",
    "read_building",
    "read_job",
    "solve",
    "solve_job",
    "write_template",
]

_HOME = {
    "read_job": "job",
    "solve": "layout",
    "check": "checks",
    "plan": "sheets",
    "draw": "drawing",
    "solve_job": "pipeline",
    "write_template": "pipeline",
    "draw_building": "office.draw.batch",
    "read_building": "office.building",
}


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
