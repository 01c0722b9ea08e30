"""Holds what a rule is, what it measures at one place, and the finding that comes of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from enum import Enum
from typing import TYPE_CHECKING, Literal

from templates_engine.layout.model import FaceLayout
from templates_engine.trade.editions import in_edition
from templates_engine.values import Struct, replace

if TYPE_CHECKING:
    from templates_engine.checks.checked_face import CheckedFace

TOLERANCE_IN = 1e-6
"""What sums of floats may be off, far under any tape; short by no more than this passes as equal."""


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


class Finding(Struct, frozen=True):
    """One answer of one rule. ``provided`` and ``required`` are numbers in ``unit``, None when not checked.

    ``remedy`` says which way out there is: from a rule without figures solved for, until the stage of advice
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


# --- what a rule yields -------------------------------------------------------------------------------------


class Measurement(Struct, frozen=True):
    """One thing measured: the holes it is about, what is there, what is needed, and words that say which."""

    holes: tuple[str, ...]
    provided: float
    required: float
    what: str
    """Words for the sentence: "A1 and A2", "A1's bonding bushing and the left side wall"."""
    extra: str = ""
    label: str = ""
    """What to call it among the others of a sentence, where ``what`` is too long for that."""
    at_most: bool = False
    """Whether ``required`` is the most there may be, not the least."""
    holds: bool | None = None
    """The answer, where it is no plain comparison."""
    short: str = ""
    """Its own sentence where it is short, in place of the rule's."""

    @property
    def margin(self) -> float:
        """How much more is there than needed (or less than allowed); negative where it is short."""
        return self.required - self.provided if self.at_most else self.provided - self.required

    @property
    def is_short(self) -> bool:
        """Whether less is there than needed (or more than allowed); equality passes."""
        return self.margin < -TOLERANCE_IN if self.holds is None else not self.holds


class MissingInput(Struct, frozen=True):
    """A key the job does not give, without which the rule cannot measure a hole ("" for the enclosure)."""

    key: str
    hole: str = ""
    remedy: str = ""
    """What to write; the rule's own ``missing_remedy`` where empty."""


class NoFigure(Struct, frozen=True):
    """A hole whose figure no table lists, with the table's own sentence."""

    hole: str
    why: str


class Remark(Struct, frozen=True):
    """A finding in its own words, where a comparison of two numbers does not tell it."""

    outcome: Outcome
    message: str
    holes: tuple[str, ...] = ()
    provided: float | None = None
    required: float | None = None
    remedy: str = ""


Answer = Measurement | MissingInput | NoFigure | Remark


# --- the rule -----------------------------------------------------------------------------------------------

Measure = Callable[["CheckedFace"], Iterable[Answer]]


class Rule(Struct, frozen=True):
    """What is measured, against which limit, who says so, what it leaves out; and how to measure it.

    ``rests_on`` decides how grave its findings may be: only geometry and code articles can fail a job, custom
    and remembered figures only caution. A rule stands as a decorator over the function that measures, which
    yields what it finds at one face; the driver picks the worst and words it by ``short`` or ``fine`` (left
    out, the same), sentences without a full stop in which these stand:

    ========================  ============================================================================
    {what} {extra} {label}    the measurement's own words
    {there} {needed}          the two lengths, told so that they differ where they do
    {room} {lack}             what is there, and by how much it is short, as lengths
    {bound}                   "at least", or "at most"
    {provided} {required}     the two numbers
    ========================  ============================================================================

    In ``limit``, ``source`` and ``leaves_out`` stand rules of the table of articles in braces where editions
    of the code put them in different places.
    """

    name: str
    what: str
    limit: str
    source: str
    leaves_out: str
    rests_on: Literal["geometry", "code", "custom"]
    short: str = ""
    fine: str = ""
    remedy: str = ""
    missing_remedy: str = ""
    """What to write where an input is missing; left out, the ``remedy``."""
    no_figure_remedy: str = ""
    """What to do where no table has the figure."""
    unit: str = "in"
    at_worst: Outcome = Outcome.FAIL
    """How grave a finding can be: a caution where there are other ways to comply, not checked where it only
    asks. What rests on custom never fails.
    """
    once_a_job: bool = False
    """Whether it asks about the enclosure, not about each face."""
    names_shop: bool = False
    """Whether the shop file's own fittings are named beside the source."""
    measure: Measure = lambda _: ()

    def __call__(self, measure: Measure) -> Rule:
        """The rule with the function it is written over."""
        return replace(self, measure=measure)

    @property
    def gravest(self) -> Outcome:
        """What a short measurement is, and the gravest of the rule's findings."""
        if self.rests_on == "custom" and self.at_worst is Outcome.FAIL:
            return Outcome.CAUTION
        return self.at_worst

    def source_in(self, edition: str) -> str:
        """Who says so, by the articles of one edition of the code."""
        return in_edition(self.source, edition)


def passes(face: FaceLayout, findings: Iterable[Finding]) -> bool:
    """Whether nothing fails on the face, nor of the whole job."""
    words = ("", face.job.face.value)
    return not any(one.outcome is Outcome.FAIL and one.face in words for one in findings)
