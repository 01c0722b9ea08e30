"""Checks the conductors that lie along a wireway or a panel's gutter: how full it is, how they turn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templates_engine.checks.checked_face import CheckedFace
from templates_engine.checks.contents import missing_contents
from templates_engine.checks.model import Answer, Measurement, MissingInput, NoFigure, Outcome, Rule
from templates_engine.job.model import ConductorGroup
from templates_engine.trade.code_tables import adjustment, bending_room
from templates_engine.trade.conductors import look_up, rank, with_unit
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.wiring import Conductors

FILL_PERCENT = 20
GUTTER_PERCENT = 40
UNADJUSTED = 30
"""Current-carrying conductors that lie side by side without adjustment."""

_SECTION = "Write fullest section: [{count: 12, size: 12, insulation: THHN}] under 'enclosure'."
_UNTOLD = "even if all that its raceways carry lay side by side"


def _everything(site: CheckedFace) -> list[Conductors] | None:
    """The conductors of all raceways of all faces; None where some of them are not told."""
    found: list[Conductors] = []
    for face in site.layout.faces:
        for each in site.at(face).hole_contents:
            if each.missing or each.contents is None:
                return None
            found += each.contents.groups
    return found


def _area_in2(groups: Sequence[Conductors | ConductorGroup]) -> float:
    """What some conductors take, grounds too. Raises NotInTables."""
    return sum(group.count * look_up(group.wire.size, group.wire.insulation).area_in2 for group in groups)


def _fill(site: CheckedFace) -> Iterator[Answer]:
    enclosure = site.job.enclosure
    if enclosure.kind != "wireway":
        return
    told = enclosure.fullest_section
    groups = told or _everything(site)
    if groups is None:
        yield MissingInput("fullest section")
        return
    section_in2 = enclosure.depth_in * min(enclosure.width_in, enclosure.height_in)
    try:
        percent = 100 * _area_in2(groups) / section_in2
    except NotInTables as error:
        yield NoFigure("", error.message)
        return
    if not told and percent > FILL_PERCENT:
        yield MissingInput("fullest section")
        return
    many = sum(group.count for group in groups)
    where = f"with {many} conductors at its fullest" if told else _UNTOLD
    yield Measurement((), percent, FILL_PERCENT, where, at_most=True)


FILL = Rule(
    name="wireway fill",
    what="The conductors that lie side by side in a wireway take no more of its section than allowed.",
    limit="20 % of the inside of its section, grounds counted; short wireways too",
    source="NEC 376.22(A)",
    leaves_out="Splices and taps, which with the conductors may take 75 % (376.56); metal thickness: the "
    "nominal section is taken; nonmetallic wireways have the same limit (378.22).",
    rests_on="code",
    measure=_fill,
    short="The wireway is {provided:.1f} % full {what}, {required:g} % is allowed",
    fine="The wireway is {provided:.1f} % full {what}, {required:g} % is allowed",
    remedy="Take a wireway with a larger section, or a second one.",
    missing_remedy=_SECTION,
    no_figure_remedy="Work out the fill from the makers' own data.",
    unit="%",
    once_a_job=True,
)


def _gutter(site: CheckedFace) -> Iterator[Answer]:
    enclosure = site.job.enclosure
    if enclosure.kind not in ("panelboard", "cabinet") or not enclosure.fullest_section:
        return
    if enclosure.gutter_in is None:
        yield MissingInput("gutter")
        return
    try:
        area_in2 = _area_in2(enclosure.fullest_section)
    except NotInTables as error:
        yield NoFigure("", error.message)
        return
    many = sum(group.count for group in enclosure.fullest_section)
    percent = 100 * area_in2 / (enclosure.gutter_in * enclosure.depth_in)
    yield Measurement((), percent, GUTTER_PERCENT, f"with {many} conductors at its fullest", at_most=True)


GUTTER = Rule(
    name="gutter fill",
    what="Conductors that pass through a panel's gutter, or are spliced in it, take no more of its section "
    "than allowed.",
    limit="40 % of the gutter's width times the depth of the can",
    source="NEC 312.8(A)",
    leaves_out="Splices and taps, which with the conductors may take 75 %; the label that names the "
    "disconnect of conductors fed through; from 2023 on the distances of 314.28(A)(2) for 4 AWG and larger; "
    "metal thickness.",
    rests_on="code",
    measure=_gutter,
    short="The gutter is {provided:.1f} % full {what}, {required:g} % is allowed",
    fine="The gutter is {provided:.1f} % full {what}, {required:g} % is allowed",
    remedy="Take an enclosure with a wider gutter, or a box of its own for conductors that only pass.",
    missing_remedy="Write gutter: 4 in under 'enclosure', its width between the can and what is mounted in "
    "it.",
    no_figure_remedy="Work out the fill from the makers' own data.",
    unit="%",
    once_a_job=True,
)


def _carrying(site: CheckedFace) -> Iterator[Answer]:
    enclosure = site.job.enclosure
    if enclosure.kind != "wireway":
        return
    told = enclosure.fullest_section
    many = sum(group.count for group in told if group.use != "ground") if told else _all_carrying(site)
    if many is None or (not told and many > UNADJUSTED):
        yield MissingInput("fullest section")
        return
    left = adjustment(many, edition=site.job.code).value if many > UNADJUSTED else 100
    words = f"{many} conductors that may carry current lie side by side in the wireway"
    yield Measurement((), many, UNADJUSTED, words, f"{left:g}", at_most=True)


def _all_carrying(site: CheckedFace) -> int | None:
    """Those of all raceways of all faces as they count there; None where some of them are not told."""
    found = 0
    for face in site.layout.faces:
        for each in site.at(face).hole_contents:
            if each.missing or each.contents is None:
                return None
            others = (group.count for group in each.contents.groups if group.use != "ground")
            counted = each.contents.current_carrying
            found += sum(others) if counted is None else counted
    return found


CARRYING = Rule(
    name="wireway adjustment",
    what="No more than 30 current-carrying conductors lie side by side in a metal wireway.",
    limit="30; from 31 on all of them are adjusted by their whole number",
    source="NEC 376.22(B), {adjustment factors}",
    leaves_out="Of a fullest section, which neutrals carry only the unbalance: all are counted, as with "
    "mostly nonlinear loads; signal wires and motor control wires that only start, which need not be; "
    "nonmetallic wireways, adjusted from 4 on "
    "(378.22).",
    rests_on="code",
    measure=_carrying,
    short="{what}: the ampacity of all is adjusted to {extra} %",
    fine="{what}, at most {required:g} need no adjustment",
    remedy="Size the conductors for the adjusted ampacity, or take a second wireway.",
    missing_remedy=_SECTION,
    unit="conductors",
    at_worst=Outcome.CAUTION,
    once_a_job=True,
)


def _turns(site: CheckedFace) -> Iterator[Answer]:
    if site.job.enclosure.kind != "wireway":
        return
    for each in site.hole_contents:
        if each.missing or each.contents is None:
            continue
        largest = max((wire.size for wire in each.contents.phase_wires), key=rank, default=None)
        room = bending_room(largest, 1, opposite=False, edition=site.job.code) if largest else None
        if largest is None:
            continue
        what = f"{each.hole.id}, with {with_unit(largest)},"
        needed_in = room.value if room else 0.0
        yield Measurement((each.hole.id,), site.to_opposite_wall_in, needed_in, what, label=each.hole.id)
    yield from missing_contents(site.hole_contents)


TURNS = Rule(
    name="wireway turns",
    what="A wireway is wide enough for the largest conductor of each raceway to turn into it.",
    limit="the column for one wire of Table 312.6(A), from the entry to the wall opposite",
    source="NEC 376.23(A), Table 312.6(A)",
    leaves_out="Conductors that pass straight through; metal thickness: the nominal size is taken.",
    rests_on="code",
    measure=_turns,
    short="{what} needs {needed} to the wall opposite to turn, {there} is there",
    fine="{what} needs {needed} to the wall opposite to turn, {there} is there",
    remedy="Take a wireway with a larger section, or smaller conductors.",
    missing_remedy="Write the conductors the raceways carry.",
)

RULES = (FILL, GUTTER, CARRYING, TURNS)
