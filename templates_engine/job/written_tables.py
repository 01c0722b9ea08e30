"""Turns the tables that a `schema.py` declares into their keys and the ways to write a value there.

A value of a file is a text, a set of keys or a list, whatever it means: a table's types say which, and what
an editor shows stands beside them.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum
from functools import cache
from typing import Annotated, Any, ClassVar, get_args, get_origin, get_type_hints

from templates_engine.job.read.file_reading import FileReading
from templates_engine.job.text.key_paths import KeyPath
from templates_engine.job.written_values import Written, WrittenList, WrittenText
from templates_engine.values import Struct


class Form(Enum):
    """What a value is in the file, whatever it means; in the order in which a message names them."""

    TEXT = "one value"
    KEYS = "a set of keys"
    LIST = "a list"


class TextKind(Struct, frozen=True, eq=False):
    """Stands beside the type of a text: what is written there, and the JSON Schema that an editor gets."""

    words: str
    """Such as "a length"; empty for a choice of words, which the schema has."""
    schema: dict[str, Any]

    @property
    def choices(self) -> tuple[str, ...]:
        """The words of its choice, each in one spelling; none where it has none."""
        offered = (self.schema, *self.schema.get("anyOf", ()))
        words = (word for one in offered for word in one.get("enum", ()) if isinstance(word, str))
        return tuple(dict.fromkeys(word for word in words if word not in _SECOND_SPELLINGS))


_SECOND_SPELLINGS = ("true", "false", "center", "centered")


class Way(Struct, frozen=True):
    """One way to write a value: a text of a kind, a table's keys, or a list of entries."""

    text: TextKind | None = None
    table: type[WrittenTable] | None = None
    entries: tuple[Way, ...] = ()
    """The ways to write one of its entries."""

    @property
    def form(self) -> Form:
        return Form.TEXT if self.text else Form.KEYS if self.table else Form.LIST


class Key(Struct, frozen=True):
    """A key of a table."""

    name: str
    """As it is written in the file."""
    field: str
    """What Python calls it."""
    help: str
    examples: tuple[Any, ...]
    ways: tuple[Way, ...]
    is_needed: bool
    """Whether it has to be written."""
    unwritten: type[WrittenText] | type[WrittenList[Any]] | None
    """What stands in the table where nothing is written."""

    @property
    def every_way(self) -> tuple[Way, ...]:
        """The ways to write its value, and those to write an entry of it."""
        return tuple(one for way in self.ways for one in (way, *way.entries))

    @property
    def choices(self) -> tuple[str, ...]:
        """The words of which one has to stand there; none where another text may too."""
        kinds = [way.text for way in self.every_way if way.text]
        return kinds[0].choices if len(kinds) == 1 and "enum" in kinds[0].schema else ()

    @property
    def table(self) -> type[WrittenTable] | None:
        """The table that may stand there, itself or as an entry of a list."""
        return next((way.table for way in self.every_way if way.table), None)

    @property
    def example(self) -> str:
        """The key with a value, as one would write it."""
        return f"{self.name}: {as_written(self.examples[0])}"


def as_written(value: Any) -> str:
    """An example as one would write it in the file."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{name}: {as_written(part)}" for name, part in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(as_written(part) for part in value) + "]" if value else "[...]"
    return str(value)


# --- to declare a table with --------------------------------------------------------------------------------


class Declared(Struct, frozen=True):
    """Stands at a key of a table: the help an editor shows, and what one writes there."""

    help: str
    examples: tuple[object, ...]


def key(help_text: str, example: object, *more: object) -> Any:
    """A key of a table, for its type to say how it is written."""
    return Declared(help_text, (example, *more))


class WrittenTable(Written):
    """Base of all tables of a file; its fields are the keys, with _ for a space and after a Python word."""

    title: ClassVar[str]
    """What the table is called in messages, with its article."""
    needed: ClassVar[tuple[str, ...]] = ()
    """Keys that have to be written."""
    how_to_write: ClassVar[str] = ""
    """How the whole is written, to be shown where a key is unknown; empty where keys' names are enough."""

    def __init__(self, reading: FileReading, path: KeyPath, **written: Any) -> None:
        """A table of some fields; the others are there too, but not written: None where only keys can be."""
        super().__init__(reading, path)
        for key in self.keys_by_name().values():
            value = written.get(key.field)
            if value is None and key.unwritten:
                value = key.unwritten(reading, (*path, key.name))
            setattr(self, key.field, value)

    def under(self, name: str) -> Written:
        """The place of a key, whatever stands there."""
        return Written(self.reading, (*self.path, name))

    @classmethod
    @cache
    def keys_by_name(cls) -> dict[str, Key]:
        """Its keys, in the order they are declared."""
        keys = (
            _key(field, declared, kind, cls)
            for field, kind in get_type_hints(cls, include_extras=True).items()
            if isinstance(declared := getattr(cls, field, None), Declared)
        )
        return {one.name: one for one in keys}

    @classmethod
    def tables(cls) -> tuple[type[WrittenTable], ...]:
        """The tables that stand in it, the innermost first, and itself."""
        below = (table for key in cls.keys_by_name().values() if key.table for table in key.table.tables())
        return tuple(dict.fromkeys((*below, cls)))


def one_of(words: tuple[object, ...]) -> TextKind:
    """These words alone, for the editor; the reader compares them itself."""
    return TextKind("", {"enum": list(words)})


def length_or(words: tuple[str, ...]) -> TextKind:
    """A length, or one of the words."""
    return TextKind("a length", {"anyOf": [{"enum": list(words)}, {"type": ["string", "number"]}]})


_WHOLE_NUMBER = {"anyOf": [{"type": "integer", "minimum": 1}, {"type": "string", "pattern": "^[0-9]+$"}]}

Text = Annotated[WrittenText, TextKind("text", {"type": ["string", "number", "boolean"]})]
Length = Annotated[WrittenText, TextKind("a length", {"type": ["string", "number"]})]
Number = Annotated[WrittenText, TextKind("a whole number", _WHOLE_NUMBER)]
Amperes = Annotated[WrittenText, TextKind("amperes", {"type": ["string", "integer"]})]
Temperature = Annotated[WrittenText, TextKind("a temperature", {"type": "string"})]
YesNo = Annotated[WrittenText, one_of(("yes", "no", True, False, "true", "false"))]

# --- from the declaration to keys ---------------------------------------------------------------------------


def _key(field: str, declared: Declared, kind: Any, table: type[WrittenTable]) -> Key:
    name = field.rstrip("_").replace("_", " ")
    ways = tuple(_ways(kind))
    forms = {way.form for way in ways}
    unwritten = WrittenText if Form.TEXT in forms else WrittenList if Form.LIST in forms else None
    return Key(name, field, declared.help, declared.examples, ways, name in table.needed, unwritten)


def _ways(kind: Any) -> Iterator[Way]:
    """The ways to write a value of a type."""
    if isinstance(kind, type) and issubclass(kind, WrittenTable):
        yield Way(table=kind)
    elif get_origin(kind) is WrittenList:
        yield Way(entries=tuple(_ways(get_args(kind)[0])))
    elif get_origin(kind) is Annotated:
        yield Way(text=get_args(kind)[1])
    else:
        for part in get_args(kind):
            yield from _ways(part)
