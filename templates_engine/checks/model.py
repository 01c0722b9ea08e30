"""A check's answer: what is there, what is needed, who says so, and what to do."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum
from typing import Literal

from templates_engine.layout.model import FaceLayout


class Outcome(Enum):
    """How a check came out, gravest first."""

    FAIL = "fail"
    CAUTION = "caution"
    NOT_CHECKED = "not checked"
    OK = "ok"

    @property
    def gravity(self) -> int:
        """0 for the gravest; findings are sorted by it."""
        return list(Outcome).index(self)


@dataclass(frozen=True)
class Finding:
    """One answer of one check. ``provided`` and ``required`` are numbers in ``unit``, None when not checked.

    ``remedy`` says which way out there is: from a check without figures solved for, until the stage of advice
    has solved the job with single changes and puts those that help in its place, each also by itself in
    ``solved_remedies``.
    """

    check: str
    outcome: Outcome
    face: str
    """The face's word, or "" when the finding is about the whole job."""
    holes: tuple[str, ...]
    provided: float | None
    required: float | None
    unit: str
    source: str
    message: str
    remedy: str
    solved_remedies: tuple[str, ...] = ()


@dataclass(frozen=True)
class About:
    """What a check is, for whoever asks to have it explained.

    ``rests_on`` decides how grave its findings may be: only geometry and code articles can fail a job; custom
    and
    remembered figures can only caution.
    """

    name: str
    what: str
    limit: str
    source: str
    leaves_out: str
    rests_on: Literal["geometry", "code", "custom"]

    @property
    def can_fail(self) -> bool:
        return self.rests_on != "custom"


def passes(face: FaceLayout, findings: Iterable[Finding]) -> bool:
    """Whether nothing fails on the face, nor of the whole job."""
    words = ("", face.job.face.value)
    return not any(one.outcome is Outcome.FAIL and one.face in words for one in findings)
