"""Turns single texts of a job file into lengths, words, numbers and names, and gathers every problem met.

A value that cannot be read is reported once and replaced: a length by NaN, anything else by its default.
Comparisons with NaN are false, so a later cross-check stays silent about what was reported already; no Job
with a replacement is ever handed out. Which values go together is for the modules beside it.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Callable, Sequence
from typing import Literal, TypeVar

from templates_engine.errors import JobProblems, Problem
from templates_engine.job.help.usual_slips import length_remedy, within_curly_quotes, without_centres
from templates_engine.job.model import FilePlace
from templates_engine.job.text.key_paths import KeyPath, plain_path, shown
from templates_engine.job.text.yaml_tree import TextPosition, YamlTree
from templates_engine.trade.not_in_tables import NotInTables, listed, nearest
from templates_engine.units import LengthError, LengthFormat, Unit, read_length

WordT = TypeVar("WordT", bound=str)
DefaultT = TypeVar("DefaultT")
FoundT = TypeVar("FoundT")

UNREADABLE = math.nan
MOST_LENGTH_IN = 1200.0
"""100 ft: no enclosure is larger."""
MOST_TITLE = 120
_NEVER_PRINTED = ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")
_UNSEEN = {"\r": "a line break", "\n": "a line break", "\t": "a tab"}
_MOST_VALUE = 60


class FileReading:
    """One job file being read: its marks, its unit, its problems so far, and the paths found broken."""

    def __init__(self, file: str, tree: YamlTree) -> None:
        self.file = file
        self._tree = tree
        self._problems = list(tree.problems)
        self.broken: set[KeyPath] = set(tree.broken)
        self.unit: Unit = "in"
        self.denominator = 16

    # --- places and problems ---

    def mark(self, path: KeyPath) -> TextPosition:
        """Where the key or list entry stands; for what is not written, where it should."""
        while path:
            found = self._tree.keys.get(path) or self._tree.values.get(path)
            if found:
                return found
            path = path[:-1]
        return TextPosition(1, 1)

    def place(self, path: KeyPath) -> FilePlace:
        return FilePlace(self.file, self.mark(path).line, plain_path(path))

    def report(self, path: KeyPath, message: str, remedy: str) -> None:
        """Notes a problem of the value at ``path``, unless that value is known to be broken already."""
        if path in self.broken:
            return
        self.broken.add(path)
        mark = self.mark(path)
        sentence = message if message.endswith(".") else f"{message}."
        self._problems.append((mark, Problem(sentence, remedy, self.file, mark.line, plain_path(path))))

    def is_sound(self, path: KeyPath) -> bool:
        return path not in self.broken

    def raise_problems(self) -> None:
        """Raises JobProblems with everything found, in file order; returns when there is nothing."""
        if self._problems:
            raise JobProblems(problem for _, problem in sorted(self._problems, key=lambda noted: noted[0]))

    @property
    def lengths(self) -> LengthFormat:
        return LengthFormat(self.unit, self.denominator)

    def say(self, inches: float) -> str:
        """A length in the job's own unit."""
        return self.lengths.say(inches)

    # --- values ---

    def is_printable(self, text: str, path: KeyPath) -> bool:
        """Reports text with control characters, line breaks or invisible signs, which garble print."""
        for char in text.strip():
            if unicodedata.category(char) in _NEVER_PRINTED:
                what = _UNSEEN.get(char, f"an unprintable character (U+{ord(char):04X})")
                self.report(path, f"The text holds {what}", "Write it on one line without it.")
                return False
        return True

    def text(self, written: str | None, path: KeyPath, default: str = "", most: int = MOST_TITLE) -> str:
        """Text to be printed as written."""
        if written is None or not self.is_sound(path) or not self.is_printable(written, path):
            return default
        if len(written.strip()) > most:
            wrong = f"The text is {len(written.strip())} characters long"
            self.report(path, wrong, f"Write at most {most}; it has to fit on the sheet.")
        return written.strip()

    def value(self, written: str, path: KeyPath) -> str | None:
        """A short text to be understood rather than printed; None once it has been reported."""
        if not self.is_sound(path) or not self.is_printable(written, path):
            return None
        if len(written) > _MOST_VALUE:
            self.report(
                path,
                f"'{shown(written)}' is too long to be read here",
                f"Write at most {_MOST_VALUE} characters.",
            )
            return None
        if bare := within_curly_quotes(written):
            wrong = f"The quotes round {shown(written)} are curly, as word processors make them"
            self.report(path, wrong, f"Write `{shown(bare)}` without quotes.")
            return None
        return written.strip()

    def length(
        self,
        written: str | None,
        path: KeyPath,
        default: float = UNREADABLE,
        *,
        allow: Literal["positive", "zero"] = "positive",
        most_in: float = MOST_LENGTH_IN,
    ) -> float:
        """Inches."""
        if written is None:
            return default
        text = self.value(written, path)
        if text is None:
            return UNREADABLE
        if not self.is_sound(("units",)) and not has_unit(text):
            return UNREADABLE  # the unit of bare numbers is the mistake, reported already
        try:
            return read_length(text, self.unit, allow=allow, most_in=most_in)
        except LengthError as error:
            remedy = length_remedy(text, self.unit, may_be_zero=allow == "zero") or error.remedy
            self.report(path, error.message, remedy)
            return UNREADABLE

    def length_or_none(
        self, written: str | None, path: KeyPath, *, allow: Literal["positive", "zero"] = "positive"
    ) -> float | None:
        """Inches, None where nothing is written."""
        return None if written is None else self.length(written, path, allow=allow)

    def gap(self, written: str, path: KeyPath) -> float | Literal["fittings"]:
        """A clear gap: inches, or the word for as much as the fittings need."""
        if written.strip().lower() == "fittings":
            return "fittings"
        if (on_centres := without_centres(written)) and self.is_sound(path):
            key = f"spacing{str(path[-1]).removeprefix('gap')}"
            where = " in the row of a job" if len(path) == 1 else ""
            remedy = (
                f"Write `{key}: {on_centres}`{where} for that distance from centre to centre; "
                "a gap is the clear distance between raceways."
            )
            self.report(path, f"'{shown(written)}' is measured from centre to centre, a gap is not", remedy)
            return UNREADABLE
        if re.fullmatch("[A-Za-z ]+", written) and self.is_sound(path):
            remedy = "Write a length, such as 1-1/8 in, or fittings for as much as they need."
            self.report(path, f"'{shown(written)}' is no gap", remedy)
            return UNREADABLE
        return self.length(written, path, allow="zero")

    def spacing(self, written: str, path: KeyPath) -> float:
        """A distance from centre to centre; words that say so again may stand behind it: "3 in OC"."""
        return self.length(without_centres(written) or written, path)

    def word(
        self,
        written: str | None,
        path: KeyPath,
        words: Sequence[WordT],
        default: DefaultT,
        **same: WordT,
    ) -> WordT | DefaultT:
        """One of ``words``, whatever the case it is written in; ``same`` gives other spellings of them."""
        text = None if written is None else self.value(written, path)
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
        self.report(path, f"'{shown(text)}' is not known here", f"{hint}Write {listed(words)}{none}.")
        return default

    def yes_no(self, written: str | None, path: KeyPath, default: DefaultT) -> bool | DefaultT:
        """yes, no, true or false."""
        word = self.word(written, path, ("yes", "no"), None, true="yes", false="no")
        return default if word is None else word == "yes"

    def whole(
        self, written: str | None, path: KeyPath, default: int = 1, *, least: int = 1, most: int = 999
    ) -> int:
        """A whole number from ``least`` to ``most``."""
        text = None if written is None else self.value(written, path)
        if text is None:
            return default
        if not re.fullmatch("[0-9]{1,9}", text) or not least <= int(text) <= most:
            self.report(
                path,
                f"'{shown(text)}' is not a whole number from {least} to {most}",
                "Write such a number in figures, without a unit.",
            )
            return default
        return int(text)

    def from_tables(self, written: str, path: KeyPath, look_up: Callable[[str], FoundT]) -> FoundT | None:
        """What a trade table has under this name; None once it has been reported."""
        text = self.value(written, path)
        if text is None:
            return None
        try:
            return look_up(text)
        except NotInTables as error:
            self.report(path, error.message, error.remedy)
            return None


def has_unit(text: str) -> bool:
    """Whether letters or foot and inch marks stand in a length."""
    return any(char.isalpha() or char in "\"'”’″′" for char in text)
