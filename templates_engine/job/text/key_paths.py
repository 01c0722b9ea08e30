"""Follows key paths into a tree of values, and turns them and what a person wrote into words for messages."""

from __future__ import annotations

from typing import Any

KeyPath = tuple[str | int, ...]
"""Where a value stands: keys, and list places counted from 0 (people are shown them counted from 1)."""

_MOST_SHOWN = 40


def value_at(tree: Any, path: KeyPath) -> Any:
    """What stands at the path, None where nothing does."""
    for step in path:
        try:
            tree = tree[step]
        except (KeyError, IndexError, TypeError):
            return None
    return tree


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
