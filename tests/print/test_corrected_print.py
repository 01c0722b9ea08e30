"""A simulated printer that is off scale: corrected, sheets come out true; uncorrected, they are caught."""

from __future__ import annotations

import math
import re
from itertools import combinations
from pathlib import Path

import pytest
from pdf_reading import page_size_in, read_lines, read_text
from pypdf import PdfReader, PdfWriter, Transformation
from taped import on_paper, printed_sheets, taped

from templates_engine import pipeline
from templates_engine.drawing.corrected import corrected
from templates_engine.drawing.measuring_page import measuring_document
from templates_engine.drawing.shapes import Document, DrawnPage
from templates_engine.errors import CannotFit
from templates_engine.job import read_job_text
from templates_engine.job.model import MarginsIn, PaperSize
from templates_engine.units import LengthFormat
from templates_engine.user_folder import OVERRIDE
from templates_engine.verify.diagnosis import Verdict, diagnose
from templates_engine.verify.printer_readings import (
    error_of,
)
from templates_engine.verify.printer_store import add_printer
from templates_engine.verify.printers import (
    Printer,
    measuring_page,
)
from templates_engine.verify.readings import readings_of
from templates_engine.writers.pdf import write_pdf

ACROSS, DOWN = 0.993, 1.004
"""What is drawn 1 in along the paper's short edge comes out 0.993 in, along its long edge 1.004 in."""
WITHIN_IN = 0.01
"""Wanted of a corrected print over 36 in."""

JOB = """
job: A row of 36 in
enclosure: {{mark: W-1, kind: wireway, width: 40, height: 40, depth: 6, back gap: 0}}
faces:
  - face: {face}
    rows:
      - strut: 1-5/8
        gap: 1
        place: {{from: {start}, to: centre, distance: 2}}
        raceways:
          - {{type: EMT, size: 1}}
          - {{type: EMT, size: 2, at: 7}}
          - {{type: EMT, size: 3/4, at: 13}}
          - {{type: EMT, size: 1, at: 19-1/2}}
          - {{type: EMT, size: 1-1/2, at: 25}}
          - {{type: EMT, size: 1, at: 31}}
          - {{type: EMT, size: 1, at: 38}}
print: {{paper: {paper}, orientation: {orientation}, margins: 1/4, overlap: 1/2}}
"""
SHEETS = [
    ("top", "letter", "portrait"),
    ("top", "letter", "landscape"),
    ("left", "tabloid", "landscape"),
    ("bottom", "A4", "portrait"),
    ("top", "24 in roll", "either"),
]


def job_text(face: str, paper: str, orientation: str) -> str:
    start = "top" if face == "left" else "left"
    return JOB.format(face=face, start=start, paper=paper, orientation=orientation)


@pytest.fixture(autouse=True)
def own_settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(OVERRIDE, str(tmp_path / "settings"))


def printed(path: Path) -> Path:
    """The file as the simulated printer puts it on paper; upright paper has its short edge across."""
    writer = PdfWriter(clone_from=PdfReader(path))
    for page in writer.pages:
        upright = page.mediabox.width < page.mediabox.height
        page.add_transformation(Transformation().scale(*((ACROSS, DOWN) if upright else (DOWN, ACROSS))))
    out = path.with_name(f"printed-{path.name}")
    writer.write(out)
    return out


def kept_printer(tmp_path: Path) -> Printer:
    """The printer, measured on its own simulated measuring page to the accuracy a caliper has."""
    paper = PaperSize("letter", 8.5, 11.0)
    page = tmp_path / "page.pdf"
    write_pdf(measuring_document(paper, MarginsIn(0.25, 0.25, 0.25, 0.25)), page)
    bars = measuring_page(paper)
    level, upright = _crossed(read_lines(printed(page), 0), bars.across_in, bars.down_in)
    across, down = (
        error_of([f"{level:.4f}"], bars.across_in, "across"),
        error_of([f"{upright:.4f}"], bars.down_in, "down"),
    )
    printer = Printer("office", round(across.percent, 4), round(down.percent, 4), "letter")
    add_printer(printer)
    return printer


def _crossed(
    lines: list[tuple[float, float, float, float]], across: float, down: float
) -> tuple[float, float]:
    """The distance between the crosses of the bars across and down: between long upright and level lines."""
    xs = [a for a, b, c, d in lines if abs(a - c) < 1e-6 and abs(b - d) > down]
    ys = [b for a, b, c, d in lines if abs(b - d) < 1e-6 and abs(a - c) > across * 0.99]
    return max(xs) - min(xs), max(ys) - min(ys)


def printed_places(path: Path, solved: pipeline.Solved) -> dict[str, tuple[float, float]]:
    """Where each hole's circle lies on the taped sheets, from the back left corner on paper."""
    face = solved.layout.faces[0].job
    sheets = taped(path, face.face.value)
    found = {}
    for hole in solved.layout.faces[0].holes:
        expected = on_paper(face.face.value, face.mark_from.value, face.width_in, hole.u_in, hole.v_in)
        near = [one for one in sheets.circles() if math.dist(one[:2], expected) < 0.6]
        found[hole.id] = min(near, key=lambda one: abs(one[2] - hole.hole_diameter_in))[:2]
    return found


@pytest.mark.parametrize(("face", "paper", "orientation"), SHEETS)
def test_with_its_correction_centres_are_true_over_36_in(
    face: str, paper: str, orientation: str, tmp_path: Path
) -> None:
    kept_printer(tmp_path)
    solved = pipeline.solve_job(read_job_text(job_text(face, paper, orientation), "row.yaml"))
    path = tmp_path / "row.pdf"
    pipeline.write_template(solved, path, printer=pipeline.printer_for(solved.layout.job, "office"))
    found = printed_places(printed(path), solved)
    job = solved.layout.faces[0].job
    for hole in solved.layout.faces[0].holes:
        expected = on_paper(job.face.value, job.mark_from.value, job.width_in, hole.u_in, hole.v_in)
        assert math.dist(found[hole.id], expected) < WITHIN_IN, hole.id
    assert math.dist(found["A1"], found["A7"]) == pytest.approx(36.0, abs=WITHIN_IN)


@pytest.mark.parametrize(("face", "paper", "orientation"), SHEETS)
def test_corrected_pages_are_their_paper_and_their_bars_read_true(
    face: str, paper: str, orientation: str, tmp_path: Path
) -> None:
    kept_printer(tmp_path)
    solved = pipeline.solve_job(read_job_text(job_text(face, paper, orientation), "row.yaml"))
    path = tmp_path / "row.pdf"
    printer = pipeline.printer_for(solved.layout.job, "office")
    pipeline.write_template(solved, path, printer=printer)
    if "roll" not in paper:
        plain = tmp_path / "plain.pdf"
        pipeline.write_template(solved, plain)
        assert page_size_in(path, 0) == pytest.approx(page_size_in(plain, 0), abs=1e-6)
    else:
        assert any(side == pytest.approx(24.0, abs=1e-6) for side in page_size_in(path, 0))
    out = printed(path)
    assert "orrected for office: across x1.0070, down x0.9960" in read_text(path, 0).replace("\n", " ")
    for sheet in printed_sheets(out, face):
        said = "\n".join(sheet.words)
        assert "Corrected for office: across x1.0070, down x0.9960" in said
        across, down = re.findall(r"(\d+) in and (\d+) mm", said)
        for (inches, mm), upright in ((across, False), (down, True)):
            longest = max(int(inches), int(mm) / 25.4)
            assert any(
                math.dist(line[:2], line[2:]) == pytest.approx(longest, abs=0.001)
                and (abs(line[0] - line[2]) if upright else abs(line[1] - line[3])) < 1e-6
                for line in sheet.lines
            ), (sheet.number, upright)


@pytest.mark.parametrize(("face", "paper", "orientation"), SHEETS)
def test_without_it_the_readings_say_so_and_give_nearly_the_true_correction(
    face: str, paper: str, orientation: str, tmp_path: Path
) -> None:
    solved = pipeline.solve_job(read_job_text(job_text(face, paper, orientation), "row.yaml"))
    path = tmp_path / "row.pdf"
    pipeline.write_template(solved, path)
    plan = pipeline.plan_job(solved)
    true = ACROSS if plan.orientation == "portrait" else DOWN
    other = DOWN if plan.orientation == "portrait" else ACROSS
    # Every sheet is off alike, and taped mark on mark: so is the whole.
    found = {id: (x * true, y * other) for id, (x, y) in printed_places(path, solved).items()}
    texts = []
    for first, second in combinations(found, 2):
        read = round(math.dist(found[first], found[second]) * 32) / 32
        texts.append(f"{first}-{second}={read}")
    diagnosis = diagnose(plan.faces[0], readings_of(tuple(texts), plan.faces[0], LengthFormat("in")))
    assert diagnosis.verdict is Verdict.REPRINT
    assert diagnosis.scale("x") == pytest.approx(true - 1, abs=0.0005)
    assert diagnosis.scale("y") is None


def test_the_printers_margins_count_where_the_job_names_none() -> None:
    add_printer(Printer("wide margins", 0.0, 0.0, "letter", MarginsIn(0.5, 0.5, 0.75, 0.75)))
    text = job_text("top", "letter", "portrait")
    for job, margin in ((text, 0.25), (text.replace("margins: 1/4, ", ""), 0.75)):
        solved = pipeline.solve_job(read_job_text(job, "row.yaml"))
        plan = pipeline.plan_job(solved, pipeline.printer_for(solved.layout.job, "wide margins"))
        assert plan.margins.left_in == pytest.approx(margin)


def test_a_corrected_page_longer_than_a_pdf_page_may_be_is_refused() -> None:
    whole = Document("", "", 24.0, 199.0, (), (DrawnPage((), (), "roll"),))
    assert corrected(whole, 1.0, 200 / 199).page_height_in == 200.0
    with pytest.raises(CannotFit, match="at most 200 in"):
        corrected(whole, 1.0, 1.01)


def test_a_job_may_name_its_printer(tmp_path: Path) -> None:
    printer = kept_printer(tmp_path)
    text = job_text("top", "letter", "portrait").replace("overlap: 1/2", "overlap: 1/2, printer: Office")
    job = read_job_text(text, "row.yaml")
    assert pipeline.printer_for(job) == printer
    assert pipeline.printer_for(job, "none") is None


def test_without_a_printer_nothing_is_said_of_one(tmp_path: Path) -> None:
    solved = pipeline.solve_job(read_job_text(job_text("top", "letter", "portrait"), "row.yaml"))
    path = tmp_path / "row.pdf"
    pipeline.write_template(solved, path)
    assert "orrected for" not in read_text(path, 0)
