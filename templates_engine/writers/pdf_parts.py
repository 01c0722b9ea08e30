"""Puts pages, forms, bookmarks and print settings together into the bytes of a PDF; contents come ready made.

Everything goes in through the PDF library's object classes rather than its canvas, which would round page
boxes, write a date and name a font that is not embedded.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from typing import Any

from reportlab.pdfbase.pdfdoc import (
    Destination,
    PDFArray,
    PDFDictionary,
    PDFDocument,
    PDFFormXObject,
    PDFInfo,
    PDFName,
    PDFPage,
    PDFResourceDictionary,
    PDFString,
    PDFZCompress,
)

from templates_engine.outputs import MAKER

Numbers = tuple[str, str, str, str]
"""A box in points, as written: text, because the library would round numbers."""

PDF_VERSION = (1, 7)  # the first with PickTrayByPDFSize and Duplex
LANGUAGE = "en-US"


class _UndatedInfo(PDFInfo):
    """Title, subject and maker without dates, which would be false or change the file from day to day."""

    def format(self, document: PDFDocument) -> bytes:
        entries = {"Title": self.title, "Subject": self.subject, "Creator": MAKER, "Producer": MAKER}
        return PDFDictionary({key: PDFString(text) for key, text in entries.items()}).format(document)


class PdfParts:
    """One PDF in the making; ``document`` is what fonts register with."""

    def __init__(self, title: str, subject: str, page_box: Numbers) -> None:
        document: Any = PDFDocument(compression=1, invariant=1, pdfVersion=PDF_VERSION, lang=LANGUAGE)
        document.defaultStreamFilters = [PDFZCompress]
        document.info = _UndatedInfo()
        document.setTitle(storable(title))
        document.setSubject(storable(subject))
        document.Catalog.ViewerPreferences = _viewer_preferences()
        self.document = document
        self._page_box = page_box
        self._signature = hashlib.md5(usedforsecurity=False)
        self._bookmarks: dict[str, Destination] = {}

    def add_form(self, name: str, box: Numbers, content: str) -> None:
        """A picture to be drawn on pages by its name."""
        form = PDFFormXObject(0, 0, 0, 0)
        form.BBox = PDFArray(box)
        form.Resources = _resources()
        form.setStreamList(content)
        self.document.addForm(name, form)
        self._signature.update(content.encode())

    def add_page(self, content: str, forms: Sequence[str], bookmark: str, level: int) -> None:
        """The next page; ``forms`` are those its content draws. No bookmark where its words are empty."""
        page: Any = PDFPage()
        page.MediaBox = page.CropBox = page.TrimBox = PDFArray(self._page_box)
        page.Resources = _resources()
        if forms:
            page.Resources.XObject = self.document.xobjDict(dict.fromkeys(forms))
        page.setStream(content + "\n")
        if bookmark:
            self._add_bookmark(storable(bookmark), level)
        self.document.addPage(page)
        self._signature.update(content.encode())

    def _add_bookmark(self, title: str, level: int) -> None:
        """An entry that shows the page; at most one level deeper than the one before it."""
        outlines, key = self.document.Outlines, str(len(self._bookmarks))
        place = self._bookmarks[key] = Destination(key)
        place.fit()
        place.setPage(self.document.thisPageRef())
        outlines.addOutlineEntry(key, min(max(level, 0), outlines.currentlevel + 1), title)

    def _bookmarkReference(self, key: str) -> Destination:  # noqa: N802  # the library asks its canvas for it
        return self._bookmarks[key]

    def form_operator(self, name: str) -> str:
        """The operator that draws a form."""
        return f"/{self.document.getXObjectName(name)} Do"

    def data(self) -> bytes:
        """The finished file; nothing can be added afterwards."""
        if self._bookmarks:
            self.document.Catalog.showOutline()
        self.document.signature = self._signature
        data = self.document.GetPDFData(self)
        return data if isinstance(data, bytes) else data.encode("latin-1")


def _viewer_preferences() -> PDFDictionary:
    return PDFDictionary(
        {
            "PrintScaling": PDFName("None"),
            "Enforce": PDFArray([PDFName("PrintScaling")]),
            "PickTrayByPDFSize": "true",
            "Duplex": PDFName("Simplex"),
            "DisplayDocTitle": "true",
        }
    )


def _resources() -> PDFResourceDictionary:
    resources = PDFResourceDictionary()
    resources.basicFonts()
    resources.basicProcs()
    return resources


def storable(text: str) -> str:
    """The text without lone surrogates, which no PDF string can hold."""
    return text.encode("utf-16-le", "replace").decode("utf-16-le")
