"""Turns measured cases into one Finding a face, so that sixty like holes make one line."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.job.model import Job
from templates_engine.units import Speech, read_length, to_mm

TOLERANCE_IN = 1e-6
"""What sums of floats may be off, far under any tape; short by no more than this passes as equal."""

_PLACES = 9
"""Decimal places that count: equal cases stay in file order, and findings carry no noise of float sums."""

_INCHES = re.compile(r"\b(?:[0-9]+-)?[0-9]+(?:/[0-9]+)? in\b(?! [a-z])")
"""A length in a source's words, and no trade size or count before another word."""

NAMED_AT_MOST = 4
"""How many further holes a sentence names before it only counts them."""


@dataclass(frozen=True)
class Case:
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

    @property
    def margin(self) -> float:
        return self.required - self.provided if self.at_most else self.provided - self.required

    @property
    def is_short(self) -> bool:
        """Whether less is there than needed (or more than allowed); equality passes."""
        return self.margin < -TOLERANCE_IN if self.holds is None else not self.holds


def speech_of(job: Job) -> Speech:
    """How lengths are said to this job's reader."""
    return Speech(job.unit, job.denominator)


def length(inches: float, speech: Speech) -> str:
    """A length in a sentence; one under a tape's least mark by its decimal alone, such as 0.015 in, and never
    as 0 where there is something.
    """
    if abs(inches) > TOLERANCE_IN and speech.mark(abs(inches)) == "0":
        shown = speech.exact(inches)
        least = "0.01" if speech.unit == "mm" else "0.0001"
        return f"less than {least} {speech.unit}" if shown in ("0", "-0") else f"{shown} {speech.unit}"
    return speech.say(inches)


def there(case: Case, speech: Speech) -> str:
    """The length a case has, told so that it differs from the one it needs where the two do."""
    return _told_apart(case.provided, case.required, speech)


def needed(case: Case, speech: Speech) -> str:
    """The length a case needs, told so that it differs from the one it has where the two do."""
    return _told_apart(case.required, case.provided, speech)


def _told_apart(inches: float, other_in: float, speech: Speech) -> str:
    """A length by its exact decimal, with as many figures as it takes, where its mark is the other's too."""
    if abs(inches - other_in) <= TOLERANCE_IN or speech.mark(inches) != speech.mark(other_in):
        return length(inches, speech)
    if speech.exact(inches) != speech.exact(other_in):
        return f"{speech.exact(inches)} {speech.unit}"
    figures = inches if speech.unit == "in" else to_mm(inches)
    return f"{figures:.{_PLACES - 3}f} {speech.unit}"


def in_millimetres(words: str) -> str:
    """A source's own words with its inches as whole millimetres, for a metric job: "within about 3 mm"."""
    return _INCHES.sub(lambda found: f"{to_mm(read_length(found.group())):.0f} mm", words)


def listed(words: Sequence[str], joiner: str = "and") -> str:
    """Words in a row: A1, A1 and A2, A1, A2 and A3."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {joiner} {words[-1]}"


def also(others: Sequence[str]) -> str:
    """The other cases of a sentence in brackets, counted where they are many; nothing for none."""
    if not others:
        return ""
    if len(others) <= NAMED_AT_MOST:
        return f" (also {listed(others)})"
    return f" (also {', '.join(others[:NAMED_AT_MOST])} and {len(others) - NAMED_AT_MOST} more)"


def unique(words: Iterable[str]) -> tuple[str, ...]:
    """The words once each, in the order they first come."""
    return tuple(dict.fromkeys(words))


def judge(
    about: About,
    face: str,
    cases: Iterable[Case],
    *,
    when_short: Outcome,
    short: Callable[[Case], str],
    fine: Callable[[Case], str],
    remedy: str,
    unit: str = "in",
    source: str | None = None,
) -> tuple[Finding, ...]:
    """One Finding from all cases of a face (its word, "" for the whole job): the worst short one with the
    others named, or the closest that passes.

    ``short`` and ``fine`` make a sentence, without its full stop, from the case that is told.
    """
    ordered = sorted(cases, key=lambda case: (not case.is_short, round(case.margin, _PLACES)))
    if not ordered:
        return ()
    failing = [case for case in ordered if case.is_short]
    told = ordered[0]
    others = unique(case.label or case.what for case in failing if case.holes != told.holes)
    message = f"{short(told)}{also(others)}." if failing else f"{fine(told)}."
    return (
        Finding(
            check=about.name,
            outcome=when_short if failing else Outcome.OK,
            face=face,
            holes=unique(hole for case in (failing or [told]) for hole in case.holes),
            provided=round(told.provided, _PLACES) + 0.0,
            required=round(told.required, _PLACES) + 0.0,
            unit=unit,
            source=source or about.source,
            message=message,
            remedy=remedy if failing else "",
        ),
    )


def not_checked(about: About, face: str, missing: dict[str, list[str]], remedy: str) -> tuple[Finding, ...]:
    """One Finding that names every missing input and the holes that lack it; none when nothing is missing.

    ``missing`` maps the words for an input ("wire", "first support") to hole ids, empty for the whole
    enclosure.
    """
    if not missing:
        return ()
    holes = unique(hole for ids in missing.values() for hole in ids)
    parts = [f"'{name}'{_of(ids, holes)}" for name, ids in missing.items()]
    where = f" for {_short_list(holes)}" if holes else ""
    return (
        Finding(
            check=about.name,
            outcome=Outcome.NOT_CHECKED,
            face=face,
            holes=holes,
            provided=None,
            required=None,
            unit="",
            source=about.source,
            message=f"The job does not give {listed(parts)}{where}.",
            remedy=remedy,
        ),
    )


def _of(ids: list[str], all_holes: tuple[str, ...]) -> str:
    """Which holes lack one input, where that is not all that are named anyway."""
    return "" if not ids or unique(ids) == all_holes else f" ({_short_list(unique(ids))})"


def _short_list(ids: Sequence[str]) -> str:
    if len(ids) <= NAMED_AT_MOST + 1:
        return listed(ids)
    return f"{', '.join(ids[:NAMED_AT_MOST])} and {len(ids) - NAMED_AT_MOST} more"


def untold(about: About, face: str, holes: Sequence[str], words: str, remedy: str) -> tuple[Finding, ...]:
    """One Finding "not checked" with its own sentence, where no input is missing but a table has no
    figure."""
    return (
        Finding(
            about.name, Outcome.NOT_CHECKED, face, unique(holes), None, None, "", about.source, words, remedy
        ),
    )


def unlisted(about: About, face: str, why: dict[str, str], remedy: str) -> tuple[Finding, ...]:
    """One Finding for holes whose figures no table lists; ``why`` maps their ids to the tables' sentences."""
    if not why:
        return ()
    (first, sentence), *others = why.items()
    words = f"{first}: {sentence.rstrip('.')}{also([hole for hole, _ in others])}."
    return untold(about, face, tuple(why), words, remedy)
