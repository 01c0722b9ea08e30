"""Turns lengths as people write them into inches, and inches into words a tape can be set to.

Leaves to pint the size of a metric unit, never the text; leaves to others what a length is for.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction
from functools import cache, lru_cache
from typing import Literal

from templates_engine.values import Struct

Unit = Literal["in", "mm"]

TAPE_DENOMINATORS = (2, 4, 8, 16, 32, 64)
MM_PER_INCH = 25.4
"""Exact by definition; the pint registry below carries the same, and a test holds them together."""

_LONGEST_TEXT = 60
_LEAST_IN = Fraction(1, 1000)


class LengthError(ValueError):
    """Text that is no length, with ``message`` (what is wrong) and ``remedy`` (what to write instead)."""

    def __init__(self, message: str, remedy: str) -> None:
        self.message = message
        self.remedy = remedy
        super().__init__(f"{message} {remedy}")


# --- inches to words ----------------------------------------------------------------------------------------


def _half_away(value: Fraction) -> int:
    """The nearest whole number; a half goes away from zero, so that a layout and its mirror image agree."""
    size = (2 * abs(value) + 1) // 2
    return int(size if value >= 0 else -size)


def _cleaned(inches: float) -> Fraction:
    """The length without the noise of float sums, so that a tie is a tie. Raises ValueError if not finite."""
    if not math.isfinite(inches):
        raise ValueError(f"{inches} is no length")
    return Fraction(round(inches, 9))


def nearest_graduation(inches: float, denominator: int = 16) -> Fraction:
    """The tape graduation nearest to a length, inches; a tie goes away from zero."""
    if denominator not in (1, *TAPE_DENOMINATORS):
        raise ValueError(f"a tape has no 1/{denominator} in marks")
    return Fraction(_half_away(_cleaned(inches) * denominator), denominator)


def _mixed(value: Fraction) -> str:
    sign = "-" if value < 0 else ""
    whole, rest = divmod(abs(value), 1)
    if not rest:
        return f"{sign}{whole}"
    part = f"{rest.numerator}/{rest.denominator}"
    return f"{sign}{whole}-{part}" if whole else f"{sign}{part}"


@lru_cache(maxsize=10_000)  # page, tables and findings say the same lengths
def tape(inches: float, denominator: int = 16) -> str:
    """The nearest graduation in lowest terms: "2-13/16", "7/8", "0", "-1/16"."""
    return _mixed(nearest_graduation(inches, denominator))


def feet_inches(inches: float, denominator: int = 16) -> str:
    """The nearest graduation in feet and inches, 3'-2-1/2"; under a foot in inches alone, 11-1/2"."""
    value = nearest_graduation(inches, denominator)
    sign = "-" if value < 0 else ""
    feet, rest = divmod(abs(value), 12)
    return f"{sign}{feet}'-{_mixed(rest)}\"" if feet else f'{sign}{_mixed(rest)}"'


def _decimal(value: Fraction, places: int) -> str:
    units = _half_away(value * 10**places)
    sign = "-" if units < 0 else ""
    whole, rest = divmod(abs(units), 10**places)
    return f"{sign}{whole}.{rest:0{places}d}".rstrip("0").rstrip(".")


def exact(inches: float) -> str:
    """Decimal inches to at most four places: "2.8125", "0.706", "12"."""
    return _decimal(_cleaned(inches), 4)


def to_mm(inches: float) -> float:
    """Inches as millimetres."""
    return inches * MM_PER_INCH


def _in_figures(value: Fraction) -> str:
    """A number as a person would write it: on a tape's graduation as a fraction, else as a decimal."""
    return _mixed(value) if value.denominator in (1, *TAPE_DENOMINATORS) else _decimal(value, 4)


def _mm(inches: float) -> Fraction:
    """Millimetres without the noise of float sums; cleaned as millimetres, so that a tie there is a tie."""
    return _cleaned(to_mm(inches))


class LengthFormat(Struct, frozen=True):
    """How lengths are said to the people of one job: its unit, and for inches the tape's graduation."""

    unit: Unit
    denominator: int = 16

    def mark(self, inches: float) -> str:
        """What to set a tape to, without the unit: "2-13/16", or to the nearest half millimetre "71.5"."""
        if self.unit == "mm":
            return _decimal(Fraction(_half_away(_mm(inches) * 2), 2), 1)
        return tape(inches, self.denominator)

    def exact(self, inches: float) -> str:
        """The decimal without the unit: inches to four places, millimetres to two."""
        return _decimal(_mm(inches), 2) if self.unit == "mm" else exact(inches)

    def drill(self, inches: float) -> str:
        """A drill or cutter by its own size, never rounded to a tape mark: "25/32", "1.2", "22.23"."""
        return self.exact(inches) if self.unit == "mm" else _in_figures(_cleaned(inches))

    def say(self, inches: float) -> str:
        """The length in a sentence: "2-1/2 in", "2-13/16 in (2.8)" where the mark is rounded, "71.44 mm"."""
        return self._said(inches, self.denominator)

    def say_to_64ths(self, inches: float) -> str:
        """As ``say``, but as fine as a steel rule reads: "31-27/64 in (31.4253)"."""
        return self._said(inches, TAPE_DENOMINATORS[-1])

    def _said(self, inches: float, denominator: int) -> str:
        return f"{self.exact(inches)} mm" if self.unit == "mm" else _inches_said(inches, denominator)


@lru_cache(maxsize=10_000)
def _inches_said(inches: float, denominator: int) -> str:
    mark = nearest_graduation(inches, denominator)
    is_rounded = abs(mark - _cleaned(inches)) >= Fraction(1, 20000)
    return f"{_mixed(mark)} in ({exact(inches)})" if is_rounded else f"{_mixed(mark)} in"


# --- words to inches ----------------------------------------------------------------------------------------

_INCH, _FOOT = "in", "ft"
_UNIT_WORDS = {
    '"': _INCH, "in": _INCH, "inch": _INCH, "inches": _INCH,
    "'": _FOOT, "ft": _FOOT, "foot": _FOOT, "feet": _FOOT,
    "mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
}  # fmt: skip
_PINT_NAMES = {"mm": "millimetre", "cm": "centimetre", "m": "metre"}

_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6",
    "⅐": "1/7", "⅑": "1/9", "⅒": "1/10",
}  # fmt: skip
_SAME_SIGNS = str.maketrans(
    dict.fromkeys("\u00a0\u2002\u2003\u2007\u2008\u2009\u200a\u202f\t", " ")
    | dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212", "-")
    | dict.fromkeys("”“″‟", '"')
    | dict.fromkeys("’‘′‛", "'")
    | dict.fromkeys("\u2044\u2215\uff0f", "/")
)
_TOKEN = re.compile(
    r"""\s*(?:
        (?P<fraction>[0-9]+\s*/\s*[0-9]+)
      | (?P<decimal>[0-9]*\.[0-9]+)
      | (?P<whole>[0-9]+)
      | (?P<unit>['"]|[a-z]+\.?)
      | (?P<hyphen>-)
    )""",
    re.VERBOSE | re.IGNORECASE | re.ASCII,
)
_FEET_AND_INCHES = "Write whole feet and then inches: 1' 6-1/2\"."
_HOW = "Write a length like 2-1/2 in, 2.5 in, 1' 6-1/2\" or 63.5 mm."


class _Token(Struct, frozen=True):
    kind: str
    text: str
    spaced: bool
    """Whether white space stands before it."""


def read_length(
    text: str,
    default_unit: Unit = "in",
    *,
    allow: Literal["positive", "zero", "any"] = "positive",
    most_in: float = 1200.0,
) -> float:
    """A length as people write it, in inches; a bare number is in ``default_unit``.

    ``allow`` says whether zero or negative lengths make sense here; ``most_in`` is the largest that does.
    Raises LengthError with what to write instead.
    """
    value = _Reader(text, default_unit, most_in).read()
    _refuse_senseless(text, value, allow, most_in)
    return float(value)


class RuleReading(Struct, frozen=True):
    """What a rule read, as it was written."""

    length_in: float
    is_metric: bool
    """Whether the metric side of the rule was read."""
    step_in: float | None
    """What one step of its last figure is worth; None for a fraction or whole inches, whose last figure does
    not say how fine the rule was read."""


def read_reading(text: str, default_unit: Unit = "in", *, most_in: float = 1200.0) -> RuleReading:
    """What a rule read, with its unit and how finely it was written; else like ``read_length``."""
    reader = _Reader(text, default_unit, most_in)
    value = reader.read()
    _refuse_senseless(text, value, "positive", most_in)
    return RuleReading(float(value), *reader.fineness())


def _refuse_senseless(text: str, value: Fraction, allow: str, most_in: float) -> None:
    said = _quoted(text)
    if value < 0 and allow != "any":
        least = "zero or more" if allow == "zero" else "more than zero"
        raise LengthError(f"{said} is negative.", f"This length must be {least}.")
    if value == 0 and allow == "positive":
        raise LengthError(f"{said} is zero.", "This length must be more than zero.")
    if abs(value) > _cleaned(most_in):
        feet = f"{exact(most_in / 12)} ft, " if most_in >= 24 else ""
        longest = f"{exact(most_in)} in ({feet}{_decimal(_mm(most_in), 1)} mm)"
        raise LengthError(f"{said} is too large for this.", f"Write at most {longest}; is the unit right?")
    if 0 < abs(value) < _LEAST_IN:
        raise LengthError(f"{said} is too small to mark.", "Write at least 0.001 in; is the unit right?")


def _quoted(text: str) -> str:
    short = text if len(text) <= _LONGEST_TEXT else text[: _LONGEST_TEXT - 3] + "..."
    return f"“{short}”" if "'" in short else f"'{short}'"


class _Reader:
    """Reads one length; every way out that is not a length raises LengthError."""

    def __init__(self, text: str, default_unit: Unit, most_in: float) -> None:
        self.said = _quoted(text)
        self.default_unit = default_unit
        self.most_in = most_in
        self.plain = _plain(text)

    def read(self) -> Fraction:
        """Signed inches, exact."""
        self._refuse_by_look()
        tokens = self._tokens()
        negative = tokens[0].kind == "hyphen"
        if negative:
            tokens = tokens[1:]
        size = self._parts(tokens)
        return -size if negative else size

    def fineness(self) -> tuple[bool, float | None]:
        """Whether a length that could be read is metric, and what a step of its last figure is worth."""
        tokens = self._tokens()
        units = [self._unit(token.text) for token in tokens if token.kind == "unit"]
        has_own_unit = tokens[-1].kind == "unit"
        unit = units[-1] if has_own_unit else _INCH if units else self.default_unit
        is_metric = unit not in (_INCH, _FOOT)
        last = [token for token in tokens if token.kind in ("whole", "decimal", "fraction")][-1]
        if last.kind == "fraction" or (last.kind == "whole" and not is_metric):
            return is_metric, None
        size = _inches_per(unit) if is_metric else 12 if unit == _FOOT else 1
        return is_metric, float(size / Fraction(10) ** len(last.text.partition(".")[2]))

    def _refuse_by_look(self) -> None:
        plain = self.plain
        if not plain:
            raise LengthError("The length is empty.", _HOW)
        if len(plain) > _LONGEST_TEXT:
            raise LengthError(f"{self.said} is too long to be a length.", _HOW)
        if re.fullmatch(r"[+-]?(nan|inf|infinity|∞)( ?[a-z\"']+)?", plain, re.IGNORECASE):
            raise LengthError(f"{self.said} is not a number.", _HOW)
        if "," in plain:
            raise LengthError(
                f"{self.said} has a comma.", without_comma(plain, self.default_unit, self.most_in)
            )
        if re.search(r"[0-9.]e[+-]?[0-9]", plain, re.IGNORECASE):
            raise LengthError(f"{self.said} has an exponent.", "Write the number out: 1000, not 1e3.")

    def _tokens(self) -> list[_Token]:
        tokens: list[_Token] = []
        place = 0
        while place < len(self.plain):
            match = _TOKEN.match(self.plain, place)
            if match is None or match.lastgroup is None:
                raise self._stray(self.plain[place:].lstrip()[:1])
            word = match[match.lastgroup]
            tokens.append(_Token(match.lastgroup, word, match.start(match.lastgroup) > place))
            place = match.end()
        return tokens

    def _stray(self, sign: str) -> LengthError:
        if sign == ".":
            return LengthError(f"{self.said} has a point with no figures after it.", "Write 2.0 or 2, not 2.")
        return LengthError(f"{self.said} has a '{sign}' that no length has.", _HOW)

    def _parts(self, tokens: list[_Token]) -> Fraction:
        """Number, unit, and after feet a second number with inches."""
        number, unit, rest = self._part(tokens)
        if unit != _FOOT or not rest:
            self._refuse_rest(rest, unit)
            return self._in_inches(number, unit)
        if not isinstance(number, int):
            raise LengthError(f"{self.said} has a part of a foot before inches.", _FEET_AND_INCHES)
        if rest[0].kind == "hyphen":
            rest = rest[1:]
        inches, inch_unit, rest = self._part(rest)
        if inch_unit not in (None, _INCH):
            raise LengthError(f"{self.said} has {inch_unit} after feet.", _FEET_AND_INCHES)
        self._refuse_rest(rest, _INCH)
        if inches >= 12:
            total = _in_figures(Fraction(number * 12 + inches))
            raise LengthError(
                f"{self.said} has 12 inches or more after the feet.",
                f"Write the inches under 12, or {total} in if the sum is meant.",
            )
        return Fraction(number * 12 + inches)

    def _part(self, tokens: list[_Token]) -> tuple[int | Fraction, str | None, list[_Token]]:
        """One number, its unit if one stands there, and what is left; an ``int`` only where it is whole."""
        number, rest = self._number(tokens)
        if rest and rest[0].kind == "unit":
            self._refuse_fraction_of_foot_mark(tokens[: len(tokens) - len(rest)], number, rest)
            return number, self._unit(rest[0].text), rest[1:]
        return number, None, rest

    def _refuse_fraction_of_foot_mark(
        self, number_tokens: list[_Token], number: int | Fraction, rest: list[_Token]
    ) -> None:
        """A fraction before a lone foot mark: no tape says 1-1/2', but a hand slips from 1-1/2\"."""
        if rest[0].text != "'" or len(rest) > 1 or number_tokens[-1].kind != "fraction":
            return
        figures, inches = _mixed(Fraction(number)), _mixed(Fraction(number) * 12)
        raise LengthError(
            f"{self.said} may be feet, or inches with the wrong mark.",
            f"Write {figures} in, or {figures} ft (which is {inches} in).",
        )

    def _number(self, tokens: list[_Token]) -> tuple[int | Fraction, list[_Token]]:
        if not tokens or tokens[0].kind not in ("whole", "decimal", "fraction"):
            raise LengthError(f"{self.said} has no number where one should stand.", _HOW)
        first, rest = tokens[0], tokens[1:]
        if first.kind == "decimal":
            return Fraction(first.text if first.text[0] != "." else "0" + first.text), rest
        if first.kind == "fraction":
            return self._fraction(first.text, whole=None), rest
        return self._whole_and_fraction(int(first.text), rest)

    def _whole_and_fraction(self, whole: int, rest: list[_Token]) -> tuple[int | Fraction, list[_Token]]:
        if rest and rest[0].kind == "fraction":
            return whole + self._fraction(rest[0].text, whole), rest[1:]
        if len(rest) > 1 and rest[0].kind == "hyphen" and rest[1].kind == "fraction":
            hyphen, fraction = rest[:2]
            if hyphen.spaced or fraction.spaced:
                raise LengthError(
                    f"{self.said} reads like a subtraction.",
                    f"Write {whole}-{_tight(fraction.text)} without spaces.",
                )
            return whole + self._fraction(fraction.text, whole), rest[2:]
        return whole, rest

    def _fraction(self, text: str, whole: int | None) -> Fraction:
        top, bottom = (int(part) for part in text.split("/"))
        if bottom == 0:
            raise LengthError(f"{self.said} divides by zero.", f"No length has /0. {_HOW}")
        value = Fraction(top, bottom)
        if bottom not in TAPE_DENOMINATORS:
            decimal = _decimal(value + (whole or 0), 4)
            raise LengthError(
                f"{self.said} has a fraction no tape has.",
                f"Write halves, 4ths, 8ths, 16ths, 32nds or 64ths, or the decimal {decimal}.",
            )
        if top == 0:
            raise LengthError(f"{self.said} has a fraction of zero.", f"Write {whole or 0}.")
        if value >= 1:
            raise LengthError(
                f"{self.said} has the fraction {top}/{bottom}, which is not less than one.",
                f"Write {_mixed(value + (whole or 0))} in if that is meant.",
            )
        return value

    def _unit(self, word: str) -> str:
        known = _UNIT_WORDS.get(word.lower().rstrip("."))
        if known is None and word.lower() in ("x", "by"):
            raise LengthError(f"{self.said} has more than one length.", "Write one length alone, without x.")
        if known is None:
            raise LengthError(f"{self.said} has the unknown unit '{word}'.", "Use in, ft, mm, cm or m.")
        return known

    def _refuse_rest(self, rest: list[_Token], unit: str | None) -> None:
        if not rest:
            return
        if rest[0].kind == "fraction" and unit is not None:
            fraction = _tight(rest[0].text)
            raise LengthError(
                f"{self.said} has a fraction after the unit.", f"Write it before: 2-{fraction} in."
            )
        if rest[0].kind == "unit":
            raise LengthError(f"{self.said} has two units together.", "Write one unit after the number.")
        if unit is None:
            raise LengthError(f"{self.said} has two numbers with no unit between.", _HOW)
        raise LengthError(
            f"{self.said} goes on after the unit.", "Write one length; only feet take inches after."
        )

    def _in_inches(self, number: int | Fraction, unit: str | None) -> Fraction:
        unit = unit or self.default_unit
        if unit == _INCH:
            return Fraction(number)
        if unit == _FOOT:
            return Fraction(number * 12)
        if "/" in self.plain:
            decimal = _decimal(Fraction(number), 6)
            raise LengthError(
                f"{self.said} has a fraction of a metric unit.",
                f"Write {decimal} {unit}, or {_mixed(Fraction(number))} in if inches are meant.",
            )
        return number * _inches_per(unit)


def _plain(text: str) -> str:
    """The same length in plain signs: straight marks, plain hyphen and space, fractions as figures."""
    for sign, words in _VULGAR.items():
        text = re.sub(f"(?<=[0-9]){sign}", f" {sign}", text)
        text = re.sub(f"{sign}(?=[^ \"'a-z])", f"{sign} ", text)  # ⅓2 must not come to 1/32
        text = text.replace(sign, words)
    return text.translate(_SAME_SIGNS).replace("''", '"').strip()


def _tight(fraction: str) -> str:
    return re.sub(r"\s", "", fraction)


_ONE_COMMA = re.compile(r"(?P<before>[^,]*[0-9]),(?P<after>[0-9]{1,6})(?P<rest>[^0-9,]*)")


def without_comma(text: str, default_unit: Unit = "in", most_in: float = 1200.0) -> str:
    """What to write in place of a length with a comma: the decimal, on a tape's mark the fraction too, and
    the thousands where they are no more than ``most_in``.
    """
    if re.fullmatch(r"[0-9]{1,3}(,[0-9]{3}){2,}[^0-9,]*|[0-9]{1,3}(,[0-9]{3})+\.[0-9]+[^0-9,]*", text):
        return f"Write {text.replace(',', '')} without the comma."
    match = _ONE_COMMA.fullmatch(text)
    if match is None:
        return _HOW
    rest = match["rest"]
    unit = _UNIT_WORDS.get(rest.strip().lower().rstrip("."), default_unit if not rest.strip() else None)
    pointed = f"{match['before']}.{match['after']}{rest}"
    joined = f"{match['before']}{match['after']}{rest}"
    ways = [pointed, *_as_fraction(match["before"], match["after"], rest, unit)]
    if len(match["after"]) == 3 and match["before"].strip("0") and _is_at_most(joined, default_unit, most_in):
        ways.insert(0 if unit == "mm" else len(ways), f"{joined} if thousands are meant")
    return f"Write {' or '.join(ways) if len(ways) < 3 else ', '.join(ways[:-1]) + ' or ' + ways[-1]}."


def _as_fraction(before: str, after: str, rest: str, unit: str | None) -> list[str]:
    """The decimal as a fraction of an inch, where it is one on a tape."""
    if unit != _INCH or not re.fullmatch("[0-9]{1,4}", before):
        return []
    value = Fraction(f"{before}.{after}")
    return [f"{_mixed(value)}{rest}"] if 1 < value.denominator in TAPE_DENOMINATORS else []


def _is_at_most(text: str, default_unit: Unit, most_in: float) -> bool:
    try:
        return read_length(text, default_unit, allow="any", most_in=most_in) != 0
    except LengthError:
        return False


@cache
def _inches_per(unit: str) -> Fraction:
    """How many inches a metric unit is, exactly. pint is slow to import, so only when such a unit appears."""
    import pint

    registry: pint.UnitRegistry[Fraction] = pint.UnitRegistry(None, non_int_type=Fraction)
    for definition in (
        "metre = [length]",
        "centimetre = 0.01 * metre",
        "millimetre = 0.001 * metre",
        "inch = 0.0254 * metre",
    ):
        registry.define(definition)
    return Fraction(registry.Quantity(Fraction(1), _PINT_NAMES[unit]).to("inch").magnitude)
