"""JSON and CSV give every measure under its name, in inches, and harm no program that opens them."""

from __future__ import annotations

import csv
import io
import json

import pytest
from writer_layouts import layout, layout_with

from templates_engine.checks.model import Finding, Outcome
from templates_engine.writers.csv_file import COLUMNS, csv_bytes
from templates_engine.writers.json_file import findings_bytes, json_bytes


def test_json_holds_the_layout_and_nothing_else() -> None:
    found = json.loads(json_bytes(layout(), {}, ()))
    assert list(found) == ["made_by", "schema_version", "job", "revision", "units", "faces"]
    assert (found["schema_version"], found["job"], found["revision"], found["units"]) == (
        1,
        "Pump room",
        "B",
        "in",
    )
    (face,) = found["faces"]
    assert list(face) == [
        "face",
        "width_in",
        "depth_in",
        "mark_from",
        "fingerprint",
        "passes_checks",
        "notes",
        "holes",
        "rows",
    ]
    assert (face["face"], face["width_in"], face["depth_in"]) == ("bottom", 20.0, 6.0)
    assert (face["mark_from"], face["fingerprint"]) == ("inside", "K7QM-2XWD")
    assert face["holes"][0] == {
        "id": "A1",
        "type": "EMT",
        "trade_size": "1",
        "u_in": 0.333333,
        "v_in": 2.2,
        "outside_diameter_in": 1.163,
        "hole_diameter_in": 1.362,
        "hole_limits_in": [1.343, 1.397],
        "pilot_diameter_in": 0.4375,
        "knockout": "cut",
        "cutter": "punch",
        "quarter_points_in": [[-0.347667, 2.2], [1.014333, 2.2], [0.333333, 1.519], [0.333333, 2.881]],
        "row": "A",
        "wiring": None,
    }
    gap = {
        "before": "A1",
        "after": "A2",
        "required_in": 1.125,
        "provided_in": 6.3162,
        "centres_in": 8.4787,
        "governed_by": "gap of the row",
    }
    assert face["rows"] == [{"row": "A", "back_line_in": 1.625, "centre_line_in": None, "gaps": [gap]}]


def test_json_is_the_same_each_time_and_ends_a_line() -> None:
    assert json_bytes(layout(), {}, ()) == json_bytes(layout(), {}, ())
    assert json_bytes(layout(), {}, ()).endswith(b"}\n")


def test_numbers_are_rounded_to_six_decimals_without_minus_zero() -> None:
    data = json_bytes(layout_with(u_in=-1e-9, v_in=2 / 3), {}, ()).decode()
    assert '"u_in": 0.0,' in data
    assert '"v_in": 0.666667,' in data
    assert csv_bytes(layout_with(u_in=-1e-9), ()).decode().splitlines()[1].split(",")[10] == "0"


def test_a_measure_that_is_no_number_is_refused() -> None:
    with pytest.raises(ValueError, match="JSON compliant"):
        json_bytes(layout_with(u_in=float("nan")), {}, ())
    with pytest.raises(ValueError, match="nan"):
        csv_bytes(layout_with(u_in=float("nan")), ())


@pytest.mark.parametrize("text", ["Ø ⌀ 漢", 'a "quote", and\nmore', "\ud800"])
def test_json_takes_any_text(text: str) -> None:
    assert json.loads(json_bytes(layout(text), {}, ()))["job"] == text.replace("\ud800", "?")


def test_findings_say_what_was_measured_and_by_whose_word() -> None:
    finding = Finding(
        "gap", Outcome.FAIL, "top", ("A1", "A2"), 0.1, None, "in", "source", "says", "do", ("done",)
    )
    assert json.loads(findings_bytes([finding]))["findings"] == [
        {
            "check": "gap",
            "outcome": "fail",
            "face": "top",
            "holes": ["A1", "A2"],
            "provided": 0.1,
            "required": None,
            "unit": "in",
            "source": "source",
            "message": "says",
            "remedy": "do",
            "solved_remedies": ["done"],
        }
    ]


def lines(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode(), newline="")))


def test_csv_has_a_line_a_hole_with_its_measures_under_their_names() -> None:
    first, second = lines(csv_bytes(layout(to="roof"), ()))
    assert list(first) == list(COLUMNS)
    assert first == {
        "job": "Pump room",
        "revision": "B",
        "enclosure": "LP-1",
        "face": "bottom",
        "mark_from": "inside",
        "fingerprint": "K7QM-2XWD",
        "row": "A",
        "hole": "A1",
        "raceway": "1 in EMT",
        "to": "roof",
        "u_in": "0.333333",
        "v_in": "2.2",
        "outside_diameter_in": "1.163",
        "hole_diameter_in": "1.362",
        "hole_least_in": "1.343",
        "hole_most_in": "1.397",
        "pilot_diameter_in": "0.4375",
        "cutter": "punch",
        "quarter_start_u_in": "-0.347667",
        "quarter_start_v_in": "2.2",
        "quarter_end_u_in": "1.014333",
        "quarter_end_v_in": "2.2",
        "quarter_back_u_in": "0.333333",
        "quarter_back_v_in": "1.519",
        "quarter_front_u_in": "0.333333",
        "quarter_front_v_in": "2.881",
        "row_back_line_in": "1.625",
        "row_centre_line_in": "",
        "clear_gap_to_next_in": "6.3162",
        "passes_checks": "yes",
        "notes": "",
    }
    assert (second["hole"], second["u_in"], second["clear_gap_to_next_in"]) == ("A2", "7.8125", "")


@pytest.mark.parametrize(
    "text",
    ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", " =1", "\u00a0=1", "＝1", '=HYPERLINK("x")', "=1\n=2"],
)
def test_no_text_starts_a_formula(text: str) -> None:
    for found in (
        lines(csv_bytes(layout(text), ()))[0]["job"],
        lines(csv_bytes(layout(first=text), ()))[0]["hole"],
    ):
        assert found == "'" + text.replace("\t", " ").replace("\r", " ").replace("\n", " ")


def test_every_hole_is_one_line_whatever_its_text() -> None:
    assert csv_bytes(layout(first="a\rb\nc\x85d", to="\0\u2028"), ()).decode().count("\n") == 3


@pytest.mark.parametrize("text", ["a=1", "", "roof, north", 'the "old" one', "1-1/4"])
def test_harmless_text_is_left_as_it_is(text: str) -> None:
    assert lines(csv_bytes(layout(to=text), ()))[0]["to"] == text
