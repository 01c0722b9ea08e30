"""Turns ids of holes into as few words as say which: "all holes", "A1 to A4 and A7"."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from templates_engine.layout.model import Hole

_RUN = 3
"""From so many neighbours on "A1 to A3" is said for them."""


def hole_list(ids: Iterable[str], holes: Iterable[Hole]) -> str:
    """Those of the holes by name, runs of neighbours as "A1 to A4"."""
    all_ids = [hole.id for hole in holes]
    wanted = set(ids)
    if len(all_ids) > 1 and wanted == set(all_ids):
        return "all holes"
    words: list[str] = []
    for is_wanted, group in groupby(all_ids, wanted.__contains__):
        run = list(group)
        if is_wanted:
            words += [f"{run[0]} to {run[-1]}"] if len(run) >= _RUN else run
    return ", ".join(words)
