"""Turns the parser's complaints about text that is no YAML into plain words; parses nothing."""

from __future__ import annotations

import re
from typing import Any

import yaml

from templates_engine.job.text.key_paths import shown
from templates_engine.values import Struct

Said = tuple[int | None, str, str]
"""Line, what is wrong, what to do."""

MOST_LEVELS = 20
"""The deepest value of a job stands ten levels down."""
TOO_DEEP = (
    f"Values are nested more than {MOST_LEVELS} deep.",
    "Look for brackets or dashes that are never closed.",
)
_BRACKET = (
    "The bracket opened here is not closed, or a comma is missing in it.",
    "Close every [ and {, and put a comma between the entries.",
)
_TWO_COLONS = (
    "Two colons stand here with no comma between them.",
    "Put a comma before the second key; put text that holds a colon in quotes.",
)
_NOTE = " A `#` after a space begins a comment; put such text in quotes."
_QUOTE = (
    "A quote is opened here and never closed.",
    "Close it; write inches as `in` rather than by a quote mark.",
)
_CURLY_QUOTE = (
    "A straight quote and a curly one, as word processors make them, stand on this line.",
    "Take both out, or type two straight ones.",
)
_TAB = (
    "The line is indented with a tab.",
    "Take the tab out and press the space bar instead, two spaces for each step.",
)
_BY_SIGN = (
    (
        "mapping values are not allowed",
        "A colon stands where none can.",
        "Give the line the same indentation as its neighbours, and put text that holds a colon in quotes.",
    ),
    (
        "sequence entries are not allowed",
        "A dash stands where no list can begin.",
        "Put the dash on a line of its own below the key, indented like its neighbours.",
    ),
    ("cannot start any token", "A value cannot begin with this character.", "Put the text in quotes."),
    (
        "escape",
        "A backslash in double quotes begins an escape that does not exist.",
        "Use single quotes round text that holds a backslash.",
    ),
    ("nesting depth", *TOO_DEEP),
)
_NO_COLON = (
    "A key on this line has no colon after it.",
    "Write the key, a colon, a space and its value.",
)
_NO_SPACE = ("No space stands after the colon.", "Write the key, a colon, a space and its value.")
_OTHER = (
    "The line cannot be read as YAML.",
    "Check the indentation here and on the line above: a key, a colon, a space and a value. "
    "Put text that holds quotes, brackets or colons in quotes.",
)


def in_plain_words(text: str, error: yaml.YAMLError) -> Said:
    """What the parser stumbled over, and on which line a person has to look."""
    problem, context = (str(getattr(error, name, None) or "") for name in ("problem", "context"))
    line, opened = _line(error, "problem_mark"), _line(error, "context_mark")
    lines = text.splitlines() or [""]
    if line is not None:
        line = min(line, len(lines))
        indentation = lines[line - 1][: len(lines[line - 1]) - len(lines[line - 1].lstrip())]
        if "\t" in indentation:
            return line, *_TAB
    if "quoted scalar" in context and ("end of stream" in problem or "document" in problem):
        at = opened or line
        is_curly = at is not None and re.search("[“”‘’]", lines[min(at, len(lines)) - 1])
        return at, *(_CURLY_QUOTE if is_curly else _QUOTE)
    if "flow sequence" in context or "flow mapping" in context:
        at = opened or line
        if at is not None and at <= len(lines) and re.search(r": [^,\[\]{}\"']+: ", lines[at - 1]):
            return at, *_TWO_COLONS
        has_note = at is not None and at <= len(lines) and " #" in lines[at - 1]
        return at, _BRACKET[0], _BRACKET[1] + (_NOTE if has_note else "")
    if "expected ':'" in problem:  # noticed on a later line; the key itself is where the context begins
        line = min(opened or line or 1, len(lines))
        return line, *(_NO_SPACE if re.match(r"[ -]*[a-z][a-z ]*:\S", lines[line - 1]) else _NO_COLON)
    if line is not None and (seen := _seen_in(lines, line - 1, problem)):
        return seen
    for sign, message, remedy in _BY_SIGN:
        if sign in problem:
            return line, message, remedy
    return line, *_OTHER


class _Spot(Struct, frozen=True):
    """Where the parser stumbled: a line counted from 0, and the one with content above it."""

    lines: list[str]
    at: int
    above: int | None
    problem: str

    @property
    def text(self) -> str:
        return self.lines[self.at]

    @property
    def before(self) -> str:
        return "" if self.above is None else self.lines[self.above]

    @property
    def is_stray_colon(self) -> bool:
        return "mapping values are not allowed" in self.problem

    @property
    def holds_several_keys(self) -> bool:
        return re.search(r": +[^{\['\"#]+, *[a-z][a-z ]*: ", self.text) is not None


def _seen_in(lines: list[str], at: int, problem: str) -> Said | None:
    """A mistake that the look of the line, or of the one above it, gives away; ``at`` counts from 0."""
    above = next((back for back in range(at - 1, -1, -1) if _is_content(lines[back])), None)
    spot = _Spot(lines, at, above, problem)
    return next((seen for look in _LOOKS if (seen := look(spot)) is not None), None)


def _entry_mistake(spot: _Spot) -> Said | None:
    """A dash, comma or bracket of a list's entry."""
    text, before = spot.text, spot.before
    if re.match(r" *-[^ -]", text):
        return spot.at + 1, "No space stands after the dash.", "Write a dash, a space and the entry."
    if re.search(r"[}\]],\s*$", text) and not re.search(r"[}\]],\s*$", before):
        remedy = "Take it out; entries on lines of their own need none."
        return spot.at + 1, "A comma stands after the entry.", remedy
    if spot.above is not None and before.lstrip().startswith("{") and text.lstrip().startswith("-"):
        remedy = "Begin each entry of a list with a dash and a space."
        return spot.above + 1, "No dash stands before this entry.", remedy
    if re.search(r"[}\]] *[^\s,#}\]]", text) or re.match(r" *- +[^{\"'\[:#]+\{", text):
        wrong = "Something stands beside the brackets of this entry."
        return spot.at + 1, wrong, "Put all of it inside them, such as {type: EMT, size: 2, count: 3}."
    return None


def _key_above_mistake(spot: _Spot) -> Said | None:
    """A key on the line above whose colon is none for the parser."""
    if spot.is_stray_colon and spot.above is not None:
        if re.match(r" *(- +)?[a-z][a-z ]*=", spot.before, re.IGNORECASE):
            return spot.above + 1, "An equals sign stands where a colon should.", _NO_COLON[1]
        if re.match(r" *(- +)?[a-z][a-z ]*:\S", spot.before, re.IGNORECASE):
            return spot.above + 1, *_NO_SPACE
    return None


def _second_colon(spot: _Spot) -> Said | None:
    second = re.match(r" *(?:- +)?([a-z][a-z ]*): +([^\"'{\[].*: .*)", spot.text, re.IGNORECASE)
    if second is None or spot.holds_several_keys or not spot.is_stray_colon:
        return None
    remedy = f'Put text that holds a colon in quotes: {second[1]}: "{shown(second[2].strip())}".'
    return spot.at + 1, "A colon stands where none can.", remedy


def _out_of_column(spot: _Spot) -> Said | None:
    return None if spot.above is None else _column_mistake(spot.lines, spot.at, spot.above)


def _too_much_on_a_line(spot: _Spot) -> Said | None:
    """Several keys on one line, or a key below a line that has its value already."""
    if not spot.is_stray_colon:
        return None
    if spot.holds_several_keys:
        remedy = "Put them in {type: EMT, size: 2}, or each on its own line."
        return spot.at + 1, "Several keys stand on one line.", remedy
    has_value = re.match(r"[ -]*[^:#]+: +[^ #|>&]|[ ]*- +[^ :{\[]+$", spot.before)
    if has_value and _indent(spot.text) > _indent(spot.before):
        wrong = "The line is indented below a line that has a value already."
        return spot.at + 1, wrong, "Indent it like the line above, or take the value there out."
    return None


_LOOKS = (_entry_mistake, _key_above_mistake, _second_colon, _out_of_column, _too_much_on_a_line)
"""What a line may give away, tried in this order."""


def _column_mistake(lines: list[str], at: int, above: int) -> Said | None:
    """A dash out of line with the dash before it, or a key one space out of line with the key above it."""
    here = _indent(lines[at])
    if lines[at].lstrip().startswith("-"):
        dashes = (back for back in range(at - 1, -1, -1) if lines[back].lstrip().startswith("-"))
        before = next((back for back in dashes if abs(_indent(lines[back]) - here) <= _NEAR_DASH), None)
        if before is None or _indent(lines[before]) == here:
            return None
        spaces = _counted(here), _counted(_indent(lines[before]))
        wrong = f"The dash here has {spaces[0]} before it, the dash on line {before + 1} has {spaces[1]}."
        return at + 1, wrong, "Give all dashes of a list the same number of spaces."
    there = _key_column(lines[above])
    if abs(here - there) != 1 or ":" not in lines[at]:
        return None
    wrong = (
        f"The key here begins after {_counted(here)}, the one on line {above + 1} after {_counted(there)}."
    )
    return (
        at + 1,
        wrong,
        "Keys that belong together begin in the same column: move one of the two by a space.",
    )


_NEAR_DASH = 3
"""Dashes this near to one column are of one list; lists in one another are four apart as a rule."""


def _key_column(line: str) -> int:
    """Where the key of a line begins, behind the dash of an entry."""
    return len(line) - len(re.sub(r"^ *(- +)*", "", line))


def _counted(spaces: int) -> str:
    return "1 space" if spaces == 1 else f"{spaces} spaces"


def _is_content(line: str) -> bool:
    return bool(line.strip()) and not line.lstrip().startswith("#")


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip(" "))


def is_rest_of_number(before: Any, key: str | None, has_no_value: bool) -> bool:
    """Whether a key without a value is what stands after a decimal comma: the `5` of `{at: 4,5}`."""
    return (
        has_no_value
        and key is not None
        and re.match(r"[0-9]+(?![0-9/-])", key) is not None
        and isinstance(before, str)
        and re.fullmatch(r"([0-9]+' *)?[0-9]+", before) is not None
    )


def _line(error: yaml.YAMLError, name: str) -> int | None:
    mark = getattr(error, name, None)
    return None if mark is None else mark.line + 1
