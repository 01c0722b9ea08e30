"""Values changed in a job file's text: the text says what was asked, and every other byte stays."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from templates_engine.job.text.edit import CannotEdit, content, insert, put, take_out

SAMPLES = sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.yaml"))

JOB = """\
# Harbour Street, second floor
job: Clinic            # printed on every sheet
enclosure:
  width: 20            # outside

  depth: 5-3/4
faces:
  - face: top
    lips: {front: 1/2}
    rows:
      - strut: 1-5/8   # on the wall
        gap: 1-1/8
        raceways:
          - {type: EMT, size: 2}     # the feeder
          # spare:
          - type: EMT
            size: 1
            count: 2
print: {paper: letter}
"""


def lines_changed(before: str, after: str) -> list[str]:
    """Lines of either text that the other lacks, in order."""
    gone = [f"- {line}" for line in before.splitlines() if line not in after.splitlines()]
    return gone + [f"+ {line}" for line in after.splitlines() if line not in before.splitlines()]


@pytest.mark.parametrize(
    ("path", "value", "changed"),
    [
        (("job",), "Harbour", ["- job: Clinic            # printed on every sheet"]),
        (
            ("enclosure", "width"),
            "24",
            ["-   width: 20            # outside", "+   width: 24            # outside"],
        ),
        (("faces", 0, "lips", "front"), "3/4", ["-     lips: {front: 1/2}", "+     lips: {front: 3/4}"]),
        (
            ("faces", 0, "lips", "back"),
            "1/4",
            ["-     lips: {front: 1/2}", "+     lips: {front: 1/2, back: 1/4}"],
        ),
        (
            ("faces", 0, "rows", 0, "raceways", 0, "at"),
            "4-1/2",
            [
                "-           - {type: EMT, size: 2}     # the feeder",
                "+           - {type: EMT, size: 2, at: 4-1/2}     # the feeder",
            ],
        ),
        (("faces", 0, "rows", 0, "raceways", 1, "cutter"), "hole saw", ["+             cutter: hole saw"]),
        (("enclosure", "back gap"), "1/4", ["+   back gap: 1/4"]),
        (("faces", 0, "rows", 0, "place"), "centred", ["+         place: centred"]),
        (
            ("faces", 0, "rows", 0, "raceways", 2),
            {"type": "RMC", "size": "3/4"},
            ["+           - {type: RMC, size: 3/4}"],
        ),
        (
            ("print", "paper"),
            ["letter", "tabloid"],
            ["- print: {paper: letter}", "+ print: {paper: [letter, tabloid]}"],
        ),
        (("revision",), "A", ["+ revision: A"]),
        (("job",), "a: b # c", ["- job: Clinic            # printed on every sheet"]),
    ],
)
def test_a_value_is_put_in_its_place(path: Any, value: Any, changed: list[str]) -> None:
    after = put(JOB, path, value)
    there = content(after)
    for step in path:
        there = there[step]
    assert there == value
    told = lines_changed(JOB, after)
    assert [line for line in told if line in changed] == changed
    assert len(told) <= 2


def test_a_place_becomes_keys_and_a_word_again() -> None:
    row = ("faces", 0, "rows", 0)
    keys = {"from": "left", "to": "centre", "distance": "4-1/2"}
    written = put(put(JOB, (*row, "place"), "centred"), (*row, "place"), keys)
    assert "        place: {from: left, to: centre, distance: 4-1/2}\n" in written
    assert put(written, (*row, "place"), "centred") == put(JOB, (*row, "place"), "centred")


def test_a_new_key_finds_its_usual_place() -> None:
    def order(path: Any) -> list[str]:
        return ["mark", "width", "height", "depth"] if path == ("enclosure",) else []

    after = put(JOB, ("enclosure", "height"), "36", order)
    assert "  width: 20            # outside\n  height: 36\n\n  depth: 5-3/4\n" in after
    assert "enclosure:\n  mark: LP-1\n  width: 20 " in put(JOB, ("enclosure", "mark"), "LP-1", order)


def test_from_an_empty_text_to_a_whole_job() -> None:
    text = ""
    text = put(text, ("job",), "Clinic")
    text = put(text, ("enclosure", "width"), "20")
    text = put(text, ("enclosure", "depth"), "6")
    text = put(text, ("faces", 0, "face"), "top")
    text = put(text, ("faces", 0, "rows", 0, "raceways", 0), {"type": "EMT", "size": "2"})
    text = put(text, ("faces", 0, "rows", 0, "raceways", 1), {"type": "EMT", "size": "1"})
    assert content(text) == {
        "job": "Clinic",
        "enclosure": {"width": "20", "depth": "6"},
        "faces": [
            {
                "face": "top",
                "rows": [{"raceways": [{"type": "EMT", "size": "2"}, {"type": "EMT", "size": "1"}]}],
            }
        ],
    }


def test_a_key_without_a_value_takes_one() -> None:
    assert put("a:   # later\nb: 1\n", ("a",), "2") == "a: 2   # later\nb: 1\n"
    assert content(put("enclosure:\njob: x\n", ("enclosure", "width"), "20"))["enclosure"] == {"width": "20"}
    assert content(put("e: {w: , h: 2}\n", ("e", "w"), "20")) == {"e": {"w": "20", "h": "2"}}


def test_what_is_taken_out_leaves_all_else() -> None:
    row = ("faces", 0, "rows", 0)
    assert lines_changed(JOB, take_out(JOB, (*row, "gap"))) == ["-         gap: 1-1/8"]
    assert lines_changed(JOB, take_out(JOB, (*row, "raceways", 0))) == [
        "-           - {type: EMT, size: 2}     # the feeder"
    ]
    first = take_out(JOB, (*row, "strut"))
    assert "      - gap: 1-1/8\n        raceways:" in first
    assert "lips" not in take_out(JOB, ("faces", 0, "lips", "front"))
    assert take_out(JOB, ("faces", 0, "lugs", "distance")) == JOB
    assert take_out(JOB, ("enclosure", "system")) == JOB


def test_an_entry_goes_before_another() -> None:
    raceways = ("faces", 0, "rows", 0, "raceways")
    after = insert(JOB, (*raceways, 1), {"type": "IMC", "size": "1"})
    assert lines_changed(JOB, after) == ["+           - {type: IMC, size: 1}"]
    assert [one["type"] for one in content(after)["faces"][0]["rows"][0]["raceways"]] == ["EMT", "IMC", "EMT"]
    assert insert("a: [1, 3]\n", ("a", 1), "2") == "a: [1, 2, 3]\n"
    assert insert("a: [1, 3]\n", ("a", 2), "2") == "a: [1, 3, 2]\n"


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("a: &x {b: 1}\nc: *x\n", ("c", "b")),
        ("a: [", ("a",)),
        ("- 1\n", ("a",)),
        ("a: 1\n", ("b", 3)),
    ],
)
def test_what_cannot_be_changed_in_its_place_is_refused(text: str, path: Any) -> None:
    with pytest.raises(CannotEdit):
        put(text, path, "2")


def paths_of(tree: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every path of a tree but the root's."""
    steps = tree.items() if isinstance(tree, dict) else enumerate(tree) if isinstance(tree, list) else ()
    return [one for step, part in steps for one in ((*path, step), *paths_of(part, (*path, step)))]


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_every_value_of_every_sample_is_changed_and_changed_back(sample: Path) -> None:
    text = sample.read_text()
    tree = content(text)
    for path in paths_of(tree):
        there: Any = tree
        for step in path:
            there = there[step]
        if isinstance(there, str):
            assert put(put(text, path, "some value"), path, there) == text, path


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_comments_and_order_stay_whatever_is_taken_out(sample: Path) -> None:
    text = sample.read_text()
    for path in paths_of(content(text)):
        try:
            after = take_out(text, path)
        except CannotEdit:
            continue
        kept = [line for line in after.splitlines() if line in text.splitlines()]
        assert len(after.splitlines()) - len(kept) <= 1, path


keys = st.sampled_from(["job", "back gap", "at", "to", "é", "size"])
words = st.one_of(
    st.sampled_from(
        ["2", "1/2", "no", "12:30", "a, b", "{x", "- y", "#z", " w ", "q: r", '2"', "1' 6\"", "über", ""]
    ),
    st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Zl", "Zp")), max_size=8),
)
trees = st.recursive(
    words,
    lambda part: st.one_of(st.dictionaries(keys, part, min_size=1), st.lists(part, min_size=1)),
    max_leaves=12,
)


@given(st.dictionaries(keys, trees, min_size=1), st.booleans(), st.data())
def test_any_text_says_what_was_put_and_nothing_else(tree: dict[str, Any], flow: bool, data: Any) -> None:
    """The text is written by PyYAML, in blocks or in braces; what it must say is worked out on values."""
    text = yaml.safe_dump(tree, default_flow_style=flow, allow_unicode=True, sort_keys=False)
    path = data.draw(st.sampled_from(paths_of(content(text))))
    value = data.draw(words)
    wanted = content(text)
    holder: Any = wanted
    for step in path[:-1]:
        holder = holder[step]
    holder[path[-1]] = value
    try:
        assert content(put(text, path, value)) == wanted
    except CannotEdit:
        assert any(mark in text for mark in ('"', "'", "|", ">", "? ")), (text, path)
