"""Turns a name that no table has into an error naming the nearest entries, and words into a list as it is
said; knows no table itself.
"""

from __future__ import annotations

from collections.abc import Iterable


class NotInTables(LookupError):
    """A name no table has: ``message`` says which, ``remedy`` names the nearest entries."""

    def __init__(self, message: str, remedy: str) -> None:
        self.message = message
        self.remedy = remedy
        super().__init__(f"{message} {remedy}")


def nearest(word: str, words: Iterable[str]) -> str | None:
    """The entry most like ``word``, whatever the letters' case, or the only one that begins with it.

    None when nothing is much like it.
    """
    from difflib import get_close_matches

    by_lower = {entry.lower(): entry for entry in words}
    found = get_close_matches(word.lower(), list(by_lower), n=1, cutoff=0.6)
    longer = [entry for entry in by_lower if word and entry.startswith(word.lower())]
    if not found and len(longer) == 1:
        found = longer
    return by_lower[found[0]] if found else None


def listed(words: Iterable[str], joiner: str = "or") -> str:
    """The entries as a person says them: "1, 2 or 3", or "A1, A2 and A3"."""
    entries = list(words)
    if len(entries) < 2:
        return "".join(entries)
    return f"{', '.join(entries[:-1])} {joiner} {entries[-1]}"
