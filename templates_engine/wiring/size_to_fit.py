"""Turns ``size: fit`` into the least trade size whose fill is allowed; leaves written sizes alone."""

from __future__ import annotations

from templates_engine.errors import JobProblems, Problem
from templates_engine.job.model import Job, Raceway
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceway_areas import internal
from templates_engine.trade.raceways import RacewaySize, sizes
from templates_engine.values import replace
from templates_engine.wiring.contents import contents_of_raceway
from templates_engine.wiring.fill import fill_of
from templates_engine.wiring.model import RacewayContents


def fit_sizes(job: Job) -> Job:
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
    try:
        known = contents_of_raceway(raceway, job)
        return raceway if raceway.size is not None else _least(raceway, known, job.code)
    except JobProblems as error:
        problems.extend(error.problems)
    except NotInTables as error:
        problems.extend(_refused(raceway, error.message, error.remedy).problems)
    return raceway


def _least(raceway: Raceway, contents: RacewayContents | None, edition: str) -> Raceway:
    """The raceway in the least size that takes its contents; raises JobProblems when there is none."""
    if contents is not None and contents.missing:
        wanted = "' and '".join(contents.missing)
        message = f"its size is to be fitted, but '{wanted}' is not given."
        raise _refused(raceway, message, f"Write '{contents.missing[0]}', or the trade size.")
    if contents is None or not contents.groups:
        message = "its size is to be fitted, but it carries nothing."
        raise _refused(raceway, message, "Write what it carries, or its trade size.")
    tried = [size for size in sizes(raceway.type) if _has_inside(size)]
    if not tried:
        raise _refused(raceway, f"the inside of {raceway.type} is not listed.", "Write its trade size.")
    for size in tried:
        fill = fill_of(contents.groups, size, nipple=raceway.nipple, edition=edition)
        if fill.fits:
            return replace(raceway, size=size)
    message = (
        f"no {raceway.type} takes its {fill.conductors} conductors: trade size {tried[-1].trade_size} "
        f"would be {fill.percent:.1f} % full, {fill.limit_percent:g} % is allowed."
    )
    raise _refused(raceway, message, "Share them out over several raceways.")


def _has_inside(size: RacewaySize) -> bool:
    """Whether the tables know the inside of a raceway; some standards give more outsides than insides."""
    try:
        internal(size.type, size.trade_size)
    except NotInTables:
        return False
    return True


def _refused(raceway: Raceway, message: str, remedy: str) -> JobProblems:
    place = raceway.place
    return JobProblems([Problem(f"{raceway.id}: {message}", remedy, place.file, place.line, place.key)])
