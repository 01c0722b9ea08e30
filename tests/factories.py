"""Small makers of Jobs for tests: everything has a sensible value, and a test names only what it is about.

Lengths are inches, words are those of the job file: ``make_job(make_face(make_row("2", "1-1/4")))``.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Literal

from templates_engine.job.model import (
    Centred,
    CentreLine,
    Cutter,
    Enclosure,
    Face,
    FaceJob,
    FilePlace,
    FromEdge,
    Job,
    KeepOut,
    Lips,
    MarginsIn,
    MarkFrom,
    PaperSize,
    Placing,
    PrintSettings,
    Raceway,
    RacewayWiring,
    Row,
    Spread,
    Strut,
    TerminalLugs,
)
from templates_engine.trade.raceways import RacewaySize, look_up
from templates_engine.units import Unit
from templates_engine.values import replace

FILE = "job.yaml"


def make_place(key: str = "faces[0].rows[0]", line: int = 10) -> FilePlace:
    return FilePlace(FILE, line, key)


def make_size(
    outside_diameter_in: float, *, most_in: float | None = None, trade_size: str = "1"
) -> RacewaySize:
    """A raceway size of any diameter, for tests of geometry alone; ``most_in`` makes it a flexible one."""
    most = outside_diameter_in if most_in is None else most_in
    return RacewaySize("EMT", trade_size, None, outside_diameter_in, most, "made up", "made up for a test")


def make_raceway(
    size: str | RacewaySize | None = "1",
    id: str = "A1",
    *,
    type: str = "EMT",
    at: float | None = None,
    gap_before: float | Literal["fittings"] | None = None,
    spacing_before: float | None = None,
    cutter: str = "punch",
    hole: Literal["knockout", "punch"] | float = "knockout",
    to: str = "",
    bushing: Literal["plain", "insulated", "bonding"] | None = None,
    nipple: bool = False,
    knockout: Literal["cut", "concentric", "eccentric"] = "cut",
    first_support: float | None = None,
    wiring: RacewayWiring | None = None,
    line: int = 12,
) -> Raceway:
    """A raceway; ``size`` is a trade size of ``type``, a RacewaySize, or None for one still to be found."""
    return Raceway(
        id=id,
        place=make_place(f"raceways.{id}", line),
        type=type,
        size=look_up(type, size) if isinstance(size, str) else size,
        at_in=at,
        gap_before_in=gap_before,
        spacing_before_in=spacing_before,
        cutter=Cutter(cutter),
        hole=hole,
        to=to,
        bushing=bushing,
        nipple=nipple,
        knockout=knockout,
        first_support_in=first_support,
        wiring=wiring,
    )


def from_edge(
    distance: float, edge: Literal["start", "end"] = "start", to: Literal["centre", "near side"] = "centre"
) -> FromEdge:
    return FromEdge(edge, to, distance)


def spread(low: float, high: float) -> Spread:
    return Spread(low, high)


def make_row(
    *raceways: Raceway | str,
    name: str = "A",
    back_line: float | Literal["strut", "auto"] | CentreLine = "strut",
    strut: float | Sequence[float] | None = 1.625,
    shim: float = 0.0,
    gap: float | Literal["fittings"] = 1.0,
    spacing: float | None = None,
    snap: float | None = None,
    placing: Placing | None = None,
    line: int = 10,
) -> Row:
    """A row; a raceway may be given as its EMT trade size alone and is then named by its place in it."""
    made = tuple(
        make_raceway(raceway, f"{name}{number}") if isinstance(raceway, str) else raceway
        for number, raceway in enumerate(raceways, start=1)
    )
    depths = (strut,) if isinstance(strut, int | float) else strut
    return Row(
        name=name,
        place=make_place(f"rows.{name}", line),
        back_line=back_line,
        strut=None if depths is None else Strut(tuple(depths), shim),
        gap=gap if spacing is None else 0.0,
        spacing_in=spacing,
        snap_in=snap,
        placing=Centred() if placing is None else placing,
        raceways=made,
    )


def make_keep_out(
    u: tuple[float, float] | float,
    v: tuple[float, float] | float = (0.0, 100.0),
    *,
    diameter: float | None = None,
    clear: float = 0.0,
    name: str = "seam",
) -> KeepOut:
    """A rectangle from pairs of u and v; with ``diameter`` a circle centred at the numbers ``u`` and
    ``v``.
    """
    half = 0.0 if diameter is None else diameter / 2
    u_low, u_high = u if isinstance(u, tuple) else (u - half, u + half)
    v_low, v_high = v if isinstance(v, tuple) else (v - half, v + half)
    return KeepOut(name, make_place(f"keep out.{name}", 8), u_low, u_high, v_low, v_high, diameter, clear)


def make_face(
    *rows: Row,
    face: str = "top",
    mark_from: str = "outside",
    width: float = 20.0,
    depth: float = 8.0,
    lips: Lips | None = None,
    keep_outs: Sequence[KeepOut] = (),
    lugs: TerminalLugs | None = None,
) -> FaceJob:
    """A face; ``width`` is along u. make_job makes an enclosure to the measure of its faces."""
    return FaceJob(
        face=Face(face),
        place=make_place("faces[0]", 6),
        mark_from=MarkFrom(mark_from),
        width_in=width,
        depth_in=depth,
        lips=lips or Lips(),
        keep_outs=tuple(keep_outs),
        rows=rows,
        lugs=lugs,
    )


def make_enclosure(width: float = 20.0, height: float = 30.0, depth: float = 8.0, **more: Any) -> Enclosure:
    """A pull box; ``more`` are fields of Enclosure by their own names."""
    box = Enclosure(
        mark="PB-1",
        kind="pull box",
        width_in=width,
        height_in=height,
        depth_in=depth,
        back_gap_in=0.0,
        sheet_metal=None,
        location=None,
        system=None,
        spaces=None,
        numbering="odd left",
        service=False,
        pulls=(),
    )
    return replace(box, **more)


def make_printing(**more: Any) -> PrintSettings:
    """Letter paper either way round; ``more`` are fields of PrintSettings by their own names."""
    quarter = MarginsIn(0.25, 0.25, 0.25, 0.25)
    settings = PrintSettings((PaperSize("letter", 8.5, 11.0),), "either", 0.5, quarter, None)
    return replace(settings, **more)


def make_job(
    *faces: FaceJob,
    enclosure: Enclosure | None = None,
    back_gap: float = 0.0,
    unit: Unit = "in",
    denominator: int = 16,
    code: str = "NEC 2023",
    printing: PrintSettings | None = None,
) -> Job:
    """A job; without ``enclosure`` one is made to the measure of its faces."""
    if enclosure is None:
        widths = [face.width_in for face in faces if not face.face.is_side] or [20.0]
        heights = [face.width_in for face in faces if face.face.is_side] or [30.0]
        depth = faces[0].depth_in if faces else 8.0
        enclosure = make_enclosure(widths[0], heights[0], depth, back_gap_in=back_gap)
    return Job(
        file=FILE,
        title="Test job",
        revision="1",
        date="",
        unit=unit,
        denominator=denominator,
        code=code,
        enclosure=enclosure,
        faces=faces,
        printing=printing or make_printing(),
    )
