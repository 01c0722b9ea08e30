"""Turns findings into findings whose remedies were solved before they are offered; makes no change itself."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import islice

from templates_engine.advice.candidate_changes import cures
from templates_engine.advice.tried_change import FindingTrial, TriedChange
from templates_engine.checks import RULES
from templates_engine.checks.model import Finding, Outcome
from templates_engine.job.model import Job
from templates_engine.layout.model import Hole, Layout
from templates_engine.layout.tolerance import TOLERANCE_IN
from templates_engine.units import LengthFormat
from templates_engine.values import Struct, replace

MOST_OFFERED = 3
"""Remedies offered for one finding; the likeliest are tried first."""


class Offer(Struct, frozen=True):
    """A change that cures a finding: what to do and what comes of it in words, and the job with it done."""

    words: str
    job: Job


def advise(layout: Layout, findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """The findings with the remedies that were tried; what no change of the layout cures keeps its words."""
    return tuple(_advised(layout, findings, finding) for finding in findings)


def offers(layout: Layout, findings: Sequence[Finding], finding: Finding) -> tuple[Offer, ...]:
    """The single changes that cure a finding, solved and checked; ``findings`` are all of the layout.

    Each solves every row, ends what the check says of this face, and lets no check fail that did not; to cure
    a caution none may bring another.
    """
    if not is_measured(finding):
        return ()
    trial = FindingTrial(layout, findings, finding)
    found = islice(cures(trial), MOST_OFFERED)
    return tuple(
        Offer(f"{remedy.words}: {_outcome(trial, trial.cured[remedy.job])}", remedy.job) for remedy in found
    )


def is_measured(finding: Finding) -> bool:
    """Whether a finding is bad and about lengths, so that another layout might cure it."""
    return finding.outcome in (Outcome.FAIL, Outcome.CAUTION) and finding.unit == "in"


def _advised(layout: Layout, findings: Sequence[Finding], finding: Finding) -> Finding:
    if not is_measured(finding):
        return finding
    words = tuple(offer.words for offer in offers(layout, findings, finding))
    if words:
        return replace(finding, remedy=_sentence(words), solved_remedies=words)
    if finding.outcome is Outcome.FAIL:
        return replace(finding, remedy=f"No single change tried cures it. {finding.remedy}")
    return finding


def _sentence(words: tuple[str, ...]) -> str:
    if len(words) == 1:
        return f"This cures it: {words[0]}."
    return f"Any one of these cures it: {'; '.join(words)}."


def _outcome(trial: FindingTrial, cured: TriedChange) -> str:
    """What comes of a change: "every hole fits, centre of A1 moves to 2-13/16 from the back"."""
    parts = [_verdict(trial.finding, cured), *_moves(trial, cured.layout)]
    words = ", ".join(parts)
    if cured.new_cautions:
        words += f", but with a caution: {', '.join(cured.new_cautions)}"
    return words


def _verdict(finding: Finding, cured: TriedChange) -> str:
    if finding.outcome is Outcome.CAUTION:
        return "this caution is gone"
    if any(one.outcome is Outcome.FAIL for one in cured.findings):
        return "this check passes, others still fail"
    rule = next(one for one in RULES if one.name == finding.check)
    return "every hole fits" if rule.rests_on == "geometry" else "every check passes"


def _moves(trial: FindingTrial, after: Layout) -> list[str]:
    """Where the first of the finding's holes that moves goes; nothing when none does."""
    before = {hole.id: hole for hole in _holes(trial.layout, trial.face_index)}
    moved = {hole.id: hole for hole in _holes(after, trial.face_index)}
    for name in trial.finding.holes:
        if name in before and name in moved:
            words = _move(trial, before[name], moved[name])
            if words:
                return [f"centre of {name} moves to {words}"]
    return []


def _move(trial: FindingTrial, old: Hole, new: Hole) -> str:
    places = []
    if abs(new.v_in - old.v_in) > TOLERANCE_IN:
        places.append(f"{_mark(new.v_in, trial.lengths)} from the back")
    if abs(new.u_in - old.u_in) > TOLERANCE_IN:
        places.append(f"{_mark(new.u_in, trial.lengths)} from the {trial.face.face.start_edge}")
    return " and ".join(places)


def _mark(inches: float, lengths: LengthFormat) -> str:
    """What the tape shows there; millimetres are named, inches need not be."""
    return lengths.mark(inches) if lengths.unit == "in" else f"{lengths.mark(inches)} mm"


def _holes(layout: Layout, face_index: int) -> tuple[Hole, ...]:
    return layout.faces[face_index].holes
