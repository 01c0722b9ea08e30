"""Every figure of the cover pages, recomputed from the job's own numbers and the published tables.

Nothing of the program computes here: outside diameters are those of ANSI C80.3 (EMT) and C80.1 (RMC),
knockouts those of the NEMA table, both from data/; that backs lie at strut less back gap is common practice,
no source;
pilots are from memory: 7/16 for the 3/8 in draw stud, 7/8 for the 3/4 in one, 1/4 in the drill of a hole saw.
Each face and side is the second face of its job, and has a second row.
"""

from __future__ import annotations

import csv
import math
import re
from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pdfplumber
import pytest
from printed_page import Run, cover_pages, lines, number, pages_that_say, table
from reference_data import published

from templates_engine import pipeline
from templates_engine.job import read_job, read_job_text
from templates_engine.resources import folder
from templates_engine.writers.csv_file import csv_bytes

JOB = """
job: two faces
revision: C
enclosure: {{mark: E-2, kind: cabinet, width: 24, height: 20, depth: 9, back gap: 3/16{metal}}}
faces:
  - face: {other}
    rows:
      - {{strut: 1-5/8, gap: 2, place: {{from: {other_start}, to: centre, distance: 5}},
         raceways: [{{type: EMT, size: 1/2, count: 2}}]}}
  - face: {face}
    mark from: {side}
    lips: {{front: {lip}}}
    rows:
      - strut: 13/16
        gap: 7/8
        place: {{from: {start}, to: centre, distance: 2-1/8}}
        raceways:
          - {{type: RMC, size: 2, bushing: bonding}}
          - {{type: EMT, size: 3/4, gap before: 1-5/8, cutter: hole saw}}
          - {{type: EMT, size: 1-1/4}}
          - {{type: EMT, size: 3/4, to: fan}}
      - back line: 5.09
        gap: 1-1/8
        place: {{from: {start}, to: near side, distance: 4-1/2}}
        raceways: [{{type: RMC, size: 1, bushing: plain}}, {{type: EMT, size: 1/2}}]
print: {{paper: {paper}}}
"""
LONG, HIGH, DEEP, BACK_GAP = 24.0, 20.0, 9.0, 0.1875
THICK_IN = 0.0598  # 16 gauge by the manufacturers' standard gauge for sheet steel
# (row, id, type, size, gap before it)
ROWS = {
    "A": [("RMC", "2", 0.0), ("EMT", "3/4", 1.625), ("EMT", "1-1/4", 0.875), ("EMT", "3/4", 0.875)],
    "B": [("RMC", "1", 0.0), ("EMT", "1/2", 1.125)],
}
PILOTS = {"A1": "7/8", "A2": "1/4", "A3": "7/8", "A4": "7/8", "B1": "7/8", "B2": "7/16"}
BUSHINGS = {"A1": "BONDING", "B1": "plain"}
CASES = [
    ("top", "outside", "tabloid", True),
    ("top", "inside", "tabloid", False),
    ("bottom", "outside", "letter", True),
    ("bottom", "inside", "tabloid", True),
    ("left", "outside", "tabloid", True),
    ("left", "inside", "letter", True),
    ("right", "outside", "tabloid", True),
    ("right", "inside", "tabloid", False),
]
"""Face, side, paper, and whether the front has a lip: on letter the tables have other columns, and without a
lip a rule set inside finds the front's own edge.
"""


@dataclass(frozen=True)
class At:
    """A hole as it must be: its centre, its raceway's outside diameter, its knockout's row of the table."""

    u: float
    v: float
    od: float
    knockout: dict[str, str]


def expected() -> dict[str, At]:
    od = {(r["type"], r["trade_size"]): float(r["outside_diameter_in"]) for r in published("raceway_od")}
    knockout = {row["trade_size"]: row for row in published("knockouts")}
    backs = {"A": 0.8125 - BACK_GAP, "B": 5.09}
    first = {"A": 2.125, "B": 4.5 + od["RMC", "1"] / 2}
    holes: dict[str, At] = {}
    for row, raceways in ROWS.items():
        u, before = first[row], 0.0
        for count, (type, size, gap) in enumerate(raceways, 1):
            mine = od[type, size]
            u += before / 2 + gap + mine / 2 if count > 1 else 0.0
            holes[f"{row}{count}"] = At(u, backs[row] + mine / 2, mine, knockout[size])
            before = mine
    return holes


@dataclass(frozen=True)
class Printed:
    """A finished file and what its cover pages of the second face say."""

    path: Path
    runs: list[Run]
    face: str
    side: str
    metal: float | None
    lip: bool

    @property
    def width(self) -> float:
        return HIGH if self.face in ("left", "right") else LONG

    @property
    def ends(self) -> tuple[str, str]:
        return ("top", "bottom") if self.face in ("left", "right") else ("left", "right")

    @property
    def text(self) -> str:
        return "\n".join(" ".join(run.text for run in line) for line in lines(self.runs))


def printed(folder: Path, face: str, side: str, paper: str, lip: bool, metal: bool = True) -> Printed:
    other = "bottom" if face == "top" else "top"
    job = JOB.format(
        face=face,
        side=side,
        other=other,
        other_start="left",
        start="top" if face in ("left", "right") else "left",
        metal=", sheet metal: 16 ga" if metal else "",
        lip="1/2" if lip else "0",
        paper=paper,
    )
    path = folder / "out.pdf"
    pipeline.write_template(pipeline.solve_job(read_job_text(job, "two.yaml")), path)
    return Printed(path, cover_pages(path, face), face, side, THICK_IN if metal else None, lip)


def near_tape(mark: Fraction, inches: float, parts: int = 16) -> bool:
    """Whether a mark is the sixteenth of a tape, or other part of an inch, nearest to a length."""
    return (mark * parts).denominator == 1 and abs(float(mark) - inches) <= 0.5 / parts + 1e-9


def holds(text: str, inches: float, parts: int = 16) -> bool:
    """Whether a figure says a length: the tape's nearest mark, and where that is off the exact one."""
    match = re.fullmatch(r"(\S+) in(?: \((\S+)\))?", text)
    assert match, text
    mark, exact = number(match[1]), match[2]
    if exact is None:
        return abs(float(mark) - inches) < 5e-5
    return near_tape(mark, inches, parts) and abs(float(exact) - inches) <= 5.1e-5


@pytest.mark.parametrize(("face", "side", "paper", "lip"), CASES)
def test_every_figure_of_a_cover_page(face: str, side: str, paper: str, lip: bool, tmp_path: Path) -> None:
    page = printed(tmp_path, face, side, paper, lip)
    check_what_it_is_of(page)
    check_the_table_of_holes(page)
    check_the_distances(page)
    check_what_to_bring(page)
    check_bar_and_card(page)


# --- the table of holes -------------------------------------------------------------------------------------


def check_the_table_of_holes(page: Printed) -> None:
    holes = expected()
    start = page.ends[0]
    is_narrow = "Hole cut, and its limits" in page.text
    titles = ["Hole", "Raceway", "bushing", f"{start} edge", "exact", "back edge", "exact"]
    titles += ["hole cut" if is_narrow else "(limits)", "pilot", "centre, next", "along row"]
    rows = table(page.runs, titles, list(holes))
    assert rows.keys() == holes.keys()
    for id, at in holes.items():
        type, size, _ = ROWS[id[0]][int(id[1]) - 1]
        _, raceway, bushing, u_mark, u, v_mark, v, hole, pilot, to_next, gap = rows[id]
        assert raceway.split(",")[0] == f"{size} in {type}"
        assert bushing == BUSHINGS.get(id, "")
        assert near_tape(number(u_mark), at.u), id
        assert float(u) == pytest.approx(at.u, abs=5.1e-5), id
        assert near_tape(number(v_mark), at.v), id
        assert float(v) == pytest.approx(at.v, abs=5.1e-5), id
        nominal, least, most = (float(at.knockout[one]) for one in ("nominal_in", "min_in", "max_in"))
        limits = f"{nominal:g} ({least:g} to {most:g})"
        assert hole == (f"{nominal:g}" if is_narrow else limits), id
        assert limits in page.text
        assert pilot == PILOTS[id]
        after = holes.get(f"{id[0]}{int(id[1]) + 1}")
        if after is None:
            assert (to_next, gap) == ("", "")
        else:
            assert float(to_next) == pytest.approx(math.hypot(after.u - at.u, after.v - at.v), abs=5.1e-5)
            assert float(gap) == pytest.approx(after.u - at.u - (at.od + after.od) / 2, abs=5.1e-5)


def check_what_it_is_of(page: Printed) -> None:
    face, side = page.face, page.side
    name = f"{face.upper()} SIDE" if face in ("left", "right") else face.upper()
    assert f"E-2: {name}, tape to the {side.upper()}" in page.text
    assert "two faces, revision C" in page.text
    assert f"BACK edge, to the wall: {page.width:g} in" in page.text
    assert "Row A: backs of raceways 5/8 in from the back edge: 13/16 in strut less 3/16 in" in page.text
    assert "Row B: backs of raceways 5-1/16 in (5.09) from the back edge" in page.text
    sheets = {*pages_that_say(page.path, f"E-2: {name},")} & {
        *pages_that_say(page.path, "Actual size (100 %)")
    }
    assert re.search(rf"\b{len(sheets)} sheets?, NEC", page.text)
    feet = [int(one) for one in re.findall(rf"E-2 {face}, cover page \d of (\d)", page.text)]
    assert feet == [len(feet)] * len(feet)


# --- distances ----------------------------------------------------------------------------------------------


def distance(page: Printed, name: str) -> float:
    """What a rule must read between two places that are named, from the frame alone."""
    holes, (start, end) = expected(), page.ends
    one, other = name.split(" to ")
    inset = (page.metal or 0.0) if page.side == "inside" else 0.0
    us = {start: inset, end: page.width - inset}
    vs = {"back": inset, "front": DEEP - (inset if page.lip else 0.0)}
    to = holes[other]
    if one in holes:
        return math.hypot(holes[one].u - to.u, holes[one].v - to.v)
    words = one.replace(" corner", "").replace(" inside", "").split()
    across = [to.u - us[word] for word in words if word in us]
    up = [to.v - vs[word] for word in words if word in vs]
    assert len(across) + len(up) == len(words), name
    return math.hypot(*across, *up)


def told_distances(page: Printed) -> dict[str, str]:
    """Every distance of the table, by what it is from and to."""
    found: dict[str, str] = {}
    on = False
    for line in lines(page.runs):
        texts = [run.text for run in line]
        if texts[0] == "from, to":
            assert not on, "the table is broken"
            on = True
        elif on and len(texts) % 2 == 0 and re.search(r" in( \([\d.]+\))?$", texts[1]):
            found |= dict(zip(texts[::2], texts[1::2], strict=True))
        elif on:
            break
    return found


def check_the_distances(page: Printed) -> None:
    told = told_distances(page)
    assert {"A1 to A4", "A1 to A3", "B1 to B2"} <= told.keys()
    corner = "back corner inside" if page.side == "inside" else "front corner"
    start, end = page.ends
    for first, last in (("A1", "A4"), ("B1", "B2")):
        assert {f"{start} {corner} to {last}", f"{end} {corner} to {first}"} <= told.keys()
    for name, text in told.items():
        one, _ = name.split(" to ")
        parts = 64 if one in expected() or one.endswith(("corner", "corner inside")) else 16
        assert holds(text, distance(page, name), parts), (name, text, distance(page, name))
    assert "(allowed: 1/32 in over the row)" in page.text


@pytest.mark.parametrize(
    ("face", "lip"), [("top", True), ("bottom", False), ("left", False), ("right", True)]
)
def test_inside_without_the_metal_s_thickness_readings_prove_the_place(
    face: str, lip: bool, tmp_path: Path
) -> None:
    page = printed(tmp_path, face, "inside", "tabloid", lip, metal=False)
    told = told_distances(page)
    (start, end), holes = page.ends, expected()
    assert not any("corner" in name for name in told)
    for first, last in (("A1", "A4"), ("B1", "B2")):
        assert holds(told[f"{start} edge OUTSIDE to {first}"], holes[first].u)
        assert holds(told[f"{end} edge OUTSIDE to {last}"], page.width - holes[last].u)
        for id in (first, last):
            at = holes[id]
            assert holds(told[f"back edge OUTSIDE to {id}"], at.v)
            if lip:
                more, less = ("front", "back") if at.v < DEEP / 2 else ("back", "front")
                name = f"{id}: {more} wall reads more than {less} wall by"
                assert holds(told[name], abs(DEEP - 2 * at.v))
            else:
                assert holds(told[f"open front edge to {id}"], DEEP - at.v)
        more, less = (end, start) if holes[first].u < page.width / 2 else (start, end)
        name = f"{first}: {more} wall reads more than {less} wall by"
        assert holds(told[name], abs(page.width - 2 * holes[first].u))
    assert "The job does not give the metal's thickness" in page.text


# --- what to bring, and what to measure first ---------------------------------------------------------------


def check_what_to_bring(page: Printed) -> None:
    """Counted from the raceways."""
    raceways = [(type, size) for row in ROWS.values() for type, size, _ in row]
    wanted: Counter[tuple[str, str]] = Counter()
    for (
        type,
        size,
    ) in raceways:  # threaded: a locknut on either side of the metal; else a connector's body outside
        wanted["locknut", size] += 2 if type == "RMC" else 1
        if type == "EMT":
            wanted["EMT connector", size] += 1
    wanted.update((f"{type} strap", size) for type, size, _ in ROWS["A"])  # row B stands on no strut
    wanted.update({("bonding bushing", "2"): 1, ("plain bushing", "1"): 1})
    sizes = ["2", "1-1/4", "1", "3/4", "1/2"]
    kinds = sorted({kind for kind, _ in wanted})
    rows = table(page.runs, ["Fittings, how many", *(f"{size} in" for size in sizes)], kinds)
    found = {
        (kind, size): int(cell)
        for kind, cells in rows.items()
        for size, cell in zip(sizes, cells[1:], strict=True)
        if cell
    }
    assert found == dict(wanted)
    text = " ".join(page.text.split())
    punches = [f"size {size} (1 hole)" for size in ("2", "1-1/4")] + ["size 1 (1 hole)", "size 3/4 (1 hole)"]
    for words in (
        *punches,
        "Hole saws: 1-1/8 in (1 hole)",
        "7/8 in (4 holes)",
        "7/16 in (1 hole)",
        "1/4 in (1 hole)",
    ):
        assert words in text, words


def check_bar_and_card(page: Printed) -> None:
    """They are as long as they say."""
    match = re.search(r"this bar must read (\d+) in and (\d+) mm", page.text)
    assert match
    long = max(float(match[1]), float(match[2]) / 25.4)
    first_page = pages_that_say(page.path, f" {page.face}, cover page 1")[0]
    with pdfplumber.open(page.path) as document:
        first = document.pages[first_page]
        levels = [line["x1"] - line["x0"] for line in first.lines if abs(line["top"] - line["bottom"]) < 0.01]
        cards = [(curve["width"], curve["height"]) for curve in first.curves]
    assert any(abs(one / 72 - long) < 0.001 for one in levels)
    # An ID-1 card is 85.60 x 53.98 mm (ISO/IEC 7810).
    assert any(abs(w / 72 - 85.60 / 25.4) < 0.002 and abs(h / 72 - 53.98 / 25.4) < 0.002 for w, h in cards)
    assert re.search(r"card outline on cover page 1\b", " ".join(page.text.split()))


def test_neighbours_of_a_row_are_told_apart_from_those_of_the_next() -> None:
    """The reader's own table has what the tests above rest on: rows in order, no two holes alike."""
    holes = expected()
    for row in ROWS:
        mine = [at for id, at in holes.items() if id[0] == row]
        assert all(b.u - a.u > (a.od + b.od) / 2 for a, b in pairwise(mine))


@pytest.mark.parametrize("paper", ["7 x 9 in", "5-1/2 x 8-1/2 in"])
def test_on_narrow_paper_tables_are_parted_and_no_figure_is_cut_short(paper: str, tmp_path: Path) -> None:
    """The lighting panel's cover and circuits pages: every word whole, every figure of the CSV there."""
    text = (folder("sample_jobs") / "06_lighting_panel.yaml").read_text(encoding="utf-8")
    job = tmp_path / "narrow.yaml"
    job.write_text(text.replace("print: {paper: letter}", f"print: {{paper: {paper}}}"), encoding="utf-8")
    solved = pipeline.solve_job(read_job(job))
    pipeline.write_template(solved, tmp_path / "narrow.pdf")
    rows = list(csv.DictReader(csv_bytes(solved.layout, solved.findings).decode().splitlines()))
    with pdfplumber.open(tmp_path / "narrow.pdf") as pdf:
        pages = [page.extract_text() for page in pdf.pages if "Sheet " not in page.extract_text()]
    told = " ".join(pages)
    assert len(pages) >= 3
    assert "…" not in told
    assert len(rows) == 4
    for line in rows:
        for name in ("u_in", "v_in", "hole_diameter_in", "clear_gap_to_next_in"):
            if line[name]:
                assert f"{float(line[name]):.4f}".rstrip("0").rstrip(".") in told, (line["hole"], name)
