"""Turns a job file into a Job, or into every problem it has; whether the holes fit is for the layout.

The text becomes a tree (`yaml_tree.py`), the tree tables (`check_shape.py`), the tables the Job (here and in
the modules beside it). Key paths in messages count list places from 1: `faces[1].rows[1].raceways[3].size` is
the third raceway's.
"""

from __future__ import annotations

import re
from pathlib import Path

from templates_engine.errors import JobProblems
from templates_engine.job.defaults_taken import defaults_taken
from templates_engine.job.help.synonyms import GRADUATION_NAMES, UNIT_NAMES
from templates_engine.job.likely_lengths import check_enclosure
from templates_engine.job.model import Job
from templates_engine.job.read.enclosure import check_back_gap, check_pulls, enclosure
from templates_engine.job.read.faces import faces
from templates_engine.job.read.file_reading import FileReading
from templates_engine.job.read.print_settings import print_settings
from templates_engine.job.schema import (
    CODES,
    GRADUATIONS,
    UNITS,
    WrittenEnclosure,
    WrittenJob,
)
from templates_engine.job.shop.find import NO_SHOP, ReadShop, shop_beside
from templates_engine.job.text.check_shape import written_tables
from templates_engine.job.text.file import file_name, load_text
from templates_engine.job.text.key_paths import shown
from templates_engine.job.text.yaml_tree import parse
from templates_engine.job.written_values import WrittenText
from templates_engine.trade.not_in_tables import listed
from templates_engine.values import replace


def read_job(path: Path | str) -> Job:
    """The job in a file, with the shop file that goes with it.

    Raises JobProblems with everything that is wrong with either, the shop file's first, each in file order.
    """
    text = load_text(path)
    shop = shop_beside(Path(path))
    try:
        job = read_job_text(text, file_name(path), shop)
    except JobProblems as error:
        raise JobProblems((*shop.problems, *error.problems)) from error
    if shop.problems:
        raise JobProblems(shop.problems)
    return job


def read_job_text(text: str, file: str, shop: ReadShop = NO_SHOP) -> Job:
    """The job in a text, ``file`` being its name in messages; raises JobProblems."""
    tree = parse(text, file)
    reading = FileReading(file, tree)
    written = written_tables(tree, reading, WrittenJob)
    reading.unit = written.units.word(UNITS, "in", **UNIT_NAMES)
    graduation = written.tape.word(GRADUATIONS, GRADUATIONS[0], **GRADUATION_NAMES)
    reading.denominator = int(graduation.removeprefix("1/"))
    written_enclosure = written.enclosure or WrittenEnclosure(reading, ("enclosure",))
    _check_code(written.code)
    can = enclosure(written_enclosure)
    cut_faces = faces(written.faces, can, shop.usual)
    check_enclosure(can, written_enclosure)
    check_back_gap(written_enclosure, written.faces)
    check_pulls(written_enclosure, cut_faces)
    if written.job.is_written and not written.job.spelled:
        written.job.report("The title is empty", "Write what the job is called; it is on every sheet.")
    job = Job(
        file=file,
        title=written.job.printed(),
        revision=written.revision.printed(most=20),
        date=written.date.printed(most=40),
        unit=reading.unit,
        denominator=reading.denominator,
        code=written.code.word(CODES, CODES[0]),
        enclosure=can,
        faces=cut_faces,
        printing=print_settings(written, shop.usual),
        shop=shop.shop,
    )
    reading.raise_problems()
    return replace(job, defaults_taken=defaults_taken(written, job))


def _check_code(written: WrittenText) -> None:
    """An edition of another code than the one the checks follow."""
    if written.text is not None and not re.match("nec|nfpa|[0-9]", written.spelled):
        remedy = f"The checks follow the National Electrical Code alone: write {listed(CODES)}."
        written.report(f"'{shown(written.text)}' is not known here", remedy)
