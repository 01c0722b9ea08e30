"""Holds what every command shares: exit codes, and errors as words on stderr.

Other words are each command's.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from templates_engine.errors import CannotFit, CannotWrite, JobProblems, Problem, TemplatesError

if TYPE_CHECKING:
    from templates_engine.checks.model import Finding
    from templates_engine.layout.model import Note
    from templates_engine.pipeline import Solved

_MOST_NAMED = 8
"""Holes that a note names before it only counts them."""
DONE, CHECK_FAILED, JOB_HAS_PROBLEMS, DOES_NOT_FIT, NOT_WRITTEN = range(5)


@contextmanager
def reported() -> Iterator[None]:
    """Turns the package's errors into words on stderr and an exit code."""
    try:
        yield
    except TemplatesError as error:
        fail(error.problems, exit_code(error))


def exit_code(error: TemplatesError) -> int:
    """The code of a command that ends with this error."""
    if isinstance(error, CannotFit):
        return DOES_NOT_FIT
    return NOT_WRITTEN if isinstance(error, CannotWrite) else JOB_HAS_PROBLEMS


def fail(problems: tuple[Problem, ...], code: int) -> NoReturn:
    """Says every problem and ends the command."""
    for problem in problems:
        say(str(problem))
    raise click.exceptions.Exit(code)


def say(text: str) -> None:
    """One line on stderr."""
    click.echo(text, err=True)


def counted(number: int, one: str) -> str:
    """A number of things in words: 1 hole, 2 holes."""
    return f"{number} {one}" if number == 1 else f"{number} {one}s"


def verdict(findings: Sequence[Finding]) -> str:
    """Whether a layout passes, and how many findings came out which way: "passes: 18 ok, 1 caution"."""
    counts = Counter(finding.outcome.value for finding in findings)
    failed, cautions = counts["fail"], counts["caution"]
    parts = (
        f"{failed} failed" if failed else "",
        f"{counts['ok']} ok",
        f"{counts['not checked']} not checked" if counts["not checked"] else "",
        counted(cautions, "caution") if cautions else "",
    )
    return f"{'fails' if failed else 'passes'}: {', '.join(part for part in parts if part)}"


def note_lines(notes: Sequence[Note]) -> Iterator[str]:
    """What moved holes unasked, a line each: "note, top A1, A2: ..."."""
    for note in notes:
        named, more = note.holes[:_MOST_NAMED], len(note.holes) - _MOST_NAMED
        holes = ", ".join(named) + (f" and {more} more" if more > 0 else "")
        where = " ".join(part for part in (note.face, holes) if part)
        yield f"note, {where}: {note.words}." if where else f"note: {note.words}."


def refuse(fails: Sequence[Finding], outcome: str) -> NoReturn:
    """Says what fails and what therefore was not done, and ends the command."""
    print_findings(fails, is_error=True)
    say(f"A check failed, {outcome}. Mend the job, or add --draft for a stamped draft.")
    raise click.exceptions.Exit(CHECK_FAILED)


def print_findings(findings: Sequence[Finding], *, is_error: bool) -> None:
    """A line a finding, on stderr or stdout."""
    for finding in findings:
        click.echo(finding_line(finding), err=is_error)


def finding_line(finding: Finding) -> str:
    """A finding with its place, its remedy and who says so: "fail: walls (top A1): ..."."""
    where = " ".join(part for part in (finding.face, ", ".join(finding.holes)) if part)
    about = f"{finding.check} ({where})" if where else finding.check
    said = " ".join(part for part in (finding.message, finding.remedy) if part)
    return f"{finding.outcome.value}: {about}: {said} [{finding.source}]"


def warn_of_fails(fails: Sequence[Finding]) -> None:
    """Numbers of a failing layout are given with a warning, and the exit code says so."""
    if fails:
        print_findings(fails, is_error=True)
        say("A check failed: do not cut from these numbers.")
        raise click.exceptions.Exit(CHECK_FAILED)


def the_only_file(paths: Sequence[Path]) -> Path | None:
    """The job file, where a command is given one and no more; None for several and for folders."""
    return paths[0] if len(paths) == 1 and not paths[0].is_dir() else None


def refuse_faces(faces: Sequence[str]) -> None:
    """Raises JobProblems where faces are named of many jobs."""
    if faces:
        problem = Problem("--face is for one job, and many are named.", "Leave it out, or name one job.")
        raise JobProblems([problem])


def solved_job(job: Path, faces: Sequence[str]) -> Solved:
    """The job of a file, or some of its faces, with its findings. Raises JobProblems and CannotFit."""
    from templates_engine import pipeline

    return pipeline.solve_job(pipeline.open_job(job, faces))
