"""Holds what the parts of one face need to know of it while they are read; computes nothing."""

from __future__ import annotations

from templates_engine.job.model import Face, FactoryKnockout, Raceway
from templates_engine.values import Struct, field


class FaceScope(Struct, frozen=True):
    """A face being read: its extents in inches, NaN where unreadable, and the ids it has so far."""

    face: Face | None
    """None when its word could not be read."""
    width_in: float
    """Along u."""
    depth_in: float
    spaces: int | None
    """Pole spaces of the panelboard, where given."""
    ids: dict[str, int] = field(default_factory=dict)
    """Ids in small letters, each with the line of its raceway."""
    knockouts: dict[str, FactoryKnockout] = field(default_factory=dict)
    """The face's factory knockouts by their names in small letters."""
    knockouts_are_sound: bool = True
    """Whether they could be read, all of them."""
    used: dict[str, Raceway] = field(default_factory=dict)
    """The raceways in them, by the same."""

    @property
    def edges(self) -> tuple[str, ...]:
        """The words for the edges u runs between, start first; all of them when the face is unknown."""
        return (self.face.start_edge, self.face.end_edge) if self.face else ("left", "right", "top", "bottom")

    @property
    def start(self) -> str:
        """The edge u is measured from, in words."""
        return f"the {self.edges[0]} edge" if self.face else "the left edge (sides: top)"

    @property
    def order(self) -> str:
        """How u runs, in words."""
        return "top to bottom" if self.face and self.face.is_side else "left to right facing the front"
