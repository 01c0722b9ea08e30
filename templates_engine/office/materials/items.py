"""Turns one laid out job into the things it needs, each with how much of it: pieces or inches."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Literal, get_args

from templates_engine.advice.bring_list import BringList, Tool
from templates_engine.job.raceway_fittings import envelope
from templates_engine.layout.model import Hole, Layout, PlacedRow
from templates_engine.trade import strut as strut_table
from templates_engine.trade.conductors import BARE, BARE_SOLID, rank, with_unit
from templates_engine.trade.raceways import METRIC
from templates_engine.units import MM_PER_INCH, LengthFormat, Unit, read_length, to_mm
from templates_engine.values import Struct
from templates_engine.wiring import Conductors, Contents

Group = Literal["tools", "fittings", "strut", "raceways", "conductors"]
GROUPS: tuple[Group, ...] = get_args(Group)
HABITS = (
    "one of each tool for all holes it makes (common practice, no source)",
    "one piece of strut a row and layer, at the first support, from strap to strap and up to the next whole "
    "inch or 10 mm; further supports are not counted (common practice, no source)",
    "raceways and conductors as long as the run length; what is left for terminations, bends and cuts is not "
    "in it (common practice, no source)",
)
_STEPS_IN: dict[Unit, float] = {"in": 1.0, "mm": 10 / MM_PER_INCH}


class Item(Struct, frozen=True):
    """So much of one thing: pieces, or inches where ``is_length``."""

    group: Group
    what: str
    size: str
    detail: str
    quantity: float
    is_length: bool
    holes: int = 0
    """How many holes a tool makes."""
    rank: float = 0.0
    """Larger sizes have a larger one."""

    @property
    def key(self) -> tuple[str, ...]:
        """What it is, whatever the quantity."""
        return (self.group, self.what, self.size, self.detail)

    def with_spare(self, percent: float) -> float:
        """What to order: so many percent more, in whole pieces; tools are as many as they are."""
        if self.group == "tools":
            return self.quantity
        more = self.quantity * (1 + percent / 100)
        return more if self.is_length else float(math.ceil(round(more, 6)))


def items_of(layout: Layout, contents: Contents, needed: BringList, lengths: LengthFormat) -> Iterator[Item]:
    """Everything the job's holes, rows and raceways need; alike things may come more than once."""
    yield from _tools(needed, lengths)
    yield from _fittings(needed)
    yield from _strut(layout, lengths)
    yield from _runs(layout, contents)


# --- tools and fittings -------------------------------------------------------------------------------------


def _tools(needed: BringList, lengths: LengthFormat) -> Iterator[Item]:
    for tool in needed.tools:
        what = "knockout punch and die" if tool.kind == "knockout punch" else tool.kind
        size = _tool_size(tool, lengths)
        yield Item("tools", what, size, "", 1, False, len(tool.holes), tool.diameter_in)


def _tool_size(tool: Tool, lengths: LengthFormat) -> str:
    """By trade size where it goes by that, else by what it cuts."""
    if tool.trade_size:
        return f"for {tool.trade_size} {'mm' if tool.is_metric else 'in'}"
    return f"{lengths.drill(tool.diameter_in)} {lengths.unit}"


def _fittings(needed: BringList) -> Iterator[Item]:
    for one in needed.fittings:
        yield Item("fittings", one.kind, one.size, "", one.count, False, rank=read_length(one.size))


# --- strut --------------------------------------------------------------------------------------------------


def _strut(layout: Layout, lengths: LengthFormat) -> Iterator[Item]:
    """A piece for each layer of strut under each row that names its own."""
    for face in layout.faces:
        for row in face.rows:
            piece_in = _piece_in(row, layout, _STEPS_IN[lengths.unit])
            for depth_in in row.row.strut.depths_in if row.row.strut else ():
                yield Item("strut", "strut", _depth(depth_in, lengths), "deep", piece_in, True, rank=depth_in)


def _depth(depth_in: float, lengths: LengthFormat) -> str:
    """A depth by the name it is made under: 41 mm and 1-5/8 in are one channel."""
    made = strut_table.look_up(depth_in)
    if lengths.unit == "mm":
        return f"{round(to_mm(depth_in))} mm" if made else lengths.say(depth_in)
    return lengths.say(made.depth_in if made else depth_in)


def _piece_in(row: PlacedRow, layout: Layout, step_in: float) -> float:
    """From the outside of the first strap to that of the last, up to the next step of a tape."""
    reach = [(hole.u_in, envelope(hole.raceway, "strap", layout.job).diameter_in / 2) for hole in row.holes]
    along_in = max(u_in + half for u_in, half in reach) - min(u_in - half for u_in, half in reach)
    return math.ceil(round(along_in / step_in, 6)) * step_in


# --- raceways and conductors --------------------------------------------------------------------------------


def _runs(layout: Layout, contents: Contents) -> Iterator[Item]:
    """Every raceway of known length, then what it carries."""
    for word, hole in holes_of(layout):
        run_in = hole.raceway.run_length_in
        if run_in is None:
            continue
        size = f"{hole.trade_size} {'mm' if hole.type == METRIC else 'in'}"
        yield Item("raceways", hole.type, size, "", run_in, True, rank=read_length(size))
        carried = contents.get((word, hole.id))
        for group in carried.groups if carried else ():
            yield from _conductors(group, run_in)


def _conductors(group: Conductors, run_in: float) -> Iterator[Item]:
    """A group's conductors by colour, or by their use where none is known."""
    wire, size = group.wire, with_unit(group.wire.size)
    is_bare = wire.insulation in (BARE, BARE_SOLID)
    for colour in group.colours or (f"colour not given ({group.use})",) * group.count:
        detail = wire.insulation if is_bare else f"{wire.insulation}, {colour}"
        yield Item("conductors", f"{wire.metal} conductor", size, detail, run_in, True, rank=rank(wire.size))


def holes_of(layout: Layout) -> Iterator[tuple[str, Hole]]:
    for face in layout.faces:
        for hole in face.holes:
            yield face.job.face.value, hole
