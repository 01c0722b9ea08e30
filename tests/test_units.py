"""Lengths as people write them, both ways; every refusal says what to write instead."""

from __future__ import annotations

import math
import re
import subprocess
import sys
from fractions import Fraction
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from templates_engine.units import (
    MM_PER_INCH,
    TAPE_DENOMINATORS,
    LengthError,
    LengthFormat,
    Unit,
    exact,
    feet_inches,
    nearest_graduation,
    read_length,
    read_reading,
    tape,
    to_mm,
)

# --- reading ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("2", 2),
        ("2-1/2", 2.5),
        ("2 1/2", 2.5),
        ("2 1/2 in", 2.5),
        ("2-1/2in", 2.5),
        ("2 1 / 2 in", 2.5),
        ('2.5"', 2.5),
        ("2.5”", 2.5),
        ("2.5″", 2.5),
        ("2.5''", 2.5),
        ("2.5 inch", 2.5),
        ("2.5 inches", 2.5),
        ("2.5 In.", 2.5),
        (".5", 0.5),
        ("0.5", 0.5),
        ("0-1/2", 0.5),
        ("4/8", 0.5),
        ("1/64", 1 / 64),
        ("63/64 in", 63 / 64),
        ("1' 6-1/2\"", 18.5),
        ("1'-6-1/2\"", 18.5),
        ("1' - 6 1/2\"", 18.5),
        ("1’ 6-1/2”", 18.5),
        ("1′ 6-1/2″", 18.5),
        ("1'6\"", 18),
        ("1' 6", 18),
        ("1'-6", 18),
        ("1 ft 6 in", 18),
        ("1 ft. 6 in.", 18),
        ("1 foot 6 inches", 18),
        ("2 feet", 24),
        ("1.5 ft", 18),
        ("1-1/2 ft", 18),
        ("1/2 ft", 6),
        ("1.5'", 18),
        ("0' 6\"", 6),
        ("3' 0\"", 36),
        ("1' 1/2\"", 12.5),
        ("1'-1/2\"", 12.5),
        ("1' 11.99\"", 23.99),
        ("63.5 mm", 2.5),
        ("63.5mm", 2.5),
        ("6.35 cm", 2.5),
        ("0.0635 m", 2.5),
        ("63.5 millimetres", 2.5),
        ("63.5 millimeters", 2.5),
        ("25.4 MM", 1),
        ("2½", 2.5),
        ("2 ½ in", 2.5),
        ("2-½", 2.5),
        ("½", 0.5),
        ("⅞ in", 0.875),
        ("1'-6½\"", 18.5),
        ("2\u00a01/2\u00a0in", 2.5),
        ("2\u20131/2", 2.5),  # en dash
        ("2\u20111/2", 2.5),  # non-breaking hyphen
        ("2 1\u20442", 2.5),  # fraction slash
        ("\u20092-1/2\u202fin ", 2.5),
        ("1200 in", 1200),
        ("100'", 1200),
    ],
)
def test_reads(text: str, inches: float) -> None:
    assert read_length(text) == inches


@pytest.mark.parametrize(
    ("text", "unit", "inches"),
    [
        ("63.5", "mm", 2.5),
        ("2.5", "in", 2.5),
        ("2-1/2 in", "mm", 2.5),
        ("63.5 mm", "in", 2.5),
        ("1' 6", "mm", 18),
    ],
)
def test_a_bare_number_is_in_the_default_unit(text: str, unit: Unit, inches: float) -> None:
    assert read_length(text, unit) == inches


@pytest.mark.parametrize(
    ("text", "wrong", "instead"),
    [
        ("", "empty", "2-1/2 in"),
        ("   ", "empty", "2-1/2 in"),
        ("1,5 in", "comma", "1.5 in"),
        ("1,200", "comma", "1200"),
        ("1,200.5", "comma", "1200.5"),
        ("1,200,000", "comma", "1200000 without"),
        ("1,125", "comma", "Write 1.125, 1-1/8 or 1125 if thousands are meant."),
        ("1,250 in", "comma", "Write 1.250 in or 1-1/4 in."),  # 1250 in would be too large for anything
        ("4,5", "comma", "Write 4.5 or 4-1/2."),
        ("0,125 in", "comma", "Write 0.125 in or 1/8 in."),
        ("1,3 in", "comma", "Write 1.3 in."),  # on no tape's mark
        ("1,200 mm", "comma", "Write 1200 mm if thousands are meant or 1.200 mm."),
        ("9" * 40 + ",125", "comma", "9.125."),
        (",5", "comma", "2-1/2 in"),
        ("1 1/2'", "wrong mark", "Write 1-1/2 in, or 1-1/2 ft (which is 18 in)."),
        ("1-1/2'", "wrong mark", "Write 1-1/2 in,"),
        ("2½′", "wrong mark", "Write 2-1/2 in,"),
        ("1/2'", "wrong mark", "1/2 ft (which is 6 in)"),
        ("1,2,3", "comma", "2-1/2 in"),
        ("nan", "not a number", "2-1/2 in"),
        ("NaN in", "not a number", "2-1/2 in"),
        ("inf", "not a number", "2-1/2 in"),
        ("-infinity", "not a number", "2-1/2 in"),
        ("1e3", "exponent", "1000"),
        ("1.5E-2 in", "exponent", "1000"),
        ("2 in 3/8", "fraction after the unit", "2-3/8 in"),
        ('2" 3/8', "fraction after the unit", "2-3/8 in"),
        ("3/0", "zero", "2-1/2 in"),
        ("0/8", "fraction of zero", "Write 0."),
        ("1 9/8", "not less than one", "2-1/8 in"),
        ("11/2", "not less than one", "5-1/2 in"),
        ("21/2 in", "not less than one", "10-1/2 in"),
        ("8/8", "not less than one", "1 in"),
        ("1/3", "no tape has", "0.3333"),
        ("2-1/10", "no tape has", "2.1"),
        ("2⅓", "no tape has", "2.3333"),
        ("1/128", "no tape has", "0.0078"),
        ("1/2 mm", "metric", "0.5 mm"),
        ("2-1/2 cm", "metric", "2.5 cm"),
        ("2 3", "two numbers", "2-1/2 in"),
        ("2-3", "two numbers", "2-1/2 in"),
        ("1.5.2", "two numbers", "2-1/2 in"),
        ("1/2 1/2", "two numbers", "2-1/2 in"),
        ("2.5 1/2", "two numbers", "2-1/2 in"),
        ("½½", "two numbers", "2-1/2 in"),
        ("½2", "two numbers", "2-1/2 in"),
        ("⅓2", "no tape has", "0.3333"),  # must not come to 1/32
        ("⅙4", "no tape has", "0.1667"),  # must not come to 1/64
        ("2 - 1/2", "subtraction", "2-1/2"),
        ("2 -1/2", "subtraction", "2-1/2"),
        ("1' 14\"", "12 inches or more", "26 in"),
        ("1' 12\"", "12 inches or more", "24 in"),
        ("1' 14.3\"", "12 inches or more", "26.3 in"),
        ("1.5' 6\"", "part of a foot", "1' 6-1/2\""),
        ("1/2' 6\"", "part of a foot", "1' 6-1/2\""),
        ("1' 6 mm", "after feet", "1' 6-1/2\""),
        ("1' 6'", "after feet", "1' 6-1/2\""),
        ("6\" 1'", "goes on", "only feet"),
        ("2 in 5 mm", "goes on", "one length"),
        ("1 m 20 cm", "goes on", "one length"),
        ("2 in in", "two units", "one unit"),
        ("2 yd", "unknown unit 'yd'", "in, ft, mm, cm or m"),
        ("2 inchs", "unknown unit 'inchs'", "in, ft, mm, cm or m"),
        ("in", "no number", "2-1/2 in"),
        ('"', "no number", "2-1/2 in"),
        ("-", "no number", "2-1/2 in"),
        ("--2", "no number", "2-1/2 in"),
        ("about 2", "no number", "2-1/2 in"),
        ("2.", "point", "2.0"),
        ("1/2/4", "'/'", "2-1/2 in"),
        ("2+1/2", "'+'", "2-1/2 in"),
        ("+2", "'+'", "2-1/2 in"),
        ("2 x 4", "more than one length", "without x"),
        ("2²", "'²'", "2-1/2 in"),
        ("٢", "'٢'", "2-1/2 in"),  # an Arabic two: int() would read it
        ("2*3", "'*'", "2-1/2 in"),
        ("0", "zero", "more than zero"),
        ("0 mm", "zero", "more than zero"),
        ("-2", "negative", "more than zero"),
        ("\u22122", "negative", "more than zero"),  # minus sign
        ("-2-1/2 in", "negative", "more than zero"),
        ("1200.001", "too large", "1200 in (100 ft, 30480 mm)"),
        ("31 m", "too large", "1200 in"),
        ("9" * 59, "too large", "1200 in"),
        ("9" * 5000, "too long", "2-1/2 in"),
        ("0.0009", "too small", "0.001 in"),
        ("0.000001 mm", "too small", "0.001 in"),
    ],
)
def test_refuses_with_what_to_write_instead(text: str, wrong: str, instead: str) -> None:
    with pytest.raises(LengthError) as refused:
        read_length(text)
    assert wrong in refused.value.message
    assert instead in refused.value.remedy
    assert refused.value.message.endswith(".")
    assert refused.value.remedy.endswith((".", "?"))
    assert len(str(refused.value)) < 300


def test_a_fraction_is_refused_where_millimetres_are_the_default() -> None:
    with pytest.raises(LengthError) as refused:
        read_length("2-1/2", "mm")
    assert "2.5 mm" in refused.value.remedy
    assert "2-1/2 in" in refused.value.remedy


def test_zero_and_negative_where_they_make_sense() -> None:
    assert read_length("0", allow="zero") == 0
    assert read_length("-2-1/2", allow="any") == -2.5
    assert read_length("- 1' 6\"", allow="any") == -18
    assert read_length("-63.5 mm", allow="any") == -2.5
    with pytest.raises(LengthError, match="negative"):
        read_length("-1/64", allow="zero")
    with pytest.raises(LengthError, match="too large"):
        read_length("-1201", allow="any")


def test_the_largest_allowed_is_allowed() -> None:
    assert read_length("1/2", most_in=0.5) == 0.5
    assert read_length("12.7 mm", most_in=0.5) == 0.5
    with pytest.raises(LengthError, match=re.escape("at most 0.5 in (12.7 mm)")):
        read_length("33/64", most_in=0.5)


def _answer(text: str, allow: Literal["positive", "any"] = "positive") -> float | LengthError:
    try:
        return read_length(text, allow=allow)
    except LengthError as refused:
        return refused


@given(st.text(max_size=30))
def test_any_text_is_a_length_or_refused_in_words(text: str) -> None:
    answer = _answer(text, allow="any")
    assert answer.remedy if isinstance(answer, LengthError) else abs(answer) <= 1200


@given(st.text(alphabet="0123456789 /.-'\"½⅜infmtc,", max_size=14))
def test_any_text_of_length_signs_is_a_length_or_refused_in_words(text: str) -> None:
    answer = _answer(text)
    assert answer.remedy if isinstance(answer, LengthError) else 0 < answer <= 1200


# --- there and back -----------------------------------------------------------------------------------------

SIXTY_FOURTHS = st.integers(min_value=1, max_value=1200 * 64)


@given(SIXTY_FOURTHS)
def test_tape_words_read_back_the_same(count: int) -> None:
    assert read_length(tape(count / 64, 64)) == count / 64


@given(SIXTY_FOURTHS)
def test_feet_and_inches_read_back_the_same(count: int) -> None:
    assert read_length(feet_inches(count / 64, 64)) == count / 64


@given(st.integers(min_value=-1200 * 64, max_value=1200 * 64))
def test_signed_tape_words_read_back_the_same(count: int) -> None:
    assert read_length(tape(count / 64, 64), allow="any") == count / 64


@given(st.integers(min_value=10, max_value=12_000_000))
def test_decimals_read_back_the_same(count: int) -> None:
    inches = float(Fraction(count, 10_000))
    assert read_length(exact(inches)) == inches


@given(st.integers(min_value=10, max_value=3_048_000))
def test_millimetres_read_back_the_same(hundredths: int) -> None:
    inches = float(Fraction(hundredths, 2540))
    text = LengthFormat("mm").say(inches)
    assert read_length(text) == inches
    assert read_length(text.removesuffix(" mm"), "mm") == inches


@given(st.floats(min_value=0.1, max_value=1000), st.sampled_from(TAPE_DENOMINATORS))
def test_the_mark_is_the_nearest_one(inches: float, denominator: int) -> None:
    mark = read_length(tape(inches, denominator), allow="zero")
    assert abs(mark - inches) <= 0.5 / denominator + 1e-9
    assert (mark * denominator).is_integer()


@given(st.floats(min_value=-1000, max_value=1000))
def test_a_layout_and_its_mirror_image_round_alike(inches: float) -> None:
    assert nearest_graduation(-inches) == -nearest_graduation(inches)
    assert exact(-inches).removeprefix("-") == exact(inches).removeprefix("-")


# --- saying -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("inches", "words"),
    [
        (0, "0"),
        (0.01, "0"),
        (-0.01, "0"),
        (0.875, "7/8"),
        (2.8125, "2-13/16"),
        (2.83, "2-13/16"),
        (12, "12"),
        (-0.0625, "-1/16"),
        (-2.5, "-2-1/2"),
        (0.03125, "1/16"),  # a tie goes away from zero
        (-0.03125, "-1/16"),
        (0.09375, "1/8"),
        (0.706 / 2 + 0.1 + 0.01575, "1/2"),  # 15/32, a tie but for the noise of float sums
        (0.99, "1"),
    ],
)
def test_tape(inches: float, words: str) -> None:
    assert tape(inches) == words


def test_tape_in_other_graduations() -> None:
    assert tape(2.83, 32) == "2-27/32"
    assert tape(2.83, 64) == "2-53/64"
    with pytest.raises(ValueError, match="1/10 in marks"):
        tape(2.83, 10)


@pytest.mark.parametrize("inches", [math.nan, math.inf, -math.inf])
def test_what_is_no_length_is_never_said(inches: float) -> None:
    for say in (tape, exact, feet_inches, LengthFormat("in").say, LengthFormat("mm").mark):
        with pytest.raises(ValueError, match="no length"):
            say(inches)


@pytest.mark.parametrize(
    ("inches", "words"),
    [
        (38.5, "3'-2-1/2\""),
        (11.5, '11-1/2"'),
        (11.99, "1'-0\""),
        (12, "1'-0\""),
        (36.01, "3'-0\""),
        (-38.5, "-3'-2-1/2\""),
        (0, '0"'),
        (12.5, "1'-1/2\""),
    ],
)
def test_feet_inches(inches: float, words: str) -> None:
    assert feet_inches(inches) == words


@pytest.mark.parametrize(
    ("inches", "words"),
    [
        (2.8125, "2.8125"),
        (1.375, "1.375"),
        (0.706, "0.706"),
        (12.0, "12"),
        (1.00005, "1.0001"),
        (-0.00001, "0"),
        (-1.5, "-1.5"),
        (100.0, "100"),
        (1 / 64, "0.0156"),
    ],
)
def test_exact(inches: float, words: str) -> None:
    assert exact(inches) == words


def test_speech_in_inches() -> None:
    lengths = LengthFormat("in")
    assert lengths.mark(2.8) == "2-13/16"
    assert lengths.exact(2.8125) == "2.8125"
    assert lengths.say(2.5) == "2-1/2 in"
    assert lengths.say(2.8125) == "2-13/16 in"
    assert lengths.say(2.8) == "2-13/16 in (2.8)"
    assert lengths.say(2.81254) == "2-13/16 in"
    assert lengths.say(2.8126) == "2-13/16 in (2.8126)"
    assert LengthFormat("in", 32).mark(2.84) == "2-27/32"


def test_speech_in_millimetres() -> None:
    lengths = LengthFormat("mm")
    assert lengths.mark(2.8125) == "71.5"
    assert lengths.mark(2.5) == "63.5"
    assert lengths.mark(100 / 25.4) == "100"
    assert lengths.exact(2.8125) == "71.44"
    assert lengths.say(2.8125) == "71.44 mm"
    assert lengths.say(2.5) == "63.5 mm"


# --- pint ---------------------------------------------------------------------------------------------------


def test_one_inch_is_the_same_whoever_converts() -> None:
    assert MM_PER_INCH == 25.4
    assert read_length("25.4 mm") == 1.0
    assert to_mm(read_length("7/8")) == pytest.approx(22.225)


def test_pint_stays_away_until_a_metric_unit_appears() -> None:
    program = (
        "import sys; from templates_engine.units import LengthFormat, read_length, to_mm;"
        "read_length('1 ft 6 in'); LengthFormat('mm').say(2.5); to_mm(1.0); assert 'pint' not in sys.modules;"
        "read_length('5 mm'); assert 'pint' in sys.modules"
    )
    subprocess.run([sys.executable, "-c", program], check=True)


@pytest.mark.parametrize(
    ("text", "unit", "length_in", "is_metric", "step_in"),
    [
        ("6-61/64", "in", 6 + 61 / 64, False, None),
        ("7", "in", 7.0, False, None),
        ("6.95", "in", 6.95, False, 0.01),
        ("176.6 mm", "in", 176.6 / 25.4, True, 0.1 / 25.4),
        ("176", "mm", 176 / 25.4, True, 1 / 25.4),
        ("17.66 cm", "in", 176.6 / 25.4, True, 0.1 / 25.4),
        ("6-61/64 in", "mm", 6 + 61 / 64, False, None),
        ("1' 6.5", "mm", 18.5, False, 0.1),
        ("1.5 ft", "in", 18.0, False, 1.2),
    ],
)
def test_a_reading_of_a_rule_says_its_side_and_how_finely_it_was_read(
    text: str, unit: Unit, length_in: float, is_metric: bool, step_in: float | None
) -> None:
    read = read_reading(text, unit)
    assert read.length_in == pytest.approx(length_in)
    assert read.is_metric is is_metric
    assert read.step_in == (None if step_in is None else pytest.approx(step_in))
