"""Lists the job file's keys in the order the schema has them, with the help that an editor shows."""

from __future__ import annotations

from functools import cache
from typing import Any

from templates_engine.job import json_schema
from templates_engine.job.text.key_paths import KeyPath
from templates_engine.values import Struct


class KeyHelp(Struct, frozen=True):
    """What may stand at a key: the schema's sentence, an example, and the words to choose from."""

    words: str
    example: str
    choices: tuple[str, ...]


def keys_in_order(path: KeyPath) -> tuple[str, ...]:
    """The keys of the table at ``path``, in the schema's order; none where there is no table."""
    return tuple(_table(path).get("properties", {}))


def key_help(path: KeyPath) -> KeyHelp:
    """What the schema says of the key at ``path``."""
    found = _table(path[:-1]).get("properties", {}).get(path[-1], {})
    example = (found.get("examples") or [""])[0]
    return KeyHelp(
        str(found.get("description", "")),
        example if isinstance(example, str) else "",
        tuple(word for word in _choices(found) if isinstance(word, str)),
    )


def _choices(schema: dict[str, Any]) -> list[Any]:
    if "enum" in schema:
        return list(schema["enum"])
    return [word for part in schema.get("anyOf", ()) for word in _choices(part)]


@cache
def _table_of(names: tuple[str, ...]) -> dict[str, Any]:
    """The table under some keys, without the places of lists."""
    schema = json_schema()
    table = schema
    for name in names:
        table = _resolved(schema, table.get("properties", {}).get(name, {}))
    return table


def _table(path: KeyPath) -> dict[str, Any]:
    return _table_of(tuple(step for step in path if isinstance(step, str)))


def _resolved(schema: dict[str, Any], part: dict[str, Any]) -> dict[str, Any]:
    """The set of keys that a part of the schema means, itself, as an entry or as a branch."""
    if "$ref" in part:
        return _resolved(schema, schema["$defs"][part["$ref"].rsplit("/", 1)[-1]])
    if "properties" in part:
        return part
    branches = [*part.get("anyOf", ()), *part.get("oneOf", ()), *([part["items"]] if "items" in part else ())]
    for branch in branches:
        found = _resolved(schema, branch)
        if "properties" in found:
            return found
    return {}
