"""Turns a Layout into CSV, one line a hole, safe to open in a spreadsheet; JSON holds more."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from templates_engine.checks.model import Finding, passes
from templates_engine.layout.model import FaceLayout, Hole, Layout, PlacedRow
from templates_engine.values import Struct
from templates_engine.writers.typed_table import Cell, csv_lines


class _Line(Struct, frozen=True):
    """One hole, and where it is."""

    layout: Layout
    face: FaceLayout
    passes: bool
    row: PlacedRow
    hole: Hole

    @property
    def clear_gap_in(self) -> float | None:
        return next((gap.provided_in for gap in self.row.gaps if gap.before == self.hole.id), None)

    @property
    def notes(self) -> str:
        word, notes = self.face.job.face.value, self.layout.notes
        return "; ".join(one.words for one in notes if one.face == word and self.hole.id in one.holes)


COLUMNS: dict[str, Callable[[_Line], Cell]] = {
    "job": lambda line: line.layout.job.title,
    "revision": lambda line: line.layout.job.revision,
    "enclosure": lambda line: line.layout.job.enclosure.mark,
    "face": lambda line: line.face.job.face.value,
    "mark_from": lambda line: line.face.job.mark_from.value,
    "fingerprint": lambda line: line.face.fingerprint,
    "row": lambda line: line.hole.row,
    "hole": lambda line: line.hole.id,
    # Type and size in one field: a spreadsheet would turn a bare 1/2 or 1-1/4 into a date.
    "raceway": lambda line: line.hole.raceway_name,
    "to": lambda line: line.hole.raceway.to,
    "u_in": lambda line: line.hole.u_in,
    "v_in": lambda line: line.hole.v_in,
    "outside_diameter_in": lambda line: line.hole.outside_diameter_in,
    "hole_diameter_in": lambda line: line.hole.hole_diameter_in,
    "hole_least_in": lambda line: line.hole.hole_least_in,
    "hole_most_in": lambda line: line.hole.hole_most_in,
    "pilot_diameter_in": lambda line: line.hole.pilot_diameter_in,
    "cutter": lambda line: line.hole.cutter,
    "quarter_start_u_in": lambda line: line.hole.quarter_points_in[0].x,
    "quarter_start_v_in": lambda line: line.hole.quarter_points_in[0].y,
    "quarter_end_u_in": lambda line: line.hole.quarter_points_in[1].x,
    "quarter_end_v_in": lambda line: line.hole.quarter_points_in[1].y,
    "quarter_back_u_in": lambda line: line.hole.quarter_points_in[2].x,
    "quarter_back_v_in": lambda line: line.hole.quarter_points_in[2].y,
    "quarter_front_u_in": lambda line: line.hole.quarter_points_in[3].x,
    "quarter_front_v_in": lambda line: line.hole.quarter_points_in[3].y,
    "row_back_line_in": lambda line: line.row.back_line_in,
    "row_centre_line_in": lambda line: line.row.centre_line_in,
    "clear_gap_to_next_in": lambda line: line.clear_gap_in,
    "passes_checks": lambda line: "yes" if line.passes else "NO: do not cut",
    "notes": lambda line: line.notes,
}
"""What stands below each heading."""


def csv_bytes(layout: Layout, findings: Sequence[Finding]) -> bytes:
    """A heading line, then a line a hole: u from the left (sides: top) edge, v from the back edge, inches."""
    rows = ([cell(line) for cell in COLUMNS.values()] for line in _lines(layout, findings))
    return csv_lines(COLUMNS, rows)


def _lines(layout: Layout, findings: Sequence[Finding]) -> Iterator[_Line]:
    for face in layout.faces:
        is_sound = passes(face, findings)
        for row in face.rows:
            yield from (_Line(layout, face, is_sound, row, hole) for hole in row.holes)
