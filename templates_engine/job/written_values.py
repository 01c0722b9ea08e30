"""Turns single texts of a file into lengths, words, numbers and names; each knows where it stands.

A value that cannot be read is reported once and replaced: a length by NaN, anything else by its default.
Comparisons with NaN are false, so a later cross-check stays silent about what was reported already; no Job
with a replacement is ever handed out. Which values go together is for the modules of `read/`.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Callable, Iterable, Sequence
from typing import Literal, TypeVar

from templates_engine.job.help.usual_slips import length_remedy, within_curly_quotes, without_centres
from templates_engine.job.model import FilePlace
from templates_engine.job.read.file_reading import FileReading
from templates_engine.job.text.key_paths import KeyPath, shown
from templates_engine.job.text.yaml_tree import TextPosition
from templates_engine.trade.not_in_tables import NotInTables, listed, nearest
from templates_engine.units import LengthError, read_length

WordT = TypeVar("WordT", bound=str)
DefaultT = TypeVar("DefaultT")
FoundT = TypeVar("FoundT")
EntryT = TypeVar("EntryT")

UNREADABLE = math.nan
MOST_LENGTH_IN = 1200.0
"""100 ft: no enclosure is larger."""
MOST_TITLE = 120
_NEVER_PRINTED = ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")
_UNSEEN = {"\r": "a line break", "\n": "a line break", "\t": "a tab"}
_MOST_VALUE = 60


class Written:
    """What stands at a place of the file, or could."""

    def __init__(self, reading: FileReading, path: KeyPath) -> None:
        self.reading = reading
        self.path = path

    def report(self, message: str, remedy: str) -> None:
        """Notes a problem of it, unless it is known to be broken already."""
        self.reading.report(self.path, message, remedy)

    @property
    def is_written(self) -> bool:
        return True

    @property
    def is_sound(self) -> bool:
        """Whether nothing has been reported of it."""
        return self.reading.is_sound(self.path)

    @property
    def position(self) -> TextPosition:
        """Where it stands; where it should, if it is not written."""
        return self.reading.mark(self.path)

    @property
    def line(self) -> int:
        return self.position.line

    @property
    def where(self) -> FilePlace:
        """Its place in the file, for what is said of it later."""
        return self.reading.place(self.path)

    def say(self, inches: float) -> str:
        """A length in the file's own unit."""
        return self.reading.say(inches)


class WrittenList(Written, list[EntryT]):
    """A list of the file; one that is not written is empty."""

    def __init__(self, reading: FileReading, path: KeyPath, entries: Iterable[EntryT] | None = None) -> None:
        Written.__init__(self, reading, path)
        list.__init__(self, entries or ())
        self._is_written = entries is not None

    @property
    def is_written(self) -> bool:
        return self._is_written


class WrittenText(Written):
    """A text of the file; one that is not written reads as the default."""

    def __init__(self, reading: FileReading, path: KeyPath, text: str | None = None) -> None:
        super().__init__(reading, path)
        self.text = text

    @property
    def is_written(self) -> bool:
        return self.text is not None

    @property
    def spelled(self) -> str:
        """In small letters without spaces round it; empty where nothing is written."""
        return (self.text or "").strip().lower()

    def printed(self, default: str = "", most: int = MOST_TITLE) -> str:
        """As it is to be printed."""
        if self.text is None or not self.is_sound or not self._is_printable():
            return default
        text = self.text.strip()
        if len(text) > most:
            wrong = f"The text is {len(text)} characters long"
            self.report(wrong, f"Write at most {most}; it has to fit on the sheet.")
        return text

    def value(self) -> str | None:
        """A short text to be understood rather than printed; None where there is none, or once reported."""
        if self.text is None or not self.is_sound or not self._is_printable():
            return None
        if len(self.text) > _MOST_VALUE:
            wrong = f"'{shown(self.text)}' is too long to be read here"
            self.report(wrong, f"Write at most {_MOST_VALUE} characters.")
            return None
        if bare := within_curly_quotes(self.text):
            wrong = f"The quotes round {shown(self.text)} are curly, as word processors make them"
            self.report(wrong, f"Write `{shown(bare)}` without quotes.")
            return None
        return self.text.strip()

    def _is_printable(self) -> bool:
        """Reports text with control characters, line breaks or invisible signs, which garble print."""
        for char in (self.text or "").strip():
            if unicodedata.category(char) in _NEVER_PRINTED:
                what = _UNSEEN.get(char, f"an unprintable character (U+{ord(char):04X})")
                self.report(f"The text holds {what}", "Write it on one line without it.")
                return False
        return True

    # --- lengths ---

    def length(
        self,
        default: float = UNREADABLE,
        *,
        allow: Literal["positive", "zero"] = "positive",
        most_in: float = MOST_LENGTH_IN,
    ) -> float:
        """Inches."""
        if self.text is None:
            return default
        text = self.value()
        if text is None or not (self.reading.is_sound(("units",)) or has_unit(text)):
            return UNREADABLE  # where the unit of bare numbers is the mistake, that is reported already
        try:
            return read_length(text, self.reading.unit, allow=allow, most_in=most_in)
        except LengthError as error:
            remedy = length_remedy(text, self.reading.unit, may_be_zero=allow == "zero") or error.remedy
            self.report(error.message, remedy)
            return UNREADABLE

    def length_or_none(self, *, allow: Literal["positive", "zero"] = "positive") -> float | None:
        """Inches, None where nothing is written."""
        return self.length(allow=allow) if self.is_written else None

    def gap(self) -> float | Literal["fittings"]:
        """A clear gap: inches, or the word for as much as the fittings need."""
        text = self.text or ""
        if self.spelled == "fittings":
            return "fittings"
        if (on_centres := without_centres(text)) and self.is_sound:
            key = f"spacing{str(self.path[-1]).removeprefix('gap')}"
            where = " in the row of a job" if len(self.path) == 1 else ""
            remedy = (
                f"Write `{key}: {on_centres}`{where} for that distance from centre to centre; "
                "a gap is the clear distance between raceways."
            )
            self.report(f"'{shown(text)}' is measured from centre to centre, a gap is not", remedy)
            return UNREADABLE
        if re.fullmatch("[A-Za-z ]+", text) and self.is_sound:
            remedy = "Write a length, such as 1-1/8 in, or fittings for as much as they need."
            self.report(f"'{shown(text)}' is no gap", remedy)
            return UNREADABLE
        return self.length(allow="zero")

    def spacing(self) -> float | None:
        """A distance from centre to centre; words that say so again may stand behind it: "3 in OC"."""
        if self.text is None:
            return None
        bare = without_centres(self.text) or self.text
        return WrittenText(self.reading, self.path, bare).length()

    # --- words and numbers ---

    def word(self, words: Sequence[WordT], default: DefaultT, **same: WordT) -> WordT | DefaultT:
        """One of ``words``, whatever the case it is written in; ``same`` gives other spellings of them."""
        text = self.value()
        if text is None:
            return default
        spelled = " ".join(text.lower().split())
        for word in words:
            if spelled == word.lower():
                return word
        if spelled in same:
            return same[spelled]
        like = nearest(text, words)
        hint = f"Did you mean {like}? " if like else ""
        none = "; where there is none, leave it out" if spelled in ("none", "no", "n/a") else ""
        self.report(f"'{shown(text)}' is not known here", f"{hint}Write {listed(words)}{none}.")
        return default

    def yes_no(self, default: DefaultT) -> bool | DefaultT:
        """yes, no, true or false."""
        word = self.word(("yes", "no"), None, true="yes", false="no")
        return default if word is None else word == "yes"

    def whole(self, default: int = 1, *, least: int = 1, most: int = 999) -> int:
        """A whole number from ``least`` to ``most``."""
        text = self.value()
        if text is None:
            return default
        if not re.fullmatch("[0-9]{1,9}", text) or not least <= int(text) <= most:
            wrong = f"'{shown(text)}' is not a whole number from {least} to {most}"
            self.report(wrong, "Write such a number in figures, without a unit.")
            return default
        return int(text)

    def from_tables(self, look_up: Callable[[str], FoundT]) -> FoundT | None:
        """What a trade table has under this name; None where nothing is written, or once reported."""
        text = self.value()
        if text is None:
            return None
        try:
            return look_up(text)
        except NotInTables as error:
            self.report(error.message, error.remedy)
            return None


def has_unit(text: str) -> bool:
    """Whether letters or foot and inch marks stand in a length."""
    return any(char.isalpha() or char in "\"'”’″′" for char in text)
