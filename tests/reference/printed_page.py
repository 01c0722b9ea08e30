"""Reads words and tables off a printed page by where their letters stand; knows nothing of how it was made.

A fraction is set from small digits about a slash; it is read back as a person reads it: "2-13/16".
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

import pdfplumber
import pypdfium2

SMALL = 0.8
"""Letters below this share of the size round them are a fraction's digits."""
SAME_LINE_PT, SAME_EDGE_PT = 2.5, 1.5
_NUMBER = re.compile(r"(?:(\d+)-)?(\d+)/(\d+)|(\d+(?:\.\d+)?)")


@dataclass(frozen=True)
class Run:
    """Words that were set in one go: their text, and their left and right ends and base line, points."""

    text: str
    left: float
    right: float
    base: float


def pages_that_say(path: Path, words: str) -> list[int]:
    """The pages, from 0, whose text has those words; told by another engine, which is quick."""
    with pypdfium2.PdfDocument(str(path)) as document:
        texts = [page.get_textpage().get_text_range() for page in document]
    return [number for number, text in enumerate(texts) if words in " ".join(text.split())]


def pages(path: Path, numbers: Sequence[int]) -> list[list[Run]]:
    """The level words of some pages."""
    with pdfplumber.open(path, pages=[number + 1 for number in numbers]) as document:
        return [_runs(page.chars) for page in document.pages]


def cover_pages(path: Path, face: str) -> list[Run]:
    """The words of all cover pages of one face, as if the pages hung one below the other."""
    found: list[Run] = []
    for runs in pages(path, pages_that_say(path, f" {face}, cover page ")):
        lift = len(found) and min(run.base for run in found) - 1300.0
        found += [Run(run.text, run.left, run.right, run.base + lift) for run in runs]
    return found


def lines(runs: Sequence[Run]) -> list[list[Run]]:
    """Runs of one base line together, the lines from the top down."""
    found: list[list[Run]] = []
    for run in sorted(runs, key=lambda one: -one.base):
        if found and abs(found[-1][0].base - run.base) < SAME_LINE_PT:
            found[-1].append(run)
        else:
            found.append([run])
    return [sorted(line, key=lambda one: one.left) for line in found]


def table(runs: Sequence[Run], titles: Sequence[str], rows: Sequence[str]) -> dict[str, list[str]]:
    """A table's rows by their first cell, cells in the order of ``titles``; "" where a cell is empty.

    ``titles`` are words of the heading's last line; a cell stands under the title with the same left or right
    end.
    """
    head = next(line for line in lines(runs) if [run.text for run in line][: len(titles)] == list(titles))
    head = head[: len(titles)]
    found: dict[str, list[str]] = {}
    for line in lines([run for run in runs if run.base < head[0].base]):
        first = line[0].text
        if first not in rows or first in found or abs(line[0].left - head[0].left) > SAME_EDGE_PT:
            continue
        cells = [""] * len(titles)
        for run in line:
            for index, title in enumerate(head):
                if min(abs(run.left - title.left), abs(run.right - title.right)) < SAME_EDGE_PT:
                    cells[index] = run.text
        found[first] = cells
    return found


def number(text: str) -> Fraction:
    """A figure as a tape or a drill says it: "2-13/16", "15/16", "2.4735"."""
    match = _NUMBER.fullmatch(text.strip())
    assert match, text
    whole, over, under, plain = match.groups()
    return Fraction(plain) if plain else int(whole or 0) + Fraction(int(over), int(under))


def _runs(chars: Sequence[dict[str, Any]]) -> list[Run]:
    return [_run(group) for group in _groups([one for one in chars if one["upright"]])]


def _groups(chars: Sequence[dict[str, Any]]) -> Iterator[list[dict[str, Any]]]:
    """Letters that follow each other on the paper as they do in the file."""
    group: list[dict[str, Any]] = []
    for char in chars:
        if group:
            last, size = group[-1], max(one["size"] for one in group)
            is_next = -0.3 * size < char["x0"] - last["x1"] < 0.25 * size
            if not is_next or abs(_base(char) - _base(group[0])) > 0.7 * size:
                yield group
                group = []
        group.append(char)
    if group:
        yield group


def _base(char: dict[str, Any]) -> float:
    return float(char["matrix"][5])


def _run(group: Sequence[dict[str, Any]]) -> Run:
    size = max(char["size"] for char in group)
    text = ""
    was_small = False
    for char in group:
        is_small = char["size"] < SMALL * size
        if is_small and not was_small and text[-1:].isdigit():
            text += "-"
        text += "/" if char["text"] == "\N{FRACTION SLASH}" else char["text"]
        was_small = is_small or char["text"] == "\N{FRACTION SLASH}"
    full = [char for char in group if char["size"] >= SMALL * size]
    return Run(
        text.strip(),
        min(c["x0"] for c in group),
        max(c["x1"] for c in group),
        _base((full or list(group))[0]),
    )
