"""What becomes of words without room: the needed ones stand where least is in the way, long ones break."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfbase.ttfonts import TTFont, pdfmetrics

from templates_engine.drawing.words import width_in, wrapped
from templates_engine.drawing.words.ink import Ink, SheetInk, stroke
from templates_engine.drawing.words.placer import settle
from templates_engine.drawing.words.requests import LabelRequest, Priority, Spot
from templates_engine.geometry import Rect
from templates_engine.resources import folder

TIGHT, BARRED, OVER_BAR = Rect(0, 0, 1, 0.2), Rect(3, 0, 4, 0.2), Rect(6, 0, 7, 0.2)


def asked(key: str, *places: Rect, must_stand: bool = True, need: Priority = Priority.HOLE) -> LabelRequest:
    return LabelRequest((key,), need, lambda: [Spot(place, (key,)) for place in places], must_stand)


def crowded() -> SheetInk:
    """A line through the first place, two through the second, a scale bar on the third."""
    ink = SheetInk()
    ink.add(stroke(Rect(0, 0.1, 1, 0.1), Ink.LINE))
    for rise in (0.05, 0.15):
        ink.add(stroke(Rect(3, rise, 4, rise), Ink.LINE))
    ink.add(stroke(OVER_BAR, Ink.BAR))
    return ink


@pytest.mark.parametrize("places", [(OVER_BAR, BARRED, TIGHT), (BARRED, TIGHT, OVER_BAR)])
def test_what_must_stand_stands_where_the_least_is_in_the_way(places: tuple[Rect, ...]) -> None:
    (placed,) = settle([asked("A1", *places)], crowded())
    assert placed.spot.rect == TIGHT


def test_what_need_not_stand_stays_away_and_takes_no_room() -> None:
    later = asked("later", TIGHT, must_stand=False, need=Priority.RULER)
    ink = SheetInk()
    first, second = asked("A1", TIGHT), asked("A2", BARRED)
    placed = settle([later, second, first], ink)
    assert [one.request.key for one in placed] == [("A2",), ("A1",)]


def test_one_that_must_stand_and_has_one_place_moves_another() -> None:
    """A1 came first and took the only place of A2; it finds room at its own second place."""
    placed = settle([asked("A1", TIGHT, BARRED), asked("A2", TIGHT)], SheetInk())
    assert {one.request.key[0]: one.spot.rect for one in placed} == {"A1": BARRED, "A2": TIGHT}


def test_a_chain_that_ends_nowhere_leaves_all_as_it_was() -> None:
    """Three for two places: the first two keep theirs, the third stands over the one it likes best."""
    ways = [asked(key, TIGHT, BARRED) for key in ("A1", "A2", "A3")]
    placed = {one.request.key[0]: one.spot.rect for one in settle(ways, SheetInk())}
    assert (placed["A1"], placed["A2"]) == (TIGHT, BARRED)
    assert placed["A3"] in (TIGHT, BARRED)


LETTERS = st.text("abcMWil01/- ", min_size=1, max_size=60)


@given(LETTERS, st.sampled_from([0.6, 1.0, 2.5]), st.sampled_from([9.0, 14.0]), st.booleans())
def test_broken_lines_hold_all_that_was_said_and_fit(
    text: str, room_in: float, size: float, bold: bool
) -> None:
    """Widths by reportlab's own reading of the font, where no fraction is set."""
    lines = wrapped(text, size, room_in, bold)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    name = f"measured-{bold}"
    file = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
    pdfmetrics.registerFont(TTFont(name, str(folder("fonts") / file)))
    for line in lines:
        assert width_in(line, size, bold) <= room_in + 1e-9
        if "/" not in line:
            assert stringWidth(line, name, size) / 72 <= room_in + 1e-6


def test_a_word_longer_than_its_room_is_broken_where_it_must_be() -> None:
    lines = wrapped("see WIREWAY-WITH-A-LONG-MARK", 9, 0.8)
    assert lines[0] == "see"
    assert len(lines) > 3
    assert "".join(lines[1:]) == "WIREWAY-WITH-A-LONG-MARK"


@pytest.mark.parametrize(("text", "as_fraction"), [("13/16", True), ("17/16", False), ("3/0", False)])
def test_only_tape_fractions_under_one_are_set(text: str, as_fraction: bool) -> None:
    from templates_engine.drawing.words import set_words

    runs = set_words(f"{text} in")
    assert (not isinstance(runs[0], str)) == as_fraction
    if as_fraction:
        assert Fraction(runs[0].numerator, runs[0].denominator) == Fraction(13, 16)
