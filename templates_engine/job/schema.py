"""Declares the job file as written: every key, its meaning and the words it takes; every value is still text.

The one home of keys, required keys, words to choose from and the help an editor shows. Lengths, numbers and
names are read in `job/read`; how the pieces must go together is checked there too. An editor sees numbers
and truth values where a person wrote text (`size: 2`, `neutral: no`), so the JSON Schema takes them as
well.
"""

from typing import Annotated, ClassVar, Literal

from templates_engine.job.written_tables import (
    Amperes,
    Length,
    Number,
    Temperature,
    Text,
    WrittenTable,
    YesNo,
    key,
    length_or,
    one_of,
)
from templates_engine.job.written_values import WrittenList, WrittenText

# --- words a job may choose from ----------------------------------------------------------------------------

UNITS: tuple[Literal["in", "mm"], ...] = ("in", "mm")
GRADUATIONS = ("1/16", "1/32", "1/64")
CODES = ("NEC 2023", "NEC 2020", "NEC 2017")
KINDS = ("panelboard", "wireway", "pull box", "cabinet")
LOCATIONS: tuple[Literal["dry", "damp", "wet"], ...] = ("dry", "damp", "wet")
FINISHES: tuple[Literal["bare", "galvanized", "painted"], ...] = ("bare", "galvanized", "painted")
PAINT_AT_FITTINGS: tuple[Literal["scraped", "cut through", "left on"], ...] = (
    "scraped",
    "cut through",
    "left on",
)
SYSTEMS = ("208Y/120", "480Y/277", "120/240", "240 delta high leg", "240 delta", "480 delta")
NUMBERINGS: tuple[Literal["odd left", "down"], ...] = ("odd left", "down")
PULL_KINDS: tuple[Literal["straight", "angle", "U"], ...] = ("straight", "angle", "U")
FACES = ("top", "bottom", "left", "right")
MARK_FROM = ("outside", "inside")
EDGES = ("left", "right", "top", "bottom")
END_POINTS: tuple[Literal["centre", "near side"], ...] = ("centre", "near side")
CUTTERS = ("punch", "hole saw", "step bit")
HOLES: tuple[Literal["knockout", "punch"], ...] = ("knockout", "punch")
BUSHINGS: tuple[Literal["plain", "insulated", "bonding"], ...] = ("plain", "insulated", "bonding")
KNOCKOUTS: tuple[Literal["cut", "concentric", "eccentric", "single"], ...] = (
    "cut",
    "concentric",
    "eccentric",
    "single",
)
RINGS: tuple[Literal["concentric", "eccentric", "single"], ...] = ("concentric", "eccentric", "single")
NEUTRALS: tuple[Literal["shared", "own", "none"], ...] = ("shared", "own", "none")
METALS: tuple[Literal["Cu", "Al"], ...] = ("Cu", "Al")
USES: tuple[Literal["phase", "neutral", "ground"], ...] = ("phase", "neutral", "ground")
JOINTS: tuple[Literal["overlap", "butt"], ...] = ("overlap", "butt")
ORIENTATIONS: tuple[Literal["either", "portrait", "landscape"], ...] = ("either", "portrait", "landscape")

# --- what a raceway carries ---------------------------------------------------------------------------------


class WrittenWire(WrittenTable):
    """A conductor's make-up."""

    title = "a wire"
    needed: ClassVar[tuple[str, ...]] = ("size", "insulation")
    size: Text = key("Wire size by name: 14 to 1, 1/0 to 4/0 (AWG), 250 and up (kcmil).", "12", "4/0", "500")
    insulation: Text = key("Insulation type, or bare.", "THHN", "XHHW", "bare")
    metal: Annotated[WrittenText, one_of(METALS)] = key("Cu (the default) or Al.", "Cu")


class WrittenConductors(WrittenWire):
    """Conductors that are all alike."""

    title = "an entry of conductors"
    needed = (*WrittenWire.needed, "count")
    count: Number = key("How many of them.", "3")
    use: Annotated[WrittenText, one_of(USES)] = key(
        "What they do. Bare ones are grounds, others phases, unless this says otherwise.", "neutral"
    )
    protected_by: Amperes = key("Rating of the breaker or fuse before them, amperes.", "400")
    in_parallel: Number = key(
        "How many of them are connected together as one, in this raceway. Default 1.", "2"
    )


class WrittenCircuit(WrittenTable):
    """A circuit of one to three poles, by the panel spaces its breaker takes."""

    title = "a circuit"
    needed = ("spaces",)
    spaces: WrittenList[Number] = key("Panel spaces of the breaker.", ["2", "4", "6"])
    neutral: YesNo = key("Whether the circuit has a neutral; left out, as its poles need.", "no")
    breaker: Amperes = key("Rating of its breaker, amperes; left out, the raceway's.", "30")


CircuitEntry = Number | WrittenCircuit
Ground = Text | WrittenWire


# --- raceways and rows --------------------------------------------------------------------------------------


class WrittenRaceway(WrittenTable):
    """One raceway, or several alike; listed left to right facing the front, on the sides top to bottom."""

    title = "a raceway"
    needed = ("type", "size")
    id: Text = key(
        "Name printed at the hole, at most 8 letters, digits, hyphens or dots; default A1, A2, ...", "A1"
    )
    type: Text = key(
        "Raceway type.",
        "EMT",
        "RMC",
        "aluminium RMC",
        "IMC",
        "PVC 40",
        "PVC 80",
        "ENT",
        "FMC",
        "LFMC",
        "LFNC",
        "metric",
    )
    size: Text = key("Trade size, or fit for the least size by fill.", "1-1/4", "2", "35 mm", "fit")
    count: Number = key("How many alike, side by side; ids count up.", "3")
    at: Length = key("Pins the centre at this distance from the left edge (sides: top edge).", "4-1/2 in")
    gap_before: Annotated[WrittenText, length_or(("fittings",))] = key(
        "Clear gap to the raceway before, instead of the row's, or fittings; with count, before the first.",
        "2 in",
        "fittings",
    )
    spacing_before: Length = key(
        "Centre to centre from the raceway before, instead of what the row gives.", "3-1/2 in"
    )
    cutter: Annotated[WrittenText, one_of(CUTTERS)] = key(
        "What makes the hole; decides the pilot. Default punch.", "punch"
    )
    hole: Annotated[WrittenText, length_or(HOLES)] = key(
        "Circle to be cut: knockout (the standard's nominal, the default), "
        "punch (what a usual field punch cuts) or a diameter.",
        "knockout",
        "punch",
        "1.73 in",
    )
    to: Text = key("Where the raceway goes, printed as written.", "Pump room")
    bushing: Annotated[WrittenText, one_of(BUSHINGS)] = key("Bushing inside.", "bonding")
    nipple: YesNo = key("Whether it is a nipple of 24 in or less. Default no.", "yes")
    knockout: Annotated[WrittenText, one_of(KNOCKOUTS)] = key(
        "cut in plain metal (the default), or knocked out: concentric or eccentric with rings left round it, "
        "single without.",
        "cut",
    )
    factory_knockout: Text = key(
        "Factory knockout of the face that it goes through, by its name; its place is the centre's.", "K1"
    )
    reducing_washers: YesNo = key(
        "Whether reducing washers fill a hole that is larger than its trade size's.", "yes"
    )
    first_support: Length = key("Distance from the enclosure to the first support.", "2 ft")
    run_length: Length = key(
        "How long the whole raceway is, with its unit, for what materials counts of it and its conductors.",
        "85 ft",
    )
    circuits: WrittenList[CircuitEntry] = key(
        "Circuit numbers, or {spaces: [2, 4, 6], neutral: no}.", ["1", "3", "5"]
    )
    wire: WrittenWire | None = key("Wire of the circuits.", {"size": "12", "insulation": "THHN"})
    neutrals: Annotated[WrittenText, one_of(NEUTRALS)] = key("Neutrals of the circuits.", "own")
    ground: Ground = key("Equipment ground by size (insulated THHN copper), by its make-up, or none.", "12")
    conductors: WrittenList[WrittenConductors] = key(
        "Conductors by count.", [{"count": "4", "size": "500", "insulation": "THHN"}]
    )
    simultaneous_disconnect: YesNo = key("Whether circuits sharing a neutral open together.", "yes")
    breaker: Amperes = key("Rating of the circuits' breakers, amperes.", "20")
    nonlinear_loads: YesNo = key(
        "Whether most of the load is nonlinear, such as electronic supplies, so that the neutrals of a wye "
        "count as current-carrying. Default the enclosure's.",
        "yes",
    )
    spare: YesNo = key("Whether it is a spare, which carries nothing yet. Default no.", "yes")
    parallel_set_of: Text = key(
        "Feeder of which one parallel set is in this raceway; its other sets name it too.", "F-1"
    )
    ambient: Temperature = key("Warmest air round the raceway. Default the enclosure's.", "40 C", "104 F")
    straight_run: Length = key("Longest straight run of PVC between two fixed points.", "30 ft")
    temperature_range: Temperature = key(
        "Degrees between the coldest and the hottest that PVC gets.", "100 F"
    )
    expansion_fitting: YesNo = key("Whether that run has an expansion fitting. Default no.", "no")


class WrittenSpan(WrittenTable):
    """A stretch between two distances."""

    title = "a stretch"
    needed = ("from", "to")
    from_: Length = key("Where it begins.", "2 in")
    to: Length = key("Where it ends.", "18 in")


class WrittenPlace(WrittenTable):
    """Where a row stands: from an edge, or spread between limits."""

    title = "a place"
    how_to_write = (
        "`place: {from: left, to: centre, distance: 4-1/2 in}`, `place: {spread: {from: 2 in, to: 18 in}}` "
        "or `place: centred`"
    )
    from_: Annotated[WrittenText, one_of(EDGES)] = key(
        "Edge to start from: left or right; on the sides top or bottom.", "left"
    )
    to: Annotated[WrittenText, one_of((*END_POINTS, "center"))] = key(
        "What the distance runs to: the end raceway's centre or its near side.", "centre"
    )
    distance: Length = key("Distance from the edge.", "4-1/2 in")
    spread: WrittenSpan | None = key(
        "Equal clear gaps between these limits, measured from the left (sides: top) edge.",
        {"from": "2 in", "to": "18 in"},
    )


Place = Annotated[WrittenText, one_of(("centred", "centered"))] | WrittenPlace
Lengths = Length | WrittenList[Length]
Texts = Text | WrittenList[Text]
Extent = Length | WrittenSpan


class WrittenRow(WrittenTable):
    """A row of raceways in one line."""

    title = "a row"
    needed = ("raceways",)
    strut: Lengths = key(
        "Strut depth, or a list of depths stacked; with back line: auto, the strut in front of that row.",
        "1-5/8 in",
        ["13/16 in", "1-5/8 in"],
    )
    shim: Length = key("Thickness of shims under the strut.", "1/8 in")
    back_line: Annotated[WrittenText, length_or(("auto",))] = key(
        "Instead of strut, the distance from the enclosure's back to the raceways' backs. auto, in a row in "
        "front of another: clear of that row and its straps; with strut too, on the least strut that can be "
        "built up under it.",
        "1-3/8 in",
        "auto",
    )
    centre_line: Length = key(
        "Distance from the enclosure's back to all centres, for nipples and entries without strut; "
        "instead of a strut or back line.",
        "2-1/2 in",
    )
    gap: Annotated[WrittenText, length_or(("fittings",))] = key(
        "Least clear gap between raceways, or fittings: as much as their fittings need. "
        "Default the shop file's.",
        "1-1/8 in",
        "fittings",
    )
    tool_room: Length = key(
        "With gap: fittings, what stays free between fittings for a wrench. Default 1/16 in.", "1/2 in"
    )
    spacing: Length = key(
        "Least distance from centre to centre, instead of a gap; raceways may not touch.", "3 in"
    )
    snap: Length = key("Puts centres on this graduation of the tape.", "1/16 in")
    place: Place = key(
        "Where the row stands: from an edge, spread between limits, or centred.",
        "centred",
        {"from": "left", "to": "centre", "distance": "4 in"},
    )
    raceways: WrittenList[WrittenRaceway] = key(
        "Raceways, left to right facing the front; on the sides top to bottom.",
        [{"type": "EMT", "size": "1"}],
    )


# --- faces --------------------------------------------------------------------------------------------------


class WrittenLips(WrittenTable):
    """Metal that is not flat along the edges of a face."""

    title = "lips"
    front: Length = key("Width along the front edge.", "3/4 in")
    back: Length = key("Width along the back edge.", "1/2 in")
    left: Length = key("Width along the left edge (top and bottom face).", "1/2 in")
    right: Length = key("Width along the right edge (top and bottom face).", "1/2 in")
    top: Length = key("Width along the top edge (side faces).", "1/2 in")
    bottom: Length = key("Width along the bottom edge (side faces).", "1/2 in")


class WrittenKeepOut(WrittenTable):
    """A part of a face no raceway may touch: a rectangle, or a circle when a diameter is given."""

    title = "a keep-out"
    how_to_write = (
        "`{name: seam, along: {from: 4 in, to: 6 in}}`, with `from back:` too if not the whole depth, "
        "or `{name: stud, along: 4 in, from back: 1 in, diameter: 1/2 in}`"
    )
    needed = ("along",)
    name: Text = key("What is there.", "factory knockout")
    along: Extent = key(
        "From the left (sides: top) edge: {from, to}, or with a diameter the centre.",
        {"from": "4 in", "to": "6 in"},
        "4 in",
    )
    from_back: Extent = key(
        "From the back edge: {from, to}, or with a diameter the centre. Left out: the whole depth.",
        {"from": "0", "to": "1 in"},
    )
    diameter: Length = key("Makes it a circle.", "1-3/8 in")
    clear: Length = key(
        "How far raceways and holes stay away. Left out: as far as the fittings there need.", "1/4 in"
    )


class WrittenFactoryKnockout(WrittenTable):
    """A knockout the enclosure came with: where it is, and the trade sizes its rings serve."""

    title = "a factory knockout"
    how_to_write = "`{name: K1, along: 4 in, from back: 1-1/2 in, sizes: [1/2, 3/4, 1], rings: concentric}`"
    needed = ("along", "from back", "sizes")
    name: Text = key("What a raceway calls it by. Default K1, K2, ...", "K1")
    along: Lengths = key(
        "Its centre from the left (sides: top) edge; eccentric, of each size's ring in turn.",
        "4 in",
        ["4 in", "4 in", "4 in"],
    )
    from_back: Lengths = key(
        "Its centre from the back edge; eccentric, of each size's ring in turn.",
        "1-1/2 in",
        ["1-1/4 in", "1-3/8 in", "1-1/2 in"],
    )
    sizes: Texts = key("Trade sizes that can be knocked out.", ["1/2", "3/4", "1"], "1")
    rings: Annotated[WrittenText, one_of(RINGS)] = key(
        "concentric, eccentric, or single where there is one size.", "concentric"
    )


class WrittenLugs(WrittenTable):
    """Terminals seen from a face, for the room to bend conductors."""

    title = "lugs"
    needed = ("distance",)
    distance: Length = key("From the face to the terminals.", "6 in")
    wires: Number = key("Wires on each terminal. Default 1.", "1")
    opposite: YesNo = key(
        "Whether conductors enter through the wall opposite the terminals. Default no.", "no"
    )


class WrittenFace(WrittenTable):
    """A face to be cut."""

    title = "a face"
    needed = ("face", "rows")
    face: Annotated[WrittenText, one_of(FACES)] = key(
        "Which face, as you look at the enclosure's front.", "top"
    )
    mark_from: Annotated[WrittenText, one_of(MARK_FROM)] = key(
        "Side of the metal the sheet is taped to. Default outside.", "outside"
    )
    lips: WrittenLips | None = key("Metal along the edges that is not flat.", {"front": "3/4 in"})
    keep_out: WrittenList[WrittenKeepOut] = key(
        "Places nothing may touch.", [{"name": "seam", "along": {"from": "4 in", "to": "5 in"}}]
    )
    factory_knockouts: WrittenList[WrittenFactoryKnockout] = key(
        "Knockouts it came with; raceways use them by name, and nothing else comes near them.",
        [
            {
                "name": "K1",
                "along": "4 in",
                "from back": "1-1/2 in",
                "sizes": ["1/2", "3/4"],
                "rings": "concentric",
            }
        ],
    )
    rows: WrittenList[WrittenRow] = key(
        "Rows of raceways, from the back to the front.",
        [{"strut": "1-5/8 in", "gap": "1-1/8 in", "place": "centred", "raceways": []}],
    )
    lugs: WrittenLugs | None = key("Terminals seen from this face.", {"distance": "6 in"})


# --- enclosure, print, file ---------------------------------------------------------------------------------


class WrittenPull(WrittenTable):
    """Conductors pulled through the box from one raceway to another."""

    title = "a pull"
    needed = ("from", "to", "kind")
    from_: Text = key("Id of the raceway they come from.", "A1")
    to: Text = key("Id of the raceway they go to.", "B3")
    kind: Annotated[WrittenText, one_of(PULL_KINDS)] = key("straight, angle or U.", "straight")


class WrittenEnclosure(WrittenTable):
    """The can: outside measures, and how it stands on the wall."""

    title = "the enclosure"
    needed = ("width", "height", "depth")
    mark: Text = key("Its name on the drawings.", "LP-1")
    kind: Annotated[WrittenText, one_of(KINDS)] = key("What it is. Default cabinet.", "panelboard")
    width: Length = key("Outside width, left to right.", "20 in")
    height: Length = key("Outside height, top to bottom.", "36 in")
    depth: Length = key("Outside depth, back to front.", "5-3/4 in")
    back_gap: Length = key(
        "Between wall and enclosure; has to be written where rows stand on strut.", "1/4 in", "0"
    )
    sheet_metal: Text = key("Its metal: gauge or thickness.", "16 ga", "0.0598 in")
    finish: Annotated[WrittenText, one_of(FINISHES)] = key("What covers its metal.", "painted")
    paint_at_fittings: Annotated[WrittenText, one_of(PAINT_AT_FITTINGS)] = key(
        "Where it is painted: scraped off under fittings, cut through by fittings made for it, or left on.",
        "scraped",
    )
    location: Annotated[WrittenText, one_of(LOCATIONS)] = key("dry, damp or wet.", "dry")
    system: Annotated[WrittenText, one_of(SYSTEMS)] = key("Voltages and phases.", "208Y/120")
    spaces: Number = key("Pole spaces of the panelboard.", "42")
    numbering: Annotated[WrittenText, one_of(NUMBERINGS)] = key(
        "How its spaces are numbered. Default odd left.", "odd left"
    )
    service: YesNo = key("Whether it is service equipment. Default no.", "no")
    pulls: WrittenList[WrittenPull] = key(
        "Conductors pulled through.", [{"from": "A1", "to": "B1", "kind": "straight"}]
    )
    terminals: Temperature = key(
        "What its terminals stand: 60 C, 75 C or 90 C. Default 60 C up to 100 A, 75 C above.", "75 C"
    )
    ambient: Temperature = key("Warmest air round the raceways. Default 30 C.", "40 C", "104 F")
    nonlinear_loads: YesNo = key("Whether most of the loads are nonlinear, for all raceways.", "yes")
    gutter: Length = key("Width of a panel's gutter that conductors pass through.", "4 in")
    fullest_section: WrittenList[WrittenConductors] = key(
        "Of a wireway, or a panel's gutter, the conductors where most lie side by side.",
        [{"count": "12", "size": "12", "insulation": "THHN"}],
    )


class WrittenMargins(WrittenTable):
    """Unprinted paper along each edge."""

    title = "margins"
    top: Length = key("Along the top edge. Default 1/4 in.", "1/4 in")
    bottom: Length = key("Along the bottom edge. Default 1/4 in.", "1/4 in")
    left: Length = key("Along the left edge. Default 1/4 in.", "1/4 in")
    right: Length = key("Along the right edge. Default 1/4 in.", "1/4 in")


Margins = Length | WrittenMargins


class WrittenPrint(WrittenTable):
    """How the sheets are printed."""

    title = "print"
    paper: Texts = key(
        "Paper, or a list to choose from. Default letter; A4 where units are mm.",
        "letter",
        "legal",
        "tabloid",
        "A4",
        "A3",
        "24 x 36 in",
        "24 in roll",
    )
    orientation: Annotated[WrittenText, one_of(ORIENTATIONS)] = key("Default either.", "either")
    joints: Annotated[WrittenText, one_of(JOINTS)] = key(
        "overlap: one sheet lies over its neighbour. butt: both are trimmed and meet. Default overlap.",
        "overlap",
    )
    overlap: Length = key(
        "How much of the face neighbouring sheets both show. Default 1/2 in; 1/4 in where they butt.",
        "1/2 in",
    )
    margins: Margins = key("Paper the printer leaves blank. Default 1/4 in.", "1/4 in")
    printer: Text = key("The printer, where its scale was measured.", "office")
    extra_sheets: Number = key(
        "How many sheets more than the fewest may be spent so that joints cross fewer holes; 0 for strictly "
        "the fewest. Default one for every four, and at least one.",
        "1",
    )
    leave_out_empty_sheets: YesNo = key(
        "Whether sheets with nothing to cut on them are left out. Default no.", "yes"
    )


class WrittenJob(WrittenTable):
    """A job file for full-scale marking templates."""

    title = "the job file"
    needed = ("job", "enclosure", "faces")
    job: Text = key("Title, printed on every sheet.", "Pump station")
    revision: Text = key("Printed as written.", "2")
    date: Text = key("Printed as written.", "12 May")
    units: Annotated[WrittenText, one_of(UNITS)] = key(
        "Unit of bare numbers, and of the sheets. Default in.", "in"
    )
    tape: Annotated[WrittenText, one_of(GRADUATIONS)] = key(
        "Finest graduation of the tape. Default 1/16.", "1/16"
    )
    code: Annotated[WrittenText, one_of(CODES)] = key(
        "Edition the checks follow. Default NEC 2023.", "NEC 2023"
    )
    enclosure: WrittenEnclosure | None = key(
        "The can.", {"width": "20 in", "height": "36 in", "depth": "5-3/4 in"}
    )
    faces: WrittenList[WrittenFace] = key("Faces to be cut.", [{"face": "top", "rows": []}])
    print: WrittenPrint | None = key("Paper, margins and overlap of the sheets.", {"paper": "letter"})
