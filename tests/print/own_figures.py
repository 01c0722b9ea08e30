"""Works out a job's figures from its own numbers and published tables, sharing nothing with the program.

The job is two faces, each with two rows: the first starts from an edge, the second is centred; strut is
1-5/8 in, the can stands 1/4 in off the wall. Outside diameters are ANSI C80.1 and C80.3, knockouts NEMA's
table (tests/reference/data); pilots are from memory, as the program says of them.
"""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

DATA = Path(__file__).parents[1] / "reference" / "data"
WIDTH, HEIGHT, DEPTH = 26.0, 22.0, 10.0
BACK_GAP, STRUT, SECOND_BACK, METAL = 0.25, 1.625, 5.5, 0.0747
"""14 gauge sheet steel is 0.0747 in: manufacturers' standard gauge."""
GAPS = {"A": 1.125, "B": 1.375}
ROWS = {
    "A": (("EMT", "2", "punch"), ("EMT", "1-1/4", "punch"), ("RMC", "3/4", "hole saw")),
    "B": (("RMC", "1-1/2", "punch"), ("EMT", "3", "punch"), ("EMT", "1/2", "step bit")),
}
PILOTS = {
    ("2", "punch"): 7 / 8,
    ("1-1/4", "punch"): 7 / 8,
    ("3/4", "hole saw"): 1 / 4,
    ("1-1/2", "punch"): 7 / 8,
    ("3", "punch"): 1.25,
    ("1/2", "step bit"): 1 / 8,
}
STARTS = (3.375, 4.8125)
"""From the first face's edge, and from the second's, to the first row's first centre."""
PAIRS = (
    (("top", "outside"), ("right", "inside")),
    (("top", "inside"), ("left", "outside")),
    (("bottom", "outside"), ("left", "inside")),
    (("bottom", "inside"), ("right", "outside")),
)
"""All eight cases of face and side, each once, two a job."""


@dataclass(frozen=True)
class OwnHole:
    """One hole as it has to be, inches."""

    id: str
    type: str
    size: str
    u: float
    v: float
    outside: float
    cut: float
    least: float
    most: float
    pilot: float
    cutter: str
    gap_after: float | None

    @property
    def row(self) -> str:
        return self.id[0]


def job_text(pair: tuple[tuple[str, str], tuple[str, str]], paper: str = "letter") -> str:
    """The job with these two faces."""
    lines = [
        "job: Figures",
        "revision: C",
        f"enclosure: {{mark: F-1, kind: pull box, width: {WIDTH}, height: {HEIGHT}, depth: {DEPTH},"
        f" back gap: {BACK_GAP}, sheet metal: 14 ga, location: dry}}",
        "faces:",
    ]
    for (face, side), start in zip(pair, STARTS, strict=True):
        lines += [f"  - face: {face}", f"    mark from: {side}", "    rows:"]
        places = (f"{{from: {start_edge(face)}, to: centre, distance: {start}}}", "centred")
        backs = (f"strut: {STRUT}", f"back line: {SECOND_BACK}")
        for row, back, place in zip("AB", backs, places, strict=True):
            made = ", ".join(f"{{type: {t}, size: {s}, cutter: {c}}}" for t, s, c in ROWS[row])
            lines.append(f"      - {{{back}, gap: {GAPS[row]}, place: {place}, raceways: [{made}]}}")
    return "\n".join([*lines, f"print: {{paper: {paper}}}", ""])


def start_edge(face: str) -> str:
    return "top" if face in ("left", "right") else "left"


def end_edge(face: str) -> str:
    return "bottom" if face in ("left", "right") else "right"


def length_of(face: str) -> float:
    return HEIGHT if face in ("left", "right") else WIDTH


def back_of(row: str) -> float:
    return STRUT - BACK_GAP if row == "A" else SECOND_BACK


def own_holes(face: str, start: float) -> dict[str, OwnHole]:
    """Every hole of a face by its id; ``start`` is where its first row begins."""
    found = {}
    for row, raceways in ROWS.items():
        outside = [_cell("raceway_od", "outside_diameter_in", type=t, trade_size=s) for t, s, _ in raceways]
        u = start
        if row == "B":
            whole = sum(outside) + GAPS[row] * (len(outside) - 1)
            u = (length_of(face) - whole) / 2 + outside[0] / 2
        for number, ((type, size, cutter), across) in enumerate(zip(raceways, outside, strict=True), 1):
            if number > 1:
                u += (outside[number - 2] + across) / 2 + GAPS[row]
            cut, least, most = (
                _cell("knockouts", name, trade_size=size) for name in ("nominal_in", "min_in", "max_in")
            )
            gap = GAPS[row] if number < len(raceways) else None
            v = back_of(row) + across / 2
            pilot = PILOTS[size, cutter]
            id = f"{row}{number}"
            found[id] = OwnHole(id, type, size, u, v, across, cut, least, most, pilot, cutter, gap)
    return found


def mark(inches: float) -> str:
    """What a tape shows nearest, to 1/16 in: 2-7/16."""
    sixteenths = math.floor(inches * 16 + 0.5)
    whole, part = divmod(sixteenths, 16)
    if not part:
        return str(whole)
    fraction = str(Fraction(part, 16))
    return f"{whole}-{fraction}" if whole else fraction


def read_mark(text: str) -> float:
    """Inches of a tape mark: 2-7/16 is 2.4375."""
    whole, _, part = text.rpartition("-")
    return float(Fraction(part)) + (float(whole) if whole else 0.0)


def _cell(table: str, column: str, **keys: str) -> float:
    with (DATA / f"{table}.csv").open(encoding="utf-8", newline="") as file:
        (row,) = [row for row in csv.DictReader(file) if all(row[key] == keys[key] for key in keys)]
    return float(row[column])
