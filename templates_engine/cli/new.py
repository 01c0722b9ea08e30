"""Offers the command `new`: the guided start on a terminal, or from answers in a file.

Words and files only.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

import click

from templates_engine.cli.messages import JOB_HAS_PROBLEMS, fail, reported, say
from templates_engine.cli.options import EPILOG, FILE, overwrite_named
from templates_engine.errors import CannotWrite, Problem

MOST_KEPT = 100
"""Names tried for the answers beside others' files of the same name."""


@click.command(epilog=EPILOG)
@click.argument(
    "file", metavar="[FILE]", type=FILE, default=Path("job.yaml"), help="The job file to write; job.yaml."
)
@click.option("--like", metavar="SAMPLE", help="Copy a sample job, such as panelboard, instead.")
@click.option(
    "--answers", metavar="FILE", type=FILE, help="Answers by question, YAML; only the others are asked for."
)
@overwrite_named
def new(file: Path, like: str | None, answers: Path | None, overwrite: tuple[Path, ...]) -> None:
    """Ask for a job in an electrician's order, and write a commented job file.

    `?` explains a question, `back` goes back to the one before, and the value in brackets is taken by Enter.
    """
    from templates_engine.outputs import refuse_taken

    with reported():
        if not file.suffix:
            file = file.with_name(f"{file.name}.yaml")
        refuse_taken("yaml", [file], overwrite)
        text = _guided(file, answers) if like is None else _sample(like)
        _write(file, text, overwrite)


def _guided(file: Path, answers: Path | None) -> str:
    """The job's text as it was answered; a Ctrl-C keeps the answers so far and ends the command."""
    from templates_engine.guided_start.conversation import Conversation
    from templates_engine.writers.text_table import holes_text

    given = _answers(answers) if answers else {}
    talk = Conversation(_ask, click.echo, given, holes_text)
    if sys.stdin.isatty():
        click.echo("Lengths as your tape reads: 2-1/2, 1' 6-1/2\", 63.5 mm. ? explains, back goes back.\n")
    try:
        return talk.run()
    except (KeyboardInterrupt, EOFError):
        kept = _keep(file, talk.answers)
        say(f"\nStopped. The answers are kept: go on with  templates-engine new {file} --answers {kept}")
        raise click.exceptions.Exit(130) from None


def _ask(prompt: str) -> str:
    click.echo(prompt, nl=False)
    line = sys.stdin.readline()
    if not line:
        raise EOFError
    return line.rstrip("\n")


def _answers(path: Path) -> dict[str, object]:
    """The answers of a file, every one as text."""
    from templates_engine.job.text.edit import CannotEdit, content
    from templates_engine.job.text.file import load_text

    try:
        return dict(content(load_text(path)))
    except CannotEdit as error:
        fail((Problem(str(error), "Write each answer as `question: answer`.", str(path)),), JOB_HAS_PROBLEMS)


def _keep(file: Path, answers: dict[str, object]) -> Path:
    """Where the answers are kept: beside the job, under the first name that is no other program's."""
    from templates_engine.atomic import NewFile
    from templates_engine.job.text.edit import as_block
    from templates_engine.outputs import ANSWERS_START, write_outputs

    text = f"{ANSWERS_START}\n{as_block(dict(answers), 0)}\n"
    names = [f"{file.stem}{end}.answers" for end in ("", *(f"-{number}" for number in range(2, MOST_KEPT)))]
    for path in map(file.with_name, names):
        try:
            write_outputs("yaml", [NewFile(path, text.encode())])
        except CannotWrite:
            if path.is_file() and path.name != names[-1]:
                continue
            raise
        return path
    raise AssertionError("the last name is written or refused")


def _sample(name: str) -> str:
    from templates_engine.guided_start.samples import sample_text, samples

    text = sample_text(name)
    if text is None:
        fail(
            (Problem(f"There is no sample '{name}'.", f"There are: {', '.join(samples())}."),),
            JOB_HAS_PROBLEMS,
        )
    return text


def _write(file: Path, text: str, overwrite: Sequence[Path]) -> None:
    from templates_engine.atomic import NewFile
    from templates_engine.outputs import write_outputs

    write_outputs("yaml", [NewFile(file, text.encode())], overwrite)
    click.echo(f"{file}: written. Draw it with  templates-engine draw {file}")
