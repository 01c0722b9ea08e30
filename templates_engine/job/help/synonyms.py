"""Words that people write for the keys and choices of a job file, with the ones meant; reads nothing."""

from __future__ import annotations

from typing import Literal

from templates_engine.job.schema import FINISHES, GRADUATIONS, SYSTEMS, UNITS

FINISH_NAMES: dict[str, Literal["bare", "galvanized", "painted"]] = {
    "galvanised": "galvanized",
    "powder coated": "painted",
    "powder-coated": "painted",
    "enamel": "painted",
    "enamelled": "painted",
    "stainless": "bare",
    "plain": "bare",
}
UNIT_NAMES: dict[str, Literal["in", "mm"]] = {
    **dict.fromkeys(("inch", "inches"), UNITS[0]),
    **dict.fromkeys(("millimetre", "millimetres", "millimeter", "millimeters", "metric"), UNITS[1]),
}
GRADUATION_NAMES = {
    other: word
    for word in GRADUATIONS
    for other in (word.removeprefix("1/"), f"{word} in", f"{word} inch", f'{word}"')
}
SYSTEM_NAMES = {
    **dict.fromkeys(("120/208", "208/120", "120/208y", "208y120", "208y/120v", "120/208v"), SYSTEMS[0]),
    **dict.fromkeys(("277/480", "480/277", "277/480y", "480y277", "480y/277v", "277/480v"), SYSTEMS[1]),
    **dict.fromkeys(("120/240v",), SYSTEMS[2]),
}
FINISH_NAMES = {
    **dict.fromkeys(("powder coated", "powder-coated", "enamel", "enamelled", "paint"), FINISHES[2]),
    **dict.fromkeys(("galvanised", "zinc"), FINISHES[1]),
    **dict.fromkeys(("stainless", "stainless steel"), FINISHES[0]),
}
CUTTER_NAMES = {
    **dict.fromkeys(("knockout punch", "ko punch", "knockout", "ko", "punch and die"), "punch"),
    **dict.fromkeys(("holesaw", "hole-saw"), "hole saw"),
    **dict.fromkeys(("stepbit", "step-bit", "step drill"), "step bit"),
}

OTHER_WORDS: dict[str, tuple[str, ...]] = {
    "qty": ("count",),
    "type": ("kind",),
    "quantity": ("count",),
    "number": ("count",),
    **dict.fromkeys(
        ("oc", "o.c.", "on center", "on centre", "on centers", "on centres", "c-c", "centers", "centres"),
        ("spacing",),
    ),
    **dict.fromkeys(
        ("center to center", "centre to centre", "centre-to-centre", "center-to-center"), ("spacing",)
    ),
    **dict.fromkeys(("center line", "centerline", "centreline"), ("centre line",)),
    **dict.fromkeys(("voltage", "volts", "phase", "phases"), ("system",)),
    **dict.fromkeys(("poles", "ways"), ("spaces",)),
    **dict.fromkeys(("channel", "struts"), ("strut",)),
    **dict.fromkeys(("raceway", "runs", "holes"), ("raceways",)),
    **dict.fromkeys(("diameter", "dia", "trade"), ("size",)),
    **dict.fromkeys(("od",), ("size",)),
    **dict.fromkeys(("sides",), ("faces",)),
    **dict.fromkeys(("dest", "destination", "feeds", "goes to"), ("to",)),
    **dict.fromkeys(("offset", "start"), ("place",)),
    **dict.fromkeys(("neutral",), ("neutrals",)),
    **dict.fromkeys(("egc", "equipment ground", "grounding"), ("ground",)),
    **dict.fromkeys(("conductor",), ("conductors",)),
    **dict.fromkeys(("enclosures",), ("enclosure",)),
    **dict.fromkeys(("paper size", "sheet", "sheet size"), ("paper",)),
    **dict.fromkeys(("type of enclosure",), ("kind",)),
    **dict.fromkeys(("drill", "tool"), ("cutter",)),
    **dict.fromkeys(("length",), ("height", "width")),
    "clearance": ("clear", "gap"),
    "conduits": ("raceways",),
    "conduit": ("raceways", "type"),
    "pipes": ("raceways",),
    "panel": ("enclosure",),
    "box": ("enclosure",),
    "can": ("enclosure",),
    "cabinet": ("enclosure",),
    "title": ("job",),
    "project": ("job",),
    "name": ("job", "mark", "id"),
    "label": ("mark", "id"),
    "rev": ("revision",),
    "trade size": ("size",),
    "position": ("at", "place"),
    "center": ("at",),
    "centre": ("at",),
    "gauge": ("sheet metal",),
    "metal": ("sheet metal",),
    "keepout": ("keep out",),
    "side": ("face",),
    **dict.fromkeys(("stand off", "off wall", "air gap", "air space", "backgap"), ("back gap",)),
    **dict.fromkeys(("mark", "from", "tape to", "seen from"), ("mark from",)),
    "dimensions": ("width",),
    "page": ("print",),
    "standoff": ("back gap",),
    "stand-off": ("back gap",),
    "wires": ("conductors",),
}
"""Words that people write for a key, with the keys they may mean, likeliest first."""
