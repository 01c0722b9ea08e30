"""Offers the `measured` command: what a rule read on the taped sheets in, what to do about it out."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from templates_engine.cli.messages import CHECK_FAILED, reported
from templates_engine.cli.options import job_file

if TYPE_CHECKING:
    from templates_engine.pipeline import MeasuredSheets

EPILOG = (
    "Exit codes: 0 good; 1 print or tape again, or measure more; 2 the job file or a reading has problems; "
    "3 it cannot fit."
)


@click.command(epilog=EPILOG)
@job_file
@click.argument(
    "readings",
    metavar="READING...",
    nargs=-1,
    required=True,
    help='Two places and what the rule read between them. Hole to hole: A1-A7="31-7/16". From an '
    'edge or corner of the can: left-A1=2-1/2, "left front corner to A7=36-1/16". A bar printed on a '
    'sheet: "bar across sheet 2=8-31/32", "bar upright sheet 2=6".',
)
@click.option("--face", metavar="FACE", help="The face measured, where its holes do not say it.")
@click.option("--printer", metavar="NAME", help="The printer the sheets were drawn for, if any.")
@click.option(
    "--alone", is_flag=True, help="The sheets are from `draw JOB --face FACE`, not from `draw JOB`."
)
@click.option("--roll", metavar="ROLL", help="The sheets are pieces from `rolls --paper ROLL`.")
def measured(
    job: Path, readings: tuple[str, ...], face: str | None, printer: str | None, alone: bool, roll: str | None
) -> None:
    """Say whether taped sheets are good, must be printed again, or which sheet to move, how far, which way.

    Lay a steel rule on the taped sheets, from hole centre to hole centre: over the whole row, and across
    every joint. From the can's edges to holes shows whether all lie true on it. A bar tells a wrong print
    from a slip. Give all readings at once; the answer names those still missing.
    """
    from templates_engine import pipeline
    from templates_engine.sentences.measured import MeasuredWords, notes_on_figures, readings_table
    from templates_engine.units import LengthFormat
    from templates_engine.verify.diagnosis import Verdict

    with reported():
        if roll is not None:
            found = _piece(job, readings, face, printer, roll)
        else:
            found = pipeline.diagnose_sheets(job, readings, face=face, printer=printer, alone=alone)
        lengths = LengthFormat(found.job.unit, 64)
        click.echo(readings_table(found.readings, lengths, found.job.denominator), nl=False)
        for line in notes_on_figures(found):
            click.echo(line)
        if found.differs_alone:
            word = found.face.layout.job.face.value
            click.echo(
                f"These are taken as sheets of `draw JOB`, all faces on {found.plan.paper_name}. If they are "
                f"from `draw JOB --face {word}`, add --alone --face {word}: those differ."
            )
        options = [*(["--face", face] if face else ()), *(["--printer", printer] if printer else ())]
        options += [*(["--alone"] if alone else ()), *(["--roll", roll] if roll else ())]
        for line in MeasuredWords(found, job, roll or "", tuple(options)).verdict(found.diagnosis):
            click.echo(line)
        if found.diagnosis.verdict is not Verdict.GOOD:
            raise click.exceptions.Exit(CHECK_FAILED)


def _piece(
    file: Path, readings: Sequence[str], face: str | None, printer: str | None, roll: str
) -> MeasuredSheets:
    """The same for a face on a roll. Raises as ``diagnose_sheets`` does."""
    from templates_engine import pipeline
    from templates_engine.cli.rolls import printer_named, roll_named
    from templates_engine.office.rolls.pieces import piece_job

    job = pipeline.the_only_face(pipeline.open_job(file, [face] if face else []))
    known = printer_named(printer)
    on_roll = piece_job(job, job.faces[0], roll_named(roll, "--roll"), known)
    return pipeline.diagnose_job(on_roll, readings, face=face, printer=printer)
