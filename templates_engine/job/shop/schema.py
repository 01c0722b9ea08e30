"""Declares the shop file as written: every key, its meaning and the words it takes.

Every value is still text.

Read in ``read.py``; an editor gets it as a JSON Schema like that of the job file.
"""

from typing import Annotated

from templates_engine.job.schema import UNITS, Margins, Texts
from templates_engine.job.written_tables import Length, Text, WrittenTable, key, length_or, one_of
from templates_engine.job.written_values import WrittenList, WrittenText
from templates_engine.trade.fittings import KINDS


class WrittenFitting(WrittenTable):
    """A fitting as measured."""

    title = "a fitting"
    needed = ("kind", "size", "across")
    kind: Annotated[WrittenText, one_of(KINDS)] = key("What it is.", *KINDS)
    size: Text = key("Trade size.", "2", "1-1/4")
    type: Text = key("Raceway type it is for. Default every type of that trade size.", "EMT", "metric")
    across: Length = key("Its width at the widest, without a lug.", "3-1/16 in")
    lug: Length = key("How far a bonding bushing's lug stands out beyond its body.", "1/2 in")


class WrittenPunch(WrittenTable):
    """A punch as measured: what it cuts, its pilot and its die."""

    title = "a punch"
    needed = ("size",)
    size: Text = key("Trade size.", "2", "1-1/4")
    type: Text = key("Raceway type it is for. Default every type of that trade size.", "metric")
    hole: Length = key("Diameter it cuts.", "2.416 in")
    pilot: Length = key("Pilot hole its draw stud goes through.", "7/8 in")
    die: Length = key("Outside diameter of its die.", "3-1/8 in")


class WrittenShop(WrittenTable):
    """A shop file: what a shop knows better than any table, and what it usually takes."""

    title = "the shop file"
    units: Annotated[WrittenText, one_of(UNITS)] = key("Unit of bare numbers. Default in.", "in")
    fittings: WrittenList[WrittenFitting] = key(
        "Fittings as measured.", [{"kind": "bonding bushing", "size": "2", "across": "3-1/16 in"}]
    )
    punches: WrittenList[WrittenPunch] = key(
        "Punches as measured.", [{"size": "2", "hole": "2.416 in", "pilot": "7/8 in", "die": "3-1/8 in"}]
    )
    gap: Annotated[WrittenText, length_or(("fittings",))] = key(
        "Clear gap of rows that give none and are not spread: a length, or fittings.", "1-1/8 in", "fittings"
    )
    paper: Texts = key("Paper of jobs that name none, or a list to choose from.", "letter", "A4")
    margins: Margins = key("Margins of jobs that give none.", "1/4 in")
    printer: Text = key("Printer of jobs that name none.", "office")
