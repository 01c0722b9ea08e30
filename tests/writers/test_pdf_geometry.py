"""The PDF shows every shape where the Document has it; read back with an engine the writer does not use."""

from __future__ import annotations

import math
import shutil
import subprocess
from io import BytesIO
from pathlib import Path
from typing import Literal

import numpy
import pdfplumber
import pytest
from pdf_reading import (
    page_boxes_in,
    page_size_in,
    raster,
    read_circles,
    read_lines,
    read_text,
    read_text_lines,
)
from PIL import Image
from writer_documents import (
    A4_HEIGHT_IN,
    A4_WIDTH_IN,
    CIRCLES,
    ORIGIN,
    PEN,
    WINDOW,
    document,
    sheet,
)

from templates_engine.drawing.shapes import Document, DrawnCircle, DrawnPage, Fraction, Line, Words
from templates_engine.drawing.text_width import FRACTION_GAP, FRACTION_SCALE, text_width
from templates_engine.geometry import Point, Rect
from templates_engine.writers.pdf import pdf_bytes
from templates_engine.writers.pdf_content import points, shape_operators

Anchor = Literal["left", "middle", "right"]

VECTOR_IN = 0.00001
"""Far within the 0.001 in the file is allowed: the engine works in single precision."""


def one_page(*shapes: object, width_in: float = 8.5, height_in: float = 11.0) -> bytes:
    page = DrawnPage(shapes, (), "Page")  # type: ignore[arg-type]
    return pdf_bytes(Document("Test", "", width_in, height_in, (), (page,)))


@pytest.fixture(scope="module")
def data() -> bytes:
    return pdf_bytes(document())


def test_circles_of_a_placed_picture_lie_at_true_scale(data: bytes) -> None:
    found = read_circles(data, 1)
    wanted = [(ORIGIN.x + x, ORIGIN.y + y, diameter) for x, y, diameter in CIRCLES if x != 7.8125]
    # The middle circle reaches from x 7.84 on the page and the window ends at 7.75.
    assert numpy.allclose(found, wanted, atol=VECTOR_IN)


def test_next_sheet_shows_the_circle_the_first_left_out(data: bytes) -> None:
    x, y, diameter = CIRCLES[1]
    assert numpy.allclose(read_circles(data, 2), [(ORIGIN.x - 7 + x, ORIGIN.y + y, diameter)], atol=VECTOR_IN)


def test_reduced_view_is_scaled_about_its_origin(data: bytes) -> None:
    found = read_circles(data, 0)
    assert numpy.allclose(found, [(1 + x / 4, 5 + y / 4, d / 4) for x, y, d in CIRCLES], atol=VECTOR_IN)


def test_a_line_is_cut_at_the_window(data: bytes) -> None:
    assert numpy.allclose(
        read_lines(data, 1)[0], (ORIGIN.x, ORIGIN.y, WINDOW.right, ORIGIN.y), atol=VECTOR_IN
    )


def test_nothing_shows_outside_the_window(data: bytes) -> None:
    pixels, across, down = raster(data, 1, 150)
    outside = pixels.copy()
    top, bottom = round((A4_HEIGHT_IN - WINDOW.top) * down), round((A4_HEIGHT_IN - WINDOW.bottom) * down)
    outside[top - 2 : bottom + 2, round(WINDOW.left * across) - 2 : round(WINDOW.right * across) + 2] = 255
    outside[: round(1.2 * down)] = 255  # the page's own words
    assert outside.min() == 255
    assert pixels.min() == 0


def test_page_is_a4_to_the_hundred_thousandth_of_an_inch(data: bytes) -> None:
    for box in page_boxes_in(data, 0).values():
        assert numpy.allclose(box, (0, 0, A4_WIDTH_IN, A4_HEIGHT_IN), atol=1e-6)
    assert set(page_boxes_in(data, 0)) == {"media", "crop", "trim"}
    assert page_size_in(data, 2) == pytest.approx((A4_WIDTH_IN, A4_HEIGHT_IN), abs=1e-6)


@pytest.mark.parametrize("value", [1 / 3, 0.0000123, 23.4567891, 199.9999999, -7.7777777])
def test_lengths_are_written_to_a_millionth_of_a_point_or_better(value: float) -> None:
    assert float(points(value)) == pytest.approx(value * 72, abs=0.6e-6)


def circle_numbers_in(ring: DrawnCircle) -> list[float]:
    """x and y of the start and of the three points of each curve, as the content says, in inches."""
    operators = shape_operators((ring,), typesetter=None)  # type: ignore[arg-type]  # no text, no typesetter
    path = next(line for line in operators.splitlines() if " c " in line).split()
    return [float(word) / 72 for word in path if word not in "mchS"]


def test_quarter_points_of_a_ring_are_exact() -> None:
    numbers = circle_numbers_in(DrawnCircle(Point(2, 3), 1, PEN, "cut"))
    joins = [tuple(numbers[i : i + 2]) for i in (0, 6, 12, 18, 24)]
    assert numpy.allclose(joins, [(2.5, 3), (2, 3.5), (1.5, 3), (2, 2.5), (2.5, 3)], atol=1e-8)


def test_a_ring_departs_from_the_true_circle_by_less_than_two_parts_in_ten_thousand() -> None:
    numbers = circle_numbers_in(DrawnCircle(Point(0, 0), 2, PEN, "cut"))
    a, b, c, d = (numpy.array(numbers[i : i + 2]) for i in (0, 2, 4, 6))
    t = numpy.linspace(0, 1, 1001)[:, None]
    curve = (1 - t) ** 3 * a + 3 * t * (1 - t) ** 2 * b + 3 * t**2 * (1 - t) * c + t**3 * d
    off = numpy.abs(numpy.hypot(curve[:, 0], curve[:, 1]) - 1).max()
    assert 0.00018 < off < 0.0002


@pytest.mark.parametrize(("x", "y"), [(2.123456, 3.3333333), (5.5, 7.0)])
def test_raster_at_300_dpi_shows_the_circle_in_place(x: float, y: float) -> None:
    data = one_page(DrawnCircle(Point(x, y), 2.0, PEN, "cut"), width_in=A4_WIDTH_IN, height_in=A4_HEIGHT_IN)
    pixels, across, down = raster(data, 0, 300)
    assert _inked_extent(pixels, across, down, A4_HEIGHT_IN) == pytest.approx(
        (x - 1.005, y - 1.005, x + 1.005, y + 1.005), abs=0.005
    )


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="pdftoppm (poppler) is not installed")
def test_a_second_engine_shows_the_circle_in_place(tmp_path: Path) -> None:
    x, y = 3.071, 4.123
    (tmp_path / "one.pdf").write_bytes(
        one_page(DrawnCircle(Point(x, y), 2.0, PEN, "cut"), width_in=A4_WIDTH_IN, height_in=A4_HEIGHT_IN)
    )
    subprocess.run(
        ["pdftoppm", "-r", "300", "-gray", "-singlefile", "one.pdf", "one"], cwd=tmp_path, check=True
    )
    with Image.open(tmp_path / "one.pgm") as image:
        pixels = numpy.array(image)
    # This engine rounds the bitmap up and leaves the rest blank: its scale is the dpi asked for.
    extent = _inked_extent(pixels, 300, 300, pixels.shape[0] / 300)
    lift = A4_HEIGHT_IN - pixels.shape[0] / 300
    wanted = (x - 1.005, y - 1.005 - lift, x + 1.005, y + 1.005 - lift)
    assert extent == pytest.approx(wanted, abs=0.005)


def _inked_extent(pixels: numpy.ndarray, across: float, down: float, height_in: float) -> tuple[float, ...]:
    """Left, bottom, right, top of the ink, inches; an edge pixel counts by how dark it is."""
    dark = 1 - pixels.astype(float) / 255
    columns, rows = dark.max(axis=0), dark.max(axis=1)
    xs, ys = numpy.flatnonzero(columns > 0.02), numpy.flatnonzero(rows > 0.02)
    left, right = xs[0] + 1 - columns[xs[0]], xs[-1] + columns[xs[-1]]
    top, bottom = ys[0] + 1 - rows[ys[0]], ys[-1] + rows[ys[-1]]
    return left / across, height_in - bottom / down, right / across, height_in - top / down


@pytest.mark.parametrize("anchor", ["left", "middle", "right"])
@pytest.mark.parametrize("angle", [0, 90, 180, 270, 30, -90])
def test_words_stand_where_their_anchor_says(anchor: Anchor, angle: float) -> None:
    at = Point(4, 5)
    data = one_page(Words(at, ("Hxx", Fraction(1, 2), "H"), 20, anchor=anchor, angle=angle))
    (line,) = read_text_lines(data, 0)
    assert line.text == "Hxx1/2H"
    share = {"left": 0.0, "middle": 0.5, "right": 1.0}[anchor]
    x, y = (line.x_in + share * (line.end_x_in - line.x_in), line.y_in + share * (line.end_y_in - line.y_in))
    assert math.dist((x, y), at) < 0.03  # the end found is that of the last letter's ink, not of its advance
    assert (line.angle - angle) % 360 == pytest.approx(0, abs=0.01)


def test_text_reads_as_a_person_would_say_it(data: bytes) -> None:
    text = read_text(data, 1).splitlines()
    assert "2-13/16 in" in text
    assert "1-3/4 up" in text
    assert "Sheet 1" in text


def test_a_hyphen_already_there_is_not_doubled() -> None:
    words = Words(Point(1, 1), ("2-", Fraction(13, 16), ", ", Fraction(7, 8)), 9)
    assert read_text(one_page(words), 0) == "2-13/16, 7/8"


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="pdftotext (poppler) is not installed")
def test_a_second_engine_reads_the_fraction_with_its_whole_number(tmp_path: Path, data: bytes) -> None:
    (tmp_path / "one.pdf").write_bytes(data)
    command = ["pdftotext", "-f", "2", "-l", "2", "-layout", "one.pdf", "-"]
    out = subprocess.run(command, cwd=tmp_path, check=True, capture_output=True).stdout.decode()
    assert "2-13/16 in" in out


def test_no_fraction_digit_of_nine_point_text_is_below_five_and_a_half() -> None:
    with pdfplumber.open(BytesIO(one_page(Words(Point(1, 1), (Fraction(13, 16),), 9)))) as pdf:
        sizes = {round(char["size"], 3) for char in pdf.pages[0].chars if char["text"].isdigit()}
    assert sizes == {5.85}


def test_the_hyphen_that_text_search_finds_before_a_fraction_is_not_drawn() -> None:
    data = one_page(Words(Point(1, 1), ("2", Fraction(13, 16)), 72))
    pixels, across, _ = raster(data, 0, 300)
    start = 1 + text_width(("2",), 72)
    gap = pixels[:, round((start + 0.01) * across) : round((start + FRACTION_GAP - 0.01) * across)]
    assert gap.shape[1] > 15
    assert gap.min() == 255
    assert "2-13/16" in read_text(data, 0)


@pytest.mark.parametrize("fraction", [Fraction(1, 2), Fraction(13, 16), Fraction(63, 64)])
def test_every_fraction_is_built_alike_with_raised_slash_and_lowered(fraction: Fraction) -> None:
    beside = Words(Point(3, 1), ("1",), FRACTION_SCALE * 10), Words(Point(4, 1), ("1",), 10)
    with pdfplumber.open(BytesIO(one_page(Words(Point(1, 1), (fraction,), 10), *beside))) as pdf:
        *chars, small, full = pdf.pages[0].chars
    slash = len(str(fraction.numerator))
    assert "".join(char["text"] for char in chars) == f"{fraction.numerator}⁄{fraction.denominator}"
    assert {round(char["y0"] - small["y0"], 3) for char in chars[:slash]} == {3.1}
    assert round(chars[slash]["y0"] - full["y0"], 3) == 0
    assert {round(char["y0"] - small["y0"], 3) for char in chars[slash + 1 :]} == {-0.7}
    xs = [char["x0"] for char in chars]
    assert xs == sorted(xs)


def test_drawing_order_is_kept_so_that_white_hides_what_is_under_it() -> None:
    from templates_engine.drawing.shapes import DrawnRect

    line = Line(Point(1, 1), Point(3, 1), PEN, "edge")
    cover = DrawnRect(Rect(0.5, 0.5, 3.5, 1.5), None, "frame", fill=1.0)
    assert raster(one_page(line, cover), 0, 100)[0].min() == 255
    assert raster(one_page(cover, line), 0, 100)[0].min() < 128


def test_a_coordinate_that_is_no_number_is_refused() -> None:
    with pytest.raises(ValueError, match="nan"):
        one_page(Line(Point(1, float("nan")), Point(3, 1), PEN, "edge"))
    nowhere = sheet(1, Point(float("inf"), 0))
    with pytest.raises(ValueError, match="inf"):
        pdf_bytes(Document("", "", 8.5, 11, document().pictures, (nowhere,)))
