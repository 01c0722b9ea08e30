"""Names the distances whose readings would settle what is wrong with taped sheets, or that nothing is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templates_engine.sheets.explained import Explanation
from templates_engine.sheets.measured_places import Bars, Span, bar_spans, edge_spans
from templates_engine.sheets.model import FacePlan
from templates_engine.sheets.readings import Taken, hole_spans
from templates_engine.sheets.suspects import Cells, Suspect, joint_slips, lone_slips

ALLOWED_IN = 1 / 32
"""Over the row, from layout to metal."""
ALLOWED_WORDS = {"in": "1/32 in", "mm": "0.8 mm"}
"""It as a rule of either unit shows it."""
LONG_ENOUGH = 0.75
"""A row is measured once a reading spans this share of it."""
SHORT_ROW_IN = 6.0
"""Over less than this no error that a printer makes comes to ALLOWED_IN."""
SEEN = 0.5
"""A reading shows a direction when at least this share of an error along it comes into the reading."""
MOST_NAMED = 4
MOST_SPANS = 600
_PLAIN_IN = 0.25
"""Beyond this two explanations are told apart no better for being further apart."""


def candidates(plan: FacePlan, bars: Bars, from_can: bool, is_metric: bool) -> list[Span]:
    """All that is worth measuring: pairs of holes, holes from the can's edges where that is done, bars."""
    edges = edge_spans(plan) if from_can else ()
    return [*_worthy_holes(plan), *edges, *bar_spans(bars, is_metric)]


def telling_spans(
    rivals: Sequence[Explanation], spans: Sequence[Span], taken: Sequence[Taken], cells: Cells
) -> tuple[Span, ...]:
    """Few spans whose readings would tell the rivals apart, the most telling first; never none.

    A span that was read is named only where reading it again tells more than any other.
    """
    read = {one.span.key for one in taken}
    fresh = [span for span in spans if span.key not in read]
    again = [
        one.span for one in taken if any(taken[n].span.key == one.span.key for r in rivals for n in r.misread)
    ]
    chosen: list[Span] = []
    open_pairs = {(a, b) for a in range(len(rivals)) for b in range(a)}
    for pool in (fresh, again):
        offs = {span: [one.expected_off_in(span, cells) for one in rivals] for span in pool}
        while open_pairs and len(chosen) < MOST_NAMED:
            best = max(pool, key=lambda span: _worth(offs[span], open_pairs), default=None)
            settled = {pair for pair in open_pairs if best and _apart(offs[best], pair) > ALLOWED_IN}
            if best is None or not settled:
                break
            chosen.append(best)
            open_pairs -= settled
    if len(rivals) == 1 and fresh:
        chosen.append(max(fresh, key=lambda span: abs(rivals[0].expected_off_in(span, cells))))
    return tuple(chosen) or _longest(fresh) or _worst(taken)


def joint_by_joint(
    plan: FacePlan, spans: Sequence[Span], taken: Sequence[Taken], cells: Cells
) -> tuple[Span, ...]:
    """What to read when several things are wrong at once: each joint by its nearest holes, then the bars."""
    read = {one.span.key for one in taken}
    fresh = [span for span in spans if span.key not in read]
    chosen: list[Span] = []
    for slip in joint_slips(plan):
        over = [span for span in fresh if span.bar is None and abs(cells.effect(slip, span)) > SEEN]
        if over:
            chosen.append(min(over, key=lambda span: (span.length_in, span.name)))
    chosen += (span for span in fresh if span.bar is not None)
    return tuple(dict.fromkeys(chosen))[:MOST_NAMED] or _longest(fresh) or _worst(taken)


def spans_to_measure(plan: FacePlan, given: Sequence[Span]) -> tuple[Span, ...]:
    """What must read true, besides what was given, before the sheets are good.

    The whole row is measured, over every joint that has holes on both sides, and to every sheet with a hole:
    one that slipped alone leaves what is measured past it as it was. A slip along a joint shows from another
    row, or else from the can's edges, where a rule can be set to them.
    """
    cells = Cells(plan)
    holes = _worthy_holes(plan)
    needs: list[tuple[Suspect, Sequence[Span], float]] = []
    for axis in ("x", "y"):
        scale = Suspect("scale", axis)
        most = max((cells.effect(scale, span) for span in holes), default=0.0)
        needs.append((scale, holes, LONG_ENOUGH * most if most > SHORT_ROW_IN else 0.0))
    spans = [*holes, *edge_spans(plan)]
    needs += ((slip, spans, SEEN) for slip in _slips_between(plan))
    chosen: list[Span] = []
    for suspect, pool, least in needs:
        if least and all(abs(cells.effect(suspect, span)) < least - 1e-9 for span in (*given, *chosen)):
            best = max(pool, key=lambda span: abs(cells.effect(suspect, span)), default=None)
            if best and abs(cells.effect(suspect, best)) >= least - 1e-9:
                chosen.append(best)
    return tuple(dict.fromkeys(chosen))


def hidden_slips(plan: FacePlan) -> tuple[int, ...]:
    """The sheets with a hole whose slip along their joints no distance shows: a rule finds no edge there."""
    cells = Cells(plan)
    spans = [*_worthy_holes(plan), *edge_spans(plan)]
    with_hole = {cells.sheet_at(plan.centre_of(hole)) for hole in plan.layout.holes}
    return tuple(
        slip.sheets[0]
        for slip in lone_slips(plan)
        if slip.axis == "y"
        and len(slip.sheets) == 1
        and slip.sheets[0] in with_hole
        and len(plan.sheets) > 1
        and all(abs(cells.effect(slip, span)) < SEEN for span in spans)
    )


def _slips_between(plan: FacePlan) -> Iterator[Suspect]:
    """All slips of some sheets against others."""
    for slip in dict.fromkeys((*joint_slips(plan), *lone_slips(plan))):
        if len(slip.sheets) < len(plan.sheets):
            yield slip


def placing_spans(plan: FacePlan, given: Sequence[Span]) -> tuple[Span, ...]:
    """Distances from the can's edges that still would show whether good sheets lie true on it."""
    from_can = [span for span in given if any(span.on_can)]
    edges = list(edge_spans(plan))
    along = [span for span in edges if abs(span.along.x) > SEEN]
    upright = [span for span in edges if abs(span.along.y) > SEEN]
    named: list[Span] = []
    if along and not any(abs(span.along.x) > SEEN for span in from_can):
        named.append(along[0])
    if upright and not any(abs(span.along.y) > SEEN for span in from_can):
        named += (upright[0], upright[-1])
    return tuple(dict.fromkeys(named))


# --- choosing -----------------------------------------------------------------------------------------------


def _worthy_holes(plan: FacePlan) -> list[Span]:
    """Pairs of holes; of very many, the longest and those of neighbours."""
    spans = list(hole_spans(plan))
    if len(spans) <= MOST_SPANS:
        return spans
    spans.sort(key=lambda span: -span.length_in)
    return spans[: MOST_SPANS // 2] + spans[-MOST_SPANS // 2 :]


def _apart(offs: Sequence[float], pair: tuple[int, int]) -> float:
    return abs(offs[pair[0]] - offs[pair[1]])


def _worth(offs: Sequence[float], open_pairs: set[tuple[int, int]]) -> tuple[int, float]:
    """How many pairs of rivals a reading settles, and how plainly."""
    apart = [_apart(offs, pair) for pair in sorted(open_pairs)]
    plainly = sum(min(one, _PLAIN_IN) for one in apart)
    return sum(one > ALLOWED_IN for one in apart), round(plainly, 6)


def _longest(fresh: Sequence[Span]) -> tuple[Span, ...]:
    """The longest distances: what a scale error shows best in."""
    return tuple(sorted(fresh, key=lambda span: -span.length_in)[:2])


def _worst(taken: Sequence[Taken]) -> tuple[Span, ...]:
    """The reading that is furthest off, to be read again."""
    return (max(taken, key=lambda one: abs(one.off_in)).span,)


def said(spans: Sequence[Span]) -> Iterator[str]:
    """As readings are written."""
    return (span.name for span in spans)
