"""Turns circuits into the neutrals that serve them, each with why it counts as current-carrying or not."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from templates_engine.trade.editions import DEFAULT_EDITION, in_edition
from templates_engine.trade.not_in_tables import listed
from templates_engine.wiring.model import CircuitPhases, Neutral
from templates_engine.wiring.panel import System


def neutrals_for(
    circuits: Sequence[CircuitPhases],
    arrangement: Literal["shared", "own", "none"],
    system: System | None,
    edition: str = DEFAULT_EDITION,
    *,
    nonlinear: bool = False,
) -> tuple[Neutral, ...]:
    """The neutrals of some circuits: none, one each, or the least number that will do.

    ``edition`` decides which article a neutral names. ``system`` may be None only where each neutral serves a
    single pole. ``nonlinear`` says that most of the load is, whose third harmonics add in the neutral of a
    wye.
    """
    served = [circuit for circuit in circuits if circuit.has_neutral]
    if arrangement == "none":
        return ()
    groups = [[circuit] for circuit in served] if arrangement == "own" else least_groups(served)
    return tuple(_neutral(group, system, edition, nonlinear) for group in groups)


def least_groups(served: Sequence[CircuitPhases]) -> list[list[CircuitPhases]]:
    """The fewest groups in which no phase comes twice: one neutral serves at most one circuit of each phase.

    Putting circuits of most phases first and each into the first group free of its phases is exact for up to
    three phases: circuits of two or three phases never share, and single poles then need, phase by phase,
    only the groups that lack their phase. With single poles alone it is the largest number of circuits on one
    phase.
    """
    groups: list[list[CircuitPhases]] = []
    for circuit in sorted(served, key=lambda each: -len(each.phases)):
        free = (group for group in groups if not _phases(group) & set(circuit.phases))
        home = next(free, None)
        if home is None:
            groups.append([circuit])
        else:
            home.append(circuit)
    return groups


def _phases(group: Sequence[CircuitPhases]) -> set[str]:
    return {phase for circuit in group for phase in circuit.phases}


def _neutral(group: Sequence[CircuitPhases], system: System | None, edition: str, nonlinear: bool) -> Neutral:
    counts, why = _counts(group, system, nonlinear)
    return Neutral(tuple(circuit.name for circuit in group), counts, in_edition(why, edition))


def _counts(group: Sequence[CircuitPhases], system: System | None, nonlinear: bool) -> tuple[bool, str]:
    """Whether a neutral is current-carrying, and why, with the rule in braces."""
    phases = sorted(_phases(group))
    if system is None or len(phases) == 1:
        return True, "it carries the whole current of its one circuit"
    if system.is_wye and len(phases) == 2:
        return (
            True,
            "with two phases of a wye it carries about as much as they do, {neutral of two phases of a wye}",
        )
    if system.is_wye and nonlinear:
        return True, "the load is mostly nonlinear, {neutral of nonlinear loads}"
    if system.high_leg in phases and len(group) > 1:
        return True, "the high leg's current does not cancel in it"
    return False, f"it carries only the unbalance of phases {', '.join(phases)}, {{neutral of the unbalance}}"


def listed_carrying(
    phases: int, neutrals: int, system: System, *, nonlinear: bool = False
) -> tuple[int, int]:
    """The fewest and the most of some neutrals that carry current, where the job lists conductors and not
    which phases each neutral serves.

    Every neutral is taken to serve one phase conductor at least, and every phase conductor to have a neutral
    where there are enough. A neutral counts but where the currents of what it serves cancel: on a wye those
    of all three phases, and of mostly nonlinear loads never, else of two (NEC {counting neutrals}).
    """
    if not system.has_neutral or (system.is_wye and nonlinear):
        return neutrals, neutrals
    all_phases = len(system.phases)
    cancels_from = all_phases if system.is_wye else 2
    further = max(0, phases - neutrals)
    others_take = cancels_from - 2
    forced = math.ceil((further - neutrals * others_take) / (all_phases - 1 - others_take))
    most_cancel = min(neutrals, further // (cancels_from - 1))
    return neutrals - most_cancel, neutrals - max(0, min(neutrals, forced))


def in_words(
    circuits: Sequence[CircuitPhases],
    arrangement: Literal["shared", "own", "none"],
    neutrals: Sequence[Neutral],
) -> str:
    """One sentence: how many neutrals and why."""
    served = [circuit for circuit in circuits if circuit.has_neutral]
    if not served:
        return "No neutral: no circuit here has one."
    if arrangement == "none":
        return "No neutral, as the job says."
    if arrangement == "own":
        return f"{_count(len(neutrals))}: one for each circuit."
    return f"{_count(len(neutrals))}: {_why_so_many(served, neutrals)}."


def _count(number: int) -> str:
    return "1 neutral" if number == 1 else f"{number} neutrals"


def _why_so_many(served: Sequence[CircuitPhases], neutrals: Sequence[Neutral]) -> str:
    on_phase = {
        phase: [each.name for each in served if phase in each.phases] for phase in sorted(_phases(served))
    }
    busiest = max(on_phase, key=lambda phase: len(on_phase[phase]))
    names = on_phase[busiest]
    if len(names) < len(neutrals):
        return "circuits of several phases cannot share one"
    if len(names) == 1:
        return "no phase has more than one circuit"
    return f"circuits {listed(names, 'and')} are all on phase {busiest}"
