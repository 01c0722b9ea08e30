"""A finding and a changed job into whether the change cures it; which changes are tried, cures.py says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from templates_engine.checks import check, check_one
from templates_engine.checks.model import Finding, Outcome
from templates_engine.job.model import Job, Row
from templates_engine.layout.changes import Case
from templates_engine.layout.faces import attempt
from templates_engine.layout.model import Layout


@dataclass(frozen=True)
class Cured:
    """A changed job, solved, in which the finding is gone, and what the checks then say."""

    layout: Layout
    findings: tuple[Finding, ...]
    new_cautions: tuple[str, ...]
    """Names of checks that caution now and did not before."""


class FindingCase(Case):
    """A finding about one or several rows of a face, and the trying of changes to them."""

    def __init__(self, layout: Layout, findings: Sequence[Finding], finding: Finding) -> None:
        faces = layout.job.faces
        index = next((at for at, face in enumerate(faces) if face.face.value == finding.face), 0)
        self.rows = _rows_of(layout, index, finding)
        """Indexes of the rows that hold the finding's holes; empty where it is about the enclosure."""
        super().__init__(layout.job, index, self.rows[0] if self.rows else 0)
        self.layout, self.findings, self.finding = layout, findings, finding
        self.cured: dict[Job, Cured] = {}

    @property
    def missing_in(self) -> float:
        """How much is missing where the finding is worst."""
        assert self.finding.provided is not None, "only measured findings are cured"
        assert self.finding.required is not None, "only measured findings are cured"
        return abs(self.finding.required - self.finding.provided)

    def involved(self) -> tuple[Row, ...]:
        """The rows that hold the finding's holes."""
        return tuple(self.face.rows[index] for index in self.rows)

    def solves(self, changed: Job) -> bool:
        """Whether every row of the changed job finds its places and the finding is gone."""
        return self._solved(changed) is not None

    def helps(self, changed: Job, *, new_rows: int = 0) -> bool:
        """Whether moreover nothing else is worse for it."""
        layout = self._solved(changed)
        if layout is None:
            return False
        findings = check(layout)
        if _more(Outcome.FAIL, self.findings, findings):
            return False
        cautions = _more(Outcome.CAUTION, self.findings, findings)
        if cautions and self.finding.outcome is Outcome.CAUTION:
            return False
        self.cured[changed] = Cured(layout, findings, cautions)
        return True

    def _solved(self, changed: Job) -> Layout | None:
        tried = attempt(changed)
        if tried.failures:
            return None
        layout = Layout(changed, tried.faces)
        return layout if self._is_gone(check_one(self.finding.check, layout)) else None

    def _is_gone(self, answers: Sequence[Finding]) -> bool:
        """Whether the check no longer says this of the face, nor now says that it cannot tell."""
        worst = self.finding.outcome.gravity
        here = [one for one in answers if one.face == self.finding.face]
        if any(one.outcome.gravity <= worst for one in here):
            return False
        untold = [one for one in answers if one.outcome is Outcome.NOT_CHECKED]
        name = self.finding.check
        before = [one for one in self.findings if (one.check, one.outcome) == (name, Outcome.NOT_CHECKED)]
        return len(untold) <= len(before)


def _rows_of(layout: Layout, face_index: int, finding: Finding) -> tuple[int, ...]:
    if not finding.face:
        return ()
    rows = layout.faces[face_index].rows
    return tuple(at for at, row in enumerate(rows) if any(hole.id in finding.holes for hole in row.holes))


def _more(outcome: Outcome, before: Sequence[Finding], after: Sequence[Finding]) -> tuple[str, ...]:
    """Names of the checks with that outcome for holes, or a face, for which they did not have it."""
    had: dict[tuple[str, str], set[str]] = {}
    for one in before:
        if one.outcome.gravity <= outcome.gravity:
            had.setdefault((one.check, one.face), set()).update(one.holes)
    new = (
        one.check
        for one in after
        if one.outcome is outcome
        and ((one.check, one.face) not in had or not had[one.check, one.face].issuperset(one.holes))
    )
    return tuple(dict.fromkeys(new))
