"""Turns a Document into a PDF file; pdf_content writes the operators, pdf_check reads the file back."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from templates_engine.atomic import NewFile
from templates_engine.drawing.shapes import Document, DrawnPage
from templates_engine.geometry import Rect
from templates_engine.outputs import write_outputs
from templates_engine.writers.fonts import Typesetter
from templates_engine.writers.pdf_content import rect_points, shape_operators, window_and_matrix

if TYPE_CHECKING:
    from templates_engine.writers.pdf_parts import PdfParts


class PdfFile(NamedTuple):
    """A finished PDF, and the characters its fonts lack, each set as the replacement sign."""

    data: bytes
    lacking: tuple[str, ...]


def write_pdf(document: Document, path: Path, overwrite: Sequence[Path] = ()) -> tuple[str, ...]:
    """Write one Document like `write_pdfs`."""
    return write_pdfs([(path, document)], overwrite)[0]


def write_pdfs(
    files: Sequence[tuple[Path, Document]], overwrite: Sequence[Path] = ()
) -> tuple[tuple[str, ...], ...]:
    """Write Documents whole, read them back, and only then put all under their names; raises CannotWrite.

    Returns the characters that the fonts of each lack, each set as a visible replacement sign.
    ``overwrite`` names files that may be written over though this program did not make them.
    """
    made = [make_pdf(document) for _, document in files]
    write_outputs(
        "pdf",
        [
            NewFile(path, one.data, _read_back(document, path))
            for (path, document), one in zip(files, made, strict=True)
        ],
        overwrite,
    )
    return tuple(one.lacking for one in made)


def _read_back(document: Document, path: Path) -> Callable[[Path], None]:
    from templates_engine.writers.pdf_check import check_pdf

    return lambda part: check_pdf(part, document, shown_as=path)


def pdf_bytes(document: Document) -> bytes:
    """The PDF of a Document; the same bytes for the same Document, always."""
    return make_pdf(document).data


def make_pdf(document: Document) -> PdfFile:
    """The PDF of a Document and the characters its fonts lack.

    Raises ValueError for a Document no drawing stage may hand over: two pictures of one name, a placement
    of a picture it lacks, a coordinate that is not a number.
    """
    from templates_engine.writers.pdf_parts import PdfParts

    page_box = rect_points(Rect(0.0, 0.0, document.page_width_in, document.page_height_in))
    parts = PdfParts(document.title, document.subject, page_box)
    typesetter = Typesetter(parts.document)
    forms = _form_names(document)
    for picture in document.pictures:
        content = shape_operators(picture.shapes, typesetter)
        parts.add_form(forms[picture.name], rect_points(picture.bounds), content)
    for page in document.pages:
        _add_page(parts, page, forms, typesetter)
    return PdfFile(parts.data(), typesetter.lacking)


def _form_names(document: Document) -> dict[str, str]:
    """Form object of each picture, by the picture's name."""
    names = {picture.name: f"picture{index + 1}" for index, picture in enumerate(document.pictures)}
    if len(names) < len(document.pictures):
        raise ValueError("two pictures of the document have the same name")
    return names


def _add_page(parts: PdfParts, page: DrawnPage, forms: dict[str, str], typesetter: Typesetter) -> None:
    content, drawn = [], []
    for placement in page.placements:
        if placement.picture not in forms:
            raise ValueError(f"a page shows the picture '{placement.picture}', which the document lacks")
        form = forms[placement.picture]
        drawn.append(form)
        content.append(f"q {window_and_matrix(placement)} {parts.form_operator(form)} Q")
    content.append(shape_operators(page.shapes, typesetter))
    parts.add_page("\n".join(content), drawn, page.bookmark, page.level)
