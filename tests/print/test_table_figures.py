"""Every figure of the terminal's tables and of the exports, against figures worked out beside them."""

from __future__ import annotations

import csv
import io
import json
import math
import re
from pathlib import Path

import pytest
from command_line import run
from own_figures import (
    DEPTH,
    METAL,
    PAIRS,
    STARTS,
    OwnHole,
    back_of,
    end_edge,
    job_text,
    length_of,
    mark,
    own_holes,
    read_mark,
    start_edge,
)

pytestmark = pytest.mark.parametrize(
    "pair", PAIRS, ids=lambda pair: f"{'-'.join(pair[0])} {'-'.join(pair[1])}"
)
Pair = tuple[tuple[str, str], tuple[str, str]]
EXACT = 0.00006
"""Decimals are told to four places."""


@pytest.fixture
def job(pair: Pair, tmp_path: Path) -> Path:
    path = tmp_path / "job.yaml"
    path.write_text(job_text(pair), encoding="utf-8")
    return path


def said(job: Path, *words: str) -> str:
    done = run(*words[:1], job, *words[1:], cwd=job.parent)
    assert done.returncode == 0, done.stderr
    return done.stdout


def faces_of(pair: Pair) -> list[tuple[str, str, dict[str, OwnHole]]]:
    return [(face, side, own_holes(face, start)) for (face, side), start in zip(pair, STARTS, strict=True)]


def next_of(holes: dict[str, OwnHole], hole: OwnHole) -> OwnHole | None:
    return holes.get(f"{hole.row}{int(hole.id[1:]) + 1}")


def test_the_table_of_holes(pair: Pair, job: Path) -> None:
    blocks = said(job, "holes").strip().split("\n\n")
    assert len(blocks) == 2
    for block, (face, side, holes) in zip(blocks, faces_of(pair), strict=True):
        head, columns, *lines = block.splitlines()
        assert head.startswith(f"F-1 {face}, {length_of(face):g} in x {DEPTH:g} in, marked from {side}, ")
        assert f"from {start_edge(face)}" in columns
        assert [re.split(r"\s{2,}", line)[0] for line in lines[: len(holes)]] == list(holes)
        for line, hole in zip(lines, holes.values(), strict=False):
            cells = re.split(r"\s{2,}", line.strip())
            after = next_of(holes, hole)
            apart = [] if after is None else [math.dist((hole.u, hole.v), (after.u, after.v)), hole.gap_after]
            assert cells[:3] == [hole.id, f"{hole.size} in {hole.type}", mark(hole.u)]
            assert cells[4] == mark(hole.v)
            exact = [float(cell) for cell in (cells[3], *cells[5:7], *cells[8:])]
            assert exact == pytest.approx([hole.u, hole.v, hole.cut, *apart], abs=EXACT), line
            assert read_mark(cells[7]) == hole.pilot
        rows = [line for line in lines[len(holes) :] if not line.startswith("note, ")]
        for row, line in zip("AB", rows, strict=True):
            assert line.startswith(f"row {row}: backs of raceways {mark(back_of(row))} in from the back edge")
    notes = [line for line in blocks[-1].splitlines() if line.startswith("note, ")]
    assert len(notes) == 4
    cut = "the standard knockout is cut, as no `hole` is named."
    for face, _, holes in faces_of(pair):
        off = ", ".join(hole.id for hole in holes.values() if abs(hole.u * 16 - round(hole.u * 16)) > EXACT)
        assert f"note, {face} {', '.join(holes)}: {cut}" in notes
        assert any(note.startswith(f"note, {face} {off}: no `snap` is given, ") for note in notes)


def test_the_lines_of_the_csv(pair: Pair, job: Path) -> None:
    lines = list(csv.DictReader(io.StringIO(said(job, "holes", "--as", "csv"))))
    wanted = [(face, side, hole, holes) for face, side, holes in faces_of(pair) for hole in holes.values()]
    assert len(lines) == len(wanted)
    for line, (face, side, hole, _) in zip(lines, wanted, strict=True):
        assert (line["face"], line["mark_from"], line["row"], line["hole"]) == (face, side, hole.row, hole.id)
        assert (line["raceway"], line["cutter"]) == (f"{hole.size} in {hole.type}", hole.cutter)
        figures = {
            "u_in": hole.u,
            "v_in": hole.v,
            "outside_diameter_in": hole.outside,
            "hole_diameter_in": hole.cut,
            "hole_least_in": hole.least,
            "hole_most_in": hole.most,
            "pilot_diameter_in": hole.pilot,
            "quarter_start_u_in": hole.u - hole.cut / 2,
            "quarter_start_v_in": hole.v,
            "quarter_end_u_in": hole.u + hole.cut / 2,
            "quarter_end_v_in": hole.v,
            "quarter_back_u_in": hole.u,
            "quarter_back_v_in": hole.v - hole.cut / 2,
            "quarter_front_u_in": hole.u,
            "quarter_front_v_in": hole.v + hole.cut / 2,
            "row_back_line_in": back_of(hole.row),
        }
        for name, value in figures.items():
            assert float(line[name]) == pytest.approx(value, abs=EXACT), (face, hole.id, name)
        gap = line["clear_gap_to_next_in"]
        assert (float(gap) if gap else None) == hole.gap_after
        assert line["passes_checks"] == "yes"
        off = abs(hole.u * 16 - round(hole.u * 16)) > EXACT
        assert line["notes"].startswith("the standard knockout is cut, as no `hole` is named")
        assert ("; no `snap` is given, " in line["notes"]) == off


def test_the_json_of_export(pair: Pair, job: Path) -> None:
    said(job, "export", "--as", "json", "-o", str(job.parent / "out.json"))
    data = json.loads((job.parent / "out.json").read_text(encoding="utf-8"))
    for found, (face, side, holes) in zip(data["faces"], faces_of(pair), strict=True):
        assert (found["face"], found["mark_from"]) == (face, side)
        assert (found["width_in"], found["depth_in"]) == (length_of(face), DEPTH)
        assert [note["holes"] for note in found["notes"]] == [
            list(holes),
            [hole.id for hole in holes.values() if abs(hole.u * 16 - round(hole.u * 16)) > EXACT],
        ]
        for one, hole in zip(found["holes"], holes.values(), strict=True):
            assert (one["id"], one["type"], one["trade_size"]) == (hole.id, hole.type, hole.size)
            assert (one["row"], one["cutter"]) == (hole.row, hole.cutter)
            r = hole.cut / 2
            quarters = [
                (hole.u - r, hole.v),
                (hole.u + r, hole.v),
                (hole.u, hole.v - r),
                (hole.u, hole.v + r),
            ]
            figures = [one[f"{name}_in"] for name in ("u", "v", "outside_diameter", "hole_diameter")]
            figures += [*one["hole_limits_in"], one["pilot_diameter_in"]]
            wanted = [hole.u, hole.v, hole.outside, hole.cut, hole.least, hole.most, hole.pilot]
            assert figures == pytest.approx(wanted, abs=EXACT), (face, hole.id)
            for got, want in zip(one["quarter_points_in"], quarters, strict=True):
                assert got == pytest.approx(want, abs=EXACT)


def test_the_table_of_fit_for_each_row_as_written(pair: Pair, job: Path) -> None:
    """Room is from the holes' circles to the flat's ends, in a closed can one thickness of metal in."""
    text = said(job, "fit")
    for face, _, holes in faces_of(pair):
        for row in "AB":
            mine = [hole for hole in holes.values() if hole.row == row]
            block = text.split(f"{face}, row {row}: ")[1].split("\n\n")
            assert block[0] == f"{row}1 to {row}3, gap {mark(mine[0].gap_after or 0)} in"
            line = next(line for line in block[1].splitlines() if "as written" in line)
            cells = re.split(r"\s{2,}", line)
            room = {
                "start": mine[0].u - mine[0].cut / 2 - METAL,
                "end": length_of(face) - METAL - mine[-1].u - mine[-1].cut / 2,
            }
            figures = [
                back_of(row),
                min(hole.v - hole.cut / 2 for hole in mine) - METAL,
                DEPTH - max(hole.v + hole.cut / 2 for hole in mine),
                room["end"] if row == "A" else room["start"] + room["end"],
            ]
            assert [float(cell) for cell in cells[1:5]] == pytest.approx(figures, abs=EXACT), line
            # Two gaps: from an edge both push the last hole on; centred, half of each pushes either end.
            spare = room["end"] / 2 if row == "A" else min(room.values())
            largest = math.floor(((mine[0].gap_after or 0) + spare) * 16) / 16
            assert read_mark(cells[5]) == largest
            assert cells[6] == "yes"


@pytest.mark.parametrize("kind", ["svg", "dxf"])
@pytest.mark.parametrize("seen_from", ["outside", "inside"])
def test_the_circles_of_the_drawings(pair: Pair, job: Path, kind: str, seen_from: str) -> None:
    for face, _, holes in faces_of(pair):
        path = job.parent / f"one.{kind}"
        said(job, "export", "--as", kind, "--face", face, "--seen-from", seen_from, "-o", str(path))
        runs_right = (face in ("top", "right")) == (seen_from == "outside")
        wanted = sorted(
            (hole.u if runs_right else length_of(face) - hole.u, -hole.v, hole.cut) for hole in holes.values()
        )
        found = sorted(cut_circles(path))
        # One place of the file is the face's back left corner: taken from the first hole, all must agree.
        dx, dy = found[0][0] - wanted[0][0], found[0][1] - wanted[0][1]
        moved = [(x - dx, y - dy, d) for x, y, d in found]
        assert moved == [pytest.approx(one, abs=EXACT) for one in wanted]
        assert (end_edge(face).upper() in path.read_text(encoding="utf-8")) is True


def cut_circles(path: Path) -> list[tuple[float, float, float]]:
    """Centre x, y upward and diameter of every circle to cut, inches."""
    if path.suffix == ".svg":
        layer = re.search(r'<g id="cut".*?</g>', path.read_text(encoding="utf-8"), re.DOTALL)
        assert layer
        found = re.findall(r'<circle cx="(.*?)" cy="(.*?)" r="(.*?)"', layer[0])
        return [(float(x), -float(y), 2 * float(r)) for x, y, r in found]
    import ezdxf

    cut = ezdxf.readfile(path).modelspace().query('CIRCLE[layer=="CUT"]')
    return [(one.dxf.center.x, one.dxf.center.y, 2 * one.dxf.radius) for one in cut]
