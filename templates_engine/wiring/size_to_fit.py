"""Turns ``size: fit`` into the least trade size whose fill is allowed; leaves written sizes alone."""

from __future__ import annotations

from templates_engine.errors import JobProblems, Problem
from templates_engine.job.model import Job, Raceway
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceway_areas import internal
from templates_engine.trade.raceways import RacewaySize, sizes
from templates_engine.values import replace
from templates_engine.wiring.contents import carried, load_problems
from templates_engine.wiring.fill import fill_of
from templates_engine.wiring.model import RacewayContents


def fit(job: Job) -> Job:
    """The job with every size chosen; raises JobProblems: impossible circuits, sizes not found."""
    problems: list[Problem] = []
    faces = []
    for face in job.faces:
        rows = []
        for row in face.rows:
            raceways = tuple(_fitted(raceway, job, problems) for raceway in row.raceways)
            rows.append(replace(row, raceways=raceways))
        faces.append(replace(face, rows=tuple(rows)))
    if problems:
        raise JobProblems(sorted(problems, key=lambda problem: problem.line or 0))
    return replace(job, faces=tuple(faces))


def _fitted(raceway: Raceway, job: Job, problems: list[Problem]) -> Raceway:
    """The raceway with a size; adds what is wrong with it to ``problems``."""
    wrong = load_problems(raceway, job.enclosure)
    if wrong:
        problems.extend(wrong)
        return raceway
    try:
        known = carried(raceway, job)
        return raceway if raceway.size is not None else _least(raceway, known, job.code)
    except JobProblems as error:
        problems.extend(error.problems)
    except NotInTables as error:
        problems.append(_problem(raceway, error.message, error.remedy))
    return raceway


def _least(raceway: Raceway, load: RacewayContents | None, edition: str) -> Raceway:
    """The raceway in the least size that takes its load; raises JobProblems when there is none."""
    if load is not None and load.missing:
        wanted = "' and '".join(load.missing)
        message = f"its size is to be fitted, but '{wanted}' is not given."
        raise JobProblems([_problem(raceway, message, f"Write '{load.missing[0]}', or the trade size.")])
    if load is None or not load.groups:
        raise JobProblems([_problem(raceway, "its size is to be fitted, but it carries nothing.", _NO_LOAD)])
    tried = [size for size in sizes(raceway.type) if _has_inside(size)]
    if not tried:
        raise JobProblems(
            [_problem(raceway, f"the inside of {raceway.type} is not listed.", "Write its trade size.")]
        )
    for size in tried:
        fill = fill_of(load.groups, size, nipple=raceway.nipple, edition=edition)
        if fill.fits:
            return replace(raceway, size=size)
    message = (
        f"no {raceway.type} takes its {fill.conductors} conductors: trade size {tried[-1].trade_size} "
        f"would be {fill.percent:.1f} % full, {fill.limit_percent:g} % is allowed."
    )
    raise JobProblems([_problem(raceway, message, "Share them out over several raceways.")])


def _has_inside(size: RacewaySize) -> bool:
    """Whether the tables know the inside of a raceway; some standards give more outsides than insides."""
    try:
        internal(size.type, size.trade_size)
    except NotInTables:
        return False
    return True


_NO_LOAD = "Write what it carries, or its trade size."


def _problem(raceway: Raceway, message: str, remedy: str) -> Problem:
    return Problem(
        f"{raceway.id}: {message}", remedy, raceway.place.file, raceway.place.line, raceway.place.key
    )
