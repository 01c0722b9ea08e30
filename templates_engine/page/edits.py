"""Turns what a person does on the form or the drawing into a change of the job's text, in its place."""

from __future__ import annotations

import re
from typing import Any

from templates_engine.job.help.key_order import keys_in_order
from templates_engine.job.text.edit import CannotEdit, content, insert, put, take_out
from templates_engine.job.text.key_paths import KeyPath, value_at

PLACES: dict[str, Any] = {
    "centred": "centred",
    "from an edge": {"from": "left", "to": "centre", "distance": "4 in"},
    "spread": {"spread": {"from": "2 in", "to": "18 in"}},
}
"""What each way to place a row begins with; an edge's word and the far limit are the face's own."""
_DEFAULT_RACEWAY = {"type": "EMT", "size": "1"}
_LISTS = ("strut", "paper", "circuits", "spaces")
"""Keys whose value may be a list, typed with commas."""


def apply(text: str, change: dict[str, Any]) -> str:
    """The text after one change; ``change["do"]`` says which. Raises CannotEdit."""
    does = {
        "set": _set,
        "add": _add,
        "take out": _take_out,
        "place": _place,
        "pin": _pin,
        "several": _several,
    }
    do = does.get(str(change.get("do")))
    if do is None:
        raise CannotEdit("This change is not known.")
    try:
        return do(text, change)
    except (KeyError, IndexError, TypeError, ValueError) as error:
        raise CannotEdit("This place has to be changed in the text.") from error


def as_path(key: str) -> KeyPath:
    """A place as messages name it, "faces[1].rows[1].back line", as steps; lists count from 1 there."""
    steps: list[str | int] = []
    for name, place in re.findall(r"([^.\[\]]+)|\[([0-9]+)\]", key):
        steps.append(int(place) - 1 if place else name)
    return tuple(steps)


def _path(change: dict[str, Any]) -> KeyPath:
    path = change["path"]
    if isinstance(path, str):
        return as_path(path)
    if not path or any(isinstance(step, int) and step < 0 for step in path):
        raise CannotEdit("There is no such place.")
    return tuple(step if isinstance(step, int) else str(step) for step in path)


def _value(part: Any) -> Any:
    """What is to be written, as the text holds it: every number as text. Raises CannotEdit."""
    if isinstance(part, dict):
        return {str(key): _value(one) for key, one in part.items()}
    if isinstance(part, list):
        return [_value(one) for one in part]
    if isinstance(part, str | int | float) and not isinstance(part, bool):
        return str(part)
    raise CannotEdit("This cannot be written into a job file.")


def _set(text: str, change: dict[str, Any]) -> str:
    """A field's new value; an empty one takes the key out."""
    path, value = _path(change), _value(change["value"])
    if isinstance(value, str):
        value = " ".join(value.split())
        if not value:
            return take_out(text, path)
        if path[-1] == "circuits":
            value = circuits_from(value)
        elif path[-1] in _LISTS and "," in value:
            value = [part.strip() for part in value.split(",") if part.strip()]
    return put(text, path, value, keys_in_order)


def circuits_from(typed: str) -> list[Any]:
    """Circuits as typed, "1, 3, 2/4/6": a stroke joins the spaces of one breaker."""
    entries: list[Any] = []
    for part in filter(None, (part.strip() for part in typed.split(","))):
        spaces = [space.strip() for space in part.split("/") if space.strip()]
        entries.append(spaces[0] if len(spaces) == 1 else {"spaces": spaces})
    return entries


def _add(text: str, change: dict[str, Any]) -> str:
    """A new entry of a list: like the last one of raceways, else as it is given."""
    path = _path(change)
    entries = value_at(content(text), path)
    value = change.get("value")
    if value is None and path[-1] == "raceways":
        last = entries[-1] if isinstance(entries, list) and entries else None
        known = {key: last[key] for key in ("type", "size") if key in last} if isinstance(last, dict) else {}
        value = {**_DEFAULT_RACEWAY, **known}
    if value is None:
        raise CannotEdit("Nothing is given to add.")
    count = len(entries) if isinstance(entries, list) else 0
    return put(text, (*path, count), _value(value), keys_in_order)


def _take_out(text: str, change: dict[str, Any]) -> str:
    return take_out(text, _path(change))


def _place(text: str, change: dict[str, Any]) -> str:
    """Another way to place a row, begun with lengths that its face has."""
    path, how = _path(change), change["value"]
    tree = content(text)
    is_side = str(value_at(tree, (*path[:2], "face"))).lower() in ("left", "right")
    value = PLACES[how]
    if how == "from an edge":
        value = {**value, "from": "top" if is_side else "left"}
    return put(text, path, value, keys_in_order)


def _pin(text: str, change: dict[str, Any]) -> str:
    """A raceway pinned at a distance; one of several written as one entry is first parted from them."""
    path, nth, at = as_path(change["entry"]), int(change.get("nth", 0)), _value(change["at"])
    entry = value_at(content(text), path)
    if isinstance(entry, dict) and "factory knockout" in entry:
        raise CannotEdit("It goes through a factory knockout, which does not move; write another one there.")
    count = int(entry.get("count", "1")) if isinstance(entry, dict) else 1
    if count <= 1:
        return put(text, (*path, "at"), at, keys_in_order)
    if "id" in entry:
        raise CannotEdit("Several raceways share one id and a count here; write each as an entry of its own.")
    alone = {key: value for key, value in entry.items() if key not in ("count", "gap before")}
    first, *_ = path[-1:]
    if not isinstance(first, int) or not 0 <= nth < count:
        raise CannotEdit("There is no such raceway.")
    for place in range(1, count):
        text = insert(text, (*path[:-1], first + place), dict(alone))
    text = take_out(text, (*path, "count"))
    return put(text, (*path[:-1], first + nth, "at"), at, keys_in_order)


def _several(text: str, change: dict[str, Any]) -> str:
    for one in change["changes"]:
        text = apply(text, one)
    return text
