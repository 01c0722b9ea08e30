"""Holds what a raceway carries, counted: circuits with phases, conductors, neutrals, fill, adjustment."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Literal

from templates_engine.job.model import Wire
from templates_engine.trade.code_tables import adjustment
from templates_engine.values import Struct

Use = Literal["phase", "neutral", "ground"]


@cache
def adjusted_percent(current_carrying: int) -> float:
    """What is left of the ampacity where so many conductors carry current together."""
    return adjustment(current_carrying).value


class CircuitPhases(Struct, frozen=True):
    """A circuit as its breaker stands in the panel: one phase and one colour for each space."""

    name: str
    """The spaces as a person writes them: "5" or "2,4,6"."""
    spaces: tuple[int, ...]
    phases: tuple[str, ...]
    colours: tuple[str, ...]
    has_neutral: bool


class Neutral(Struct, frozen=True):
    """One neutral conductor and the circuits it serves."""

    circuits: tuple[str, ...]
    carries_current: bool
    """Whether it counts as current-carrying, the loads being mostly linear unless the job says otherwise."""
    why: str

    @property
    def is_shared(self) -> bool:
        return len(self.circuits) > 1


class Conductors(Struct, frozen=True):
    """``count`` alike conductors; ``colours`` is empty where the job does not say what they serve."""

    count: int
    wire: Wire
    use: Use
    colours: tuple[str, ...]


class ProtectedConductors(Struct, frozen=True):
    """The phase conductors behind one overcurrent device, as far as they lie in one raceway."""

    what: str
    """ "circuit 2,4,6", or "3 of 500 kcmil"."""
    wire: Wire
    amperes: int
    """The device's rating."""
    in_parallel: int
    """How many of them are one, in this raceway."""


class Fill(Struct, frozen=True):
    """How full a raceway is, against NEC chapter 9 Table 1."""

    conductor_area_in2: float
    raceway_area_in2: float
    limit_percent: float
    conductors: int
    permitted: int | None
    """The largest number of these conductors where all are of one size (by note 7), else None."""
    provenance: str
    """"read" where every figure was read from a published page, else what to verify."""

    @property
    def percent(self) -> float:
        return 100 * self.conductor_area_in2 / self.raceway_area_in2

    @property
    def fits(self) -> bool:
        if self.permitted is not None:
            return self.conductors <= self.permitted
        return self.percent <= self.limit_percent + 1e-9

    @property
    def by_note_7(self) -> bool:
        """Whether only the rounding of note 7 lets them in."""
        return self.fits and self.percent > self.limit_percent + 1e-9


class RacewayContents(Struct, frozen=True):
    """Everything one raceway carries; what cannot be counted is None, and ``missing`` names the input."""

    raceway: str
    groups: tuple[Conductors, ...]
    circuits: tuple[CircuitPhases, ...]
    neutrals: tuple[Neutral, ...]
    neutrals_why: str
    """One sentence: how many neutrals the circuits have and why; "" without circuits."""
    current_carrying: int | None
    current_carrying_nonlinear: int | None
    """The same where the loads of wye circuits are mostly nonlinear, so that shared neutrals count too."""
    fill: Fill | None
    fill_trouble: str
    """Why there is no fill though all conductors are known: the sentence of the table that lacks a row."""
    missing: tuple[str, ...]
    """Keys of the job file without which something here is None: "wire", "neutrals", "system"."""
    missing_for_adjustment: tuple[str, ...]
    """Keys without which only those that carry current cannot be counted."""
    notes: tuple[str, ...]
    """Sentences on what was taken for granted."""
    protected: tuple[ProtectedConductors, ...]
    """Those whose device the job gives, in its order."""
    missing_for_devices: tuple[str, ...]
    """Keys without which the device of others is not known."""

    @property
    def conductor_count(self) -> int | None:
        return None if self.missing else sum(group.count for group in self.groups)

    @property
    def adjustment_percent(self) -> float | None:
        """What is left of the ampacity."""
        return None if self.current_carrying is None else adjusted_percent(self.current_carrying)

    @property
    def adjustment_nonlinear_percent(self) -> float | None:
        many = self.current_carrying_nonlinear
        return None if many is None else adjusted_percent(many)

    @property
    def fill_percent(self) -> float | None:
        return None if self.fill is None else self.fill.percent

    @property
    def fill_limit_percent(self) -> float | None:
        return None if self.fill is None else self.fill.limit_percent

    @property
    def phase_wires(self) -> tuple[Wire, ...]:
        """The make-ups of everything but grounds."""
        return tuple(group.wire for group in self.groups if group.use != "ground")


Contents = Mapping[tuple[str, str], RacewayContents]
"""What every raceway carries, by face and raceway id; only those of which the job says it."""
