"""The rules as a whole: every one is walked, what they measure is worded alike, and each says what it is."""

from __future__ import annotations

import importlib
from pathlib import Path
from typing import Any

import pytest
from case_files import all_cases
from check_cases import circuits, conductors, moved, solved_row
from factories import make_face, make_job, make_keep_out, make_raceway, make_row
from hypothesis import given
from hypothesis import strategies as st
from random_runs import examples

import templates_engine.checks
from templates_engine.checks import RULES, check
from templates_engine.checks.driver import run
from templates_engine.checks.model import Answer, Finding, Measurement, MissingInput, Outcome, Rule
from templates_engine.job.model import Lips
from templates_engine.layout import solve
from templates_engine.layout.model import Layout
from templates_engine.values import replace


def test_every_rule_of_every_topic_is_walked_once():
    folder = Path(templates_engine.checks.__file__).parent
    declared = {
        value.name
        for path in folder.glob("*.py")
        for value in vars(importlib.import_module(f"templates_engine.checks.{path.stem}")).values()
        if isinstance(value, Rule)
    }
    names = [rule.name for rule in RULES]
    assert names == sorted(set(names))
    assert set(names) == declared
    assert len(names) >= 20


def answers(*made: Answer, **fields: Any) -> list[Finding]:
    """What comes of a rule that yields these answers at every face."""
    rule = Rule(
        **{
            "name": "sample",
            "what": "Something.",
            "limit": "1 in",
            "source": "geometry",
            "leaves_out": "Nothing.",
            "rests_on": "geometry",
            "measure": lambda site: made,
            "short": "{what} has {there}",
            "fine": "{what} is fine",
            "remedy": "Mend it.",
            **fields,
        }
    )
    return list(run(rule, solved_row("1", "2"), {}))


def test_only_geometry_and_code_can_fail():
    short = Measurement(("A1",), 0.5, 1.0, "A1")
    assert [one.outcome for one in answers(short)] == [Outcome.FAIL]
    assert [one.outcome for one in answers(short, rests_on="code")] == [Outcome.FAIL]
    assert [one.outcome for one in answers(short, rests_on="custom")] == [Outcome.CAUTION]
    assert [one.outcome for one in answers(short, rests_on="code", at_worst=Outcome.CAUTION)] == [
        Outcome.CAUTION
    ]


def test_the_worst_is_told_and_the_others_are_named():
    found = answers(
        Measurement(("A1",), 0.5, 1.0, "A1"),
        Measurement(("A2",), 0.25, 1.0, "A2"),
        Measurement(("A3",), 2.0, 1.0, "A3"),
    )
    assert [one.message for one in found] == ["A2 has 1/4 in (also A1)."]
    assert [(one.holes, one.provided, one.required) for one in found] == [(("A2", "A1"), 0.25, 1.0)]


def test_equality_passes_and_the_closest_is_told():
    found = answers(Measurement(("A1",), 3.0, 1.0, "A1"), Measurement(("A2",), 1.0, 1.0, "A2"))
    assert [(one.outcome, one.message, one.remedy) for one in found] == [(Outcome.OK, "A2 is fine.", "")]


def test_missing_inputs_of_one_remedy_make_one_finding():
    found = answers(
        MissingInput("wire", "A1"),
        MissingInput("neutrals", "A2"),
        MissingInput("system", "A2", "Write system."),
        missing_remedy="Write them.",
    )
    assert [(one.message, one.remedy) for one in found] == [
        ("The job does not give 'wire' (A1) and 'neutrals' (A2) for A1 and A2.", "Write them."),
        ("The job does not give 'system' for A2.", "Write system."),
    ]


def test_an_edition_that_numbers_its_articles_otherwise_is_named():
    rule = replace(RULES[0], source="NEC {counting neutrals} and 1.1")
    found = [rule.source_in(edition) for edition in ("NEC 2017", "NEC 2020", "NEC 2023")]
    assert found == ["NEC 310.15(B)(5) and 1.1", "NEC 310.15(E) and 1.1", "NEC 310.15(E) and 1.1"]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_each_rule_says_what_it_is(rule):
    for words in (rule.what, rule.limit, rule.source, rule.leaves_out):
        assert words.strip() == words
        assert words
    assert "  " not in rule.what + rule.limit + rule.source + rule.leaves_out
    if rule.rests_on == "code":
        assert "NEC" in rule.source
    assert rule.rests_on != "custom" or rule.gravest is not Outcome.FAIL


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_what_is_said_of_a_rules_gravity_is_the_gravest_its_cases_find(rule):
    outcomes = {
        Outcome(str(one["outcome"])) for case in all_cases() if case.check == rule.name for one in case.finds
    }
    assert min(outcomes - {Outcome.OK}, key=lambda one: one.gravity) is rule.gravest


def rich(gap: float = 1.25, u: float = 3.0) -> Layout:
    """A face with a bit of everything."""
    raceways = (
        make_raceway(
            "2", "A1", bushing="bonding", wiring=conductors((3, "1/0"), (1, "6", "ground")), first_support=30
        ),
        make_raceway("1", "A2", wiring=circuits(1, 3, 5, neutrals="shared"), first_support=40),
        make_raceway("3/4", "A3", hole=1.5),
        make_raceway("2", "A4", type="RMC", bushing="plain", knockout="concentric"),
    )
    row = make_row(*raceways, gap=gap)
    keep_outs = [
        make_keep_out((17.0, 18.0), (0.0, 1.0), clear=0.5),
        make_keep_out(15.0, 6.0, diameter=1.0, name="stud"),
    ]
    job = make_job(make_face(row, keep_outs=keep_outs, lips=Lips(0.25, 0.5, 0.75, 1.0)), back_gap=0.25)
    enclosure = replace(job.enclosure, kind="panelboard", system="480Y/277", spaces=42, location="wet")
    layout = solve(replace(job, enclosure=enclosure))
    shift = u - layout.faces[0].holes[0].u_in
    for hole in layout.faces[0].holes:
        layout = moved(layout, hole.id, u=hole.u_in + shift)
    return layout


def test_every_sentence_is_one_and_every_bad_finding_has_a_remedy():
    for finding in check(rich()):
        assert finding.message[-1] == "."
        assert finding.message[0].isupper()
        bad = finding.outcome in (Outcome.FAIL, Outcome.CAUTION, Outcome.NOT_CHECKED)
        assert bool(finding.remedy) == bad
        assert finding.solved_remedies == ()
        assert finding.source
        numbers = (finding.provided is None, finding.required is None)
        assert numbers == ((finding.outcome is Outcome.NOT_CHECKED,) * 2)


def test_the_same_layout_gives_the_same_findings():
    assert check(rich()) == check(rich())


def test_one_line_a_check_face_and_outcome():
    found = [(each.check, each.face, each.outcome) for each in check(rich())]
    assert len(found) == len(set(found))


# --- properties ---------------------------------------------------------------------------------------------

SPACING = (
    "knockouts apart",
    "metal between knockouts",
    "raceways apart",
    "gaps as asked",
    "fittings apart",
    "straps",
    "bonding lugs",
)


def gravity(layout: Layout, name: str) -> int:
    return min((each.outcome.gravity for each in check(layout) if each.check == name), default=99)


@examples(40)
@given(st.floats(-2, 3), st.floats(0, 2), st.sampled_from(("A2", "A3", "A4")))
def test_a_wider_gap_never_makes_spacing_worse(start, wider, first):
    """Everything from one raceway on is moved away from those before it."""
    layout = wide_row()
    holes = [hole.id for hole in layout.faces[0].holes]
    narrow, wide = layout, layout
    for hole in layout.faces[0].holes[holes.index(first) :]:
        narrow = moved(narrow, hole.id, u=hole.u_in + start)
        wide = moved(wide, hole.id, u=hole.u_in + start + wider)
    for name in SPACING:
        if name == "metal between knockouts" and gravity(narrow, "knockouts apart") == 0:
            continue  # overlapping knockouts have no metal between them to speak of
        assert gravity(wide, name) >= gravity(narrow, name), name


def wide_row() -> Layout:
    """A row in the middle of metal so wide and deep that only spacing counts."""
    raceways = [
        make_raceway(size, f"A{number}", bushing="bonding")
        for number, size in enumerate(("2", "1", "3/4", "2"), 1)
    ]
    return solve(make_job(make_face(make_row(*raceways, strut=3.25, gap=1.25), width=60, depth=14)))


@examples(30)
@given(st.floats(0, 12), st.floats(0.6, 1.6))
def test_mirroring_a_face_changes_no_finding(u, gap):
    layout = rich(gap, u)
    assert [told(each) for each in check(mirrored(layout))] == [told(each) for each in check(layout)]


def told(finding: Finding) -> tuple[object, ...]:
    """A finding without its sentence, which names edges."""
    numbers = [
        None if number is None else round(number, 6) for number in (finding.provided, finding.required)
    ]
    holes = sorted(finding.holes) if finding.outcome is not Outcome.OK else []
    return finding.check, finding.outcome, finding.face, holes, numbers


def mirrored(layout: Layout) -> Layout:
    """The layout with every u counted from the other edge, rows in the new order of u."""
    face = layout.faces[0]
    width, lips = face.job.width_in, face.job.lips
    keep_outs = tuple(
        replace(each, u_low_in=width - each.u_high_in, u_high_in=width - each.u_low_in)
        for each in face.job.keep_outs
    )
    job = replace(
        face.job, keep_outs=keep_outs, lips=replace(lips, start_in=lips.end_in, end_in=lips.start_in)
    )
    rows = tuple(
        replace(row, holes=tuple(replace(hole, u_in=width - hole.u_in) for hole in reversed(row.holes)))
        for row in face.rows
    )
    return replace(layout, faces=(replace(face, job=job, rows=rows),))
