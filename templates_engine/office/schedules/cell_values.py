"""Turns a cell's text into what a job file has for it: strut, places, circuits, conductors, raceways."""

from __future__ import annotations

import re
from collections.abc import Callable

from templates_engine.job.text.edit import Value
from templates_engine.job.text.key_paths import shown
from templates_engine.office.schedules.fields import Kind


class CellError(Exception):
    """A cell that cannot be read: ``message`` says why, ``remedy`` what to write."""

    def __init__(self, message: str, remedy: str) -> None:
        super().__init__(message)
        self.message, self.remedy = message, remedy


def value_of(text: str, kind: Kind) -> Value:
    """What a text in a column of that kind means. Raises CellError."""
    reader = _READERS.get(kind)
    return text if reader is None else reader(text)


def _strut(text: str) -> Value:
    """ "13/16 + 1-5/8" is strut on strut."""
    layers = [part.strip() for part in text.split("+")]
    return layers if len(layers) > 1 else text


_FROM_EDGE = re.compile(
    r"(?P<distance>.+?) from (?:the )?(?P<edge>left|right|top|bottom)(?: edge)? to (?:the )?"
    r"(?P<to>cent(?:re|er)|near side)",
    re.IGNORECASE,
)
_SPREAD = re.compile(r"spread from (?P<low>.+?) to (?P<high>.+)", re.IGNORECASE)


def _place(text: str) -> Value:
    if match := _SPREAD.fullmatch(text):
        return {"spread": {"from": match["low"], "to": match["high"]}}
    if match := _FROM_EDGE.fullmatch(text):
        to = "near side" if match["to"].lower() == "near side" else "centre"
        return {"from": match["edge"].lower(), "to": to, "distance": match["distance"]}
    if text.lower() in ("centred", "centered"):
        return "centred"
    raise CellError(
        f"'{shown(text)}' is no place of a row.",
        "Write centred, or like '2-1/2 in from left to centre', '3 in from right to near side' or "
        "'spread from 2 in to 18 in'.",
    )


_PARTS = re.compile(r"\s*[;,&]\s*|\s+and\s+", re.IGNORECASE)
_CIRCUIT = re.compile(
    r"#?(?P<spaces>[0-9]+(?:\s*\+\s*[0-9]+)*)(?:\s+at (?P<breaker>[0-9]+(?: ?a)?))?"
    r"(?P<without>\s*no neutral)?",
    re.IGNORECASE,
)


def _circuits(text: str) -> Value:
    """ "1, 3, 5" are three circuits of one pole, "2+4+6" is one of three."""
    found: list[Value] = []
    for part in filter(None, _PARTS.split(text)):
        match = _CIRCUIT.fullmatch(part)
        if match is None:
            raise CellError(
                f"'{shown(part)}' is no circuit.",
                "Write circuits with commas between them, the spaces of one breaker joined by +: "
                "'1, 3, 5' or '2+4+6', '2+4+6 at 30 A' or '7+9 no neutral'.",
            )
        spaces: list[Value] = [one.strip() for one in match["spaces"].split("+")]
        more: dict[str, Value] = {"neutral": "no"} if match["without"] else {}
        if match["breaker"]:
            more["breaker"] = match["breaker"]
        found.append({"spaces": spaces, **more} if more or len(spaces) > 1 else spaces[0])
    return found


_SIZE = r"#?\s*(?P<size>[0-9]+(?:/0)?(?:\s*(?:awg|kcmil|mcm))?)"
_WIRE = re.compile(
    rf"{_SIZE}\s+(?P<insulation>bare(?: solid)?|[a-z]+(?:-[0-9])?\*?)"
    r"(?:\s+(?P<metal>cu|al|copper|alumini?um))?",
    re.IGNORECASE,
)


def _wire(text: str) -> Value:
    match = _WIRE.fullmatch(text)
    if match is None:
        raise CellError(f"'{shown(text)}' is no wire.", "Write its size and insulation, such as '12 THHN'.")
    return _made_up(match)


def _ground(text: str) -> Value:
    match = _WIRE.fullmatch(text)
    return _made_up(match) if match else text.removeprefix("#").strip()


def _made_up(match: re.Match[str]) -> dict[str, Value]:
    parts: dict[str, Value] = {"size": match["size"].strip(), "insulation": match["insulation"]}
    if match["metal"]:
        parts["metal"] = match["metal"]
    return parts


_CONDUCTORS = re.compile(
    rf"\(?(?P<count>[0-9]+)\)?\s*(?:x|×|-|#(?=\s*[0-9])|\s)\s*{_WIRE.pattern}"
    r"(?:\s+(?P<use>phase|neutral|ground))?(?:\s+(?P<parallel>[0-9]+) in parallel)?"
    r"(?:\s+protected by (?P<device>[0-9]+(?: ?a)?))?",
    re.IGNORECASE,
)


def _conductors(text: str) -> Value:
    """ "3 x 3/0 THHN, 1 x 3/0 THHN neutral, 1 x 6 bare"."""
    found: list[Value] = []
    for part in filter(None, _PARTS.split(text)):
        match = _CONDUCTORS.fullmatch(part)
        if match is None:
            raise CellError(
                f"'{shown(part)}' is no conductors.",
                "Write count, size, insulation and use, with commas between them: "
                "'3 x 3/0 THHN, 1 x 3/0 THHN neutral, 1 x 6 bare'.",
            )
        more = {"use": match["use"], "in parallel": match["parallel"], "protected by": match["device"]}
        told = {key: text.lower() for key, text in more.items() if text}
        found.append({"count": match["count"], **_made_up(match), **told})
    return found


_RACEWAY = re.compile(
    r"(?P<size>[0-9][0-9/ .-]*?)\s*(?P<unit>\"|in\.?|inch|inches|mm)?\s+(?P<type>[a-z].*)", re.IGNORECASE
)


def _raceway(text: str) -> Value:
    """ "2 in EMT" is size and type."""
    match = _RACEWAY.fullmatch(text)
    if match is None:
        raise CellError(f"'{shown(text)}' is no raceway.", "Write its size and its type, such as '2 in EMT'.")
    metric = (match["unit"] or "").lower() == "mm"
    return {"type": "metric" if metric else match["type"], "size": match["size"]}


_READERS: dict[Kind, Callable[[str], Value]] = {
    "strut": _strut,
    "place": _place,
    "circuits": _circuits,
    "wire": _wire,
    "ground": _ground,
    "conductors": _conductors,
    "raceway": _raceway,
}
