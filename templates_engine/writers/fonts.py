"""Turns text into the codes of the embedded fonts; widths are measured in drawing/text_width."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from templates_engine.drawing.text_width import FONT_FILES, REPLACEMENT, Metrics, metrics
from templates_engine.resources import folder

if TYPE_CHECKING:
    from reportlab.pdfbase.pdfdoc import PDFDocument
    from reportlab.pdfbase.ttfonts import TTFont

FONT_NAMES = {False: "templates-plain", True: "templates-bold"}
"""Names the fonts go by inside the PDF library, by ``bold``."""


@cache
def embedded_font(bold: bool) -> TTFont:
    """The plain or bold font, parsed and registered once a process; every document embeds its own subset."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    font = TTFont(FONT_NAMES[bold], str(folder("fonts") / FONT_FILES[bold]), asciiReadable=False)
    pdfmetrics.registerFont(font)
    return font


class Typesetter:
    """Encodes text for one PDF document and remembers the characters its fonts lack."""

    def __init__(self, document: PDFDocument) -> None:
        self._document = document
        self._known: dict[tuple[str, bool], tuple[tuple[str, str], ...]] = {}
        self._lacking: dict[str, None] = {}

    @property
    def lacking(self) -> tuple[str, ...]:
        """Characters that were set as the replacement sign, in order of appearance."""
        return tuple(self._lacking)

    def encode(self, text: str, bold: bool) -> tuple[tuple[str, str], ...]:
        """Pieces (font resource name, codes in hexadecimal) that set the text one after the other."""
        pieces = self._known.get((text, bold))
        if pieces is None:
            pieces = self._known[text, bold] = self._encoded(text, bold)
        return pieces

    def _encoded(self, text: str, bold: bool) -> tuple[tuple[str, str], ...]:
        font = embedded_font(bold)
        return tuple(
            (font.getSubsetInternalName(subset, self._document), codes.hex())
            for subset, codes in font.splitString(self._settable(text, metrics(bold)), self._document)
        )

    def _settable(self, text: str, font: Metrics) -> str:
        if font.advances.keys() >= set(map(ord, text)):
            return text
        lacking = [character for character in text if font.lacks(character)]
        self._lacking.update(dict.fromkeys(lacking))
        return "".join(REPLACEMENT if font.lacks(character) else character for character in text)
