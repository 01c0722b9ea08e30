"""The guided start, answered line by line: the job that comes of it is the one that was meant."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from templates_engine.guided_start.conversation import Conversation
from templates_engine.guided_start.questions import QUESTIONS, SKELETON
from templates_engine.guided_start.samples import sample_text, samples
from templates_engine.job import read_job_text
from templates_engine.job.text.edit import content
from templates_engine.layout import solve

WIREWAY = [
    *("Mill", "W-1", "wireway", "4 ft", "8", "8", "1/4", "-", "bottom", "inside", "-", "13/16, 1-5/8"),
    *("3 x 1-1/4", "2 RMC to the roof", ""),
    *("fittings", "right", "5-1/2", "letter, tabloid"),
]


def talk(*lines: str, **given: object) -> tuple[Conversation, list[str]]:
    """A conversation in which these lines are typed, and all that was told."""
    told: list[str] = []
    typed: Iterator[str] = iter(lines)

    def ask(prompt: str) -> str:
        told.append(prompt)
        return next(typed)

    return Conversation(ask, told.append, dict(given)), told


def test_the_skeleton_is_a_sound_job() -> None:
    assert len(solve(read_job_text(SKELETON, "x")).faces[0].holes) == 1


def test_answers_become_the_job() -> None:
    conversation, _ = talk(*WIREWAY)
    text = conversation.run()
    assert content(text) == {
        "job": "Mill",
        "enclosure": {
            **{"mark": "W-1", "kind": "wireway", "width": "4 ft", "height": "8", "depth": "8"},
            "back gap": "1/4",
        },
        "faces": [
            {
                "face": "bottom",
                "mark from": "inside",
                "rows": [
                    {
                        "strut": ["13/16", "1-5/8"],
                        "gap": "fittings",
                        "snap": "1/16",
                        "place": {"from": "right", "to": "centre", "distance": "5-1/2"},
                        "raceways": [
                            {"type": "EMT", "size": "1-1/4", "count": "3"},
                            {"type": "RMC", "size": "2", "to": "the roof"},
                        ],
                    }
                ],
            }
        ],
        "print": {"paper": ["letter", "tabloid"]},
    }
    assert all("#" in line for line in text.splitlines() if "width:" in line or "strut:" in line)
    assert solve(read_job_text(text, "x")).faces[0].holes[-1].u_in == 48 - 5.5


def test_a_wrong_answer_is_told_and_asked_again() -> None:
    lines = [*WIREWAY]
    lines.insert(3, "twenty")
    conversation, told = talk(*lines)
    assert content(conversation.run())["enclosure"]["width"] == "4 ft"
    assert any("twenty" in line for line in told)


def test_the_gap_off_the_wall_and_the_place_are_never_taken_for_granted() -> None:
    """They move every hole: Enter is no answer."""
    for id in ("back gap", "place"):
        at = next(place for place, question in enumerate(QUESTIONS) if question.id == id)
        assert QUESTIONS[at].usual == ""
    lines = [*WIREWAY]
    lines.insert(6, "")
    conversation, told = talk(*lines)
    conversation.run()
    assert any("has to be answered" in line for line in told)


def test_a_question_mark_explains_and_back_goes_back() -> None:
    conversation, told = talk("Mill", "?", "back", "Mill two", *WIREWAY[1:])
    assert content(conversation.run())["job"] == "Mill two"
    assert any("mark, such as LP-1" in line for line in told)


def test_back_in_a_list_takes_the_last_line_out() -> None:
    lines = [*WIREWAY[:12], "3 x 1-1/4", "1 EMT", "back", *WIREWAY[13:]]
    conversation, _ = talk(*lines)
    raceways = content(conversation.run())["faces"][0]["rows"][0]["raceways"]
    assert [one["size"] for one in raceways] == ["1-1/4", "2"]


def test_answers_given_beforehand_are_not_asked_for() -> None:
    given = {"job": "Mill", "raceways": ["2 EMT", "1 RMC"], "width": "nonsense"}
    lines = [line for line in WIREWAY if line not in ("Mill", "3 x 1-1/4", "2 RMC to the roof", "")]
    conversation, told = talk(*lines, **given)
    job = content(conversation.run())
    assert job["job"] == "Mill"
    assert [one["type"] for one in job["faces"][0]["rows"][0]["raceways"]] == ["EMT", "RMC"]
    assert any("nonsense" in line for line in told)


@pytest.mark.parametrize("name", samples())
def test_every_sample_can_be_started_from(name: str) -> None:
    text = sample_text(name)
    assert text is not None
    assert text in [path.read_text() for path in (Path(__file__).parents[2] / "sample_jobs").glob("*.yaml")]


def test_a_sample_is_found_by_how_it_begins() -> None:
    assert sample_text("panelboard") == sample_text("panelboard top")
    assert sample_text("no such") is None
