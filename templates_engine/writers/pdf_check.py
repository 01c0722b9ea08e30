"""Reads a PDF file back and refuses it where pages, placements or print settings differ from the Document."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from itertools import zip_longest
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from templates_engine.drawing.shapes import Document, DrawnPage, Picture
from templates_engine.errors import CannotWrite, Problem

if TYPE_CHECKING:
    from pypdf import PageObject, PdfReader

_POINTS_PER_INCH = 72
_ALLOWED_IN = 1e-6
PREFERENCES = {
    "/PrintScaling": "/None",
    "/PickTrayByPDFSize": True,
    "/Duplex": "/Simplex",
    "/DisplayDocTitle": True,
}
BOXES = ("/MediaBox", "/CropBox", "/TrimBox")
_NUMBER = rb"(-?[\d.]+)"
_NUMBERS_4, _NUMBERS_6 = rb" ".join([_NUMBER] * 4), rb" ".join([_NUMBER] * 6)
_PLACEMENT = re.compile(rb"\bq " + _NUMBERS_4 + rb" re W n " + _NUMBERS_6 + rb" cm\s+(/\S+) Do\s+Q\b")
_TABLE_ENTRY = re.compile(rb"(\d{10}) 00000 n")
_DRAWN_FORM = re.compile(rb"/\S+ Do\b")


class DiffersError(Exception):
    """The file does not say what the Document says; the text names the first difference."""


class _Seen(NamedTuple):
    """A placement as the file has it, inches; ``window`` is left, bottom, width, height."""

    window: tuple[float, ...]
    matrix: tuple[float, ...]
    box: tuple[float, ...]


def check_pdf(path: Path, document: Document, shown_as: Path | None = None) -> None:
    """Raise CannotWrite unless the file shows the Document's pages; ``shown_as`` names it in the message."""
    from pypdf import PdfReader

    data = Path(path).read_bytes()
    with refusing(shown_as or path, "Run again; if this comes back, report it with the job."):
        check_frame(data)
        with PdfReader(BytesIO(data), strict=True) as reader:
            _compare(reader, document)


@contextmanager
def refusing(shown_as: Path, what_to_do: str) -> Iterator[None]:
    """Within it a file is read back: raises CannotWrite where it differs or cannot be read."""
    from pypdf.errors import PyPdfError

    try:
        yield
    except (DiffersError, PyPdfError, KeyError, TypeError, ValueError, RecursionError) as error:
        reason = str(error) if isinstance(error, DiffersError) else f"it cannot be read ({error})"
        message = f"could not write {shown_as}: the new file was read back and refused: {reason}."
        remedy = f"An older file of that name still stands. {what_to_do}"
        raise CannotWrite([Problem(message, remedy)]) from error


def check_frame(data: bytes) -> None:
    """The header, and that each entry of the table of objects is right; readers mend that unasked."""
    if not data.startswith(b"%PDF-1.7"):
        raise DiffersError("it is not headed as PDF 1.7")
    entries = _TABLE_ENTRY.finditer(data, data.rfind(b"\nxref"))
    for number, entry in enumerate(entries, 1):
        if not data.startswith(b"%d 0 obj" % number, int(entry[1])):
            raise DiffersError(f"its table of objects is wrong at {number}")


def _compare(reader: PdfReader, document: Document) -> None:
    if len(reader.pages) != len(document.pages):
        raise DiffersError(f"it has {len(reader.pages)} pages instead of {len(document.pages)}")
    check_preferences(reader)
    pictures = {picture.name: picture for picture in document.pictures}
    for index, (page, planned) in enumerate(zip(reader.pages, document.pages, strict=True)):
        name = f"page {index + 1}"
        _compare_boxes(page, document, name)
        _compare_placements(page, planned, pictures, name)


def check_preferences(reader: PdfReader) -> None:
    """Raise DiffersError unless viewers are asked to print it as it is."""
    found = reader.root_object["/ViewerPreferences"].get_object()
    for key, wanted in PREFERENCES.items():
        value = found.get(key)  # type: ignore[union-attr]  # get_object is typed as possibly None
        if (value if isinstance(wanted, str) else getattr(value, "value", None)) != wanted:
            raise DiffersError(f"its print setting {key[1:]} is {value} instead of {wanted}")


def _compare_boxes(page: PageObject, document: Document, name: str) -> None:
    wanted = (0.0, 0.0, document.page_width_in, document.page_height_in)
    for key in BOXES:
        box = inches(page[key])
        if far(box, wanted):
            found, size = (" x ".join(f"{length:.4f}" for length in one[2:]) for one in (box, wanted))
            raise DiffersError(f"{key[1:]} of {name} is {found} in instead of {size} in")
    check_upright(page, name)


def check_upright(page: PageObject, name: str) -> None:
    """Raise DiffersError where a page is scaled or turned as a whole."""
    if "/UserUnit" in page or page.get("/Rotate", 0) != 0:
        raise DiffersError(f"{name} is scaled or turned as a whole")


def _compare_placements(
    page: PageObject, planned: DrawnPage, pictures: dict[str, Picture], name: str
) -> None:
    for index, (seen, placement) in enumerate(zip_longest(_placements(page, name), planned.placements)):
        if seen is None or placement is None:
            raise DiffersError(f"{name} does not show {len(planned.placements)} views")
        view = f"view {index + 1} of {name}"
        window, bounds = placement.window, pictures[placement.picture].bounds
        if far(seen.window, (window.left, window.bottom, window.width, window.height)):
            raise DiffersError(f"{view} has its window elsewhere")
        wanted = (placement.scale_x, 0, 0, placement.scale_y, placement.origin.x, placement.origin.y)
        if far(seen.matrix, wanted):
            raise DiffersError(f"{view} stands elsewhere or at another scale")
        if far(seen.box, (bounds.left, bounds.bottom, bounds.right, bounds.top)):
            raise DiffersError(f"{view} has other bounds")


def _placements(page: PageObject, name: str) -> Iterator[_Seen]:
    """Every placement in the page's content, in its order; the form it draws must be there."""
    data = content_of(page)
    found = list(_PLACEMENT.finditer(data))
    if len(found) != len(_DRAWN_FORM.findall(data)):
        raise DiffersError(f"{name} draws a picture outside a window")
    for match in found:
        numbers = [float(text) for text in match.groups()[:-1]]
        form = page["/Resources"]["/XObject"][match.group(11).decode("ascii")]  # type: ignore[index]
        if form["/Subtype"] != "/Form":
            raise DiffersError(f"{name} lacks a picture")
        if [float(value) for value in form["/Matrix"]] != [1, 0, 0, 1, 0, 0]:
            raise DiffersError(f"a picture of {name} is scaled within itself")
        matrix = (*numbers[4:8], *inches(numbers[8:10]))
        yield _Seen(inches(numbers[:4]), matrix, inches(form["/BBox"]))


def content_of(page: PageObject) -> bytes:
    """The operators of a page."""
    contents = page.get_contents()
    return b"" if contents is None else contents.get_data()


def inches(points: object) -> tuple[float, ...]:
    """Numbers of a file, which are points, as inches."""
    return tuple(float(value) / _POINTS_PER_INCH for value in points)  # type: ignore[attr-defined]


def far(found: tuple[float, ...], wanted: tuple[float, ...]) -> bool:
    """Whether lengths differ by more than numbers are rounded by where they are written."""
    return len(found) != len(wanted) or any(
        not abs(a - b) <= _ALLOWED_IN for a, b in zip(found, wanted, strict=True)
    )
