"""Finds the checks: every module of this folder but two is one, and a broken one stops everything."""

from __future__ import annotations

import importlib
import itertools
import pkgutil
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import cache
from types import ModuleType

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import in_millimetres
from templates_engine.layout.model import Layout

NOT_CHECKS = ("model", "registry")


class BrokenCheckError(Exception):
    """A file of this folder is no proper check, or a check broke the rules all checks keep."""


@dataclass(frozen=True)
class Check:
    """One check: what it is, and how to run it."""

    about: About
    run: Callable[[Layout], Iterable[Finding]]


def check_of(module: ModuleType) -> Check:
    """The check a module declares as ``ABOUT`` and ``run``; raises BrokenCheckError when it lacks one."""
    about, run = getattr(module, "ABOUT", None), getattr(module, "run", None)
    if not isinstance(about, About):
        raise BrokenCheckError(f"{module.__name__} declares no ABOUT: every file in checks/ is one check")
    if not callable(run):
        raise BrokenCheckError(f"{module.__name__} has no function run(layout)")
    return Check(about, run)


def gather(modules: Iterable[ModuleType]) -> tuple[Check, ...]:
    """The checks of some modules, by name; raises BrokenCheckError for a broken one or two of one name."""
    checks = sorted((check_of(module) for module in modules), key=lambda each: each.about.name)
    for one, next_one in itertools.pairwise(checks):
        if one.about.name == next_one.about.name:
            raise BrokenCheckError(f"two checks are called '{one.about.name}'")
    return tuple(checks)


@cache
def all_checks() -> tuple[Check, ...]:
    """Every check of this folder, by name."""
    package = importlib.import_module("templates_engine.checks")
    names = [found.name for found in pkgutil.iter_modules(package.__path__) if not found.ispkg]
    return gather(
        importlib.import_module(f"{package.__name__}.{name}") for name in names if name not in NOT_CHECKS
    )


def run_one(check: Check, layout: Layout) -> tuple[Finding, ...]:
    """One check's findings; raises BrokenCheckError for a wrong name or a failure it has no right to."""
    findings = tuple(check.run(layout))
    for finding in findings:
        if finding.check != check.about.name:
            raise BrokenCheckError(f"'{check.about.name}' answered under the name '{finding.check}'")
        if finding.outcome is Outcome.FAIL and not check.about.can_fail:
            raise BrokenCheckError(f"'{check.about.name}' rests on custom figures and may only caution")
    if layout.job.unit == "mm":
        return tuple(replace(finding, source=in_millimetres(finding.source)) for finding in findings)
    return findings
