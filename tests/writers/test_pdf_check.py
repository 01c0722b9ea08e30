"""A PDF that does not show what the Document says is refused before it takes its name."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from writer_documents import document

from templates_engine.drawing.shapes import Document
from templates_engine.errors import CannotWrite
from templates_engine.geometry import Point, Rect
from templates_engine.values import replace
from templates_engine.writers import pdf
from templates_engine.writers.pdf import pdf_bytes, write_pdf
from templates_engine.writers.pdf_check import check_pdf


def on_first_sheet(change: Callable[..., object]) -> Callable[[Document], Document]:
    """The document with the placement of its second page changed."""

    def changed(good: Document) -> Document:
        cover, first, second = good.pages
        placement = change(first.placements[0])
        return replace(good, pages=(cover, replace(first, placements=(placement,)), second))

    return changed


def with_bounds(good: Document) -> Document:
    return replace(good, pictures=(replace(good.pictures[0], bounds=Rect(-1, -1, 25, 7.1)),))


def twice_placed(good: Document) -> Document:
    cover, first, second = good.pages
    return replace(good, pages=(cover, replace(first, placements=first.placements * 2), second))


WRONG = {
    "width": (
        lambda good: replace(good, page_width_in=8.5),
        "MediaBox of page 1 is 8.2677 x 11.6929 in instead of",
    ),
    "height": (lambda good: replace(good, page_height_in=good.page_height_in + 1e-5), "MediaBox of page 1"),
    "pages": (lambda good: replace(good, pages=good.pages[:2]), "3 pages instead of 2"),
    "origin": (
        on_first_sheet(lambda old: replace(old, origin=Point(old.origin.x + 1e-5, old.origin.y))),
        "view 1 of page 2 stands elsewhere",
    ),
    "scale across": (on_first_sheet(lambda old: replace(old, scale_x=1.00001)), "another scale"),
    "scale down": (on_first_sheet(lambda old: replace(old, scale_y=-1.0)), "another scale"),
    "window": (
        on_first_sheet(lambda old: replace(old, window=Rect(0.25, 0.25, 7.75, 7.9))),
        "window elsewhere",
    ),
    "bounds": (with_bounds, "other bounds"),
    "one view less": (twice_placed, "page 2 does not show 2 views"),
}


def test_a_right_file_passes(tmp_path: Path) -> None:
    path = tmp_path / "one.pdf"
    path.write_bytes(pdf_bytes(document()))
    check_pdf(path, document())


@pytest.mark.parametrize("name", WRONG)
def test_a_file_of_another_document_is_refused(name: str, tmp_path: Path) -> None:
    change, words = WRONG[name]
    path = tmp_path / "one.pdf"
    path.write_bytes(pdf_bytes(document()))
    with pytest.raises(CannotWrite, match=words):
        check_pdf(path, change(document()))


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (b"%PDF-1.7", b"%PDF-1.3", "PDF 1.7"),
        (
            b"/PrintScaling /None",
            b"/PrintScaling /Nons",
            "print setting PrintScaling is /Nons instead of /None",
        ),
        (b"/PickTrayByPDFSize true", b"/PickTrayByPDFSize null", "PickTrayByPDFSize"),
        (b"/Duplex /Simplex", b"/Duplex /SimpIex", "Duplex"),
        (b"/CropBox [ 0 0 595", b"/CropBox [ 0 0 594", "CropBox of page 1"),
        (b"/TrimBox [ 0 0 595", b"/TrimBox [ 0 1 595", "TrimBox of page 1"),
        (b"/Matrix [ 1 0 0 1", b"/Matrix [ 2 0 0 1", "scaled within itself"),
        (b"/Subtype /Form", b"/Subtype /Forn", "lacks a picture"),
        (b"startxref", b"startxxxx", "cannot be read"),
        (b"\nxref\n0 ", b"\nxrex\n0 ", "cannot be read"),
        (b"FormXob.picture1 2 0 R", b"FormXob.picture2 2 0 R", "cannot be read"),
    ],
)
def test_a_damaged_file_is_refused(old: bytes, new: bytes, words: str, tmp_path: Path) -> None:
    data = pdf_bytes(document())
    assert old in data
    path = tmp_path / "one.pdf"
    path.write_bytes(data.replace(old, new, 1))
    with pytest.raises(CannotWrite, match=words):
        check_pdf(path, document())


def test_a_file_whose_table_of_objects_is_off_is_refused_though_some_viewers_mend_it(tmp_path: Path) -> None:
    data = pdf_bytes(document())
    third = list(re.finditer(rb"(\d{10}) 00000 n", data))[2]  # the first page
    moved = b"%010d" % (int(third[1]) + 7)
    path = tmp_path / "one.pdf"
    path.write_bytes(data[: third.start(1)] + moved + data[third.end(1) :])
    with pytest.raises(CannotWrite, match="table of objects is wrong at 3"):
        check_pdf(path, document())


def test_a_picture_drawn_past_its_window_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf, "shape_operators", lambda *_: "/FormXob.picture1 Do")
    with pytest.raises(CannotWrite, match="page 1 draws a picture outside a window"):
        write_pdf(document(), tmp_path / "one.pdf")


@pytest.mark.parametrize("keep", [0, 10, 1000, 20000])
def test_a_file_cut_short_is_refused(keep: int, tmp_path: Path) -> None:
    path = tmp_path / "one.pdf"
    path.write_bytes(pdf_bytes(document())[:keep])
    with pytest.raises(CannotWrite):
        check_pdf(path, document())


def test_a_refused_file_leaves_the_old_one_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "one.pdf"
    path.write_bytes(b"the old file")
    wrong = pdf.PdfFile(pdf_bytes(replace(document(), page_width_in=8.5)), ())
    monkeypatch.setattr(pdf, "make_pdf", lambda _: wrong)
    with pytest.raises(CannotWrite, match=r"one\.pdf.*read back and refused") as caught:
        write_pdf(document(), path, [path])
    assert ".part" not in str(caught.value)
    assert path.read_bytes() == b"the old file"
    assert [each.name for each in tmp_path.iterdir()] == ["one.pdf"]
