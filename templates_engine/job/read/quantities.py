"""Turns amperes and temperatures, as written, into numbers."""

from __future__ import annotations

import re
from typing import Literal

from templates_engine.job.text.key_paths import shown
from templates_engine.job.written_values import WrittenText

MOST_AMPERES = 6000
LEAST_AMBIENT_C, MOST_AMBIENT_C = -60.0, 100.0
MOST_RANGE_F = 300.0
_AMPERES = re.compile(r"([0-9]{1,6})\s*(?:a|amp|amps|ampere|amperes)?", re.IGNORECASE)
_TEMPERATURE = re.compile(r"([-+]?[0-9]{1,4}(?:\.[0-9]{1,3})?)\s*(?:°|deg(?:rees)?)?\s*([cf])", re.IGNORECASE)


def amperes(written: WrittenText) -> int | None:
    """The rating of a device, None where nothing is written or it could not be read."""
    text = written.value()
    if text is None:
        return None
    match = _AMPERES.fullmatch(text)
    if match is None or not 1 <= int(match[1]) <= MOST_AMPERES:
        wrong = f"'{shown(text)}' is no rating in amperes from 1 to {MOST_AMPERES}"
        written.report(wrong, "Write what stands on the device, such as 20 or 20 A.")
        return None
    return int(match[1])


def celsius(written: WrittenText) -> float | None:
    """A temperature of the air, degrees Celsius."""
    found = _temperature(written, "40 C or 104 F")
    if found is None:
        return None
    degrees = found[0] if found[1] == "C" else (found[0] - 32) / 1.8
    if not LEAST_AMBIENT_C <= degrees <= MOST_AMBIENT_C:
        written.report(f"{written.text} is no temperature of air", "Write such as 40 C or 104 F.")
        return None
    return degrees


def fahrenheit_range(written: WrittenText) -> float | None:
    """Between two temperatures, Fahrenheit degrees."""
    found = _temperature(written, "100 F or 55 C, hottest less coldest")
    if found is None:
        return None
    degrees = found[0] if found[1] == "F" else found[0] * 1.8
    if not 0 < degrees <= MOST_RANGE_F:
        wrong = f"{written.text} is no difference between two temperatures of a year"
        written.report(wrong, "Write the hottest less the coldest, such as 100 F.")
        return None
    return degrees


def terminals(written: WrittenText) -> Literal[60, 75, 90] | None:
    """What terminals stand, degrees Celsius."""
    text = written.value()
    if text is None:
        return None
    match = _TEMPERATURE.fullmatch(text if re.search("[cf]", text, re.IGNORECASE) else f"{text} C")
    degrees: dict[str, Literal[60, 75, 90]] = {"60": 60, "75": 75, "90": 90}
    if match is None or match[2] not in "cC" or match[1] not in degrees:
        wrong = f"'{shown(text)}' is not known of terminals"
        written.report(wrong, "Write what is marked on them: 60 C, 75 C or 90 C.")
        return None
    return degrees[match[1]]


def _temperature(written: WrittenText, example: str) -> tuple[float, Literal["C", "F"]] | None:
    text = written.value()
    if text is None:
        return None
    match = _TEMPERATURE.fullmatch(text)
    if match is None:
        written.report(f"'{shown(text)}' is no temperature with its unit", f"Write such as {example}.")
        return None
    return float(match[1]), "C" if match[2] in "cC" else "F"
