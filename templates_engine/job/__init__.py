"""Turns a job file, as a person wrote it, into a Job or a list of all its problems."""

from __future__ import annotations

from templates_engine.job.help.editor_schema import json_schema, shop_json_schema
from templates_engine.job.model import Enclosure, Face, FaceJob, Job, MarkFrom, Raceway, Row
from templates_engine.job.read.job import read_job, read_job_text

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
