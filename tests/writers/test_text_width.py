"""Measured widths are those the PDF library and an engine find for the same text."""

from __future__ import annotations

import math
import struct
import subprocess
import sys
from io import BytesIO

import pdfplumber
import pytest
from reportlab.pdfbase.pdfmetrics import stringWidth

from templates_engine.drawing.shapes import Document, DrawnPage, Fraction, Run, Words
from templates_engine.drawing.text_width import REPLACEMENT, _glyph_advances, metrics, text_width
from templates_engine.geometry import Point
from templates_engine.writers.fonts import FONT_NAMES, embedded_font
from templates_engine.writers.pdf import pdf_bytes

WANTED = (
    "ABCxyz0123456789.,;:!?()[]{}<>/\\|+-=*#%&@'\"$€£§¶ÀÉÎÕÜßàéîõüçñøØÆæŁłŠšŽž"
    "ΑΒΓΔΩαβγδμπφωΆάАБВГДЯабвгдяЁё⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉⌀←↑→↓↔↕⁄…✓✔✗☐☑≤≥±×÷°′″−–—•µ△�"
)


@pytest.mark.parametrize("bold", [False, True])
def test_every_character_measures_as_the_pdf_library_has_it(bold: bool) -> None:
    embedded_font(bold)
    advances = metrics(bold).advances
    face = embedded_font(bold).face
    in_plane = {code for code in face.charToGlyph if code < 0x10000}
    assert in_plane - advances.keys() <= {0xFFFF}
    assert len(advances) > 5000
    for code, advance in advances.items():
        assert advance * 10 == pytest.approx(stringWidth(chr(code), FONT_NAMES[bold], 10), abs=1e-6), hex(
            code
        )


@pytest.mark.parametrize("bold", [False, True])
def test_fonts_have_every_character_sheets_use(bold: bool) -> None:
    assert [each for each in WANTED if metrics(bold).lacks(each)] == []


@pytest.mark.parametrize("bold", [False, True])
def test_digits_are_equally_wide(bold: bool) -> None:
    assert len({metrics(bold).of(digit) for digit in "0123456789"}) == 1


@pytest.mark.parametrize(
    "runs",
    [
        ("|2", Fraction(13, 16), " in|"),
        ("|2-", Fraction(13, 16), "|"),
        ("|1", Fraction(1, 2), Fraction(3, 4), "|"),
        ("|", "2", "", Fraction(1, 8), "|"),
        ("|a漢b|",),
    ],
)
@pytest.mark.parametrize("bold", [False, True])
def test_a_line_is_as_wide_as_it_is_drawn(runs: tuple[Run, ...], bold: bool) -> None:
    """From the left of the first character to the left of the last, as another library finds them."""
    size = 24.0
    page = DrawnPage((Words(Point(1, 2), runs, size, bold=bold),), (), "")
    with pdfplumber.open(BytesIO(pdf_bytes(Document("", "", 8.5, 11, (), (page,))))) as pdf:
        chars = pdf.pages[0].chars
    drawn_in = (chars[-1]["x0"] - chars[0]["x0"]) / 72
    assert drawn_in == pytest.approx(text_width(runs, size, bold) - text_width(("|",), size, bold), abs=1e-6)


def test_a_fraction_after_a_digit_stands_apart_and_after_anything_else_does_not() -> None:
    half = text_width((Fraction(1, 2),), 72)
    assert text_width(("2", Fraction(1, 2)), 72) - text_width(("2",), 72) - half == pytest.approx(0.09)
    assert text_width(("2", "", Fraction(1, 2)), 72) - text_width(("2",), 72) - half == pytest.approx(0.09)
    for before in ("", "-", "2 ", "x"):
        assert text_width((before, Fraction(1, 2)), 72) == pytest.approx(text_width((before,), 72) + half)


def test_width_grows_with_the_type_size_and_is_nothing_for_nothing() -> None:
    assert text_width(("abc",), 20) == pytest.approx(2 * text_width(("abc",), 10))
    assert text_width((), 10) == 0
    assert text_width(("", ""), 10) == 0


@pytest.mark.parametrize("text", ["漢", "\ud800", "\n", "🙂"])
def test_what_the_fonts_lack_measures_as_the_replacement_sign(text: str) -> None:
    assert math.isclose(text_width((text,), 10), text_width((REPLACEMENT,), 10))


def test_glyphs_beyond_the_last_written_advance_share_it() -> None:
    """OpenType specification, table hmtx: here four glyphs, of which two are written."""
    maxp = struct.pack(">IH", 0x00010000, 4)
    hhea = bytes(34) + struct.pack(">H", 2)
    hmtx = struct.pack(">HhHhhh", 500, 0, 600, 0, 0, 0)
    tables = {"maxp": 0, "hhea": len(maxp), "hmtx": len(maxp) + len(hhea)}
    assert _glyph_advances(maxp + hhea + hmtx, tables) == [500, 600, 600, 600]


def test_measuring_needs_no_pdf_library() -> None:
    script = (
        "import sys; from templates_engine.drawing.text_width import text_width; text_width(('a',), 9);"
        "sys.exit(any(name in sys.modules for name in ('reportlab', 'pypdf', 'fontTools')))"
    )
    assert subprocess.run([sys.executable, "-c", script], check=False).returncode == 0
