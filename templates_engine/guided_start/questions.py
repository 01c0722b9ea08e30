"""Lists the questions of the guided start in an electrician's order: their words, what they mean, what is
usual.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any

from templates_engine.job.text.key_paths import KeyPath
from templates_engine.values import Struct

Answers = Mapping[str, str]
Put = tuple[KeyPath, Any]
"""A place in the job file and what is written there; None takes the key out."""

FACE: KeyPath = ("faces", 0)
ROW: KeyPath = (*FACE, "rows", 0)
RACEWAYS: KeyPath = (*ROW, "raceways")
NOTHING = "-"
"""Typed where a thing is not there or not known."""

SKELETON = """\
# A job for full-scale marking templates. Lengths are as a tape reads: 2-1/2, 1' 6-1/2", 63.5 mm.
job: New job                # printed on every sheet
enclosure:
  mark: LP-1                # its name on the drawings
  kind: panelboard          # panelboard, wireway, pull box or cabinet
  width: 20                 # outside, left to right
  height: 36                # outside, top to bottom
  depth: 6                  # outside, back to front
  back gap: 0               # how far the can stands off the wall
  sheet metal: 16 ga        # its gauge or thickness
faces:
  - face: top               # top, bottom, left or right, as you face the front
    mark from: outside      # the side of the metal the sheet is taped to
    lips: {front: 1/2}      # metal along an edge that is not flat
    rows:
      - strut: 1-5/8        # depth of the strut; a list where it is stacked
        gap: 1-1/8          # clear between neighbours' outsides, or fittings
        snap: 1/16          # centres on these marks of the tape
        place: centred
        raceways:           # left to right, facing the front; top to bottom on the sides
          - {type: EMT, size: 1}
print: {paper: letter}      # letter, legal, tabloid, A4, A3, "24 x 36 in", "24 in roll"
"""
"""The job that the answers go into; a sound one, so that one answer alone can be found wrong."""


class Question(Struct, frozen=True):
    """One question: ``puts`` turns its answer into what is written in the job file."""

    id: str
    words: str
    explanation: str
    usual: str
    puts: Callable[[str, Answers], tuple[Put, ...]]
    applies: Callable[[Answers], bool] = lambda answers: True
    repeats: bool = False
    """Whether it is asked again until nothing is typed."""


def _at(path: KeyPath) -> Callable[[str, Answers], tuple[Put, ...]]:
    """The answer as it is, at one place; a dash takes the key out."""
    return lambda answer, answers: ((path, None if answer == NOTHING else answer),)


def _listed(path: KeyPath) -> Callable[[str, Answers], tuple[Put, ...]]:
    """The same, with commas for a list."""

    def puts(answer: str, answers: Answers) -> tuple[Put, ...]:
        parts = [part.strip() for part in answer.split(",") if part.strip()]
        return ((path, parts if len(parts) > 1 else answer),)

    return puts


def edges_of(answers: Answers) -> tuple[str, str]:
    """The words for the two ends of the face."""
    return ("top", "bottom") if answers.get("face", "top").lower() in ("left", "right") else ("left", "right")


def _placed(answer: str, answers: Answers) -> tuple[Put, ...]:
    """centred, an edge (its distance is asked next), or spread."""
    words = answer.lower()
    if words in ("spread", "centred", "centered", "centre"):
        is_spread = words == "spread"
        value: Any = {"spread": {"from": "1 in", "to": "4 in"}} if is_spread else "centred"
        return (((*ROW, "place"), value),)
    return (((*ROW, "place"), {"from": words, "to": "centre", "distance": "4 in"}),)


def _is_from_edge(answers: Answers) -> bool:
    return answers.get("place", "").lower() in ("left", "right", "top", "bottom")


def _is_spread(answers: Answers) -> bool:
    return answers.get("place", "").lower() == "spread"


_RACEWAY = re.compile(
    r"(?:(?P<count>[0-9]+) *[x×] *)?(?P<size>[0-9][0-9./ -]*?)(?: *(?:in|\"))?"
    r"(?: +(?P<type>[A-Za-z].*?))?(?: +to +(?P<to>.+))?$"
)


def raceway(answer: str, answers: Answers) -> tuple[Put, ...]:
    """A raceway as typed, "3 x 1-1/4 EMT to roof"; what is left out is as before, EMT at first.

    Raises ValueError where it cannot be told what is meant.
    """
    found = _RACEWAY.match(" ".join(answer.split()))
    if found is None:
        raise ValueError("Write how many, the trade size and the type, such as 3 x 1-1/4 EMT to roof.")
    entry: dict[str, Any] = {
        "type": found["type"] or answers.get("type", "EMT"),
        "size": found["size"].strip(),
    }
    if found["count"] and found["count"] != "1":
        entry["count"] = found["count"]
    if found["to"]:
        entry["to"] = found["to"]
    return ((RACEWAYS, entry),)


def _metal(answer: str, answers: Answers) -> tuple[Put, ...]:
    return ((("enclosure", "sheet metal"), None if answer == NOTHING else answer),)


def _lip(answer: str, answers: Answers) -> tuple[Put, ...]:
    none = answer in (NOTHING, "0")
    return (((*FACE, "lips"), None if none else {"front": answer}),)


QUESTIONS = (
    Question(
        "job",
        "What is the job called?",
        "It is printed on every sheet, so that sheets of two jobs are never mixed.",
        "New job",
        _at(("job",)),
    ),
    Question(
        "mark",
        "What is the enclosure called on the drawings?",
        "The panel's or box's mark, such as LP-1.",
        "LP-1",
        _at(("enclosure", "mark")),
    ),
    Question(
        "kind",
        "What is it: panelboard, wireway, pull box or cabinet?",
        "It decides which rules are checked. A gutter or trough is a wireway, a junction box a pull box.",
        "panelboard",
        _at(("enclosure", "kind")),
    ),
    Question(
        "width",
        "How wide is it, outside, left to right?",
        "Hook the tape on the can itself, not on the cover. 20, 1' 8\", 508 mm.",
        "20",
        _at(("enclosure", "width")),
    ),
    Question(
        "height", "How high, outside?", "Top to bottom of the can itself.", "36", _at(("enclosure", "height"))
    ),
    Question(
        "depth",
        "How deep, outside, from its back to its front?",
        "Of the can itself, without the cover.",
        "6",
        _at(("enclosure", "depth")),
    ),
    Question(
        "back gap",
        "How far does the can stand off the wall?",
        "0 if its back is flat on the wall, 1/4 in on many cans with dimples. It moves every hole: measure.",
        "",
        _at(("enclosure", "back gap")),
    ),
    Question(
        "sheet metal",
        "How thick is its metal? (- if you do not know)",
        "A gauge, such as 16 ga, or a thickness. Inside corners lie that far in from the edges.",
        "16 ga",
        _metal,
    ),
    Question(
        "face",
        "Which face is cut: top, bottom, left or right?",
        "As you stand in front of the enclosure and look at it.",
        "top",
        _at((*FACE, "face")),
    ),
    Question(
        "mark from",
        "Is the sheet taped outside or inside?",
        "The side you will mark and punch from. A sheet for the other side is its mirror image.",
        "outside",
        _at((*FACE, "mark from")),
    ),
    Question(
        "lip",
        "How wide is the lip along its front edge? (- if there is none)",
        "Metal that turns in along the front, where no knockout can be.",
        "1/2",
        _lip,
    ),
    Question(
        "strut",
        "How deep is the strut the raceways are strapped to?",
        "From the wall to the face of the strut: 13/16 or 1-5/8 are usual. Stacked: 13/16, 1-5/8.",
        "1-5/8",
        _listed((*ROW, "strut")),
    ),
    Question(
        "raceways",
        "Raceways, {start} to {end}, one a line: how many, size, type (3 x 1-1/4 EMT to roof); none to go on",
        "In the order they stand. What you leave out is as in the line before; EMT at first.",
        "",
        raceway,
        repeats=True,
    ),
    Question(
        "gap",
        "How much clear gap between neighbours' outsides, or fittings?",
        "1-1/8 leaves room for strut straps. `fittings` works out what straps, locknuts and bushings need.",
        "1-1/8",
        _at((*ROW, "gap")),
    ),
    Question(
        "place",
        "Where does the row stand: centred, from the {start}, from the {end} (write the edge), or spread?",
        "centred: in the middle of the face. An edge: the end raceway's centre at a distance from it. "
        "spread: equal gaps between two limits.",
        "",
        _placed,
    ),
    Question(
        "distance",
        "How far from that edge is the first centre?",
        "From the can's outside edge to the centre of the end raceway.",
        "4",
        _at((*ROW, "place", "distance")),
        _is_from_edge,
    ),
    Question(
        "spread from",
        "Spread from where, measured from the {start}?",
        "The limits count as neighbours' sides.",
        "2",
        _at((*ROW, "place", "spread", "from")),
        _is_spread,
    ),
    Question(
        "spread to",
        "Spread to where?",
        "Measured from the same edge.",
        "",
        _at((*ROW, "place", "spread", "to")),
        _is_spread,
    ),
    Question(
        "paper",
        "Which paper is in the printer? (several: letter, tabloid)",
        "letter, legal, tabloid, A4, A3, a size such as 24 x 36 in, or 24 in roll.",
        "letter",
        _listed(("print", "paper")),
    ),
)
