"""Turns a job's circuits and conductors into what each raceway carries, and fits sizes to it.

``fit`` comes before the layout, ``carried`` whenever someone asks.
"""

from __future__ import annotations

from templates_engine.wiring.carried import carried, contents_of
from templates_engine.wiring.fitting import fit
from templates_engine.wiring.model import Carried, CircuitPhases, Conductors, Fill, Neutral

__all__ = ["Carried", "CircuitPhases", "Conductors", "Fill", "Neutral", "carried", "contents_of", "fit"]
