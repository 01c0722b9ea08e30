"""Words lengths and the names of holes in the sentences of findings."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from templates_engine.checks.model import TOLERANCE_IN, Measurement
from templates_engine.trade.not_in_tables import listed
from templates_engine.units import LengthFormat, read_length, to_mm

PLACES = 9
"""Decimal places that count: equal measurements stay in file order, and findings carry no noise of sums."""

NAMED_AT_MOST = 4
"""How many further holes a sentence names before it only counts them."""

_INCHES = re.compile(r"\b(?:[0-9]+-)?[0-9]+(?:/[0-9]+)? in\b(?! [a-z])")
"""A length in a source's words, and no trade size or count before another word."""


def length(inches: float, lengths: LengthFormat) -> str:
    """A length in a sentence; one under a tape's least mark by its decimal alone, such as 0.015 in, and never
    as 0 where there is something.
    """
    if abs(inches) > TOLERANCE_IN and lengths.mark(abs(inches)) == "0":
        shown = lengths.exact(inches)
        least = "0.01" if lengths.unit == "mm" else "0.0001"
        return f"less than {least} {lengths.unit}" if shown in ("0", "-0") else f"{shown} {lengths.unit}"
    return lengths.say(inches)


def there(measured: Measurement, lengths: LengthFormat) -> str:
    """The length that is there, told so that it differs from the one needed where the two do."""
    return _told_apart(measured.provided, measured.required, lengths)


def needed(measured: Measurement, lengths: LengthFormat) -> str:
    """The length that is needed, told so that it differs from the one there where the two do."""
    return _told_apart(measured.required, measured.provided, lengths)


def _told_apart(inches: float, other_in: float, lengths: LengthFormat) -> str:
    """A length by its exact decimal, with as many figures as it takes, where its mark is the other's too."""
    if abs(inches - other_in) <= TOLERANCE_IN or lengths.mark(inches) != lengths.mark(other_in):
        return length(inches, lengths)
    if lengths.exact(inches) != lengths.exact(other_in):
        return f"{lengths.exact(inches)} {lengths.unit}"
    figures = inches if lengths.unit == "in" else to_mm(inches)
    return f"{figures:.{PLACES - 3}f} {lengths.unit}"


def in_millimetres(words: str) -> str:
    """A source's own words with its inches as whole millimetres, for a metric job: "within about 3 mm"."""
    return _INCHES.sub(lambda found: f"{to_mm(read_length(found.group())):.0f} mm", words)


def also(others: Sequence[str]) -> str:
    """The other measurements of a sentence in brackets, counted where they are many; nothing for none."""
    if not others:
        return ""
    if len(others) <= NAMED_AT_MOST:
        return f" (also {listed(others, 'and')})"
    return f" (also {', '.join(others[:NAMED_AT_MOST])} and {len(others) - NAMED_AT_MOST} more)"


def unique(words: Iterable[str]) -> tuple[str, ...]:
    """The words once each, in the order they first come."""
    return tuple(dict.fromkeys(words))


def short_list(ids: Sequence[str]) -> str:
    """Holes by name, counted from the sixth on where there are more than five."""
    if len(ids) <= NAMED_AT_MOST + 1:
        return listed(ids, "and")
    return f"{', '.join(ids[:NAMED_AT_MOST])} and {len(ids) - NAMED_AT_MOST} more"
