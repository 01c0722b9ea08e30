"""Offers the commands: words for people and exit codes; every computation is the pipeline's.

Exit codes: 0 done, 1 a check failed, 2 the job file or the command has problems, 3 it cannot fit,
4 cannot write.
"""

from __future__ import annotations

import gc
import sys
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from templates_engine.cli import advice, measured
from templates_engine.cli.materials import Paths, materials
from templates_engine.cli.new import new
from templates_engine.cli.page import page
from templates_engine.cli.printers import printers
from templates_engine.cli.report import report
from templates_engine.cli.reports import (
    CHECK_FAILED,
    EPILOG,
    JOB_HAS_PROBLEMS,
    Overwrite,
    counted,
    fail,
    note_lines,
    reported,
    say,
    verdict,
)
from templates_engine.cli.rolls import rolls
from templates_engine.cli.schedules import import_
from templates_engine.cli.tables import are_tables, export_tables, the_only_job
from templates_engine.errors import Problem, TemplatesError
from templates_engine.sentences.printers import used_words

if TYPE_CHECKING:
    from templates_engine.checks.model import Finding
    from templates_engine.pipeline import Solved, WrittenFile

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    epilog=EPILOG,
    help="Full-scale marking templates for knockouts: a job file in, true-scale sheets out.",
)
app.add_typer(printers, name="printer")
app.command(epilog=measured.EPILOG)(measured.measured)
app.command(epilog=EPILOG)(advice.fit)
app.command(epilog=EPILOG)(advice.explain)
app.command("import", epilog=EPILOG)(import_)
app.command(epilog=EPILOG)(materials)
app.command(epilog=EPILOG)(rolls)
app.command(epilog=EPILOG)(new)
app.command(epilog=EPILOG)(page)
app.command(epilog=EPILOG)(advice.keys)
app.command(epilog=EPILOG)(report)

JobFile = Annotated[Path, typer.Argument(metavar="JOB", help="The job file, YAML.", show_default=False)]
Faces = Annotated[
    list[str] | None,
    typer.Option(
        "--face", metavar="FACE", help="Only this face: top, bottom, left or right. May be repeated."
    ),
]
Output = Annotated[
    Path | None,
    typer.Option("--output", "-o", metavar="FILE", help="Where to write.", show_default=False),
]


class HolesAs(StrEnum):
    """How `holes` prints."""

    TABLE = "table"
    CSV = "csv"
    JSON = "json"


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


class CheckAs(StrEnum):
    """How `check` prints."""

    TEXT = "text"
    JSON = "json"


@app.command(epilog=EPILOG)
def draw(
    job: JobFile,
    output: Output = None,
    face: Faces = None,
    draft: Annotated[
        bool,
        typer.Option("--draft", help="Draw a layout that fails a check too, every page stamped as a draft."),
    ] = False,
    printer: Annotated[
        str | None,
        typer.Option(
            "--printer", metavar="NAME", help='Correct for this measured printer; "none" for none at all.'
        ),
    ] = None,
    overwrite: Overwrite = None,
) -> None:
    """Write the template as a PDF: cover pages, then sheets at true scale.

    For sheets on a roll the cover pages go into a second file, NAME-cover.pdf, on office paper.
    Without --output the file is named after the job file and written to the current folder.
    """
    from templates_engine import pipeline

    with reported():
        solved = _solved(job, face)
        if solved.fails and not draft:
            _refuse(solved.fails, "so no template was drawn")
        path = output or Path(f"{job.stem}.pdf")
        known = pipeline.printer_for(solved.layout.job, printer)
        written = pipeline.write_template(
            solved, path, printer=known, draft=bool(solved.fails), overwrite=overwrite or ()
        )
        for one in written:
            _echo_written(one, is_cover=one is not written[-1])
        typer.echo(f"Paper: {written[-1].cost}")
        if known:
            typer.echo(used_words(known, solved.layout.job))
        if written[-1].other_paper:
            typer.echo(f"caution: {written[-1].other_paper}")
        for line in note_lines(solved.layout.notes):
            typer.echo(line)
        for finding in solved.findings:
            if finding.outcome.value == "caution":
                typer.echo(f"caution, {finding.check}: {finding.message}")
        lacking = sorted({sign for one in written for sign in one.lacking})
        if lacking:
            say(f"Not in the fonts, printed as a replacement sign: {' '.join(lacking)}")
        if solved.fails:
            say("DRAFT: a check failed; every page is stamped. Do not cut from it.")


def _echo_written(written: WrittenFile, is_cover: bool) -> None:
    document = written.document
    pages = counted(len(document.pages), "page")
    each = "" if len(document.pages) == 1 else "each "
    size = f"{document.page_width_in:.4g} x {document.page_height_in:.4g} in"
    how = "Cover pages, on office paper." if is_cover else "Print at actual size (100 %), one side only."
    typer.echo(f"{written.path}: {pages}, {each}{size}. {how}")


@app.command(epilog=EPILOG)
def check(
    job: JobFile,
    face: Faces = None,
    as_: Annotated[CheckAs, typer.Option("--as", help="text to read, json for programs.")] = CheckAs.TEXT,
    all_: Annotated[bool, typer.Option("--all", help="Print the checks that are ok too.")] = False,
) -> None:
    """Say whether the layout passes, then what fails, what to mind, and what was not checked."""
    with reported():
        solved = _solved(job, face)
        if as_ is CheckAs.JSON:
            from templates_engine.writers.json_file import findings_bytes

            sys.stdout.write(findings_bytes(solved.findings).decode())
        else:
            holes = counted(sum(len(one.holes) for one in solved.layout.faces), "hole")
            typer.echo(f"{job}: {holes}; {verdict(solved.findings)}.")
            for line in note_lines(solved.layout.notes):
                typer.echo(line)
            told = solved.findings if all_ else tuple(one for one in solved.findings if not _is_ok(one))
            _print_findings(told, sys.stdout)
            if len(told) < len(solved.findings):
                typer.echo("The checks that are ok are printed by --all.")
            typer.echo(f"Paper: {_cost(solved)}")
        if solved.fails:
            raise typer.Exit(CHECK_FAILED)


def _cost(solved: Solved) -> str:
    """What the sheets would cost, or why there is no paper for them; a check says so and passes or not."""
    from templates_engine import pipeline

    try:
        return pipeline.plan_job(solved, pipeline.printer_for(solved.layout.job)).cost
    except TemplatesError as error:
        return " ".join(f"{problem.message} {problem.remedy}" for problem in error.problems)


@app.command(epilog=EPILOG)
def holes(
    job: JobFile,
    face: Faces = None,
    as_: Annotated[HolesAs, typer.Option("--as", help="A table to read, or csv or json.")] = HolesAs.TABLE,
) -> None:
    """Print every hole: centre from both edges, hole, pilot, distances to the next."""
    with reported():
        solved = _solved(job, face)
        if as_ is HolesAs.TABLE:
            from templates_engine.writers.text_table import holes_text

            if solved.fails:
                typer.echo("A CHECK FAILED: do not cut from these numbers.")
            typer.echo(holes_text(solved.layout), nl=False)
            for line in note_lines(solved.layout.notes):
                typer.echo(line)
        else:
            sys.stdout.write(_exported(solved, ExportAs(as_.value))[0][1].decode())
        _warn_of_fails(solved)


@app.command(epilog=EPILOG)
def export(
    paths: Paths,
    as_: Annotated[
        ExportAs,
        typer.Option(
            "--as",
            help="json and csv: all faces in one file; svg and dxf: a drawing a face; xlsx: all there is to "
            "tell of any number of jobs, as csv does of a folder or several jobs.",
        ),
    ],
    output: Output = None,
    face: Faces = None,
    seen_from: Annotated[
        SeenFrom,
        typer.Option("--seen-from", help="The side of the metal an svg or dxf shows; inside is mirrored."),
    ] = SeenFrom.OUTSIDE,
    draft: Annotated[
        bool, typer.Option("--draft", help="Draw a layout that fails a check too, stamped as a draft.")
    ] = False,
    overwrite: Overwrite = None,
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
            export_tables(paths, output, face, overwrite or (), is_book=as_.value == "xlsx")
            return
        job = the_only_job(paths, as_.value)
        solved = _solved(job, face)
        is_drawing = as_ in (ExportAs.SVG, ExportAs.DXF)
        if is_drawing and solved.fails and not draft:
            _refuse(solved.fails, "so no drawing to cut from was written")
        made = _exported(solved, as_, seen_from)
        name = output or Path(f"{job.stem}.{as_.value}")
        files = [NewFile(beside(name, word) if len(made) > 1 else name, data) for word, data in made]
        write_outputs(as_.value, files, overwrite or ())
        for file in files:
            typer.echo(f"{file.path}: written.")
        if not draft:
            _warn_of_fails(solved)


@app.command(epilog=EPILOG)
def schema(
    shop: Annotated[bool, typer.Option("--shop", help="That of the shop file, shop.yaml, instead.")] = False,
) -> None:
    """Print the JSON Schema of the job file, for an editor that completes keys."""
    import json

    from templates_engine.job import json_schema, shop_json_schema

    made = shop_json_schema() if shop else json_schema()
    typer.echo(json.dumps(made, indent=2, ensure_ascii=False))


@app.command(epilog=EPILOG)
def tables(
    name: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[NAME]",
            help="One table, or a raceway type for all rows of that type; without it, the tables' names.",
            show_default=False,
        ),
    ] = None,
) -> None:
    """Print the trade figures the layout rests on, each with its source."""
    from templates_engine.trade.listing import rows_of_type
    from templates_engine.trade.listing import tables as all_tables
    from templates_engine.trade.names import nearest
    from templates_engine.writers.text_table import aligned

    listed = {table.name: table for table in all_tables()}
    if not name:
        rows = [(table.name, str(len(table.rows)), table.note) for table in listed.values()]
        typer.echo(aligned(("table", "rows", "what it holds"), rows), nl=False)
        return
    asked = " ".join(" ".join(name).replace("_", " ").split())
    found = (listed[asked.lower()],) if asked.lower() in listed else rows_of_type(asked)
    if not found:
        near = nearest(asked, listed)
        hint = f"Did you mean '{near}'?" if near else f"There are: {', '.join(listed)}."
        fail((Problem(f"there is no table '{asked}'.", hint),), JOB_HAS_PROBLEMS)
    for index, table in enumerate(found):
        heading = f"{table.name}: {table.note}" if table.note else table.name
        typer.echo(f"{chr(10) if index else ''}{heading}")
        typer.echo(aligned(table.headings, table.rows), nl=False)


def main() -> None:
    """Reads the command line and does what it says."""
    gc.disable()  # one job and out: looking for cycles costs a fourteenth of the time and frees nothing
    app(prog_name="templates-engine")


def _solved(job: Path, faces: list[str] | None) -> Solved:
    from templates_engine import pipeline

    return pipeline.solve_job(pipeline.open_job(job, faces or ()))


def _exported(
    solved: Solved, kind: ExportAs, seen_from: SeenFrom = SeenFrom.OUTSIDE
) -> list[tuple[str, bytes]]:
    """(face word or "", bytes) of every file the export makes."""
    if kind is ExportAs.JSON:
        from templates_engine.writers.json_file import json_bytes

        return [("", json_bytes(solved.layout, solved.loads, solved.findings))]
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


def _refuse(fails: tuple[Finding, ...], outcome: str) -> NoReturn:
    _print_findings(fails, sys.stderr)
    say(f"A check failed, {outcome}. Mend the job, or add --draft for a stamped draft.")
    raise typer.Exit(CHECK_FAILED)


def _warn_of_fails(solved: Solved) -> None:
    """Numbers of a failing layout are given with a warning, and the exit code says so."""
    if solved.fails:
        _print_findings(solved.fails, sys.stderr)
        say("A check failed: do not cut from these numbers.")
        raise typer.Exit(CHECK_FAILED)


def _is_ok(finding: Finding) -> bool:
    return finding.outcome.value == "ok"


def _print_findings(findings: tuple[Finding, ...], stream: object) -> None:
    for finding in findings:
        where = " ".join(part for part in (finding.face, ", ".join(finding.holes)) if part)
        about = f"{finding.check} ({where})" if where else finding.check
        said = " ".join(part for part in (finding.message, finding.remedy) if part)
        typer.echo(
            f"{finding.outcome.value}: {about}: {said} [{finding.source}]",
            err=stream is sys.stderr,
        )
