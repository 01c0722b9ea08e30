"""Sheets rasterised by two engines and taped together by their marks show the holes of one sheet of it all.

The one sheet is the same job on paper as large as the face. Taping is what a person does: the later sheet of
a joint is trimmed along the line through its marks and laid over the earlier one, mark on mark; nothing here
knows the planner's offsets. Ink is compared with ink, at 150 dots an inch, within one dot.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from pdf_reading import page_size_in, raster
from random_runs import more_when_deep
from taped import PrintedSheet, Taped, taped

from templates_engine import pipeline
from templates_engine.drawing import draw
from templates_engine.drawing.shapes import Document, Layer, Picture
from templates_engine.job import read_job, read_job_text
from templates_engine.job.model import Job, PaperSize
from templates_engine.resources import folder
from templates_engine.sheets import plan
from templates_engine.values import replace
from templates_engine.writers.pdf import pdf_bytes

DPI, FINE_DPI = 150, 300
BORDER_IN = 0.3
HOLE_INK: tuple[Layer, ...] = ("cut", "centre")

DEEP = """
job: deeper than a sheet
enclosure: {mark: PB-9, kind: pull box, width: 30, height: 18, depth: 16, back gap: 0}
faces:
  - face: left
    mark from: inside
    rows:
      - {back line: 2, gap: 1-1/8, place: centred,
         raceways: [{type: RMC, size: 3}, {type: RMC, size: 2}, {type: EMT, size: 1}]}
      - {back line: 9-1/2, gap: 1-1/8, place: {from: top, to: centre, distance: 4},
         raceways: [{type: EMT, size: 4}, {type: EMT, size: 3/4, count: 2}]}
print: {paper: letter}
"""


def job_called(name: str) -> Job:
    if name in ("deep", "butt"):
        text = DEEP.replace("paper: letter", "paper: letter, joints: butt") if name == "butt" else DEEP
        return read_job_text(text, f"{name}.yaml")
    (sample,) = (path for path in folder("sample_jobs").glob("*.yaml") if path.stem.startswith(name))
    return read_job(sample)


def by_pdfium(path: Path, page: int) -> np.ndarray:
    return raster(path, page, FINE_DPI)[0]


def by_poppler(path: Path, page: int) -> np.ndarray:
    command = ["pdftoppm", "-gray", "-r", str(FINE_DPI), "-f", str(page + 1), "-l", str(page + 1), str(path)]
    data = subprocess.run(command, check=True, capture_output=True).stdout
    header = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data)
    assert header is not None
    width, height = int(header[1]), int(header[2])
    return np.frombuffer(data, np.uint8, width * height, header.end()).reshape(height, width)


Engine = Callable[[Path, int], np.ndarray]
ENGINES: list[Engine] = [by_pdfium, *([by_poppler] if shutil.which("pdftoppm") else [])]


def only(document: Document, layers: tuple[Layer, ...]) -> Document:
    """The document with nothing but the shapes of these layers, on the same pages."""

    def kept(picture: Picture) -> Picture:
        return replace(
            picture, shapes=tuple(shape for shape in picture.shapes if getattr(shape, "layer", "") in layers)
        )

    pages = tuple(replace(page, shapes=()) for page in document.pages)
    return replace(document, pictures=tuple(map(kept, document.pictures)), pages=pages)


@pytest.mark.hypothesis  # the deep run, which has more of them, takes it up by this
@pytest.mark.parametrize("name", more_when_deep(["01", "03", "deep"], ["04", "butt"]))
def test_taped_sheets_show_the_holes_of_the_whole_face(name: str, tmp_path: Path) -> None:
    job = job_called(name)
    layout = pipeline.solve_job(job).layout
    tiled, whole = plan(layout), plan(replace(layout, job=on_one_sheet(job)))
    (face,) = tiled.faces
    assert len(face.sheets) >= 2
    assert len(whole.faces[0].sheets) == 1
    if name in ("deep", "butt"):
        assert face.bands >= 2
    for kind, planned in (("tiled", tiled), ("whole", whole)):
        document = draw(layout, planned, ())
        (tmp_path / f"{kind}.pdf").write_bytes(pdf_bytes(document))
        (tmp_path / f"{kind}-holes.pdf").write_bytes(pdf_bytes(only(document, HOLE_INK)))
    word = face.layout.job.face.value
    sheets, single = taped(tmp_path / "tiled.pdf", word), taped(tmp_path / "whole.pdf", word)
    size = face.plane.width_in, face.plane.depth_in

    for engine in ENGINES if face.bands > 1 else ENGINES[:1]:
        holes = ink(tmp_path / "whole-holes.pdf", single, size, engine)
        assert holes.sum() > 1000 * len(face.layout.holes)
        printed = ink(tmp_path / "tiled.pdf", sheets, size, engine)
        missing = holes & ~spread(printed)
        assert not missing.any(), f"{missing.sum()} dots of the whole face are not on the taped sheets"
        taped_holes = ink(tmp_path / "tiled-holes.pdf", sheets, size, engine)
        extra = taped_holes & ~spread(holes)
        assert not extra.any(), f"{extra.sum()} dots on the taped sheets belong to no hole"


def on_one_sheet(job: Job) -> Job:
    """The job on paper with room for the face and all that stands round it."""
    (face,) = job.faces
    short, long = sorted((face.width_in + 3.0, face.depth_in + 4.0))
    return replace(job, printing=replace(job.printing, papers=(PaperSize("large", short, long),)))


def ink(path: Path, sheets: Taped, size: tuple[float, float], engine: Engine) -> np.ndarray:
    """Which dots of the face and its border are dark once the sheets are trimmed and taped, row 0 at the top.

    The fine raster is sampled so that a dot is dark when any of the four under it is.
    """
    columns, rows = (round((side + 2 * BORDER_IN) * FINE_DPI) for side in size)
    x = (np.arange(columns) + 0.5) / FINE_DPI - BORDER_IN
    y = BORDER_IN - (np.arange(rows) + 0.5) / FINE_DPI
    canvas = np.full((rows, columns), 255, np.uint8)
    for sheet in sorted(sheets.sheets, key=lambda one: one.number):
        pixels = engine(path, sheet.page)
        width_in, height_in = page_size_in(path, sheet.page)
        on_page = sheets.corner - sheet.shift
        across = np.floor((x + on_page[0]) * pixels.shape[1] / width_in).astype(int)
        down = np.floor((height_in - (y + on_page[1])) * pixels.shape[0] / height_in).astype(int)
        left, bottom, right, top = trimmed(sheet, sheets)
        keep_x = (across >= 0) & (across < pixels.shape[1]) & (x > left) & (x < right)
        keep_y = (down >= 0) & (down < pixels.shape[0]) & (y > bottom) & (y < top)
        canvas[np.ix_(keep_y, keep_x)] = pixels[np.ix_(down[keep_y], across[keep_x])]
    even = canvas[: rows // 2 * 2, : columns // 2 * 2]
    dots = even.reshape(rows // 2, 2, columns // 2, 2).min(axis=(1, 3))
    result: np.ndarray = dots < 128
    return result


def trimmed(sheet: PrintedSheet, sheets: Taped) -> tuple[float, float, float, float]:
    """What shows of a sheet, from the face's corner: trimmed along a joint's marks where it lies on top, and
    as far as those marks where it lies under.
    """
    left, bottom, right, top = -9e9, -9e9, 9e9, 9e9
    by_joint: dict[tuple[int, int], list[np.ndarray]] = {}
    for name, at in sheet.marks.items():
        first, second = (int(number) for number in re.match(r"(\d+)-(\d+)", name).groups())  # type: ignore[union-attr]
        by_joint.setdefault((first, second), []).append(at + sheet.shift - sheets.corner)
    for (first, second), marks in by_joint.items():
        spans = np.ptp(np.array(marks), axis=0)
        line = np.mean(marks, axis=0)
        is_over = sheet.number == second
        assert sheet.number in (first, second)
        if spans[0] < spans[1]:
            left, right = (max(left, line[0]), right) if is_over else (left, min(right, line[0]))
        else:
            bottom, top = (bottom, min(top, line[1])) if is_over else (max(bottom, line[1]), top)
    return left, bottom, right, top


def spread(dots: np.ndarray) -> np.ndarray:
    """The dots and all their neighbours: what lies within one dot."""
    padded = np.pad(dots, 1)
    rows, columns = dots.shape
    result = np.zeros_like(dots)
    for dy in range(3):
        for dx in range(3):
            result |= padded[dy : dy + rows, dx : dx + columns]
    return result
