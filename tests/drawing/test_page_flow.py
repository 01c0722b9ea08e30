"""Pieces over pages: filled alike, what hangs together unbroken, headings over their own."""

from __future__ import annotations

import pytest

from templates_engine.drawing.cover.page_flow import (
    PageBlock,
    balanced,
    heading,
    set_into,
    space,
    stack,
    whole,
)
from templates_engine.drawing.cover.tables import Column, table
from templates_engine.drawing.shapes import Shape, Words
from templates_engine.geometry import Point, Rect

PAGE = Rect(0.0, 0.0, 8.0, 10.0)


def line(text: str, height: float = 1.0) -> PageBlock:
    return PageBlock(height, (Words(Point(0.0, 0.0), (text,), 9.0),))


def said(page: tuple[Shape, ...]) -> list[str]:
    return ["".join(map(str, one.runs)) for one in page if isinstance(one, Words)]


def test_two_pages_are_filled_alike() -> None:
    pieces = [line(f"L{number}") for number in range(13)]
    assert [len(said(page)) for page in stack(pieces, PAGE)] == [10, 3]
    assert [len(said(page)) for page in set_into(balanced(pieces, PAGE.height), (PAGE,))] == [7, 6]


def test_columns_of_one_page_are_filled_alike() -> None:
    pieces = [line(f"L{number}") for number in range(4)]
    assert [len(said(column)) for column in set_into(balanced(pieces, PAGE.height, 2), (PAGE,))] == [2, 2]


def test_what_is_whole_goes_to_the_next_page_unbroken() -> None:
    pieces = [*(line(f"a{number}") for number in range(7)), *whole(line(f"b{number}") for number in range(5))]
    assert [len(said(page)) for page in stack(pieces, PAGE)] == [7, 5]
    longer = [line("a"), *whole(line(f"b{number}") for number in range(12))]
    assert [len(said(page)) for page in stack(longer, PAGE)] == [10, 3]


def test_a_long_table_is_broken_in_the_middle_with_its_heading_again() -> None:
    rows = [[f"r{number}", "1"] for number in range(60)]
    pieces = [
        line("before", 6.0),
        *whole((heading("Table"), *table([Column("id"), Column("n")], rows, 8.0)), 3.0),
    ]
    pages = [said(page) for page in stack(pieces, PAGE)]
    assert all("id" in page for page in pages)
    assert min(sum(word.startswith("r") for word in page) for page in pages) >= 3
    assert sum(word.startswith("r") for page in pages for word in page) == 60


def test_a_heading_stays_with_what_it_heads_and_white_never_opens_a_page() -> None:
    pieces = [line("a", 9.8), space(0.5), heading("H"), line("b")]
    assert [said(page) for page in stack(pieces, PAGE)] == [["a"], ["H", "b"]]


@pytest.mark.parametrize("width", [3.0, 5.1, 7.7])
def test_no_cell_of_a_table_with_room_is_cut_short(width: float) -> None:
    cells = [f"{number / 64:.6f}" for number in range(200)]
    for count in (1, 2, 3):
        columns = [Column("x", "right", bold=True) for _ in range(count)]
        rows = [cells[first : first + count] for first in range(0, 198, count)]
        words = [word for piece in table(columns, rows, width) for word in said(piece.shapes)]
        assert not any("…" in word for word in words)


def test_the_widest_cell_is_whole_where_the_columns_fill_the_width() -> None:
    rows = [["F1 to F4", "9-1/64 in (9.0166)"] * 2]
    words = [
        word
        for piece in table([Column("a", bold=True), Column("b")] * 2, rows, 8.0)
        for word in said(piece.shapes)
    ]
    assert not any("…" in word for word in words)
