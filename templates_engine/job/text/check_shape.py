"""Turns a file's tree into the tables of `schema.py`; refuses unknown, missing and misshapen values.

Each mistake is reported and cut out, so that all that is sound is still read; the meaning of the texts is
for `job/read`.
"""

from __future__ import annotations

import re
from typing import Any, TypeVar

from templates_engine.job.help.synonyms import OTHER_WORDS
from templates_engine.job.read.file_reading import FileReading
from templates_engine.job.text.key_paths import KeyPath, shown
from templates_engine.job.text.yaml_tree import YamlTree
from templates_engine.job.written_tables import Form, Key, Way, WrittenTable, as_written
from templates_engine.job.written_values import Written, WrittenList, WrittenText
from templates_engine.trade.not_in_tables import listed, nearest

TableT = TypeVar("TableT", bound=WrittenTable)

_HOW_TO_WRITE = {
    Form.TEXT: "Write one value after the colon",
    Form.KEYS: "Write keys with values, indented on the lines below or in { }",
    Form.LIST: "Write the entries in [ ], or each on a line of its own after a dash",
}


def written_tables(tree: YamlTree, reading: FileReading, root: type[TableT]) -> TableT:
    """The file as its tables, ``root`` holding all others; what did not fit is reported in ``reading``, which
    then knows it as broken.
    """
    check = _ShapeCheck(reading, root)
    for path, line in tree.without_value.items():
        check.without_value(path, line)
    return check.table(root, tree.content, ())


class _ShapeCheck:
    """One file being checked: where its problems go, and the table that holds all others."""

    def __init__(self, reading: FileReading, root: type[WrittenTable]) -> None:
        self.reading = reading
        self.root = root

    # --- walking the file ---

    def table(self, table: type[TableT], content: dict[str, Any], path: KeyPath) -> TableT:
        """The table with what of ``content`` it takes; the rest is reported, and what is missing."""
        keys = table.keys_by_name()
        for name in content:
            if name not in keys:
                self._unknown_key(table, content, (*path, name))
        values = {}
        for key in keys.values():
            if key.name in content:
                values[key.field] = self._value(content[key.name], key, key.ways, (*path, key.name))
            if key.is_needed and self.reading.is_sound(path):
                self._needed(key, values.get(key.field), (*path, key.name))
        return table(self.reading, path, **values)

    def _value(self, value: Any, key: Key, ways: tuple[Way, ...], path: KeyPath) -> Written:
        """The value, or something empty of the right form where it is written in none of the ways."""
        written = _form(value)
        way = next((way for way in ways if way.form is written), None)
        if way is None:
            wanted = [form for form in Form if form in {way.form for way in ways}]
            self._wrong_form(written, wanted, key, path)
            way = next(way for way in ways if way.form is wanted[0])
            return self._empty(way, path)
        if way.table:
            return self.table(way.table, value, path)
        if way.entries:
            parts = [self._value(part, key, way.entries, (*path, place)) for place, part in enumerate(value)]
            return WrittenList(self.reading, path, parts)
        return WrittenText(self.reading, path, value)

    def _empty(self, way: Way, path: KeyPath) -> Written:
        if way.table:
            return way.table(self.reading, path)
        return WrittenList(self.reading, path, ()) if way.entries else WrittenText(self.reading, path, "")

    # --- mistakes ---

    def _wrong_form(self, written: Form, wanted: list[Form], key: Key, path: KeyPath) -> None:
        example, what = key.example, f"`{key.name}`"
        if isinstance(path[-1], int):
            entries, what = key.examples[0], "This entry"
            if isinstance(entries, list) and entries and isinstance(entries[0], dict):
                example = f"- {as_written(entries[0])}"
        message = f"{what} is {written.value}, not {listed(form.value for form in wanted)}"
        self.reading.report(path, message, f"{_HOW_TO_WRITE[wanted[-1]]}, such as `{example}`.")

    def _needed(self, key: Key, value: Any, path: KeyPath) -> None:
        """Reports a key that has to be written and is not."""
        if value is None:
            self.reading.report(path, f"`{key.name}` is missing", f"Write it, such as `{key.example}`.")
        elif value == []:
            remedy = f"Write one at least, such as `{key.example}`."
            self.reading.report(path, f"`{key.name}` has no entries", remedy)

    def without_value(self, path: KeyPath, line: str) -> None:
        """Reports a key or an entry with nothing behind it, and says what can stand there."""
        name = next((step for step in reversed(path) if isinstance(step, str)), "")
        table = self._table_at(path[: path.index(name)] if name else ())
        key = table.keys_by_name().get(name)
        is_key = bool(path) and isinstance(path[-1], str)
        chosen = _key_of_word(table, name) if key is None else ""
        if chosen:
            remedy = f"Did you mean `{chosen}: {name}`?"
            self.reading.broken.add((*path[:-1], chosen))
        elif is_key and key is None and (homes := self._homes(name)):
            home = next(one for one in reversed(self.root.tables()) if name in one.keys_by_name())
            remedy = f"It belongs to {homes}, such as `{home.keys_by_name()[name].example}`."
        elif key and key.choices:
            remedy = f"Write {listed(key.choices)} after it, such as `{key.example}`, or take it out."
        elif key:
            remedy = f"Write it like `{key.example}`, or take it out."
        else:
            remedy = "Write a value after a colon and a space, or take it out."
        if re.search("(^| )#", line):
            remedy += " A `#` after a space begins a comment: put text that holds it in quotes."
        elif key is None and re.search(r"[{[].*,", line):
            remedy += " A comma between { } or [ ] ends the value: put text that holds it in quotes."
        self.reading.report(path, f"{f'`{shown(name)}`' if is_key else 'This entry'} has no value", remedy)

    def _unknown_key(self, table: type[WrittenTable], holder: dict[str, Any], path: KeyPath) -> None:
        """Reports a key its table does not have, and names what was meant or where it belongs."""
        reading, written, keys = self.reading, str(path[-1]), table.keys_by_name()
        missing = [name for name in keys if name not in holder]
        homes = self._homes(written)
        meant = nearest(written, missing)
        plural = next((key for key in (f"{written}s", written.removesuffix("s")) if key != written), "")
        usual = [*OTHER_WORDS.get(" ".join(written.lower().split()), ()), plural]
        same = next((key for key in usual if key in missing), None)
        chosen = _key_of_word(table, written)
        if same:
            remedy = f"Did you mean `{same}`?"
            reading.broken.add((*path[:-1], same))
        elif table.how_to_write:
            if path[:-1] in reading.broken:
                return
            remedy = f"Write {table.how_to_write}."
            reading.broken.add(path[:-1])
        elif chosen and chosen not in holder:
            remedy = f"Did you mean `{chosen}: {written}`?"
            reading.broken.add((*path[:-1], chosen))
        elif homes:
            remedy = f"It belongs to {homes}."
        elif meant:
            remedy = f"Did you mean `{meant}`?"
            reading.broken.add((*path[:-1], meant))
        elif elsewhere := next((key for key in usual if len(path) == 1 and self._homes(key)), None):
            remedy = f"Did you mean `{elsewhere}`? It belongs to {self._homes(elsewhere)}."
        else:
            remedy = f"{table.title.capitalize()} takes {listed(table.keys_by_name())}."
        reading.report(path, f"`{shown(written)}` is no key of {table.title}", remedy)

    # --- where keys stand ---

    def _table_at(self, path: KeyPath) -> type[WrittenTable]:
        """The table whose keys stand at ``path``."""
        table = self.root
        for step in path:
            key = table.keys_by_name().get(str(step))
            table = (key and key.table) or table
        return table

    def _homes(self, name: str) -> str:
        """The tables that have a key, in words, with where in the file their keys stand; empty for none."""
        homes = {
            table.title: self._place(table) for table in self.root.tables() if name in table.keys_by_name()
        }
        if not homes:
            return ""
        below = listed(dict.fromkeys(filter(None, homes.values())))
        where = f": write it below {below}, indented like the other keys there" if below else ", at the top"
        return f"{listed(homes)}{where}"

    def _place(self, table: type[WrittenTable]) -> str:
        """The key below which a table's keys stand, `enclosure:`; empty for the file itself."""
        for holder in reversed(self.root.tables()):
            for key in holder.keys_by_name().values():
                if key.table is table:
                    return f"`{key.name}:`"
        return ""


def _form(value: Any) -> Form:
    if isinstance(value, dict):
        return Form.KEYS
    return Form.LIST if isinstance(value, list) else Form.TEXT


def _key_of_word(table: type[WrittenTable], word: str) -> str:
    """The key of a table at which a word may stand that was written as a key; empty where it may at none."""
    keys = (key.name for key in table.keys_by_name().values() if word in key.choices)
    return "" if word in _TRUTHS else next(keys, "")


_TRUTHS = ("yes", "no", "true", "false")
