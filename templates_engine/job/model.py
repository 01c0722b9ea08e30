"""Holds the Job as checked: every length in inches, every name known to the trade tables, ready for the
solver.
"""

from __future__ import annotations

from enum import Enum
from typing import Literal

from templates_engine.geometry import Interval
from templates_engine.job.shop.model import NO_FIGURES, Shop
from templates_engine.trade.raceways import RacewaySize
from templates_engine.units import LengthFormat, Unit
from templates_engine.values import Struct


class Face(Enum):
    """The wall of the enclosure that is cut; words as in the job file."""

    TOP = "top"
    BOTTOM = "bottom"
    LEFT = "left"
    RIGHT = "right"

    @property
    def is_side(self) -> bool:
        """Left and right faces, where u runs downward from the top edge."""
        return self in (Face.LEFT, Face.RIGHT)

    @property
    def start_edge(self) -> str:
        """The word for the edge u is measured from."""
        return "top" if self.is_side else "left"

    @property
    def end_edge(self) -> str:
        """The word for the edge opposite ``start_edge``."""
        return "bottom" if self.is_side else "right"


class MarkFrom(Enum):
    """The side of the metal the sheet is taped to."""

    OUTSIDE = "outside"
    INSIDE = "inside"


class Cutter(Enum):
    """What makes the hole; it decides the pilot."""

    PUNCH = "punch"
    HOLE_SAW = "hole saw"
    STEP_BIT = "step bit"


class FilePlace(Struct, frozen=True):
    """Where a thing stands in the job file, for messages; of the thing itself it says nothing."""

    file: str
    line: int
    key: str

    def __repr__(self) -> str:
        """Always the same: two values are told apart by what they say, not by where it is written."""
        return "FilePlace()"


# --- what a raceway carries ---------------------------------------------------------------------------------


class Wire(Struct, frozen=True):
    """A conductor's make-up; ``size`` is a name ("12", "4/0", "500"), ``insulation`` may be "bare"."""

    size: str
    insulation: str
    metal: Literal["Cu", "Al"]


class ConductorGroup(Struct, frozen=True):
    """``count`` alike conductors; ``use`` says what they do in the raceway."""

    count: int
    wire: Wire
    use: Literal["phase", "neutral", "ground"]
    protected_by: int | None = None
    """Amperes of the overcurrent device before them; None where the job does not say."""
    in_parallel: int = 1
    """How many of them are connected together as one, in this raceway."""


class Circuit(Struct, frozen=True):
    """A branch circuit by the panel spaces its breaker takes; ``neutral`` None means as its poles need."""

    spaces: tuple[int, ...]
    neutral: bool | None
    breaker: int | None = None
    """Amperes, None where the job does not say."""


class RacewayWiring(Struct, frozen=True):
    """Everything one raceway carries, as written."""

    circuits: tuple[Circuit, ...]
    wire: Wire | None
    neutrals: Literal["shared", "own", "none"] | None
    ground: Wire | None
    ground_named: bool
    """Whether the job says anything of the ground, "none" included."""
    conductors: tuple[ConductorGroup, ...]
    simultaneous_disconnect: bool | None
    breaker: int | None = None
    """Amperes of the breakers of circuits that name none of their own."""


# --- raceways, rows, faces ----------------------------------------------------------------------------------


class Raceway(Struct, frozen=True):
    """One raceway of a row.

    ``size`` is None only for ``size: fit``, until the fill calculation has chosen it.
    ``hole`` is the circle to be cut: "knockout" (the standard's nominal), "punch" (the usual field punch)
    or a diameter in inches the shop gave.
    """

    id: str
    place: FilePlace
    type: str
    size: RacewaySize | None
    at_in: float | None
    gap_before_in: float | Literal["fittings"] | None
    """Inches, or as much as the fittings of this raceway and the one before need."""
    cutter: Cutter
    hole: Literal["knockout", "punch"] | float
    to: str
    bushing: Literal["plain", "insulated", "bonding"] | None
    nipple: bool
    knockout: Literal["cut", "concentric", "eccentric", "single"]
    first_support_in: float | None
    wiring: RacewayWiring | None
    spacing_before_in: float | None = None
    """Centre to centre from the raceway before; never beside ``gap_before_in``."""
    parallel_set_of: str = ""
    """The name of the feeder of which one parallel set is in here; "" for none."""
    ambient_c: float | None = None
    straight_run_in: float | None = None
    """The longest straight run between two fixed points."""
    temperature_range_f: float | None = None
    """Between the coldest and the hottest it gets, Fahrenheit degrees."""
    has_expansion_fitting: bool = False
    run_length_in: float | None = None
    """From end to end, for counting material; it moves nothing."""
    factory_knockout: str = ""
    """The factory knockout it goes through, "" for none; ``at_in`` and ``centre_v_in`` are its ring's."""
    has_reducing_washers: bool | None = None
    """Whether washers make its hole smaller; None where the job does not say."""
    nonlinear_loads: bool | None = None
    """Whether most of what it feeds is nonlinear; None where only the enclosure says, or nothing."""
    centre_v_in: float | None = None
    """From the back edge to the centre, where that is not its row's to say."""

    @property
    def has_own_gap(self) -> bool:
        """Whether something else is asked between it and the raceway before than the row asks."""
        return self.gap_before_in is not None or self.spacing_before_in is not None


class KnockoutRing(Struct, frozen=True):
    """What can be knocked out for one trade size, inches."""

    trade_size: str
    u_in: float
    v_in: float
    diameter_in: float


class FactoryKnockout(Struct, frozen=True):
    """A knockout the enclosure came with; its rings from the smallest to the largest, which holds all."""

    name: str
    place: FilePlace
    kind: Literal["concentric", "eccentric", "single"]
    rings: tuple[KnockoutRing, ...]


class FromEdge(Struct, frozen=True):
    """Start at an edge: ``edge`` "start" is u = 0, "end" the far edge; ``to`` the end raceway's centre or
    near side."""

    edge: Literal["start", "end"]
    to: Literal["centre", "near side"]
    distance_in: float


class Centred(Struct, frozen=True):
    """The whole row centred between the face's edges."""


class Spread(Struct, frozen=True):
    """Equal clear gaps between ``low_in`` and ``high_in`` (u), the limits counting as neighbours' sides."""

    low_in: float
    high_in: float


Placing = FromEdge | Centred | Spread


class Strut(Struct, frozen=True):
    """What stands between wall and raceways: strut depths (stacked ones add), and shims."""

    depths_in: tuple[float, ...]
    shim_in: float

    @property
    def total_in(self) -> float:
        return sum(self.depths_in) + self.shim_in


class CentreLine(Struct, frozen=True):
    """Where the centres of a row lie that stands on no strut, from the enclosure's back."""

    at_in: float


SPACING_OF_ROW = "spacing of the row"


class GapRequest(Struct, frozen=True):
    """How far two neighbours are to stand apart at least, inches or as their fittings need, and who asks."""

    apart: float | Literal["fittings"]
    measured: Literal["clear", "centre to centre"]
    words: str


class Row(Struct, frozen=True):
    """A row of raceways in a line, listed in the order of u.

    ``back_line`` is the backs' distance from the enclosure's back: given (inches), "strut" (from ``strut``
    and the enclosure's back gap) or "auto" (least depth clear of the rows before it in the file; ``strut``,
    if given, is this row's own, standing in front of them). A CentreLine lines up the centres instead.
    ``spacing_in``, where given, is asked for instead of ``gap``, which then is 0.
    """

    name: str
    place: FilePlace
    back_line: float | Literal["strut", "auto"] | CentreLine
    strut: Strut | None
    gap: float | Literal["fittings"]
    snap_in: float | None
    placing: Placing
    raceways: tuple[Raceway, ...]
    gap_from_shop: bool = False
    """Whether ``gap`` is the shop's usual one, as the row gives none."""
    spacing_in: float | None = None
    tool_room_in: float = 0.0
    """What has to stay free between fittings for a wrench, where gaps are worked out from them."""

    @property
    def is_strapped(self) -> bool:
        """Whether its raceways are taken to be strapped to strut, its depth named or not."""
        return self.strut is not None or self.back_line == "auto"

    @property
    def is_in_factory_knockouts(self) -> bool:
        """Whether some of its raceways are, so that it is bound to their face and places."""
        return any(one.factory_knockout for one in self.raceways)

    @property
    def gap_words(self) -> str:
        """Who asks for the row's gap."""
        return "the shop's usual gap" if self.gap_from_shop else "gap of the row"

    def asked_before(self, later: Raceway) -> GapRequest:
        """What is asked for between a raceway of the row and the one before it."""
        if later.spacing_before_in is not None:
            return GapRequest(later.spacing_before_in, "centre to centre", f"spacing before {later.id}")
        if later.factory_knockout and later.gap_before_in is not None:
            return GapRequest(later.gap_before_in, "clear", "the factory knockouts")
        if later.gap_before_in is not None:
            return GapRequest(later.gap_before_in, "clear", f"gap before {later.id}")
        if self.spacing_in is not None:
            return GapRequest(self.spacing_in, "centre to centre", SPACING_OF_ROW)
        return GapRequest(self.gap, "clear", self.gap_words)


class Lips(Struct, frozen=True):
    """Metal that is not flat along each edge of a face, inches: turned-in lips, flanges, welds."""

    back_in: float = 0.0
    front_in: float = 0.0
    start_in: float = 0.0
    end_in: float = 0.0


class KeepOut(Struct, frozen=True):
    """A rectangle or a circle no raceway and no hole may touch, ``clear_in`` away; u and v as on the face.

    ``clear_in`` is None where the job gives none: then the fittings beside it keep the room they need.
    """

    name: str
    place: FilePlace
    u_low_in: float
    u_high_in: float
    v_low_in: float
    v_high_in: float
    diameter_in: float | None
    """Given for a circle; then the u and v bounds are its square."""
    clear_in: float | None
    is_factory: bool = False
    """Whether it is the rings of a factory knockout, which no raceway in another one can come near."""


class TerminalLugs(Struct, frozen=True):
    """Terminals seen from a face, for the room to bend conductors."""

    distance_in: float
    wires: int
    opposite: bool
    """Whether the conductors enter through the wall opposite the terminals (they come straight at them)."""


class FaceJob(Struct, frozen=True):
    """One face to be cut. ``width_in`` is its extent along u, ``depth_in`` along v."""

    face: Face
    place: FilePlace
    mark_from: MarkFrom
    width_in: float
    depth_in: float
    lips: Lips
    keep_outs: tuple[KeepOut, ...]
    rows: tuple[Row, ...]
    lugs: TerminalLugs | None
    metal_in: float | None = None
    """Thickness of the enclosure's metal: seen from inside, the corners lie this far in from the edges."""

    @property
    def has_front_lip(self) -> bool:
        """Whether metal turns in at the front; without, the front is open."""
        return self.lips.front_in > 0

    @property
    def flat_u(self) -> Interval:
        """The stretch of u a hole may use: between the lips, and never in the walls beside the face."""
        wall = self.metal_in or 0.0
        return Interval(max(self.lips.start_in, wall), self.width_in - max(self.lips.end_in, wall))

    @property
    def flat_v(self) -> Interval:
        """The stretch of v a hole may use: from back lip or wall to front lip (the front may be open)."""
        return Interval(max(self.lips.back_in, self.metal_in or 0.0), self.depth_in - self.lips.front_in)


class SheetMetal(Struct, frozen=True):
    """The enclosure's metal: as written, and its thickness."""

    words: str
    thickness_in: float


class Pull(Struct, frozen=True):
    """Conductors pulled through a box from one raceway to another, by raceway id."""

    start: str
    end: str
    kind: Literal["straight", "angle", "U"]
    place: FilePlace


class Enclosure(Struct, frozen=True):
    """The can: outside width, height and depth in inches, and how it stands on the wall."""

    mark: str
    """Its name on the drawings; where the job gives none, its kind."""
    kind: str
    width_in: float
    height_in: float
    depth_in: float
    back_gap_in: float
    sheet_metal: SheetMetal | None
    location: Literal["dry", "damp", "wet"] | None
    system: str | None
    spaces: int | None
    numbering: Literal["odd left", "down"]
    service: bool
    pulls: tuple[Pull, ...]
    terminals_c: Literal[60, 75, 90] | None = None
    """What the terminals stand, degrees Celsius; None where the job does not say."""
    ambient_c: float | None = None
    fullest_section: tuple[ConductorGroup, ...] = ()
    """Of a wireway, or of a panel's gutter: the conductors where most lie side by
    side; empty where the job does not say.
    """
    finish: Literal["bare", "galvanized", "painted"] | None = None
    """What covers its metal, None where the job does not say."""
    paint_at_fittings: Literal["scraped", "cut through", "left on"] | None = None
    """What becomes of paint under fittings; only where the finish is painted."""
    nonlinear_loads: bool | None = None
    """Whether most of what its circuits feed is nonlinear; None where the job does not say."""
    gutter_in: float | None = None
    """The gutter's width, between the can and what is mounted in it."""


class MarginsIn(Struct, frozen=True):
    """Unprinted paper along each edge of a sheet, inches, as the printer leaves it."""

    top_in: float
    bottom_in: float
    left_in: float
    right_in: float


class PaperSize(Struct, frozen=True):
    """A sheet as its short and long side, inches; a roll's ``long_in`` is None until a plan needs one."""

    name: str
    short_in: float
    long_in: float | None


class PrintSettings(Struct, frozen=True):
    """How the job wants its sheets."""

    papers: tuple[PaperSize, ...]
    orientation: Literal["either", "portrait", "landscape"]
    overlap_in: float
    margins: MarginsIn
    printer: str | None
    margins_named: bool = False
    """Whether the job says its margins itself; if not, a measured printer's own take their place."""
    from_shop: tuple[str, ...] = ()
    """Which of these are the shop's usual ones, as the job names none: "paper", "margins", "printer"."""
    leave_out_empty: bool = False
    """Whether sheets that show nothing a person needs are left out."""
    joints: Literal["overlap", "butt"] = "overlap"
    """Whether one of two neighbours lies over the other, or both are trimmed and meet."""
    extra_sheets: int | None = None
    """How many sheets more than the fewest may be spent so that joints cross fewer holes; None: one in four,
    at least one.
    """


class DefaultTaken(Struct, frozen=True):
    """What was taken for a key that the job leaves out, where that moves holes or changes their circles."""

    words: str
    face: str
    """The face's word."""
    holes: tuple[str, ...]


class Job(Struct, frozen=True):
    """A whole job file, checked."""

    file: str
    title: str
    revision: str
    date: str
    unit: Unit
    denominator: int
    """Tape graduation for display: 16, 32 or 64 to the inch."""
    code: str
    enclosure: Enclosure
    faces: tuple[FaceJob, ...]
    printing: PrintSettings
    shop: Shop = NO_FIGURES
    """The shop's own figures; empty without a shop file."""
    defaults_taken: tuple[DefaultTaken, ...] = ()

    @property
    def lengths(self) -> LengthFormat:
        """How lengths are said to the people of this job."""
        return LengthFormat(self.unit, self.denominator)
