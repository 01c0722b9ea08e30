"""Checks raceways and conductors against where they are: wet places, and heat that makes PVC longer."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.checks.checked_face import CheckedFace, HoleContents
from templates_engine.checks.model import Answer, Measurement, MissingInput, Outcome, Rule
from templates_engine.checks.wording import listed, unique
from templates_engine.trade.conductors import temperature
from templates_engine.trade.not_in_tables import NotInTables

PVC_PER_F = 3.38e-5
"""How much of its length PVC grows for each Fahrenheit degree (NEC Table 352.44)."""
MOST_CHANGE_IN = 0.25
NOT_IN_THE_WET = ("FMC",)
"""Raceway types that the code keeps out of wet places."""


# --- wet places ---------------------------------------------------------------------------------------------


def _wet(site: CheckedFace) -> Iterator[Answer]:
    if site.job.enclosure.location != "wet":
        return
    for each in site.hole_contents:
        unsuited = [*_unsuited_wires(each), *((each.hole.type,) if each.hole.type in NOT_IN_THE_WET else ())]
        what = f"{each.hole.id} has {listed(unsuited)}" if unsuited else each.hole.id
        yield Measurement((each.hole.id,), float(len(unsuited)), 0.0, what, label=each.hole.id, at_most=True)


def _unsuited_wires(each: HoleContents) -> Iterator[str]:
    """Insulations of the raceway that are not for wet places."""
    groups = each.contents.groups if each.contents else ()
    for insulation in unique(group.wire.insulation for group in groups):
        try:
            if not insulation.lower().startswith("bare") and temperature(insulation, "wet") is None:
                yield insulation
        except NotInTables:
            continue


WET = Rule(
    name="wet place",
    what="Raceways at an enclosure in a wet place are of a type for it, and carry insulation for it.",
    limit="nothing that is not for wet places",
    source="NEC 300.9, 310.10(C), 348.12, {temperatures of insulations}, in part from memory: verify",
    leaves_out="Raceways that carry nothing the job names; fittings, which must be listed for wet places, "
    "above live parts of a cabinet too (312.2); corrosion (300.6); insulation marked for both, such as THHN "
    "and THWN-2: write the one for the place.",
    rests_on="code",
    measure=_wet,
    short="{what}, which is not for a wet place",
    fine="Raceways and insulations are for a wet place, so far as the job names them",
    remedy="Write insulation: THWN-2 where it is marked so, or take other conductors or raceways.",
    unit="unsuited",
    at_worst=Outcome.CAUTION,
)


# --- expansion ----------------------------------------------------------------------------------------------


def _expansion(site: CheckedFace) -> Iterator[Answer]:
    may_move = site.job.enclosure.location in ("damp", "wet")
    for hole in site.face.holes:
        raceway = hole.raceway
        if not hole.type.startswith("PVC"):
            continue
        run_in, range_f = raceway.straight_run_in, raceway.temperature_range_f
        if run_in is None and range_f is None and not may_move:
            continue
        for name, given in (("straight run", run_in), ("temperature range", range_f)):
            if given is None:
                yield MissingInput(name, hole.id)
        if run_in is not None and range_f is not None:
            change_in = run_in * range_f * PVC_PER_F
            fitting = ", and has an expansion fitting" if raceway.has_expansion_fitting else ""
            yield Measurement(
                (hole.id,),
                change_in,
                MOST_CHANGE_IN,
                hole.id,
                fitting,
                hole.id,
                at_most=True,
                holds=raceway.has_expansion_fitting or change_in < MOST_CHANGE_IN,
            )


EXPANSION = Rule(
    name="expansion of PVC",
    what="PVC conduit that heat makes 1/4 in longer between fixed points, or more, has an expansion fitting.",
    limit="less than 1/4 in without one, at 3.38 in for each 100,000 in and Fahrenheit degree",
    source="NEC {expansion of PVC}, Table {expansion of PVC}",
    leaves_out="What sun adds, for which makers allow some 30 F more; bends that give way; how far a "
    "fitting goes; conduit in the ground, which has other reasons to move.",
    rests_on="code",
    measure=_expansion,
    short="{what} changes by {room} between its fixed points, and has no expansion fitting",
    fine="{what} changes by {room} between its fixed points{extra}",
    remedy="Put in an expansion fitting and write expansion fitting: yes, or fix it in shorter runs.",
    missing_remedy="Write straight run: 30 ft and temperature range: 100 F, hottest less coldest.",
)

RULES = (WET, EXPANSION)
