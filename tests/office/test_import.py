"""Schedules written by other libraries become the job files they say, read back here by themselves."""

from __future__ import annotations

import csv
import datetime
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
import yaml
from command_line import Done, run
from schedules import HEADINGS, raceway, write_csv, write_ods, write_xlsx

from templates_engine import pipeline
from templates_engine.job.schema import WrittenEnclosure, WrittenFace, WrittenJob, WrittenRaceway, WrittenRow
from templates_engine.office.schedules.cells import read_cell
from templates_engine.office.schedules.fields import FIELDS, field_for
from templates_engine.resources import folder

SCHOOL = folder("sample_jobs") / "school_schedule.csv"


def imported(schedule: Path, *more: str | Path, code: int = 0) -> Done:
    done = run("import", schedule.name, "--into", "jobs", *more, cwd=schedule.parent)
    assert done.returncode == code, done.stdout + done.stderr
    return done


def job(tmp_path: Path, mark: str = "LP-1") -> dict[str, Any]:
    text = (tmp_path / "jobs" / f"{mark}.yaml").read_text(encoding="utf-8")
    tree: dict[str, Any] = yaml.load(text, Loader=yaml.BaseLoader)
    return tree


def raceways(tmp_path: Path, mark: str = "LP-1") -> list[dict[str, Any]]:
    return [one for face in job(tmp_path, mark)["faces"] for row in face["rows"] for one in row["raceways"]]


# --- a building ---------------------------------------------------------------------------------------------


def test_forty_panels_come_out_as_their_schedule_says_and_pass(tmp_path: Path) -> None:
    done = run("import", SCHOOL, "--into", tmp_path / "jobs", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[-1] == "40 enclosures: 40 new; 0 changed; 0 as they are."
    with SCHOOL.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    wanted, found = Counter[tuple[str, ...]](), Counter[tuple[str, ...]]()
    for row in rows:
        wanted[row["enclosure"], row["face"], row["type"], row["size"], row["to"]] += int(row["count"] or 1)
    jobs = sorted((tmp_path / "jobs").iterdir())
    assert len(jobs) == 40
    for path in jobs:
        solved = pipeline.solve_job(pipeline.open_job(path))
        assert not solved.fails, path
        for face in solved.layout.faces:
            for hole in face.holes:
                mark, word = solved.layout.job.enclosure.mark, face.job.face.value
                found[mark, word, hole.type, f"{hole.trade_size} in", hole.raceway.to] += 1
    assert found == wanted
    again = run("import", SCHOOL, "--into", tmp_path / "jobs", cwd=tmp_path)
    assert again.stdout.splitlines()[-1] == "40 enclosures: 0 new; 0 changed; 40 as they are."


def test_what_stands_once_holds_for_its_enclosure_face_or_row(tmp_path: Path) -> None:
    run("import", SCHOOL, "--into", tmp_path / "jobs", cwd=tmp_path)
    panel = job(tmp_path, "RP-1G")
    assert panel["job"] == "Mill Pond school"
    assert panel["enclosure"] == {
        "mark": "RP-1G", "kind": "panelboard", "width": "20 in", "height": "50 in", "depth": "5-3/4 in",
        "back gap": "1/4 in", "sheet metal": "16 ga", "location": "dry", "system": "208Y/120", "spaces": "30",
    }  # fmt: skip
    bottom, top = panel["faces"]
    assert (top["face"], top["mark from"], top["lips"]) == ("top", "outside", {"front": "1/2 in"})
    (row,) = top["rows"]
    assert (row["strut"], row["gap"], row["snap"], row["place"]) == (
        "13/16 in", "1-1/8 in", "1/16 in", "centred",
    )  # fmt: skip
    assert row["raceways"][0] == {
        "type": "EMT", "size": "1/2", "to": "receptacles 106", "first support": "30 in",
        "run length": "91 ft", "circuits": ["1", "3"], "wire": {"size": "12", "insulation": "THHN"},
        "neutrals": "own", "ground": "12",
    }  # fmt: skip
    assert bottom["rows"][0]["raceways"][1]["count"] == "2"
    assert bottom["rows"][0]["raceways"][0]["conductors"] == [
        {"count": "3", "size": "3", "insulation": "THHN"},
        {"count": "1", "size": "3", "insulation": "THHN", "use": "neutral"},
        {"count": "1", "size": "8", "insulation": "THHN", "use": "ground"},
    ]
    spread = job(tmp_path, "WW-1")["faces"][0]["rows"][0]["place"]
    assert spread == {"spread": {"from": "3 in", "to": "45 in"}}
    edge = job(tmp_path, "WW-1")["faces"][1]["rows"][0]["place"]
    assert edge == {"from": "right", "to": "near side", "distance": "3 in"}


def test_a_new_file_says_where_everything_comes_from(tmp_path: Path) -> None:
    run("import", SCHOOL, "--into", tmp_path / "jobs", cwd=tmp_path)
    text = (tmp_path / "jobs" / "RP-1F.yaml").read_text(encoding="utf-8")
    assert text.startswith("# Made from school_schedule.csv.")
    assert "back gap: 1/4 in  # how far the can stands off the wall\n" in text
    lines = SCHOOL.read_text(encoding="utf-8").splitlines()
    number = next(at for at, line in enumerate(lines, start=1) if line.startswith("RP-1F,"))
    assert f"# row {number}\n" in text
    assert f"# row {number + 3}\n" in text


# --- kinds of file ------------------------------------------------------------------------------------------

ROWS = (
    HEADINGS,
    raceway("LP-1", "2", "DP-1", length=85),
    raceway("LP-1", 0.75, "room 101", row="B", strut="2-7/16 in", qty=2),
    raceway("LP-2", "1-1/4", 203, side="bottom", length=40.5),
)


@pytest.mark.parametrize("kind", ["csv", "semicolons", "tabs", "xlsx", "ods"])
def test_every_kind_of_file_says_the_same(tmp_path: Path, kind: str) -> None:
    match kind:
        case "xlsx":
            path = write_xlsx(tmp_path / "feeders.xlsx", ROWS)
        case "ods":
            path = write_ods(tmp_path / "feeders.ods", ROWS)
        case _:
            sign = {"csv": ",", "semicolons": ";", "tabs": "\t"}[kind]
            path = write_csv(tmp_path / "feeders.csv", ROWS, sign, "utf-8-sig")
    done = imported(path)
    row, column = 3, "M"
    assert (
        f"row {row}, column {column} (Trade size): the number 0.75 is read as trade size 3/4\n" in done.stdout
    )
    assert raceways(tmp_path) == [
        {"type": "EMT", "size": "2", "to": "DP-1", "run length": "85 ft"},
        {"type": "EMT", "size": "3/4", "count": "2", "to": "room 101"},
    ]
    assert raceways(tmp_path, "LP-2") == [
        {"type": "EMT", "size": "1-1/4", "to": "203", "run length": "40.5 ft"}
    ]


def test_a_date_in_a_size_column_is_said_to_be_one(tmp_path: Path) -> None:
    day = datetime.date(2026, 1, 2)
    rows = (HEADINGS, raceway("LP-1", "2"), raceway("LP-1", day), raceway("LP-2", "1", day, side="left"))
    for path in (write_xlsx(tmp_path / "f.xlsx", rows), write_ods(tmp_path / "f.ods", rows)):
        done = imported(path, code=2)
        assert (
            f"{path.name}: sheet Feeders, row 3, column M (Trade size): The cell holds the date "
            "2 January 2026: the spreadsheet took what was typed, such as 1/2 or 3-4, for one. Format the "
            "column as text, then type it again.\n"
        ) in done.stderr
        assert "row 4, column O (To): The cell holds the date" in done.stderr
        assert not (tmp_path / "jobs" / "LP-1.yaml").exists()
    saved = write_csv(tmp_path / "f.csv", (HEADINGS, raceway("LP-1", "2-Jan"), raceway("LP-1", "Jan-02")))
    assert imported(saved, code=2).stderr.count("holds the date") == 2


def test_merged_cells_hold_for_all_their_rows(tmp_path: Path) -> None:
    rows = (
        HEADINGS,
        raceway("LP-1", "2"),
        raceway("", "1"),
        raceway("", "3/4"),
        raceway("LP-2", "1"),
    )
    write_xlsx(tmp_path / "f.xlsx", rows, "A2:A4")
    write_ods(tmp_path / "f.ods", rows, {(1, 0): 3})
    for name in ("f.xlsx", "f.ods"):
        done = imported(tmp_path / name, "--dry-run")
        assert "LP-1.yaml: new, 3 raceways." in done.stdout
        assert "LP-2.yaml: new, 1 raceway." in done.stdout
    apart = imported(write_xlsx(tmp_path / "g.xlsx", rows), code=2)
    assert "row 4: enclosure not given. Write it in every row" in apart.stderr


def test_titles_above_the_headings_and_headings_once_more_are_no_raceways(tmp_path: Path) -> None:
    rows = (
        ("FEEDER SCHEDULE",),
        (),
        HEADINGS,
        raceway("LP-1", "2"),
        HEADINGS,
        (),
        raceway("LP-1", "1"),
    )
    imported(write_csv(tmp_path / "f.csv", rows))
    text = (tmp_path / "jobs" / "LP-1.yaml").read_text(encoding="utf-8")
    assert [one["size"] for one in raceways(tmp_path)] == ["2", "1"]
    assert "# row 4\n" in text
    assert "# row 7\n" in text


def test_columns_that_are_not_used_are_told(tmp_path: Path) -> None:
    rows = [
        (*HEADINGS, "Remarks", "Busing", ""),
        (*raceway("LP-1", "2"), "check on site", "plain", "x"),
    ]
    done = imported(write_csv(tmp_path / "f.csv", rows))
    assert "f.csv: column Q (Remarks) is not used.\n" in done.stdout
    assert "f.csv: column R (Busing) is not used; did you mean bushing?\n" in done.stdout
    assert "f.csv: column S, which has no heading, is not used.\n" in done.stdout


def test_units_stand_in_headings_or_in_a_column(tmp_path: Path) -> None:
    headings = ["Strut (mm)" if one == "Strut" else one for one in HEADINGS]
    imported(write_xlsx(tmp_path / "f.xlsx", (headings, raceway("LP-1", "2", strut=41))))
    assert job(tmp_path)["faces"][0]["rows"][0]["strut"] == "41 mm"
    # A file in millimetres takes the schedule's bare inches with their unit.
    path = tmp_path / "jobs" / "LP-1.yaml"
    metric = path.read_text(encoding="utf-8").replace(
        "job: Lakeside school", "job: Lakeside school\nunits: mm"
    )
    path.write_text(
        metric.replace("width: 20 ", "width: 508 ").replace("height: 40 ", "height: 900 "), encoding="utf-8"
    )
    imported(write_xlsx(tmp_path / "f.xlsx", (headings, raceway("LP-1", "2", strut=41))), "--yes")
    assert (job(tmp_path)["enclosure"]["width"], job(tmp_path)["enclosure"]["height"]) == ("508", "40 in")
    rows = ((*HEADINGS, "units"), (*raceway("LP-3", "2", width=500, height=900), "mm"))
    imported(write_csv(tmp_path / "g.csv", rows))
    third = job(tmp_path, "LP-3")
    assert (third["units"], third["enclosure"]["width"]) == ("mm", "500")


def test_size_and_type_may_stand_in_one_column(tmp_path: Path) -> None:
    headings = ["raceway" if one == "Conduit type" else one for one in HEADINGS if one != "Trade size"]

    def row(words: str) -> list[Any]:
        cells = list(raceway("LP-1", ""))
        cells[HEADINGS.index("Conduit type")] = words
        del cells[HEADINGS.index("Trade size")]
        return cells

    imported(
        write_csv(tmp_path / "f.csv", [headings, row("2 in EMT"), row('1-1/4" PVC 40'), row("20 mm conduit")])
    )
    assert [(one["type"], one["size"]) for one in raceways(tmp_path)] == [
        ("EMT", "2"),
        ("PVC 40", "1-1/4"),
        ("metric", "20"),
    ]


# --- headings of one's own ----------------------------------------------------------------------------------


def test_a_headings_file_names_columns_and_gives_what_holds_for_all(tmp_path: Path) -> None:
    (tmp_path / "office.yaml").write_text(
        "headings:\n  Cond.: type\n  Sz: size\n  Remarks: not used\n"
        "values:\n  job: Lakeside school\n  face: top\n  width: 20\n  height: 40\n  depth: 5-3/4\n"
        "  back gap: 1/4\n  strut: 13/16 + 13/16\n  gap: 1\n  place: 2-1/2 in from left to centre\n",
        encoding="utf-8",
    )
    rows = (
        ("Panel", "Cond.", "Sz", "Remarks", "Gap"),
        ("LP-1", "EMT", "1", "x", ""),
        ("LP-2", "RMC", "2", "", "3"),
    )
    done = imported(write_csv(tmp_path / "f.csv", rows), "--headings", tmp_path / "office.yaml")
    assert "Remarks" not in done.stdout
    row = job(tmp_path)["faces"][0]["rows"][0]
    assert (row["strut"], row["gap"]) == (["13/16", "13/16"], "1")
    assert row["place"] == {"from": "left", "to": "centre", "distance": "2-1/2 in"}
    assert job(tmp_path, "LP-2")["faces"][0]["rows"][0]["gap"] == "3"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            "headings: {Sz: siez}",
            "office.yaml:1: headings.Sz: 'siez' is no column of a schedule. Did you mean size?",
        ),
        ("values: {gapp: 1}", "'gapp' is no column of a schedule. Did you mean gap?"),
        ("values: {place: there}", "'there' is no place of a row."),
        ("columns: {a: b}", "This is not known here. Write `headings:` or `values:`"),
        ("", "The file is empty. Begin with `headings:` or `values:`"),
    ],
)
def test_a_headings_file_that_is_wrong_is_refused(tmp_path: Path, text: str, told: str) -> None:
    (tmp_path / "office.yaml").write_text(text, encoding="utf-8")
    path = write_csv(tmp_path / "f.csv", ROWS)
    assert told in imported(path, "--headings", "office.yaml", code=2).stderr
    assert not (tmp_path / "jobs").exists()


# --- cells that mean several things -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("heading", "written", "value"),
    [
        ("circuits", "1, 3; 5 & #7 and 9", ["1", "3", "5", "7", "9"]),
        ("circuits", "2+4+6, 8", [{"spaces": ["2", "4", "6"]}, "8"]),
        ("circuits", "13 + 15 no neutral", [{"spaces": ["13", "15"], "neutral": "no"}]),
        ("circuits", "21 no neutral", [{"spaces": ["21"], "neutral": "no"}]),
        (
            "circuits",
            "2+4 at 30 A, 6 at 15 no neutral",
            [{"spaces": ["2", "4"], "breaker": "30 A"}, {"spaces": ["6"], "neutral": "no", "breaker": "15"}],
        ),
        (
            "conductors",
            "6 x 3/0 THHN 2 in parallel protected by 400 A",
            [
                {
                    "count": "6",
                    "size": "3/0",
                    "insulation": "THHN",
                    "in parallel": "2",
                    "protected by": "400 a",
                }
            ],
        ),
        ("wire", "#12 thwn-2 cu", {"size": "12", "insulation": "thwn-2", "metal": "cu"}),
        ("ground", "#10", "10"),
        ("ground", "4 AWG bare", {"size": "4 AWG", "insulation": "bare"}),
        ("ground", "none", "none"),
        (
            "conductors",
            "(4) 500 kcmil XHHW al; 1#3/0 THHN neutral & 1 x 2 bare",
            [
                {"count": "4", "size": "500 kcmil", "insulation": "XHHW", "metal": "al"},
                {"count": "1", "size": "3/0", "insulation": "THHN", "use": "neutral"},
                {"count": "1", "size": "2", "insulation": "bare"},
            ],
        ),
        ("strut", "1-5/8 in", "1-5/8 in"),
        (
            "place",
            "3 in from the right edge to the near side",
            {"from": "right", "to": "near side", "distance": "3 in"},
        ),
    ],
)
def test_a_cell_may_mean_several_things(heading: str, written: str, value: Any) -> None:
    found = field_for(heading)
    assert found is not None
    cell = read_cell(written, *found)
    assert cell is not None
    assert cell.value == value


def test_every_key_of_a_job_has_a_column_or_stays_in_its_file() -> None:
    """A new key is not forgotten: it gets a column, or a place among those that are told to stay."""
    stay = {
        "keep out",
        "factory knockouts",
        "lugs",
        "pulls",
        "fullest section",
        "rows",
        "raceways",
        "lips",
        "print",
        "enclosure",
        "faces",
    }
    for table, level in (
        (WrittenRaceway, "raceway"),
        (WrittenRow, "row"),
        (WrittenFace, "face"),
        (WrittenJob, "job"),
    ):
        paths = {one.path[0] for one in FIELDS if one.level == level and one.path}
        assert set(table.keys_by_name()) - paths <= stay, level
    assert {*WrittenEnclosure.keys_by_name()} - {
        one.path[1] for one in FIELDS if one.level == "enclosure"
    } <= stay


@pytest.mark.parametrize("nothing", ["", "  ", "-", "—"])
def test_a_dash_says_nothing(nothing: str) -> None:
    found = field_for("bushing")
    assert found is not None
    assert read_cell(nothing, *found) is None
