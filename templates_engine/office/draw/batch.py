"""Draws the templates of a building over the cores, one bad job not keeping the others back."""

from __future__ import annotations

from collections.abc import Generator, Sequence
from pathlib import Path

from templates_engine.atomic import make_folder, sweep
from templates_engine.errors import CannotWrite, Problem, TemplatesError
from templates_engine.office.binder.bind import Binder, bind, is_of_binder
from templates_engine.office.draw.drawn_before import DrawnBefore, keep_drawn, program_code, read_drawn
from templates_engine.office.draw.one_job import DrawnJob, State, draw_one
from templates_engine.office.draw.orders import DrawOrder, HowToDraw, draw_orders, plain_name
from templates_engine.office.draw.over_cores import cores, each_done
from templates_engine.outputs import refuse_taken
from templates_engine.values import Struct, replace


class DrawnBuilding(Struct, frozen=True):
    """What became of every job, in the order of the files, and what is wrong with the folders."""

    jobs: tuple[DrawnJob, ...]
    problems: tuple[Problem, ...]
    binders: tuple[Binder, ...] = ()

    def count(self, state: State) -> int:
        """How many jobs came out so."""
        return sum(one.state is state for one in self.jobs)


def draw_building(
    paths: Sequence[Path],
    into: Path,
    how: HowToDraw | None = None,
    count: int | None = None,
    binder: Path | None = None,
) -> DrawnBuilding:
    """The templates of all jobs of the files and folders, written below ``into``, over ``count`` cores; bound
    into ``binder`` too where one is named.

    Raises JobProblems where there is no job at all, and CannotWrite where ``into`` cannot be a folder or the
    binder cannot be written.
    """
    batch = Batch(paths, into, how or HowToDraw(), count or cores(), binder)
    jobs = tuple(batch.run())
    return DrawnBuilding(jobs, batch.problems, batch.bind(jobs))


class Batch:
    """A building about to be drawn: how many jobs it has is known before the first is done."""

    def __init__(
        self, paths: Sequence[Path], into: Path, how: HowToDraw, count: int, binder: Path | None
    ) -> None:
        self._into, self._cores, self.binder = into, count, binder
        self._binder_overwrite = tuple(one for one in how.overwrite if binder and is_of_binder(one, binder))
        others = tuple(one for one in how.overwrite if one not in self._binder_overwrite)
        self._planned = draw_orders(paths, into, replace(how, overwrite=others))
        self.problems = self._planned.problems
        self.orders = self._planned.orders
        if binder is not None:
            self._refuse_binder(binder)
        make_folder(into)
        sweep(into)

    def _refuse_binder(self, binder: Path) -> None:
        """Before anything is drawn. Raises CannotWrite."""
        refuse_taken("pdf", [binder], [one for one in self._binder_overwrite if one == binder])
        if any(plain_name(binder) == plain_name(file) for order in self.orders for file in order.files):
            words = f"could not write {binder}: a job's template has that name."
            raise CannotWrite([Problem(words, "Choose another name for the binder.")])

    def bind(self, jobs: Sequence[DrawnJob]) -> tuple[Binder, ...]:
        """The binders of what stands, where one was asked for. Raises CannotWrite."""
        if self.binder is None:
            return ()
        sweep(self.binder.parent)
        return bind(jobs, self.binder, self._binder_overwrite)

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
