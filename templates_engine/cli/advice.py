"""Offers the commands that help to decide and to write: `fit`, `explain` and `keys`; words only."""

from __future__ import annotations

import sys
from collections.abc import Container, Iterator, Sequence
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING

import click

from templates_engine.cli.messages import JOB_HAS_PROBLEMS, fail, reported
from templates_engine.cli.options import EPILOG, job_file, shown_as

if TYPE_CHECKING:
    from templates_engine.checks.model import Rule


class FitAs(StrEnum):
    """How `fit` prints."""

    TABLE = "table"
    JSON = "json"


@click.command(epilog=EPILOG)
@job_file
@click.option("--face", metavar="FACE", multiple=True, help="Only the rows of this face. May be repeated.")
@shown_as(FitAs, FitAs.TABLE, "A table to read, or json.")
def fit(job: Path, face: tuple[str, ...], as_: FitAs) -> None:
    """Print which strut, gaps and faces would take each row, and what is left over or missing.

    The job need not fit as it is written.
    """
    from templates_engine import pipeline
    from templates_engine.writers.fit_table import fit_bytes, fit_text

    with reported():
        opened, rows = pipeline.rows_fitted(job, face)
        if as_ is FitAs.JSON:
            sys.stdout.write(fit_bytes(opened, rows).decode())
        else:
            click.echo(fit_text(opened, rows), nl=False)


@click.command(epilog=EPILOG)
@click.argument(
    "check", metavar="[CHECK]...", nargs=-1, help="A check's name, or several; without any, the list."
)
def explain(check: tuple[str, ...]) -> None:
    """Say what a check measures, its limit, who says so, and what it leaves out."""
    from templates_engine.checks import RULES, Outcome
    from templates_engine.errors import Problem
    from templates_engine.trade.not_in_tables import nearest
    from templates_engine.writers.text_table import aligned

    known = {rule.name.lower(): rule for rule in RULES}
    if not check:
        rows = [
            (one.name, "yes" if one.gravest is Outcome.FAIL else "no", one.what) for one in known.values()
        ]
        click.echo(aligned(("check", "can fail a job", "what it checks"), rows), nl=False)
        return
    named = _named(check, known)
    for name in named:
        if name not in known:
            near = nearest(name, known)
            names = ", ".join(f"'{one.name}'" for one in known.values())
            hint = f"Did you mean '{known[near].name}'?" if near else f"There are: {names}."
            fail((Problem(f"there is no check '{name}'.", hint),), JOB_HAS_PROBLEMS)
    click.echo("\n".join(_explained(known[name]) for name in named), nl=False)


def _named(words: Sequence[str], known: Container[str]) -> list[str]:
    """The names of checks in what was typed: with quotes round each, or plainly one after the other."""
    parts = " ".join(words).lower().split()
    names: list[str] = []
    unknown: list[str] = []
    while parts:
        runs = (" ".join(parts[:count]) for count in range(len(parts), 0, -1))
        name = next((run for run in runs if run in known), "")
        if not name:
            unknown.append(parts.pop(0))
            continue
        if unknown:
            break
        names.append(name)
        parts = parts[len(name.split()) :]
    return [*names, " ".join([*unknown, *parts])] if unknown else names


def _explained(rule: Rule) -> str:
    from templates_engine.checks import Outcome
    from templates_engine.trade.editions import DEFAULT_EDITION, in_edition

    rests = {"geometry": "geometry", "code": "a code article", "custom": "custom or remembered figures"}
    can = {Outcome.FAIL: "can fail a job", Outcome.CAUTION: "only cautions", Outcome.NOT_CHECKED: "only asks"}
    lines = (
        ("checks", rule.what),
        ("limit", in_edition(rule.limit, DEFAULT_EDITION)),
        ("source", "; in ".join(_sources(rule))),
        ("rests on", f"{rests[rule.rests_on]}; it {can[rule.gravest]}"),
        ("leaves out", rule.leaves_out),
    )
    return "".join([f"{rule.name}\n", *(f"  {heading:10}  {words}\n" for heading, words in lines)])


def _sources(rule: Rule) -> Iterator[str]:
    """Who says so in the newest edition, and in older ones where they number it otherwise."""
    from templates_engine.trade.editions import editions

    newest, *older = editions()
    yield rule.source_in(newest)
    for edition in older:
        if rule.source_in(edition) != rule.source_in(newest):
            yield f"{edition}: {rule.source_in(edition).removeprefix('NEC ')}"


@click.command(epilog=EPILOG)
@click.argument("key", metavar="[KEY]...", nargs=-1, help="One key; without it, all of them.")
def keys(key: tuple[str, ...]) -> None:
    """Print the keys of the job file and the shop file, what may stand at each, and an example."""
    from templates_engine.errors import Problem
    from templates_engine.job.help.keys import all_keys, likely_key
    from templates_engine.writers.key_table import key_text, keys_text

    known = all_keys()
    name = " ".join(" ".join(key).split()).rstrip(":").lower()
    found = [one for one in known if one.name == name]
    if name and not found:
        near = likely_key(name, known)
        hint = f"Did you mean '{near}'?" if near else "All are listed by: templates-engine keys"
        fail((Problem(f"there is no key '{name}'.", hint),), JOB_HAS_PROBLEMS)
    click.echo(key_text(found) if name else keys_text(known), nl=False)
