"""Checks the conductors that lie along a wireway or a panel's gutter: how full it is, how they turn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templates_engine.checks.checked_face import CheckedFace
from templates_engine.checks.contents import missing_contents
from templates_engine.checks.model import Answer, Measurement, MissingInput, NoFigure, Outcome, Rule
from templates_engine.job.model import ConductorGroup
from templates_engine.trade.code_tables import adjustment, bending_room
from templates_engine.trade.conductors import look_up, with_unit
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.wiring import Conductors, RacewayContents

FILL_PERCENT = 20
GUTTER_PERCENT = 40
UNADJUSTED = 30
"""Current-carrying conductors that lie side by side without adjustment."""

_SECTION = "Write fullest section: [{count: 12, size: 12, insulation: THHN}] under 'enclosure'."
_UNTOLD = "even if all that its raceways carry lay side by side"


def _everything(site: CheckedFace) -> list[RacewayContents] | None:
    """What all raceways of all faces carry; None where some of it is not told."""
    loaded = [each for face in site.layout.faces for each in site.at(face).hole_contents]
    told = [each.contents for each in loaded if each.contents is not None and not each.missing]
    return told if len(told) == len(loaded) else None


def _fullness(
    groups: Sequence[Conductors | ConductorGroup], section_in2: float, most_percent: float, where: str = ""
) -> Measurement | NoFigure:
    """How much of a section some conductors take, grounds too."""
    try:
        areas = [group.count * look_up(group.wire.size, group.wire.insulation).area_in2 for group in groups]
    except NotInTables as error:
        return NoFigure("", error.message)
    many = sum(group.count for group in groups)
    where = where or f"with {many} conductors at its fullest"
    return Measurement((), 100 * sum(areas) / section_in2, most_percent, where, at_most=True)


@Rule(
    name="wireway fill",
    what="The conductors that lie side by side in a wireway take no more of its section than allowed.",
    limit="20 % of the inside of its section, grounds counted; short wireways too",
    source="NEC 376.22(A)",
    leaves_out="Splices and taps, which with the conductors may take 75 % (376.56); metal thickness: the "
    "nominal section is taken; nonmetallic wireways have the same limit (378.22).",
    rests_on="code",
    short="The wireway is {provided:.1f} % full {what}, {required:g} % is allowed",
    remedy="Take a wireway with a larger section, or a second one.",
    missing_remedy=_SECTION,
    no_figure_remedy="Work out the fill from the makers' own data.",
    unit="%",
    once_a_job=True,
)
def fill(site: CheckedFace) -> Iterator[Answer]:
    enclosure = site.job.enclosure
    if enclosure.kind != "wireway":
        return
    section_in2 = enclosure.depth_in * min(enclosure.width_in, enclosure.height_in)
    if enclosure.fullest_section:
        yield _fullness(enclosure.fullest_section, section_in2, FILL_PERCENT)
        return
    carried = _everything(site)
    if carried is None:
        yield MissingInput("fullest section")
        return
    groups = [group for one in carried for group in one.groups]
    found = _fullness(groups, section_in2, FILL_PERCENT, _UNTOLD)
    is_over = isinstance(found, Measurement) and found.provided > FILL_PERCENT
    yield MissingInput("fullest section") if is_over else found


@Rule(
    name="gutter fill",
    what="Conductors that pass through a panel's gutter, or are spliced in it, take no more of its section "
    "than allowed.",
    limit="40 % of the gutter's width times the depth of the can",
    source="NEC 312.8(A)",
    leaves_out="Splices and taps, which with the conductors may take 75 %; the label that names the "
    "disconnect of conductors fed through; from 2023 on the distances of 314.28(A)(2) for 4 AWG and larger; "
    "metal thickness.",
    rests_on="code",
    short="The gutter is {provided:.1f} % full {what}, {required:g} % is allowed",
    remedy="Take an enclosure with a wider gutter, or a box of its own for conductors that only pass.",
    missing_remedy="Write gutter: 4 in under 'enclosure', its width between the can and what is mounted in "
    "it.",
    no_figure_remedy="Work out the fill from the makers' own data.",
    unit="%",
    once_a_job=True,
)
def gutter(site: CheckedFace) -> Iterator[Answer]:
    enclosure = site.job.enclosure
    if enclosure.kind not in ("panelboard", "cabinet") or not enclosure.fullest_section:
        return
    if enclosure.gutter_in is None:
        yield MissingInput("gutter")
    else:
        section_in2 = enclosure.gutter_in * enclosure.depth_in
        yield _fullness(enclosure.fullest_section, section_in2, GUTTER_PERCENT)


@Rule(
    name="wireway adjustment",
    what="No more than 30 current-carrying conductors lie side by side in a metal wireway.",
    limit="30; from 31 on all of them are adjusted by their whole number",
    source="NEC 376.22(B), {adjustment factors}",
    leaves_out="Of a fullest section, which neutrals carry only the unbalance: all are counted, as with "
    "mostly nonlinear loads; signal wires and motor control wires that only start, which need not be; "
    "nonmetallic wireways, adjusted from 4 on "
    "(378.22).",
    rests_on="code",
    short="{what}: the ampacity of all is adjusted to {extra} %",
    fine="{what}, at most {required:g} need no adjustment",
    remedy="Size the conductors for the adjusted ampacity, or take a second wireway.",
    missing_remedy=_SECTION,
    unit="conductors",
    at_worst=Outcome.CAUTION,
    once_a_job=True,
)
def carrying(site: CheckedFace) -> Iterator[Answer]:
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
    carried = _everything(site)
    if carried is None:
        return None
    return sum(
        sum(group.count for group in one.groups if group.use != "ground")
        if one.current_carrying is None
        else one.current_carrying
        for one in carried
    )


@Rule(
    name="wireway turns",
    what="A wireway is wide enough for the largest conductor of each raceway to turn into it.",
    limit="the column for one wire of Table 312.6(A), from the entry to the wall opposite",
    source="NEC 376.23(A), Table 312.6(A)",
    leaves_out="Conductors that pass straight through; metal thickness: the nominal size is taken.",
    rests_on="code",
    short="{what} needs {needed} to the wall opposite to turn, {there} is there",
    remedy="Take a wireway with a larger section, or smaller conductors.",
    missing_remedy="Write the conductors the raceways carry.",
)
def turns(site: CheckedFace) -> Iterator[Answer]:
    if site.job.enclosure.kind != "wireway":
        return
    for each in site.hole_contents:
        if each.largest is None:
            continue
        room = bending_room(each.largest, 1, opposite=False, edition=site.job.code)
        what = f"{each.hole.id}, with {with_unit(each.largest)},"
        needed_in = room.value if room else 0.0
        yield Measurement((each.hole.id,), site.to_opposite_wall_in, needed_in, what, label=each.hole.id)
    yield from missing_contents(site.hole_contents)
