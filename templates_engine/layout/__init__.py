"""Turns a Job into a Layout: back lines, spacing, places, holes and quarter points."""

from templates_engine.layout.solver import solve

__all__ = ["solve"]
