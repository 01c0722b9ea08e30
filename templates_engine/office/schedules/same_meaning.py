"""Compares what stands in a job file with what a schedule says, by meaning: 1.625 and 1-5/8 in are one."""

from __future__ import annotations

import re
from typing import Any

from templates_engine.job.help.synonyms import UNIT_NAMES
from templates_engine.job.text.edit import Value
from templates_engine.office.schedules.fields import Kind, ScheduleField
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceways import find_type
from templates_engine.units import LengthError, Unit, read_length

_LENGTHS: tuple[Kind, ...] = ("length", "run", "strut", "place")
_DECIMALS = 6
_MOST_IN = 1e6
_BARE = re.compile(r"[0-9.][0-9 ./-]*")


def unit_of(written: Any) -> Unit:
    """The unit of bare numbers, from the word a job file or a schedule has for it, or from none."""
    word = str(written or "in").strip().lower()
    return "mm" if UNIT_NAMES.get(word, word) == "mm" else "in"


def is_same(field: ScheduleField, one: Any, other: Any, unit: Unit) -> bool:
    """Whether two values of a column mean the same, both in a file with that unit."""
    return bool(_meaning(field, one, unit) == _meaning(field, other, unit))


def in_unit(field: ScheduleField, value: Value, unit: Unit, file_unit: Unit) -> Value:
    """The value as it has to stand in a file of another unit: bare lengths with theirs."""
    if unit == file_unit or field.kind not in _LENGTHS:
        return value
    if isinstance(value, dict):
        return {key: in_unit(field, part, unit, file_unit) for key, part in value.items()}
    if isinstance(value, list):
        return [in_unit(field, part, unit, file_unit) for part in value]
    return f"{value} {unit}" if _BARE.fullmatch(value) else value


def _meaning(field: ScheduleField, value: Any, unit: Unit) -> Any:
    if isinstance(value, dict):
        return {key: _meaning(field, part, unit) for key, part in value.items()}
    if isinstance(value, list):
        parts = [_meaning(field, part, unit) for part in value]
        return parts[0] if len(parts) == 1 and field.kind == "strut" else parts
    text = " ".join(str(value).split())
    if field.kind == "text" and field.heading != "type":
        return text
    if field.heading == "type":
        return _type(text)
    if field.kind in (*_LENGTHS, "size"):
        return _length(text, unit if field.kind != "size" else "in")
    plain = text.lower().replace("center", "centre").replace("#", "")
    return {"true": "yes", "false": "no", "aluminum": "al", "aluminium": "al", "copper": "cu"}.get(
        plain, plain
    )


def _length(text: str, unit: Unit) -> float | str:
    try:
        return round(read_length(text, unit, allow="any", most_in=_MOST_IN), _DECIMALS)
    except LengthError:
        return text.lower().replace("center", "centre")


def _type(text: str) -> str:
    try:
        return find_type(text)
    except NotInTables:
        return text.lower()
