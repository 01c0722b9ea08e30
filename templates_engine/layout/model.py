"""Holds the Layout: every hole with its centre, circle, pilot and quarter points, in face coordinates."""

from __future__ import annotations

from typing import Literal

from templates_engine.geometry import Circle, Point
from templates_engine.job.model import FaceJob, Job, Raceway, Row
from templates_engine.trade.raceways import raceway_name
from templates_engine.units import LengthFormat
from templates_engine.values import Struct


class Hole(Struct, frozen=True):
    """One hole to cut, and the raceway that goes through it.

    ::

              back edge, v = 0              q: quarter_points_in
        -----------------------------
                   q[2] +                     v grows toward the front
                 .-'''-.
         q[0] + (   +   ) + q[1]              + in the middle: centre (u_in, v_in)
                 '-...-'
                   q[3] +                     u grows away from the start edge
    """

    id: str
    row: str
    raceway: Raceway
    type: str
    trade_size: str
    u_in: float
    v_in: float
    outside_diameter_in: float
    outside_diameter_most_in: float
    """The largest the raceway may be; it differs from the mean above for flexible types only."""
    hole_diameter_in: float
    hole_least_in: float
    hole_most_in: float
    hole_source: str
    cutter: str
    pilot_diameter_in: float | None
    """None in a knockout that the enclosure came with: nothing is drilled there."""
    pilot_source: str

    @property
    def quarter_points_in(self) -> tuple[Point, Point, Point, Point]:
        """Where the cross-lines meet the hole circle: toward start edge, end edge, back and front."""
        u, v, half = self.u_in, self.v_in, self.hole_diameter_in / 2
        return Point(u - half, v), Point(u + half, v), Point(u, v - half), Point(u, v + half)

    @property
    def is_knocked_out(self) -> bool:
        """Whether it is a knockout that the enclosure came with: it is neither drilled nor punched."""
        return self.raceway.knockout != "cut"

    def pilot_said(self, lengths: LengthFormat) -> str:
        """The drill of its pilot without the unit, "7/8"; "none" in a knockout."""
        return "none" if self.pilot_diameter_in is None else lengths.drill(self.pilot_diameter_in)

    @property
    def raceway_name(self) -> str:
        """Its raceway as people say it: "2 in EMT"."""
        return raceway_name(self.type, self.trade_size)

    @property
    def centre(self) -> Point:
        return Point(self.u_in, self.v_in)

    @property
    def circle(self) -> Circle:
        """The circle to be cut."""
        return Circle(self.centre, self.hole_diameter_in)

    @property
    def body(self) -> Circle:
        """The raceway's outside, at its largest."""
        return Circle(self.centre, self.outside_diameter_most_in)


class Gap(Struct, frozen=True):
    """The clear distance between two neighbours of a row, raceway to raceway, along u."""

    before: str
    after: str
    required_in: float
    provided_in: float
    governed_by: str
    """What asked for it: "gap of the row", "spacing before A3", or the fittings that govern, with ids."""
    centres_in: float
    """From centre to centre along u, as provided."""
    fittings: str = ""
    """The kinds of the fittings that govern; empty where the job gives the gap as a length."""


class FittingFigure(Struct, frozen=True):
    """A length that a fitting, a die or what is kept between them was given, inches."""

    what: str
    label: str
    """The trade size, with the raceway type where a shop gives it; empty for what all sizes have alike."""
    length_in: float
    source: str
    provenance: str


class RowLine(Struct, frozen=True):
    """The line a row's raceways stand on, v in inches.

    ::

        backs    at_in ---(  )-( )-(    )---         centres   ---(+ )-(+)-( +  )--- at_in
    """

    at_in: float
    words: str
    """How it came about: "1-5/8 in strut less 1/4 in off the wall"."""
    through: Literal["backs", "centres"] = "backs"

    def centre_v(self, outside_diameter_in: float) -> float:
        """How far from the back edge the centre of a raceway lies."""
        return self.at_in if self.through == "centres" else self.at_in + outside_diameter_in / 2

    @property
    def whose(self) -> str:
        """What lies on it: "backs of raceways"."""
        return "backs of raceways" if self.through == "backs" else "centres of holes"


class PlacedRow(Struct, frozen=True):
    """A row with its places found."""

    row: Row
    line: RowLine
    holes: tuple[Hole, ...]
    gaps: tuple[Gap, ...]
    figures: tuple[FittingFigure, ...] = ()
    """The fittings that gaps were worked out from, and all that stand in the shop file."""

    @property
    def back_line_in(self) -> float | None:
        """Where the backs of all its raceways lie; None for a row lined up by its centres."""
        return self.line.at_in if self.line.through == "backs" else None

    @property
    def centre_line_in(self) -> float | None:
        """Where the centres of all its holes lie; None for a row lined up by its backs."""
        return self.line.at_in if self.line.through == "centres" else None


class FaceLayout(Struct, frozen=True):
    """One face with all its holes, and the fingerprint of everything that a sheet shows of it."""

    job: FaceJob
    rows: tuple[PlacedRow, ...]
    fingerprint: str
    """Eight letters and digits in two groups, "K7QM-2XWD"; changes when any measure on the sheet changes."""

    @property
    def holes(self) -> tuple[Hole, ...]:
        return tuple(hole for row in self.rows for hole in row.holes)


class Note(Struct, frozen=True):
    """What moved holes, or could, though the job does not ask for it in so many words."""

    words: str
    holes: tuple[str, ...] = ()
    face: str = ""
    """The face's word; empty where it is about the whole job."""


class Layout(Struct, frozen=True):
    """All faces of a job, solved."""

    job: Job
    faces: tuple[FaceLayout, ...]
    notes: tuple[Note, ...] = ()
    """Defaults that were taken, and keep-outs that moved holes, by face."""
