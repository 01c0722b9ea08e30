"""Changes one value in the text of a job file, in its place, so that comments, order and all else stay.

A change is made between the marks of the parsed text, then the text is parsed again: where it does not say
exactly what was asked, and nothing else, the change is refused (aliases, keys over several lines, ...).
"""

from __future__ import annotations

import copy
from collections.abc import Callable, Sequence
from typing import Any

import yaml

from templates_engine.job.text.key_paths import KeyPath, value_at

Value = str | dict[str, Any] | list[Any]
"""What a value can be: text, keys with values, a list; every number is written as text."""

_LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
"""Reads every scalar as text."""
_LONGEST_IN_BRACES = 100
"""Characters of a set of keys that still goes on one line."""
_STEP = 2
"""Columns a new level is indented."""


class CannotEdit(Exception):
    """The text has to be changed by hand; the message says why."""


def no_order(path: KeyPath) -> Sequence[str]:
    """No order of keys: new ones come last."""
    return ()


def put(text: str, path: KeyPath, value: Value, order: Callable[[KeyPath], Sequence[str]] = no_order) -> str:
    """The text with ``value`` at ``path``, in place of what is there or as a new key or entry.

    A path may end in a list place one past the last. ``order`` gives the keys of a table in their usual
    order, by which a new key finds its place. Raises CannotEdit.
    """
    was = _content(text)
    wanted = _with(copy.deepcopy(was), path, value)
    edited = _Editor(text, order).put(path, value)
    return _checked(edited, wanted)


def insert(text: str, path: KeyPath, value: Value) -> str:
    """The text with ``value`` as a new entry of a list, before the one at ``path``. Raises CannotEdit."""
    wanted = copy.deepcopy(_content(text))
    entries, place = value_at(wanted, path[:-1]), path[-1]
    if not isinstance(entries, list) or not isinstance(place, int):
        raise CannotEdit(f"{path} is no place in a list.")
    if place >= len(entries):
        return put(text, (*path[:-1], len(entries)), value)
    entries.insert(place, value)
    return _checked(_Editor(text, no_order).insert(path, value), wanted)


def take_out(text: str, path: KeyPath) -> str:
    """The text without the key or the entry at ``path``, nor the table that then holds nothing.

    Nothing happens where there is none. Raises CannotEdit.
    """
    wanted = copy.deepcopy(_content(text))
    holder = value_at(wanted, path[:-1])
    there = len(holder) if isinstance(holder, list) else 0
    if holder is None or (path[-1] not in holder if isinstance(holder, dict) else int(path[-1]) >= there):
        return text
    if len(holder) == 1 and len(path) > 1 and isinstance(path[-2], str):
        return take_out(text, path[:-1])
    del holder[path[-1]]
    return _checked(_Editor(text, no_order).take_out(path), wanted)


def content(text: str) -> dict[str, Any]:
    """The text's tree, every scalar as text; raises CannotEdit where it is no set of keys."""
    return _content(text)


def _content(text: str) -> dict[str, Any]:
    try:
        tree = yaml.load(text, Loader=_LOADER)
    except yaml.YAMLError as error:
        raise CannotEdit("The text cannot be read.") from error
    if tree in (None, ""):
        return {}
    if not isinstance(tree, dict):
        raise CannotEdit("The text holds no keys.")
    return tree


def _checked(text: str, wanted: dict[str, Any]) -> str:
    if _content(text) != wanted:
        raise CannotEdit("This place has to be changed in the text.")
    return text


def _with(tree: Any, path: KeyPath, value: Value) -> Any:
    """The tree with a value put in; what is missing on the way is made."""
    if not path:
        return value
    step, rest = path[0], path[1:]
    if isinstance(step, int):
        entries = tree if isinstance(tree, list) else []
        if step > len(entries):
            raise CannotEdit(f"There is no entry {step} yet.")
        old = entries[step] if step < len(entries) else None
        return [*entries[:step], _with(old, rest, value), *entries[step + 1 :]]
    table = dict(tree) if isinstance(tree, dict) else {}
    table[step] = _with(table.get(step), rest, value)
    return table


# --- writing values -----------------------------------------------------------------------------------------


_IN_BRACES, _ON_A_LINE = ("{{k: {}}}", "[{}]", "{{{}: }}"), ("k: {}", "- {}", "{}: ")
"""Where a text may stand; in braces a comma ends it."""


def as_scalar(text: str, frames: Sequence[str] = _IN_BRACES) -> str:
    """Text as YAML writes it: plain where that reads back as the same, in double quotes where not."""
    plain = text if "\n" not in text and text == text.strip() else ""
    for frame in frames:
        try:
            read = yaml.load(frame.format(plain), Loader=_LOADER)
        except yaml.YAMLError:
            break
        if not plain or read not in ({"k": plain}, [plain], {plain: ""}):
            break
    else:
        return plain
    escaped = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n").replace("\t", "\\t")
    return f'"{escaped}"'


def as_flow(value: Value) -> str:
    """A value on one line, in braces and brackets."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{as_scalar(key)}: {as_flow(part)}" for key, part in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(as_flow(part) for part in value) + "]"
    return as_scalar(value)


def as_block(value: Value, indent: int) -> str:
    """A value over several lines, each indented; what is short and holds only text stays in braces."""
    pad = " " * indent
    if isinstance(value, dict) and value:
        return "\n".join(
            f"{pad}{as_scalar(key, _ON_A_LINE)}:{_after_colon(part, indent)}" for key, part in value.items()
        )
    if isinstance(value, list) and value:
        return "\n".join(f"{pad}- {_entry(part, indent)}" for part in value)
    return pad + _on_a_line(value)


def _on_a_line(value: Value) -> str:
    """A value on a line that is in no braces."""
    return as_scalar(value, _ON_A_LINE) if isinstance(value, str) else as_flow(value)


def _after_colon(value: Value, indent: int) -> str:
    return f" {_on_a_line(value)}" if _fits_a_line(value) else f"\n{as_block(value, indent + _STEP)}"


def _entry(value: Value, indent: int) -> str:
    """An entry of a list behind its dash."""
    return _on_a_line(value) if _fits_a_line(value) else as_block(value, indent + _STEP).lstrip()


def _fits_a_line(value: Value) -> bool:
    if isinstance(value, str) or not value:
        return True
    parts = value.values() if isinstance(value, dict) else value
    deep = any(isinstance(part, dict | list) and part for part in parts)
    lists_keys = isinstance(value, list) and any(isinstance(part, dict) for part in value)
    return (
        not lists_keys and (not deep or isinstance(value, dict)) and len(as_flow(value)) <= _LONGEST_IN_BRACES
    )


# --- changing the text --------------------------------------------------------------------------------------


class _Editor:
    """One text with its nodes, and where each begins and ends in it."""

    def __init__(self, text: str, order: Callable[[KeyPath], Sequence[str]]) -> None:
        self.text, self.order = text, order
        self.root = yaml.compose(text, Loader=_LOADER)

    def put(self, path: KeyPath, value: Value) -> str:
        node, done = self.root, 0
        if node is None or (isinstance(node, yaml.ScalarNode) and not node.value):
            return f"{self._ended()}{as_block(_with({}, path, value), 0)}\n"
        for step in path:
            inner = self._child(node, step)
            if inner is None:
                return self._add(node, path[:done], step, _with(None, path[done + 1 :], value))
            node, done = inner, done + 1
            if isinstance(node, yaml.ScalarNode) and done < len(path):
                return self._replace(path[:done], node, _with(None, path[done:], value))
        return self._replace(path, node, value)

    def insert(self, path: KeyPath, value: Value) -> str:
        holder = self._node(path[:-1])
        entry = holder.value[path[-1]]
        if holder.flow_style:
            return self._spliced(entry.start_mark.index, entry.start_mark.index, f"{as_flow(value)}, ")
        dash = self.text.rindex("-", 0, entry.start_mark.index + 1)
        column = dash - self._line_start(dash)
        new = f"{as_block([value], column).lstrip()}\n{' ' * column}"
        return self._spliced(dash, dash, new)

    def take_out(self, path: KeyPath) -> str:
        holder, step = self._node(path[:-1]), path[-1]
        parts = holder.value
        starts = [
            part[0].start_mark.index if isinstance(part, tuple) else part.start_mark.index for part in parts
        ]
        ends = [self._end(part[1] if isinstance(part, tuple) else part) for part in parts]
        at = step if isinstance(step, int) else [key.value for key, _ in parts].index(step)
        if holder.flow_style:
            if at + 1 < len(parts):
                return self._spliced(starts[at], starts[at + 1], "")
            return self._spliced(ends[at - 1] if at else starts[at], ends[at], "")
        if isinstance(step, int):
            starts = [self.text.rindex("-", 0, start + 1) for start in starts]
        line = self._line_start(starts[at])
        if not self.text[line : starts[at]].strip():
            return self._spliced(line, self._line_end(ends[at]) + 1, "")
        if at + 1 == len(parts):
            raise CannotEdit("The only part of an entry has to be taken out in the text.")
        return self._spliced(starts[at], starts[at + 1], "")

    # --- parts ---

    def _replace(self, path: KeyPath, node: yaml.Node, value: Value) -> str:
        """A value in place of another; new keys over several lines where the old ones were."""
        start, end = node.start_mark.index, self._end(node)
        if (
            isinstance(node, yaml.CollectionNode)
            and not node.flow_style
            and path
            and isinstance(path[-1], str)
        ):
            key = self._key(path)
            start = self.text.index(":", key.end_mark.index) + 1
            return self._spliced(start, end, _after_colon(value, self._column(key)))
        if isinstance(node, yaml.ScalarNode) and start == end and path and isinstance(path[-1], str):
            key = self._key(path)
            start = end = self.text.index(":", key.end_mark.index) + 1
            if self._is_in_flow(path):
                return self._spliced(start, end, f" {as_flow(value)}")
            return self._spliced(start, end, _after_colon(value, self._column(key)))
        ended = "\n" if self.text[start:end].endswith("\n") else ""
        written = as_flow(value) if self._is_in_flow(path) else _on_a_line(value)
        return self._spliced(start, end, written + ended)

    def _add(self, node: Any, path: KeyPath, step: str | int, value: Value) -> str:
        """A new key or a new last entry."""
        if not isinstance(node, yaml.SequenceNode if isinstance(step, int) else yaml.MappingNode):
            raise CannotEdit("This place has to be changed in the text.")
        if isinstance(step, int):
            return self._add_entry(node, path, value)
        pairs = node.value
        known = list(self.order(path))
        before = known[: known.index(step)] if step in known else [key.value for key, _ in pairs]
        after = max((at for at, (key, _) in enumerate(pairs) if key.value in before), default=-1)
        if node.flow_style:
            pair = f"{as_scalar(step)}: {as_flow(value)}"
            if not pairs:
                return self._spliced(node.start_mark.index + 1, node.start_mark.index + 1, pair)
            if after < 0:
                first = pairs[0][0].start_mark.index
                return self._spliced(first, first, f"{pair}, ")
            end = self._end(pairs[after][1]) or pairs[after][0].end_mark.index
            return self._spliced(end, end, f", {pair}")
        column = self._column(pairs[0][0])
        new = as_block({step: value}, column)
        if after < 0:
            first = pairs[0][0].start_mark.index
            return self._spliced(first, first, f"{new.lstrip()}\n{' ' * column}")
        return self._new_line_after(self._end(pairs[after][1]), new)

    def _add_entry(self, node: Any, path: KeyPath, value: Value) -> str:
        entries = node.value
        if node.flow_style:
            end = self._end(entries[-1]) if entries else node.start_mark.index + 1
            return self._spliced(end, end, f"{', ' if entries else ''}{as_flow(value)}")
        dash = self.text.rindex("-", 0, entries[0].start_mark.index + 1)
        return self._new_line_after(self._end(entries[-1]), as_block([value], dash - self._line_start(dash)))

    def _new_line_after(self, place: int, new: str) -> str:
        at = self._line_end(place)
        return self._spliced(at, at, f"\n{new}")

    def _spliced(self, start: int, end: int, new: str) -> str:
        return self.text[:start] + new + self.text[end:]

    def _ended(self) -> str:
        return self.text if not self.text or self.text.endswith("\n") else f"{self.text}\n"

    # --- places ---

    def _child(self, node: yaml.Node, step: str | int) -> yaml.Node | None:
        if isinstance(node, yaml.MappingNode):
            return next((value for key, value in node.value if key.value == step), None)
        if isinstance(node, yaml.SequenceNode) and isinstance(step, int) and step < len(node.value):
            found: yaml.Node = node.value[step]
            return found
        return None

    def _node(self, path: KeyPath) -> Any:
        node = self.root
        for step in path:
            node = self._child(node, step)  # type: ignore[arg-type]
        return node

    def _key(self, path: KeyPath) -> yaml.Node:
        found: yaml.Node = next(key for key, _ in self._node(path[:-1]).value if key.value == path[-1])
        return found

    def _is_in_flow(self, path: KeyPath) -> bool:
        return any(self._node(path[:depth]).flow_style for depth in range(len(path)))

    def _column(self, node: yaml.Node) -> int:
        return int(node.start_mark.column)

    def _end(self, node: yaml.Node) -> int:
        """Where a node's text ends: a block's with its last part, without the lines and remarks after it."""
        while isinstance(node, yaml.CollectionNode) and not node.flow_style and node.value:
            last = node.value[-1]
            key, node = last if isinstance(last, tuple) else (None, last)
            if key is not None and node.start_mark.index == node.end_mark.index:
                return self.text.index(":", key.end_mark.index) + 1
        return int(node.end_mark.index)

    def _line_start(self, place: int) -> int:
        return self.text.rfind("\n", 0, place) + 1

    def _line_end(self, place: int) -> int:
        """The end of the line on which what ends at ``place`` stands."""
        if place and self.text[place - 1] == "\n":
            return place - 1
        end = self.text.find("\n", place)
        return len(self.text) if end < 0 else end
