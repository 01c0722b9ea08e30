"""Offers `sheet`: whether a printed sheet is still current, and what moved since; words alone."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from templates_engine.cli.messages import CHECK_FAILED, counted, reported
from templates_engine.cli.options import EPILOG, FILE
from templates_engine.cli.register import register_of

if TYPE_CHECKING:
    from templates_engine.office.register.faces import Move, RecordedHole
    from templates_engine.office.register.find_sheets import FoundSheet
    from templates_engine.office.register.store import EntryFace
    from templates_engine.units import LengthFormat


@click.command(epilog=EPILOG)
@click.argument(
    "code",
    metavar="CODE...",
    nargs=-1,
    required=True,
    help="What stands behind `fingerprint` on the sheet, or the text of its square code.",
)
@click.option(
    "--in",
    "folder",
    metavar="FOLDER",
    type=FILE,
    default=Path(),
    show_default="the current one",
    help="The folder of the jobs.",
)
def sheet(code: tuple[str, ...], folder: Path) -> None:
    """Say what a printed sheet is, whether it is still current, and what moved since.

    Exit code 1 where it is not to be marked from any more.
    """
    from templates_engine.office.register.find_sheets import find_sheets

    with reported():
        found = find_sheets(register_of(folder), "\n".join(code))
        if len(found) > 1:
            click.echo(f"{len(found)} faces have this layout:")
        for one in found:
            for line in _sheet_lines(one):
                click.echo(line)
        if not all(one.is_current for one in found):
            raise click.exceptions.Exit(CHECK_FAILED)


# --- one sheet ----------------------------------------------------------------------------------------------


def _sheet_lines(found: FoundSheet) -> Iterator[str]:
    from templates_engine.office.register.recording import day

    sheet, entry = found.sheet, found.sheet.entry
    revision = f"revision {entry.revision}" if entry.revision else "no revision"
    yield (
        f"{entry.mark} {sheet.face.face}, {revision}, {sheet.face.code}: {entry.how} {day(entry.at)} "
        f"from {entry.job}."
    )
    if found.other_revisions:
        named = ", ".join(one or "none" for one in found.other_revisions)
        yield f"The same layout was drawn as revision {named} too: the sheet says which it is."
    if found.is_current:
        yield "CURRENT: the job still gives this layout under this revision."
        if found.other_cut:
            yield (
                f"It was drawn on other sheets since, {found.last.face.code}: tape sheets of one print "
                "together."
            )
        return
    yield from _superseded(found)


def _superseded(found: FoundSheet) -> Iterator[str]:
    from templates_engine.office.register.store import DRAFT
    from templates_engine.units import LengthFormat

    if found.sheet.entry.how == DRAFT:
        yield "DRAFT: a check had failed. Do not cut from it."
    elif found.today is None and found.last.number == found.sheet.number:
        yield "NOT KNOWN TO BE CURRENT, though the last that was drawn: do not mark from it."
    else:
        yield "NOT CURRENT: do not mark from it."
    yield from _by_what(found)
    lengths = LengthFormat(found.last.entry.unit, found.last.entry.denominator)  # type: ignore[arg-type]
    yield from _what_moved(found, lengths)


def _by_what(found: FoundSheet) -> Iterator[str]:
    """What was drawn since, and what was not."""
    from templates_engine.office.register.recording import day

    last, today = found.last, found.today
    if last.number > found.sheet.number and last.entry != found.sheet.entry:
        yield f"Superseded by {_named(last)}, drawn {day(last.entry.at)}."
    if today is None:
        yield found.why_not_today
    elif (today.revision, today.face.fingerprint) != (last.entry.revision, last.face.fingerprint):
        yield "The job has changed since, and has not been drawn as it is: draw it."


def _named(one: EntryFace) -> str:
    return f"revision {one.entry.revision or 'none'}, {one.face.code}"


def _what_moved(found: FoundSheet, lengths: LengthFormat) -> Iterator[str]:
    """Every hole that is not as the sheet has it, and what else of the face is another."""
    old, new, changes = found.sheet.face, found.newest, found.moves
    if old.mark_from != new.mark_from:
        yield f"It was marked from {old.mark_from}, and is marked from {new.mark_from} now."
    for name, was, now in (("width", old.width_in, new.width_in), ("depth", old.depth_in, new.depth_in)):
        if abs(was - now) > 1e-6:
            yield f"The face's {name} was {lengths.say(was)}, and is {lengths.say(now)} now."
    for hole in changes.removed:
        yield f"{hole.id} removed: {hole.called}, it was {_place(hole, old.start_edge, lengths)}."
    for move in changes.moved:
        yield _moved(move, found, lengths)
    for hole in changes.added:
        yield f"{hole.id} added: {hole.called}, {_place(hole, new.start_edge, lengths)}."
    if not (changes.removed or changes.moved or changes.added):
        yield "No hole is elsewhere."
    elif changes.stay:
        yield f"{counted(changes.stay, 'hole')} as on the sheet."


def _place(hole: RecordedHole, edge: str, lengths: LengthFormat) -> str:
    unit = " mm" if lengths.unit == "mm" else ""
    return f"{lengths.mark(hole.u_in)}{unit} from the {edge}, {lengths.mark(hole.v_in)}{unit} from the back"


def _moved(move: Move, found: FoundSheet, lengths: LengthFormat) -> str:
    face = found.newest
    name = move.old.id if move.old.id == move.new.id else f"{move.old.id}, {move.new.id} now,"
    if not move.is_moved:
        return f"{move.old.id} is {move.new.id} now, where it was."
    ways = [
        f"{lengths.say(abs(by))} toward the {end if by > 0 else start}"
        for by, start, end in (
            (move.new.u_in - move.old.u_in, face.start_edge, face.end_edge),
            (move.new.v_in - move.old.v_in, "back", "front"),
        )
        if abs(by) > 1e-6
    ]
    return f"{name} moved {' and '.join(ways)}: now {_place(move.new, face.start_edge, lengths)}."
