"""What a viewer and a printer are told by the PDF, that it is repeatable, and that odd text does no harm."""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pdf_reading import read_text
from pypdf import PdfReader
from writer_documents import document, picture

from templates_engine.drawing.shapes import Document, DrawnPage, Words
from templates_engine.geometry import Point
from templates_engine.values import replace
from templates_engine.writers.pdf import make_pdf, pdf_bytes, write_pdf

HERE = Path(__file__).parent


@pytest.fixture(scope="module")
def data() -> bytes:
    return pdf_bytes(document())


@pytest.fixture(scope="module")
def reader(data: bytes) -> PdfReader:
    return PdfReader(BytesIO(data), strict=True)


def test_print_settings_ask_for_actual_size_one_side_and_the_right_tray(reader: PdfReader) -> None:
    found = reader.root_object["/ViewerPreferences"]
    assert dict(found) == {
        "/PrintScaling": "/None",
        "/Enforce": ["/PrintScaling"],
        "/PickTrayByPDFSize": True,
        "/Duplex": "/Simplex",
        "/DisplayDocTitle": True,
    }


def test_header_language_and_title(data: bytes, reader: PdfReader) -> None:
    assert data.startswith(b"%PDF-1.7\n")
    assert reader.root_object["/Lang"] == "en-US"
    assert reader.metadata is not None
    assert reader.metadata.title == "Job ⌀ 7"
    assert reader.metadata.subject == "Templates"
    assert "/CreationDate" not in reader.metadata


def test_bookmarks_name_each_page_at_its_level(reader: PdfReader) -> None:
    assert reader.root_object["/PageMode"] == "/UseOutlines"
    face, sheets = reader.outline
    assert face["/Title"] == "Top face"
    assert [entry["/Title"] for entry in sheets] == ["Sheet 1", "Sheet 2"]
    assert [reader.get_destination_page_number(entry) for entry in (face, *sheets)] == [0, 1, 2]


@pytest.mark.parametrize(
    ("levels", "wanted"),
    [
        ((0, 1, 1, 0, 1), ["0", ["1", "2"], "3", ["4"]]),
        ((1, 1, 0), ["0", ["1"], "2"]),
        ((0, 2, 1, 2), ["0", ["1", "2", ["3"]]]),
        ((2, 2, 2, 0), ["0", ["1", ["2"]], "3"]),
        ((0,), ["0"]),
    ],
)
def test_bookmark_levels_of_any_order_make_a_tree(levels: tuple[int, ...], wanted: list[object]) -> None:
    pages = tuple(DrawnPage((), (), str(index), level) for index, level in enumerate(levels))
    data = pdf_bytes(Document("", "", 8.5, 11, (), pages))
    assert _titles(PdfReader(BytesIO(data), strict=True).outline) == wanted


def _titles(outline: list[Any]) -> list[object]:
    return [_titles(entry) if isinstance(entry, list) else entry["/Title"] for entry in outline]


def test_pages_without_bookmark_words_have_none() -> None:
    data = pdf_bytes(Document("", "", 8.5, 11, (), (DrawnPage((), (), ""),)))
    reader = PdfReader(BytesIO(data), strict=True)
    assert reader.outline == []
    assert len(reader.pages) == 1


def test_picture_is_stored_once_for_all_pages(reader: PdfReader) -> None:
    resources = [page["/Resources"]["/XObject"] for page in reader.pages]  # type: ignore[index]
    forms = {each.raw_get("/FormXob.picture1").idnum for each in resources}
    assert len(forms) == 1


def test_every_font_is_embedded(reader: PdfReader) -> None:
    fonts = reader.pages[0]["/Resources"]["/Font"]  # type: ignore[index]
    assert len(fonts) == 2
    for font in fonts.values():
        assert "/FontFile2" in font.get_object()["/FontDescriptor"]


def test_same_document_gives_same_bytes_in_any_process(data: bytes) -> None:
    script = (
        "import hashlib; from writer_documents import document;"
        "from templates_engine.writers.pdf import pdf_bytes;"
        "print(hashlib.sha256(pdf_bytes(document())).hexdigest())"
    )
    search = os.pathsep.join([str(HERE), str(HERE.parent.parent)])
    for seed, moment in (("1", "0"), ("2", "1000000000")):
        environment = os.environ | {
            "PYTHONHASHSEED": seed,
            "SOURCE_DATE_EPOCH": moment,
            "PYTHONPATH": search,
            "TZ": f"XXX{seed}",
        }
        command = [sys.executable, "-c", script]
        out = subprocess.run(command, env=environment, check=True, capture_output=True, text=True).stdout
        assert out.strip() == hashlib.sha256(data).hexdigest()


def test_file_name_in_the_trailer_changes_with_the_drawing(reader: PdfReader) -> None:
    other = PdfReader(BytesIO(pdf_bytes(document(more=(Words(Point(1, 1), ("x",), 9),)))))
    assert reader.trailer["/ID"] != other.trailer["/ID"]
    assert reader.trailer["/ID"] == PdfReader(BytesIO(pdf_bytes(document()))).trailer["/ID"]


@pytest.mark.skipif(shutil.which("qpdf") is None, reason="qpdf is not installed")
def test_a_validator_finds_nothing_wrong(tmp_path: Path) -> None:
    write_pdf(document(), tmp_path / "one.pdf")
    found = subprocess.run(
        ["qpdf", "--check", "one.pdf"], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert found.returncode == 0, found.stdout + found.stderr
    assert "PDF Version: 1.7" in found.stdout


@pytest.mark.parametrize("text", ["漢", "tab\there", "line\nbreak", "\ud800", "\x00", "🙂", "ا\u200f"])
def test_a_character_the_fonts_lack_shows_as_the_replacement_sign(text: str) -> None:
    made = make_pdf(document(more=(Words(Point(1, 5), ("see ", text, " end"), 9),)))
    shown = next(line for line in read_text(made.data, 1).splitlines() if line.startswith("see"))
    if text == "ا\u200f":
        assert made.lacking == ()
        return
    lacking = [each for each in text if each in made.lacking]
    assert lacking
    assert shown.count("�") == len(lacking)
    assert shown.endswith(" end")


def test_odd_titles_and_bookmarks_are_stored_as_far_as_they_can_be() -> None:
    page = DrawnPage((), (), "漢 (1) \\ \ud800")
    data = pdf_bytes(Document("Ω ) \ud800 (", "", 8.5, 11, (), (page,)))
    reader = PdfReader(BytesIO(data), strict=True)
    assert reader.metadata is not None
    assert reader.metadata.title is not None
    assert reader.metadata.title.startswith("Ω ) ")
    (title,) = _titles(reader.outline)
    assert str(title).startswith("漢 (1) \\ ")


def test_more_than_256_different_characters_need_more_than_one_subset() -> None:
    text = "".join(chr(code) for code in range(0x391, 0x3FF)) + "".join(map(chr, range(0x410, 0x520)))
    lines = tuple(
        Words(Point(0.2, 1 + start / 40), (text[start : start + 40],), 8) for start in range(0, len(text), 40)
    )
    made = make_pdf(Document("", "", 8.5, 11, (), (DrawnPage(lines, (), "Page"),)))
    lacking = "".join(made.lacking)
    shown = read_text(made.data, 0).replace("\n", "")
    assert shown == "".join("�" if each in lacking else each for each in text)
    assert len(lacking) < 5


def test_two_pictures_of_one_name_and_a_missing_picture_are_refused() -> None:
    good = document()
    with pytest.raises(ValueError, match="same name"):
        pdf_bytes(replace(good, pictures=(picture(), picture())))
    with pytest.raises(ValueError, match="'face top', which the document lacks"):
        pdf_bytes(replace(good, pictures=(picture("other"),)))
