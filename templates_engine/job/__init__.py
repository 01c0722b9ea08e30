"""Turns a job file, as a person wrote it, into a Job or a list of all its problems."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from templates_engine.job.model import Enclosure, Face, FaceJob, Job, MarkFrom, Raceway, Row

__all__ = [
    "Enclosure",
    "Face",
    "FaceJob",
    "Job",
    "MarkFrom",
    "Raceway",
    "Row",
    "json_schema",
    "read_job",
    "read_job_text",
    "shop_json_schema",
]


# The reader brings in pydantic, which takes longer to load than a job to read; the model does without it.


def read_job(path: Path | str) -> Job:
    """The job in a file, with the figures and habits of its shop file.

    That is ``shop.yaml`` in the job's folder, else in the user's (`user_folder.py`). Raises JobProblems with
    everything that is wrong with either.
    """
    from templates_engine.job.read import job

    return job.read_job(path)


def read_job_text(text: str, file: str) -> Job:
    """The job in a text, without a shop file, ``file`` being its name in messages; raises JobProblems."""
    from templates_engine.job.read import job

    return job.read_job_text(text, file)


def json_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a job file, for editors: keys, help and words to choose from."""
    from templates_engine.job.help import editor_schema

    return editor_schema.json_schema()


def shop_json_schema() -> dict[str, Any]:
    """The JSON Schema of a shop file."""
    from templates_engine.job.help import editor_schema

    return editor_schema.shop_json_schema()
