"""Checks what each raceway carries: fill, adjustment, shared neutrals, panel spaces."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.checks.checked_face import CheckedFace, HoleContents
from templates_engine.checks.model import Answer, Measurement, MissingInput, NoFigure, Outcome, Remark, Rule
from templates_engine.checks.wording import unique
from templates_engine.job.model import Circuit, Job
from templates_engine.layout.model import Hole
from templates_engine.trade.editions import article
from templates_engine.trade.not_in_tables import listed
from templates_engine.wiring.panel import System, follow_one_another, name_of, phase_of, system_of

WHOLE_PERCENT = 100


def missing_contents(hole_contents: tuple[HoleContents, ...]) -> Iterator[MissingInput]:
    """The inputs without which conductors cannot be counted, for the holes that lack them."""
    for each in hole_contents:
        for name in each.missing:
            yield MissingInput(name, each.hole.id)


# --- fill ---------------------------------------------------------------------------------------------------


@Rule(
    name="fill",
    what="The conductors of a raceway, grounds included, take no more of its inside than allowed.",
    limit="53 % for one conductor, 31 % for two, 40 % for more, 60 % in a nipple of 24 in at most; for "
    "conductors all of one size the number that note 7 gives",
    source="NEC chapter 9, Tables 1, 4, 5 and 8, notes 4 and 7",
    leaves_out="Jamming; cables; compact conductors; how hard the pull is. Whether a nipple is 24 in at most "
    "is the job's word.",
    rests_on="code",
    short="{what} is {provided:.1f} % full, {required:g} % is allowed{extra}",
    fine="{what} is the fullest, {provided:.1f} % of {required:g} % allowed{extra}",
    remedy="Take a larger trade size, or share the conductors out over more raceways.",
    missing_remedy="Write what the raceway carries: circuits with wire, neutrals and ground, or conductors.",
    no_figure_remedy="Work out the fill from the makers' own data.",
    unit="%",
)
def fill(site: CheckedFace) -> Iterator[Answer]:
    for each in site.hole_contents:
        if each.contents and each.contents.fill_trouble:
            yield NoFigure(each.hole.id, each.contents.fill_trouble)
        fill = each.contents.fill if each.contents else None
        if fill is None:
            continue
        hole = each.hole
        extra = f" for {fill.conductors} conductors" if fill.conductors > 1 else " for one conductor"
        extra += ", by the rounding of note 7" if fill.by_note_7 else ""
        extra += "" if fill.provenance.startswith("read") else ", figures partly from memory: verify"
        yield Measurement(
            (hole.id,),
            fill.percent,
            fill.limit_percent,
            f"{hole.id} ({hole.type} {hole.trade_size})",
            extra,
            label=hole.id,
            at_most=True,
            holds=fill.fits,
        )
    yield from missing_contents(site.hole_contents)


# --- adjustment ---------------------------------------------------------------------------------------------


@Rule(
    name="ampacity adjustment",
    what="A raceway's current-carrying conductors are few enough to keep their whole ampacity.",
    limit="100 %, which is up to three current-carrying conductors",
    source="NEC {adjustment factors}, counting by {counting neutrals} and {counting grounds}",
    leaves_out="Ampacities, breakers and ambient temperature; raceways lying together without spacing; "
    "conductors that do not carry current at the same time. Loads are taken as mostly linear unless the job "
    "says nonlinear loads: yes.",
    rests_on="code",
    short="{what} {extra}: their ampacity is adjusted to {provided:g} %",
    fine="{what} {extra}: no adjustment",
    remedy="Size the conductors for the adjusted ampacity, share neutrals, or use more raceways.",
    missing_remedy="Write what the raceway carries: circuits with wire and neutrals, or conductors.",
    unit="%",
    at_worst=Outcome.CAUTION,
)
def adjustment(site: CheckedFace) -> Iterator[Answer]:
    for each in site.hole_contents:
        contents = each.contents
        for name in contents.missing_for_adjustment if contents and not contents.missing else ():
            yield MissingInput(name, each.hole.id, "Write system: under 'enclosure', such as 208Y/120.")
        if contents is None or contents.adjustment_percent is None or not contents.current_carrying:
            continue
        nipple = each.hole.raceway.nipple
        percent = WHOLE_PERCENT if nipple else contents.adjustment_percent
        extra = f"has {contents.current_carrying} current-carrying conductors"
        if contents.current_carrying == 1:
            extra = "has one current-carrying conductor"
        if nipple and contents.adjustment_percent < WHOLE_PERCENT:
            extra += f", and is a short nipple, {article('short nipples', site.job.code)}"
        elif contents.adjustment_nonlinear_percent != contents.adjustment_percent:
            many, percent_then = contents.current_carrying_nonlinear, contents.adjustment_nonlinear_percent
            extra += f" ({many} and {percent_then:g} % where loads are mostly nonlinear)"
        is_held = contents.protected and not contents.missing_for_devices
        short = f"{adjustment.short}, and its devices are held to that" if is_held else ""
        yield Measurement((each.hole.id,), percent, WHOLE_PERCENT, each.hole.id, extra, short=short)
    yield from missing_contents(site.hole_contents)


# --- neutrals -----------------------------------------------------------------------------------------------


_TOGETHER = (
    "Write simultaneous disconnect: yes where a multipole breaker or identified handle ties are used, or "
    "neutrals: own."
)


@Rule(
    name="shared neutral",
    what="Circuits that share a neutral have a simultaneous disconnect where they begin.",
    limit="simultaneous disconnect: yes",
    source="NEC 210.4(B)",
    leaves_out="Grouping and marking of the conductors (210.4(D)); line-to-line loads (210.4(C)).",
    rests_on="code",
    short="{what} have no simultaneous disconnect",
    fine="{what} open together",
    remedy=_TOGETHER,
    unit="simultaneous disconnect",
)
def neutrals(site: CheckedFace) -> Iterator[Answer]:
    for each in site.hole_contents:
        neutrals = each.contents.neutrals if each.contents else ()
        shared = "; ".join(listed(one.circuits, "and") for one in neutrals if one.is_shared)
        wiring = each.hole.raceway.wiring
        if not shared or wiring is None:
            continue
        if wiring.simultaneous_disconnect is None:
            yield MissingInput("simultaneous disconnect", each.hole.id)
            continue
        what = f"Circuits {shared} in {each.hole.id} share a neutral and"
        yield Measurement(
            (each.hole.id,), float(wiring.simultaneous_disconnect), 1.0, what, label=each.hole.id
        )


# --- panel spaces -------------------------------------------------------------------------------------------


@Rule(
    name="panel spaces",
    what="Each space feeds one raceway of a panelboard, the poles of a breaker follow one another on one "
    "side, and no single pole with a neutral stands on a high leg.",
    limit="none broken",
    source="NEC 408.3(E) for phases and high leg; the rest common practice, no source",
    leaves_out="Circuits whose poles stand on one phase, which stop the job; breaker ratings; handle ties "
    "across spaces.",
    rests_on="custom",
    missing_remedy="Write system: under 'enclosure', such as 208Y/120.",
    unit="circuits",
    once_a_job=True,
)
def spaces(site: CheckedFace) -> Iterator[Answer]:
    circuits = [
        (hole, circuit)
        for face in site.layout.faces
        for hole in face.holes
        if hole.raceway.wiring
        for circuit in hole.raceway.wiring.circuits
    ]
    if not circuits:
        return
    system = system_of(site.job.enclosure)
    if system is None:
        yield MissingInput("system")
        return
    odd = list(_odd(circuits, site.job, system))
    words = listed([words for _, words in odd], "and")
    yield Remark(
        Outcome.CAUTION if odd else Outcome.OK,
        f"{words[0].upper()}{words[1:]}."
        if odd
        else f"All {len(circuits)} circuits can stand where they are.",
        unique(hole for hole, _ in odd),
        float(len(odd)),
        0.0,
        "Compare the circuits with the panel schedule." if odd else "",
    )


def _odd(circuits: list[tuple[Hole, Circuit]], job: Job, system: System) -> Iterator[tuple[str, str]]:
    """Hole id and words for every circuit that looks wrong."""
    numbering = job.enclosure.numbering
    taken: dict[int, str] = {}
    for hole, circuit in circuits:
        if not follow_one_another(circuit, numbering):
            yield hole.id, f"the spaces of circuit {name_of(circuit)} do not follow one another on one side"
        if len(circuit.spaces) == 1 and circuit.neutral is not False:
            phase = phase_of(circuit.spaces[0], system, numbering)
            if phase == system.high_leg:
                yield hole.id, f"circuit {name_of(circuit)} is a single pole on the high leg {phase}"
        for space in circuit.spaces:
            other = taken.setdefault(space, hole.id)
            if other != hole.id and job.enclosure.kind == "panelboard":
                yield hole.id, f"space {space} is in both {other} and {hole.id}"
