"""Turns rows, and a Layout's holes, into plain text tables that survive being pasted."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from templates_engine.layout.model import FaceLayout, Layout, PlacedRow
from templates_engine.units import LengthFormat


def aligned(
    headings: Sequence[str], rows: Iterable[Sequence[str]], right: frozenset[int] = frozenset()
) -> str:
    """Columns two spaces apart; those numbered in ``right`` end in line. Ends with a line feed."""
    body = [tuple(headings), *(tuple(row) for row in rows)]
    widths = [max(len(row[index]) for row in body) for index in range(len(headings))]
    lines = []
    for row in body:
        cells = [
            cell.rjust(width) if index in right else cell.ljust(width)
            for index, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        lines.append("  ".join(cells).rstrip())
    return "\n".join(lines) + "\n"


def holes_text(layout: Layout) -> str:
    """Every face's holes, tape mark and exact decimal side by side, in the job's unit."""
    lengths = layout.job.lengths
    return "\n".join(_face_text(layout, face, lengths) for face in layout.faces)


def _face_text(layout: Layout, face: FaceLayout, lengths: LengthFormat) -> str:
    job = face.job
    unit = "inches" if lengths.unit == "in" else "millimetres"
    head = (
        f"{layout.job.enclosure.mark} {job.face.value}, "
        f"{lengths.say(job.width_in)} x {lengths.say(job.depth_in)}, marked from {job.mark_from.value}, "
        f"fingerprint {face.fingerprint}, lengths in {unit}\n"
    )
    headings = (
        "hole",
        "raceway",
        f"from {job.face.start_edge}",
        "exact",
        "from back",
        "exact",
        "hole cut",
        "pilot",
        "centres apart",
        "clear gap",
    )
    rows = [cells for row in face.rows for cells in _hole_rows(row, lengths)]
    lines = "".join(
        f"row {row.row.name}: {row.line.whose} {lengths.say(row.line.at_in)} from the back edge "
        f"({row.line.words})\n"
        for row in face.rows
    )
    return head + aligned(headings, rows, frozenset(range(2, 10))) + lines


def _hole_rows(row: PlacedRow, lengths: LengthFormat) -> Iterator[tuple[str, ...]]:
    """A line a hole, with what is between it and the next."""
    following = [*row.holes[1:], None]
    gaps = [*row.gaps, None]
    for hole, after, gap in zip(row.holes, following, gaps, strict=True):
        yield (
            hole.id,
            hole.raceway_name,
            lengths.mark(hole.u_in),
            lengths.exact(hole.u_in),
            lengths.mark(hole.v_in),
            lengths.exact(hole.v_in),
            lengths.exact(hole.hole_diameter_in),
            hole.pilot_said(lengths),
            "" if after is None else lengths.exact(math.dist(hole.centre, after.centre)),
            "" if gap is None else lengths.exact(gap.provided_in),
        )
