"""Text nobody would write on purpose: reading ends in a Job or in JobProblems, never otherwise."""

from __future__ import annotations

import math
from typing import Any

import pytest
import yaml
from hostile_texts import SOUND
from hypothesis import given
from hypothesis import strategies as st
from random_runs import examples

from templates_engine.errors import JobProblems, Problem
from templates_engine.job import json_schema, read_job_text
from templates_engine.job.model import Job
from templates_engine.job.text import yaml_tree
from templates_engine.values import Struct, astuple

LONGER = (
    SOUND
    + """\
          - {id: L2, type: LFMC, size: fit, gap before: 1, nipple: no,
             conductors: [{count: 3, size: 4/0, insulation: XHHW}]}
      - back line: auto
        strut: [13/16 in, 1-5/8 in]
        gap: fittings
        place: {spread: {from: 2 in, to: 30 in}}
        raceways:
          - {type: metric, size: M20, count: 3, hole: 20.5 mm, cutter: hole saw, to: pump}
          - {type: EMT, size: 1/2, gap before: 2, circuits: [1, {spaces: [2, 4], neutral: no}],
             wire: {size: 12, insulation: THHN}, neutrals: own, ground: 12, bushing: bonding}
          - {type: EMT, size: 3/4, factory knockout: KX, reducing washers: yes, nonlinear loads: yes}
    factory knockouts:
      - {name: KX, along: 27, from back: [2, 2-1/16], sizes: [3/4, 1], rings: eccentric}
      - {along: 31, from back: 2, sizes: 1/2}
    lips: {front: 1/2, top: 1}
    keep out:
      - {name: seam, along: {from: 1, to: 2}, from back: {from: 0, to: 1}, clear: 1/4}
      - {along: 4, from back: 2, diameter: 1}
    lugs: {distance: 6, wires: 2, opposite: yes}
print: {paper: [letter, 24 x 36 in, 24 in roll], overlap: 3/4, margins: {top: 1/2}, orientation: portrait}
"""
)


def numbers_in(value: Any) -> list[float]:
    """Every number anywhere in a Job."""
    if isinstance(value, Struct):
        return [number for part in astuple(value) for number in numbers_in(part)]
    if isinstance(value, tuple):
        return [number for part in value for number in numbers_in(part)]
    return [value] if isinstance(value, float) else []


def assert_job_or_problems(text: str) -> None:
    problems: tuple[Problem, ...] = ()
    try:
        job = read_job_text(text, "job.yaml")
    except JobProblems as error:
        problems = error.problems
    else:
        assert isinstance(job, Job)
        assert not [number for number in numbers_in(job) if math.isnan(number)]
        return
    assert problems
    lines = [problem.line or 0 for problem in problems]
    assert lines == sorted(lines)
    assert max(lines) <= text.count("\n") + text.count("\r") + 1
    assert len({str(problem) for problem in problems}) == len(problems)
    for problem in problems:
        assert problem.file == "job.yaml"
        assert problem.message.endswith(".")
        assert problem.remedy
        assert "\n" not in str(problem)
        str(problem).encode("utf-8")


def every_key(schema: dict[str, Any]) -> list[str]:
    tables = [schema, *schema["$defs"].values()]
    return sorted({key for table in tables for key in table["properties"]})


KEYS = every_key(json_schema())
SCALARS = st.one_of(
    st.sampled_from(
        ["", "2", "-1", "0", "1/2", "2-1/2 in", "1e999", "nan", "12:30", "no", "null", "~", "top", "left"]
    ),
    st.sampled_from(
        ["fit", "auto", "centred", "fittings", "A1", "EMT", "RMC", "letter", "4/0", "1" * 5000, "63.5 mm"]
    ),
    st.text(max_size=12),
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(KEYS) | SCALARS, inner, max_size=4)
    ),
    max_leaves=12,
)


def places(value: Any) -> list[tuple[Any, Any]]:
    """Every holder and key or place in it."""
    steps = (
        list(value.items())
        if isinstance(value, dict)
        else list(enumerate(value))
        if isinstance(value, list)
        else []
    )
    return [(value, key) for key, _ in steps] + [place for _, part in steps for place in places(part)]


def test_the_longer_job_is_sound() -> None:
    assert len(read_job_text(LONGER, "job.yaml").faces[1].rows) == 2


@given(st.text())
def test_any_text(text: str) -> None:
    assert_job_or_problems(text)


@given(
    st.lists(st.sampled_from(list("ab:-[]{},#&*!|>'\"%@`?<\n\n  \t\\x0/½\u00a0")), max_size=60).map("".join)
)
def test_any_text_of_signs_that_mean_something(text: str) -> None:
    assert_job_or_problems(text)


@examples(200)
@given(st.data())
def test_a_sound_job_with_characters_changed(data: st.DataObject) -> None:
    text = LONGER
    for _ in range(data.draw(st.integers(1, 4))):
        start = data.draw(st.integers(0, len(text)))
        end = min(len(text), start + data.draw(st.integers(0, 12)))
        text = (
            text[:start]
            + data.draw(st.text(max_size=6) | st.sampled_from(["\n", "  ", ": ", "- ", "{", "]", '"']))
            + text[end:]
        )
    assert_job_or_problems(text)


@examples(300)
@given(st.data())
def test_a_sound_job_with_values_changed(data: st.DataObject) -> None:
    job = yaml.load(LONGER, Loader=yaml.BaseLoader)
    for _ in range(data.draw(st.integers(1, 4))):
        holder, key = data.draw(st.sampled_from(places(job)))
        change = data.draw(st.sampled_from(["replace", "remove", "add", "rename"]))
        if isinstance(holder, dict) and change == "rename":
            holder[data.draw(st.sampled_from(KEYS))] = holder.pop(key)
        elif isinstance(holder, dict) and change == "add":
            holder[data.draw(st.sampled_from(KEYS))] = data.draw(VALUES)
        elif change == "remove":
            del holder[key]
        else:
            holder[key] = data.draw(VALUES)
        if not places(job):
            break
    assert_job_or_problems(yaml.safe_dump(job, allow_unicode=True))


@given(VALUES)
def test_any_values(value: Any) -> None:
    assert_job_or_problems(yaml.safe_dump(value, allow_unicode=True))


@pytest.mark.parametrize("key", KEYS)
@examples(5)
@given(value=VALUES)
def test_any_value_under_every_key_of_every_table(key: str, value: Any) -> None:
    wrapped = {
        "job": "x",
        "enclosure": {key: value},
        "print": {key: value},
        "faces": [{key: value}],
        key: value,
    }
    assert_job_or_problems(yaml.safe_dump(wrapped, allow_unicode=True))
    row = {"strut": "1", "gap": "1", "raceways": [{"type": "EMT", "size": "1", key: value}], key: value}
    assert_job_or_problems(yaml.safe_dump({"faces": [{"face": "top", "rows": [row]}]}, allow_unicode=True))


@examples(50)
@given(st.data())
def test_both_parsers_read_the_same(data: st.DataObject) -> None:
    if not hasattr(yaml, "CSafeLoader"):
        pytest.skip("PyYAML was built without its parser in C")
    job = yaml.load(LONGER, Loader=yaml.BaseLoader)
    holder, key = data.draw(st.sampled_from(places(job)))
    holder[key] = data.draw(VALUES)
    text = yaml.safe_dump(job, allow_unicode=True)
    answers = []
    loader = yaml_tree._LOADER
    try:
        for yaml_tree._LOADER in (yaml.CSafeLoader, yaml.SafeLoader):
            try:
                answers.append(repr(read_job_text(text, "job.yaml")))
            except JobProblems as error:
                answers.append(str(error))
    finally:
        yaml_tree._LOADER = loader
    assert answers[0] == answers[1]
