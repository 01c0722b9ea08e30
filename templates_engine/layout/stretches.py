"""A row split at its given places into stretches of free raceways between posts; no wants here.

::

    edge        pin                             pin        edge
     |   free    ( )   free     free     free    ( )  free   |
     post.......post                            post......post      each post bounds the centres next to it
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

from templates_engine.job.model import FromEdge, Spread
from templates_engine.layout.grid import Grid
from templates_engine.layout.members import Members
from templates_engine.units import Speech


@dataclass(frozen=True)
class Fixed:
    """A place given by the job, u in inches, and how it was given."""

    at_in: float
    words: str


@dataclass(frozen=True)
class Side:
    """The side of a raceway or limit that a stretch looks at, and the clear gap it asks for, inches."""

    at_in: float
    gap_in: float


@dataclass(frozen=True)
class Post:
    """What bounds a stretch at one end: the nearest centre keeps ``clear_in`` from ``at_in``.

    ``side`` is None for an edge of the flat, which asks for no clear gap.
    """

    at_in: float
    clear_in: float
    words: str
    side: Side | None = None


@dataclass(frozen=True)
class Stretch:
    """Free raceways ``first`` .. ``last`` (indexes, both included) and all posts at either end."""

    first: int
    last: int
    low_posts: tuple[Post, ...]
    high_posts: tuple[Post, ...]

    @property
    def low(self) -> Post:
        """The post that leaves the first centre the least room."""
        return max(self.low_posts, key=lambda post: post.at_in + post.clear_in)

    @property
    def high(self) -> Post:
        """The post that leaves the last centre the least room."""
        return min(self.high_posts, key=lambda post: post.at_in - post.clear_in)

    @property
    def low_side(self) -> Side:
        """The nearest raceway's or limit's side at the low end; a spread row always has one."""
        return max((post.side for post in self.low_posts if post.side), key=lambda side: side.at_in)

    @property
    def high_side(self) -> Side:
        """The nearest raceway's or limit's side at the high end; a spread row always has one."""
        return min((post.side for post in self.high_posts if post.side), key=lambda side: side.at_in)


def start_of(group: Members, grid: Grid, speech: Speech) -> dict[int, Fixed]:
    """The end raceway that starts the row from an edge, at its place; empty for other placings.

    To its centre the job's distance is kept as written. To its near side, a row that snaps starts on the
    next graduation away from the edge.
    """
    placing, cuts = group.row.placing, group.cuts
    if not isinstance(placing, FromEdge) or not cuts:
        return {}
    index, edge = (0, "start") if placing.edge == "start" else (len(cuts) - 1, "end")
    distance_in = placing.distance_in + (cuts[index].reach_in if placing.to == "near side" else 0.0)
    at_in = distance_in if edge == "start" else group.face.width_in - distance_in
    if placing.to == "near side":
        at_in = grid.inches(grid.up(at_in) if edge == "start" else grid.down(at_in))
    face = group.face.face
    edge_word = face.start_edge if edge == "start" else face.end_edge
    words = f"starts the row {speech.say(placing.distance_in)} from the {edge_word} edge"
    if placing.to == "near side":
        words += f" with its near side, centre at {speech.say(at_in)}"
    return {index: Fixed(at_in, words)}


def fixed_places(group: Members, grid: Grid, speech: Speech) -> dict[int, Fixed]:
    """Every raceway whose place the job gives; where it gives one two places, the pin."""
    pins = {
        index: Fixed(cut.raceway.at_in, f"is pinned at {speech.say(cut.raceway.at_in)}")
        for index, cut in enumerate(group.cuts)
        if cut.raceway.at_in is not None
    }
    return start_of(group, grid, speech) | pins


def stretches(group: Members, fixed: Mapping[int, Fixed], speech: Speech) -> tuple[Stretch, ...]:
    """The runs of free raceways between the fixed ones, with what bounds them."""
    found: list[Stretch] = []
    ends = [-1, *sorted(fixed), len(group.cuts)]
    for before, after in pairwise(ends):
        first, last = before + 1, after - 1
        if first > last:
            continue
        low = [_edge(group, first, "start", speech), *_limit(group, first, "start", speech)]
        high = [_edge(group, last, "end", speech), *_limit(group, last, "end", speech)]
        if before in fixed:
            low.append(_raceway(group, before, first, fixed[before]))
        if after in fixed:
            high.append(_raceway(group, after, last, fixed[after]))
        found.append(Stretch(first, last, tuple(low), tuple(high)))
    return tuple(found)


def _edge(group: Members, index: int, end: str, speech: Speech) -> Post:
    face, lips, flat = group.face.face, group.face.lips, group.face.flat_u
    at_start = end == "start"
    word, lip = (face.start_edge, lips.start_in) if at_start else (face.end_edge, lips.end_in)
    if lip:
        words = f"the {speech.say(lip)} lip at the {word} edge"
    elif group.face.metal_in:
        words = f"the {speech.exact(group.face.metal_in)} {speech.unit} thick wall at the {word} edge"
    else:
        words = f"the {word} edge"
    at_in = flat.low if at_start else flat.high
    return Post(at_in, group.cuts[index].diameter_in / 2, words)


def _limit(group: Members, index: int, end: str, speech: Speech) -> list[Post]:
    placing = group.row.placing
    if not isinstance(placing, Spread):
        return []
    at_in = placing.low_in if end == "start" else placing.high_in
    gap_in = group.limit_gaps_in[index]
    reach = group.cuts[index].reach_in
    return [Post(at_in, gap_in + reach, f"the limit at {speech.say(at_in)}", Side(at_in, gap_in))]


def _raceway(group: Members, index: int, neighbour: int, fixed: Fixed) -> Post:
    pair = group.spacings[min(index, neighbour)]
    toward = 1 if neighbour > index else -1
    side = Side(fixed.at_in + toward * group.cuts[index].reach_in, pair.gap_in)
    return Post(fixed.at_in, pair.centres_in, f"{group.id(index)}, which {fixed.words},", side)
