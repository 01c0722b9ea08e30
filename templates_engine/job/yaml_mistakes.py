"""Turns the parser's complaints about text that is no YAML into plain words; parses nothing."""

from __future__ import annotations

import yaml

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
_QUOTE = (
    "A quote is opened here and never closed.",
    "Close it; write inches as `in` rather than by a quote mark.",
)
_TAB = ("The line is indented with a tab.", "Indent with spaces, two for each step.")
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
    (
        "expected ':'",
        "A key on this line has no colon after it.",
        "Write the key, a colon, a space and its value.",
    ),
)
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
        return opened or line, *_QUOTE
    if "flow sequence" in context or "flow mapping" in context:
        return opened or line, *_BRACKET
    for sign, message, remedy in _BY_SIGN:
        if sign in problem:
            return line, message, remedy
    return line, *_OTHER


def _line(error: yaml.YAMLError, name: str) -> int | None:
    mark = getattr(error, name, None)
    return None if mark is None else mark.line + 1
