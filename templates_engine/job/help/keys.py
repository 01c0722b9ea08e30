"""Turns the tables of the job and shop files into a list of their keys, for people; it reads no file."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, get_args, get_origin

from pydantic import WithJsonSchema
from pydantic.fields import FieldInfo

from templates_engine.job.help.synonyms import OTHER_WORDS
from templates_engine.job.schema import (
    Amperes,
    Length,
    Number,
    Temperature,
    Text,
    WrittenJob,
    WrittenTable,
    as_written,
    choice_words,
)
from templates_engine.job.shop.schema import WrittenShop
from templates_engine.trade.names import listed, nearest
from templates_engine.values import Struct

_PLAIN = (
    (Length, "a length"),
    (Number, "a whole number"),
    (Amperes, "amperes"),
    (Temperature, "a temperature"),
    (Text, "text"),
)
"""Kinds of value that are no choice of words, told apart by the schema an editor gets for them."""


class Key(Struct, frozen=True):
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


def all_keys() -> tuple[Key, ...]:
    """Every key in the order of its file, the job file's first."""
    return (*_keys("job file", WrittenJob, ()), *_keys("shop file", WrittenShop, ()))


def meant(word: str, keys: tuple[Key, ...]) -> str:
    """The key that an unknown word most likely stands for; empty where none is like it."""
    names = tuple(dict.fromkeys(key.name for key in keys))
    usual = next((name for name in OTHER_WORDS.get(word, ()) if name in names), None)
    return usual or nearest(word, names) or ""


def _keys(file: str, table: type[WrittenTable], above: tuple[str, ...]) -> Iterator[Key]:
    for name, field in table.model_fields.items():
        path = (*above, str(field.alias))
        yield Key(
            file=file,
            path=path,
            table=table.title,
            takes=_listed_ways(field),
            help=field.description or "",
            examples=tuple(as_written(example) for example in field.examples or ()),
            is_needed=name in table.needed,
        )
        for inner in dict.fromkeys(_tables(field.annotation)):
            yield from _keys(file, inner, path)


def _tables(annotation: Any) -> Iterator[type[WrittenTable]]:
    """The tables that may stand at a key, alone or as a list's entries."""
    if isinstance(annotation, type) and issubclass(annotation, WrittenTable):
        yield annotation
    for part in get_args(annotation):
        yield from _tables(part)


# --- what may stand at a key --------------------------------------------------------------------------------


def _listed_ways(field: FieldInfo) -> str:
    ways = tuple(dict.fromkeys(_ways(field.annotation, field.metadata)))
    return listed(ways) if all(" " not in way for way in ways) else ", or ".join(ways)


def _ways(annotation: Any, metadata: Any = ()) -> Iterator[str]:
    """Every way in which a value may be written, in words."""
    if annotation is type(None):
        return
    schema = next((one.json_schema for one in metadata if isinstance(one, WithJsonSchema)), None)
    if schema is not None:
        yield from _ways_of_schema(schema)
    elif isinstance(annotation, type) and issubclass(annotation, WrittenTable):
        yield "keys of its own"
    elif get_origin(annotation) is list:
        entries = tuple(_ways(get_args(annotation)[0]))
        yield f"a list of {' or '.join(_PLURALS.get(entry, entry) for entry in entries)}"
    elif hasattr(annotation, "__metadata__"):
        yield from _ways(get_args(annotation)[0], annotation.__metadata__)
    else:
        for part in get_args(annotation):
            yield from _ways(part)


_PLURALS = {
    "keys of its own": "entries with keys of their own",
    "a length": "lengths",
    "a whole number": "whole numbers",
    "text": "texts",
}


def _ways_of_schema(schema: dict[str, Any]) -> Iterator[str]:
    """The words of a choice, or the name of a kind of value."""
    for kind, words in _PLAIN:
        if schema == get_args(kind)[1].json_schema:
            yield words
            return
    if "enum" in schema:
        yield listed(choice_words(schema))
        return
    yield "a length"
    yield listed(word for choice in schema["anyOf"] for word in choice_words(choice))
