"""Materials are counted anew beside the program: by enclosure, in all, with spare, in tables and files."""

from __future__ import annotations

import csv
import io
import math
from collections import Counter
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import yaml
from command_line import run

from templates_engine.resources import folder

# Outside diameters: EMT 1-1/4 1.510, 1 1.163, 3/4 0.922 in [ANSI C80.3 Table 1]; RMC 1 1.315 [ANSI C80.1].
OUTSIDE = {"3/4": 0.922, "1": 1.163, "1-1/4": 1.510, "2": 2.197}
STRAP_ROOM_IN = 1.125
"""Between raceways on strut; common practice, no source."""

LP_1 = """
job: Lakeside school
enclosure: {mark: LP-1, kind: panelboard, width: 20, height: 40, depth: 5-3/4, back gap: 1/4,
            system: 208Y/120, spaces: 42}
faces:
  - face: top
    mark from: outside
    rows:
      - strut: [13/16, 13/16]
        gap: 1
        place: centred
        raceways:
          - {type: EMT, size: 1-1/4, conductors: [{count: 3, size: 1, insulation: XHHW, metal: Al}],
             run length: 40 ft 6 in}
          - {type: EMT, size: 3/4, circuits: [1, 3, 5], wire: {size: 12, insulation: THHN}, neutrals: shared,
             ground: 12, run length: 85 ft}
  - face: bottom
    mark from: outside
    rows:
      - {strut: 13/16, gap: 1, place: centred, raceways: [{type: EMT, size: 1, count: 2}]}
      - back line: 4
        gap: 1
        place: centred
        raceways:
          - {type: RMC, size: 1, cutter: hole saw, bushing: insulated}
          - {type: EMT, size: 3/4, run length: 12 ft, conductors: [{count: 1, size: 6, insulation: bare}]}
"""
LP_2 = """
job: Lakeside school
enclosure: {mark: "=LP-2", width: 30, height: 40, depth: 5-3/4, back gap: 1/4, location: wet}
faces:
  - face: top
    mark from: outside
    rows:
      - strut: 13/16
        gap: 1
        place: centred
        raceways: [{type: EMT, size: 1, count: 9}, {type: RMC, size: 1}]
"""
BAD = "job: x\n"


@pytest.fixture
def building(tmp_path: Path) -> Path:
    site = tmp_path / "site"
    (site / "second floor").mkdir(parents=True)
    (site / "LP-1.yaml").write_text(LP_1, encoding="utf-8")
    (site / "second floor" / "LP-2.yaml").write_text(LP_2, encoding="utf-8")
    return site


def table(building: Path, *more: str, code: int = 0) -> list[dict[str, str]]:
    done = run("materials", building, "--as", "csv", *more, cwd=building.parent)
    assert done.returncode == code, done.stderr
    return list(csv.DictReader(io.StringIO(done.stdout)))


def needed(rows: list[dict[str, str]], enclosure: str) -> dict[tuple[str, str, str], float]:
    return {
        (row["what"], row["size"], row["detail"]): float(row["needed"])
        for row in rows
        if row["enclosure"] == enclosure and row["group"] != "not counted"
    }


def test_every_enclosure_and_all_together_are_counted(building: Path) -> None:
    rows = table(building)
    one = needed(rows, "LP-1")
    # By hand: EMT ends in a connector with a locknut inside, RMC stands between two locknuts.
    assert {key[:2]: count for key, count in one.items() if "connector" in key[0] or "nut" in key[0]} == {
        ("EMT connector", "1-1/4 in"): 1,
        ("EMT connector", "1 in"): 2,
        ("EMT connector", "3/4 in"): 2,
        ("locknut", "1-1/4 in"): 1,
        ("locknut", "1 in"): 4,
        ("locknut", "3/4 in"): 2,
    }
    assert one["insulated bushing", "1 in", ""] == 1
    # The second row of the second face stands on no strut.
    straps = {key[1]: count for key, count in one.items() if key[0].endswith("strap")}
    assert straps == {"1-1/4 in": 1, "1 in": 2, "3/4 in": 1}
    both = needed(rows, "in all")
    # Wet: hubs stand outside, LP-2's name begins like a formula and is kept from being one.
    two = needed(rows, "'=LP-2")
    assert (two["hub", "1 in", ""], two["locknut", "1 in", ""]) == (10, 10)
    assert both["EMT strap", "1 in", ""] == 2 + 9
    assert both["locknut", "1 in", ""] == 4 + 10
    assert both.keys() == one.keys() | two.keys()


def test_one_tool_makes_the_holes_of_all_enclosures(building: Path) -> None:
    rows = [row for row in table(building, "--spare", "50") if row["group"] == "tools"]
    holes = {
        (row["enclosure"], row["what"], row["size"]): (int(row["needed"]), int(row["holes"])) for row in rows
    }
    assert holes["LP-1", "knockout punch and die", "for 1 in"] == (1, 2)
    assert holes["LP-1", "hole saw", "1-3/8 in"] == (1, 1)  # usual for 1 in, read on a public page
    assert holes["in all", "knockout punch and die", "for 1 in"] == (1, 12)
    assert holes["in all", "pilot drill", "1/4 in"] == (1, 1)  # the hole saw's
    assert {row["to bring"] if "to bring" in row else row["with 50 % spare"] for row in rows} == {"", "1"}


def test_strut_is_as_long_as_its_straps_for_every_layer(building: Path) -> None:
    def piece_in(*sizes: str, gap_in: float = 1.0) -> float:
        bodies = sum(OUTSIDE[size] for size in sizes) + gap_in * (len(sizes) - 1)
        return math.ceil(bodies + STRAP_ROOM_IN)  # half of it beyond each outermost raceway

    both = needed(table(building), "in all")
    top = 2 * piece_in("1-1/4", "3/4")
    bottom = piece_in("1", "1")
    second = math.ceil(9 * 1.163 + 1.315 + 9 * 1.0 + STRAP_ROOM_IN)
    assert both["strut", "13/16 in", "deep"] == pytest.approx(
        math.ceil((top + bottom + second) / 12 * 10) / 10
    )


def test_conductors_are_as_long_as_their_raceways_by_size_insulation_and_colour(building: Path) -> None:
    one = needed(table(building), "LP-1")
    conductors = {key[1:]: feet for key, feet in one.items() if key[0].endswith("conductor")}
    assert conductors == {
        ("1 AWG", "XHHW, colour not given (phase)"): 121.5,  # three of 40.5 ft
        **{("12 AWG", f"THHN, {colour}"): 85 for colour in ("black", "red", "blue", "white", "green")},
        ("6 AWG", "bare"): 12,
    }
    assert one["Al conductor", "1 AWG", "XHHW, colour not given (phase)"] == 121.5
    raceways = {key[1]: feet for key, feet in one.items() if key[0] == "EMT"}
    assert raceways == {"1-1/4 in": 40.5, "3/4 in": 85 + 12}


def test_spare_is_added_to_the_whole_and_rounded_up(building: Path) -> None:
    rows = {
        (row["what"], row["size"], row["detail"]): row["with 10 % spare"]
        for row in table(building, "--spare", "10")
        if row["enclosure"] == "in all"
    }
    assert rows["EMT strap", "1 in", ""] == "13"  # 11 x 1.1 = 12.1
    assert rows["hub", "1 in", ""] == "11"  # 10 x 1.1 = 11, no sum of floats beyond
    assert rows["Al conductor", "1 AWG", "XHHW, colour not given (phase)"] == "134"  # 121.5 x 1.1 = 133.65
    assert rows["pilot drill", "7/8 in", ""] == "1"


def test_spare_may_be_part_of_a_percent(building: Path) -> None:
    rows = {
        (row["what"], row["size"], row["detail"]): row["with 2.5 % spare"]
        for row in table(building, "--spare", "2.5")
        if row["enclosure"] == "in all"
    }
    assert rows["Al conductor", "1 AWG", "XHHW, colour not given (phase)"] == "125"  # 121.5 x 1.025 = 124.54


@pytest.mark.parametrize("spare", ["nan", "-1", "100.5", "inf", "some", "1,5"])
def test_spare_that_is_no_percentage_is_told(spare: str, building: Path) -> None:
    done = run("materials", building, "--spare", spare, cwd=building.parent)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.endswith(f"'{spare}' is no number from 0 to 100.\n")


def test_what_the_jobs_leave_open_is_told(building: Path) -> None:
    told = {row["enclosure"]: row["what"] for row in table(building) if row["group"] == "not counted"}
    assert told["LP-1"] == "3 of 6 raceways have no `run length`: neither they nor what they carry is counted"
    last = [row["what"] for row in table(building) if row["enclosure"] == "'=LP-2"][-2:]
    assert last[0] == "no bushing is named for A10: none is counted"
    assert last[1].startswith("the raceways have no `run length`")


def test_a_job_that_cannot_be_used_is_told_and_keeps_nothing_back(building: Path) -> None:
    (building / "bad.yaml").write_text(BAD, encoding="utf-8")
    done = run("materials", building, cwd=building.parent)
    assert done.returncode == 2
    assert "bad.yaml" in done.stderr
    assert "`enclosure` is missing" in done.stderr
    assert "bad.yaml: the job cannot be used: nothing of it is counted" in done.stdout
    assert "In all, of 2 enclosures" in done.stdout
    tight = LP_2.replace("count: 9", "count: 29")
    (building / "bad.yaml").write_text(tight, encoding="utf-8")
    assert run("materials", building, cwd=building.parent).returncode == 3


def test_a_folder_without_jobs_and_a_missing_file_are_told(tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    (tmp_path / "empty" / "shop.yaml").write_text("gap: 1", encoding="utf-8")
    (tmp_path / "empty" / ".hidden.yaml").write_text(LP_1, encoding="utf-8")
    none = run("materials", "empty", cwd=tmp_path)
    assert (none.returncode, none.stdout) == (2, "")
    assert (
        none.stderr == "empty: no job file is in this folder. Name a folder with job files (.yaml) in it.\n"
    )
    missing = run("materials", "nowhere.yaml", cwd=tmp_path)
    assert (missing.returncode, missing.stdout) == (2, "")
    assert "There is no such file." in missing.stderr


def test_a_file_named_twice_is_counted_once(building: Path) -> None:
    named = run("materials", building, building / "LP-1.yaml", "--as", "csv", cwd=building.parent).stdout
    assert named == run("materials", building, "--as", "csv", cwd=building.parent).stdout


def test_the_workbook_holds_the_same_as_numbers_and_text(building: Path) -> None:
    done = run("materials", building, "--as", "xlsx", "--spare", "10", cwd=building.parent)
    assert (done.returncode, done.stdout) == (0, "materials.xlsx: written.\n")
    book = openpyxl.load_workbook(building.parent / "materials.xlsx")
    assert book.sheetnames == ["materials", "by enclosure", "not counted"]
    for sheet in book:
        assert sheet.freeze_panes == "A2"
        assert sheet.print_title_rows == "$1:$1"
        assert {cell.data_type for row in sheet.iter_rows() for cell in row} <= {"s", "n"}
    rows = list(book["by enclosure"].iter_rows(min_row=2, values_only=True))
    plain = [row for row in table(building) if row["enclosure"] != "in all" and row["group"] != "not counted"]
    assert [cells(row[0]) + [str(one or "") for one in row[2:6]] for row in rows] == [
        [row["enclosure"], row["group"], row["what"], row["size"], row["detail"]] for row in plain
    ]
    assert [row[6] for row in rows] == [float(row["needed"]) for row in plain]
    ordered = {row[1:4]: row[6] for row in book["materials"].iter_rows(min_row=2, values_only=True)}
    assert ordered["EMT strap", "1 in", None] == 13


def cells(mark: Any) -> list[str]:
    return [f"'{mark}" if str(mark).startswith("=") else str(mark)]


def test_files_are_the_same_every_time_and_kept_when_somebody_worked_on_them(building: Path) -> None:
    site = building.parent
    for kind, name in (("csv", "list.csv"), ("xlsx", "list.xlsx")):
        words = ("materials", building, "--as", kind, "-o", name)
        assert run(*words, cwd=site).returncode == 0
        first = (site / name).read_bytes()
        assert run(*words, cwd=site).returncode == 0
        assert (site / name).read_bytes() == first
    book = openpyxl.load_workbook(site / "list.xlsx")
    book["materials"]["A2"] = "mine"
    book.save(site / "list.xlsx")
    edited = (site / "list.csv").read_text(encoding="utf-8").replace("locknut", "lock nut", 1)
    (site / "list.csv").write_text(edited, encoding="utf-8")
    for kind, name in (("csv", "list.csv"), ("xlsx", "list.xlsx")):
        before = (site / name).read_bytes()
        refused = run("materials", building, "--as", kind, "-o", name, cwd=site)
        assert refused.returncode == 4
        assert f"--overwrite {name}" in refused.stderr
        assert (site / name).read_bytes() == before


def test_the_samples_holes_and_straps_are_counted_from_their_files(tmp_path: Path) -> None:
    samples = folder("sample_jobs")
    rows = table_of(samples, tmp_path)
    holes, straps = 0, Counter[str]()
    for path in samples.glob("*.yaml"):
        for face in yaml.safe_load(path.read_text(encoding="utf-8"))["faces"]:
            for row in face["rows"]:
                count = sum(
                    int(one.get("count", 1))
                    for one in row["raceways"]
                    if one.get("knockout", "cut") == "cut" and "factory knockout" not in one
                )
                holes += count
                on_strut = "strut" in row or row.get("back line") == "auto"
                for one in row["raceways"]:
                    straps[f"{one['type']} strap"] += int(one.get("count", 1)) * on_strut
    cut = sum(int(row["holes"]) for row in rows if row["group"] == "tools" and row["what"] != "pilot drill")
    assert cut == holes
    counted = Counter[str]()
    for row in rows:
        if row["what"].endswith("strap"):
            counted[row["what"]] += int(row["needed"])
    assert counted == +straps


def table_of(samples: Path, tmp_path: Path) -> list[dict[str, str]]:
    done = run("materials", samples, "--as", "csv", cwd=tmp_path)
    rows = list(csv.DictReader(io.StringIO(done.stdout)))
    return [row for row in rows if row["enclosure"] == "in all"]
