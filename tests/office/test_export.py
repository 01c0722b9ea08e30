"""Tables of a building: what was imported comes out equal, figures are numbers and the same as elsewhere."""

from __future__ import annotations

import csv
import io
import json
import math
import re
import shutil
import subprocess
from collections import Counter
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import python_calamine
import yaml
from command_line import run

from templates_engine.resources import folder

SAMPLES = folder("sample_jobs")
SCHOOL = SAMPLES / "school_schedule.csv"
# The last raceway of the second row of the second face carries what no other does.
JOB = """
job: =SUM(A1)
revision: 2
units: {units}
enclosure: {{mark: LP-1, width: {width}, height: {height}, depth: {depth}, back gap: {gap}, system: 208Y/120,
            spaces: 42}}
faces:
  - face: top
    mark from: outside
    lips: {{front: {gap}}}
    rows:
      - {{strut: [{strut}, {strut}], gap: {apart}, place: {{spread: {{from: {apart}, to: {far}}}}},
          raceways: [{{type: EMT, size: 1, count: 2, to: spare}}]}}
  - face: left
    mark from: outside
    rows:
      - {{strut: {strut}, gap: {apart}, place: centred, raceways: [{{type: EMT, size: 3/4}}]}}
      - back line: {line}
        gap: {apart}
        place: {{from: top, to: centre, distance: {line}}}
        raceways:
          - {{type: EMT, size: 1/2, to: door}}
          - type: EMT
            size: fit
            id: X9
            run length: 85 ft
            circuits: [1, {{spaces: [2, 4, 6]}}, {{spaces: [7, 9], neutral: no, breaker: 25}}]
            breaker: 20
            wire: {{size: 12, insulation: THHN}}
            neutrals: own
            ground: 12
"""
INCHES = {"units": "in", "width": 20, "height": 40, "depth": 9, "gap": "1/4", "strut": "13/16",
          "apart": "1-1/8", "far": 18, "line": 5}  # fmt: skip
METRIC = {"units": "Millimetres", "width": 508, "height": 1016, "depth": 230, "gap": 6, "strut": "20.6",
          "apart": 30, "far": 460, "line": 127}  # fmt: skip


def site(tmp_path: Path, measures: dict[str, Any]) -> Path:
    (tmp_path / "jobs").mkdir()
    (tmp_path / "jobs" / "LP-1.yaml").write_text(JOB.format(**measures), encoding="utf-8")
    return tmp_path


def sheet(path: Path, name: str) -> list[dict[str, Any]]:
    rows = python_calamine.CalamineWorkbook.from_path(str(path)).get_sheet_by_name(name).to_python()
    return [dict(zip(rows[0], row, strict=True)) for row in rows[1:]]


# --- back and forth -----------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def school(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The forty panels, imported and exported again."""
    place = tmp_path_factory.mktemp("school")
    run("import", SCHOOL, "--into", "jobs", cwd=place)
    for kind in ("xlsx", "csv"):
        done = run("export", "jobs", "--as", kind, cwd=place)
        assert (done.returncode, done.stderr) == (0, "")
    return place


@pytest.mark.parametrize("out", ["jobs.xlsx", "jobs-raceways.csv"])
def test_what_was_imported_comes_out_equal(school: Path, tmp_path: Path, out: str) -> None:
    same = run("import", out, "--into", "jobs", "--dry-run", cwd=school)
    assert same.stdout == "40 enclosures: 0 would be new; 0 would be changed; 40 as they are.\n"
    new = run("import", school / out, "--into", "again", cwd=tmp_path)
    assert new.returncode == 0, new.stderr
    for path in sorted((school / "jobs").iterdir()):
        assert plain(tmp_path / "again" / path.name) == plain(path)


def plain(path: Path) -> Any:
    """A job without the ids that stand in the exported schedule, as every raceway would have them anyway."""
    job = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    for face in job["faces"]:
        for row in face["rows"]:
            for raceway in row["raceways"]:
                raceway.pop("id", None)
    return job


def test_cells_are_those_of_the_schedule_they_came_from(school: Path) -> None:
    with SCHOOL.open(encoding="utf-8", newline="") as file:
        before = list(csv.DictReader(file))
    with (school / "jobs-raceways.csv").open(encoding="utf-8", newline="") as file:
        after = list(csv.DictReader(file))
    same = ("enclosure", "face", "type", "size", "to", "bushing", "first support", "circuits", "wire",
            "neutrals", "ground", "conductors")  # fmt: skip
    assert Counter(tuple(row[one] for one in same) for row in after) == Counter(
        tuple(row[one] for one in same) for row in before
    )
    assert sum(int(row["count"] or 1) for row in after) == sum(int(row["count"] or 1) for row in before)


@pytest.mark.parametrize("measures", [INCHES, METRIC], ids=["in", "mm"])
def test_everything_a_cell_can_hold_comes_back(tmp_path: Path, measures: dict[str, Any]) -> None:
    place = site(tmp_path, measures)
    run("export", "jobs/LP-1.yaml", "--as", "xlsx", cwd=place)
    unit = measures["units"][:1].replace("M", "mm").replace("i", "in")
    rows = sheet(place / "LP-1.xlsx", "raceways")
    assert [row["id"] for row in rows] == ["A1", "A1", "B1", "X9"]
    last = rows[-1]
    assert (last["face"], last["row"], last["size"]) == ("left", "B", "fit")
    assert last["circuits"] == "1, 2+4+6, 7+9 at 25 no neutral"
    assert last["place"] == f"{measures['line']} {unit} from top to centre"
    assert rows[0]["place"] == f"spread from {measures['apart']} {unit} to {measures['far']} {unit}"
    assert rows[0]["strut"] == f"{measures['strut']} {unit} + {measures['strut']} {unit}"
    assert (rows[0]["job"], rows[0]["count"]) == ("=SUM(A1)", 2)
    same = run("import", "LP-1.xlsx", "--into", "jobs", cwd=place)
    assert same.stdout == "1 enclosure: 0 new; 0 changed; 1 as they are.\n", same.stdout
    new = run("import", "LP-1.xlsx", "--into", "again", cwd=place)
    assert new.returncode == 0, new.stderr
    here, there = (
        json.loads(run("holes", f"{name}/LP-1.yaml", "--as", "json", cwd=place).stdout)["faces"]
        for name in ("jobs", "again")
    )
    assert [one["holes"] for one in here] == [one["holes"] for one in there]
    assert [one["fingerprint"] for one in here] == [one["fingerprint"] for one in there]


def test_a_schedule_of_the_samples_changes_none_of_them(tmp_path: Path) -> None:
    (tmp_path / "jobs").mkdir()
    for path in SAMPLES.glob("*.yaml"):
        if not path.stem.startswith("02_"):  # has the same enclosure as the first
            shutil.copy(path, tmp_path / "jobs")
    done = run("export", "jobs", "--as", "xlsx", cwd=tmp_path)
    assert done.returncode == 1  # one of them is too shallow
    assert "08_too_shallow.yaml: a check failed: do not cut from these numbers." in done.stderr
    same = run("import", "jobs.xlsx", "--into", "jobs", cwd=tmp_path)
    assert same.stdout.splitlines()[-1] == "11 enclosures: 0 new; 0 changed; 11 as they are."
    not_told = [
        (row["enclosure"], row["what is not in these tables"])
        for row in sheet(tmp_path / "jobs.xlsx", "not told")
    ]
    assert ("WW-1", "paper is not in the schedule: no cell holds what the job says") in not_told


@pytest.mark.parametrize("to", ["'=door", "-", "2026-01-02"])
def test_what_would_be_read_as_something_else_is_told_and_left_out(tmp_path: Path, to: str) -> None:
    place = site(tmp_path, INCHES)
    path = place / "jobs" / "LP-1.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("to: door", f'to: "{to}"'), encoding="utf-8")
    run("export", "jobs", "--as", "xlsx", cwd=place)
    same = run("import", "jobs.xlsx", "--into", "jobs", cwd=place)
    assert same.stdout == "1 enclosure: 0 new; 0 changed; 1 as they are.\n"
    told = [row["what is not in these tables"] for row in sheet(place / "jobs.xlsx", "not told")]
    is_told = "to is not in the schedule: no cell holds what the job says" in told
    assert is_told == (to != "2026-01-02")  # which is a text like any other


# --- figures ------------------------------------------------------------------------------------------------


def test_holes_are_the_numbers_of_the_other_exports(tmp_path: Path) -> None:
    place = site(tmp_path, INCHES)
    run("export", "jobs", "--as", "xlsx", cwd=place)
    faces = json.loads(run("holes", "jobs/LP-1.yaml", "--as", "json", cwd=place).stdout)["faces"]
    rows = sheet(place / "jobs.xlsx", "holes")
    wanted = [(face, hole) for face in faces for hole in face["holes"]]
    assert len(rows) == len(wanted) == 5
    for row, (face, hole) in zip(rows, wanted, strict=True):
        assert (row["face"], row["hole"], row["row"]) == (face["face"], hole["id"], hole["row"])
        assert row["fingerprint"] == face["fingerprint"]
        numbers = (
            "from that edge (in)",
            "from back (in)",
            "outside diameter (in)",
            "hole cut (in)",
            "pilot (in)",
        )
        keys = ("u_in", "v_in", "outside_diameter_in", "hole_diameter_in", "pilot_diameter_in")
        assert [row[one] for one in numbers] == [hole[one] for one in keys]
        assert row["measured from"] == {"top": "left", "left": "top"}[face["face"]]
        assert row["passes checks"] == "yes"
    door, fitted = rows[3:]
    # EMT 1/2 is 0.706 in outside [ANSI C80.3 Table 1].
    assert door["raceway"] == fitted["raceway"] == "1/2 in EMT"
    apart = fitted["from that edge (in)"] - door["from that edge (in)"]
    assert door["centre to next (in)"] == pytest.approx(apart)
    assert door["clear gap to next (in)"] == pytest.approx(apart - 0.706)
    assert (fitted["centre to next (in)"], fitted["clear gap to next (in)"]) == ("", "")


def test_circuits_and_conductors_are_counted(tmp_path: Path) -> None:
    place = site(tmp_path, INCHES)
    run("export", "jobs", "--as", "xlsx", cwd=place)
    circuits = sheet(place / "jobs.xlsx", "circuits")
    told = [
        (row["raceway"], row["circuit"], row["phases"], row["colours"], row["neutral"]) for row in circuits
    ]
    assert told == [  # odd left: 1 2 on A, 3 4 on B, 5 6 on C, 7 8 on A, 9 10 on B [NEC 408.3(E)]
        ("X9", "1", "A", "black", "yes"),
        ("X9", "2+4+6", "A, B, C", "black, red, blue", "no"),
        ("X9", "7+9", "A, B", "black, red", "no"),
    ]
    conductors = sheet(place / "jobs.xlsx", "conductors")
    assert [(row["count"], row["size"], row["use"], row["run length (ft)"]) for row in conductors] == [
        (6, "12", "phase", 85),
        (1, "12", "neutral", 85),
        (1, "12", "ground", 85),
    ]
    # 8 x 0.0133 in2 [NEC chapter 9, Table 5] in 1/2 EMT of 0.304 in2 [Table 4].
    assert conductors[2]["fill (%)"] == pytest.approx(100 * 8 * 0.0133 / 0.304, abs=0.06)
    assert conductors[2]["fill allowed (%)"] == 40


def test_findings_and_materials_are_those_of_their_commands(tmp_path: Path) -> None:
    place = site(tmp_path, INCHES)
    run("export", "jobs", "--as", "xlsx", cwd=place)
    findings = json.loads(run("check", "jobs/LP-1.yaml", "--as", "json", cwd=place).stdout)["findings"]
    rows = sheet(place / "jobs.xlsx", "findings")
    keys = ("check", "outcome", "face", "message", "remedy", "source", "unit")
    assert [tuple(row[key] for key in keys) for row in rows] == [
        tuple(one[key] for key in keys) for one in findings
    ]
    assert [row["provided"] for row in rows] == [
        "" if one["provided"] is None else one["provided"] for one in findings
    ]
    plain = run("materials", "jobs", "--as", "csv", cwd=place).stdout
    alone = [row for row in csv.DictReader(io.StringIO(plain)) if row["enclosure"] == "in all"]
    materials = sheet(place / "jobs.xlsx", "materials")[: len(alone)]
    assert [(row["what"], row["size"], row["needed"]) for row in materials] == [
        (row["what"], row["size"], float(row["needed"])) for row in alone
    ]


def test_the_workbook_can_be_worked_with_and_printed(tmp_path: Path) -> None:
    place = site(tmp_path, INCHES)
    run("export", "jobs", "--as", "xlsx", cwd=place)
    book = openpyxl.load_workbook(place / "jobs.xlsx")
    assert book.sheetnames == [
        "raceways", "holes", "circuits", "conductors", "findings", "materials", "by enclosure", "not told",
    ]  # fmt: skip
    for one in book:
        assert (one.freeze_panes, one.print_title_rows, one.print_title_cols) == ("A2", "$1:$1", "$A:$A")
        assert one.page_setup.orientation == "landscape"
        columns = [[cell.value for cell in column] for column in one.iter_cols(max_row=last_row(one))]
        wide = (max(len(str(cell)) for cell in column if cell is not None) for column in columns)
        characters = sum(min(max(width, 6) + 2, 60) for width in wide)
        assert (one.page_setup.fitToWidth or 1) == math.ceil(characters / 200)
        assert {cell.data_type for row in one.iter_rows() for cell in row} <= {"s", "n"}


def last_row(one: Any) -> int:
    """Where the table ends, before its notes."""
    return int(re.sub(r".*\D", "", one.auto_filter.ref))


# --- jobs that are not as they should be --------------------------------------------------------------------


def test_a_bad_job_is_told_and_left_out(tmp_path: Path) -> None:
    place = site(tmp_path, INCHES)
    (place / "jobs" / "bad.yaml").write_text("job: x\n", encoding="utf-8")
    done = run("export", "jobs", "--as", "xlsx", cwd=place)
    assert done.returncode == 2
    assert "bad.yaml: enclosure: `enclosure` is missing" in done.stderr.replace(":1", "")
    told = sheet(place / "jobs.xlsx", "not told")
    assert told[0]["job file"] == "jobs/bad.yaml"
    assert {row["job file"] for row in sheet(place / "jobs.xlsx", "holes")} == {"jobs/LP-1.yaml"}


def test_one_job_is_exported_as_before_and_drawings_are_of_one(tmp_path: Path) -> None:
    place = site(tmp_path, INCHES)
    assert run("export", "jobs/LP-1.yaml", "--as", "csv", cwd=place).stdout == "LP-1.csv: written.\n"
    assert (place / "LP-1.csv").read_bytes().startswith(b"job,revision,enclosure,face,mark_from,fingerprint,")
    for kind in ("json", "svg", "dxf"):
        done = run("export", "jobs/LP-1.yaml", "jobs/LP-1.yaml", "--as", kind, cwd=place)
        assert (done.returncode, done.stdout) == (2, "")
        assert done.stderr.startswith(f"{kind} is written of one job, and 2 are named. Name one")
    done = run("export", "jobs", "--as", "xlsx", "--face", "top", cwd=place)
    assert (done.returncode, done.stderr) == (2, "the tables hold all faces. Leave --face out.\n")


def test_an_edited_schedule_is_not_written_over(tmp_path: Path) -> None:
    place = site(tmp_path, INCHES)
    assert run("export", "jobs", "--as", "csv", cwd=place).returncode == 0
    assert run("export", "jobs", "--as", "csv", cwd=place).returncode == 0
    path = place / "jobs-raceways.csv"
    path.write_text(path.read_text(encoding="utf-8").replace("spare", "pump"), encoding="utf-8")
    kept = path.read_bytes()
    done = run("export", "jobs", "--as", "csv", cwd=place)
    assert done.returncode == 4
    assert "--overwrite jobs-raceways.csv" in done.stderr
    assert path.read_bytes() == kept


# --- as a spreadsheet program reads it ----------------------------------------------------------------------


@pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice (soffice) is not installed")
def test_a_spreadsheet_program_reads_every_cell_as_it_was_written(tmp_path: Path) -> None:
    """LibreOffice, which takes no line of the workbook's writer; numbers to all the digits that it tells."""
    folder_ = site(tmp_path, INCHES)
    assert run("export", "jobs", "--as", "xlsx", "-o", "all.xlsx", cwd=folder_).returncode == 0
    every_sheet = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1"
    home = (tmp_path / "office").as_uri()
    subprocess.run(
        ["soffice", f"-env:UserInstallation={home}", "--headless", "--convert-to", every_sheet, "all.xlsx"],
        cwd=folder_,
        check=True,
        capture_output=True,
        timeout=300,
    )
    book = python_calamine.CalamineWorkbook.from_path(str(folder_ / "all.xlsx"))
    numbers = 0
    for name in book.sheet_names:
        with (folder_ / f"all-{name}.csv").open(encoding="utf-8", newline="") as stream:
            read = list(csv.reader(stream))
        wrote = book.get_sheet_by_name(name).to_python()
        assert len(read) == len(wrote), name
        for theirs, ours in zip(read, wrote, strict=True):
            for told, cell in zip(theirs, ours, strict=True):
                if isinstance(cell, float):
                    numbers += 1
                    assert float(told) == pytest.approx(cell, abs=1e-9), (name, ours)
                else:
                    assert told == cell, (name, ours)
    assert numbers > 40
    assert "=SUM(A1)" in (folder_ / "all-raceways.csv").read_text(encoding="utf-8")  # text, never worked out
