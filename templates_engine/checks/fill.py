"""Checks how full each raceway is of its conductors."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, not_checked, unlisted
from templates_engine.checks.support.loads import Loaded, loads, missing_inputs
from templates_engine.layout.model import Layout

ABOUT = About(
    name="fill",
    what="The conductors of a raceway, grounds included, take no more of its inside than allowed.",
    limit="53 % for one conductor, 31 % for two, 40 % for more, 60 % in a nipple of 24 in at most; for "
    "conductors all of one size the number that note 7 gives",
    source="NEC chapter 9, Tables 1, 4, 5 and 8, notes 4 and 7",
    leaves_out="Jamming; cables; compact conductors; how hard the pull is. Whether a nipple is 24 in at most "
    "is the job's word.",
    rests_on="code",
)


def run(layout: Layout) -> Iterable[Finding]:
    for face in layout.faces:
        loaded = loads(face, layout.job)
        yield from judge(
            ABOUT,
            face.job.face.value,
            (case for each in loaded for case in _case(each)),
            when_short=Outcome.FAIL,
            short=lambda case: (
                f"{case.what} is {case.provided:.1f} % full, {case.required:g} % is allowed{case.extra}"
            ),
            fine=lambda case: (
                f"{case.what} is the fullest, {case.provided:.1f} % of {case.required:g} % "
                f"allowed{case.extra}"
            ),
            remedy="Take a larger trade size, or share the conductors out over more raceways.",
            unit="%",
        )
        remedy = "Write what the raceway carries: circuits with wire, neutrals and ground, or conductors."
        yield from not_checked(ABOUT, face.job.face.value, missing_inputs(loaded), remedy)
        why = {
            each.hole.id: each.carried.fill_trouble
            for each in loaded
            if each.carried and each.carried.fill_trouble
        }
        yield from unlisted(ABOUT, face.job.face.value, why, "Work out the fill from the makers' own data.")


def _case(each: Loaded) -> Iterable[Case]:
    fill = each.carried.fill if each.carried else None
    if fill is None:
        return
    hole = each.hole
    extra = f" for {fill.conductors} conductors" if fill.conductors > 1 else " for one conductor"
    if fill.by_note_7:
        extra += ", by the rounding of note 7"
    if not fill.how_had.startswith("read"):
        extra += ", figures partly from memory: verify"
    yield Case(
        (hole.id,),
        fill.percent,
        fill.limit_percent,
        f"{hole.id} ({hole.type} {hole.trade_size})",
        extra,
        label=hole.id,
        at_most=True,
        holds=fill.fits,
    )
