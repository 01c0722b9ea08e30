"""A schedule changes job files that are there only where it says so; remarks and all else stay."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml
from command_line import Done, run
from schedules import HEADINGS, raceway, write_csv

JOB = """\
# by hand
job: Lakeside school
enclosure: {mark: lp-1, width: 20, height: 40, depth: 5.75, back gap: 1/4}
faces:
  - face: top   # the front
    lips: {front: 1/2}
    rows:
      - {strut: 1-5/8, gap: 1, place: centred, raceways: [{type: EMT, size: 2, to: DP-1}]}
  - face: bottom
    rows:
      - strut: 13/16
        gap: 1
        place: centred
        raceways:
          - {type: EMT, size: 1}
      - back line: 4 in
        gap: 1
        place: centred
        raceways:
          - {type: EMT, size: 1, to: spare}   # keep this one
          - {type: EMT, size: 3/4, to: roof}   # and this
          - {type: RMC, size: 1, count: 2}
"""
IDS = (*HEADINGS, "id")
SECOND = {"side": "bottom", "row": "B", "strut": ""}
"""The second row of the second face stands on no strut."""


@pytest.fixture
def site(tmp_path: Path) -> Path:
    (tmp_path / "jobs").mkdir()
    (tmp_path / "jobs" / "panel one.yaml").write_text(JOB, encoding="utf-8")
    return tmp_path


def text(site: Path) -> str:
    return (site / "jobs" / "panel one.yaml").read_text(encoding="utf-8")


def imported(site: Path, rows: list[Any], *more: str, headings: Any = HEADINGS, code: int = 0) -> Done:
    write_csv(site / "f.csv", [headings, *rows])
    done = run("import", "f.csv", "--into", "jobs", *more, cwd=site)
    assert done.returncode == code, done.stdout + done.stderr
    return done


def as_it_is() -> list[Any]:
    return [
        raceway("LP-1", "2", "DP-1"),
        raceway("LP-1", "1", side="bottom", strut="0.8125"),
        raceway("LP-1", "1", "spare", **SECOND),
        raceway("LP-1", "0.75", "roof", **SECOND),
        raceway("LP-1", "1", conduit="RMC", qty="2", **SECOND),
    ]


def test_what_means_the_same_is_left_as_it_is_written(site: Path) -> None:
    done = imported(site, as_it_is())
    assert done.stdout.endswith("1 enclosure: 0 new; 0 changed; 1 as they are.\n")
    assert text(site) == JOB


def test_one_value_is_changed_in_its_place(site: Path) -> None:
    rows = as_it_is()
    rows[3] = raceway("LP-1", "1-1/4", "roof", **SECOND)
    done = imported(site, rows, "--yes")
    assert text(site) == JOB.replace(
        "size: 3/4, to: roof}   # and this", "size: 1-1/4, to: roof}   # and this"
    )
    removed, added = (
        line[1:].strip()
        for line in done.stdout.splitlines()
        if line[:1] in "+-" and line[:3] not in ("+++", "---")
    )
    assert removed == "- {type: EMT, size: 3/4, to: roof}   # and this"
    assert added == "- {type: EMT, size: 1-1/4, to: roof}   # and this"


@pytest.mark.parametrize(
    ("number", "change", "old", "new"),
    [
        (0, {"to": "DP-2"}, "to: DP-1", "to: DP-2"),
        (0, {"width": "24"}, "width: 20", "width: 24"),
        (1, {"strut": "13/16 + 13/16"}, "strut: 13/16\n", "strut: [13/16, 13/16]\n"),
        (2, {"gap": "1-1/8"}, "back line: 4 in\n        gap: 1\n", "back line: 4 in\n        gap: 1-1/8\n"),
        (4, {"trade": "1-1/2"}, "{type: RMC, size: 1, count: 2}", "{type: RMC, size: 1-1/2, count: 2}"),
        (4, {"qty": "3"}, "size: 1, count: 2}", "size: 1, count: 3}"),
        (4, {"length": "40"}, "count: 2}", "count: 2, run length: 40 ft}"),
    ],
)
def test_only_what_differs_changes(
    site: Path, number: int, change: dict[str, str], old: str, new: str
) -> None:
    rows = as_it_is()
    changed = dict(zip(HEADINGS, rows[number], strict=True))
    for word, value in change.items():
        (heading,) = (one for one in HEADINGS if one.split()[0].lower() == word)
        changed[heading] = value
        for at, row in enumerate(rows):  # what rows share has to be the same in all
            is_shared = word == "width" or (word == "gap" and row[6:8] == rows[number][6:8])
            rows[at] = tuple(
                value if is_shared and name == heading else cell
                for name, cell in zip(HEADINGS, row, strict=True)
            )
    rows[number] = tuple(changed.values())
    imported(site, rows, "--yes")
    assert JOB.count(old) == 1
    assert text(site) == JOB.replace(old, new)


def test_nothing_is_changed_unasked(site: Path) -> None:
    rows = as_it_is()
    rows[0] = raceway("LP-1", "2-1/2", "DP-1")
    rows.append(raceway("LP-7", "1"))
    shown = imported(site, rows, code=2)
    assert (
        "-      - {strut: 1-5/8, gap: 1, place: centred, raceways: [{type: EMT, size: 2, to: DP-1}]}"
        in shown.stdout
    )
    assert shown.stderr.endswith(
        "Nothing was written: job files that are there would change. Add --yes to change them.\n"
    )
    dry = imported(site, rows, "--dry-run")
    assert dry.stdout.endswith("2 enclosures: 1 would be new; 1 would be changed; 0 as they are.\n")
    assert text(site) == JOB
    assert len(list((site / "jobs").iterdir())) == 1


def test_a_raceway_a_row_and_a_face_more_come_after_the_others(site: Path) -> None:
    rows = [
        *as_it_is(),
        raceway("LP-1", "1/2", "bell", **SECOND),
        raceway("LP-1", "1/2", "clock", row="B", strut="", gap="1"),
        raceway("LP-1", "1-1/2", "lift", side="left", gap="2"),
    ]
    rows[-2] = tuple(
        "2-7/16 + 1-5/8" if name == "Strut" else cell for name, cell in zip(HEADINGS, rows[-2], strict=True)
    )
    imported(site, rows, "--yes")
    tree = yaml.load(text(site), Loader=yaml.BaseLoader)
    assert text(site).startswith("# by hand\n")
    top, bottom, left = tree["faces"]
    assert bottom["rows"][1]["raceways"][3] == {"type": "EMT", "size": "1/2", "to": "bell"}
    assert top["rows"][1]["strut"] == ["2-7/16", "1-5/8"]
    assert left["rows"][0]["raceways"] == [{"type": "EMT", "size": "1-1/2", "to": "lift"}]
    assert "# keep this one" in text(site)


def test_raceways_go_by_their_ids_where_the_schedule_has_them(site: Path) -> None:
    rows = [
        (*raceway("LP-1", "1", "garage", **SECOND), "B1"),
        (*raceway("LP-1", "1-1/4", "", conduit="RMC", **SECOND), "b3"),
    ]
    done = imported(site, rows, "--yes", headings=IDS, code=2)
    assert "has several raceways in one entry, and this changes a part of them. Change it" in done.stderr
    assert text(site) == JOB
    done = imported(site, rows[:1], "--yes", headings=IDS)
    assert text(site) == JOB.replace("to: spare", "to: garage")
    for id in ("B2", "B3", "B4"):
        assert f"panel one.yaml: {id} of row B is not in the schedule; it is left as it is.\n" in done.stdout


def test_fewer_raceways_without_ids_are_not_guessed_at(site: Path) -> None:
    rows = as_it_is()
    del rows[2]
    done = imported(site, rows, "--yes", code=2)
    assert "f.csv: row 4: jobs/panel one.yaml has more raceways in row B than the schedule." in done.stderr
    assert text(site) == JOB


def test_what_is_new_in_the_middle_is_left_to_a_person(site: Path) -> None:
    rows = [(*row, id) for row, id in zip(as_it_is(), ("A1", "A1", "B1", "B2", "B3"), strict=True)]
    rows.insert(3, (*raceway("LP-1", "1/2", "bell", **SECOND), "B9"))
    done = imported(site, rows, "--yes", headings=IDS, code=2)
    assert "f.csv: row 5: What is new here is not at the end of the row" in done.stderr
    assert text(site) == JOB


def test_a_row_without_one_before_it_is_told(site: Path) -> None:
    rows = [*as_it_is(), raceway("LP-1", "1/2", row="C")]
    done = imported(site, rows, "--yes", code=2)
    assert "f.csv: row 7: Row C of the top has no row before it in jobs/panel one.yaml." in done.stderr
    assert text(site) == JOB


def test_a_mistake_of_the_job_file_itself_is_told_where_it_stands(site: Path) -> None:
    (site / "jobs" / "panel one.yaml").write_text(
        JOB.replace("lips: {front: 1/2}", "lips: {fornt: 1/2}"), encoding="utf-8"
    )
    rows = as_it_is()
    rows[3] = raceway("LP-1", "1-7/8", "roof", **SECOND)
    done = imported(site, rows, "--yes", code=2)
    assert "jobs/panel one.yaml:6: faces[1].lips.fornt: `fornt` is no key of lips." in done.stderr
    assert "f.csv: row 5, column M (Trade size): " in done.stderr


def test_two_files_of_one_enclosure_are_not_chosen_between(site: Path) -> None:
    (site / "jobs" / "copy.yaml").write_text(JOB, encoding="utf-8")
    (site / "jobs" / "notes.yaml").write_text("- a list", encoding="utf-8")
    done = imported(site, as_it_is(), "--yes", code=2)
    assert "LP-1 is the enclosure of jobs/copy.yaml and jobs/panel one.yaml." in done.stderr
    assert "jobs/notes.yaml: it cannot be read as a job, and is left alone.\n" in done.stdout


def test_the_shop_file_beside_the_jobs_gives_its_usual_gap(site: Path) -> None:
    (site / "jobs" / "shop.yaml").write_text("gap: fittings\n", encoding="utf-8")
    imported(site, [raceway("LP-8", "1", gap="", qty="2")])
    imported(site, [raceway("LP-8", "1", gap="", qty="2")])
    (site / "jobs" / "shop.yaml").unlink()
    done = imported(site, [raceway("LP-9", "1", gap="", qty="2")], code=2)
    assert "f.csv: row 2: `gap` is missing" in done.stderr


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "jobs").write_text("a file", encoding="utf-8")
    done = imported(tmp_path, [raceway("LP-1", "1")], code=4)
    assert "could not write jobs" in done.stderr
    assert (tmp_path / "jobs").read_text(encoding="utf-8") == "a file"
