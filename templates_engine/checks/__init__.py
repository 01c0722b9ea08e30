"""Turns a finished Layout into Findings, gravest first; never calls the solver nor solves remedies."""

from __future__ import annotations

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.registry import all_checks, run_one
from templates_engine.layout.model import Layout

__all__ = ["About", "Finding", "Outcome", "abouts", "check"]


def check(layout: Layout) -> tuple[Finding, ...]:
    """Every check's findings, sorted by gravity, then check name, then face."""
    findings = [finding for each in all_checks() for finding in run_one(each, layout)]
    return tuple(sorted(findings, key=lambda each: (each.outcome.gravity, each.check, each.face)))


def abouts() -> tuple[About, ...]:
    """What every check is, by name."""
    return tuple(each.about for each in all_checks())
