"""Turns laid out holes into what to bring: cutters, pilot drills and fittings by size and count."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Literal

from templates_engine.job.model import Cutter, Job
from templates_engine.layout.model import FaceLayout, Hole
from templates_engine.trade.cutters import hole_saw
from templates_engine.trade.fittings import kind_outside, kinds_inside
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceways import METRIC, facts
from templates_engine.values import Struct

ToolKind = Literal["knockout punch", "hole saw", "step bit", "pilot drill"]
_CUTTING: dict[Cutter, ToolKind] = {
    Cutter.PUNCH: "knockout punch",
    Cutter.HOLE_SAW: "hole saw",
    Cutter.STEP_BIT: "step bit",
}
COUNTED = (
    "a locknut inside every hole, another outside where neither connector nor hub stands, a strap on strut "
    "(common practice, no source); connectors often come with their locknut"
)


class Tool(Struct, frozen=True):
    """Something that cuts or drills. ``trade_size`` is empty where it goes by its diameter alone."""

    kind: ToolKind
    trade_size: str
    diameter_in: float
    holes: tuple[str, ...]
    is_metric: bool = False
    """Whether the trade size is one of metric conduit."""


class Fitting(Struct, frozen=True):
    """``count`` of one fitting: its kind, with the raceway's type where that decides, and its size."""

    kind: str
    size: str
    """As people say it: "2 in", "20 mm"."""
    count: int


class BringList(Struct, frozen=True):
    """What the holes of some faces need, largest sizes first."""

    tools: tuple[Tool, ...]
    fittings: tuple[Fitting, ...]
    no_bushing_named: tuple[str, ...]
    """Threaded raceways for which the job names no bushing."""
    sources: tuple[str, ...]
    """Where sizes that were looked up come from, and how the fittings are counted."""

    def of_kind(self, kind: ToolKind) -> tuple[Tool, ...]:
        return tuple(tool for tool in self.tools if tool.kind == kind)


def bring_list(job: Job, faces: Sequence[FaceLayout]) -> BringList:
    """What to have at hand for all holes of those faces."""
    holes = _largest_first(hole for face in faces for hole in face.holes)
    wet = job.enclosure.location == "wet"
    kinds = [(kind, hole) for hole in holes for kind in _fitting_kinds(hole, wet)]
    kinds += [(f"{hole.type} strap", hole) for hole in _largest_first(_on_strut(faces))]
    tools, sources = _tools(holes)
    return BringList(
        tools=tools,
        fittings=_counted(kinds),
        no_bushing_named=tuple(hole.id for face in faces for hole in face.holes if _lacks_bushing(hole)),
        sources=(*sources, f"fittings counted: {COUNTED}"),
    )


def _largest_first(holes: Iterable[Hole]) -> list[Hole]:
    return sorted(holes, key=lambda hole: (-hole.outside_diameter_in, hole.raceway_name))


def _on_strut(faces: Sequence[FaceLayout]) -> Iterator[Hole]:
    for face in faces:
        for row in face.rows:
            yield from row.holes if row.row.is_strapped else ()


# --- tools --------------------------------------------------------------------------------------------------


def _tools(holes: Sequence[Hole]) -> tuple[tuple[Tool, ...], tuple[str, ...]]:
    """Cutters and pilot drills of the holes to be cut; a knockout of several rings is there already."""
    needed: dict[tuple[ToolKind, str, float, bool], list[str]] = {}
    sources: list[str] = []
    for hole in holes:
        if hole.pilot_diameter_in is None:
            continue
        trade_size, diameter_in, source = _cutter(hole)
        sources += [source] if source else []
        kind = _CUTTING[hole.raceway.cutter]
        is_metric = bool(trade_size) and hole.type == METRIC
        needed.setdefault((kind, trade_size, diameter_in, is_metric), []).append(hole.id)
        needed.setdefault(("pilot drill", "", hole.pilot_diameter_in, False), []).append(hole.id)
    tools = (
        Tool(kind, trade_size, diameter_in, tuple(ids), is_metric)
        for (kind, trade_size, diameter_in, is_metric), ids in needed.items()
    )
    return tuple(sorted(tools, key=lambda tool: -tool.diameter_in)), tuple(dict.fromkeys(sources))


def _cutter(hole: Hole) -> tuple[str, float, str]:
    """A hole's cutter: its trade size where it goes by that, what it cuts, and a looked up size's source."""
    raceway = hole.raceway
    if not isinstance(raceway.hole, str):
        return "", hole.hole_diameter_in, ""
    if raceway.cutter is Cutter.PUNCH:
        return hole.trade_size, hole.hole_diameter_in, ""
    if raceway.cutter is Cutter.HOLE_SAW and raceway.size is not None:
        try:
            saw = hole_saw(raceway.size)
        except NotInTables:
            return "", hole.hole_diameter_in, ""
        return "", saw.diameter_in, f"hole saws: {saw.source}; {saw.provenance}"
    return "", hole.hole_diameter_in, ""


# --- fittings -----------------------------------------------------------------------------------------------


def _fitting_kinds(hole: Hole, wet: bool) -> Iterator[str]:
    """What one raceway ends in, a fitting at a time."""
    about = facts(hole.type)
    if about.ends_in_connector:
        yield f"{hole.type} connector"
    elif not about.is_metal and hole.type != METRIC:  # has no thread of its own
        yield f"{hole.type} terminal adapter"
    outside = kind_outside(hole.type, wet=wet)
    if outside != "connector":
        yield outside
    yield from kinds_inside(hole.raceway.bushing)


def _lacks_bushing(hole: Hole) -> bool:
    about = facts(hole.type)
    return hole.raceway.bushing is None and about.is_metal is True and not about.ends_in_connector


def _counted(kinds: Iterable[tuple[str, Hole]]) -> tuple[Fitting, ...]:
    """Alike fittings put together, kind after kind as they first come."""
    counts: dict[str, dict[str, int]] = {}
    for kind, hole in kinds:
        sizes = counts.setdefault(kind, {})
        size = _size_words(hole)
        sizes[size] = sizes.get(size, 0) + 1
    return tuple(
        Fitting(kind, size, count) for kind, sizes in counts.items() for size, count in sizes.items()
    )


def _size_words(hole: Hole) -> str:
    return f"{hole.trade_size} {'mm' if hole.type == METRIC else 'in'}"
