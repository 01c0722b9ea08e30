"""The `printer` and `measured` commands as people run them: a page, a printer kept, sheets judged."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pdfplumber
import pytest
from command_line import Done, run
from pdf_reading import page_count, read_text

from templates_engine import pipeline
from templates_engine.job import read_job_text

GOOD = ("A1-A7=36", "A1-A4=9-1/2", "A1-A6=25", *(f"front-A{n}=3.7935" for n in (1, 4, 6, 7)))
WIDE = """
job: Wide wireway
enclosure: {mark: W-1, kind: wireway, width: 40, height: 6, depth: 6, back gap: 0}
faces:
  - face: top
    rows:
      - strut: 1-5/8
        gap: 2
        place: {from: left, to: centre, distance: 2}
        raceways:
          - {type: EMT, size: 1, count: 4}
          - {type: EMT, size: 1, at: 18}
          - {type: EMT, size: 1, at: 27}
          - {type: EMT, size: 1, at: 38}
print: {paper: letter}
"""


class Office:
    """A person at a machine of its own: a folder to work in and a folder of settings."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.settings = folder, folder / "settings"
        (folder / "wide.yaml").write_text(WIDE, encoding="utf-8")

    def run(self, *words: str) -> Done:
        done = run(*words, cwd=self.folder, TEMPLATES_ENGINE_CONFIG=str(self.settings))
        assert "Traceback" not in done.stderr
        return done

    def done(self, *words: str) -> str:
        done = self.run(*words)
        assert done.returncode == 0, done.stderr
        return done.stdout

    def refused(self, *words: str, code: int = 2) -> str:
        done = self.run(*words)
        assert done.returncode == code, done.stdout + done.stderr
        return done.stderr if code == 2 else done.stdout


@pytest.fixture
def office(tmp_path: Path) -> Office:
    return Office(tmp_path)


# --- printer ------------------------------------------------------------------------------------------------


def test_from_a_measuring_page_to_a_printer_kept_and_forgotten(office: Office) -> None:
    assert "printer sheet" in office.done("printer", "list")
    office.done("printer", "sheet", "--paper", "tabloid")
    page = office.folder / "measuring-page.pdf"
    assert page_count(page) == 1
    typed = re.search(r"templates-engine (printer add NAME .*)", read_text(page, 0).replace("\n", " "))
    assert typed
    readings = {
        "NAME": "office", "TOP": "8.937", "BOTTOM": "8.937", "LEFT": "15.060", "RIGHT": "15.060",
        "AC": "11.314", "BD": "11.310",
    }  # fmt: skip
    words = [readings.get(word.strip('"'), word.strip('"')) for word in typed[1].split()]
    said = office.done(*words)
    assert "office prints 0.70 % too short across and 0.40 % too long down; corrected by" in said
    assert "across x1.0070, down x0.9960" in said
    assert "good to 0.04 %" in said
    assert "out of square" in said
    listed = office.done("printer", "list")
    assert "across x1.0070, down x0.9960" in listed
    assert "Measured on tabloid" in listed
    gone = office.done("printer", "remove", "OFFICE")
    assert gone == "office is removed. It printed 0.70 % too short across and 0.40 % too long down.\n"
    assert "No printer" in office.done("printer", "list")


def test_what_no_printer_makes_is_refused_and_not_kept(office: Office) -> None:
    assert "fit to page" in office.refused("printer", "add", "x", "--across", "6-3/4", "--down", "8.73")
    assert "too coarse" in office.refused("printer", "add", "x", "--across", "177 mm", "--down", "9")
    assert "--paper" in office.refused(
        "printer", "add", "x", "--across", "7", "--down", "9", "--paper", "leter"
    )
    assert "four: top" in office.refused(
        "printer", "add", "x", "--across", "7", "--down", "9", "--margins", "1/4", "--margins", "1/4"
    )
    assert "do not belong" in office.refused(
        "printer", "add", "x", "--across", "7", "--down", "9", "--diagonals", "7", "9"
    )
    assert not office.settings.exists()


def test_readings_of_one_length_that_differ_are_to_be_measured_again(office: Office) -> None:
    """Two bars of 7 in read 6.94 and 7.00: their mean is 0.43 % short, and 0.06 in lie between them."""
    said = office.done(
        *("printer", "add", "x", "--across", "6.940", "--across", "7.000", "--down", "9.000"),
        *("--margins", "0.25", "--margins", "0.5", "--margins", "0.25", "--margins", "0.375"),
    )
    assert "x prints 0.43 % too short across and true down" in said
    assert "Readings of one length differ by 0.060 in: measure them again." in said
    listed = office.done("printer", "list")
    assert "margins top 0.25 in, bottom 0.5 in, left 0.25 in, right 0.375 in" in listed


def test_a_leaning_printer_is_kept_with_a_caution(office: Office) -> None:
    said = office.done("printer", "add", "x", "--across", "7", "--down", "9", "--diagonals", "7.091", "7.051")
    assert "caution" in said
    assert "use another printer" in said
    drawn = office.done("draw", "wide.yaml", "--printer", "x")
    assert "too much: use another printer" in drawn


def test_a_damaged_file_is_reported_with_its_line_and_kept(office: Office) -> None:
    office.done("printer", "add", "x", "--across", "7", "--down", "9")
    file = office.settings / "printers.yaml"
    damaged = file.read_text(encoding="utf-8") + "  : [\n"
    file.write_text(damaged, encoding="utf-8")
    for words in (("list",), ("add", "y", "--across", "7", "--down", "9"), ("remove", "x")):
        assert re.search(r"printers\.yaml:\d+:", office.refused("printer", *words))
    assert re.search(r"printers\.yaml:\d+:", office.refused("draw", "wide.yaml", "--printer", "x"))
    assert file.read_text(encoding="utf-8") == damaged


def test_an_unknown_printer_is_said_with_the_job_file_when_it_names_it(office: Office) -> None:
    assert "no printer 'ofice'" in office.refused("draw", "wide.yaml", "--printer", "ofice")
    (office.folder / "named.yaml").write_text(
        WIDE.replace("letter}", "letter, printer: ofice}"), encoding="utf-8"
    )
    said = office.refused("draw", "named.yaml")
    assert "named.yaml" in said
    assert "print.printer" in said
    assert "--printer none" in said
    office.done("draw", "named.yaml", "--printer", "none")


def test_of_several_papers_the_one_that_is_drawn_on_counts(office: Office) -> None:
    office.done("printer", "add", "small", "--across", "7", "--down", "9", "--margins", "1/2")
    both = WIDE.replace("letter}", "[letter, tabloid]}")
    assert both != WIDE
    (office.folder / "both.yaml").write_text(both, encoding="utf-8")
    said = office.done("draw", "both.yaml", "--printer", "small")
    assert "Paper: tabloid" in said
    assert "small was measured on letter, not on tabloid" in said


def test_drawing_for_a_printer_says_what_to_mind(office: Office) -> None:
    office.done(
        "printer", "add", "big one", "--across", "9", "--down", "15", "--paper", "tabloid", "--margins", "1/2"
    )
    said = office.done("draw", "wide.yaml", "--printer", "big one")
    assert "big one: corrected by across x1.0000, down x1.0000" in said
    assert "measured on tabloid, not on letter" in said
    assert "margins" not in said
    with pdfplumber.open(office.folder / "wide.pdf") as pdf:
        first = " ".join((pdf.pages[0].extract_text() or "").split())
    assert "big one was measured on tabloid, not on letter, which may run through it another way" in first
    (office.folder / "named.yaml").write_text(
        WIDE.replace("letter}", "letter, margins: 1/4}"), encoding="utf-8"
    )
    assert "under what big one leaves blank (top, bottom, left, right)" in office.done(
        "draw", "named.yaml", "--printer", "big one"
    )


# --- measured -----------------------------------------------------------------------------------------------


def test_good_readings_exit_0(office: Office) -> None:
    assert "good:" in office.done("measured", "wide.yaml", *GOOD)


def test_the_distances_of_the_cover_page_are_readings_that_settle_it(office: Office) -> None:
    office.done("draw", "wide.yaml")
    lines = [line for page in range(3) for line in read_text(office.folder / "wide.pdf", page).splitlines()]
    said = {}
    for pair, distance in pairwise(lines):
        found = re.fullmatch(r"(\S+) in(?: \((\S+)\))?", distance.strip())
        if found and re.fullmatch(r"(A\d|(left|right) front corner|front) to A\d", pair.strip()):
            said[pair.strip()] = found[2] or found[1]
    assert {"A1 to A7", "left front corner to A7", "right front corner to A1"} <= said.keys()
    answer = office.done("measured", "wide.yaml", *(f"{pair}={distance}" for pair, distance in said.items()))
    assert "good:" in answer


def test_a_printer_off_scale_is_answered_with_a_command_that_works(office: Office) -> None:
    """A bar of 10 in is read too, for a few distances might as well tell of slips."""
    short = ("A1-A7=35-3/4", "A1-A4=9-7/16", "A5-A7=19-27/32", "A1-A5=15-29/32")
    assert "bar across sheet 1=?" in office.refused("measured", "wide.yaml", *short, code=1)
    said = office.refused("measured", "wide.yaml", *short, "bar across sheet 1=9.931", code=1)
    assert "reprint: every sheet came out 0.69 % too short along the paper's" in said
    add, draw = (line.split()[1:] for line in said.splitlines() if line.startswith("  templates-engine"))
    office.done(*(word.replace("NAME", "office") for word in add))
    assert "x1.0070" in office.done("printer", "list")
    office.done(*(word.replace("NAME", "office") for word in draw))
    # What is left on the corrected sheets is added to what they carried.
    still_long = ("A1-A7=36.108", "A5-A7=20.06", "A1-A5=16.048", "A4-A6=15.5575", "A2-A6=21.9025")
    again = office.refused("measured", "wide.yaml", *still_long, "--printer", "office", code=1)
    assert re.search(r"printer add office .*=-0\.39\d% .*--replace", again)


def test_fit_to_page_is_named_and_gets_no_correction(office: Office) -> None:
    shrunk = ("A1-A7=34-1/2", "A1-A4=9-1/8", "A5-A7=19-3/16", "A1-A5=15-3/8", "bar across sheet 1=9-37/64")
    said = office.refused("measured", "wide.yaml", *shrunk, code=1)
    assert "fit to page" in said
    assert "printer add" not in said


def test_a_slip_is_named_by_joint_and_sheets(office: Office) -> None:
    readings = ("A1-A7=36-1/8", "A1-A5=16", "A5-A6=9-1/8", "A5-A7=20-1/8", "A6-A7=11")
    said = office.refused("measured", "wide.yaml", *readings, code=1)
    found = re.search(
        r"a sheet slipped: sheets? ([\d, and]+) sits? 1/8 in too far toward RIGHT, at joint (\d)-(\d)", said
    )
    assert found
    plan = pipeline.plan_job(pipeline.solve_job(read_job_text(WIDE, "wide.yaml"))).faces[0]
    between = (int(found[2]), int(found[3]))
    (joint,) = (one for one in plan.joints if (one.first, one.second) == between)
    assert 18 < joint.start.x < 27
    beyond = [str(number) for number in range(joint.second, len(plan.sheets) + 1)]
    assert re.findall(r"\d", found[1]) == beyond
    assert f"at joint {found[2]}-{found[3]}, move sheet" in said
    assert "toward LEFT by 1/8 in until mark lies on mark" in said


def test_too_few_readings_are_answered_with_pairs(office: Office) -> None:
    said = office.refused("measured", "wide.yaml", "A1-A7=36-1/8", code=1)
    assert "cannot tell" in said
    assert re.search(r"Measure A\d-A\d.*, put what the rule reads in place of each \?, and run:", said)


def test_readings_that_name_nothing_exit_2_and_all_are_said(office: Office) -> None:
    said = office.refused("measured", "wide.yaml", "A1-A9=36", "A1-A7=3x")
    assert "A9" in said
    assert "3x" in said


def test_a_job_of_several_faces_asks_which(office: Office) -> None:
    two = WIDE.replace(
        "print:", WIDE.split("faces:\n")[1].split("print:")[0].replace("top", "bottom") + "print:"
    )
    (office.folder / "two.yaml").write_text(two, encoding="utf-8")
    assert "--face" in office.refused("measured", "two.yaml", "A1-A7=36")
    assert "good:" in office.done("measured", "two.yaml", *GOOD, "--face", "bottom")
