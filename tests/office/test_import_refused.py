"""Cells and files that cannot be read are named with sheet, row, column, reason and what to write."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest
import xlsxwriter
from command_line import Done, run
from schedules import HEADINGS, raceway, write_csv, write_xlsx


def refused(schedule: Path, *more: str | Path, code: int = 2) -> Done:
    done = run("import", schedule.name, "--into", "jobs", *more, cwd=schedule.parent)
    assert done.returncode == code, done.stdout + done.stderr
    assert "Traceback" not in done.stderr
    return done


MORE = ("Circuits", "Wire", "Ground", "Conductors", "Bushing", "First support", "Id")


@pytest.mark.parametrize(
    ("heading", "written", "told"),
    [
        ("Conduit type", "EMTT", "'EMTT' is no raceway type. Did you mean EMT?"),
        ("Trade size", "2-1/4", "2-1/4"),
        ("Trade size", "0.8", "The cell holds the number 0.8, which is no trade size."),
        ("Qty", "two", "'two' is not a whole number from 1 to 99."),
        ("Qty", "2.5", "'2.5' is not a whole number from 1 to 99."),
        ("Side", "topp", "'topp' is not known here. Did you mean top?"),
        ("Width", "wide", "'wide' has no number where one should stand."),
        ("Gap", "1 yard", "'1 yard' has the unknown unit 'yard'."),
        ("Place", "somewhere", "'somewhere' is no place of a row. Write centred, or like"),
        ("Row", "front", "'front' is no row. Write A, B, C"),
        ("Row", "C", "Row C of the top has no row before it."),
        ("Length (ft)", "long", "'long' has no number"),
        ("Circuits", "2/4/6", "'2/4/6' is no circuit. Write circuits with commas between them"),
        ("Circuits", "1.3", "The cell holds the number 1.3, not circuits."),
        ("Wire", "12", "'12' is no wire. Write its size and insulation, such as '12 THHN'."),
        ("Wire", "13 THHN", "'13' is no wire size."),
        ("Ground", "13", "'13' is no wire size."),
        ("Conductors", "3 big ones", "'3 big ones' is no conductors. Write count, size, insulation and use"),
        ("Bushing", "insulted", "Did you mean insulated?"),
        ("First support", "3 yards", "'3 yards' has the unknown unit 'yards'."),
        ("Id", "A 1", "'A 1' cannot be an id."),
        ("To", "é" * 200, "The text is 200 characters long."),
    ],
)
def test_a_cell_that_cannot_be_read_is_named(tmp_path: Path, heading: str, written: str, told: str) -> None:
    """The last row of the second enclosure; the first one is written all the same."""
    headings = [*HEADINGS, *MORE]
    rows = [[*raceway(mark, "1"), *[""] * len(MORE)] for mark in ("LP-1", "LP-2", "LP-2")]
    rows[-1][headings.index(heading)] = written
    if heading in ("Width", "Side", "Gap", "Place", "Row"):  # the others would only disagree with it
        del rows[1]
    done = refused(write_xlsx(tmp_path / "f.xlsx", [headings, *rows]))
    letter = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[headings.index(heading)]
    where = f"f.xlsx: sheet Feeders, row {len(rows) + 1}"
    lines = [line for line in done.stderr.splitlines() if told in line]
    assert len(lines) == 1, done.stderr
    column = f", column {letter} ({heading}): " if "no row before" not in told else ": "
    assert lines[0].startswith(f"{where}{column}")
    assert (tmp_path / "jobs" / "LP-1.yaml").exists()
    assert not (tmp_path / "jobs" / "LP-2.yaml").exists()
    assert done.stdout.endswith("1 new; 0 changed; 0 as they are; 1 with problems and left alone: LP-2.\n")


def test_a_mark_too_long_for_a_file_is_named(tmp_path: Path) -> None:
    done = refused(write_csv(tmp_path / "f.csv", [HEADINGS, raceway("é" * 300, "1")]))
    assert done.stderr.startswith("f.csv: row 2, column A (Panel): The text is 300 characters long.")


def test_everything_is_listed_at_once(tmp_path: Path) -> None:
    rows = (
        HEADINGS,
        raceway("LP-1", "1", conduit="EMTT"),
        raceway("LP-1", "77"),
        raceway("", "1"),
        raceway("LP-2", "1", depth="", side=""),
        raceway("LP-3", "1", depth=""),
        raceway("LP-4", "1"),
        raceway("LP-4", "1", height="44"),
    )
    done = refused(write_csv(tmp_path / "f.csv", rows))
    for told in (
        "row 2, column L (Conduit type): 'EMTT'",
        "row 3, column M (Trade size): ",
        "row 4: enclosure not given.",
        "row 5: face not given.",
        "row 6: `depth` is missing. Add a column depth, or write depth under `values:`",
        "row 8, column D (Height): height of LP-4 is '44' here, but '40' in row 7, column D (Height).",
    ):
        assert f"f.csv: {told}" in done.stderr
    assert not (tmp_path / "jobs").exists() or not list((tmp_path / "jobs").iterdir())


# --- formulas and errors ------------------------------------------------------------------------------------


def test_a_formula_gives_its_stored_value_and_is_never_run(tmp_path: Path) -> None:
    with xlsxwriter.Workbook(tmp_path / "f.xlsx") as book:
        sheet = book.add_worksheet("Feeders")
        sheet.write_row(0, 0, HEADINGS)
        sheet.write_row(1, 0, raceway("LP-1", "1"))
        sheet.write_formula(1, HEADINGS.index("Width"), "=10+9", value=24)  # the value, not the sum
        sheet.write_string(1, HEADINGS.index("To"), "=cmd()")
    assert refused(tmp_path / "f.xlsx", code=0)
    text = (tmp_path / "jobs" / "LP-1.yaml").read_text(encoding="utf-8")
    assert "width: 24" in text
    assert "to: =cmd()" in text


def test_errors_and_formulas_without_a_value_are_named(tmp_path: Path) -> None:
    rows = [HEADINGS, raceway("LP-1", "1"), raceway("LP-1", "1", length="=1+1"), raceway("LP-1", "#N/A")]
    done = refused(write_xlsx(tmp_path / "f.xlsx", rows))  # openpyxl stores no values, and #N/A as an error
    assert "row 3, column P (Length (ft)): The cell holds a formula whose value is not stored." in done.stderr
    assert "row 4, column M (Trade size): The cell holds an error." in done.stderr
    assert done.stderr.count("\n") == 2


# --- files that are no schedule -----------------------------------------------------------------------------


def packed(parts: dict[str, bytes]) -> bytes:
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    return data.getvalue()


def far_cell(tmp_path: Path) -> bytes:
    """A small file that would take a table of 17,000,000,000 cells."""
    rows = [HEADINGS, raceway("LP-1", "1")]
    path = write_xlsx(tmp_path / "far.xlsx", rows)
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    sheet = parts["xl/worksheets/sheet1.xml"]
    cell = b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'
    parts["xl/worksheets/sheet1.xml"] = sheet.replace(b"</sheetData>", cell)
    return packed(parts)


def repeated(tmp_path: Path) -> bytes:
    """An ODS that says one filled cell a million times a million."""
    cell = (
        b'<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
        b'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0"><office:body><office:spreadsheet>'
        b'<table:table table:name="a"><table:table-row table:number-rows-repeated="1000000">'
        b'<table:table-cell table:number-columns-repeated="1000000" office:value-type="float" '
        b'office:value="1"/>'
        b"</table:table-row></table:table></office:spreadsheet></office:body></office:document-content>"
    )
    return packed({"content.xml": cell})


def bomb(tmp_path: Path) -> bytes:
    return packed({"xl/workbook.xml": b" " * 101_000_000})


FILES = {
    "far": (far_cell, "It is larger than any schedule"),
    "repeated": (repeated, "It is larger than any schedule"),
    "bomb": (bomb, "It is larger than any schedule"),
    "large": (lambda _: b"a,b\n" * 5_000_001, "It is larger than any schedule"),
    "many rows": (lambda _: b"a,b\n" * 20_001, "It is larger than any schedule"),
    "wide": (lambda _: b"a," * 300, "It is larger than any schedule"),
    "no spreadsheet": (lambda _: packed({"word/document.xml": b"<a/>"}), "It is no spreadsheet."),
    "damaged": (lambda path: far_cell(path)[:-300], "It is damaged and cannot be read."),
    "half": (lambda _: packed({"xl/workbook.xml": b"<a"}), "It is damaged and cannot be read."),
    "utf-16": (lambda _: "Panel,Size".encode("utf-16"), "It is saved as UTF-16. Save it as CSV in UTF-8."),
    "other letters": (lambda _: b"Panel,Size\nK\xfcche,2", "A character on line 2 is not UTF-8 (byte 0xfc)."),
    "older": (lambda _: b"\xd0\xcf\x11\xe0" + b"\0" * 600, "It is an older kind of spreadsheet."),
    "binary": (lambda _: b"a\0b", "It is no schedule."),
    "nothing": (lambda _: b"", "No row of headings is in the first 20 rows."),
    "no headings": (lambda _: b"Panel,Width\nLP-1,20", "20 rows; found were only: enclosure, width."),
    "no rows": (lambda _: b"Panel,Side,Size\n", "No raceway stands below the headings."),
    "twice": (lambda _: b"Panel,Side,Size,Trade size\nLP-1,top,1,1", "Column C (Size) means the same: size."),
}


@pytest.mark.parametrize("name", FILES)
def test_a_file_that_is_no_schedule_is_refused_in_words(tmp_path: Path, name: str) -> None:
    make, told = FILES[name]
    path = tmp_path / "schedule"
    path.write_bytes(make(tmp_path))
    done = refused(path)
    assert told in done.stderr
    assert not (tmp_path / "jobs" / "LP-1.yaml").exists()


def test_a_folder_and_a_missing_file_are_refused(tmp_path: Path) -> None:
    (tmp_path / "here").mkdir()
    assert "This is a folder, not a schedule." in refused(tmp_path / "here").stderr
    assert "It cannot be read: no such file or directory." in refused(tmp_path / "none.csv").stderr


def test_the_sheet_is_asked_for_where_several_are_schedules(tmp_path: Path) -> None:
    import openpyxl

    path = write_xlsx(tmp_path / "f.xlsx", (HEADINGS, raceway("LP-1", "1")))
    book = openpyxl.load_workbook(path)
    book.create_sheet("Notes").append(["call the office"])
    other = book.create_sheet("Roof")
    other.append(HEADINGS)
    other.append(raceway("LP-2", "1"))
    book.save(path)
    done = refused(path)
    assert "Several sheets look like schedules: Feeders, Roof. Name one with --sheet." in done.stderr
    assert (
        "There is no sheet 'Rof'. There are: Feeders, Notes, Roof." in refused(path, "--sheet", "Rof").stderr
    )
    chosen = refused(path, "--sheet", "roof", code=0)
    assert "LP-2.yaml: new, 1 raceway." in chosen.stdout


def test_marks_that_are_no_file_names_get_one(tmp_path: Path) -> None:
    marks = ("LP/1", "CON", "shop", "..", "Küche 1")
    imported = refused(
        write_csv(tmp_path / "f.csv", [HEADINGS, *(raceway(mark, "1") for mark in marks)]), code=0
    )
    names = {path.name for path in (tmp_path / "jobs").iterdir()}
    assert names == {"LP-1.yaml", "CON-1.yaml", "shop-1.yaml", "enclosure.yaml", "Küche 1.yaml"}
    assert imported.stdout.count("new, 1 raceway.") == 5
    clash = refused(write_csv(tmp_path / "g.csv", [HEADINGS, raceway("LP:1", "1"), raceway("LP-9", "1")]))
    assert (
        "A file for LP:1 would have the name of one that is there, or of another enclosure's." in clash.stderr
    )
    assert (tmp_path / "jobs" / "LP-9.yaml").exists()
