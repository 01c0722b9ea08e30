"""Turns a finished Layout into Findings, gravest first; never calls the solver nor solves remedies."""

from __future__ import annotations

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.registry import all_checks, run_one
from templates_engine.layout.model import Layout

__all__ = ["About", "Finding", "Outcome", "abouts", "check", "check_one"]


def check(layout: Layout) -> tuple[Finding, ...]:
    """Every check's findings, sorted by gravity, then check name, then face."""
    findings = [finding for each in all_checks() for finding in run_one(each, layout)]
    return tuple(sorted(findings, key=lambda each: (each.outcome.gravity, each.check, each.face)))


def check_one(name: str, layout: Layout) -> tuple[Finding, ...]:
    """The findings of the check of that name alone."""
    return tuple(found for each in all_checks() if each.about.name == name for found in run_one(each, layout))


def abouts() -> tuple[About, ...]:
    """What every check is, by name."""
    return tuple(each.about for each in all_checks())
