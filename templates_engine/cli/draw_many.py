"""Tells what became of the jobs of a building that are drawn at once; words and exit codes alone."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from templates_engine.cli.messages import (
    CHECK_FAILED,
    JOB_HAS_PROBLEMS,
    counted,
    exit_code,
    finding_line,
    note_lines,
    say,
)
from templates_engine.cli.progress import ProgressLines, progress_lines
from templates_engine.values import replace

if TYPE_CHECKING:
    from templates_engine.checks.model import Finding
    from templates_engine.office.draw.batch import Batch
    from templates_engine.office.draw.one_job import DrawnJob
    from templates_engine.office.draw.orders import HowToDraw

_MOST_LEFT = 12
"""Jobs named of those that are left; the others are counted."""
_STATES = ("drawn", "unchanged", "failed")


def draw_many(
    paths: Sequence[Path], into: Path, how: HowToDraw, cores: int | None, binder: Path | None
) -> None:
    """Draws all jobs, tells each as it is done, binds them, and tells how many came out how.

    Raises TemplatesError.
    """
    from templates_engine.office.draw.batch import Batch
    from templates_engine.office.draw.drawn_before import jobs_gone
    from templates_engine.office.draw.over_cores import cores as all_cores

    batch = Batch(paths, into, how, cores or all_cores(), binder)
    done = _drawn(batch)
    for problem in batch.problems:
        say(str(problem))
    for template, job in jobs_gone(into).items():
        say(f"{template}: drawn from {job}, which is gone: do not cut from it.")
    _tell_all(done, len(batch.problems))
    for bound in batch.bind(done):
        enclosures = counted(bound.enclosures, "enclosure")
        click.echo(f"{bound.path}: {enclosures}, {counted(bound.pages, 'page')} on {bound.paper}.")
    codes = [_code(job) for job in done] + [JOB_HAS_PROBLEMS] * bool(batch.problems)
    if max(codes):
        raise click.exceptions.Exit(max(codes))


def _drawn(batch: Batch) -> list[DrawnJob]:
    """Every job, told as it is done; stopped, what is left is told."""
    done: list[DrawnJob] = []
    run = batch.run()
    try:
        with progress_lines(len(batch.orders), "drawing") as words:
            for job in run:
                done.append(job if batch.binder else replace(job, findings=tuple(_fails(job)), notes=()))
                _tell(job, words)
                words.step()
    except (KeyboardInterrupt, SystemExit):
        run.close()
        if batch.binder is not None:
            say(f"{batch.binder}: not written.")
        ended = {job.order.job for job in done}
        _say_left([str(order.job) for order in batch.orders if order.job not in ended])
        raise
    return done


def _say_left(left: Sequence[str]) -> None:
    more = len(left) - _MOST_LEFT
    named = ", ".join(left[:_MOST_LEFT]) + (f" and {more} more" if more > 0 else "")
    say(f"Left: {counted(len(left), 'job')}: {named}. All files are whole; run the same again for the rest.")


# --- one job ------------------------------------------------------------------------------------------------


def _tell(job: DrawnJob, words: ProgressLines) -> None:
    if job.state.value == "failed":
        _tell_failed(job, words)
        return
    if job.is_draft:
        words.problem(f"{job.order.pdf}: DRAFT: a check failed; every page is stamped. Do not cut from it.")
    if job.state.value == "drawn":
        _tell_drawn(job, words)


def _tell_drawn(job: DrawnJob, words: ProgressLines) -> None:
    """What was written, what moved holes, what to mind; of what stands unchanged it was said before."""
    for file in job.files:
        words.line(f"{job.order.into / file.name}: {counted(file.pages, 'page')}, drawn.")
    name = job.order.job
    for line in note_lines(job.notes):
        words.line(f"{name}: {line}")
    for finding in job.findings:
        if finding.outcome.value == "caution":
            words.line(f"{name}: caution, {finding.check}: {finding.message}")
    if job.other_paper:
        words.line(f"{name}: caution: {job.other_paper}")
    if job.lacking:
        words.problem(f"{name}: not in the fonts, printed as a replacement sign: {' '.join(job.lacking)}")


def _tell_failed(job: DrawnJob, words: ProgressLines) -> None:
    for problem in job.error.problems if job.error else ():
        words.problem(str(problem))
    if job.error is None:
        for finding in _fails(job):
            words.problem(f"{job.order.job}: {finding_line(finding)}")
        words.problem(
            f"{job.order.job}: a check failed, so no template was drawn. Mend the job, or add --draft for a "
            "stamped draft."
        )
    for file in job.files:
        words.problem(f"{job.order.into / file.name}: drawn, but not recorded: run again before it is used.")
    if job.is_older_there:
        words.problem(f"{job.order.pdf}: an older template, not of the job as it is: do not cut from it.")


def _fails(job: DrawnJob) -> list[Finding]:
    return [one for one in job.findings if one.outcome.value == "fail"]


# --- all jobs -----------------------------------------------------------------------------------------------


def _tell_all(done: Sequence[DrawnJob], problems_of_folders: int) -> None:
    """How many jobs came out how, a line a folder and one for all."""
    from templates_engine.writers.text_table import aligned

    by_folder: dict[str, Counter[str]] = {}
    for job in sorted(done, key=lambda one: str(one.order.job.parent)):
        counts = by_folder.setdefault(str(job.order.job.parent), Counter())
        counts[job.state.value] += 1
        counts["problems"] += len(job.error.problems) if job.error else len(_fails(job))
    total = sum(by_folder.values(), Counter({"problems": problems_of_folders}))
    rows = list(by_folder.items()) if len(by_folder) > 1 else []
    columns = (*_STATES, "problems")
    cells = [
        (name, str(sum(counts[state] for state in _STATES)), *(str(counts[one]) for one in columns))
        for name, counts in [*rows, ("all", total)]
    ]
    click.echo(aligned(("folder", "jobs", *columns), cells, frozenset(range(1, 6))), nl=False)
    if total["drawn"]:
        click.echo("Print at actual size (100 %), one side only.")


def _code(job: DrawnJob) -> int:
    if job.error is not None:
        return exit_code(job.error)
    return CHECK_FAILED if job.state.value == "failed" else 0
