"""Turns key paths and what a person wrote into words for messages; decides nothing."""

from __future__ import annotations

KeyPath = tuple[str | int, ...]
"""Where a value stands: keys, and list places counted from 0 (people are shown them counted from 1)."""

_MOST_SHOWN = 40


def shown(text: str) -> str:
    """What was written, short enough for a message and without characters that cannot be printed."""
    visible = "".join(
        char if char.isprintable() else f"\\u{ord(char):04x}" for char in text[: _MOST_SHOWN + 1]
    )
    return visible if len(text) <= _MOST_SHOWN else visible[:_MOST_SHOWN] + "..."


def plain_path(path: KeyPath) -> str:
    """``("faces", 0, "back gap")`` as "faces[1].back gap": list places counted from 1."""
    words = ""
    for step in path:
        if isinstance(step, int):
            words += f"[{step + 1}]"
        else:
            words += f".{shown(step)}" if words else shown(step)
    return words
