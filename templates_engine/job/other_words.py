"""Words that people write for the keys and choices of a job file, with the ones meant; reads nothing."""

from __future__ import annotations

from typing import Literal

from templates_engine.job.schema import GRADUATIONS, SYSTEMS, UNITS

UNIT_NAMES: dict[str, Literal["in", "mm"]] = {
    **dict.fromkeys(("inch", "inches"), UNITS[0]),
    **dict.fromkeys(("millimetre", "millimetres", "millimeter", "millimeters"), UNITS[1]),
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
CUTTER_NAMES = {
    "knockout punch": "punch",
    **dict.fromkeys(("holesaw", "hole-saw"), "hole saw"),
    **dict.fromkeys(("stepbit", "step-bit", "step drill"), "step bit"),
}

OTHER_WORDS: dict[str, tuple[str, ...]] = {
    "qty": ("count",),
    "quantity": ("count",),
    "number": ("count",),
    "spacing": ("gap",),
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
    "destination": ("to",),
    "gauge": ("sheet metal",),
    "metal": ("sheet metal",),
    "keepout": ("keep out",),
    "side": ("face",),
    "standoff": ("back gap",),
    "stand-off": ("back gap",),
    "wires": ("conductors",),
}
"""Words that people write for a key, with the keys they may mean, likeliest first."""
