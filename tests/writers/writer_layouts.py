"""A Layout of two holes put together by hand, with numbers no other test has, for the writers of tables."""

from __future__ import annotations

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
    PrintSettings,
    Raceway,
    Row,
)
from templates_engine.layout.model import FaceLayout, Gap, Hole, Layout, PlacedRow, RowLine
from templates_engine.values import replace

HERE = FilePlace("job.yaml", 1, "faces")


def hole(name: str, u_in: float, to: str = "") -> Hole:
    raceway = Raceway(
        name, HERE, "EMT", None, None, None, Cutter.PUNCH, "knockout", to, None, False, "cut", None, None
    )
    return Hole(
        name, "A", raceway, "EMT", "1", u_in, 2.2, 1.163, 1.165, 1.362, 1.343, 1.397,
        "a standard", "punch", 0.4375, "a shop",
    )  # fmt: skip


def layout(title: str = "Pump room", first: str = "A1", to: str = "") -> Layout:
    holes = (hole(first, 1 / 3, to), hole("A2", 7.8125))
    gaps = (Gap(first, "A2", 1.125, 6.3162, "gap of the row", 8.4787),)
    row = Row("A", HERE, 1.625, None, 1.125, None, Centred(), tuple(one.raceway for one in holes))
    job_face = FaceJob(Face.BOTTOM, HERE, MarkFrom.INSIDE, 20.0, 6.0, Lips(), (), (row,), None)
    face = FaceLayout(job_face, (PlacedRow(row, RowLine(1.625, "strut"), holes, gaps),), "K7QM-2XWD")
    enclosure = Enclosure(
        "LP-1", "panelboard", 20.0, 30.0, 6.0, 0.0, None, None, None, None, "odd left", False, ()
    )
    printing = PrintSettings((), "either", 0.5, MarginsIn(0.25, 0.25, 0.25, 0.25), None)
    job = Job("job.yaml", title, "B", "", "in", 16, "NEC 2023", enclosure, (job_face,), printing)
    return Layout(job, (face,))


def layout_with(**changes: float) -> Layout:
    """The layout with measures of its first hole changed."""
    whole = layout()
    (face,) = whole.faces
    (row,) = face.rows
    first, second = row.holes
    holes = (replace(first, **changes), second)  # type: ignore[arg-type]
    return replace(whole, faces=(replace(face, rows=(replace(row, holes=holes),)),))
