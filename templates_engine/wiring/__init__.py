"""Turns a job's circuits and conductors into what each raceway carries, and fits sizes to it.

``fit_sizes`` comes before the layout, ``contents_of_raceway`` whenever someone asks.
"""

from __future__ import annotations

from templates_engine.wiring.contents import contents_of_job, contents_of_raceway
from templates_engine.wiring.model import CircuitPhases, Conductors, Contents, Fill, Neutral, RacewayContents
from templates_engine.wiring.size_to_fit import fit_sizes

__all__ = [
    "CircuitPhases",
    "Conductors",
    "Contents",
    "Fill",
    "Neutral",
    "RacewayContents",
    "contents_of_job",
    "contents_of_raceway",
    "fit_sizes",
]
