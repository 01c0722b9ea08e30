"""Turns the keys of the job and shop files into plain text, at most 100 columns wide."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from itertools import groupby, zip_longest

from templates_engine.job.help.keys import ListedKey

WIDTH = 100
_NEEDED = " *"
_EXAMPLE_WIDTH = 32


def keys_text(keys: Sequence[ListedKey]) -> str:
    """Every key below the one it belongs to, with what may stand there and an example."""
    parts = [_file_text(file, tuple(group)) for file, group in groupby(keys, key=lambda key: key.file)]
    legend = f"{_NEEDED.strip()} has to be written. Tell me more of one: templates-engine keys KEY\n"
    return "\n".join([*parts, legend])


def key_text(keys: Iterable[ListedKey]) -> str:
    """All that is known of one key, at every place it may stand."""
    return "\n".join(_one_text(key) for key in keys)


def _file_text(file: str, keys: Sequence[ListedKey]) -> str:
    names = [f"{'  ' * (len(key.path) - 1)}{key.name}{_NEEDED if key.is_needed else ''}" for key in keys]
    first = max(map(len, names)) + 2
    second = WIDTH - first - _EXAMPLE_WIDTH - 2
    lines = [f"{file}\n"]
    for name, key in zip(names, keys, strict=True):
        lines += _row((name, key.takes, key.examples[0]), (first, second, _EXAMPLE_WIDTH))
    return "\n".join(lines) + "\n"


def _row(cells: Sequence[str], widths: Sequence[int]) -> Iterable[str]:
    """Cells side by side, each wrapped in its own column."""
    wrapped = [textwrap.wrap(cell, width) for cell, width in zip(cells, widths, strict=True)]
    wrapped[0] = [cells[0]]  # the spaces before a key's name say what it stands below
    for parts in zip_longest(*wrapped, fillvalue=""):
        padded = (part.ljust(width) for part, width in zip(parts, widths, strict=True))
        yield f"{next(padded)}{next(padded)}  {next(padded)}".rstrip()


def _one_text(key: ListedKey) -> str:
    where = f"{key.name}, in {key.table} ({key.file}: {' > '.join(key.path)})"
    examples = [f"{key.name}: {example}" for example in key.examples]
    lines = [
        *_told("takes", key.takes),
        *_told("means", key.help),
        *_told("written", "always" if key.is_needed else "where wanted; it may be left out"),
        *(line for index, one in enumerate(examples) for line in _told("" if index else "example", one)),
    ]
    return "\n".join([where, *lines]) + "\n"


def _told(heading: str, words: str) -> Iterable[str]:
    for index, line in enumerate(textwrap.wrap(words, WIDTH - 11)):
        yield f"  {'' if index else heading:7}  {line}".rstrip()
