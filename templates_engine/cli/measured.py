"""The `measured` command: what a rule read on the taped sheets in, what to do about it out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from templates_engine.cli.reports import CHECK_FAILED, reported

if TYPE_CHECKING:
    from templates_engine.job.model import Job
    from templates_engine.sheets.measured_places import Bars
    from templates_engine.sheets.model import FacePlan, SheetPlan
    from templates_engine.sheets.printers import Printer

EPILOG = (
    "Exit codes: 0 good; 1 print or tape again, or measure more; 2 the job file or a reading has problems; "
    "3 it cannot fit."
)


def measured(
    job: Annotated[Path, typer.Argument(metavar="JOB", help="The job file, YAML.", show_default=False)],
    readings: Annotated[
        list[str],
        typer.Argument(
            metavar="READING...",
            help='Two places and what the rule read between them. Hole to hole: A1-A7="31-7/16". From an '
            'edge or corner of the can: left-A1=2-1/2, "left front corner to A7=36-1/16". A bar printed on a '
            'sheet: "bar across sheet 2=8-31/32", "bar upright sheet 2=6".',
            show_default=False,
        ),
    ],
    face: Annotated[
        str | None,
        typer.Option("--face", metavar="FACE", help="The face measured, where its holes do not say it."),
    ] = None,
    printer: Annotated[
        str | None,
        typer.Option("--printer", metavar="NAME", help="The printer the sheets were drawn for, if any."),
    ] = None,
    alone: Annotated[
        bool,
        typer.Option("--alone", help="The sheets are from `draw JOB --face FACE`, not from `draw JOB`."),
    ] = False,
) -> None:
    """Say whether taped sheets are good, must be printed again, or which sheet to move, how far, which way.

    Lay a steel rule on the taped sheets, from hole centre to hole centre: over the whole row, and across
    every joint. From the can's edges to holes shows whether all lie true on it. A bar tells a wrong print
    from a slip. Give all readings at once; the answer names those still missing.
    """
    from templates_engine import pipeline
    from templates_engine.cli.measured_causes import Causes
    from templates_engine.cli.measured_words import MeasuredWords, readings_table
    from templates_engine.sheets.measured import Verdict, judge
    from templates_engine.sheets.readings import read_taken
    from templates_engine.units import Speech

    with reported():
        named = pipeline.open_job(job, [face] if face else ())
        opened = named if alone else pipeline.open_job(job)
        if alone:
            pipeline.the_only_face(opened)
        known = pipeline.printer_for(opened, printer)
        plan = pipeline.plan_job(pipeline.solve_job(opened), known)
        measured_face, bars = _face_of(tuple(readings), opened, plan, face)
        others = [one.layout for one in plan.faces if one is not measured_face]
        speech = Speech(opened.unit, 64)
        taken = read_taken(tuple(readings), measured_face, speech, bars, others)
        judged = judge(measured_face, taken, bars, is_metric=opened.unit == "mm")
        typer.echo(readings_table(taken, speech), nl=False)
        compared = bars if any(one.span.bar for one in taken) else None
        if len(opened.faces) > 1 and _differs_alone(opened, measured_face, compared, known):
            word = measured_face.layout.job.face.value
            typer.echo(
                f"These are taken as sheets of `draw JOB`, all faces on {plan.paper_name}. If they are from "
                f"`draw JOB --face {word}`, add --alone --face {word}: those differ."
            )
        options = [*(["--face", face] if face else ()), *(["--printer", printer] if printer else ())]
        options += ["--alone"] if alone else []
        causes = Causes(plan, measured_face, known, job, speech, taken)
        words = MeasuredWords(causes, tuple(options))
        for line in words.verdict(judged):
            typer.echo(line)
        if judged.verdict is not Verdict.GOOD:
            raise typer.Exit(CHECK_FAILED)


def _face_of(readings: tuple[str, ...], job: Job, plan: SheetPlan, word: str | None) -> tuple[FacePlan, Bars]:
    """The face measured, as named or as the only one that has every place named, and its sheets' bars.

    Raises JobProblems where several have.
    """
    from templates_engine import pipeline
    from templates_engine.drawing.bar_sizes import sheet_bars
    from templates_engine.sheets.readings import names_a_hole_of, names_places_of

    faces = [(one, sheet_bars(plan, one)) for one in plan.faces]
    if word is not None:
        faces = [(one, bars) for one, bars in faces if one.layout.job.face.value == word]
    if len(faces) > 1:
        named = [(one, bars) for one, bars in faces if names_places_of(readings, one, bars)]
        if not named:
            named = [(one, bars) for one, bars in faces if names_a_hole_of(readings, one)][:1]
        if len(named) != 1:
            pipeline.the_only_face(job)
        faces = named
    return faces[0]


def _differs_alone(job: Job, face: FacePlan, bars: Bars | None, known: Printer | None) -> bool:
    """Whether the face comes on other sheets, or with other bars, when it is drawn by itself."""
    from dataclasses import replace

    from templates_engine import pipeline
    from templates_engine.drawing.bar_sizes import sheet_bars
    from templates_engine.errors import CannotFit

    try:
        only = replace(job, faces=tuple(one for one in job.faces if one.face is face.layout.job.face))
        plan = pipeline.plan_job(pipeline.solve_job(only), known)
    except CannotFit:
        return True
    alone = plan.faces[0]
    if bars is not None and sheet_bars(plan, alone) != bars:
        return True
    return [sheet.own for sheet in alone.sheets] != [sheet.own for sheet in face.sheets]
