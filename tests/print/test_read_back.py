"""Every sample job, and all eight face and side cases, read back from the finished PDF and put together by
their marks.
"""

from __future__ import annotations

import math
import re
import subprocess
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from eight_cases import EIGHT
from pdf_reading import page_size_in, raster, read_lines
from taped import on_paper, printed_sheets, taped

from templates_engine import pipeline
from templates_engine.job import read_job, read_job_text
from templates_engine.layout.model import FaceLayout, Layout
from templates_engine.resources import folder

SAMPLES = sorted(folder("sample_jobs").glob("*.yaml"))
VECTOR_IN = 0.001
RASTER_IN = 0.005
DPI = 300
MOST_PIXELS = 32_000

PrintedSample = Callable[[Path], tuple[Path, Layout]]
CASES = [(face, side) for face in ("top", "bottom", "left", "right") for side in ("outside", "inside")]


def solved_case(face: str, side: str) -> pipeline.Solved:
    start = "top" if face in ("left", "right") else "left"
    return pipeline.solve_job(read_job_text(EIGHT.format(face=face, side=side, start=start), "eight.yaml"))


@pytest.fixture(scope="module")
def printed_sample(tmp_path_factory: pytest.TempPathFactory) -> PrintedSample:
    """Draws a sample once for all that read it; skips where it shows a failing layout."""

    @cache
    def printed(sample: Path) -> tuple[Path, Layout] | None:
        solved = pipeline.solve_job(read_job(sample))
        if solved.fails:
            return None
        return drawn(tmp_path_factory.mktemp(sample.stem), solved), solved.layout

    def asked(sample: Path) -> tuple[Path, Layout]:
        return printed(sample) or pytest.skip("this sample shows a failing layout; it is not drawn")

    return asked


def drawn(tmp_path: Path, solved: pipeline.Solved) -> Path:
    path = tmp_path / "template.pdf"
    pipeline.write_template(solved, path)
    return path


def expected(face: FaceLayout) -> dict[str, tuple[float, float]]:
    job = face.job
    return {
        hole.id: on_paper(job.face.value, job.mark_from.value, job.width_in, hole.u_in, hole.v_in)
        for hole in face.holes
    }


def assert_face_as_laid_out(path: Path, face: FaceLayout) -> None:
    job = face.job
    sheets = taped(path, job.face.value)
    assert sheets.worst_mark_in < VECTOR_IN
    assert np.linalg.norm(sheets.far - sheets.corner) == pytest.approx(job.width_in, abs=VECTOR_IN)
    circles = sheets.circles()
    places = expected(face)
    for hole in face.holes:
        x, y = places[hole.id]
        if hole.raceway.knockout != "cut":
            assert_only_found_not_cut(sheets, circles, hole, (x, y), face)
            continue
        for diameter in (hole.hole_diameter_in, hole.pilot_diameter_in):
            near = [c for c in circles if math.dist(c[:2], (x, y)) < 0.2 and abs(c[2] - diameter) < 0.01]
            assert near, f"{hole.id}: no circle of {diameter} in on any sheet"
            for cx, cy, d in near:
                assert math.dist((cx, cy), (x, y)) < VECTOR_IN, hole.id
                assert d == pytest.approx(diameter, abs=VECTOR_IN)
        for u, v in hole.quarter_points_in:
            quarter = on_paper(job.face.value, job.mark_from.value, job.width_in, u, v)
            assert _heavy_stroke_through(sheets, quarter), (
                f"{hole.id}: no mark at its quarter point {quarter}"
            )
    # Nothing but the holes and the keep-outs is round on the true-scale sheets.
    known = [*places.values()] + [
        on_paper(
            job.face.value,
            job.mark_from.value,
            job.width_in,
            (one.u_low_in + one.u_high_in) / 2,
            (one.v_low_in + one.v_high_in) / 2,
        )
        for one in job.keep_outs
        if one.diameter_in is not None
    ]
    for cx, cy, d in circles:
        assert min(math.dist((cx, cy), place) for place in known) < VECTOR_IN, (cx, cy, d)


def assert_only_found_not_cut(sheets, circles, hole, place, face: FaceLayout) -> None:
    """A knockout that is there: its own circle and cross-lines, and nothing to drill or to punch."""
    job = face.job
    within = [
        d for cx, cy, d in circles if math.dist((cx, cy), place) < 0.2 and d < hole.hole_diameter_in + 0.01
    ]
    assert within
    assert within == pytest.approx([hole.hole_diameter_in] * len(within), abs=VECTOR_IN)
    for u, v in hole.quarter_points_in:
        quarter = on_paper(job.face.value, job.mark_from.value, job.width_in, u, v)
        assert not _heavy_stroke_through(sheets, quarter), hole.id


def _heavy_stroke_through(sheets, quarter: tuple[float, float]) -> bool:
    """Whether on some sheet a short stroke has the quarter point as its middle."""
    for sheet in sheets.sheets:
        dx, dy = sheet.shift - sheets.corner
        for x1, y1, x2, y2 in sheet.lines:
            middle = ((x1 + x2) / 2 + dx, (y1 + y2) / 2 + dy)
            length = math.dist((x1, y1), (x2, y2))
            if math.dist(middle, quarter) < VECTOR_IN and 0.2 < length < 0.5:
                return True
    return False


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_sample_jobs_read_back_as_laid_out(sample: Path, printed_sample: PrintedSample) -> None:
    path, layout = printed_sample(sample)
    for face in layout.faces:
        assert_face_as_laid_out(path, face)


@pytest.mark.parametrize(("face", "side"), CASES)
def test_each_face_and_side_is_neither_mirrored_nor_turned(face: str, side: str, tmp_path: Path) -> None:
    solved = solved_case(face, side)
    path = drawn(tmp_path, solved)
    assert_face_as_laid_out(path, solved.layout.faces[0])


@pytest.mark.parametrize(("face", "side"), CASES)
def test_words_on_the_sheet_say_which_edge_is_where(face: str, side: str, tmp_path: Path) -> None:
    solved = solved_case(face, side)
    path = drawn(tmp_path, solved)
    start, end = ("TOP", "BOTTOM") if face in ("left", "right") else ("LEFT", "RIGHT")
    near_start = on_paper(face, side, solved.layout.faces[0].job.width_in, 0.0, 0.0)[0]
    left, right = (start, end) if near_start == 0.0 else (end, start)
    for sheet in printed_sheets(path, face):
        assert f"tape to the {side.upper()}" in "\n".join(sheet.words)
        at = sheet.word_places
        assert at[left][0] < at["BACK (wall)"][0] < at[right][0]
        assert at["FRONT"][1] < at[left][1] < at["BACK (wall)"][1]


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_rasters_show_the_circles_where_the_vectors_do(sample: Path, printed_sample: PrintedSample) -> None:
    path, layout = printed_sample(sample)
    seen: set[str] = set()
    for face in layout.faces:
        sheets = taped(path, face.job.face.value)
        for sheet in sheets.sheets:
            pixels, per_x, per_y = raster(path, sheet.page, raster_dpi(path, sheet.page))
            for hole in face.holes:
                at = np.array(expected(face)[hole.id]) + sheets.corner - sheet.shift
                if not _whole_on(sheet, at, hole.hole_diameter_in):
                    continue
                fitted = _fitted_circle(pixels, per_x, per_y, at, hole.hole_diameter_in / 2)
                assert math.dist(fitted[:2], at) < RASTER_IN, hole.id
                assert fitted[2] == pytest.approx(hole.hole_diameter_in, abs=2 * RASTER_IN)
                seen.add(f"{face.job.face.value} {hole.id}")
    assert seen


def raster_dpi(path: Path, page: int) -> float:
    """DPI, or less where a long page would have more pixels along a side than 16 bits can tell."""
    return min(DPI, MOST_PIXELS / max(page_size_in(path, page)))


def _whole_on(sheet, at: np.ndarray, diameter: float) -> bool:
    """Whether all four quarter strokes of a circle there are on the sheet."""
    r = diameter / 2
    middles = [
        ((x1 + x2) / 2, (y1 + y2) / 2)
        for x1, y1, x2, y2 in sheet.lines
        if 0.31 < math.dist((x1, y1), (x2, y2)) < 0.33
    ]
    quarters = [(at[0] + r, at[1]), (at[0] - r, at[1]), (at[0], at[1] + r), (at[0], at[1] - r)]
    return all(any(math.dist(q, m) < VECTOR_IN for m in middles) for q in quarters)


def _fitted_circle(
    pixels: np.ndarray, per_x: float, per_y: float, at: np.ndarray, radius: float
) -> tuple[float, float, float]:
    """Centre and diameter of the circle through the darkest points near the radius, by least squares."""
    height = pixels.shape[0] / per_y
    points = []
    for angle in np.radians([a for a in range(10, 360, 5) if min(a % 90, 90 - a % 90) >= 10]):
        reach = np.arange(radius - 0.035, radius + 0.035, 0.0005)
        xs, ys = at[0] + reach * np.cos(angle), at[1] + reach * np.sin(angle)
        columns, rows = (xs * per_x).astype(int), ((height - ys) * per_y).astype(int)
        dark = 255.0 - pixels[np.clip(rows, 0, pixels.shape[0] - 1), np.clip(columns, 0, pixels.shape[1] - 1)]
        if dark.max() > 128:
            middle = float((dark * reach).sum() / dark.sum())
            points.append((at[0] + middle * np.cos(angle), at[1] + middle * np.sin(angle)))
    xy = np.array(points)
    assert len(xy) > 20
    design = np.column_stack((2 * xy, np.ones(len(xy))))
    a, b, c = np.linalg.lstsq(design, (xy**2).sum(axis=1), rcond=None)[0]
    return float(a), float(b), float(2 * math.sqrt(c + a * a + b * b))


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_the_bars_read_what_is_printed_beside_them(sample: Path, printed_sample: PrintedSample) -> None:
    path, layout = printed_sample(sample)
    for face in layout.faces:
        for sheet in printed_sheets(path, face.job.face.value):
            said = next(w for w in sheet.words if w.startswith("Measure here first"))
            across, down = re.findall(r"(\d+) in and (\d+) mm", said)
            lines = read_lines(path, sheet.page)
            for (inches, mm), upright in ((across, False), (down, True)):
                base = _bar_line(lines, upright, max(int(inches), int(mm) / 25.4))
                for length, side in ((int(inches), +1), (int(mm) / 25.4, -1)):
                    assert _has_tick(lines, base, length, upright, side), (
                        f"{sheet.number}: {length} {upright}"
                    )


def _bar_line(lines, upright: bool, length: float):
    """The bar's own line: level (or upright) and as long as the longer of its two readings."""
    return next(
        line
        for line in lines
        if (abs(line[0] - line[2]) if upright else abs(line[1] - line[3])) < 1e-6
        and math.dist(line[:2], line[2:]) == pytest.approx(length, abs=VECTOR_IN)
    )


def _has_tick(lines, base, length: float, upright: bool, side: int) -> bool:
    """Whether a long tick leaves the bar's line at that distance from its zero, up (left) for side +1."""
    low = min(base[1], base[3]) if upright else min(base[0], base[2])
    for x1, y1, x2, y2 in lines:
        if upright:
            on_bar = abs(x1 - base[0]) < VECTOR_IN and abs(y1 - y2) < 1e-6
            at, reach = y1 - low, (base[0] - x2) * side
        else:
            on_bar = abs(y1 - base[1]) < VECTOR_IN and abs(x1 - x2) < 1e-6
            at, reach = x1 - low, (y2 - base[1]) * side
        if on_bar and abs(at - length) < VECTOR_IN and reach > 0.14:
            return True
    return False


def test_a4_pages_are_exactly_210_by_297_mm(tmp_path: Path) -> None:
    """ISO 216: A4 is 210 x 297 mm."""
    sample = next(path for path in SAMPLES if path.stem.endswith("on_a4"))
    path = drawn(tmp_path, pipeline.solve_job(read_job(sample)))
    size = sorted(side * 25.4 for side in page_size_in(path, 0))
    assert size == pytest.approx([210.0, 297.0], abs=0.001)


def test_the_same_job_gives_the_same_bytes_in_any_process(tmp_path: Path) -> None:
    made = []
    for seed in ("1", "2"):
        path = tmp_path / f"{seed}.pdf"
        command = [sys.executable, "-m", "templates_engine", "draw", str(SAMPLES[0]), "-o", str(path)]
        subprocess.run(command, check=True, env={"PYTHONHASHSEED": seed, "PATH": ""}, capture_output=True)
        made.append(path.read_bytes())
    assert made[0] == made[1]


@pytest.mark.parametrize("lip", ["", "lips: {{front: 3/4}}"])
def test_inside_sheets_show_the_corner_one_thickness_of_metal_in(tmp_path: Path, lip: str) -> None:
    """14 gauge sheet steel is 0.0747 in thick: manufacturers' standard gauge. A front without lip is open."""
    text = EIGHT.replace("back gap: 1/4", "back gap: 1/4, sheet metal: 14 ga")
    text = text.replace("    rows:", f"    {lip}\n    rows:")
    job = read_job_text(text.format(face="left", side="inside", start="top"), "inside.yaml")
    path = drawn(tmp_path, pipeline.solve_job(job))
    sheets = taped(path, "left")
    level = {
        round(y1 + sheet.shift[1] - sheets.corner[1], 4)
        for sheet in sheets.sheets
        for x1, y1, x2, y2 in sheet.lines
        if abs(y1 - y2) < 1e-6 and abs(x1 - x2) > 1.0
    }
    assert {0.0, -0.0747, -7.0} <= level
    assert (-7.0 + 0.0747 in level) == bool(lip)
    words = [word for sheet in sheets.sheets for word in sheet.words]
    assert any("push it into the corner" in word for word in words)
    assert any("trim on the line, open front" in word for word in words) != bool(lip)


KNOCKED_OUT = """
job: factory knockouts
enclosure: {mark: E-1, kind: cabinet, width: 14, height: 17, depth: 7, back gap: 1/4}
faces:
  - face: top
    rows: [{back line: 2, raceways: [{type: EMT, size: 1, at: 5}]}]
  - face: right
    mark from: inside
    factory knockouts:
      - {along: 12-1/2, from back: 5, sizes: [1/2, 1], rings: concentric}
      - {along: [3, 3-1/16], from back: [4-7/8, 5], sizes: [3/4, 1-1/4], rings: eccentric}
      - {along: 9, from back: 1-1/2, sizes: 2}
    rows:
      - raceways: [{type: EMT, size: 2, factory knockout: K3}]
      - strut: 4-5/8
        raceways: [{type: EMT, size: 3/4, factory knockout: K2}, {type: EMT, size: 1/2, factory knockout: K1}]
print: {paper: letter}
"""


def test_holes_in_factory_knockouts_are_printed_where_they_are(tmp_path: Path) -> None:
    """Read by another library; places as listed, diameters by the NEMA table of knockouts."""
    solved = pipeline.solve_job(read_job_text(KNOCKED_OUT, "job.yaml"))
    path = drawn(tmp_path, solved)
    assert_face_as_laid_out(path, solved.layout.faces[1])
    circles = taped(path, "right").circles()
    holes, rings_left = (
        [(9, 1.5, 2.469), (3, 4.875, 1.109), (12.5, 5, 0.875)],
        [(3.0625, 5, 1.734), (12.5, 5, 1.375)],
    )
    for u, v, diameter in holes + rings_left:
        place = on_paper("right", "inside", 17, u, v)
        assert any(math.dist(c[:2], place) < VECTOR_IN and abs(c[2] - diameter) < VECTOR_IN for c in circles)
