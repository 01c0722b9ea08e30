"""Every check against its case file: at its limit and beyond, not checked, and at the last of everything."""

from __future__ import annotations

import re

import pytest
from case_files import BASE, FOLDER, CheckCase, all_cases, number
from check_cases import moved

from templates_engine.checks import RULES, Finding, Outcome, check_one
from templates_engine.job import read_job_text
from templates_engine.layout import solve

CASES = all_cases()


def found_in(case: CheckCase) -> list[Finding]:
    layout = solve(read_job_text(case.job, "case.yaml"))
    for id, to in case.moves.items():
        layout = moved(layout, id, **to)
    return list(check_one(case.check, layout))


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.check}: {case.name}")
def test_the_check_finds_what_the_case_says(case: CheckCase) -> None:
    found = found_in(case)
    told = [f"{one.outcome.value} on {one.face or 'the job'}: {one}" for one in found]
    assert all(bool(one.remedy) == (one.outcome is not Outcome.OK) for one in found), told
    for wanted in case.finds:
        key = (wanted.get("face", ""), wanted["outcome"])
        same = [one for one in found if (one.face, one.outcome.value) == key]
        if len(same) > 1:
            same = [one for one in same if list(one.holes) == wanted.get("holes", list(one.holes))]
            same = [one for one in same if all(_is_said(words, one) for words in wanted.get("says", ()))]
        assert len(same) == 1, (key, told)
        found.remove(same[0])
        _compare(same[0], wanted, told)
    assert {one.outcome.value for one in found} <= {case.others}, told
    assert found or case.finds or case.others == "nothing", "a case of no finding says others: nothing"


def _compare(finding: Finding, wanted: dict[str, object], told: list[str]) -> None:
    unknown = set(wanted) - {
        "face",
        "outcome",
        "holes",
        "provided",
        "required",
        "unit",
        "says",
        "within",
        "source",
    }
    assert not unknown, unknown
    within = number(wanted.get("within", 1e-6))
    if "holes" in wanted:
        assert list(finding.holes) == wanted["holes"], told
    for name in ("provided", "required"):
        if name in wanted:
            assert getattr(finding, name) == pytest.approx(number(wanted[name]), abs=within), (name, told)
    if finding.outcome.value == "not checked":
        assert (finding.provided, finding.required) == (None, None)
    if "source" in wanted:
        assert finding.source == wanted["source"]
    if "unit" in wanted:
        assert finding.unit == wanted["unit"]
    for words in wanted.get("says", ()):  # type: ignore[attr-defined]
        assert _is_said(words, finding), told


def _is_said(words: str, finding: Finding) -> bool:
    """Whether the sentence has the words, whole: no figure's minus sign or leading digits cut off."""
    return re.search(rf"(?<![\w./-]){re.escape(words)}", finding.message) is not None


def test_every_check_has_its_case_file() -> None:
    assert {case.check for case in CASES} == {rule.name for rule in RULES}
    files = {path.stem for path in FOLDER.glob("*.yaml")} - {BASE.stem}
    assert {case.check.replace(",", "").replace(" ", "_").lower() for case in CASES} == files


def test_ids_are_told_apart() -> None:
    ids = [(case.check, case.name) for case in CASES]
    assert len(set(ids)) == len(ids)
