"""Table files: every packaged one is whole, every figure has a source, and a damaged one is loud."""

from __future__ import annotations

import subprocess
import sys

import pytest

from templates_engine.trade import conductors, fittings, raceway_areas, raceways
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.tables import HOW_HAD, DamagedTable, parse_table, read_table, table_names
from templates_engine.trade.tables_as_text import tables

WHOLE = """
title: Diameters
columns: [trade size, diameter, count]
blocks:
  - group: EMT
    source: a standard
    how: read on a page
    rows:
      - [1-1/4, 1.510, 12]
      - [12:30, "-", no]
"""

WORDS = {
    "adjustment_factors": (),
    "ambient_factors": (),
    "ampacities": ("size",),
    "allowances": ("what for", "words"),
    "articles": ("rule", "NEC 2017", "NEC 2020", "NEC 2023"),
    "bare_conductors": ("size",),
    "compact_conductors": ("size",),
    "conductors": ("size",),
    "conduit_fill": ("wires",),
    "device_ratings": (),
    "draw_studs": ("words",),
    "equipment_grounds": ("copper", "aluminium"),
    "field_punches": ("trade size",),
    "fittings": ("trade size",),
    "gauges": (),
    "habit_gaps": ("what for", "words"),
    "hole_saws": ("trade size", "words"),
    "insulations": ("insulation", "rows"),
    "knockouts": ("trade size",),
    "metric_conduit": (),
    "metric_holes": (),
    "pilot_drills": ("cutter", "words"),
    "raceway_areas": ("trade size",),
    "raceway_types": ("type", "words", "metal", "ends in", "spellings"),
    "raceways": ("trade size",),
    "small_conductors": ("size", "metal"),
    "strut": ("words",),
    "supports": ("type", "article"),
    "wire_bending": ("from size", "to size"),
    "wire_sizes": ("size", "unit"),
}
"""The columns of each table that hold names; every other cell is a number or the mark for none."""


def test_every_packaged_table_is_known_here() -> None:
    assert table_names() == tuple(sorted(WORDS))


@pytest.mark.parametrize("name", sorted(WORDS))
def test_every_packaged_row_is_whole(name: str) -> None:
    table = read_table(name)
    assert table.rows
    assert len({(row.group, *row.cells[:2]) for row in table.rows}) == len(table.rows), "a row stands twice"
    for row in table.rows:
        assert row.source
        assert row.provenance.startswith(HOW_HAD)
        for column, cell in row.cells:
            if column not in WORDS[name]:
                assert cell == "-" or row.inches(column) > 0


def test_groups_are_names_the_look_ups_know() -> None:
    """A row under a misspelt group would be there and never found."""
    assert {row.group for row in read_table("raceways").rows} | {"metric"} == set(raceways.TYPES)
    insulated = {row.text("rows") for row in read_table("insulations").rows}
    compact = {row.group for row in read_table("compact_conductors").rows}
    assert {row.group for row in read_table("conductors").rows} == insulated - compact
    assert compact == {group for group in insulated if group.startswith("compact")}
    assert {row.group for row in read_table("bare_conductors").rows} == {"solid", "stranded"}
    assert {row.group for row in read_table("fittings").rows} == set(fittings.KINDS) - {
        "strap",
        "plain bushing",
    }
    assert {row.group for row in read_table("wire_bending").rows} == {"312.6(A)", "312.6(B)(2)"}
    areas = {row.group for row in read_table("raceway_areas").rows}
    assert areas == set(raceways.TYPES) - {"metric", "aluminium RMC", "LFNC"} | {"LFNC-A", "LFNC-B"}
    sizes = set(conductors.SIZES)
    for name in ("conductors", "bare_conductors"):
        assert {row.text("size") for row in read_table(name).rows} <= sizes


def test_scalars_stay_text() -> None:
    rows = parse_table("sample", WHOLE).rows
    assert rows[0].cells == (("trade size", "1-1/4"), ("diameter", "1.510"), ("count", "12"))
    assert rows[1].text("trade size") == "12:30"
    assert rows[1].text("count") == "no"


def test_rows_convert_on_purpose() -> None:
    first, second = parse_table("sample", WHOLE).rows
    assert (first.group, first.source, first.provenance, first.line) == (
        "EMT",
        "a standard",
        "read on a page",
        9,
    )
    assert first.inches("diameter") == 1.51
    assert first.whole("count") == 12
    for convert in (first.whole, second.whole):
        with pytest.raises(DamagedTable, match="no whole number"):
            convert("trade size")
    for column in ("trade size", "diameter", "count"):
        with pytest.raises(DamagedTable, match=r"sample\.yaml:10: .* no decimal number"):
            second.inches(column)
    with pytest.raises(DamagedTable, match="no column 'width'"):
        first.text("width")


@pytest.mark.parametrize("cell", ["0", "0.0", "-1", "1e3", "nan", "inf", "1_0", "1.", ".5", "١", "1,5", "+1"])
def test_a_cell_that_is_no_measure_is_refused(cell: str) -> None:
    row = parse_table("sample", WHOLE.replace("1.510", f'"{cell}"')).rows[0]
    with pytest.raises(DamagedTable, match="sample"):
        row.inches("diameter")


@pytest.mark.parametrize(
    ("old", "new", "wrong"),
    [
        ("[1-1/4, 1.510, 12]", "[1-1/4, 1.510]", "sample.yaml:9: 2 cells for 3 columns"),
        ("[1-1/4, 1.510, 12]", "[1-1/4, 1.510, 12, 13]", "4 cells for 3 columns"),
        ("[1-1/4, 1.510, 12]", "[1-1/4, '', 12]", "a word or number should stand here"),
        ("[1-1/4, 1.510, 12]", "[1-1/4, [1.510], 12]", "a word or number should stand here"),
        ("[1-1/4, 1.510, 12]", "1-1/4", "a list with entries"),
        ("how: read on a page", "how: heard somewhere", "heard somewhere"),
        ("source: a standard", "", "missing: source"),
        ("source: a standard", "sauce: a standard", "unknown or repeated key 'sauce'"),
        ("source: a standard", "how: read twice", "unknown or repeated key 'how'"),
        ("title: Diameters", "", "missing: title"),
        ("columns: [trade size, diameter, count]", "columns: []", "a list with entries"),
        (WHOLE, "", "keys and values"),
        (WHOLE, "- 1", "keys and values"),
        ("rows:", "rows: [", "sample.yaml"),
    ],
)
def test_a_damaged_table_says_where(old: str, new: str, wrong: str) -> None:
    assert old in WHOLE
    with pytest.raises(DamagedTable) as damaged:
        parse_table("sample", WHOLE.replace(old, new))
    assert wrong in str(damaged.value)
    assert "sample.yaml" in str(damaged.value)


def test_a_missing_table_is_damage() -> None:
    with pytest.raises(DamagedTable, match=r"no_such_table\.yaml cannot be read"):
        read_table("no_such_table")


def test_importing_the_trade_reads_no_table() -> None:
    program = (
        "import sys\n"
        "from templates_engine.trade import (code_tables, conductors, cutters, fittings, gauges, knockouts,\n"
        "                                    not_in_tables, raceway_areas, raceways, strut, tables)\n"
        "assert tables.read_table.cache_info().currsize == 0\n"
        "assert not {'yaml', 'pint', 'difflib'} & set(sys.modules)\n"
        "assert raceways.TYPES and strut.DEPTHS_IN\n"
        "assert tables.read_table.cache_info().currsize == 2\n"
    )
    subprocess.run([sys.executable, "-c", program], check=True)


def test_lazy_names_are_still_checked() -> None:
    for module in (raceways, conductors, raceway_areas):
        with pytest.raises(AttributeError):
            module.NO_SUCH_NAME  # noqa: B018


def test_listing_shows_every_row_with_its_source() -> None:
    shown = {table.name: table for table in tables()}
    assert set(shown) == {name.replace("_", " ") for name in table_names()}
    for name in table_names():
        table = shown[name.replace("_", " ")]
        assert len(table.rows) == len(read_table(name).rows)
        assert table.headings[-2:] == ("source", "how it was had")
        assert table.note
        for row in table.rows:
            assert len(row) == len(table.headings)
            assert all(row)
    raceway_rows = shown["raceways"].rows
    assert ("EMT", "1/2", "16", "0.706", "0.706", "ANSI C80.3", "read on two public pages") in raceway_rows


def test_not_listed_is_a_look_up_error_with_both_halves() -> None:
    error = NotInTables("No such thing.", "Write another.")
    assert isinstance(error, LookupError)
    assert (error.message, error.remedy) == ("No such thing.", "Write another.")
    assert str(error) == "No such thing. Write another."
