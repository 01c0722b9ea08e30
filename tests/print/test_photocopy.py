"""A centre survives a photocopy of a photocopy: its cross-lines are still whole and in place.

A generation of copying is a blur, a hard contrast and specks of toner lost and added (common practice, no
source for the amounts), at 200 dots an inch: about the fine scan of ITU-T T.4, from memory.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from pdf_reading import raster
from taped import printed_sheets

from templates_engine import pipeline
from templates_engine.job import read_job
from templates_engine.resources import folder

DPI = 200
GENERATIONS = 2
SPECKS = 0.004
WITHIN_IN = 0.01
SAMPLES = sorted(folder("sample_jobs").glob("*.yaml"), key=lambda path: path.stem)[:4]


def copied(page: np.ndarray, generation: int) -> np.ndarray:
    """One generation of copying: grey in, black and white out."""
    around = np.pad(page.astype(float), 1, mode="edge")
    rows, columns = page.shape
    blurred = sum(around[dy : dy + rows, dx : dx + columns] for dy in range(3) for dx in range(3)) / 9
    hard = np.where(blurred < 170, 0, 255).astype(np.uint8)
    hand = np.random.default_rng(generation)
    hard[hand.random(page.shape) < SPECKS] = 255
    hard[hand.random(page.shape) < SPECKS / 4] = 0
    return hard


def line_at(dark: np.ndarray, near: float) -> tuple[float, float]:
    """Where the darkest line along axis 0 crosses axis 1 near a place, pixels, and its dark share."""
    low, high = int(near - 8), int(near + 9)
    shares = dark[:, low:high].mean(axis=0)
    peak = int(np.argmax(shares))
    around = slice(max(peak - 2, 0), peak + 3)
    weights = shares[around]
    middle = float((np.arange(len(shares))[around] * weights).sum() / weights.sum())
    return low + middle + 0.5, float(dark[:, low + peak - 1 : low + peak + 2].any(axis=1).mean())


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_every_centre_can_still_be_punched_from_a_copy_of_a_copy(sample: Path, tmp_path: Path) -> None:
    solved = pipeline.solve_job(read_job(sample))
    path = tmp_path / "job.pdf"
    pipeline.write_template(solved, path)
    seen = 0
    for face in solved.layout.faces:
        for sheet in printed_sheets(path, face.job.face.value):
            page, per_x, per_y = raster(path, sheet.page, DPI)
            for generation in range(GENERATIONS):
                page = copied(page, generation)
            height = page.shape[0] / per_y
            for x, y, diameter in sheet.circles:
                if not any(abs(hole.hole_diameter_in - diameter) < 1e-4 for hole in face.holes):
                    continue
                reach = 0.35 * diameter
                box = [(x - reach) * per_x, (x + reach) * per_x]
                left, right = (int(side) for side in box)
                top, foot = (int((height - side) * per_y) for side in (y + reach, y - reach))
                if left < 0 or top < 0 or right > page.shape[1] or foot > page.shape[0]:
                    continue  # a part of it is on the next sheet, and so is its centre
                dark = page[top:foot, left:right] < 128
                column, upright = line_at(dark, x * per_x - left)
                row, level = line_at(dark.T, (height - y) * per_y - top)
                assert abs((left + column) / per_x - x) < WITHIN_IN
                assert abs(height - (top + row) / per_y - y) < WITHIN_IN
                assert min(upright, level) > 0.9, "a gap in a cross-line"
                seen += 1
    assert seen >= sum(len(face.holes) for face in solved.layout.faces)
