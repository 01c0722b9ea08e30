"""Turns a Job into a Layout: back lines, spacing, places, holes and quarter points; or into one error with
everything that does not fit.
"""

from __future__ import annotations

from templates_engine.errors import CannotFit
from templates_engine.job.model import Job
from templates_engine.layout.faces import attempt
from templates_engine.layout.model import Layout
from templates_engine.layout.notes import notes
from templates_engine.layout.remedies import remedy_words

__all__ = ["solve"]

MOST_HELPED = 4
"""Rows whose remedies are sought at once; each takes solving the job anew, some ten times."""
MEND_FIRST = "Mend the rows above first; what would make this one fit was not tried."


def solve(job: Job) -> Layout:
    """The places of all holes of a job; raises CannotFit with a Problem for every row that has none."""
    tried = attempt(job)
    if tried.failures:
        raise CannotFit(
            failure.problem(remedy_words(job, failure) if number < MOST_HELPED else MEND_FIRST)
            for number, failure in enumerate(tried.failures)
        )
    return Layout(job, tried.faces, notes(job, tried))
