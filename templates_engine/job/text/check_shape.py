"""Turns a file's tree into the tables of `schema.py`; refuses unknown, missing and misshapen values.

Each mistake is reported and cut out, so that all that is sound is still read; the meaning of the texts is
for `job.py`.
"""

from __future__ import annotations

import re
from typing import Any, TypeVar, get_args

from pydantic import ValidationError
from pydantic.fields import FieldInfo

from templates_engine.job.help.synonyms import OTHER_WORDS
from templates_engine.job.read.file_reading import FileReading
from templates_engine.job.schema import KEYS, LIST, TEXT, WrittenTable, as_written, words_of
from templates_engine.job.text.key_paths import KeyPath, shown
from templates_engine.job.text.yaml_tree import YamlTree
from templates_engine.trade.names import listed, nearest

RootT = TypeVar("RootT", bound=WrittenTable)

_BRANCHES = (TEXT, KEYS, LIST)
_KIND_WORDS = {TEXT: "one value", KEYS: "a set of keys", LIST: "a list"}
_WANTED = {"string_type": TEXT, "list_type": LIST, "model_type": KEYS, "dict_type": KEYS}
_EMPTY: dict[str, Any] = {TEXT: "", KEYS: {}, LIST: []}
_HOW_TO_WRITE = {
    TEXT: "Write one value after the colon",
    KEYS: "Write keys with values, indented on the lines below or in { }",
    LIST: "Write the entries in [ ], or each on a line of its own after a dash",
}


def shape(tree: YamlTree, reading: FileReading, root: type[RootT]) -> RootT:
    """The file as its tables, ``root`` holding all others; what did not fit is reported in ``reading``, which
    then knows it as broken.
    """
    for path, line in tree.without_value.items():
        _without_value(reading, root, path, line)
    for _ in range(3):  # cutting one mistake out can show another of a value with two branches
        try:
            whole = root.model_validate(tree.content)
            break
        except ValidationError as error:
            for detail in error.errors(include_url=False, include_context=True, include_input=False):
                _cut_out(tree, reading, root, detail["type"], detail["loc"], detail.get("ctx", {}))
    else:
        raise AssertionError("a file's mistakes could not be cut out")
    _missing(whole, (), reading)
    return whole


def _cut_out(
    tree: YamlTree,
    reading: FileReading,
    root: type[WrittenTable],
    kind: str,
    location: tuple[str | int, ...],
    context: dict[str, Any],
) -> None:
    """Reports one mistake of shape and puts something empty of the right kind in its place."""
    path = _path(tree.content, location)
    holder = _at(tree.content, path[:-1])
    value = holder[path[-1]]
    if kind == "extra_forbidden":
        del holder[path[-1]]
        _unknown_key(reading, root, holder, path)
        return
    wanted = (
        [_WANTED[kind]] if kind in _WANTED else [b for b in _BRANCHES if b[1:] in context["expected_tags"]]
    )
    written = KEYS if isinstance(value, dict) else LIST if isinstance(value, list) else TEXT
    holder[path[-1]] = _EMPTY[wanted[0]]
    what = f"`{path[-1]}`" if isinstance(path[-1], str) else "This entry"
    message = f"{what} is {_KIND_WORDS[written]}, not {listed(_KIND_WORDS[branch] for branch in wanted)}"
    reading.report(path, message, f"{_HOW_TO_WRITE[wanted[-1]]}, such as {_example_at(root, path)}.")


def _path(content: Any, location: tuple[str | int, ...]) -> KeyPath:
    """pydantic's location without the names of branches, which no file has."""
    path: list[str | int] = []
    for step in location:
        inside = isinstance(content, dict) and step in content
        if inside or (isinstance(content, list) and isinstance(step, int)):
            path.append(step)
            content = content[step]
    return tuple(path)


def _at(content: Any, path: KeyPath) -> Any:
    for step in path:
        content = content[step]
    return content


# --- keys ---------------------------------------------------------------------------------------------------


def _tables(root: type[WrittenTable]) -> tuple[type[WrittenTable], ...]:
    """A table and all that stand in it, the innermost first."""
    parts = (_table_in(field.annotation) for field in root.model_fields.values())
    below = (table for part in parts if part for table in _tables(part))
    return tuple(dict.fromkeys((*below, root)))


def _table_in(annotation: Any) -> type[WrittenTable] | None:
    """The table that a field holds, alone, in a list or as one of its branches."""
    if isinstance(annotation, type) and issubclass(annotation, WrittenTable):
        return annotation
    return next((table for part in get_args(annotation) if (table := _table_in(part))), None)


def _field(table: type[WrittenTable], name: str) -> FieldInfo | None:
    return next((field for field in table.model_fields.values() if field.alias == name), None)


def _table_at(root: type[WrittenTable], path: KeyPath) -> type[WrittenTable]:
    """The table whose keys stand at ``path``."""
    table = root
    for step in path:
        field = _field(table, step) if isinstance(step, str) else None
        table = (field and _table_in(field.annotation)) or table
    return table


def _example(table: type[WrittenTable], name: str) -> str:
    """What the schema shows for a key, as one would write it."""
    field = _field(table, name)
    assert field is not None
    assert field.examples
    return f"`{name}: {as_written(field.examples[0])}`"


def _example_at(root: type[WrittenTable], path: KeyPath) -> str:
    """The example of the key that the value at ``path`` belongs to, itself or as an entry of its list."""
    if isinstance(path[-1], int) and isinstance(path[-2], str):
        field = _field(_table_at(root, path[:-2]), path[-2])
        entries = field.examples[0] if field and field.examples else None
        if isinstance(entries, list) and entries and isinstance(entries[0], dict):
            return f"`- {as_written(entries[0])}`"
    while path and not isinstance(path[-1], str):
        path = path[:-1]
    return _example(_table_at(root, path[:-1]), str(path[-1]))


def _without_value(reading: FileReading, root: type[WrittenTable], path: KeyPath, line: str) -> None:
    """Reports a key or an entry with nothing behind it, and says what can stand there."""
    name = next((step for step in reversed(path) if isinstance(step, str)), "")
    table = _table_at(root, path[: path.index(name)] if name else ())
    field = _field(table, name)
    is_key = bool(path) and isinstance(path[-1], str)
    what = f"`{shown(name)}`" if is_key else "This entry"
    words = words_of(field) if field else ()
    chosen = _key_of_word(table, name) if field is None else ""
    if chosen:
        remedy = f"Did you mean `{chosen}: {name}`?"
        reading.broken.add((*path[:-1], chosen))
    elif is_key and field is None and (homes := _homes(root, name)):
        home = next(one for one in reversed(_tables(root)) if name in one.known_keys())
        remedy = f"It belongs to {homes}, such as {_example(home, name)}."
    elif words:
        remedy = f"Write {listed(words)} after it, such as {_example(table, name)}, or take it out."
    elif field:
        remedy = f"Write it like {_example(table, name)}, or take it out."
    else:
        remedy = "Write a value after a colon and a space, or take it out."
    if re.search("(^| )#", line):
        remedy += " A `#` after a space begins a comment: put text that holds it in quotes."
    elif field is None and re.search(r"[{[].*,", line):
        remedy += " A comma between { } or [ ] ends the value: put text that holds it in quotes."
    reading.report(path, f"{what} has no value", remedy)


def _key_of_word(table: type[WrittenTable], word: str) -> str:
    """The key of a table at which a word may stand that was written as a key; empty where it may at none."""
    keys = (str(field.alias) for field in table.model_fields.values() if word in words_of(field))
    return "" if word in _TRUTHS else next(keys, "")


_TRUTHS = ("yes", "no", "true", "false")


def _homes(root: type[WrittenTable], name: str) -> str:
    """The tables that have a key, in words, with where in the file their keys stand; empty for no table."""
    homes = {table.title: _place(root, table) for table in _tables(root) if name in table.known_keys()}
    if not homes:
        return ""
    below = listed(dict.fromkeys(filter(None, homes.values())))
    where = f": write it below {below}, indented like the other keys there" if below else ", at the top"
    return f"{listed(homes)}{where}"


def _place(root: type[WrittenTable], table: type[WrittenTable]) -> str:
    """The key below which a table's keys stand, `enclosure:`; empty for the file itself."""
    for holder in reversed(_tables(root)):
        for field in holder.model_fields.values():
            if _table_in(field.annotation) is table:
                return f"`{field.alias}:`"
    return ""


def _unknown_key(
    reading: FileReading, root: type[WrittenTable], holder: dict[str, Any], path: KeyPath
) -> None:
    """Reports a key its table does not have, and names the one that was meant or the table it belongs to."""
    table, written = _table_at(root, path[:-1]), str(path[-1])
    homes = _homes(root, written)
    meant = nearest(written, [known for known in table.known_keys() if known not in holder])
    plural = next((key for key in (f"{written}s", written.removesuffix("s")) if key != written), "")
    usual = [*OTHER_WORDS.get(" ".join(written.lower().split()), ()), plural]
    same = next((key for key in usual if key in table.known_keys() and key not in holder), None)
    chosen = _key_of_word(table, written)
    if same:
        remedy = f"Did you mean `{same}`?"
        reading.broken.add((*path[:-1], same))
    elif table.forms:
        if path[:-1] in reading.broken:
            return
        remedy = f"Write {table.forms}."
        reading.broken.add(path[:-1])
    elif chosen and chosen not in holder:
        remedy = f"Did you mean `{chosen}: {written}`?"
        reading.broken.add((*path[:-1], chosen))
    elif homes:
        remedy = f"It belongs to {homes}."
    elif meant:
        remedy = f"Did you mean `{meant}`?"
        reading.broken.add((*path[:-1], meant))
    elif elsewhere := next((key for key in usual if len(path) == 1 and _homes(root, key)), None):
        remedy = f"Did you mean `{elsewhere}`? It belongs to {_homes(root, elsewhere)}."
    else:
        remedy = f"{table.title.capitalize()} takes {listed(table.known_keys())}."
    reading.report(path, f"`{shown(written)}` is no key of {table.title}", remedy)


def _missing(value: Any, path: KeyPath, reading: FileReading) -> None:
    """Reports the keys that have to be written and are not."""
    if not reading.is_sound(path):
        return
    if isinstance(value, list):
        for place, part in enumerate(value):
            _missing(part, (*path, place), reading)
    if not isinstance(value, WrittenTable):
        return
    for name, field in type(value).model_fields.items():
        part, known = getattr(value, name), str(field.alias)
        if name in value.needed and part in (None, []):
            what = "is missing" if part is None else "has no entries"
            remedy = (
                f"Write {'it' if part is None else 'one at least'}, such as {_example(type(value), known)}."
            )
            reading.report((*path, known), f"`{known}` {what}", remedy)
        _missing(part, (*path, known), reading)
