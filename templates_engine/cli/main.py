"""Offers the commands: words for people and exit codes; every computation is the pipeline's.

Exit codes: 0 done, 1 a check failed, 2 the job file or the command has problems, 3 it cannot fit,
4 cannot write.
"""

from __future__ import annotations

import gc
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING

import click

from templates_engine.cli.advice import explain, fit, keys
from templates_engine.cli.check_and_holes import check, holes
from templates_engine.cli.draw import draw
from templates_engine.cli.export_tables import are_tables, export_tables, the_only_job
from templates_engine.cli.materials import materials
from templates_engine.cli.measured import measured
from templates_engine.cli.messages import JOB_HAS_PROBLEMS, fail, refuse, reported, solved_job, warn_of_fails
from templates_engine.cli.new import new
from templates_engine.cli.options import (
    EPILOG,
    CommandGroup,
    faces_named,
    job_paths,
    output_file,
    overwrite_named,
    shown_as,
)
from templates_engine.cli.page import page
from templates_engine.cli.printers import printers
from templates_engine.cli.register import register
from templates_engine.cli.report import report
from templates_engine.cli.rolls import rolls
from templates_engine.cli.schedules import import_
from templates_engine.cli.sheet import sheet
from templates_engine.errors import Problem

if TYPE_CHECKING:
    from templates_engine.pipeline import Solved


class ExportAs(StrEnum):
    """What `export` writes."""

    JSON = "json"
    CSV = "csv"
    SVG = "svg"
    DXF = "dxf"
    XLSX = "xlsx"


class SeenFrom(StrEnum):
    """The side of the metal a drawing shows."""

    OUTSIDE = "outside"
    INSIDE = "inside"


@click.command(epilog=EPILOG)
@job_paths
@shown_as(
    ExportAs,
    None,
    "json and csv: all faces in one file; svg and dxf: a drawing a face; xlsx: all there is to tell of "
    "any number of jobs, as csv does of a folder or several jobs.",
)
@output_file
@faces_named
@click.option(
    "--seen-from",
    type=click.Choice(SeenFrom, case_sensitive=False),
    default=SeenFrom.OUTSIDE.value,
    help="The side of the metal an svg or dxf shows; inside is mirrored.",
)
@click.option("--draft", is_flag=True, help="Draw a layout that fails a check too, stamped as a draft.")
@overwrite_named
def export(
    paths: tuple[Path, ...],
    as_: ExportAs,
    output: Path | None,
    face: tuple[str, ...],
    seen_from: SeenFrom,
    draft: bool,
    overwrite: tuple[Path, ...],
) -> None:
    """Write the layout for other programs.

    svg and dxf show one face at true size in inches for a shop's cutter, seen from outside whichever side the
    job marks from. dxf needs: pip install "templates-engine[dxf]". A workbook's sheet of raceways is a
    schedule that import reads.
    """
    from templates_engine.atomic import NewFile
    from templates_engine.outputs import beside, write_outputs

    with reported():
        if are_tables(as_.value, paths):
            export_tables(paths, output, face, overwrite, is_book=as_.value == "xlsx")
            return
        job = the_only_job(paths, as_.value)
        solved = solved_job(job, face)
        is_drawing = as_ in (ExportAs.SVG, ExportAs.DXF)
        if is_drawing and solved.fails and not draft:
            refuse(solved.fails, "so no drawing to cut from was written")
        made = _exported(solved, as_, seen_from)
        name = output or Path(f"{job.stem}.{as_.value}")
        files = [NewFile(beside(name, word) if len(made) > 1 else name, data) for word, data in made]
        write_outputs(as_.value, files, overwrite)
        for file in files:
            click.echo(f"{file.path}: written.")
        if not draft:
            warn_of_fails(solved.fails)


@click.command(epilog=EPILOG)
@click.option("--shop", is_flag=True, help="That of the shop file, shop.yaml, instead.")
def schema(shop: bool) -> None:
    """Print the JSON Schema of the job file, for an editor that completes keys."""
    import json

    from templates_engine.job import json_schema, shop_json_schema

    made = shop_json_schema() if shop else json_schema()
    click.echo(json.dumps(made, indent=2, ensure_ascii=False))


@click.command(epilog=EPILOG)
@click.argument(
    "name",
    metavar="[NAME]...",
    nargs=-1,
    help="One table, or a raceway type for all rows of that type; without it, the tables' names.",
)
def tables(name: tuple[str, ...]) -> None:
    """Print the trade figures the layout rests on, each with its source."""
    from templates_engine.trade.not_in_tables import nearest
    from templates_engine.trade.tables_as_text import rows_of_type
    from templates_engine.trade.tables_as_text import tables as all_tables
    from templates_engine.writers.text_table import aligned

    listed = {table.name: table for table in all_tables()}
    if not name:
        rows = [(table.name, str(len(table.rows)), table.note) for table in listed.values()]
        click.echo(aligned(("table", "rows", "what it holds"), rows), nl=False)
        return
    asked = " ".join(" ".join(name).replace("_", " ").split())
    found = (listed[asked.lower()],) if asked.lower() in listed else rows_of_type(asked)
    if not found:
        near = nearest(asked, listed)
        hint = f"Did you mean '{near}'?" if near else f"There are: {', '.join(listed)}."
        fail((Problem(f"there is no table '{asked}'.", hint),), JOB_HAS_PROBLEMS)
    for index, table in enumerate(found):
        heading = f"{table.name}: {table.note}" if table.note else table.name
        click.echo(f"{chr(10) if index else ''}{heading}")
        click.echo(aligned(table.headings, table.rows), nl=False)


COMMANDS = (
    *(new, page, draw, check, holes, fit, explain, export, report),
    *(import_, materials, rolls, printers, measured, register, sheet),
    *(keys, tables, schema),
)
app = CommandGroup(
    commands=COMMANDS,
    epilog=EPILOG,
    context_settings={"show_default": True},
    help="Full-scale marking templates for knockouts: a job file in, true-scale sheets out.",
)


def main() -> None:
    """Reads the command line and does what it says."""
    gc.disable()  # one job and out: looking for cycles costs a fourteenth of the time and frees nothing
    app(prog_name="templates-engine")


def _exported(
    solved: Solved, kind: ExportAs, seen_from: SeenFrom = SeenFrom.OUTSIDE
) -> list[tuple[str, bytes]]:
    """(face word or "", bytes) of every file the export makes."""
    if kind is ExportAs.JSON:
        from templates_engine.writers.json_file import json_bytes

        return [("", json_bytes(solved.layout, solved.contents, solved.findings))]
    if kind is ExportAs.CSV:
        from templates_engine.writers.csv_file import csv_bytes

        return [("", csv_bytes(solved.layout, solved.findings))]
    from templates_engine import pipeline
    from templates_engine.job.model import MarkFrom

    side = MarkFrom(seen_from.value)
    if kind is ExportAs.DXF:
        return list(pipeline.face_dxfs(solved, side))
    from templates_engine.writers.svg import svg_bytes

    return [(word, svg_bytes(picture)) for word, picture in pipeline.face_pictures(solved, side)]
