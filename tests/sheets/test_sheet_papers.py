"""Paper: the table against the standards, sizes as people write them, and the pages a paper makes."""

from __future__ import annotations

import pytest

from templates_engine.job.model import MarginsIn, PaperSize
from templates_engine.sheets.paper_pages import BAR_STRIP_IN, TITLE_STRIP_IN, pages_of
from templates_engine.trade.papers import PAPERS, PaperError, read_paper

# ISO 216, series A, trimmed sizes, millimetres; ANSI/ASME Y14.1, sizes A and B, inches. Both from memory.
ISO_216_MM = {"A4": (210, 297), "A3": (297, 420)}
ANSI_Y14_1_IN = {"letter": (8.5, 11.0), "tabloid": (11.0, 17.0)}
COMMON_PRACTICE_IN = {"legal": (8.5, 14.0)}  # common practice, no source


@pytest.mark.parametrize(("name", "size_mm"), ISO_216_MM.items())
def test_metric_papers_are_iso_216(name, size_mm):
    paper = read_paper(name)
    assert (paper.short_in * 25.4, paper.long_in * 25.4) == pytest.approx(size_mm, abs=1e-9)


@pytest.mark.parametrize(("name", "size_in"), (ANSI_Y14_1_IN | COMMON_PRACTICE_IN).items())
def test_inch_papers_are_ansi_y14_1(name, size_in):
    paper = read_paper(name)
    assert (paper.short_in, paper.long_in) == size_in


def test_every_paper_of_the_table_is_checked_above():
    assert {paper.name for paper in PAPERS} == {*ISO_216_MM, *ANSI_Y14_1_IN, *COMMON_PRACTICE_IN}


@pytest.mark.parametrize(
    ("text", "short_in", "long_in"),
    [
        ("Letter", 8.5, 11.0),
        ("a4", 210 / 25.4, 297 / 25.4),
        ("24 x 36 in", 24.0, 36.0),
        ("36 x 24 in", 24.0, 36.0),
        ("24 in x 36 in", 24.0, 36.0),
        ('24" x 36"', 24.0, 36.0),
        ("24x36", 24.0, 36.0),
        ("24 × 36 in", 24.0, 36.0),
        ("24 by 36 in", 24.0, 36.0),
        ("8-1/2 x 13 in", 8.5, 13.0),
        ("2 ft x 3 ft", 24.0, 36.0),
        ("610 x 914 mm", 610 / 25.4, 914 / 25.4),
        ("610 mm x 914 mm", 610 / 25.4, 914 / 25.4),
        ("610mm x 36 in", 610 / 25.4, 36.0),
        ("24 in roll", 24.0, None),
        ("610 mm roll", 610 / 25.4, None),
        ("36 roll", 36.0, None),
    ],
)
def test_paper_as_people_write_it(text, short_in, long_in):
    paper = read_paper(text)
    assert paper.short_in == pytest.approx(short_in, abs=1e-9)
    assert paper.long_in == (None if long_in is None else pytest.approx(long_in, abs=1e-9))


def test_bare_sizes_are_in_the_files_unit():
    assert read_paper("610 x 914", "mm").short_in == pytest.approx(610 / 25.4)
    assert read_paper("24 x 36 in", "mm").short_in == 24.0


@pytest.mark.parametrize(
    "text",
    [
        "", "   ", "A5", "foolscap", "x", "roll", " x 36 in", "24 x", "24 x 36 x 2 in", "24 in",
        "-24 x 36 in", "0 x 36 in", "24 x nan", "1e1 x 36 in", "24,5 x 36 in", "24 x 36 furlongs",
        "2 x 3 in", "3 in roll", "24 x 201 in", "300 in roll", "24 x 36 in" * 50, "roll 24 in",
        "24." + "0" * 25 + " x 36." + "0" * 25 + " in",  # a name too long to print on a sheet
        "tabloid extra", "24 x 36 mm",
    ],
)  # fmt: skip
def test_anything_else_is_refused_with_what_to_write(text):
    with pytest.raises(PaperError) as caught:
        read_paper(text)
    assert len(caught.value.message) < 200
    assert caught.value.remedy.startswith(("Write ", "Give ", "Is "))


def test_a_slip_is_answered_with_the_nearest_name():
    with pytest.raises(PaperError) as caught:
        read_paper("tabliod")
    assert caught.value.remedy.startswith('Is "tabloid" meant?')


LETTER = PaperSize("letter", 8.5, 11.0)
UNEVEN = MarginsIn(top_in=0.1, bottom_in=0.6, left_in=0.2, right_in=0.3)


def test_the_view_is_the_page_less_margins_and_strips():
    (upright,) = pages_of(LETTER, "portrait", UNEVEN)
    assert (upright.width_in, upright.height_in) == (8.5, 11.0)
    assert upright.view.left == pytest.approx(0.2 + BAR_STRIP_IN)
    assert upright.view.bottom == pytest.approx(0.6 + TITLE_STRIP_IN)
    assert upright.view.right == pytest.approx(8.2)
    assert upright.view.top == pytest.approx(10.9)


def test_margins_turn_with_the_paper_and_the_larger_of_a_pair_counts():
    (lying,) = pages_of(LETTER, "landscape", UNEVEN)
    assert (lying.width_in, lying.height_in) == (11.0, 8.5)
    assert lying.margins == MarginsIn(top_in=0.3, bottom_in=0.3, left_in=0.6, right_in=0.6)


def test_a_roll_is_cut_to_whole_eighths_and_never_shorter_than_a_cover_page():
    (lying,) = pages_of(PaperSize("24 in roll", 24.0, None), "landscape", UNEVEN)
    assert lying.width_in == 200.0
    cut = lying.cut_to(30.06, 10.0)
    assert cut.height_in == 24.0
    assert cut.width_in % 0.125 == 0
    assert 30.06 <= cut.view.width < 30.06 + 0.125
    assert lying.cut_to(2.0, 2.0).width_in == 11.0
