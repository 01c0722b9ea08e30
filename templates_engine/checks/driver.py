"""Walks every rule over the faces of a layout and words what it measures, a line a face and outcome.

Sixty like holes make one line: the worst is told and the others are named.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from templates_engine.checks.checked_face import CheckedFace
from templates_engine.checks.fitting_sizes import with_shop
from templates_engine.checks.model import (
    Answer,
    Finding,
    Measurement,
    MissingInput,
    NoFigure,
    Outcome,
    Remark,
    Rule,
)
from templates_engine.checks.wording import (
    PLACES,
    also,
    in_millimetres,
    length,
    needed,
    short_list,
    there,
    unique,
)
from templates_engine.layout.model import Layout
from templates_engine.trade.not_in_tables import listed
from templates_engine.units import LengthFormat
from templates_engine.wiring import Contents


def run(rule: Rule, layout: Layout, contents: Contents) -> Iterator[Finding]:
    """What one rule finds, face after face."""
    for face in layout.faces[:1] if rule.once_a_job else layout.faces:
        site = CheckedFace(layout, face, contents)
        yield from _findings(rule, site, tuple(rule.measure(site)))


def _findings(rule: Rule, site: CheckedFace, answers: Sequence[Answer]) -> Iterator[Finding]:
    """The findings of one face: of what was measured, then of what could not be."""
    yield from (_finding(rule, site, one) for one in answers if isinstance(one, Remark))
    yield from _judged(rule, site, [one for one in answers if isinstance(one, Measurement)])
    yield from _missing(rule, site, [one for one in answers if isinstance(one, MissingInput)])
    yield from _no_figures(rule, site, [one for one in answers if isinstance(one, NoFigure)])


def _judged(rule: Rule, site: CheckedFace, measured: Iterable[Measurement]) -> Iterator[Finding]:
    """The worst that is short with the others named, or the closest that passes."""
    ordered = sorted(measured, key=lambda one: (not one.is_short, round(one.margin, PLACES)))
    if not ordered:
        return
    failing = [one for one in ordered if one.is_short]
    told = ordered[0]
    others = unique(one.label or one.what for one in failing if one.holes != told.holes)
    sentence = _sentence(
        (told.short or rule.short) if failing else (rule.fine or rule.short), told, site.lengths
    )
    remark = Remark(
        rule.gravest if failing else Outcome.OK,
        f"{sentence}{also(others)}.",
        unique(hole for one in (failing or [told]) for hole in one.holes),
        round(told.provided, PLACES) + 0.0,
        round(told.required, PLACES) + 0.0,
        rule.remedy if failing else "",
    )
    yield _finding(rule, site, remark)


def _sentence(template: str, one: Measurement, lengths: LengthFormat) -> str:
    return template.format(
        what=one.what,
        extra=one.extra,
        label=one.label,
        there=there(one, lengths),
        needed=needed(one, lengths),
        room=length(one.provided, lengths),
        lack=length(-one.margin, lengths),
        bound="at most" if one.at_most else "at least",
        provided=one.provided,
        required=one.required,
    )


def _missing(rule: Rule, site: CheckedFace, missing: Sequence[MissingInput]) -> Iterator[Finding]:
    """One finding for all inputs with one remedy, which names each and the holes that lack it."""
    for remedy in unique(one.remedy for one in missing):
        alike = [one for one in missing if one.remedy == remedy]
        holes = unique(one.hole for one in alike if one.hole)
        parts = []
        for key in unique(one.key for one in alike):
            ids = unique(one.hole for one in alike if one.key == key and one.hole)
            parts.append(f"'{key}'" if not ids or ids == holes else f"'{key}' ({short_list(ids)})")
        where = f" for {short_list(holes)}" if holes else ""
        words = f"The job does not give {listed(parts, 'and')}{where}."
        remark = Remark(
            Outcome.NOT_CHECKED, words, holes, remedy=remedy or rule.missing_remedy or rule.remedy
        )
        yield _finding(rule, site, remark)


def _no_figures(rule: Rule, site: CheckedFace, unlisted: Sequence[NoFigure]) -> Iterator[Finding]:
    if not unlisted:
        return
    why = {one.hole: one.why for one in unlisted}
    (first, sentence), *others = why.items()
    words = f"{first}: {sentence.rstrip('.')}{also([hole for hole, _ in others])}."
    yield _finding(rule, site, Remark(Outcome.NOT_CHECKED, words, tuple(why), remedy=rule.no_figure_remedy))


def _finding(rule: Rule, site: CheckedFace, remark: Remark) -> Finding:
    """What is told, with the rule's name, unit and source."""
    source = rule.source_in(site.job.code)
    is_checked = remark.outcome is not Outcome.NOT_CHECKED
    if rule.names_shop and is_checked:
        source = with_shop(source, site)
    return Finding(
        check=rule.name,
        outcome=remark.outcome,
        face="" if rule.once_a_job else site.word,
        holes=remark.holes,
        provided=remark.provided,
        required=remark.required,
        unit=rule.unit if is_checked else "",
        source=in_millimetres(source) if site.job.unit == "mm" else source,
        message=remark.message,
        remedy=remark.remedy,
    )
