"""From readings on a measuring page to a correction; the file that keeps printers; the page itself."""

from __future__ import annotations

import math
import os
import sys
from pathlib import Path

import pytest
from pdf_reading import page_count, page_size_in, read_lines, read_text

from templates_engine.drawing.measuring_page import measuring_document
from templates_engine.errors import CannotWrite, TemplatesError
from templates_engine.job.model import MarginsIn, PaperSize
from templates_engine.trade.papers import PAPERS, read_paper
from templates_engine.user_folder import OVERRIDE, user_folder
from templates_engine.verify.printer_readings import (
    MOST_ERROR_PERCENT,
    MOST_SKEW_PERCENT,
    error_of,
    read_diagonals,
    read_fine,
    skew_percent,
)
from templates_engine.verify.printer_store import (
    add_printer,
    find_printer,
    printers_file,
    remove_printer,
    stored_printers,
)
from templates_engine.verify.printers import (
    Printer,
    PrinterError,
    correction_for,
    measuring_page,
    total_percent,
)
from templates_engine.writers.pdf import write_pdf

QUARTER = MarginsIn(0.25, 0.25, 0.25, 0.25)
OFFICE = Printer("office laser", -0.7812, 0.3937, "letter", QUARTER, 0.1116, -0.099, "second floor, tray 2")


def paper(name: str) -> PaperSize:
    found = read_paper(name)
    return PaperSize(found.name, found.short_in, found.long_in)


# --- the maths ----------------------------------------------------------------------------------------------


def test_a_bar_that_reads_short_makes_the_drawing_larger() -> None:
    """A 9 in bar that reads 8.937 in is 0.7 % short; drawn 1/0.993 as long it reads 9 in."""
    error = error_of(["8.937"], 9.0, "across")
    assert error.percent == pytest.approx(-0.7)
    assert correction_for(error.percent, 0.0).across * 8.937 == pytest.approx(9.0)


def test_across_and_down_are_not_mixed_up() -> None:
    correction = Printer("x", -0.7, 0.4, "letter").correction
    assert correction.across == pytest.approx(1 / 0.993)
    assert correction.down == pytest.approx(1 / 1.004)


def test_readings_of_one_length_are_averaged_and_their_difference_kept() -> None:
    error = error_of(["6-61/64", "6-15/16"], 7.0, "across")
    assert error.percent == pytest.approx(((6 + 61 / 64 + 6 + 15 / 16) / 2 / 7 - 1) * 100)
    assert error.spread_in == pytest.approx(1 / 64)


@pytest.mark.parametrize("text", ["-0.70%", "-0.70 %", "\u22120.7%", "- .7 %"])
def test_an_error_may_be_given_outright(text: str) -> None:
    error = error_of([text], 9.0, "across")
    assert error.percent == pytest.approx(-0.7)
    assert error.good_to_percent is None


@pytest.mark.parametrize("text", ["%", "0.7.1%", "7-1/2%", ",7%", "1e1%", "--1%"])
def test_what_is_no_percentage_is_refused(text: str) -> None:
    with pytest.raises(PrinterError, match="no error in percent"):
        error_of([text], 9.0, "across")


@pytest.mark.parametrize("sign", [1, -1])
def test_an_error_of_the_limit_is_taken_and_one_beyond_is_named_fit_to_page(sign: int) -> None:
    edge = 100.0 + sign * MOST_ERROR_PERCENT
    assert error_of([f"{edge:.2f} in"], 100.0, "down").percent == pytest.approx(sign * MOST_ERROR_PERCENT)
    with pytest.raises(PrinterError, match="fit to page"):
        error_of([f"{edge + sign * 0.01:.2f} in"], 100.0, "down")
    with pytest.raises(PrinterError, match="fit to page"):
        error_of([f"{sign * 2.01:+.2f}%"], 100.0, "down")


def test_what_is_left_over_is_added_to_what_was_carried() -> None:
    """A printer 0.7 % short, corrected for 0.5 % short: drawn 1/0.995, it comes out 0.993/0.995."""
    assert total_percent(-0.5, 0.993 / 0.995 - 1) == pytest.approx(-0.7)


@pytest.mark.parametrize(
    ("text", "within_in"),
    [
        ("6-61/64", 1 / 128),
        ("7", 1 / 128),
        ("6-15/16 in", 1 / 128),
        ("6.953", 0.004),
        ("6.95 in", 0.005),
        ("176.6 mm", 0.004),
        ("17.66 cm", 0.004),
        ("176.62 mm", 0.004),
    ],
)
def test_a_reading_says_how_far_off_it_may_be(text: str, within_in: float) -> None:
    assert read_fine(text).within_in == pytest.approx(within_in)


@pytest.mark.parametrize("text", ["177 mm", "17.7 cm", "6.9", "6.9 in", "177 millimetres"])
def test_a_reading_too_coarse_to_correct_by_is_refused(text: str) -> None:
    with pytest.raises(PrinterError, match="too coarse"):
        read_fine(text)


@pytest.mark.parametrize("text", ["", "seven", "6,95", "-7", "0"])
def test_a_reading_that_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(PrinterError):
        read_fine(text)


@pytest.mark.parametrize("lean", [0.0, 0.002, -0.004])
def test_the_diagonals_of_a_leaning_sheet_give_its_lean(lean: float) -> None:
    """A square of 5 in sheared sideways by a share of its height, its corners moved one by one."""
    a, b, c, d = (0.0, 0.0), (5.0, 0.0), (5.0 + 5 * lean, 5.0), (5 * lean, 5.0)
    found = skew_percent(math.dist(a, c), math.dist(b, d), 5.0, 5.0)
    assert found == pytest.approx(lean * 100, abs=1e-3)
    texts = (f"{math.dist(a, c):.4f}", f"{math.dist(b, d):.4f}")
    assert read_diagonals(texts, 5.0, 5.0) == pytest.approx(lean * 100, abs=5e-3)


def test_the_lean_that_is_too_much_moves_a_hole_by_the_allowed_error() -> None:
    assert pytest.approx(1 / 32) == 12 * MOST_SKEW_PERCENT / 100


def test_diagonals_of_something_else_are_refused() -> None:
    with pytest.raises(PrinterError, match="do not belong"):
        read_diagonals(("7.071", "8.071"), 5.0, 5.0)


# --- the page -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [*(one.name for one in PAPERS), "24 x 36 in", "24 in roll"])
def test_the_page_holds_two_bars_each_way_of_the_length_it_says(name: str, tmp_path: Path) -> None:
    page = measuring_page(paper(name))
    file = tmp_path / "page.pdf"
    write_pdf(measuring_document(paper(name), QUARTER), file)
    assert page_count(file) == 1
    assert page_size_in(file, 0) == pytest.approx((page.page_width_in, page.page_height_in), abs=1e-4)
    lines = read_lines(file, 0)
    left, right = (page.page_width_in + sign * page.across_in for sign in (-1, 1))
    bottom, top = (page.page_height_in + sign * page.down_in for sign in (-1, 1))
    for x in (left / 2, right / 2):
        assert any(
            abs(x1 - x) < 1e-3 and abs(x2 - x) < 1e-3 and abs(y1 - y2) >= page.down_in
            for x1, y1, x2, y2 in lines
        )
    for y in (bottom / 2, top / 2):
        assert any(
            abs(y1 - y) < 1e-3 and abs(y2 - y) < 1e-3 and abs(x1 - x2) >= page.across_in
            for x1, y1, x2, y2 in lines
        )
    diagonals = [
        one for one in lines if abs(abs(one[0] - one[2]) - abs(one[1] - one[3])) < 1e-3 and one[0] != one[2]
    ]
    assert len(diagonals) == 2
    words = read_text(file, 0)
    assert words.count(f"must read {page.across_in} in = {page.across_in * 25.4:.1f} mm") == 2
    assert words.count(f"must read {page.down_in} in = {page.down_in * 25.4:.1f} mm") == 2
    assert f"{page.square_in * math.sqrt(2):.3f} in" in words
    assert f'--paper "{name}"' in words.replace("\n", " ")


def test_words_keep_clear_of_the_square_on_the_smallest_paper() -> None:
    for one in PAPERS:
        page = measuring_page(paper(one.name))
        (drawn,) = measuring_document(paper(one.name), QUARTER).pages
        bars_bottom = (page.page_height_in - page.down_in) / 2
        square_top = bars_bottom + 0.35 + page.square_in
        inside = [
            shape for shape in drawn.shapes if type(shape).__name__ == "Words" and shape.anchor == "left"
        ]
        assert min(shape.at.y for shape in inside) > square_top + 0.2, one.name


def test_paper_with_no_room_for_the_page_is_refused() -> None:
    with pytest.raises(PrinterError, match="too small"):
        measuring_page(paper("5 x 7 in"))


# --- the file -----------------------------------------------------------------------------------------------


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "settings" / "printers.yaml"


def test_printers_are_kept_as_they_were_added(file: Path) -> None:
    plain = Printer("Plötter 2", -0.7, 0.4, "24 in roll")
    add_printer(OFFICE, file=file)
    add_printer(plain, file=file)
    assert stored_printers(file) == (OFFICE, plain)
    assert find_printer("OFFICE  Laser", file) == OFFICE
    assert remove_printer("office laser", file) == OFFICE
    assert stored_printers(file) == (plain,)


def test_a_name_is_taken_once_unless_replaced(file: Path) -> None:
    add_printer(OFFICE, file=file)
    again = Printer("Office Laser", 0.1, 0.2, "A4")
    with pytest.raises(PrinterError, match="already"):
        add_printer(again, file=file)
    assert stored_printers(file) == (OFFICE,)
    add_printer(again, replace_it=True, file=file)
    assert stored_printers(file) == (again,)


def test_an_unknown_name_is_answered_with_the_nearest(file: Path) -> None:
    with pytest.raises(PrinterError, match="none has been measured"):
        find_printer("office", file)
    add_printer(OFFICE, file=file)
    with pytest.raises(PrinterError, match="Did you mean 'office laser'"):
        find_printer("ofice laser", file)


@pytest.mark.parametrize("name", ["", "  ", "x" * 41, "a\x07b", "none", "None"])
def test_names_that_cannot_be_used_are_refused(name: str, file: Path) -> None:
    with pytest.raises(PrinterError):
        add_printer(Printer(name, 0.0, 0.0, "letter"), file=file)
    assert not file.exists()


@pytest.mark.parametrize("note", ["x" * 121, "a\x07b"])
def test_notes_that_do_not_fit_a_line_are_refused(note: str, file: Path) -> None:
    with pytest.raises(PrinterError, match="note"):
        add_printer(Printer("x", 0.0, 0.0, "letter", note=note), file=file)
    assert not file.exists()


GOOD = "printers:\n- name: office\n  paper: letter\n  across: -0.7 %\n  down: 0.4 %\n"


def test_a_file_written_by_hand_is_read(file: Path) -> None:
    file.parent.mkdir()
    file.write_text(GOOD.replace(" %", ""), encoding="utf-8")
    assert stored_printers(file) == (Printer("office", -0.7, 0.4, "letter"),)


def test_names_stay_the_text_they_look_like(file: Path) -> None:
    file.parent.mkdir()
    file.write_text(
        GOOD.replace("office", "12:30") + GOOD.partition("\n")[2].replace("office", "no"), encoding="utf-8"
    )
    assert [one.name for one in stored_printers(file)] == ["12:30", "no"]


@pytest.mark.parametrize(
    ("text", "line", "says"),
    [
        (GOOD + "  foo", 6, "damaged"),
        (GOOD.replace("name: office", "name: office: x"), 2, "damaged"),
        (GOOD.replace("across: -0.7 %", "across: none"), 4, "'none' should be a percentage"),
        (GOOD.replace("across: -0.7 %", "across: nan"), 4, "percentage"),
        (GOOD.replace("across: -0.7 %", "across: -7 %"), 4, "between -2 and 2"),
        (GOOD.replace("across: -0.7 %", "acros: -0.7 %"), 4, "`acros` is no key"),
        (GOOD.replace("  down: 0.4 %\n", ""), 2, "has no `down`"),
        (GOOD.replace("  down", "  across"), 5, "`across` is written twice"),
        (GOOD + "  margins: {top: 1/4, bottom: 1/4, left: 1/4}\n", 6, "All of top, bottom, left, right"),
        (GOOD + "  margins: {top: 1/4, bottom: 1/4, left: 1/4, right: -1}\n", 6, "negative"),
        (GOOD + GOOD.partition("\n")[2], 6, "second time"),
        ("printers: office\n", None, "no list"),
        ("- office\n", 1, "Keys should stand here"),
        ("printers:\n- [a]\n", 2, "Keys should stand here"),
        ("\x00", None, ""),
        ("[" * 5000, None, ""),
    ],
)
def test_a_damaged_file_is_reported_with_its_line_and_kept(
    text: str, line: int | None, says: str, file: Path
) -> None:
    file.parent.mkdir()
    file.write_text(text, encoding="utf-8")
    for attempt in (
        lambda: stored_printers(file),
        lambda: find_printer("office", file),
        lambda: add_printer(OFFICE, replace_it=True, file=file),
        lambda: remove_printer("office", file),
    ):
        with pytest.raises(PrinterError) as caught:
            attempt()
        (problem,) = caught.value.problems
        assert problem.file == str(file)
        assert says in problem.message
        if line is not None:
            assert problem.line == line
    assert file.read_text(encoding="utf-8") == text
    assert os.listdir(file.parent) == [file.name]


def test_text_that_is_not_utf8_is_reported_with_its_line(file: Path) -> None:
    file.parent.mkdir()
    file.write_bytes(GOOD.encode() + b"  note: \xff\n")
    with pytest.raises(PrinterError, match=r":6: .*UTF-8"):
        stored_printers(file)


def test_a_write_that_fails_leaves_the_old_file(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    add_printer(OFFICE, file=file)
    before = file.read_bytes()

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("templates_engine.atomic.os.fsync", full)
    with pytest.raises(CannotWrite, match="disk is full"):
        add_printer(Printer("other", 0.0, 0.0, "A4"), file=file)
    assert file.read_bytes() == before
    assert sorted(os.listdir(file.parent)) == [f".{file.name}.lock", file.name]


def test_a_folder_that_cannot_be_made_is_said(tmp_path: Path) -> None:
    (tmp_path / "settings").write_text("a file", encoding="utf-8")
    with pytest.raises(TemplatesError):
        add_printer(OFFICE, file=tmp_path / "settings" / "sub" / "printers.yaml")


def test_settings_live_where_each_system_keeps_them(monkeypatch: pytest.MonkeyPatch) -> None:
    home = Path("/home/kim")
    xdg = {"XDG_CONFIG_HOME": "/etc/kim", "APPDATA": r"C:\Kim"}
    assert user_folder({}, "linux", home) == home / ".config" / "templates-engine"
    assert user_folder(xdg, "linux", home) == Path("/etc/kim/templates-engine")
    assert user_folder({"XDG_CONFIG_HOME": "kim"}, "linux", home) == home / ".config" / "templates-engine"
    assert user_folder({}, "darwin", home) == home / "Library" / "Application Support" / "templates-engine"
    assert user_folder(xdg, "win32", home) == Path(r"C:\Kim") / "templates-engine"
    for platform in ("linux", "darwin", "win32"):
        assert user_folder({**xdg, OVERRIDE: "/elsewhere"}, platform, home) == Path("/elsewhere")
    monkeypatch.setenv(OVERRIDE, "/elsewhere")
    assert printers_file() == Path("/elsewhere/printers.yaml")


@pytest.mark.skipif(sys.platform == "win32", reason="Windows finds a home without HOME")
def test_an_account_without_a_home_is_told_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    def none() -> Path:
        raise RuntimeError("Could not determine home directory.")

    monkeypatch.setattr(Path, "home", none)
    with pytest.raises(TemplatesError, match=OVERRIDE):
        user_folder({}, "linux")
