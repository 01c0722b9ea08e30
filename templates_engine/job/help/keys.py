"""Turns the tables of the job and shop files into a list of their keys, for people; it reads no file."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.job.help.synonyms import OTHER_WORDS
from templates_engine.job.schema import WrittenJob
from templates_engine.job.shop.schema import WrittenShop
from templates_engine.job.written_tables import Key, Way, WrittenTable, as_written
from templates_engine.trade.not_in_tables import listed, nearest
from templates_engine.values import Struct


class ListedKey(Struct, frozen=True):
    """One key at one place of a file."""

    file: str
    path: tuple[str, ...]
    """The keys it stands below, and itself."""
    table: str
    takes: str
    help: str
    examples: tuple[str, ...]
    is_needed: bool

    @property
    def name(self) -> str:
        return self.path[-1]


def all_keys() -> tuple[ListedKey, ...]:
    """Every key in the order of its file, the job file's first."""
    return (*_keys("job file", WrittenJob, ()), *_keys("shop file", WrittenShop, ()))


def likely_key(word: str, keys: tuple[ListedKey, ...]) -> str:
    """The key that an unknown word most likely stands for; empty where none is like it."""
    names = tuple(dict.fromkeys(key.name for key in keys))
    usual = next((name for name in OTHER_WORDS.get(word, ()) if name in names), None)
    return usual or nearest(word, names) or ""


def _keys(file: str, table: type[WrittenTable], above: tuple[str, ...]) -> Iterator[ListedKey]:
    for key in table.keys_by_name().values():
        path = (*above, key.name)
        yield ListedKey(
            file=file,
            path=path,
            table=table.title,
            takes=_listed_ways(key),
            help=key.help,
            examples=tuple(as_written(example) for example in key.examples),
            is_needed=key.is_needed,
        )
        if key.table:
            yield from _keys(file, key.table, path)


# --- what may stand at a key --------------------------------------------------------------------------------


def _listed_ways(key: Key) -> str:
    ways = tuple(dict.fromkeys(words for way in key.ways for words in _in_words(way)))
    return listed(ways) if all(" " not in way for way in ways) else ", or ".join(ways)


def _in_words(way: Way) -> Iterator[str]:
    """A way in which a value may be written; two where it may be a length or a word."""
    if way.table:
        yield "keys of its own"
    elif way.text:
        yield from filter(None, (way.text.words, listed(way.text.choices)))
    else:
        entries = (words for entry in way.entries for words in _in_words(entry))
        yield f"a list of {' or '.join(_PLURALS.get(words, words) for words in entries)}"


_PLURALS = {
    "keys of its own": "entries with keys of their own",
    "a length": "lengths",
    "a whole number": "whole numbers",
    "text": "texts",
}
