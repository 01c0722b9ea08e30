"""Gives what every value that a stage hands on is made of: fields with types that never change once set.

A Struct is declared and used like a frozen dataclass, and made forty times as fast: of the hundreds here,
dataclasses took a fifth of a short command.
"""

from __future__ import annotations

from typing import Any, TypeVar

from msgspec import MsgspecError, Struct, field, to_builtins
from msgspec.json import decode, encode, format
from msgspec.structs import astuple, replace

__all__ = ["Struct", "as_json", "as_plain", "astuple", "field", "from_json", "replace"]

StructT = TypeVar("StructT", bound=Struct)


def as_plain(value: Struct) -> dict[str, Any]:
    """The value and all values in it as dictionaries and lists, as JSON has them."""
    plain: dict[str, Any] = to_builtins(value)
    return plain


def as_json(value: Struct, *, over_lines: bool = False) -> str:
    """The value and all values in it as JSON, on one line or many."""
    text = encode(value)
    return (format(text, indent=1) if over_lines else text).decode()


def from_json(text: str | bytes, kind: type[StructT]) -> StructT:
    """The value of such a text, every type in it checked. Raises ValueError for another."""
    try:
        return decode(text, type=kind)
    except MsgspecError as error:
        raise ValueError(str(error)) from error
