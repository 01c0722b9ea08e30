"""Turns a job tree into the text of a new job file, its keys in their usual order, with remarks."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import yaml

from templates_engine.job.help.key_order import keys_in_order
from templates_engine.job.text.edit import as_block
from templates_engine.job.text.key_paths import KeyPath
from templates_engine.office.schedules.job_tree import JobTree

_LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
_REMARKS = {
    ("enclosure", "width"): "outside, left to right",
    ("enclosure", "height"): "outside, top to bottom",
    ("enclosure", "depth"): "outside, back to front",
    ("enclosure", "back gap"): "how far the can stands off the wall",
    ("faces", "mark from"): "the side of the metal the sheet is taped to",
    ("faces", "rows", "gap"): "clear gap between neighbours",
    ("faces", "rows", "spacing"): "centre to centre",
    ("faces", "rows", "snap"): "centres on this graduation of the tape",
    ("faces", "rows", "raceways"): "left to right, facing the front; top to bottom on the sides",
}
"""What is said behind keys, by their path without places."""


def new_text(tree: JobTree, source: str) -> str:
    """The whole file; every raceway says which row of the schedule it comes from."""
    content = _in_order(tree.content, ())
    head = f"# Made from {source}. What the schedule does not say may be added here: it is kept.\n"
    parts = ["\n".join(_lines({key: value}, ())) for key, value in content.items()]
    text = head + "\n".join(part if "\n" not in part else f"\n{part}" for part in parts) + "\n"
    return _with_remarks(text, tree)


_OVER_LINES = (
    ("enclosure",),
    ("faces",),
    ("faces", "rows"),
    ("faces", "rows", "raceways"),
)
"""What never goes into braces."""


def _lines(table: dict[str, Any], path: KeyPath) -> Iterator[str]:
    """A table's keys, one a line or more, what is large over several lines however short it is."""
    for key, value in table.items():
        here = (*path, key)
        if here not in _OVER_LINES:
            yield from as_block({key: value}, 0).splitlines()
            continue
        yield f"{key}:"
        if isinstance(value, dict):
            yield from (f"  {line}" for line in _lines(value, here))
        else:
            yield from (f"  {line}" for entry in value for line in _entry(entry, here))


def _entry(entry: dict[str, Any], path: KeyPath) -> Iterator[str]:
    """An entry of a list, behind its dash."""
    is_raceway = path[-1] == "raceways"
    lines = as_block([entry], 0).splitlines() if is_raceway else list(_lines(entry, path))
    for at, line in enumerate(lines):
        yield line if is_raceway else f"{'  ' if at else '- '}{line}"


def _in_order(value: Any, path: KeyPath) -> Any:
    """The tree with the keys of every table in the schema's order."""
    if isinstance(value, list):
        return [_in_order(part, (*path, at)) for at, part in enumerate(value)]
    if not isinstance(value, dict):
        return value
    order = keys_in_order(path)
    known = sorted(value, key=lambda key: order.index(key) if key in order else len(order))
    return {key: _in_order(value[key], (*path, key)) for key in known}


def _with_remarks(text: str, tree: JobTree) -> str:
    lines = text.splitlines()
    for line, remark in _remarks(yaml.compose(text, Loader=_LOADER), tree, ()):
        lines[line] += f"  # {remark}"
    return "\n".join(lines) + "\n"


def _remarks(node: Any, tree: JobTree, path: KeyPath) -> Iterator[tuple[int, str]]:
    """The lines that get a remark, and which."""
    if isinstance(node, yaml.SequenceNode):
        for at, entry in enumerate(node.value):
            here = (*path, at)
            if path[-1:] == ("raceways",) and here in tree.places:
                yield entry.start_mark.line, f"row {tree.places[here].row}"
            else:
                yield from _remarks(entry, tree, here)
    elif isinstance(node, yaml.MappingNode) and not node.flow_style:
        for key, value in node.value:
            here = (*path, key.value)
            plain = tuple(step for step in here if isinstance(step, str))
            if plain in _REMARKS:
                yield key.start_mark.line, _REMARKS[plain]
            yield from _remarks(value, tree, here)
