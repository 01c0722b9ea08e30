"""The commands that help to decide: `fit` and `explain`; words only, no computation."""

from __future__ import annotations

import sys
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from templates_engine.cli.reports import JOB_HAS_PROBLEMS, fail, reported


class FitAs(StrEnum):
    """How `fit` prints."""

    TABLE = "table"
    JSON = "json"


def fit(
    job: Annotated[Path, typer.Argument(metavar="JOB", help="The job file, YAML.", show_default=False)],
    face: Annotated[
        list[str] | None,
        typer.Option("--face", metavar="FACE", help="Only the rows of this face. May be repeated."),
    ] = None,
    as_: Annotated[FitAs, typer.Option("--as", help="A table to read, or json.")] = FitAs.TABLE,
) -> None:
    """Print which strut, gaps and faces would take each row, and what is left over or missing.

    The job need not fit as it is written.
    """
    from templates_engine import pipeline
    from templates_engine.writers.fit_table import fit_bytes, fit_text

    with reported():
        opened, rows = pipeline.rows_fitted(job, face or ())
        if as_ is FitAs.JSON:
            sys.stdout.write(fit_bytes(opened, rows).decode())
        else:
            typer.echo(fit_text(opened, rows), nl=False)


def explain(
    check: Annotated[
        list[str] | None,
        typer.Argument(metavar="[CHECK]", help="A check's name; without it, the list.", show_default=False),
    ] = None,
) -> None:
    """Say what a check measures, its limit, who says so, and what it leaves out."""
    from templates_engine.checks import RULES
    from templates_engine.errors import Problem
    from templates_engine.trade.names import nearest
    from templates_engine.writers.text_table import aligned

    known = {rule.name.lower(): rule for rule in RULES}
    if not check:
        rows = [(one.name, "yes" if one.can_fail else "no, cautions", one.what) for one in known.values()]
        typer.echo(aligned(("check", "can fail a job", "what it checks"), rows), nl=False)
        return
    name = " ".join(" ".join(check).split()).lower()
    if name not in known:
        near = nearest(name, known)
        names = ", ".join(f"'{one.name}'" for one in known.values())
        hint = f"Did you mean '{known[near].name}'?" if near else f"There are: {names}."
        fail((Problem(f"there is no check '{name}'.", hint),), JOB_HAS_PROBLEMS)
    rule = known[name]
    rests = {"geometry": "geometry", "code": "a code article", "custom": "custom or remembered figures"}
    gravest = "can fail a job" if rule.can_fail else "only cautions"
    typer.echo(rule.name)
    lines = [
        ("checks", rule.what),
        ("limit", rule.limit),
        ("source", rule.source),
        ("rests on", f"{rests[rule.rests_on]}; it {gravest}"),
        ("leaves out", rule.leaves_out),
    ]
    for heading, words in lines:
        typer.echo(f"  {heading:10}  {words}")
