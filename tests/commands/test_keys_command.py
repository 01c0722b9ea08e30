"""`keys` as people read it, held to reviewed text; and that no key of either file is missing from it."""

from __future__ import annotations

from pathlib import Path

import pytest
from test_commands import run

from templates_engine.job import json_schema, shop_json_schema
from templates_engine.job.help.keys import all_keys

REVIEWED = Path(__file__).with_name("keys.txt")


def test_all_keys_are_printed_as_reviewed(tmp_path: Path) -> None:
    done = run("keys", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert done.stdout == REVIEWED.read_text(encoding="utf-8")
    assert max(map(len, done.stdout.splitlines())) <= 100


def test_each_key_of_the_schemas_is_told_once_at_each_place() -> None:
    keys = all_keys()
    assert len({(key.file, key.path) for key in keys}) == len(keys)
    for schema, file in ((json_schema(), "job file"), (shop_json_schema(), "shop file")):
        tables = [schema, *schema["$defs"].values()]
        written = {name for one in tables for name in one.get("properties", ())}
        assert {key.name for key in keys if key.file == file} == written


@pytest.mark.parametrize("key", all_keys(), ids=lambda key: f"{key.file}-{'-'.join(key.path)}")
def test_every_key_says_what_may_stand_there_and_shows_it(key: object) -> None:
    assert all((key.takes, key.help, key.examples))  # type: ignore[attr-defined]


GAP = """\
gap, in a row (job file: faces > rows > gap)
  takes    a length, or fittings
  means    Least clear gap between raceways, or fittings: as much as their fittings need. Default
           the shop file's.
  written  where wanted; it may be left out
  example  gap: 1-1/8 in
           gap: fittings

gap, in the shop file (shop file: gap)
  takes    a length, or fittings
  means    Clear gap of rows that give none and are not spread: a length, or fittings.
  written  where wanted; it may be left out
  example  gap: 1-1/8 in
           gap: fittings
"""


def test_one_key_is_told_at_every_place_it_may_stand(tmp_path: Path) -> None:
    assert run("keys", "gap", cwd=tmp_path).stdout == GAP
    places = run("keys", "From:", cwd=tmp_path).stdout
    assert places.count("from, in a ") == 5
    assert "from, in a place (job file: faces > rows > place > from)" in places
    assert "\n  written  always\n" in run("keys", "faces", cwd=tmp_path).stdout
    spaced = run("keys", "leave", "out", "empty", "sheets", cwd=tmp_path).stdout
    assert spaced.startswith("leave out empty sheets, in print (job file: print > leave out empty sheets)\n")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("gapp",), "there is no key 'gapp'. Did you mean 'gap'?\n"),
        (("qty",), "there is no key 'qty'. Did you mean 'count'?\n"),
        (("zzzz",), "there is no key 'zzzz'. All are listed by: templates-engine keys\n"),
    ],
)
def test_an_unknown_key_names_the_nearest(words: tuple[str, ...], said: str, tmp_path: Path) -> None:
    done = run("keys", *words, cwd=tmp_path)
    assert (done.returncode, done.stdout, done.stderr) == (2, "", said)
