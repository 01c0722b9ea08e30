"""Turns the findings of one face into sentences for its cover page, the gravest first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templates_engine.checks.model import Finding, Outcome
from templates_engine.drawing.cover.page_flow import PageBlock, bullet, heading, paragraph, space
from templates_engine.sheets.model import FacePlan


def findings_told(face: FacePlan, findings: Sequence[Finding], width: float) -> Iterator[PageBlock]:
    """What fails, what to mind, what was not checked, and what passed in a line."""
    mine = [item for item in findings if item.face in ("", face.layout.job.face.value)]
    yield heading("Findings")
    for item in sorted(mine, key=lambda one: one.outcome.gravity):
        if item.outcome in (Outcome.FAIL, Outcome.CAUTION):
            yield from bullet(_words(item), width, bold=item.outcome is Outcome.FAIL)
    for message, lacking in not_checked(mine).items():
        checks = ", ".join(item.check for item in lacking)
        yield from bullet(f"NOT CHECKED, {checks}: {message}", width)
    if passed := passed_checks(mine):
        yield from paragraph(f"Passed: {', '.join(passed)}.", width)
    if not mine:
        yield from paragraph("Nothing was checked.", width)
    yield space(0.08)


def _words(item: Finding) -> str:
    holes = f" {', '.join(item.holes)}:" if item.holes else ""
    return f"{item.outcome.value.upper()}, {item.check}:{holes} {item.message} {item.remedy} [{item.source}]"


def not_checked(findings: Sequence[Finding]) -> dict[str, list[Finding]]:
    """The findings that lack the same input, by what is said of it."""
    lacking: dict[str, list[Finding]] = {}
    for item in findings:
        if item.outcome is Outcome.NOT_CHECKED:
            lacking.setdefault(item.message, []).append(item)
    return lacking


def passed_checks(findings: Sequence[Finding]) -> dict[str, str]:
    """The checks that passed, in words, with their sources; in part where another raceway or face did not."""
    others = {item.check for item in findings if item.outcome is not Outcome.OK}
    return {
        f"{item.check}, in part" if item.check in others else item.check: item.source
        for item in findings
        if item.outcome is Outcome.OK
    }
