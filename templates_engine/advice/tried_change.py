"""Turns a finding and a changed job into whether the change cures it.

Which to try, candidate_changes.py says.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from templates_engine.checks import check, check_one
from templates_engine.checks.model import Finding, Outcome
from templates_engine.geometry import TOLERANCE_IN
from templates_engine.job.model import Job, Row
from templates_engine.layout.faces import attempt
from templates_engine.layout.job_changes import RowTrial, with_face
from templates_engine.layout.model import Layout
from templates_engine.values import Struct, replace


class TriedChange(Struct, frozen=True):
    """A changed job, solved, in which the finding is gone, and what the checks then say."""

    layout: Layout
    findings: tuple[Finding, ...]
    new_cautions: tuple[str, ...]
    """Names of checks that caution now and did not before."""


class FindingTrial(RowTrial):
    """A finding about one or several rows of a face, and the trying of changes to them."""

    most_partings = 3  # a part of one or two raceways is not looked for at any cost

    def __init__(self, layout: Layout, findings: Sequence[Finding], finding: Finding) -> None:
        faces = layout.job.faces
        index = next((at for at, face in enumerate(faces) if face.face.value == finding.face), 0)
        at = _rows_of(layout, index, finding)
        super().__init__(layout.job, index, at[0] if at else 0)
        self.rows = {row: self.face.rows[row] for row in at}
        """The rows that hold the finding's holes, by index; empty where it is about the enclosure."""
        self.layout, self.findings, self.finding = layout, findings, finding
        self.cured: dict[Job, TriedChange] = {}
        self.is_nearer = True
        """Whether the last change tried left less missing than before; going on that way may then help."""

    @property
    def missing_in(self) -> float:
        """How much is missing where the finding is worst."""
        assert self.finding.provided is not None, "only measured findings are cured"
        assert self.finding.required is not None, "only measured findings are cured"
        return abs(self.finding.required - self.finding.provided)

    def with_rows(self, rows: Mapping[int, Row]) -> Job:
        """The job with some rows of the face replaced."""
        changed = tuple(rows.get(at, row) for at, row in enumerate(self.face.rows))
        return with_face(self.job, self.face_index, replace(self.face, rows=changed))

    def solves(self, changed: Job) -> bool:
        """Whether every row of the changed job finds its places and the finding is gone."""
        return self._solved(changed) is not None

    def helps(self, changed: Job) -> bool:
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
        self.cured[changed] = TriedChange(layout, findings, cautions)
        return True

    def _solved(self, changed: Job) -> Layout | None:
        tried = attempt(changed)
        self.is_nearer = True  # nothing is known of it where rows find no places
        if tried.failures:
            return None
        layout = Layout(changed, tried.faces)
        answers = check_one(self.finding.check, layout)
        still_in = _shortage(self.finding, answers)
        self.is_nearer = still_in is None or still_in < self.missing_in - TOLERANCE_IN
        return layout if self._is_gone(answers) else None

    def _is_gone(self, answers: Sequence[Finding]) -> bool:
        """Whether the check no longer says this of the face, nor now says that it cannot tell."""
        worst = self.finding.outcome.gravity
        if any(one.face == self.finding.face and one.outcome.gravity <= worst for one in answers):
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


def _shortage(finding: Finding, answers: Sequence[Finding]) -> float | None:
    """How much the answer to the same question lacks, in the finding's unit; None when it is not as grave."""
    for one in answers:
        is_as_grave = one.face == finding.face and one.outcome.gravity <= finding.outcome.gravity
        if is_as_grave and one.provided is not None and one.required is not None:
            return abs(one.required - one.provided)
    return None


def _more(outcome: Outcome, before: Sequence[Finding], after: Sequence[Finding]) -> tuple[str, ...]:
    """Names of the checks with that outcome for holes or faces that did not have it, or now lack more."""
    new = (
        one.check for one in after if one.outcome is outcome and not any(_covers(old, one) for old in before)
    )
    return tuple(dict.fromkeys(new))


def _covers(old: Finding, new: Finding) -> bool:
    """Whether an old finding was as bad as a new one in every way."""
    if (old.check, old.face) != (new.check, new.face) or old.outcome.gravity > new.outcome.gravity:
        return False
    if not set(old.holes).issuperset(new.holes):
        return False
    lacked, lacks = _shortage(old, [old]), _shortage(new, [new])
    is_less_grave = old.outcome.gravity < new.outcome.gravity
    return lacked is None or lacks is None or is_less_grave or lacks <= lacked + TOLERANCE_IN
