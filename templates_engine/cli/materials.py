"""Offers `materials`: what the enclosures of a building need, as a table to read or a file; words only."""

from __future__ import annotations

import sys
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING

import click

from templates_engine.cli.messages import exit_code, reported, say
from templates_engine.cli.options import (
    EPILOG,
    NumberWithin,
    job_paths,
    output_file,
    overwrite_named,
    shown_as,
)
from templates_engine.errors import CannotWrite, Problem

if TYPE_CHECKING:
    from templates_engine.office.materials.needed import Materials


class MaterialsAs(StrEnum):
    """How `materials` tells."""

    TABLE = "table"
    CSV = "csv"
    XLSX = "xlsx"


@click.command(epilog=EPILOG)
@job_paths
@shown_as(MaterialsAs, MaterialsAs.TABLE, "A table to read, csv, or xlsx for a spreadsheet.")
@click.option(
    "--spare",
    metavar="PERCENT",
    type=NumberWithin(float, 0, 100),
    default=0,
    help="How much more of all but tools, 0 to 100.",
)
@output_file
@overwrite_named
def materials(
    paths: tuple[Path, ...], as_: MaterialsAs, spare: float, output: Path | None, overwrite: tuple[Path, ...]
) -> None:
    """Print what to bring: tools, fittings, strut, raceways, conductors, for each enclosure and in all.

    Raceways and conductors are counted where the job gives a raceway's `run length`. A job that cannot be
    used is told and left out. xlsx is written to materials.xlsx unless --output says otherwise.
    """
    from templates_engine.atomic import NewFile
    from templates_engine.office.building import read_building
    from templates_engine.office.materials.needed import laid_out, materials
    from templates_engine.outputs import write_outputs

    with reported():
        building = read_building(paths, laid_out)
        for problem in building.problems:
            say(str(problem))
        if building.solved:
            left_out = [str(path) for path, _ in building.failed]
            needed = materials([(str(path), *one) for path, one in building.solved], left_out)
            data = _told(needed, as_, spare)
            path = output or (Path("materials.xlsx") if as_ is MaterialsAs.XLSX else None)
            if path is None:
                sys.stdout.write(data.decode())
            elif as_ is MaterialsAs.TABLE:
                remedy = "Add --as csv or --as xlsx, or leave --output out."
                raise CannotWrite([Problem("a table to read is printed, not written to a file.", remedy)])
            else:
                write_outputs("csv" if as_ is MaterialsAs.CSV else "xlsx", [NewFile(path, data)], overwrite)
                click.echo(f"{path}: written.")
        if building.failed:
            raise click.exceptions.Exit(max(exit_code(error) for _, error in building.failed))


def _told(needed: Materials, as_: MaterialsAs, spare_percent: float) -> bytes:
    from templates_engine.office.materials import tables as material_tables
    from templates_engine.writers.typed_table import table_csv
    from templates_engine.writers.xlsx_file import xlsx_bytes

    if as_ is MaterialsAs.TABLE:
        return material_tables.materials_text(needed, spare_percent).encode()
    if as_ is MaterialsAs.CSV:
        return table_csv(material_tables.one_table(needed, spare_percent))
    return xlsx_bytes(material_tables.tables(needed, spare_percent))
