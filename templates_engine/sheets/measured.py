"""Turns what a rule read on taped sheets into a verdict: good, print again, a slip, or what to measure next.

The readings are explained with as little as will do: nothing wrong, then one suspect, then two. Where several
explain them about equally well nothing is decided, and pairs are named that tell them apart.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from templates_engine.sheets.model import FacePlan
from templates_engine.sheets.readings import Span, Taken, hole_spans
from templates_engine.sheets.suspects import (
    Cells,
    Explanation,
    Suspect,
    explanations,
    joint_slips,
    suspects_of,
)

ALLOWED_IN = 1 / 32
"""Over the row, from layout to metal."""
READ_WITHIN_IN = 1 / 64
"""How far off a careful reading is, as a standard deviation: half of a 1/32 in mark."""
CLEARLY_BETTER = 4.0
"""An explanation this much better in squares of READ_WITHIN_IN than the next is taken as told apart."""
LONG_ENOUGH = 0.75
"""A row is measured once a reading spans this share of it."""
SHORT_ROW_IN = 6.0
"""Over less than this no error that a printer makes comes to ALLOWED_IN."""
MOST_PAIRS = 4
MOST_RIVALS = 12
MOST_SHOWN = 4
MOST_SPANS = 600


class Verdict(Enum):
    """What to do with the sheets."""

    GOOD = "good"
    REPRINT = "reprint"
    SLIPPED = "a sheet slipped"
    CANNOT_TELL = "cannot tell"


@dataclass(frozen=True)
class Judged:
    """The verdict and what it rests on.

    ``scale_x`` and ``scale_y`` are how much too large the sheets came out along the paper as it lies, as a
    share, and None where the readings do not say; ``scale_within`` is how far off those are. ``slip_in``
    along ``slip_axis`` is how far ``sheets`` lie off to the right (x) or toward the back edge (y).
    ``measure`` names pairs to measure next.
    """

    verdict: Verdict
    scale_x: float | None = None
    scale_y: float | None = None
    scale_within: float = 0.0
    sheets: tuple[int, ...] = ()
    slip_in: float = 0.0
    slip_axis: str = ""
    sheet_scale: float | None = None
    measure: tuple[str, ...] = ()
    read_again: str = ""
    """A reading that all the others contradict."""
    all_good_so_far: bool = False
    possible: tuple[Judged, ...] = ()
    """What would explain the readings about equally well, the likeliest first."""


def judge(plan: FacePlan, taken: Sequence[Taken]) -> Judged:
    """What the readings of one face say of its sheets."""
    cells = Cells(plan)
    if all(abs(one.off_in) <= ALLOWED_IN + 1e-9 for one in taken):
        missing = spans_to_measure(plan, [one.span for one in taken])
        if missing:
            return Judged(Verdict.CANNOT_TELL, measure=_names(missing), all_good_so_far=True)
        return Judged(Verdict.GOOD)
    spans = _candidates(plan)
    suspects = _told_apart(suspects_of(plan), [*(one.span for one in taken), *spans], cells)
    for how_many in (1, 2):
        found = [
            one for one in explanations(taken, suspects, cells, how_many) if one.worst_in <= ALLOWED_IN + 1e-9
        ]
        if not found:
            continue
        best = min(found, key=lambda one: one.squares_in2)
        margin = CLEARLY_BETTER * READ_WITHIN_IN**2
        rivals = [one for one in found if one.squares_in2 - best.squares_in2 <= margin]
        if len(taken) <= how_many or len(rivals) > 1 or not _is_told(best):
            rivals.sort(key=lambda one: one.squares_in2)
            pairs = _pairs_between(rivals[:MOST_RIVALS], spans, taken, cells)
            possible = tuple(_judged(one) for one in rivals[:MOST_SHOWN] if _is_told(one))
            return Judged(Verdict.CANNOT_TELL, measure=pairs, possible=possible)
        return _judged(best)
    again = _contradicted(taken)
    missing = spans_to_measure(plan, [one.span for one in taken])
    return Judged(Verdict.CANNOT_TELL, read_again=again, measure=_names(missing))


def _is_told(best: Explanation) -> bool:
    """Two wrongs are judged only when they are of one kind or can be named: both scales."""
    return len(best.suspects) == 1 or all(one.kind == "scale" for one in best.suspects)


def _judged(best: Explanation) -> Judged:
    first = best.suspects[0]
    if first.kind == "slip":
        return Judged(
            Verdict.SLIPPED, sheets=first.sheets, slip_in=best.amounts[0], slip_axis=first.axis or ""
        )
    if first.kind == "sheet scale":
        return Judged(Verdict.REPRINT, sheets=first.sheets, sheet_scale=best.amounts[0])
    judged = Judged(Verdict.REPRINT, scale_within=max(best.within) * READ_WITHIN_IN)
    for suspect, amount in zip(best.suspects, best.amounts, strict=True):
        judged = replace(judged, **{f"scale_{suspect.axis}": amount})  # type: ignore[arg-type]
    return judged


# --- what to measure next -----------------------------------------------------------------------------------


def _candidates(plan: FacePlan) -> list[Span]:
    """Pairs of holes worth measuring; of very many, the longest and those of neighbours."""
    spans = list(hole_spans(plan))
    if len(spans) <= MOST_SPANS:
        return spans
    spans.sort(key=lambda span: -span.length_in)
    return spans[: MOST_SPANS // 2] + spans[-MOST_SPANS // 2 :]


def _told_apart(suspects: Iterable[Suspect], spans: Sequence[Span], cells: Cells) -> list[Suspect]:
    """The suspects less those that no pair of holes can tell from an earlier one, or that none can show."""
    kept: dict[tuple[float, ...], Suspect] = {}
    for suspect in suspects:
        effects = [round(cells.effect(suspect, span), 6) for span in spans]
        lead = next((effect for effect in effects if effect), 0.0)
        if not lead or max(map(abs, effects)) < 0.25:
            continue
        sign = 1 if lead > 0 else -1
        kept.setdefault(tuple(sign * effect + 0.0 for effect in effects), suspect)
    return list(kept.values())


def _pairs_between(
    rivals: Sequence[Explanation], spans: Sequence[Span], taken: Sequence[Taken], cells: Cells
) -> tuple[str, ...]:
    """Few pairs, not yet measured, whose readings would tell the rivals apart, the most telling first."""
    measured = {one.span.name for one in taken}
    told: dict[str, list[float]] = {}
    for span in spans:
        if span.name not in measured:
            told[span.name] = [_expected_off(one, span, cells) for one in rivals]
    open_pairs = {(a, b) for a in range(len(rivals)) for b in range(a)}
    if len(rivals) == 1:
        return _longest(spans, measured)
    chosen: list[str] = []
    while open_pairs and len(chosen) < MOST_PAIRS:
        settled = {
            name: {pair for pair in open_pairs if abs(offs[pair[0]] - offs[pair[1]]) > ALLOWED_IN}
            for name, offs in told.items()
            if name not in chosen
        }
        name = max(settled, key=lambda one: len(settled[one]), default=None)
        if name is None or not settled[name]:
            break
        chosen.append(name)
        open_pairs -= settled[name]
    return tuple(chosen) or _longest(spans, measured)


def _longest(spans: Sequence[Span], measured: set[str]) -> tuple[str, ...]:
    """The longest pairs not yet measured: what a scale error shows best in."""
    fresh = sorted((span for span in spans if span.name not in measured), key=lambda span: -span.length_in)
    return tuple(span.name for span in fresh[:2])


def _expected_off(one: Explanation, span: Span, cells: Cells) -> float:
    return sum(
        cells.effect(suspect, span) * amount
        for suspect, amount in zip(one.suspects, one.amounts, strict=True)
    )


def spans_to_measure(plan: FacePlan, given: Sequence[Span]) -> tuple[Span, ...]:
    """Pairs of holes that must read true, besides those given, before the sheets are good.

    The whole row is measured, and over every joint that has holes on both sides.
    """
    cells = Cells(plan)
    spans = _candidates(plan)
    needs: list[tuple[Suspect, float]] = []
    for axis in ("x", "y"):
        scale = Suspect("scale", axis)
        most = max((cells.effect(scale, span) for span in spans), default=0.0)
        needs.append((scale, LONG_ENOUGH * most if most > SHORT_ROW_IN else 0.0))
    for slip in joint_slips(plan):
        most = max((abs(cells.effect(slip, span)) for span in spans), default=0.0)
        needs.append((slip, 0.5 if most > 0.5 else 0.0))
    chosen: list[Span] = []
    for suspect, least in needs:
        done = [abs(cells.effect(suspect, span)) for span in (*given, *chosen)]
        if least and max(done, default=0.0) < least - 1e-9:
            chosen.append(max(spans, key=lambda span: abs(cells.effect(suspect, span))))
    return tuple(dict.fromkeys(chosen))


def _names(spans: Sequence[Span]) -> tuple[str, ...]:
    return tuple(span.name for span in spans)


def _contradicted(taken: Sequence[Taken]) -> str:
    """The one reading that is off where all others, three at least, are good."""
    off = [one for one in taken if abs(one.off_in) > ALLOWED_IN + 1e-9]
    return off[0].span.name if len(off) == 1 and len(taken) > 3 else ""
