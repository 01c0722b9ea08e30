"""Pieces on a roll are read back from the PDF: whole, true, side by side, and told rightly."""

from __future__ import annotations

import json
import math
import random
import re
from dataclasses import dataclass
from pathlib import Path

import pytest
from command_line import Done, run
from pdf_reading import page_count, page_size_in, read_circles, read_text, read_text_lines

from templates_engine.office.rolls.packing import pack

JOB = """
job: Lakeside school
enclosure: {{mark: {mark}, width: {width}, height: 24, depth: {depth}, back gap: 1/4}}
faces:
  - face: top
    mark from: outside
    rows:
      - {{strut: 1-5/8, gap: 1-1/8, place: {{from: left, to: centre, distance: 3}}, raceways: [
          {{type: EMT, size: 2}}, {{type: EMT, size: 1}}]}}
  - face: bottom
    mark from: outside
    rows:
      - {{strut: 13/16, gap: 1-1/8, place: {{from: left, to: centre, distance: 2-1/2}}, raceways: [
          {{type: EMT, size: 1, count: 2}}]}}
      - {{back line: 4, gap: 1, place: {{from: right, to: centre, distance: 4}}, raceways: [
          {{type: EMT, size: 3/4}}, {{type: EMT, size: 1/2}}]}}
print: {{paper: 24 in roll, margins: 1/4}}
"""
SIZES = {"LP-1": (20, "5-3/4"), "LP-2": (30, "8"), "LP-3": (14, "6")}
# White, strip of the upright bar and border left of a face, white and border above it, inches.
LEFT_IN, ABOVE_IN = 0.25 + 0.45 + 0.40, 0.25 + 0.40


@pytest.fixture
def site(tmp_path: Path) -> Path:
    (tmp_path / "jobs").mkdir()
    for mark, (width, depth) in SIZES.items():
        text = JOB.format(mark=mark, width=width, depth=depth)
        (tmp_path / "jobs" / f"{mark}.yaml").write_text(text, encoding="utf-8")
    return tmp_path


def rolled(site: Path, *more: str, code: int = 0) -> Done:
    done = run("rolls", "jobs", *more, cwd=site)
    assert done.returncode == code, done.stdout + done.stderr
    return done


@dataclass(frozen=True)
class PrintedPiece:
    """A piece as it stands on the page: its upper left corner, inches from the page's lower left."""

    name: str
    left_in: float
    top_in: float


def pieces(path: Path) -> list[PrintedPiece]:
    """Told by the words in their upper left corners, 0.08 in from the left and 0.17 in below the top."""
    return [
        PrintedPiece(match[1], line.x_in - 0.08, line.y_in + 0.17)
        for line in read_text_lines(path, 0)
        if (match := re.fullmatch("Cut out along this frame: (.+)", line.text.strip()))
    ]


# --- the printed page ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("roll", ["24 in roll", "36 in roll"])
def test_every_hole_is_where_its_job_has_it(site: Path, roll: str) -> None:
    rolled(site, "--paper", roll)
    path = site / "rolls.pdf"
    circles = read_circles(path, 0)
    wanted = 0
    for piece in pieces(path):
        mark, word = piece.name.split()
        width = SIZES[mark][0]
        data = json.loads(run("holes", f"jobs/{mark}.yaml", "--as", "json", cwd=site).stdout)
        (face,) = (one for one in data["faces"] if one["face"] == word)
        for hole in face["holes"]:
            # Seen from outside the top has left on the left; the bottom, seen from below, on the right.
            along = hole["u_in"] if word == "top" else width - hole["u_in"]
            x, y = piece.left_in + LEFT_IN + along, piece.top_in - ABOVE_IN - hole["v_in"]
            near = [d for cx, cy, d in circles if math.hypot(cx - x, cy - y) < 0.005]
            assert any(abs(d - hole["hole_diameter_in"]) < 0.001 for d in near), (piece, hole)
            wanted += 1
    assert wanted == 3 * (2 + 4)
    assert min(page_size_in(path, 0)) == pytest.approx(float(roll.split()[0]))


def test_pieces_lie_side_by_side(site: Path) -> None:
    rolled(site)
    path = site / "rolls.pdf"
    long_in, wide_in = page_size_in(path, 0)
    assert page_count(path) == 1
    boxes = []
    for piece in pieces(path):
        width, depth = SIZES[piece.name.split()[0]]
        # Beside the face the strip, borders and white; below it the title strip of 1.55 in too.
        high = {"5-3/4": 5.75, "8": 8, "6": 6}[depth] + 2 * 0.40 + 1.55 + 2 * 0.25
        across = max(math.ceil((width + 0.45 + 2 * 0.40 + 2 * 0.25) * 8 - 1e-9) / 8, 11)
        boxes.append((piece.left_in, piece.top_in - high, piece.left_in + across, piece.top_in))
    assert len(boxes) == 6
    for at, (left, below, right, top) in enumerate(boxes):
        assert left > -0.01
        assert below > -0.01
        assert right < long_in + 0.01
        assert top < wide_in + 0.01
        # Nothing is left between pieces across the roll.
        assert any(abs(top - edge) < 0.01 for edge in (wide_in, *(one[1] for one in boxes)))
        for other in boxes[:at]:
            apart = max(other[0] - right, left - other[2], other[1] - top, below - other[3])
            assert apart > -0.01


def test_what_is_saved_is_told_and_true(site: Path) -> None:
    done = rolled(site)
    took, alone, saved = map(float, re.findall(r"[\d.]+(?= ft)", done.stdout))
    length_in = max(page_size_in(site / "rolls.pdf", 0))
    assert took == math.ceil(length_in / 12 * 10 - 1e-6) / 10
    single_in = 0.0
    for mark in SIZES:
        for word in ("top", "bottom"):
            run("draw", f"jobs/{mark}.yaml", "--face", word, "-o", f"{mark}-{word}.pdf", cwd=site)
            size = page_size_in(site / f"{mark}-{word}.pdf", 0)
            single_in += size[1] if size[0] == pytest.approx(24) else size[0]
    assert alone == math.ceil(single_in / 12 * 10 - 1e-6) / 10
    assert saved == pytest.approx(alone - took)
    assert saved > 0


def test_cover_pages_go_with_the_pieces(site: Path) -> None:
    done = rolled(site)
    assert "rolls-cover.pdf: cover pages, on office paper.\n" in done.stdout
    covers = site / "rolls-cover.pdf"
    assert page_size_in(covers, 0) == pytest.approx((8.5, 11))
    said = "\n".join(read_text(covers, page) for page in range(page_count(covers)))
    printed = read_text(site / "rolls.pdf", 0)
    for mark in SIZES:
        for word in ("TOP", "BOTTOM"):
            assert f"{mark}: {word}, tape to the OUTSIDE" in said
            assert f"{mark}: {word}, tape to the OUTSIDE" in printed
    prints = set(re.findall(r"\b[0-9A-Z]{4}-[0-9A-Z]{4}-[0-9A-Z]{3}\b", printed))
    assert len(prints) == 6
    assert prints <= set(re.findall(r"\b[0-9A-Z]{4}-[0-9A-Z]{4}-[0-9A-Z]{3}\b", said))


def test_the_same_jobs_give_the_same_bytes(site: Path) -> None:
    rolled(site)
    first = (site / "rolls.pdf").read_bytes(), (site / "rolls-cover.pdf").read_bytes()
    rolled(site)
    assert ((site / "rolls.pdf").read_bytes(), (site / "rolls-cover.pdf").read_bytes()) == first


# --- faces and jobs that are not like the others ------------------------------------------------------------


def test_a_face_deeper_than_the_roll_comes_in_several_pieces(site: Path) -> None:
    for mark in ("LP-2", "LP-3"):
        (site / "jobs" / f"{mark}.yaml").unlink()
    deep = JOB.format(mark="LP-1", width=30, depth=30)
    (site / "jobs" / "LP-1.yaml").write_text(deep, encoding="utf-8")
    done = rolled(site)
    assert "LP-1 top, sheet 1 of 2, LP-1 top, sheet 2 of 2, LP-1 bottom, sheet 1 of 2" in done.stdout


def test_a_long_building_takes_several_pages(site: Path) -> None:
    for number in range(4, 18):
        text = JOB.format(mark=f"LP-{number}", width=30, depth=16)
        (site / "jobs" / f"LP-{number}.yaml").write_text(text, encoding="utf-8")
    done = rolled(site)
    written = re.findall(r"^(rolls-\d\.pdf): ", done.stdout, re.MULTILINE)
    assert len(written) > 1
    names = [piece.name for name in written for piece in pieces(site / name)]
    assert sorted(names) == sorted(
        f"LP-{number} {word}" for number in range(1, 18) for word in ("top", "bottom")
    )
    assert all(max(page_size_in(site / name, 0)) <= 200 for name in written)


def test_a_job_that_fails_is_left_out_unless_a_draft_is_asked_for(site: Path) -> None:
    shallow = JOB.format(mark="LP-1", width=20, depth="4-1/8")
    (site / "jobs" / "LP-1.yaml").write_text(shallow, encoding="utf-8")
    (site / "jobs" / "bad.yaml").write_text("job: x\n", encoding="utf-8")
    done = rolled(site, code=2)
    assert "jobs/LP-1.yaml: a check failed, so it is left out." in done.stderr
    assert "bad.yaml" in done.stderr
    assert {piece.name.split()[0] for piece in pieces(site / "rolls.pdf")} == {"LP-2", "LP-3"}
    (site / "jobs" / "bad.yaml").unlink()
    assert rolled(site, code=1).stdout == done.stdout
    rolled(site, "--draft")
    said = read_text(site / "rolls.pdf", 0)
    assert said.count("DRAFT: DO NOT CUT") >= 2
    assert len(pieces(site / "rolls.pdf")) == 6


@pytest.mark.parametrize(
    ("paper", "told"),
    [("letter", "--paper: letter is no roll."), ("24 x 36 in", "is no roll."), ("wide", "--paper: ")],
)
def test_a_paper_that_is_no_roll_is_refused(site: Path, paper: str, told: str) -> None:
    assert told in rolled(site, "--paper", paper, code=2).stderr
    assert not (site / "rolls.pdf").exists()


def test_a_printer_that_the_job_names_is_told_not_to_count(site: Path) -> None:
    path = site / "jobs" / "LP-3.yaml"
    path.write_text(
        path.read_text(encoding="utf-8").replace("margins: 1/4", "printer: office"), encoding="utf-8"
    )
    assert "caution: jobs/LP-3.yaml: drawn without the correction for office.\n" in rolled(site).stdout


# --- packing ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(40))
def test_packed_pieces_are_whole_apart_and_close(seed: int) -> None:
    chance = random.Random(seed)
    sizes = [(chance.uniform(3, 60), chance.uniform(3, 24)) for _ in range(chance.randint(1, 40))]
    pages = pack(sizes, 24, 200)
    assert sorted(one.number for page in pages for one in page.pieces) == list(range(len(sizes)))
    for page in pages:
        boxes = [(one.along_in, one.across_in, *sizes[one.number]) for one in page.pieces]
        for at, (along, across, long, wide) in enumerate(boxes):
            assert along + long <= page.length_in + 1e-9 <= 200 + 1e-6
            assert across + wide <= 24 + 1e-9
            for other_along, other_across, other_long, other_wide in boxes[:at]:
                assert (
                    along + long <= other_along + 1e-9
                    or other_along + other_long <= along + 1e-9
                    or across + wide <= other_across + 1e-9
                    or other_across + other_wide <= across + 1e-9
                )
    # First fit by falling length: 1.7 times the least length and the longest piece [Coffman and others 1980].
    least = sum(long * wide for long, wide in sizes) / 24
    assert sum(page.length_in for page in pages) <= 1.7 * least + max(long for long, _ in sizes) + 1e-9
