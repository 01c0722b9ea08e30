"""Offers `report`: what an inspector asks of each raceway, as a PDF on office paper."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from templates_engine.cli.reports import EPILOG, Overwrite, counted, reported

__all__ = ["EPILOG", "report"]


def report(
    job: Annotated[Path, typer.Argument(metavar="JOB", help="The job file, YAML.", show_default=False)],
    output: Annotated[
        Path | None,
        typer.Option(
            "--output", "-o", metavar="FILE", help="The PDF; default JOB-report.pdf.", show_default=False
        ),
    ] = None,
    overwrite: Overwrite = None,
) -> None:
    """Write a report for the inspector: what each raceway carries, and by which articles it was checked.

    A job that fails a check is reported too, with what fails.
    """
    from templates_engine import pipeline

    with reported():
        path = output or Path(f"{job.stem}-report.pdf")
        document = pipeline.write_report(pipeline.solve_job(pipeline.open_job(job)), path, overwrite or ())
        size = f"{document.page_width_in:.4g} x {document.page_height_in:.4g} in"
        typer.echo(f"{path}: {counted(len(document.pages), 'page')}, {size}.")
