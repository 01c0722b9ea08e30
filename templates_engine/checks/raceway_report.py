"""Gathers what an inspector asks of each raceway: conductors, fill, adjustment, ground and device."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.checks.checked_face import CheckedFace, HoleContents
from templates_engine.checks.contents import WHOLE_PERCENT
from templates_engine.checks.devices import behind_devices, largest_ground
from templates_engine.layout.model import Hole, Layout
from templates_engine.trade.code_tables import Metal
from templates_engine.trade.conductors import circular_mils, with_unit
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.values import Struct
from templates_engine.wiring import Contents
from templates_engine.wiring.ampacity import ampacity_of, largest_device
from templates_engine.wiring.grounds import least_ground
from templates_engine.wiring.model import Conductors


class RacewayReport(Struct, frozen=True):
    """One raceway; what is not known or not listed is None or empty."""

    face: str
    hole: Hole
    groups: tuple[Conductors, ...]
    fill_percent: float | None
    fill_limit_percent: float | None
    current_carrying: int | None
    adjustment_percent: float | None
    ground: str
    """The size of the largest ground wire, "" for none."""
    ground_asked: str
    """The least size the devices ask for, "" where that is not known."""
    devices: tuple[tuple[int, int], ...]
    """Amperes of each device before its conductors, and the most that they allow; each pair once."""


def raceway_reports(layout: Layout, contents: Contents) -> tuple[RacewayReport, ...]:
    """Every raceway of every face, in the layout's order."""
    sites = (CheckedFace(layout, face, contents) for face in layout.faces)
    return tuple(_report(site, each) for site in sites for each in site.hole_contents)


def _report(site: CheckedFace, each: HoleContents) -> RacewayReport:
    contents = each.contents
    if contents is None:
        return RacewayReport(site.word, each.hole, (), None, None, None, None, "", "", ())
    ground = largest_ground(each)
    return RacewayReport(
        site.word,
        each.hole,
        contents.groups,
        contents.fill_percent,
        contents.fill_limit_percent,
        contents.current_carrying,
        WHOLE_PERCENT if each.hole.raceway.nipple else contents.adjustment_percent,
        "" if ground is None else with_unit(ground.size),
        "" if ground is None else _ground_asked(site, each, ground.metal),
        tuple(dict.fromkeys(_devices(site, each))),
    )


def _ground_asked(site: CheckedFace, each: HoleContents, metal: Metal) -> str:
    """The largest of what the devices ask for."""
    sizes = []
    for behind, conditions in behind_devices(site, each):
        try:
            sizes.append(least_ground(behind, metal, conditions, site.job.code))
        except NotInTables:
            return ""
    return with_unit(max(sizes, key=circular_mils)) if sizes else ""


def _devices(site: CheckedFace, each: HoleContents) -> Iterator[tuple[int, int]]:
    for behind, conditions in behind_devices(site, each):
        try:
            amperes = ampacity_of(behind.wire, conditions, behind.amperes).amperes
        except NotInTables:
            continue
        yield behind.amperes, largest_device(behind.wire, amperes, conditions.in_parallel)
