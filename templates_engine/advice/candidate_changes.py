"""Turns a finding's trial into the single changes that cure it, likeliest first, each of them tried."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from templates_engine.advice.tried_change import FindingTrial
from templates_engine.job.model import CentreLine, FromEdge, Job, Raceway, Row, Strut
from templates_engine.layout.back_line import deep_enough, strut_words
from templates_engine.layout.job_changes import (
    Remedy,
    along,
    apart_words,
    centred,
    larger,
    other_order,
    two_rows,
    with_apart,
    with_row,
)
from templates_engine.layout.tolerance import TOLERANCE_IN
from templates_engine.trade import strut as strut_table
from templates_engine.trade.enclosure_sizes import Dimension
from templates_engine.values import replace

_MOST_FARTHER_IN = 1.0
"""How much farther off the wall an enclosure is still proposed to stand."""
_TRIES = 3
"""Graduations tried beyond the one that what is missing points at: rounding and snap may take some."""

Cure = Callable[[FindingTrial], Iterator[Remedy]]


def cures(trial: FindingTrial) -> Iterator[Remedy]:
    """The changes that cure the finding, one after the other as they are found."""
    for maker in _MAKERS if trial.rows else _OF_THE_ENCLOSURE:
        yield from maker(trial)


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
    rows = {at: trial.face.rows[at] for at in trial.rows if trial.face.rows[at].strut is not None}
    held = {at: row for at, row in rows.items() if row.back_line in ("strut", "auto")}
    now = next((row.strut for row in held.values() if row.strut is not None), None)
    if now is None:
        return

    def on(strut: Strut) -> Job:
        return _with_rows(trial, {at: replace(row, strut=strut) for at, row in held.items()})

    for other in _promising(trial, now, on):
        changed = on(other)
        if trial.helps(changed):
            which = _for_rows(trial, list(held.values()))
            yield Remedy(f"use {strut_words(other, trial.lengths)}{which}", changed)
            return


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
    is_centres = isinstance(line, CentreLine)
    for at_in in _moved(trial, line.at_in if isinstance(line, CentreLine) else line):
        changed = trial.with_row(replace(trial.row, back_line=CentreLine(at_in) if is_centres else at_in))
        if trial.helps(changed):
            name = "centre line" if is_centres else "back line"
            yield Remedy(
                f"make the {name} {trial.lengths.say(at_in)}{_for_rows(trial, [trial.row])}", changed
            )
            return


def _clear_of_rows_behind(trial: FindingTrial) -> Iterator[Remedy]:
    at = trial.rows[-1]
    row = trial.face.rows[at]
    if at == 0 or row.back_line == "auto" or isinstance(row.back_line, CentreLine):
        return
    changed = _with_rows(trial, {at: replace(row, back_line="auto")})
    if trial.helps(changed):
        yield Remedy(f"put row {row.name} clear of the rows behind it (back line: auto)", changed)


def _farther_off_the_wall(trial: FindingTrial) -> Iterator[Remedy]:
    """The least distance off the wall on a graduation that cures it."""
    enclosure, step = trial.job.enclosure, trial.steps.fine_in
    if trial.missing_in > _MOST_FARTHER_IN:
        return
    first = math.ceil((enclosure.back_gap_in + trial.missing_in - TOLERANCE_IN) / step)
    for count in range(first, first + _TRIES):
        changed = replace(trial.job, enclosure=replace(enclosure, back_gap_in=count * step))
        if trial.helps(changed):
            off = trial.lengths.say(count * step)
            yield Remedy(f"stand the enclosure {off} off the wall (back gap)", changed)
            return
        if not trial.is_nearer:
            return


def _other_gap(trial: FindingTrial) -> Iterator[Remedy]:
    """The gap or the spacing of the rows made larger, or smaller, by what is missing."""
    rows = {at: trial.face.rows[at] for at in trial.rows if len(trial.face.rows[at].raceways) > 1}
    named = {apart_words(row) for row in rows.values()}
    gaps = [apart for row in rows.values() if not isinstance(apart := _apart(row), str)]
    if len(named) != 1 or len(gaps) < len(rows):
        return
    for tries in _gaps_to_try(trial, min(gaps), max(len(row.raceways) for row in rows.values())):
        for gap_in in tries:
            changed = _with_rows(trial, {at: _widened(row, gap_in) for at, row in rows.items()})
            if trial.helps(changed):
                which = _for_rows(trial, list(rows.values()))
                yield Remedy(f"make the {named.pop()} {trial.lengths.say(gap_in)}{which}", changed)
                return
            if not trial.is_nearer:
                break


def _gaps_to_try(trial: FindingTrial, gap_in: float, raceways: int) -> Iterator[list[float]]:
    """Larger gaps, then smaller ones, each time those nearest to what is missing."""
    step = trial.steps.fine_in
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
    if len(trial.rows) != 1 or not isinstance(placing, FromEdge):
        return
    face = trial.face.face
    edge = face.start_edge if placing.edge == "start" else face.end_edge
    for at_in in _moved(trial, placing.distance_in):
        changed = trial.with_row(replace(trial.row, placing=replace(placing, distance_in=at_in)))
        if trial.helps(changed):
            which = _for_rows(trial, [trial.row])
            yield Remedy(f"start it {trial.lengths.say(at_in)} from the {edge} edge{which}", changed)
            return


def _moved(trial: FindingTrial, now_in: float) -> Iterator[float]:
    """Lengths on a graduation that differ by what is missing, up or down, or slightly more."""
    step = trial.steps.fine_in
    up = math.ceil((now_in + trial.missing_in - TOLERANCE_IN) / step)
    down = math.floor((now_in - trial.missing_in + TOLERANCE_IN) / step)
    for more in range(_TRIES):
        yield (up + more) * step
        if down - more >= 0:
            yield (down - more) * step


def _standard_hole(trial: FindingTrial) -> Iterator[Remedy]:
    """The standard's knockout instead of the holes the job asks for."""
    named = [
        one.id
        for row in trial.involved()
        for one in row.raceways
        if one.id in trial.finding.holes and one.hole != "knockout"
    ]
    if not named:
        return

    def standard(raceway: Raceway) -> Raceway:
        return replace(raceway, hole="knockout") if raceway.id in named else raceway

    rows = {at: trial.face.rows[at] for at in trial.rows}
    changed = _with_rows(
        trial,
        {at: replace(row, raceways=tuple(map(standard, row.raceways))) for at, row in rows.items()},
    )
    if trial.helps(changed):
        yield Remedy(f"cut the standard's knockout for {', '.join(named)} (hole: knockout)", changed)


def _one_row(maker: Callable[[FindingTrial], Iterator[Remedy]]) -> Cure:
    """A maker that changes one row, where the finding is about one."""

    def made(trial: FindingTrial) -> Iterator[Remedy]:
        if len(trial.rows) == 1:
            yield from maker(trial)

    return made


def _two_rows(trial: FindingTrial) -> Iterator[Remedy]:
    """The row parted in two near its middle; a part of one or two raceways is not looked for at any cost."""
    yield from two_rows(trial, most_tries=_TRIES)


def _larger(trial: FindingTrial) -> Iterator[Remedy]:
    """The next larger enclosure along the face, from back to front, and away from the face."""
    first = along(trial.face)
    order: tuple[Dimension, ...] = (first, "depth", "width" if first == "height" else "height")
    for dimension in order:
        yield from larger(trial, dimension)


def _with_rows(trial: FindingTrial, rows: dict[int, Row]) -> Job:
    job = trial.job
    for at, row in rows.items():
        job = with_row(job, trial.face_index, at, row)
    return job


def _for_rows(trial: FindingTrial, rows: list[Row]) -> str:
    """Which rows a change is for, where the face has others too."""
    if len(trial.face.rows) == 1:
        return ""
    names = [row.name for row in rows]
    return f" for row {names[0]}" if len(names) == 1 else f" for rows {', '.join(names[:-1])} and {names[-1]}"


_MAKERS: tuple[Cure, ...] = (
    _other_strut,
    _back_line,
    _clear_of_rows_behind,
    _standard_hole,
    _other_gap,
    _other_start,
    _one_row(centred),
    _one_row(other_order),
    _farther_off_the_wall,
    _one_row(_two_rows),
    _larger,
)
_OF_THE_ENCLOSURE: tuple[Cure, ...] = (_farther_off_the_wall, _larger)
