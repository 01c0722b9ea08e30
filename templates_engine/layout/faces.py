"""Turns every face of a Job into its layout, with every failure on the way; cures are for remedies.py."""

from __future__ import annotations

from collections.abc import Mapping

from templates_engine.job.model import FaceJob, Job, Row
from templates_engine.layout.back_line import RowBehind, back_line, row_behind
from templates_engine.layout.figures import figures
from templates_engine.layout.fingerprint import fingerprint
from templates_engine.layout.hole_spec import HoleSpec, hole_spec
from templates_engine.layout.model import FaceLayout, PlacedRow, RowLine
from templates_engine.layout.row.constraints import RowConstraints, row_constraints
from templates_engine.layout.row.failure import Failure, RowError
from templates_engine.layout.row.fitted_row import FittedRow, fitted_row, rooms_beside
from templates_engine.layout.row.place_row import gaps_of, place_row
from templates_engine.layout.row.spacing import check_apart
from templates_engine.values import Struct, replace


class Attempt(Struct, frozen=True):
    """What came of trying a job: the faces that are whole, and every row that failed."""

    faces: tuple[FaceLayout, ...]
    failures: tuple[Failure, ...]
    groups: Mapping[tuple[int, int], RowConstraints]
    """By face and row index: every row that came as far as having numbers."""
    rows: Mapping[tuple[int, int], PlacedRow]
    """By face and row index: every row that found its places."""

    @property
    def failed_rows(self) -> frozenset[tuple[int, int]]:
        """Face and row index of each failure."""
        return frozenset((failure.face, failure.row) for failure in self.failures)


def attempt(job: Job) -> Attempt:
    """Solves every row of every face that can be solved."""
    trial = _Trial(job)
    for index, face in enumerate(job.faces):
        trial.solve_face(index, face)
    faces = tuple(
        FaceLayout(face, rows, fingerprint(face, rows))
        for index, face in enumerate(job.faces)
        if not any(failure.face == index for failure in trial.failures)
        for rows in [tuple(trial.rows[index, row] for row in range(len(face.rows)))]
    )
    return Attempt(faces, tuple(trial.failures), trial.groups, trial.rows)


class _Trial:
    """What is gathered on the way through a job."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.failures: list[Failure] = []
        self.groups: dict[tuple[int, int], RowConstraints] = {}
        self.rows: dict[tuple[int, int], PlacedRow] = {}

    def solve_face(self, face_index: int, face: FaceJob) -> None:
        behind: list[RowBehind] = []
        for index, row in enumerate(face.rows):
            if row.back_line == "auto" and len(behind) < index:
                continue  # it is to clear a row that has no back line; that row's failure is told
            where = face_index, index
            cuts = self._cuts(where, row)
            if cuts is None:
                continue
            try:
                check_apart(row, cuts, self.job.lengths)
                fitted = fitted_row(self.job, row, cuts)
                line = back_line(fitted, behind)
            except RowError as error:
                self.failures.append(Failure(*where, error))
                if error.kind == "back line":
                    self._look_along(where, face, fitted)
                continue
            behind.append(row_behind(fitted, line))
            try:
                self._place(where, face, fitted, line)
            except RowError as error:
                self.failures.append(Failure(*where, error))

    def _look_along(self, where: tuple[int, int], face: FaceJob, fitted: FittedRow) -> None:
        """Reports what a row without a back line lacks along the face too, keep-outs left aside."""
        alone = replace(face, keep_outs=(), rows=(fitted.row,))
        try:
            place_row(row_constraints(alone, fitted, RowLine(0.0, "")))
        except RowError as error:
            self.failures.append(Failure(*where, error))

    def _cuts(self, where: tuple[int, int], row: Row) -> tuple[HoleSpec, ...] | None:
        """What is cut for every raceway, or None when one of them is in error; all that are get told."""
        cuts: list[HoleSpec] = []
        for raceway in row.raceways:
            try:
                cuts.append(hole_spec(raceway, self.job.shop))
            except RowError as error:
                self.failures.append(Failure(*where, error))
        return tuple(cuts) if len(cuts) == len(row.raceways) else None

    def _place(self, where: tuple[int, int], face: FaceJob, fitted: FittedRow, line: RowLine) -> None:
        group = row_constraints(face, fitted, line, rooms_beside(fitted, face))
        self.groups[where] = group
        places, row = place_row(group), fitted.row
        holes = tuple(cut.at(row.name, u, line) for cut, u in zip(group.cuts, places, strict=True))
        self.rows[where] = PlacedRow(row, line, holes, gaps_of(group, places), figures(fitted))
