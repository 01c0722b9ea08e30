"""Turns the jobs of files and folders into the tables of one workbook, or of a CSV each; computes nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from templates_engine.checks.model import passes
from templates_engine.errors import TemplatesError
from templates_engine.job.model import FaceJob
from templates_engine.job.text.file import load_text
from templates_engine.layout.model import FaceLayout, Hole
from templates_engine.office.building import read_building
from templates_engine.office.export.schedule import ScheduleRows
from templates_engine.office.materials.needed import materials
from templates_engine.office.materials.tables import by_enclosure_table, in_all_table
from templates_engine.pipeline import Solved, solve_job
from templates_engine.values import Struct
from templates_engine.wiring import RacewayContents
from templates_engine.writers.json_file import rounded
from templates_engine.writers.typed_table import Cell, Kind, TypedColumn, TypedTable

_WHOSE = (TypedColumn("enclosure"), TypedColumn("job file"), TypedColumn("face"))
_STAYS = "keep-outs, lugs, pulls, the fullest section and print settings but the paper stay in the job files"
_DO_NOT_CUT = "NO: do not cut"


class FileSolved(Struct, frozen=True):
    """A solved job with the name of its file."""

    file: str
    solved: Solved

    @property
    def mark(self) -> str:
        return self.solved.layout.job.enclosure.mark

    def faces(self) -> Iterator[tuple[tuple[Cell, ...], FaceLayout]]:
        """Every face, behind the cells that say whose it is."""
        for face in self.solved.layout.faces:
            yield (self.mark, self.file, face.job.face.value), face


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
    needed = materials([(one.file, one.solved.layout, one.solved.contents) for one in jobs], left_out)
    schedule = ScheduleRows()
    for one in jobs:
        schedule.add(one.file, one.mark, load_text(one.file))
    about = (*needed.not_counted, *schedule.not_told, ("", "", _STAYS))
    columns = (TypedColumn("enclosure"), TypedColumn("job file"), TypedColumn("what is not in these tables"))
    return Exported(
        tables=(
            schedule.table,
            _holes_table(jobs),
            _circuits_table(jobs),
            _conductors_table(jobs),
            _findings_table(jobs),
            in_all_table(needed, 0),
            by_enclosure_table(needed),
            TypedTable("not told", columns, about),
        ),
        failed=building.failed,
        fails=tuple(one.file for one in jobs if one.solved.fails),
    )


# --- the tables of its own ----------------------------------------------------------------------------------


def _holes_table(jobs: Sequence[FileSolved]) -> TypedTable:
    """A row a hole: u from the left or top edge, v from the back edge, inches."""
    columns = (
        *_WHOSE,
        *_columns(
            "text", "revision", "marked from", "fingerprint", "row", "hole", "raceway", "to", "measured from"
        ),
        *_columns("number", "from that edge (in)", "from back (in)", "outside diameter (in)"),
        *_columns("number", "hole cut (in)", "pilot (in)", "centre to next (in)", "clear gap to next (in)"),
        *_columns("text", "cutter", "passes checks"),
    )
    rows = tuple(
        (*whose, job.solved.layout.job.revision, *_hole(face, hole), _verdict(job, face))
        for job in jobs
        for whose, face in job.faces()
        for hole in face.holes
    )
    return TypedTable("holes", columns, rows)


def _columns(kind: Kind, *headings: str) -> Iterator[TypedColumn]:
    return (TypedColumn(heading, kind) for heading in headings)


def _hole(face: FaceLayout, hole: Hole) -> Iterator[Cell]:
    job: FaceJob = face.job
    yield from (job.mark_from.value, face.fingerprint, hole.row, hole.id, hole.raceway_name, hole.raceway.to)
    yield job.face.start_edge
    yield from map(rounded, (hole.u_in, hole.v_in, hole.outside_diameter_in, hole.hole_diameter_in))
    yield None if hole.pilot_diameter_in is None else rounded(hole.pilot_diameter_in)
    gap = next((gap for row in face.rows for gap in row.gaps if gap.before == hole.id), None)
    yield from (None, None) if gap is None else (rounded(gap.centres_in), rounded(gap.provided_in))
    yield hole.cutter


def _verdict(job: FileSolved, face: FaceLayout) -> str:
    return "yes" if passes(face, job.solved.findings) else _DO_NOT_CUT


# --- circuits and conductors --------------------------------------------------------------------------------


def _circuits_table(jobs: Sequence[FileSolved]) -> TypedTable:
    """A row a circuit, in the raceway that carries it."""
    columns = (*_WHOSE, *_columns("text", "raceway", "to", "circuit", "phases", "colours", "neutral"))
    rows = tuple(
        (
            *whose,
            "+".join(map(str, circuit.spaces)),
            *(", ".join(words) for words in (circuit.phases, circuit.colours)),
            "yes" if circuit.has_neutral else "no",
        )
        for whose, _, contents in _contents(jobs)
        for circuit in contents.circuits
    )
    return TypedTable("circuits", columns, rows)


def _conductors_table(jobs: Sequence[FileSolved]) -> TypedTable:
    """A row a kind of conductor in a raceway."""
    columns = (
        *_WHOSE,
        *_columns("text", "raceway", "to"),
        *_columns("whole", "count"),
        *_columns("text", "size", "insulation", "metal", "use", "colours"),
        *_columns("number", "run length (ft)", "fill (%)", "fill allowed (%)"),
    )
    rows = tuple(
        (
            *whose,
            *(group.count, group.wire.size, group.wire.insulation, group.wire.metal, group.use),
            ", ".join(group.colours),
            None if hole.raceway.run_length_in is None else rounded(hole.raceway.run_length_in / 12),
            None if contents.fill_percent is None else round(contents.fill_percent, 1),
            contents.fill_limit_percent,
        )
        for whose, hole, contents in _contents(jobs)
        for group in contents.groups
    )
    return TypedTable("conductors", columns, rows)


def _contents(jobs: Sequence[FileSolved]) -> Iterator[tuple[tuple[Cell, ...], Hole, RacewayContents]]:
    """Every raceway of which the job says what it carries."""
    for job in jobs:
        for whose, face in job.faces():
            for hole in face.holes:
                contents = job.solved.contents.get((face.job.face.value, hole.id))
                if contents is not None:
                    yield (*whose, hole.id, hole.raceway.to), hole, contents


# --- findings -----------------------------------------------------------------------------------------------


def _findings_table(jobs: Sequence[FileSolved]) -> TypedTable:
    """A row a finding, the gravest of each job first."""
    columns = (
        *_WHOSE,
        *_columns("text", "holes", "outcome", "check"),
        *_columns("number", "provided", "required"),
        *_columns("text", "unit"),
        *_columns("wide text", "message", "remedy", "source"),
    )
    rows = tuple(
        (
            *(job.mark, job.file, one.face, ", ".join(one.holes), one.outcome.value, one.check),
            *(None if number is None else rounded(number) for number in (one.provided, one.required)),
            *(one.unit, one.message, one.remedy, one.source),
        )
        for job in jobs
        for one in job.solved.findings
    )
    return TypedTable("findings", columns, rows)
