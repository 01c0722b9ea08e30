"""Turns a finished Layout into Findings, gravest first; never calls the solver nor solves remedies."""

from __future__ import annotations

from templates_engine.checks import (
    bonding,
    boxes,
    contents,
    devices,
    fittings,
    holes,
    metal,
    supports,
    surroundings,
    wireways,
)
from templates_engine.checks.driver import run
from templates_engine.checks.model import Finding, Outcome, Rule
from templates_engine.layout.model import Layout
from templates_engine.wiring import Contents, contents_of_job

__all__ = ["RULES", "Finding", "Outcome", "Rule", "check", "check_one"]

TOPICS = (metal, holes, fittings, contents, devices, boxes, wireways, bonding, supports, surroundings)
RULES: tuple[Rule, ...] = tuple(
    sorted(
        (rule for topic in TOPICS for rule in vars(topic).values() if isinstance(rule, Rule)),
        key=lambda rule: rule.name,
    )
)
"""Every rule of the topics, by name."""


def check(layout: Layout, contents: Contents | None = None) -> tuple[Finding, ...]:
    """Every rule's findings, sorted by gravity, then rule, then face; ``contents`` is what the raceways carry
    where that has been counted already.
    """
    contents = contents_of_job(layout.job) if contents is None else contents
    findings = [finding for rule in RULES for finding in run(rule, layout, contents)]
    return tuple(sorted(findings, key=lambda each: (each.outcome.gravity, each.check, each.face)))


def check_one(name: str, layout: Layout) -> tuple[Finding, ...]:
    """The findings of the rule of that name alone."""
    contents = contents_of_job(layout.job)
    return tuple(found for rule in RULES if rule.name == name for found in run(rule, layout, contents))
