"""Layouts put together by hand for the planner's tests: holes where a test wants them, no solver."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from templates_engine.job.model import (
    Centred,
    Cutter,
    Enclosure,
    Face,
    FaceJob,
    FilePlace,
    Job,
    Lips,
    MarginsIn,
    MarkFrom,
    PaperSize,
    PrintSettings,
    Raceway,
    Row,
)
from templates_engine.layout.model import FaceLayout, Hole, Layout, PlacedRow, RowLine
from templates_engine.trade.papers import read_paper

HERE = FilePlace("job.yaml", 1, "faces")


@dataclass(frozen=True)
class Drilled:
    """A hole for a test: centre and diameter, inches."""

    u_in: float
    v_in: float
    diameter_in: float


def raceway(name: str) -> Raceway:
    return Raceway(
        name, HERE, "EMT", None, None, None, Cutter.PUNCH, "knockout", "", None, False, "cut", None, None
    )


def hole(name: str, drilled: Drilled) -> Hole:
    u, v, diameter = drilled.u_in, drilled.v_in, drilled.diameter_in
    return Hole(
        name, "A", raceway(name), "EMT", "1", u, v, diameter, diameter, diameter, diameter, diameter,
        "test", "punch", 0.25, "test",
    )  # fmt: skip


def face(
    width_in: float,
    depth_in: float,
    drilled: Sequence[Drilled] = (),
    which: Face = Face.TOP,
    mark_from: MarkFrom = MarkFrom.OUTSIDE,
) -> FaceLayout:
    holes = tuple(hole(f"A{number}", one) for number, one in enumerate(drilled, 1))
    row = Row("A", HERE, 1.0, None, 1.0, None, Centred(), tuple(one.raceway for one in holes))
    job = FaceJob(which, HERE, mark_from, width_in, depth_in, Lips(), (), (row,), None)
    return FaceLayout(job, (PlacedRow(row, RowLine(1.0, "given"), holes, ()),), "TEST-TEST")


def layout(
    faces: Sequence[FaceLayout],
    papers: Sequence[str] = ("letter",),
    orientation: Literal["either", "portrait", "landscape"] = "either",
    overlap_in: float = 0.5,
    margins: MarginsIn | float = 0.25,
    leave_out_empty: bool = False,
    joints: Literal["overlap", "butt"] = "overlap",
    extra_sheets: int | None = 0,
) -> Layout:
    if not isinstance(margins, MarginsIn):
        margins = MarginsIn(margins, margins, margins, margins)
    sizes = (read_paper(text) for text in papers)
    settings = PrintSettings(
        tuple(PaperSize(size.name, size.short_in, size.long_in) for size in sizes),
        orientation,
        overlap_in,
        margins,
        None,
        leave_out_empty=leave_out_empty,
        joints=joints,
        extra_sheets=extra_sheets,
    )
    enclosure = Enclosure(
        "PP-1", "panelboard", 20.0, 30.0, 6.0, 0.25, None, None, None, None, "odd left", False, ()
    )
    job = Job(
        "job.yaml", "test", "A", "", "in", 16, "NEC 2023", enclosure,
        tuple(one.job for one in faces), settings,
    )  # fmt: skip
    return Layout(job, tuple(faces))
