"""Turns a Layout into CSV, one line a hole, safe to open in a spreadsheet; JSON holds more."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Sequence

from templates_engine.checks.model import Finding, passes
from templates_engine.layout.model import FaceLayout, Hole, Layout, PlacedRow

_STARTS_A_FORMULA = ("=", "+", "-", "@", "＝", "＋", "－", "＠")
_BREAKS = {ord(each): " " for each in "\t\r\n\v\f\0\x85\u2028\u2029"}

COLUMNS = (
    "job",
    "revision",
    "enclosure",
    "face",
    "mark_from",
    "fingerprint",
    "row",
    "hole",
    # Type and size in one field: a spreadsheet would turn a bare 1/2 or 1-1/4 into a date.
    "raceway",
    "to",
    "u_in",
    "v_in",
    "outside_diameter_in",
    "hole_diameter_in",
    "hole_least_in",
    "hole_most_in",
    "pilot_diameter_in",
    "cutter",
    "quarter_start_u_in",
    "quarter_start_v_in",
    "quarter_end_u_in",
    "quarter_end_v_in",
    "quarter_back_u_in",
    "quarter_back_v_in",
    "quarter_front_u_in",
    "quarter_front_v_in",
    "row_back_line_in",
    "row_centre_line_in",
    "clear_gap_to_next_in",
    "passes_checks",
    "notes",
)


def csv_bytes(layout: Layout, findings: Sequence[Finding]) -> bytes:
    """A heading line, then a line a hole: u from the left (sides: top) edge, v from the back edge, inches."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows(_lines(layout, findings))
    return text.getvalue().encode("utf-8", "replace")


def _lines(layout: Layout, findings: Sequence[Finding]) -> Iterator[list[str]]:
    for face in layout.faces:
        verdict = "yes" if passes(face, findings) else "NO: do not cut"
        word = face.job.face.value
        for row in face.rows:
            for hole in row.holes:
                told = [one.words for one in layout.notes if one.face == word and hole.id in one.holes]
                yield [
                    *_names(layout, face, hole),
                    *_measures(row, hole),
                    verdict,
                    without_formula("; ".join(told)),
                ]


def _names(layout: Layout, face: FaceLayout, hole: Hole) -> Iterable[str]:
    names = (
        layout.job.title,
        layout.job.revision,
        layout.job.enclosure.mark,
        face.job.face.value,
        face.job.mark_from.value,
        face.fingerprint,
        hole.row,
        hole.id,
        hole.raceway_name,
        hole.raceway.to,
    )
    return map(without_formula, names)


def _measures(row: PlacedRow, hole: Hole) -> Iterator[str]:
    yield from map(number, (hole.u_in, hole.v_in, hole.outside_diameter_in, hole.hole_diameter_in))
    yield from map(number, (hole.hole_least_in, hole.hole_most_in))
    yield "" if hole.pilot_diameter_in is None else number(hole.pilot_diameter_in)
    yield without_formula(hole.cutter)
    for point in hole.quarter_points_in:
        yield from map(number, point)
    for line_in in (row.back_line_in, row.centre_line_in):
        yield "" if line_in is None else number(line_in)
    yield next((number(gap.provided_in) for gap in row.gaps if gap.before == hole.id), "")


def without_formula(text: str) -> str:
    """The text on one line, with an apostrophe before what a spreadsheet would run as a formula."""
    text = text.translate(_BREAKS)
    return f"'{text}" if text.lstrip(" \N{NO-BREAK SPACE}").startswith(_STARTS_A_FORMULA) else text


def number(value: float) -> str:
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    if text[-1] in "nf":
        raise ValueError(f"a measure is {text}, which no table can hold")
    return "0" if text == "-0" else text
