"""Offers `draw`: the template of one job, or those of a building; words for people and exit codes."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from templates_engine.cli.draw_many import draw_many
from templates_engine.cli.messages import (
    counted,
    note_lines,
    refuse,
    refuse_faces,
    reported,
    say,
    solved_job,
    the_only_file,
)
from templates_engine.cli.options import (
    EPILOG,
    FILE,
    cores_wanted,
    faces_named,
    job_paths,
    output_file,
    overwrite_named,
)
from templates_engine.errors import JobProblems, Problem
from templates_engine.sentences.printers import used_words

if TYPE_CHECKING:
    from templates_engine.office.draw.orders import HowToDraw
    from templates_engine.office.register.recording import Recording
    from templates_engine.pipeline import Solved, WrittenFile


@click.command(epilog=EPILOG)
@job_paths
@output_file
@click.option(
    "--into",
    metavar="FOLDER",
    type=FILE,
    help="Draw all jobs into this folder, as the folders of the jobs are.",
)
@faces_named
@click.option(
    "--draft", is_flag=True, help="Draw a layout that fails a check too, every page stamped as a draft."
)
@click.option("--printer", metavar="NAME", help='Correct for this measured printer; "none" for none at all.')
@overwrite_named
@click.option("--again", is_flag=True, help="With --into: draw unchanged jobs too.")
@click.option(
    "--same-revision",
    is_flag=True,
    help="Where a register is kept: draw a layout that changed under an unchanged revision.",
)
@cores_wanted
@click.option(
    "--binder",
    metavar="FILE",
    type=FILE,
    help="With --into: bind all templates into one PDF too, with an index and the findings of all; "
    "what is on another paper into one beside it.",
)
def draw(
    paths: tuple[Path, ...],
    output: Path | None,
    into: Path | None,
    face: tuple[str, ...],
    draft: bool,
    printer: str | None,
    overwrite: tuple[Path, ...],
    again: bool,
    same_revision: bool,
    cores: int | None,
    binder: Path | None,
) -> None:
    """Write the template as a PDF: cover pages, then sheets at true scale.

    For sheets on a roll the cover pages go into a second file, NAME-cover.pdf, on office paper.
    Without --output the file is named after the job file and written to the current folder.

    Many jobs are drawn with --into: one that cannot be drawn does not keep the others back, and those whose
    layout, paper and words are unchanged are left alone.
    """
    from templates_engine.office.draw.orders import HowToDraw

    how = HowToDraw(draft, printer, again, overwrite, same_revision)
    with reported():
        if into is not None:
            _refuse_both(output, face)
            draw_many(paths, into, how, cores, binder)
            return
        job = the_only_file(paths)
        if job is None or again or binder is not None or cores is not None:
            raise JobProblems([_into_missing(is_one=job is not None)])
        _draw_one(job, output or Path(f"{job.stem}.pdf"), face, how)


def _refuse_both(output: Path | None, faces: Sequence[str]) -> None:
    if output is not None:
        raise JobProblems(
            [Problem("--output is for one job, and --into for many.", "Leave one of them out.")]
        )
    refuse_faces(faces)


def _into_missing(is_one: bool) -> Problem:
    words = (
        "--again, --cores and --binder are for many jobs" if is_one else "many jobs are drawn into a folder"
    )
    return Problem(f"{words}, and none is named.", "Add --into FOLDER.")


def _draw_one(job: Path, path: Path, faces: Sequence[str], how: HowToDraw) -> None:
    from templates_engine import pipeline

    solved = solved_job(job, faces)
    if solved.fails and not how.draft:
        refuse(solved.fails, "so no template was drawn")
    record = _recording(job, solved, how)
    known = pipeline.printer_for(solved.layout.job, how.printer)
    plan = pipeline.plan_job(solved, known)
    written = pipeline.write_planned(solved, plan, path, draft=bool(solved.fails), overwrite=how.overwrite)
    if record is not None:
        record.record(plan, path)
    for one in written:
        _echo_written(one, is_cover=one is not written[-1])
    click.echo(f"Paper: {written[-1].cost}")
    if known:
        click.echo(used_words(known, solved.layout.job))
    if written[-1].other_paper:
        click.echo(f"caution: {written[-1].other_paper}")
    _tell_more(solved, written)


def _recording(job: Path, solved: Solved, how: HowToDraw) -> Recording | None:
    """How to record it, where a register is kept. Raises JobProblems and CannotWrite."""
    from templates_engine.office.register.find_register import register_file_over

    if register_file_over(job.parent) is None:
        return None
    from templates_engine.office.register.recording import recording

    return recording(job, solved, same_revision=how.same_revision)


def _tell_more(solved: Solved, written: tuple[WrittenFile, ...]) -> None:
    """What moved holes, what to mind, and what is not as it should be."""
    for line in note_lines(solved.layout.notes):
        click.echo(line)
    for finding in solved.findings:
        if finding.outcome.value == "caution":
            click.echo(f"caution, {finding.check}: {finding.message}")
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
    click.echo(f"{written.path}: {pages}, {each}{size}. {how}")
