"""Offers `report`: what an inspector asks of each raceway, as a PDF on office paper."""

from __future__ import annotations

from pathlib import Path

import click

from templates_engine.cli.messages import counted, reported
from templates_engine.cli.options import EPILOG, FILE, job_file, overwrite_named

__all__ = ["EPILOG", "report"]


@click.command(epilog=EPILOG)
@job_file
@click.option("--output", "-o", metavar="FILE", type=FILE, help="The PDF; default JOB-report.pdf.")
@overwrite_named
def report(job: Path, output: Path | None, overwrite: tuple[Path, ...]) -> None:
    """Write a report for the inspector: what each raceway carries, and by which articles it was checked.

    A job that fails a check is reported too, with what fails.
    """
    from templates_engine import pipeline

    with reported():
        path = output or Path(f"{job.stem}-report.pdf")
        document = pipeline.write_report(pipeline.solve_job(pipeline.open_job(job)), path, overwrite)
        size = f"{document.page_width_in:.4g} x {document.page_height_in:.4g} in"
        click.echo(f"{path}: {counted(len(document.pages), 'page')}, {size}.")
