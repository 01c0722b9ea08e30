"""The SVG is at true scale with y turned, grouped by meaning, and takes any text."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
from writer_documents import CIRCLES, PEN, furniture, picture

from templates_engine.drawing.shapes import DrawnRect, Fraction, Line, Picture, Shape, Words
from templates_engine.geometry import Point, Rect
from templates_engine.writers.svg import svg_bytes

SVG = "{http://www.w3.org/2000/svg}"


def root(*shapes: Shape) -> ElementTree.Element:
    return ElementTree.fromstring(svg_bytes(Picture("one", Rect(-1, -2, 9, 6), shapes)))


def test_size_is_in_inches_and_one_unit_is_one_inch() -> None:
    found = ElementTree.fromstring(svg_bytes(picture()))
    assert (found.get("width"), found.get("height")) == ("26in", "8in")
    assert found.get("viewBox") == "-1 0 26 8"


def test_circles_lie_below_the_top_by_as_much_as_the_picture_says() -> None:
    circles = ElementTree.fromstring(svg_bytes(picture())).findall(f"{SVG}g[@id='cut']/{SVG}circle")
    found = [tuple(float(each.attrib[key]) for key in ("cx", "cy", "r")) for each in circles]
    assert found == [pytest.approx((x, 7 - y, diameter / 2), abs=1e-6) for x, y, diameter in CIRCLES]


def test_layers_are_groups_by_meaning_words_on_top() -> None:
    found = ElementTree.fromstring(svg_bytes(picture(more=furniture())))
    assert [group.get("id") for group in found.findall(f"{SVG}g")] == ["frame", "edge", "cut", "words"]


def test_every_kind_of_shape_is_turned_about() -> None:
    found = root(
        Line(Point(0, 6), Point(2, 1), PEN, "edge"),
        DrawnRect(Rect(1, 2, 4, 3), PEN, "frame", fill=1.0, corner=0.25),
        *furniture()[2:],
    )
    line = found.find(f".//{SVG}line")
    box = found.find(f".//{SVG}rect")
    polygon = found.find(f".//{SVG}polygon")
    assert line is not None
    assert [line.get(key) for key in ("x1", "y1", "x2", "y2")] == ["0", "0", "2", "5"]
    assert box is not None
    assert [box.get(key) for key in ("x", "y", "width", "height", "rx")] == ["1", "3", "3", "1", "0.25"]
    assert box.get("fill") == "#ffffff"
    assert polygon is not None
    assert polygon.get("points") == "5,-3 6,-3 5.5,-4"


def test_turned_words_turn_the_same_way_as_in_the_picture() -> None:
    text = root(Words(Point(3, 4), ("up",), 9, anchor="right", angle=90)).find(f".//{SVG}text")
    assert text is not None
    assert text.get("transform") == "translate(3 2) rotate(-90) scale(0.013888889)"
    assert text.get("text-anchor") == "end"


def test_a_fraction_reads_with_its_whole_number() -> None:
    text = root(Words(Point(3, 4), ("2", Fraction(13, 16), " in"), 10, anchor="middle")).find(f".//{SVG}text")
    assert text is not None
    assert "".join(text.itertext()) == "2-13⁄16 in"
    ups = [float(part.attrib["y"]) for part in text]
    assert ups == [0, 0, -3.1, 0, 0.7, 0]
    places = [float(part.attrib["x"]) for part in text]
    assert places == sorted(places)
    assert places[0] < 0 < places[-1]
    hyphen = text[1]
    assert hyphen.text == "-"
    assert hyphen.get("fill") == "none"


@pytest.mark.parametrize("text", ["<b>&amp;\"'", "\x00\x1b\ud800\ufffe", "漢 🙂", "]]>", "  two  spaces "])
def test_any_text_makes_a_readable_file(text: str) -> None:
    found = root(Words(Point(1, 1), (text,), 9)).find(f".//{SVG}text")
    assert found is not None
    shown = "".join("�" if each in "\x00\x1b\ud800\ufffe" else each for each in text)
    assert found.text == shown
    title = ElementTree.fromstring(svg_bytes(Picture(text, Rect(0, 0, 1, 1), ()))).find(f"{SVG}title")
    assert title is not None
    assert title.text == shown


def test_a_coordinate_that_is_no_number_is_refused() -> None:
    with pytest.raises(ValueError, match="nan"):
        root(Line(Point(0, float("nan")), Point(1, 1), PEN, "edge"))


def test_same_picture_gives_same_bytes() -> None:
    assert svg_bytes(picture()) == svg_bytes(picture())
