"""Draws the templates of a building over the cores, one bad job not keeping the others back."""

from __future__ import annotations

from collections.abc import Generator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from templates_engine.atomic import make_folder, sweep
from templates_engine.errors import Problem, TemplatesError
from templates_engine.office.draw_one import DrawnJob, State, draw_one
from templates_engine.office.draw_orders import DrawOrder, HowToDraw, draw_orders
from templates_engine.office.drawn_before import DrawnBefore, keep_drawn, program_code, read_drawn
from templates_engine.office.over_cores import cores, each_done


@dataclass(frozen=True)
class DrawnBuilding:
    """What became of every job, in the order of the files, and what is wrong with the folders."""

    jobs: tuple[DrawnJob, ...]
    problems: tuple[Problem, ...]

    def count(self, state: State) -> int:
        """How many jobs came out so."""
        return sum(one.state is state for one in self.jobs)


def draw_building(
    paths: Sequence[Path], into: Path, how: HowToDraw | None = None, count: int | None = None
) -> DrawnBuilding:
    """The templates of all jobs of the files and folders, written below ``into``, over ``count`` cores.

    Raises JobProblems where there is no job at all, and CannotWrite where ``into`` cannot be a folder.
    """
    batch = Batch(paths, into, how or HowToDraw(), count or cores())
    return DrawnBuilding(tuple(batch.run()), batch.problems)


class Batch:
    """A building about to be drawn: how many jobs it has is known before the first is done."""

    def __init__(self, paths: Sequence[Path], into: Path, how: HowToDraw, count: int) -> None:
        self._into, self._cores = into, count
        self._planned = draw_orders(paths, into, how)
        self.problems = self._planned.problems
        self.orders = self._planned.orders
        make_folder(into)
        sweep(into)

    def run(self) -> Generator[DrawnJob, None, None]:
        """Every job once it is done. Closed early, it remembers what is done and leaves whole files alone."""
        for order, error in self._planned.refused.items():
            yield _failed(order, error)
        orders = self._ready_orders()
        for folder in {order.pdf.parent for order in orders}:
            sweep(folder)
        done: dict[str, DrawnBefore] = {}
        results = each_done(draw_one, orders, self._cores)
        try:
            for order, given in results:
                job = _failed(order, given) if isinstance(given, TemplatesError) else given
                if job.files:
                    done[order.name] = job.remembered
                yield job
        finally:
            results.close()
            keep_drawn(self._into, done)

    def _ready_orders(self) -> list[DrawOrder]:
        program, before = program_code(), read_drawn(self._into)
        return [
            replace(order, program=program, before=before.get(order.name)) for order in self._planned.taken
        ]


def _failed(order: DrawOrder, error: TemplatesError) -> DrawnJob:
    """Every problem says which job it is of."""
    named = tuple(one if one.file else replace(one, file=str(order.job)) for one in error.problems)
    return DrawnJob(order, State.FAILED, error=type(error)(named))
