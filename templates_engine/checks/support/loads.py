"""What the holes of a face carry, counted by wiring; whether it is allowed is each check's own question."""

from __future__ import annotations

from dataclasses import dataclass

from templates_engine.job.model import Job
from templates_engine.layout.model import FaceLayout, Hole
from templates_engine.trade.conductors import is_at_least
from templates_engine.wiring import Carried, Conductors, carried

LARGE = "4"
"""The size from which bushings and pull boxes are ruled: 4 AWG (NEC 300.4(G), 314.28(A))."""


@dataclass(frozen=True)
class Loaded:
    """A hole and what its raceway carries, None where the job does not say."""

    hole: Hole
    carried: Carried | None

    @property
    def has_large(self) -> bool | None:
        """Whether an insulated conductor of 4 AWG or larger, grounds too, is in it; None when unknown."""
        if self.carried is None:
            return None
        if any(is_at_least(group.wire.size, LARGE) for group in self.carried.groups if _is_insulated(group)):
            return True
        return None if self.carried.missing else False


def _is_insulated(group: Conductors) -> bool:
    """Bare grounds count neither for 300.4(G) nor for 314.28(A), which speak of insulated conductors."""
    return not group.wire.insulation.lower().startswith("bare")


def loads(face: FaceLayout, job: Job) -> tuple[Loaded, ...]:
    """Every hole of a face with what it carries."""
    return tuple(Loaded(hole, carried(hole.raceway, job)) for hole in face.holes)


def missing_inputs(loaded: tuple[Loaded, ...]) -> dict[str, list[str]]:
    """The inputs without which conductors cannot be counted, each with the holes that lack it."""
    missing: dict[str, list[str]] = {}
    for each in loaded:
        names = ("circuits or conductors",) if each.carried is None else each.carried.missing
        for name in names:
            missing.setdefault(name, []).append(each.hole.id)
    return missing
