"""The JSON Schemas of job and shop files: valid themselves, true to what the reader takes, with help."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml
from test_job_read import FULL, LEAST

from templates_engine.job import json_schema, shop_json_schema
from templates_engine.job.schema import WrittenJob, WrittenTable
from templates_engine.job.shop.schema import WrittenShop
from templates_engine.resources import folder

SCHEMA = json_schema()
SHOP_SCHEMA = shop_json_schema()
SAMPLES = sorted(folder("sample_jobs").glob("*.yaml"))


def complaints(content: Any) -> list[str]:
    """What an editor would underline."""
    validator = jsonschema.Draft202012Validator(SCHEMA)
    return [f"{error.json_path}: {error.message}" for error in validator.iter_errors(content)]


class EditorLoader(yaml.SafeLoader):
    """Numbers as numbers and `yes` as true, but dates as text: JSON has none."""


EditorLoader.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in resolvers if not tag.endswith("timestamp")]
    for first, resolvers in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def as_an_editor_reads(text: str) -> Any:
    return yaml.load(text, Loader=EditorLoader)


@pytest.mark.parametrize("schema", [SCHEMA, SHOP_SCHEMA], ids=["job", "shop"])
def test_is_valid_itself(schema: dict[str, Any]) -> None:
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    jsonschema.Draft202012Validator.check_schema(schema)


CANONICAL = (
    FULL.replace("12:30", "'12:30'")
    .replace("nec 2020", "NEC 2020")
    .replace("Panelboard", "panelboard")
    .replace("208y", "208Y")
    .replace("Top", "top")
    .replace("aluminum", "Al")
    .replace("Landscape", "landscape")
)


@pytest.mark.parametrize("text", [CANONICAL, LEAST], ids=["full", "least"])
def test_takes_sound_jobs_with_numbers_and_with_text(text: str) -> None:
    assert complaints(as_an_editor_reads(text)) == []
    assert complaints(yaml.load(text, Loader=yaml.BaseLoader)) == []


def test_numbers_are_really_numbers_in_that_test() -> None:
    content = as_an_editor_reads(CANONICAL)
    assert content["enclosure"]["height"] == 36
    assert content["enclosure"]["service"] is True


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.name)
def test_takes_the_sample_jobs(path: Path) -> None:
    assert complaints(as_an_editor_reads(path.read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ("job: x", "job: x, jbo: y", "$"),
        ("width: 20", "widht: 20", "$.enclosure"),
        ("width: 20", "width: [20]", "$.enclosure.width"),
        ("face: top", "face: roof", "$.faces[0].face"),
        ("face: top", "face: top, snap: 1", "$.faces[0]"),
        ("back line: 1", "strut: {a: b}", "$.faces[0].rows[0].strut"),
        ("place: centred", "place: left", "$.faces[0].rows[0].place"),
        ("place: centred", "place: {frm: left}", "$.faces[0].rows[0].place"),
        ("size: 1", "sze: 1", "$.faces[0].rows[0].raceways[0]"),
        ("size: 1", "size: 1, count: 0", "$.faces[0].rows[0].raceways[0].count"),
        ("size: 1", "size: 1, count: 1.5", "$.faces[0].rows[0].raceways[0].count"),
        ("size: 1", "size: 1, nipple: maybe", "$.faces[0].rows[0].raceways[0].nipple"),
        ("size: 1", "size: 1, at: null", "$.faces[0].rows[0].raceways[0].at"),
        ("size: 1", "size: 1, circuits: [{space: 1}]", "$.faces[0].rows[0].raceways[0].circuits[0]"),
        (
            "size: 1",
            "size: 1, conductors: [{count: 1, size: 2, insulation: THHN, hue: red}]",
            "$.faces[0].rows[0].raceways[0].conductors[0]",
        ),
    ],
)
def test_underlines_what_the_reader_would_refuse(old: str, new: str, where: str) -> None:
    text = LEAST.replace(old, new, 1)
    assert text != LEAST
    found = complaints(as_an_editor_reads(text))
    assert found
    assert {complaint.split(": ")[0] for complaint in found} == {where}


def schema_of(table: type[WrittenTable]) -> dict[str, Any]:
    """What the schema that has a table says of it."""
    whole = {WrittenJob: SCHEMA, WrittenShop: SHOP_SCHEMA}
    if table in whole:
        return whole[table]
    found = SCHEMA["$defs"].get(table.__name__) or SHOP_SCHEMA["$defs"][table.__name__]
    assert isinstance(found, dict)
    return found


def tables() -> list[type[WrittenTable]]:
    found: list[type[WrittenTable]] = []
    waiting: list[type[WrittenTable]] = [WrittenTable]
    while waiting:
        below = waiting.pop().__subclasses__()
        found += below
        waiting += below
    return found


@pytest.mark.parametrize("table", tables(), ids=lambda table: table.__name__)
def test_every_table_and_key_has_help_an_example_and_no_null(table: type[WrittenTable]) -> None:
    shown = schema_of(table)
    assert shown["additionalProperties"] is False
    assert shown["description"]
    assert list(shown["properties"]) == list(table.keys_by_name())
    assert shown.get("required", []) == list(table.needed)
    assert {*table.needed} <= {*table.keys_by_name()}
    for key, value in shown["properties"].items():
        assert value["description"].endswith("."), key
        assert value["examples"], key
        assert "default" not in value, key
        assert "null" not in str(value), key


@pytest.mark.parametrize("table", tables(), ids=lambda table: table.__name__)
def test_examples_are_true_to_the_schema(table: type[WrittenTable]) -> None:
    for key, value in schema_of(table)["properties"].items():
        parts = {**SHOP_SCHEMA["$defs"], **SCHEMA["$defs"]}
        validator = jsonschema.Draft202012Validator({**value, "$defs": parts})
        for example in value["examples"]:
            assert not list(validator.iter_errors(example)), (key, example)
