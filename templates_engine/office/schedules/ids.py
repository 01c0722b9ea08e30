"""Tells which raceways the entries of a row are, by their ids, given or counted on as the job file's reader
does.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from templates_engine.values import Struct


class RowEntry(Struct, frozen=True):
    """An entry of a row's raceways: the id it gives, "" for none, and how many raceways it is."""

    id: str
    count: int


class Pairing(Struct, frozen=True):
    """Which entries of a schedule speak of which entries of a file, all by their places."""

    known: dict[int, tuple[tuple[int, ...], bool]]
    """By the file's entry: the schedule's, and whether they speak of all of its raceways."""
    new: tuple[int, ...]
    """Entries of the schedule to come after the file's."""
    grown: tuple[tuple[int, int], ...]
    """The file's last entry where the schedule has more raceways alike, with their new count."""
    unclear: tuple[int, ...]
    """Entries of the schedule that are new in part, or not at the end."""
    left: tuple[str, ...]
    """Ids of the file that the schedule does not have."""


def entries_of(raceways: Sequence[Any]) -> list[RowEntry]:
    """The entries as a job file has them."""
    return [_entry(one) for one in raceways]


def pair(scheduled: Sequence[RowEntry], there: Sequence[RowEntry], letter: str) -> Pairing | None:
    """Pairs a row's entries by ids; None where the schedule has fewer raceways and no ids to go by."""
    wanted, known = counted_out(scheduled, letter), counted_out(there, letter)
    if len(wanted) < len(known) and not any(one.id for one in scheduled):
        return None
    new = dict.fromkeys(at for id, at in wanted.items() if id not in known)
    met = {at for id, at in wanted.items() if id in known}
    grown = {at for at in new if at in met and _is_last_grown(at, wanted, known)}
    unclear = tuple(at for at in new if at not in grown and (at in met or at < max(met, default=-1)))
    speaking = {at: _speaking_of(at, wanted, known) for at in dict.fromkeys(known.values())}
    return Pairing(
        known={at: one for at, one in speaking.items() if one[0]},
        new=tuple(at for at in new if at not in unclear and at not in grown),
        grown=tuple((len(there) - 1, scheduled[at].count) for at in grown),
        unclear=unclear,
        left=tuple(id for id in known if id not in wanted),
    )


def _is_last_grown(scheduled: int, wanted: dict[str, int], known: dict[str, int]) -> bool:
    """Whether an entry of the schedule is the file's last one, from its first raceway on, and more."""
    ids = [id for id, at in wanted.items() if at == scheduled]
    last = [id for id, at in known.items() if at == max(known.values())]
    return ids[: len(last)] == last


def _speaking_of(entry: int, wanted: dict[str, int], known: dict[str, int]) -> tuple[tuple[int, ...], bool]:
    ids = [id for id, at in known.items() if at == entry]
    return tuple(dict.fromkeys(wanted[id] for id in ids if id in wanted)), all(id in wanted for id in ids)


def _entry(written: Any) -> RowEntry:
    table = written if isinstance(written, dict) else {}
    count = str(table.get("count", "1"))
    return RowEntry(str(table.get("id", "")), int(count) if count.isdecimal() and len(count) < 4 else 1)


def counted_out(entries: Sequence[RowEntry], letter: str) -> dict[str, int]:
    """The place of each raceway's entry by the raceway's id, in order; ids in capitals."""
    places: dict[str, int] = {}
    number = 1
    for place, entry in enumerate(entries):
        for id in _ids(entry.id or f"{letter}{number}", entry.count):
            places.setdefault(id.upper(), place)
        number += entry.count
    return places


def _ids(first: str, count: int) -> list[str]:
    """An entry's ids, the number at the end counting up."""
    stem = first.rstrip("0123456789")
    number = first[len(stem) :]
    if not number:
        return [first]
    return [f"{stem}{int(number) + step:0{len(number)}d}" for step in range(count)]
