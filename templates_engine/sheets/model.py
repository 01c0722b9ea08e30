"""Holds the SheetPlan: which part of a face each sheet of paper shows, and how the sheets join; no ink.

The sheet plane is the face as drawn: x to the right and y up on the paper, inches, the back edge at the top.
The face fills x 0..width, y 0..depth there, so y = depth - v, and x = u or width - u as the frame says.
"""

from __future__ import annotations

from templates_engine.geometry import Circle, Point, Rect
from templates_engine.job.model import FaceJob, MarginsIn, MarkFrom
from templates_engine.layout.frame import u_runs_right
from templates_engine.layout.model import FaceLayout, Hole
from templates_engine.values import Struct

CROSS_ARM_IN = 0.30
"""How far a hole's cross-lines run past its circle; its label stands beside them, so joints keep off."""
TAPE_REACH_IN = 0.46
"""How far a piece of tape reaches past the line of a joint, on either side."""


class Correction(Struct, frozen=True):
    """What a drawing is multiplied by so that a printer's bars read true.

    ``across`` is along the short edge of the paper fed, ``down`` along its long edge.
    """

    across: float
    down: float


class PrinterCorrection(Struct, frozen=True):
    """The printer that sheets are corrected for. The plan is in true inches, on the paper as it prints it."""

    printer: str
    correction: Correction
    measured_on: str = ""
    """The paper the printer was measured on, where that is known."""

    def words(self, printer: str = "") -> str:
        """The correction for a sheet to say; ``printer`` may be its name cut short."""
        across, down = self.correction.across, self.correction.down
        return f"corrected for {printer or self.printer}: across x{across:.4f}, down x{down:.4f}"


class Plane(Struct, frozen=True):
    """The mapping between a face's (u, v) and the sheet plane."""

    width_in: float
    depth_in: float
    u_runs_right: bool

    @classmethod
    def of(cls, face: FaceJob) -> Plane:
        """That of a face as it is marked."""
        return cls(face.width_in, face.depth_in, u_runs_right(face.face, face.mark_from))

    def from_face(self, place: Point) -> Point:
        """(u, v) to (x, y)."""
        x = place.x if self.u_runs_right else self.width_in - place.x
        return Point(x, self.depth_in - place.y)

    @property
    def rect(self) -> Rect:
        """The whole face."""
        return Rect(0.0, 0.0, self.width_in, self.depth_in)


class RegistrationMark(Struct, frozen=True):
    """A registration mark: a cross on a joint, in the sheet plane, with a name only this place has."""

    name: str
    at: Point


class Joint(Struct, frozen=True):
    """The line where two neighbouring sheets meet; ``first`` is the one to the left or above.

    The sheet ``second`` is trimmed along the line and laid over ``first``; where they butt, both are trimmed
    along it and meet edge to edge.
    """

    first: int
    second: int
    start: Point
    end: Point
    marks: tuple[RegistrationMark, ...]
    is_butt: bool = False

    @property
    def is_upright(self) -> bool:
        """Whether the line runs up and down the paper (its sheets are left and right neighbours)."""
        return self.start.x == self.end.x


class Sheet(Struct, frozen=True):
    """One true-scale sheet: ``window`` is the part of the sheet plane it shows.

    ``offset`` is what to add to a point of the sheet plane to come to the page (origin lower left).
    ``own`` is the part between its joints, which it alone shows once all are taped.
    """

    number: int
    column: int
    band: int
    window: Rect
    offset: Point
    joints: tuple[Joint, ...]
    own: Rect

    def on_page(self, place: Point) -> Point:
        return Point(place.x + self.offset.x, place.y + self.offset.y)


class BarLengths(Struct, frozen=True):
    """What the two sides of a scale bar must read; nothing where no bar finds room."""

    inches: int
    millimetres: int

    @property
    def words(self) -> str:
        return f"{self.inches} in and {self.millimetres} mm"


class SheetBars(Struct, frozen=True):
    """The two scale bars of a sheet, along the page's bottom and upright.

    The upright one stands in ``strip`` of the sheet plane; None where the page keeps a strip beside the view.
    """

    across: BarLengths
    upright: BarLengths
    strip: Rect | None = None


class FacePlan(Struct, frozen=True):
    """The sheets of one face, numbered from 1 in reading order: left to right, top band first.

    Laid in the order of their numbers they go together: each sheet is trimmed along its left and its upper
    joint, and laid over sheets that lie already. Where sheets butt, it is trimmed along all its joints.
    """

    layout: FaceLayout
    plane: Plane
    bounds: Rect
    """What is drawn: the face and the border round it, in the sheet plane."""
    sheets: tuple[Sheet, ...]
    joints: tuple[Joint, ...]
    columns: int
    bands: int
    cut_holes: tuple[str, ...]
    """Ids of holes whose circle a joint crosses."""
    left_out: tuple[Rect, ...] = ()
    """The own parts of sheets that need not be printed, in the sheet plane."""
    back_gap_in: float = 0.0
    """Between the wall and the face's back edge: room for paper folded over that edge."""
    fingerprint: str = ""
    """The layout's, with three letters more that change when it is cut into other sheets; on every page."""
    bars: tuple[SheetBars, ...] = ()
    """Of each sheet, in the order of their numbers."""

    @property
    def rule_edges(self) -> Rect | None:
        """The edges a rule can be set to, in the sheet plane: the face's own, or inside its corners.

        None from inside where the job does not give the metal's thickness. A front without a lip is open:
        there the face ends at its own edge from inside too.
        """
        job, edges = self.layout.job, self.plane.rect
        if job.mark_from is MarkFrom.OUTSIDE:
            return edges
        if job.metal_in is None:
            return None
        inner = edges.grown(-job.metal_in)
        return Rect(inner.left, inner.bottom if job.has_front_lip else edges.bottom, inner.right, inner.top)

    def centre_of(self, hole: Hole) -> Point:
        """A hole's centre in the sheet plane."""
        return self.plane.from_face(hole.centre)

    def circle_of(self, hole: Hole) -> Circle:
        """A hole's knockout circle in the sheet plane."""
        return Circle(self.centre_of(hole), hole.hole_diameter_in)


class PageFormat(Struct, frozen=True):
    """A page's size, and what its printer leaves blank along its edges."""

    width_in: float
    height_in: float
    margins: MarginsIn

    @property
    def printable(self) -> Rect:
        """What is inside the margins, page coordinates."""
        margins = self.margins
        return Rect(
            margins.left_in,
            margins.bottom_in,
            self.width_in - margins.right_in,
            self.height_in - margins.top_in,
        )


class SheetPlan(Struct, frozen=True):
    """All faces of a job on one paper and one orientation."""

    paper_name: str
    orientation: str
    page_width_in: float
    page_height_in: float
    margins: MarginsIn
    overlap_in: float
    view: Rect
    """The part of every page kept for the true-scale view, page coordinates; bars and names are outside."""
    faces: tuple[FacePlan, ...]
    why: tuple[str, ...]
    """Sentences: what the sheets cost and what would save some, then what to mind."""
    bar_strip_in: float
    """Width of the strip left of the view for the upright scale bar; 0.0: the bar stands over the view."""
    corrected: PrinterCorrection | None = None
    """None for sheets without any printer's correction."""
    cover_apart: PageFormat | None = None
    """The office paper of cover pages that go in a file of their own: on a roll each would be as long as the
    sheets are. None where they lead the sheets, on the same paper.
    """

    @property
    def cost(self) -> str:
        """How many sheets of what paper, and what would take fewer."""
        return self.why[0]

    @property
    def other_paper_words(self) -> str:
        """What to mind where the printer was measured on another paper than these sheets; "" elsewhere."""
        if self.corrected is None or self.corrected.measured_on in ("", self.paper_name):
            return ""
        printer, measured_on = self.corrected.printer, self.corrected.measured_on
        return (
            f"{printer} was measured on {measured_on}, not on {self.paper_name}, which may run through it "
            "another way round: measure it on that paper too, or check both bars of every sheet."
        )

    @property
    def cover_page(self) -> PageFormat:
        """The page that cover pages and circuits are set on."""
        if self.cover_apart is not None:
            return self.cover_apart
        return PageFormat(self.page_width_in, self.page_height_in, self.margins)

    @property
    def factors(self) -> tuple[float, float]:
        """What the finished pages are multiplied by along their width and height."""
        if self.corrected is None:
            return 1.0, 1.0
        across, down = self.corrected.correction.across, self.corrected.correction.down
        return (across, down) if self.orientation == "portrait" else (down, across)
