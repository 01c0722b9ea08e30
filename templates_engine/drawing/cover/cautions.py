"""Holds the sentences every cover page carries: how to print and tape, what can hurt, and who decides."""

from __future__ import annotations

AT_JOINTS_OVERLAPPED = (
    "Start with sheet 1. On each next sheet cut only along the lines that say trim, lay the sheet over the "
    "one before so that the marks of the same name meet, and tape. Cut no other dashed line. Fingerprints of "
    "all sheets must be the same; a phone reads them, and which sheet it is, in the square code."
)
AT_JOINTS_BUTTED = (
    "Start with sheet 1. Cut every sheet along all its lines that say trim, through the middle of the marks, "
    "and lay neighbours edge to edge so that the halves of marks of the same name meet; tape across. Cut no "
    "other dashed line. Fingerprints of all sheets must be the same; a phone reads them, and which sheet it "
    "is, in the square code."
)
AT_THE_EDGES_OUTSIDE = (
    "Crease or trim at the face's edges; to fold two edges that meet, cut out the hatched corner between "
    "them. Tape to the clean, dry metal with BACK to the wall and the ruler's zero at the can's corner."
)
AT_THE_EDGES_INSIDE = (
    "Trim on the inner line, push it into the corners at the back and the sides, and tape to the clean, dry "
    "metal with BACK to the wall. The ruler's zero is the outside edge, one thickness of metal beyond the "
    "corner."
)
AT_THE_EDGES_INSIDE_UNKNOWN = (
    "Measure the metal's thickness, cut the paper that much inside the edge lines, push it into the corners "
    "at the back and the sides, and tape to the clean, dry metal with BACK to the wall. The ruler's zero is "
    "the outside edge."
)

MEASURE_FIRST = (
    "On every sheet, before cutting any paper, lay a steel rule on both bars. Out by more than {allowed} "
    "over the bar: do not use the sheet."
)
MEASURE_FIRST_FROM_ROLL = (
    "On every sheet, before cutting any paper, lay a steel rule or tape on both bars. Out by more than "
    "{allowed} over the bar: do not use the sheet."
)
CARD_ON_PAGE = " (no rule at hand: an ID card on the card outline on cover page {page})"
HOW_TO_TAPE = (
    "Print every page at actual size (100 %): no fit, no shrink, no booklet; one side only; {paper}, "
    "{orientation}.",
    "Measure both bars on every sheet{card}. Out by more than {allowed}: do not use it.",
    "{joints}",
    "{edges}",
    "Check the distances above with a steel rule, on the metal, on the day. Out by more than {allowed} over "
    "the row: print again.",
    "Centre-punch every centre and quarter point, take the sheets off, drill the pilot, and set the punch by "
    "its quarter marks.",
)
KNOCK_OUT = "{holes} knocked out, not punched or drilled: the circle must lie on the knockout that is there."
"""Ends the last step where some holes are knockouts that the enclosure came with, and is it where all are."""

CAUTIONS = (
    "De-energize, lock out and tag before working in or on the enclosure; test before touch, with a "
    "tester proved on a known source before and after.",
    "Know what lies behind the metal and inside the enclosure before drilling: conductors, bus, other "
    "trades' work.",
    "Wear eye protection and gloves; deburr every hole; keep chips out of the enclosure and take them "
    "all out.",
    "A cut can change the enclosure's listing and its type (environmental) rating; use fittings rated "
    "for it.",
    "Bond metal raceways and enclosures as the code asks; concentric, eccentric or oversized knockouts may "
    "need bonding bushings or jumpers.",
    "Measure your own fittings, punches and enclosure: table figures are nominal, and some are from "
    "memory where it says so.",
    "This sheet is a layout aid. Check it against the adopted code, the drawings and the authority "
    "having jurisdiction; a licensed electrician decides.",
)
