"""Random rows solved whole, against the rules measured on the result and against a programme built from the
job alone.

The programme's distances, wanted places and forbidden stretches are worked out here once more, from the
words of the rules: forbidden stretches by bisecting the plane's gap formulas, wanted places by walking.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from brute import AS_GOOD, best_total
from factories import make_face, make_job, make_keep_out, make_raceway, make_row, make_size
from hypothesis import assume, given
from hypothesis import strategies as st
from random_runs import examples

from templates_engine.errors import CannotFit
from templates_engine.geometry import Circle, Interval, Point, Rect, gap_between_circles, gap_circle_rect
from templates_engine.job.model import (
    Centred,
    CentreLine,
    FaceJob,
    FromEdge,
    KeepOut,
    Lips,
    Placing,
    Row,
    Spread,
)
from templates_engine.layout import solve
from templates_engine.layout.row.exact_search import PlacementProblem
from templates_engine.values import replace

NEAR = 1e-6


def some(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 16), round(high * 16)).map(lambda k: k / 16)


@st.composite
def faces(draw: st.DrawFn, placings: st.SearchStrategy[Placing] | None = None) -> FaceJob:
    width = draw(some(8, 24))
    count = draw(st.integers(1, 5))
    pins = sorted(draw(st.lists(some(1, width - 1), max_size=2, unique=True)))
    pinned = sorted(draw(st.sets(st.integers(0, count - 1), max_size=min(count, len(pins)))))
    at = dict(zip(pinned, pins, strict=False))
    raceways = []
    for index in range(count):
        od, wall, most = draw(some(0.5, 3)), draw(some(0, 0.5)), draw(st.sampled_from([0.0, 0.0, 0.25]))
        raceways.append(
            make_raceway(
                make_size(od, most_in=od + most),
                f"A{index + 1}",
                at=at.get(index),
                hole=od + wall,
                cutter="step bit",
                spacing_before=draw(st.one_of(st.none(), some(3.5, 5))) if index else None,
            )
        )
    placing: Placing = draw(
        placings
        if placings is not None
        else st.one_of(
            st.just(Centred()),
            st.builds(
                FromEdge,
                st.sampled_from(["start", "end"]),
                st.sampled_from(["centre", "near side"]),
                some(0, 8),
            ),
            st.builds(Spread, some(0, 3), some(width - 3, width)),
        )
    )
    is_on_strut = draw(st.booleans())
    row = make_row(
        *raceways,
        gap=draw(some(0, 1.5)),
        spacing=draw(st.one_of(st.none(), some(3.5, 4.5))),
        back_line="strut" if is_on_strut else CentreLine(draw(some(1.5, 4))),
        strut=1.625 if is_on_strut else None,
        snap=draw(st.sampled_from([None, None, 1 / 16, 1 / 8, 1 / 25.4])),
        placing=placing,
    )
    lips = Lips(start_in=draw(some(0, 1)), end_in=draw(some(0, 1)))
    return make_face(row, width=width, lips=lips, keep_outs=draw(st.lists(keep_outs(width), max_size=3)))


@st.composite
def keep_outs(draw: st.DrawFn, width: float) -> KeepOut:
    u, v, size, clear = draw(some(0, width)), draw(some(0, 6)), draw(some(0.25, 2)), draw(some(0, 0.5))
    if draw(st.booleans()):
        return make_keep_out(u, v, diameter=size, clear=clear)
    return make_keep_out((u, u + size), (v, v + draw(some(0.25, 4))), clear=clear)


# --- the rules once more ------------------------------------------------------------------------------------


def clearance(circle: Circle, keep_out: KeepOut) -> float:
    if keep_out.diameter_in is None:
        rect = Rect(keep_out.u_low_in, keep_out.v_low_in, keep_out.u_high_in, keep_out.v_high_in)
        return gap_circle_rect(circle, rect) - keep_out.clear_in
    middle = Point((keep_out.u_low_in + keep_out.u_high_in) / 2, (keep_out.v_low_in + keep_out.v_high_in) / 2)
    return gap_between_circles(circle, Circle(middle, keep_out.diameter_in)) - keep_out.clear_in


def taken(keep_out: KeepOut, v: float, diameter: float) -> Interval | None:
    """Where a circle on the line v comes too near, its ends by bisection outward from the middle."""
    middle = (keep_out.u_low_in + keep_out.u_high_in) / 2

    def near(u: float) -> bool:
        return clearance(Circle(Point(u, v), diameter), keep_out) < 0

    if not near(middle):
        return None
    ends = []
    for outward in (-1, 1):
        inside, outside = 0.0, 50.0
        for _ in range(100):
            half = (inside + outside) / 2
            inside, outside = (half, outside) if near(middle + outward * half) else (inside, half)
        ends.append(middle + outward * outside)
    return Interval(*ends)


def body(row: Row, index: int) -> float:
    size = row.raceways[index].size
    assert size is not None
    return size.outside_diameter_most_in


def hole(row: Row, index: int) -> float:
    diameter = row.raceways[index].hole
    assert isinstance(diameter, float)
    return diameter


def apart(row: Row, index: int) -> float:
    """The least centre distance of raceway ``index`` and the next."""
    assert isinstance(row.gap, float)
    own = row.raceways[index + 1].spacing_before_in
    if own is not None:
        return own
    if row.spacing_in is not None:
        return row.spacing_in
    return (body(row, index) + body(row, index + 1)) / 2 + row.gap


class Ruler:
    """Rounding to the row's graduations, or none."""

    def __init__(self, step: float | None) -> None:
        self.step = step

    def up(self, u: float) -> float:
        return u if self.step is None else math.ceil(u / self.step - 1e-7) * self.step

    def down(self, u: float) -> float:
        return u if self.step is None else math.floor(u / self.step + 1e-7) * self.step

    def near(self, u: float) -> float:
        return u if self.step is None else math.floor(u / self.step + 0.5 + 1e-7) * self.step


def fixed_of(face: FaceJob) -> dict[int, float] | None:
    """The places the job gives, None when it gives one raceway two."""
    row, ruler = face.rows[0], Ruler(face.rows[0].snap_in)
    fixed = {i: raceway.at_in for i, raceway in enumerate(row.raceways) if raceway.at_in is not None}
    placing = row.placing
    if isinstance(placing, FromEdge):
        index = 0 if placing.edge == "start" else len(row.raceways) - 1
        side = body(row, index) / 2 if placing.to == "near side" else 0.0
        u = placing.distance_in + side
        u = u if placing.edge == "start" else face.width_in - u
        if placing.to == "near side":
            u = ruler.up(u) if placing.edge == "start" else ruler.down(u)
        if index in fixed and abs(fixed[index] - u) > NEAR:
            return None
        fixed[index] = fixed.get(index, u)
    return fixed


def wants_of(face: FaceJob, fixed: dict[int, float]) -> list[float]:
    row, ruler = face.rows[0], Ruler(face.rows[0].snap_in)
    count, placing = len(row.raceways), row.placing
    wants = [fixed.get(index, 0.0) for index in range(count)]
    runs = [range(a + 1, b) for a, b in pairwise([-1, *sorted(fixed), count]) if b - a > 1]
    for run in runs:
        if isinstance(placing, FromEdge) and placing.edge == "start":
            for i in run:
                wants[i] = ruler.up(wants[i - 1] + apart(row, i - 1))
        elif isinstance(placing, FromEdge):
            for i in reversed(run):
                wants[i] = ruler.down(wants[i + 1] - apart(row, i))
        elif isinstance(placing, Centred):
            tight = [0.0]
            for i in run[:-1]:
                tight.append(tight[-1] + ruler.up(apart(row, i)))
            left, right = -body(row, run[0]) / 2, tight[-1] + body(row, run[-1]) / 2
            first = ruler.near(face.width_in / 2 - (left + right) / 2)
            for i, place in zip(run, tight, strict=True):
                wants[i] = first + place
        else:
            before, after = run[0] - 1, run[-1] + 1
            assert isinstance(row.gap, float)
            (low, first), (high, last) = (placing.low_in, row.gap), (placing.high_in, row.gap)
            if before in fixed:
                low, first = max((low, first), (fixed[before] + body(row, before) / 2, clear(row, before)))
            if after in fixed:
                high, last = min((high, last), (fixed[after] - body(row, after) / 2, clear(row, after - 1)))
            least = [first, *(clear(row, i) for i in run[:-1]), last]
            gaps = evened(least, high - low - sum(body(row, i) for i in run))
            side = low
            for i, gap in zip(run, gaps, strict=False):
                wants[i] = ruler.near(side + gap + body(row, i) / 2)
                side += gap + body(row, i)
    return wants


def clear(row: Row, index: int) -> float:
    """The least clear gap of raceway ``index`` and the next."""
    return apart(row, index) - (body(row, index) + body(row, index + 1)) / 2


def evened(least: list[float], total: float) -> list[float]:
    """All gaps alike save those that must be larger: the level to which they rise, by bisection."""
    low, high = min(0.0, *least, total), max(0.0, *least, total)
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if sum(max(middle, one) for one in least) < total else (low, middle)
    return [max(low, one) for one in least]


def free_parts(low: float, high: float, cuts: list[Interval]) -> tuple[Interval, ...]:
    """What is left of low .. high: the middles of all pieces and the ends are tried."""
    if high < low:
        return ()
    ends = sorted({low, high, *(end for cut in cuts for end in cut if low <= end <= high)})
    points = [Interval(end, end) for end in ends if not any(cut.low < end < cut.high for cut in cuts)]
    pieces = [
        Interval(a, b) for a, b in pairwise(ends) if not any(cut.low < (a + b) / 2 < cut.high for cut in cuts)
    ]
    return tuple(points + pieces)


def programme(face: FaceJob, fixed: dict[int, float]) -> tuple[PlacementProblem, list[bool]]:
    """The whole row, pins and all, as one programme; in graduations when it snaps."""
    row = face.rows[0]
    count, step = len(row.raceways), row.snap_in or 1.0
    allowed = []
    for index, raceway in enumerate(row.raceways):
        assert raceway.size is not None
        is_centred = isinstance(row.back_line, CentreLine)
        v = row.back_line.at_in if is_centred else 1.625 + raceway.size.outside_diameter_in / 2
        low = face.lips.start_in + hole(row, index) / 2
        high = face.width_in - face.lips.end_in - hole(row, index) / 2
        if isinstance(row.placing, Spread) and index not in fixed:
            assert isinstance(row.gap, float)
            low = max(low, row.placing.low_in + row.gap + body(row, index) / 2)
            high = min(high, row.placing.high_in - row.gap - body(row, index) / 2)
        cuts = [taken(one, v, max(hole(row, index), body(row, index))) for one in face.keep_outs]
        parts = free_parts(low, high, [cut for cut in cuts if cut is not None])
        if index in fixed:
            u = fixed[index]
            parts = (Interval(u, u),) if any(a - NEAR <= u <= b + NEAR for a, b in parts) else ()
        allowed.append(tuple(Interval(a / step, b / step) for a, b in parts))
    line = PlacementProblem(
        tuple(want / step for want in wants_of(face, fixed)),
        tuple(apart(row, index) / step for index in range(count - 1)),
        tuple(allowed),
    )
    return line, [row.snap_in is not None and index not in fixed for index in range(count)]


@examples(200)
@given(faces())
def test_a_row_obeys_the_rules_and_is_the_best(face: FaceJob) -> None:
    fixed = fixed_of(face)
    assume(fixed is not None)
    assert fixed is not None
    row = face.rows[0]
    line, whole = programme(face, fixed)
    best = best_total(line, whole=whole)
    try:
        done = solve(make_job(face)).faces[0].rows[0]
    except CannotFit:
        assert best is None
        return
    assert best is not None
    us = [one.u_in for one in done.holes]
    spent = sum(abs(u - want) for u, want in zip(us, wants_of(face, fixed), strict=True))
    assert spent == pytest.approx(best * (row.snap_in or 1.0), abs=AS_GOOD)
    for index, one in enumerate(done.holes):
        assert one.u_in - one.hole_diameter_in / 2 >= face.lips.start_in - NEAR
        assert one.u_in + one.hole_diameter_in / 2 <= face.width_in - face.lips.end_in + NEAR
        for keep_out in face.keep_outs:
            assert clearance(one.circle, keep_out) >= -NEAR
            assert clearance(one.body, keep_out) >= -NEAR
        if index in fixed:
            assert one.u_in == fixed[index]
        elif row.snap_in is not None:
            assert one.u_in == round(one.u_in / row.snap_in) * row.snap_in
    for gap in done.gaps:
        assert gap.provided_in >= gap.required_in - NEAR
        assert gap.provided_in > -NEAR
    for index, (one, other) in enumerate(pairwise(done.holes)):
        assert other.u_in - one.u_in >= apart(row, index) - NEAR
        if isinstance(row.back_line, CentreLine):
            assert one.v_in == other.v_in == row.back_line.at_in


def mirrored(face: FaceJob) -> FaceJob:
    """The face seen from behind: everything measured from the other edge."""
    row, width = face.rows[0], face.width_in
    placing = row.placing
    if isinstance(placing, FromEdge):
        placing = FromEdge("end" if placing.edge == "start" else "start", placing.to, placing.distance_in)
    elif isinstance(placing, Spread):
        placing = Spread(width - placing.high_in, width - placing.low_in)
    raceways = [
        make_raceway(
            raceway.size,
            raceway.id,
            at=None if raceway.at_in is None else width - raceway.at_in,
            hole=raceway.hole,
            cutter="step bit",
            spacing_before=None if later is None else later.spacing_before_in,
        )
        for raceway, later in zip(row.raceways[::-1], (None, *row.raceways[:0:-1]), strict=True)
    ]
    keep_outs = [
        make_keep_out(
            (width - one.u_high_in, width - one.u_low_in),
            (one.v_low_in, one.v_high_in),
            diameter=one.diameter_in,
            clear=one.clear_in,
        )
        for one in face.keep_outs
    ]
    return make_face(
        replace(row, raceways=tuple(raceways), placing=placing),
        width=width,
        lips=Lips(start_in=face.lips.end_in, end_in=face.lips.start_in),
        keep_outs=keep_outs,
    )


@examples(200)
@given(faces())
def test_the_mirrored_face_has_the_mirrored_places(face: FaceJob) -> None:
    row = replace(face.rows[0], snap_in=None)
    face = replace(face, rows=(row,))
    fixed = fixed_of(face)
    assume(fixed is not None)
    assert fixed is not None
    try:
        here = [one.u_in for one in solve(make_job(face)).faces[0].holes]
    except CannotFit:
        with pytest.raises(CannotFit):
            solve(make_job(mirrored(face)))
        return
    there = [face.width_in - one.u_in for one in reversed(solve(make_job(mirrored(face))).faces[0].holes)]
    if isinstance(row.placing, FromEdge):
        assert there == pytest.approx(
            here, abs=NEAR
        )  # ties go to the edge the row starts from, on both sides
    else:
        wants = wants_of(face, fixed)
        totals = [sum(abs(u - want) for u, want in zip(us, wants, strict=True)) for us in (here, there)]
        assert totals[0] == pytest.approx(totals[1], abs=NEAR)


@examples(100)
@given(
    faces(st.builds(FromEdge, st.just("start"), st.sampled_from(["centre", "near side"]), some(0, 8))),
    some(0, 6),
)
def test_moving_everything_moves_the_row(face: FaceJob, by: float) -> None:
    """A start distance, pins, lip and keep-outs all shifted: so are the places."""
    row = replace(face.rows[0], snap_in=None)
    face = replace(face, rows=(row,))
    assert isinstance(row.placing, FromEdge)
    raceways = [
        make_raceway(
            one.size,
            one.id,
            at=None if one.at_in is None else one.at_in + by,
            hole=one.hole,
            cutter="step bit",
            spacing_before=one.spacing_before_in,
        )
        for one in row.raceways
    ]
    shifted = make_face(
        replace(
            row,
            raceways=tuple(raceways),
            placing=FromEdge("start", row.placing.to, row.placing.distance_in + by),
        ),
        width=face.width_in + by,
        lips=Lips(start_in=face.lips.start_in + by, end_in=face.lips.end_in),
        keep_outs=[
            make_keep_out(
                (one.u_low_in + by, one.u_high_in + by),
                (one.v_low_in, one.v_high_in),
                diameter=one.diameter_in,
                clear=one.clear_in,
            )
            for one in face.keep_outs
        ],
    )
    try:
        here = [one.u_in for one in solve(make_job(face)).faces[0].holes]
    except CannotFit:
        with pytest.raises(CannotFit):
            solve(make_job(shifted))
        return
    there = [one.u_in for one in solve(make_job(shifted)).faces[0].holes]
    assert there == pytest.approx([u + by for u in here], abs=NEAR)
