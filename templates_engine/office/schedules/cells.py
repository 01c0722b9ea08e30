"""Turns one cell of a schedule into what stands in a job file, or says why it cannot; nothing is guessed."""

from __future__ import annotations

import datetime
import re

from templates_engine.job.text.edit import Value
from templates_engine.job.text.key_paths import shown
from templates_engine.office.schedules.cell_values import CellError, value_of
from templates_engine.office.schedules.fields import ScheduleField
from templates_engine.office.schedules.read_sheets import Raw
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceways import look_up
from templates_engine.values import Struct


class CellValue(Struct, frozen=True):
    """What a cell holds, as it stands in a job file, and what is to be told of it."""

    value: Value
    told: str = ""


_NOTHING = ("", "-", "–", "—")
"""What stands in a cell that says nothing."""
_MONTHS = "jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec"
_DATE = re.compile(
    rf"[0-9]{{1,2}}[-/. ]({_MONTHS})[a-z]*\.?([-/. ][0-9]{{2,4}})?|({_MONTHS})[a-z]*\.?[-/. ][0-9]{{1,2}}"
    r"|[0-9]{1,2}[/.][0-9]{1,2}[/.][0-9]{4}|[0-9]{4}-[0-9]{2}-[0-9]{2}.*",
    re.IGNORECASE,
)
_FORMAT_AS_TEXT = "Format the column as text, then type it again."


def read_cell(raw: Raw, field: ScheduleField, unit: str) -> CellValue | None:
    """What a cell of the column means, None for an empty one; ``unit`` is the heading's. Raises CellError."""
    if isinstance(raw, str) and raw.strip() in _NOTHING:
        return None
    if field.kind == "date":
        return CellValue(_date_words(raw))
    text = _text(raw, field)
    told = ""
    if field.kind == "size" and re.fullmatch(r"[0-9]*\.[0-9]+", text):
        text, told = _trade_size(text)
    if field.kind == "circuits" and re.fullmatch(r"[0-9]*\.[0-9]+", text):
        raise CellError(f"The cell holds the number {text}, not circuits.", _FORMAT_AS_TEXT)
    if unit:
        text = " + ".join(with_unit(part.strip(), unit) for part in text.split("+"))
    return CellValue(value_of(text, field.kind), told)


def with_unit(text: str, unit: str) -> str:
    """A length with its unit, where it has none of its own."""
    return f"{text} {unit}" if re.fullmatch(r"[0-9.][0-9 ./-]*", text) else text


def _text(raw: Raw, field: ScheduleField) -> str:
    """A cell's text on one line; a date is none, nor a time."""
    if isinstance(raw, bool):
        return "yes" if raw else "no"
    if isinstance(raw, datetime.date | datetime.time | datetime.timedelta):
        raise _no_date(_date_said(raw))
    if isinstance(raw, int | float):
        return f"{raw:.6f}".rstrip("0").rstrip(".")
    text = " ".join(raw.split())
    if field.kind != "text" and _DATE.fullmatch(text):
        raise _no_date(f"the date {shown(text)}")
    return text[1:] if re.match("'[=+@-]", text) else text


def _date_said(raw: datetime.date | datetime.time | datetime.timedelta) -> str:
    return f"the date {_date_words(raw)}" if isinstance(raw, datetime.date) else f"the time {raw}"


def _no_date(what: str) -> CellError:
    words = f"The cell holds {what}: the spreadsheet took what was typed, such as 1/2 or 3-4, for one."
    return CellError(words, _FORMAT_AS_TEXT)


def _date_words(raw: Raw) -> str:
    if isinstance(raw, datetime.date):
        return f"{raw.day} {raw:%B} {raw.year}"
    return " ".join(str(raw).split())


def _trade_size(number: str) -> tuple[str, str]:
    """The trade size of a number that the spreadsheet made of it: 0.75 is 3/4."""
    try:
        size = look_up("RMC", number).trade_size  # it has every trade size there is
    except NotInTables as error:
        raise CellError(
            f"The cell holds the number {number}, which is no trade size.", error.remedy
        ) from error
    return size, f"the number {number} is read as trade size {size}"
