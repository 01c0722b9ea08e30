"""Says what went wrong in words for the reader of the job file; exit codes are the command's business."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.values import Struct


class Problem(Struct, frozen=True):
    """One thing that is wrong, where it stands, and what to write or do instead.

    ``file`` and ``key`` may be empty and ``line`` None where the problem has no such place.
    """

    message: str
    remedy: str
    file: str = ""
    line: int | None = None
    key: str = ""

    def __str__(self) -> str:
        place = self.file if self.line is None else f"{self.file}:{self.line}"
        head = ": ".join(part for part in (place, self.key, self.message) if part)
        return f"{head} {self.remedy}".rstrip()


class TemplatesError(Exception):
    """Base of every error this package raises on purpose; it carries at least one Problem."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))

    def __reduce__(self) -> tuple[type[TemplatesError], tuple[tuple[Problem, ...]]]:
        return type(self), (self.problems,)  # so that it comes whole out of another process


class JobProblems(TemplatesError):
    """The job file cannot be used as written; holds every problem found, in file order."""


class CannotFit(TemplatesError):
    """A row has no places that obey its gaps, limits, pins and keep-outs."""


class CannotWrite(TemplatesError):
    """An output file could not be written whole; whatever stood under its name before still stands."""
