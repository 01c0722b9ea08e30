"""Offers the command `page`: says where the page is and opens the browser.

What it shows is the page's business.
"""

from __future__ import annotations

import webbrowser
from pathlib import Path

import click

from templates_engine.cli.messages import JOB_HAS_PROBLEMS, fail, say
from templates_engine.cli.options import EPILOG, FILE
from templates_engine.errors import Problem


@click.command(epilog=EPILOG)
@click.argument(
    "folder",
    metavar="[FOLDER]",
    required=False,
    type=FILE,
    help="A folder of job files to list, open and save.",
)
@click.option("--port", metavar="N", type=int, default=0, help="Port on this machine; 0 for any.")
@click.option("--browser/--no-browser", default=True, help="Open the browser.")
def page(folder: Path | None, port: int, browser: bool) -> None:
    """Open the page on which a job is typed and drawn; it runs on this machine alone, until Ctrl-C."""
    from templates_engine.page.serve import free_port, serve

    if folder is not None and not folder.is_dir():
        fail(
            (Problem(f"{folder} is no folder.", "Name the folder that holds the job files."),),
            JOB_HAS_PROBLEMS,
        )
    try:
        free = free_port(port)
    except (OSError, OverflowError):
        fail(
            (Problem(f"Port {port} cannot be used.", "Name another, or leave --port out."),), JOB_HAS_PROBLEMS
        )

    def started(address: str) -> None:
        click.echo(f"The page is at {address}  (Ctrl-C ends it; nothing leaves this machine)")
        if browser and not webbrowser.open(address):
            say("No browser could be opened; type the address into one.")

    serve(folder, free, started)
