"""How many random examples a test draws: few and the same each time, or many and new ones (DEVELOPERS.md)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeVar

from hypothesis import HealthCheck, settings

T = TypeVar("T")

USUAL = 100
"""Examples of a test that names no number, where a profile of that many is in force."""
SLOW_OR_CHOOSY = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much]


def register_profiles() -> None:
    """``steady`` is what the README's command runs; ``deep`` is for --hypothesis-profile=deep."""
    settings.register_profile(
        "steady",
        derandomize=True,
        max_examples=20,
        deadline=None,
        database=None,
        suppress_health_check=SLOW_OR_CHOOSY,
    )
    settings.register_profile(
        "deep",
        derandomize=False,
        max_examples=200,
        deadline=None,
        database=None,
        print_blob=True,
        suppress_health_check=SLOW_OR_CHOOSY,
    )
    settings.load_profile("steady")


def examples(number: int) -> settings:
    """The profile in force with more or fewer examples, for a test whose examples cost less or more.

    ``number`` is how many there are where the profile's own number is USUAL.
    """
    return settings(max_examples=max(1, round(settings().max_examples * number / USUAL)))


def some_of(values: Iterable[int]) -> list[int]:
    """Every value in a deep run, one in three else: for a test that draws with a seed of its own.

    Such a test is marked ``hypothesis`` by hand, so that the deep run takes it up.
    """
    return list(values)[:: 1 if is_deep() else 3]


def more_when_deep(always: Sequence[T], more: Iterable[T]) -> list[T]:
    """Cases that every run has, and in a deep run all others of ``more``; its test is marked as above."""
    return [*always, *(case for case in more if case not in always)] if is_deep() else list(always)


def is_deep() -> bool:
    """Whether the profile in force is the one with many examples."""
    return settings().max_examples > USUAL
