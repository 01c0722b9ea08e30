"""Checks the room to bend conductors between a face and the terminals seen from it."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import (
    Case,
    judge,
    needed,
    not_checked,
    speech_of,
    there,
    unlisted,
)
from templates_engine.checks.support.loads import Loaded, loads, missing_inputs
from templates_engine.job.model import Lugs
from templates_engine.layout.model import Layout
from templates_engine.trade.code_tables import Figure
from templates_engine.trade.code_tables import bending_room as listed_room
from templates_engine.trade.conductors import is_at_least, rank, with_unit
from templates_engine.trade.names import NotListed

WITH_TERMINALS = ("panelboard", "cabinet")
"""Kinds of enclosure that are asked for their lugs; others are checked where the job gives some."""
RULED_FROM = "8"
"""The smallest size for which the tables give a room."""

ABOUT = About(
    name="bending room",
    what="Between this face and the terminals there is room to bend the largest conductor of each raceway.",
    limit="Table 312.6(A), or Table 312.6(B)(2) where conductors enter through the wall opposite the "
    "terminals",
    source="NEC 312.6(A), 312.6(B)",
    leaves_out="Compact aluminium conductors; reductions for removable lugs; smaller terminals than those "
    "the job gives. For two and three wires of 250 kcmil copies of 312.6(B)(2) differ; the larger figure is "
    "taken.",
    rests_on="code",
)

_REMEDIES = {
    unit: f"Write under the face lugs: {{distance: {distance}, wires: 1, opposite: no}}."
    for unit, distance in (("in", "12 in"), ("mm", "300 mm"))
}


def run(layout: Layout) -> Iterable[Finding]:
    speech, edition, kind = speech_of(layout.job), layout.job.code, layout.job.enclosure.kind
    for face in layout.faces:
        word, lugs = face.job.face.value, face.job.lugs
        if kind not in WITH_TERMINALS and lugs is None:
            continue
        loaded = loads(face, layout.job)
        if lugs is None:
            large = [each.hole.id for each in loaded if _is_ruled(each)]
            yield from not_checked(ABOUT, word, {"lugs": large} if large else {}, _REMEDIES[speech.unit])
            continue
        rooms, why = _rooms(loaded, lugs, edition)
        yield from judge(
            ABOUT,
            word,
            _cases(loaded, rooms, lugs),
            when_short=Outcome.FAIL,
            short=lambda case: (
                f"{case.what} needs {needed(case, speech)} to bend at its terminals, "
                f"{there(case, speech)} is there"
            ),
            fine=lambda case: (
                f"{case.what} needs {needed(case, speech)} to bend at its terminals, "
                f"{there(case, speech)} is there"
            ),
            remedy="Take a deeper gutter, smaller or fewer wires a terminal, or enter through another wall.",
        )
        yield from not_checked(
            ABOUT, word, missing_inputs(loaded), "Write the conductors the raceways carry."
        )
        yield from unlisted(ABOUT, word, why, "Check the wires at one terminal in 'lugs'.")


def _is_ruled(each: Loaded) -> bool:
    """Whether a room may be asked for; so too where it is not known what the raceway carries."""
    if each.carried is None or each.carried.missing:
        return True
    size = _largest(each)
    return size is not None and is_at_least(size, RULED_FROM)


def _largest(each: Loaded) -> str | None:
    """The largest conductor that comes to a terminal, None when it is not known."""
    if each.carried is None or each.carried.missing:
        return None
    return max((wire.size for wire in each.carried.phase_wires), key=rank, default=None)


def _rooms(
    loaded: tuple[Loaded, ...], lugs: Lugs, edition: str
) -> tuple[dict[str, Figure | None], dict[str, str]]:
    """What the tables ask for each raceway (None: nothing), or their sentence where they have no row."""
    rooms, why = {}, {}
    for each in loaded:
        size = _largest(each)
        if size is None:
            continue
        try:
            rooms[each.hole.id] = listed_room(size, lugs.wires, opposite=lugs.opposite, edition=edition)
        except NotListed as error:
            why[each.hole.id] = error.message
    return rooms, why


def _cases(loaded: tuple[Loaded, ...], rooms: dict[str, Figure | None], lugs: Lugs) -> Iterable[Case]:
    for each in loaded:
        size = _largest(each)
        if size is None or each.hole.id not in rooms:
            continue
        figure = rooms[each.hole.id]
        required = figure.value if figure else 0.0
        wires = (
            f"{with_unit(size)}" if lugs.wires == 1 else f"{lugs.wires} wires of {with_unit(size)} a terminal"
        )
        table = f" ({figure.source})" if figure else ""
        yield Case(
            (each.hole.id,),
            lugs.distance_in,
            required,
            f"{each.hole.id}, with {wires}{table},",
            label=each.hole.id,
        )
