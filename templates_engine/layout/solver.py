"""Turns a Job into a Layout, or into one error with everything that does not fit.

The steps are in other modules.
"""

from __future__ import annotations

from templates_engine.errors import CannotFit
from templates_engine.job.model import Job
from templates_engine.layout.faces import attempt
from templates_engine.layout.model import Layout
from templates_engine.layout.notes import notes
from templates_engine.layout.remedies import remedies_for, remedy_words
from templates_engine.layout.row.failure import Failure

MOST_HELPED = 4
"""Rows whose remedies are sought at once; each takes solving the job anew, some ten times."""
MEND_FIRST = "Mend the rows above first; what would make this one fit was not tried."


def solve(job: Job) -> Layout:
    """The places of all holes of a job; raises CannotFit with a Problem for every row that has none."""
    tried = attempt(job)
    if tried.failures:
        raise CannotFit(
            failure.problem(_remedy(job, failure) if number < MOST_HELPED else MEND_FIRST)
            for number, failure in enumerate(tried.failures)
        )
    return Layout(job, tried.faces, notes(job, tried))


def _remedy(job: Job, failure: Failure) -> str:
    """What would make the row fit, each change tried."""
    raceways = len(job.faces[failure.face].rows[failure.row].raceways)
    return remedy_words(failure, remedies_for(job, failure), raceways)
