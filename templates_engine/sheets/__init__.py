"""Lays a Layout's faces out on paper: which paper, which way round, joints, registration marks; no ink."""

from templates_engine.sheets.plan import plan

__all__ = ["plan"]
