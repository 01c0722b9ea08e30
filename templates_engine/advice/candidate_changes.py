"""Turns a finding's trial into the single changes that cure it, likeliest first, each of them tried."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterator
from itertools import islice

from templates_engine.advice.tried_change import FindingTrial
from templates_engine.geometry import TOLERANCE_IN
from templates_engine.job.model import CentreLine, FaceJob, FromEdge, Job, Raceway, Row, Strut
from templates_engine.layout.back_line import deep_enough, strut_words
from templates_engine.layout.job_changes import (
    Remedy,
    along,
    apart_words,
    centred,
    larger,
    other_order,
    started,
    two_rows,
    with_apart,
)
from templates_engine.trade import strut as strut_table
from templates_engine.trade.enclosure_sizes import Dimension
from templates_engine.trade.not_in_tables import listed
from templates_engine.values import replace

_MOST_FARTHER_IN = 1.0
"""How much farther off the wall an enclosure is still proposed to stand."""
_TRIES = 3
"""Graduations tried beyond the one that what is missing points at: rounding and snap may take some."""

Maker = Callable[[FindingTrial], Iterator[Remedy]]
"""Yields changes of one kind, the likeliest first; it goes on only where the one before did not help."""


def cures(trial: FindingTrial) -> Iterator[Remedy]:
    """The changes that cure the finding, one of each kind, one after the other as they are found."""
    for maker in _MAKERS if trial.rows else _OF_THE_ENCLOSURE:
        yield from islice(trial.helpful(maker), 1)


# --- strut and lines ----------------------------------------------------------------------------------------


def struts_to_try(strut: Strut, back_gap_in: float) -> tuple[Strut, ...]:
    """The row's strut with other depths, single and stacked, that reach the enclosure's back.

    Usual depths come first, then other single ones, then stacks, each time the nearest to the present depth
    before the others; a stack as deep as a single strut is left out.
    """
    singles = deep_enough(strut, back_gap_in)
    known = [one.total_in for one in singles]
    stacks = (Strut(pair, strut.shim_in) for pair in strut_table.stacked_pairs())
    new = [
        one
        for one in stacks
        if one.total_in >= back_gap_in and not any(abs(one.total_in - total) <= 1 / 128 for total in known)
    ]
    others = [one for one in (*singles, *new) if abs(one.total_in - strut.total_in) > TOLERANCE_IN]

    def rank(one: Strut) -> tuple[bool, int, float]:
        return not is_usual(one), len(one.depths_in), abs(one.total_in - strut.total_in)

    return tuple(sorted(others, key=rank))


def is_usual(strut: Strut) -> bool:
    """Whether the strut is one of the two depths most often at hand."""
    return len(strut.depths_in) == 1 and strut.depths_in[0] in strut_table.USUAL_IN


def _other_strut(trial: FindingTrial) -> Iterator[Remedy]:
    rows = {at: row for at, row in trial.rows.items() if row.strut and row.back_line in ("strut", "auto")}
    now = next((row.strut for row in rows.values() if row.strut is not None), None)
    if now is None:
        return

    def on(strut: Strut) -> Job:
        return trial.with_rows({at: replace(row, strut=strut) for at, row in rows.items()})

    which = _for_rows(trial, rows.values())
    for other in _promising(trial, now, on):
        yield Remedy(f"use {strut_words(other, trial.lengths)}{which}", on(other))


def _promising(trial: FindingTrial, now: Strut, on: Callable[[Strut], Job]) -> Iterator[Strut]:
    """The struts to try, without the deeper or the shallower ones where the next of them already harms."""
    others = struts_to_try(now, trial.job.enclosure.back_gap_in)
    deeper = [one for one in others if one.total_in > now.total_in]
    shallower = [one for one in others if one.total_in < now.total_in]
    futile: list[Strut] = []
    for side in (deeper, shallower):
        if side:
            next_one = min(side, key=lambda one: abs(one.total_in - now.total_in))
            if not trial.solves(on(next_one)) and not trial.is_nearer:
                futile += side
    return (one for one in others if one not in futile)


def _back_line(trial: FindingTrial) -> Iterator[Remedy]:
    """A back line given as a length, or a centre line, moved by what is missing."""
    line = trial.row.back_line
    if len(trial.rows) != 1 or isinstance(line, str):
        return
    name, now_in = ("centre line", line.at_in) if isinstance(line, CentreLine) else ("back line", line)
    for at_in in _moved(trial, now_in):
        moved = CentreLine(at_in) if isinstance(line, CentreLine) else at_in
        words = f"make the {name} {trial.lengths.say(at_in)}{_for_rows(trial, [trial.row])}"
        yield Remedy(words, trial.with_row(replace(trial.row, back_line=moved)))


def _clear_of_rows_behind(trial: FindingTrial) -> Iterator[Remedy]:
    at, row = max(trial.rows.items(), key=lambda item: item[0])
    if at > 0 and row.back_line != "auto" and not isinstance(row.back_line, CentreLine):
        changed = trial.with_rows({at: replace(row, back_line="auto")})
        yield Remedy(f"put row {row.name} clear of the rows behind it (back line: auto)", changed)


def _farther_off_the_wall(trial: FindingTrial) -> Iterator[Remedy]:
    """The least distance off the wall on a graduation that cures it."""
    enclosure, step = trial.job.enclosure, trial.fine_in
    if trial.missing_in > _MOST_FARTHER_IN:
        return
    first = math.ceil((enclosure.back_gap_in + trial.missing_in - TOLERANCE_IN) / step)
    for count in range(first, first + _TRIES):
        changed = replace(trial.job, enclosure=replace(enclosure, back_gap_in=count * step))
        yield Remedy(
            f"stand the enclosure {trial.lengths.say(count * step)} off the wall (back gap)", changed
        )
        if not trial.is_nearer:
            return


# --- along the row ------------------------------------------------------------------------------------------


def _other_gap(trial: FindingTrial) -> Iterator[Remedy]:
    """The gap or the spacing of the rows made larger, or smaller, by what is missing."""
    rows = {at: row for at, row in trial.rows.items() if len(row.raceways) > 1}
    named = {apart_words(row) for row in rows.values()}
    gaps = [apart for row in rows.values() if not isinstance(apart := _apart(row), str)]
    if len(named) != 1 or len(gaps) < len(rows):
        return
    name, which = named.pop(), _for_rows(trial, rows.values())
    for tries in _gaps_to_try(trial, min(gaps), max(len(row.raceways) for row in rows.values())):
        for gap_in in tries:
            changed = trial.with_rows({at: _widened(row, gap_in) for at, row in rows.items()})
            yield Remedy(f"make the {name} {trial.lengths.say(gap_in)}{which}", changed)
            if not trial.is_nearer:
                break


def _gaps_to_try(trial: FindingTrial, gap_in: float, raceways: int) -> Iterator[list[float]]:
    """Larger gaps, then smaller ones, each time those nearest to what is missing."""
    step = trial.fine_in
    first = math.ceil((gap_in + trial.missing_in - TOLERANCE_IN) / step)
    yield [count * step for count in range(first, first + _TRIES)]
    for sides in (1, 2):  # a row from an edge gives way at one end, a centred one at both
        share_in = sides * trial.missing_in / (raceways - 1)
        last = math.floor((gap_in - share_in + TOLERANCE_IN) / step)
        yield [count * step for count in range(last, last - _TRIES, -1) if count > 0]


def _apart(row: Row) -> float | str:
    """The row's gap, or its spacing."""
    return row.gap if row.spacing_in is None else row.spacing_in


def _widened(row: Row, apart_in: float) -> Row:
    """The row with its gap or spacing changed, and no pair's own one under it where it grows."""
    now = _apart(row)
    grows = not isinstance(now, str) and apart_in > now

    def is_under(own: float | str | None) -> bool:
        return grows and isinstance(own, float | int) and own < apart_in

    def one(raceway: Raceway) -> Raceway:
        if row.spacing_in is None and is_under(raceway.gap_before_in):
            return replace(raceway, gap_before_in=apart_in)
        if row.spacing_in is not None and is_under(raceway.spacing_before_in):
            return replace(raceway, spacing_before_in=apart_in)
        return raceway

    return with_apart(replace(row, raceways=tuple(map(one, row.raceways))), apart_in)


def _other_start(trial: FindingTrial) -> Iterator[Remedy]:
    """The row's start moved along the face by what is missing."""
    placing = trial.row.placing
    if len(trial.rows) == 1 and isinstance(placing, FromEdge):
        for at_in in _moved(trial, placing.distance_in):
            remedy = started(trial, placing, at_in)
            yield replace(remedy, words=f"{remedy.words}{_for_rows(trial, [trial.row])}")


def _moved(trial: FindingTrial, now_in: float) -> Iterator[float]:
    """Lengths on a graduation that differ by what is missing, up or down, or slightly more."""
    step = trial.fine_in
    up = math.ceil((now_in + trial.missing_in - TOLERANCE_IN) / step)
    down = math.floor((now_in - trial.missing_in + TOLERANCE_IN) / step)
    for more in range(_TRIES):
        yield (up + more) * step
        if down - more >= 0:
            yield (down - more) * step


# --- holes, rows and enclosures -----------------------------------------------------------------------------


def _standard_hole(trial: FindingTrial) -> Iterator[Remedy]:
    """The standard's knockout instead of the holes the job asks for."""
    named = [
        one.id
        for row in trial.rows.values()
        for one in row.raceways
        if one.id in trial.finding.holes and one.hole != "knockout"
    ]
    if not named:
        return

    def standard(raceway: Raceway) -> Raceway:
        return replace(raceway, hole="knockout") if raceway.id in named else raceway

    rows = trial.rows.items()
    changed = {at: replace(row, raceways=tuple(map(standard, row.raceways))) for at, row in rows}
    yield Remedy(
        f"cut the standard's knockout for {', '.join(named)} (hole: knockout)", trial.with_rows(changed)
    )


def _one_row(maker: Maker) -> Maker:
    """A maker that changes one row, where the finding is about one."""
    return lambda trial: maker(trial) if len(trial.rows) == 1 else iter(())


def _larger(dimension: Callable[[FaceJob], Dimension]) -> Maker:
    """The next larger enclosure in a dimension."""
    return lambda trial: larger(trial, dimension(trial.face))


def _across(face: FaceJob) -> Dimension:
    """The dimension that runs away from a face."""
    return "width" if along(face) == "height" else "height"


def _for_rows(trial: FindingTrial, rows: Collection[Row]) -> str:
    """Which rows a change is for, where the face has others too."""
    if len(trial.face.rows) == 1:
        return ""
    return f" for {'row' if len(rows) == 1 else 'rows'} {listed((row.name for row in rows), 'and')}"


_LARGER = (_larger(along), _larger(lambda _: "depth"), _larger(_across))
_MAKERS: tuple[Maker, ...] = (
    _other_strut,
    _back_line,
    _clear_of_rows_behind,
    _standard_hole,
    _other_gap,
    _other_start,
    _one_row(centred),
    _one_row(other_order),
    _farther_off_the_wall,
    _one_row(two_rows),
    *_LARGER,
)
_OF_THE_ENCLOSURE: tuple[Maker, ...] = (_farther_off_the_wall, *_LARGER)
