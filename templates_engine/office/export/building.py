"""Turns the jobs of files and folders into the tables of one workbook, or of a CSV each."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from templates_engine.errors import TemplatesError
from templates_engine.job.text.file import load_text
from templates_engine.office.building import read_building
from templates_engine.office.export import tables as export_tables
from templates_engine.office.export.schedule import ScheduleRows
from templates_engine.office.export.tables import FileSolved
from templates_engine.office.materials.needed import materials
from templates_engine.office.materials.tables import by_enclosure_table, in_all_table
from templates_engine.pipeline import solve_job
from templates_engine.values import Struct
from templates_engine.writers.typed_table import TypedColumn, TypedTable

_STAYS = "keep-outs, lugs, pulls, the fullest section and print settings but the paper stay in the job files"


class Exported(Struct, frozen=True):
    """The tables, the schedule first, and what became of the jobs."""

    tables: tuple[TypedTable, ...]
    failed: tuple[tuple[Path, TemplatesError], ...]
    fails: tuple[str, ...]
    """Files of jobs in which a check failed."""


def export_building(paths: Sequence[Path]) -> Exported:
    """Everything there is to tell of the jobs. Raises JobProblems where there is no job at all."""
    building = read_building(paths, solve_job)
    jobs = [FileSolved(str(path), solved) for path, solved in building.solved]
    left_out = [str(path) for path, _ in building.failed]
    needed = materials([(one.file, one.solved.layout, one.solved.loads) for one in jobs], left_out)
    schedule = ScheduleRows()
    for one in jobs:
        schedule.add(one.file, one.mark, load_text(one.file))
    about = (*needed.not_counted, *schedule.not_told, ("", "", _STAYS))
    columns = (TypedColumn("enclosure"), TypedColumn("job file"), TypedColumn("what is not in these tables"))
    return Exported(
        tables=(
            schedule.table,
            export_tables.holes_table(jobs),
            export_tables.circuits_table(jobs),
            export_tables.conductors_table(jobs),
            export_tables.findings_table(jobs),
            in_all_table(needed, 0),
            by_enclosure_table(needed),
            TypedTable("not told", columns, about),
        ),
        failed=building.failed,
        fails=tuple(one.file for one in jobs if one.solved.fails),
    )
