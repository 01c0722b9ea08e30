"""Turns a job's circuits and conductors into what each raceway carries, and fits sizes to it.

``fit`` comes before the layout, ``carried`` whenever someone asks.
"""

from __future__ import annotations

from templates_engine.wiring.contents import carried, contents_of
from templates_engine.wiring.model import CircuitPhases, Conductors, Fill, Neutral, RacewayContents
from templates_engine.wiring.size_to_fit import fit

__all__ = [
    "CircuitPhases",
    "Conductors",
    "Fill",
    "Neutral",
    "RacewayContents",
    "carried",
    "contents_of",
    "fit",
]
