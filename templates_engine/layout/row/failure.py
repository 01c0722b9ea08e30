"""Holds what stops a row, in words and numbers, between the step that met it and the error that is read."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from typing import Literal

from templates_engine.errors import Problem
from templates_engine.job.model import FilePlace
from templates_engine.units import LengthFormat
from templates_engine.values import Struct

Kind = Literal["words", "room", "back line"]
"""What can be tried: nothing, for the job has to say something else ("words"); everything that makes or moves
room; or other strut.
"""


class FailureMessage(Struct, frozen=True):
    """A failure in words; ``missing_in`` is the least length lacking, None where no length would help."""

    message: str
    missing_in: float | None = None


def missing_words(missing_in: float, lengths: LengthFormat) -> str:
    """The lack in decimals, for rounded it would be too little; never "0 in" for one too small to show."""
    said = lengths.exact(missing_in)
    return f"less than 0.01 {lengths.unit}" if said == "0" else f"{said} {lengths.unit}"


class RowError(Exception):
    """A row that cannot be placed; ``remedy`` stands in the error when nothing tried helps.

    The reason may be given as a function, asked once and only if someone reads it: a trial that fails needs
    no words.
    """

    def __init__(
        self,
        place: FilePlace,
        reason: str | Callable[[], FailureMessage],
        remedy: str = "",
        *,
        kind: Kind = "words",
    ) -> None:
        super().__init__(place)
        self.place = place
        self.remedy = remedy
        self.kind = kind
        self._reason = reason

    @cached_property
    def told(self) -> FailureMessage:
        return FailureMessage(self._reason) if isinstance(self._reason, str) else self._reason()

    def __str__(self) -> str:
        return self.told.message


class Failure(Struct, frozen=True):
    """An error and where in the job it stands: indexes into ``job.faces`` and that face's ``rows``."""

    face: int
    row: int
    error: RowError

    def problem(self, remedy: str) -> Problem:
        """The failure as the error that is shown, with ``remedy`` as its last words."""
        place = self.error.place
        return Problem(self.error.told.message, remedy, place.file, place.line, place.key)
