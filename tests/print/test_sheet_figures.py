"""Every figure and direction printed on the sheets, against figures worked out beside them.

Words are found by what stands nearest, not by their order or wording; places, by the sheets taped together.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from pathlib import Path

import pytest
from command_line import run
from own_figures import (
    DEPTH,
    PAIRS,
    STARTS,
    OwnHole,
    back_of,
    end_edge,
    job_text,
    length_of,
    mark,
    own_holes,
    start_edge,
)
from pdf_reading import ReadText, page_count, read_text, read_text_lines
from taped import PrintedSheet, Taped, on_paper, taped

CASES = [(pair, index) for pair in PAIRS for index in (0, 1)]
FIGURE = r"(\d+-\d+/\d+|\d+/\d+|\d+)"
NEAR_EDGE_IN = 0.6
EXACT_IN = 0.001


@dataclass(frozen=True)
class Printed:
    """A face's sheets taped together, with what has to be on them."""

    path: Path
    face: str
    side: str
    holes: dict[str, OwnHole]
    sheets: Taped
    fingerprint: str

    @property
    def length(self) -> float:
        return length_of(self.face)

    @property
    def start_on_left(self) -> bool:
        """Whether u runs to the right on paper."""
        return on_paper(self.face, self.side, self.length, 0.0, 0.0)[0] == 0.0

    def words(self, sheet: PrintedSheet) -> list[ReadText]:
        return read_text_lines(self.path, sheet.page)

    def on_face(self, sheet: PrintedSheet, x: float, y: float) -> tuple[float, float]:
        """From the page to the face as it lies taped: x from its left end, y down from its back edge."""
        at = sheet.shift - self.sheets.corner
        return x + float(at[0]), -(y + float(at[1]))


@pytest.fixture(scope="module", params=CASES, ids=lambda case: "-".join(case[0][case[1]]))
def printed(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Printed:
    pair, index = request.param
    folder = tmp_path_factory.mktemp("printed")
    (folder / "job.yaml").write_text(job_text(pair), encoding="utf-8")
    done = run("draw", "job.yaml", cwd=folder)
    assert done.returncode == 0, done.stderr
    face, side = pair[index]
    path = folder / "job.pdf"
    table = run("holes", "job.yaml", "--face", face, cwd=folder).stdout
    (fingerprint,) = re.findall(r"fingerprint (\S+?),", table)
    return Printed(path, face, side, own_holes(face, STARTS[index]), taped(path, face), fingerprint)


def middle(line: ReadText) -> tuple[float, float]:
    return (line.x_in + line.end_x_in) / 2, (line.y_in + line.end_y_in) / 2


def heading(line: ReadText, lines: list[ReadText], ids: list[str]) -> str | None:
    """The hole whose name stands in the line or nearest over it, in the way the line is read."""
    turn = math.radians(line.angle)

    def below(one: ReadText) -> tuple[float, float]:
        dx, dy = line.x_in - one.x_in, line.y_in - one.y_in
        return dx * math.cos(turn) + dy * math.sin(turn), dx * math.sin(turn) - dy * math.cos(turn)

    near = [
        (down, abs(along), found[0])
        for one in lines
        if (found := re.findall(rf"\b({'|'.join(ids)})\b", one.text)) and abs(one.angle - line.angle) < 1
        for along, down in [below(one)]
        if -0.01 <= down < 0.8 and abs(along) < 0.3
    ]
    return min(near)[2] if near else None


# --- hole labels --------------------------------------------------------------------------------------------


def test_every_hole_is_labelled_with_its_own_figures(printed: Printed) -> None:
    """Both tape marks and the pilot at each label; size and type; on the sheet that shows its centre."""
    seen: dict[str, set[str]] = {id: set() for id in printed.holes}
    for sheet in printed.sheets.sheets:
        lines = printed.words(sheet)
        for line in lines:
            if "backs" in line.text:  # a row's line, not a hole's
                continue
            for figure, edge in re.findall(rf"{FIGURE}(?: in)? from (?:the )?(\w+)", line.text):
                id = heading(line, lines, list(printed.holes))
                assert id, line
                hole = printed.holes[id]
                wanted = {start_edge(printed.face): mark(hole.u), "back": mark(hole.v)}
                assert figure == wanted[edge], (id, line.text)
                seen[id].add(edge)
            for figure in re.findall(rf"pilot {FIGURE}", line.text):
                id = heading(line, lines, list(printed.holes))
                assert id, line
                assert figure == mark(printed.holes[id].pilot), (id, line.text)
                seen[id].add("pilot")
            for size, type in re.findall(rf"{FIGURE} in (EMT|RMC)", line.text):
                id = heading(line, lines, list(printed.holes))
                assert id, line
                assert (size, type) == (printed.holes[id].size, printed.holes[id].type), line.text
                seen[id].add("raceway")
    assert seen == {id: {start_edge(printed.face), "back", "pilot", "raceway"} for id in printed.holes}


def test_a_large_name_stands_by_its_own_hole(printed: Printed) -> None:
    """The nearest centre to each name in large type is that hole's."""
    named = set()
    for sheet in printed.sheets.sheets:
        for line in printed.words(sheet):
            id = line.text.strip()
            if id in printed.holes and line.size_pt > 12:
                x, y = printed.on_face(sheet, *middle(line))
                places = {hole.id: on_face_place(printed, hole.u, hole.v) for hole in printed.holes.values()}
                assert min(places, key=lambda one: math.dist(places[one], (x, y))) == id
                named.add(id)
    assert named == set(printed.holes)


def on_face_place(printed: Printed, u: float, v: float) -> tuple[float, float]:
    x, y = on_paper(printed.face, printed.side, printed.length, u, v)
    return x, -y


# --- rulers and edges ---------------------------------------------------------------------------------------


def back_ticks(printed: Printed) -> dict[int, float]:
    """Length of the longest stroke from the back edge at each sixteenth of u."""
    ticks: dict[int, float] = {}
    for sheet in printed.sheets.sheets:
        for x1, y1, x2, y2 in sheet.lines:
            (ax, ay), (bx, by) = printed.on_face(sheet, x1, y1), printed.on_face(sheet, x2, y2)
            if abs(ax - bx) > 1e-4 or min(abs(ay), abs(by)) > 1e-3 or not 0.02 < max(ay, by) < 0.35:
                continue
            u = ax if printed.start_on_left else printed.length - ax
            sixteenth = round(u * 16)
            if abs(u * 16 - sixteenth) < EXACT_IN * 16:
                ticks[sixteenth] = max(ticks.get(sixteenth, 0.0), max(ay, by) - min(ay, by))
    return ticks


def test_ruler_ticks_are_longer_at_the_coarser_graduations(printed: Printed) -> None:
    """Inches longest, then halves, quarters, eighths, sixteenths: as on a tape, from the zero corner."""
    ticks = back_ticks(printed)
    lengths: list[set[float]] = [set() for _ in range(5)]
    for sixteenth in range(1, round(printed.length * 16)):
        grade = next(n for n, step in enumerate((16, 8, 4, 2, 1)) if sixteenth % step == 0)
        if sixteenth in ticks:
            lengths[grade].add(round(ticks[sixteenth], 3))
    assert all(len(found) == 1 for found in lengths[:4]), lengths
    ordered = [next(iter(found)) for found in lengths if found]
    assert ordered == sorted(ordered, reverse=True)
    assert len(set(ordered)) == len(ordered) >= 4
    assert {16 * inch for inch in range(1, math.ceil(printed.length))} <= set(ticks)


def test_ruler_numbers_stand_at_their_inches(printed: Printed) -> None:
    """Along the back edge they count u from the zero corner, along the ends v from the back edge."""
    along, across, in_feet = set(), set(), set()
    for sheet in printed.sheets.sheets:
        measure = min(line.y_in for line in printed.words(sheet) if "Measure" in line.text)
        for line in printed.words(sheet):
            told = re.fullmatch(r"(\d+)(?: = (\d+)'-(\d+)\")? ?", line.text)
            if not told or line.y_in < measure:
                continue
            x, y = printed.on_face(sheet, *middle(line))
            if not (0 < x < printed.length and 0 < y < DEPTH):
                continue
            number = int(told[1])
            if told[2]:
                assert number == 12 * int(told[2]) + int(told[3]), line.text
                in_feet.add(number)
            if y < NEAR_EDGE_IN:
                place = number if printed.start_on_left else printed.length - number
                assert x == pytest.approx(place, abs=0.2), (sheet.number, number)
                along.add(number)
            elif min(x, printed.length - x) < NEAR_EDGE_IN:
                assert y == pytest.approx(number, abs=0.25), (sheet.number, number)
                across.add(number)
    assert len(along) > 0.6 * printed.length
    assert len(across) > 0.5 * DEPTH
    assert in_feet


def test_each_edge_is_called_by_its_name(printed: Printed) -> None:
    left, right = start_edge(printed.face), end_edge(printed.face)
    if not printed.start_on_left:
        left, right = right, left
    named = set()
    for sheet in printed.sheets.sheets:
        for line in printed.words(sheet):
            found = re.search(r"\b(BACK|FRONT|LEFT|RIGHT|TOP|BOTTOM) EDGE", line.text)
            if not found:
                continue
            x, y = printed.on_face(sheet, *middle(line))
            level = abs(line.angle) % 180 < 1
            off = {"BACK": abs(y), "FRONT": abs(y - DEPTH)} if level else {}
            if not level:
                off = {left.upper(): abs(x), right.upper(): abs(x - printed.length)}
            assert min(off, key=lambda name: off[name]) == found[1], (sheet.number, line.text)
            assert min(off.values()) < NEAR_EDGE_IN
            named.add(found[1])
    assert named == {"BACK", "FRONT", left.upper(), right.upper()}


def test_back_lines_are_called_by_their_row_and_distance(printed: Printed) -> None:
    rows = set()
    for sheet in printed.sheets.sheets:
        for line in printed.words(sheet):
            found = re.search(rf"\b([AB])\b.*?{FIGURE} in", line.text)
            if found and "backs" in line.text:
                assert found[2] == mark(back_of(found[1])), line.text
                _, y = printed.on_face(sheet, *middle(line))
                assert y == pytest.approx(back_of(found[1]), abs=0.25)
                rows.add(found[1])
    assert rows == {"A", "B"}


# --- bars, title, joints, map -------------------------------------------------------------------------------


def test_bar_captions_stand_at_their_own_ends(printed: Printed) -> None:
    """A caption "10 in" is nearest the place 10 in along a straight line whose zero is at its other end."""
    for sheet in printed.sheets.sheets:
        lines = printed.words(sheet)
        (said,) = [line.text for line in lines if "Measure" in line.text]
        told = sorted(re.findall(r"(\d+) (in|mm)\b", said))
        captions = [line for line in lines if re.fullmatch(r"\d+ (in|mm) ?", line.text)]
        assert sorted(tuple(line.text.split()) for line in captions) == told
        for line in captions:
            number, unit = line.text.split()
            length = int(number) / (1.0 if unit == "in" else 25.4)
            upright = abs(line.angle) > 1
            x, y = middle(line)
            bars = [
                (x1, y1, x2, y2)
                for x1, y1, x2, y2 in sheet.lines
                if (abs(x1 - x2) if upright else abs(y1 - y2)) < 1e-6
                and math.dist((x1, y1), (x2, y2)) > 2.9
                and (abs(x1 - x) if upright else abs(y1 - y)) < 0.4
            ]
            ends = [(min(y1, y2) if upright else min(x1, x2)) + length for x1, y1, x2, y2 in bars]
            assert any(abs(end - (y if upright else x)) < 0.4 for end in ends), (sheet.number, line.text)


def test_the_title_says_which_sheet_of_what_it_is(printed: Printed) -> None:
    sheets = printed.sheets.sheets
    assert sorted(sheet.number for sheet in sheets) == list(range(1, len(sheets) + 1))
    for sheet in sheets:
        text = "\n".join(sheet.words)
        assert f"Sheet {sheet.number} of {len(sheets)}" in text
        assert re.search(rf"F-1: {printed.face.upper()}\b.*\b{printed.side.upper()}\b", text)
        assert re.search(r"\brev(?:ision)? C\b", text)
        assert "Figures" in text
        assert re.findall(r"fingerprint (\S+)", text)[0].startswith(printed.fingerprint)


def test_each_face_has_a_fingerprint_of_its_own(printed: Printed) -> None:
    pages = [read_text(printed.path, page) for page in range(page_count(printed.path))]
    mine = [text for text in pages if re.search(rf"F-1: {printed.face.upper()}\b", text)]
    assert len(mine) >= len(printed.sheets.sheets) + 1
    for text in pages:
        assert (printed.fingerprint in text) == (text in mine or f"F-1 {printed.face}," in text)


def centre_of(printed: Printed, sheet: PrintedSheet) -> tuple[float, float]:
    """Where the middle of the sheet's paper lies on the face; all sheets of a face are one size."""
    return printed.on_face(sheet, 4.25, 4.25)


def test_joint_words_name_the_neighbour_that_is_there(printed: Printed) -> None:
    by_number = {sheet.number: sheet for sheet in printed.sheets.sheets}
    named = set()
    for sheet in printed.sheets.sheets:
        here = centre_of(printed, sheet)
        for line in printed.words(sheet):
            for number in re.findall(r"\bsheet (\d+)\b", line.text):
                there = centre_of(printed, by_number[int(number)])
                x, y = printed.on_face(sheet, *middle(line))
                axis = 0 if abs(line.angle) % 180 > 1 else 1
                toward = (there[0] - here[0], there[1] - here[1])[axis]
                words_lie = (x - here[0], y - here[1])[axis]
                assert abs(toward) > 1.0, (sheet.number, line.text)
                assert toward * words_lie > 0, (sheet.number, line.text)
                named.add((sheet.number, int(number)))
        for name in sheet.marks:
            pair = {int(n) for n in re.findall(r"\d+", name)}
            assert sheet.number in pair
            (other,) = pair - {sheet.number}
            assert name in by_number[other].marks, (sheet.number, name)
    assert {(a, b) for a, b in named} | {(b, a) for a, b in named} >= {
        (sheet.number, int(n)) for sheet in printed.sheets.sheets for mark_name in sheet.marks
        for n in re.findall(r"\d+", mark_name) if int(n) != sheet.number
    }  # fmt: skip


def test_the_small_map_lies_as_the_sheets_do(printed: Printed) -> None:
    centres = {sheet.number: centre_of(printed, sheet) for sheet in printed.sheets.sheets}
    for sheet in printed.sheets.sheets:
        lines = printed.words(sheet)
        measure = max(line.y_in for line in lines if "Measure" in line.text)
        at = {
            int(line.text): middle(line)
            for line in lines
            if re.fullmatch(r"\d+ ?", line.text) and line.y_in < measure
        }
        assert set(at) == set(centres)
        for one in centres:
            for other in centres:
                dx, dy = (b - a for a, b in zip(centres[one], centres[other], strict=True))
                if abs(dx) > 1:
                    assert (at[other][0] - at[one][0]) * dx > 0, (sheet.number, one, other)
                if abs(dy) > 1:
                    assert (at[other][1] - at[one][1]) * dy < 0, (sheet.number, one, other)


def test_arrows_point_as_the_face_lies(printed: Printed) -> None:
    left, right = start_edge(printed.face).upper(), end_edge(printed.face).upper()
    if not printed.start_on_left:
        left, right = right, left
    for sheet in printed.sheets.sheets:
        lines = printed.words(sheet)
        measure = max(line.y_in for line in lines if "Measure" in line.text)
        at = {
            line.text.split()[0]: middle(line) for line in lines if line.y_in < measure and line.text.split()
        }
        assert at[left][0] < at["BACK"][0] < at[right][0]
        assert at["FRONT"][1] < min(at[left][1], at[right][1]) < at["BACK"][1]
