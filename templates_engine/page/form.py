"""Reads the fields of the form out of a job's text: what stands at a key, what is wrong, what may stand."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from templates_engine.errors import Problem
from templates_engine.job.help.key_order import key_help
from templates_engine.job.text.key_paths import KeyPath, plain_path, value_at
from templates_engine.values import Struct


class FormField(Struct, frozen=True):
    """One field: where its value stands in the text, the value as typed, and what is said of it."""

    path: str
    """The path as the browser sends it back, JSON."""
    id: str
    value: str
    help: str
    example: str
    choices: tuple[str, ...]
    problem: str
    in_text_only: bool
    """Whether the text holds something here that one field cannot show."""


class Form(Struct, frozen=True):
    """A job's tree as plain text, lists and keys, with the problems of the reading."""

    tree: dict[str, Any]
    problems: Sequence[Problem]

    def at(self, path: KeyPath) -> Any:
        """What stands at a path, None where nothing does."""
        return value_at(self.tree, path)

    def entries(self, path: KeyPath) -> list[Any]:
        """The entries of a list, none where there is no list."""
        part = self.at(path)
        return part if isinstance(part, list) else []

    def field(self, path: KeyPath) -> FormField:
        """The field for a key."""
        told, part = key_help(path), self.at(path)
        value, only = _as_typed(part, str(path[-1]))
        return FormField(
            path=json.dumps(path),
            id="f-" + "-".join(str(step).replace(" ", "_") for step in path),
            value=value,
            help=told.words,
            example=told.example,
            choices=told.choices,
            problem=" ".join(f"{one.message} {one.remedy}" for one in self.problems_at(path)),
            in_text_only=only,
        )

    def problems_at(self, path: KeyPath) -> tuple[Problem, ...]:
        """The problems about a key and what it holds."""
        key = plain_path(path)
        return tuple(
            one for one in self.problems if one.key == key or one.key.startswith((f"{key}.", f"{key}["))
        )

    def place_way(self, path: KeyPath) -> str:
        """Which way a row's place is given: one of the words of ``edits.PLACES``, or "" for none."""
        part = self.at(path)
        if isinstance(part, dict):
            return "spread" if "spread" in part else "from an edge"
        return "centred" if isinstance(part, str) and part.strip() else ""


def _as_typed(part: Any, key: str) -> tuple[str, bool]:
    """A value as one types it in one field, and whether that cannot show it whole."""
    if part is None:
        return "", False
    if isinstance(part, str):
        return part, False
    if isinstance(part, list) and all(isinstance(one, str) for one in part):
        return ", ".join(part), False
    if isinstance(part, list) and key == "circuits" and all(_is_circuit(one) for one in part):
        return ", ".join(one if isinstance(one, str) else "/".join(one["spaces"]) for one in part), False
    return "", True


def _is_circuit(one: Any) -> bool:
    return isinstance(one, str) or (
        isinstance(one, dict) and set(one) == {"spaces"} and isinstance(one["spaces"], list)
    )
