"""Turns a job's text and what a rule read on its taped sheets into what the page says of them.

::

    the sheet plane, y up            the drawing, y down from the back edge
    (x, y)                    -->    (x, depth - y)
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from templates_engine.errors import TemplatesError
from templates_engine.page.answer import NAMELESS, PageRequest, read, render
from templates_engine.page.face_view import letter_height_in
from templates_engine.units import LengthFormat
from templates_engine.values import Struct

if TYPE_CHECKING:
    from templates_engine.job.model import Job
    from templates_engine.pipeline import MeasuredSheets
    from templates_engine.sheets.model import FacePlan
    from templates_engine.verify.diagnosis import Diagnosis

MOST_READINGS = 60
Readings = tuple[tuple[str, str], ...]
"""A distance by its name, and what was typed for it; "" for nothing yet."""


class ExpectedReading(Struct, frozen=True):
    """A distance to read, what the rule should read over it, and what was typed."""

    name: str
    should: str
    typed: str


class SheetView(Struct, frozen=True):
    """A sheet as it lies on the drawing, and the way it is to be moved: -1, 0 or 1 along x and y."""

    number: int
    x: float
    y: float
    width: float
    height: float
    way: tuple[int, int]

    @property
    def angle(self) -> float | None:
        """Which way its arrow points, degrees clockwise from the right; None where it stays."""
        return None if self.way == (0, 0) else math.degrees(math.atan2(self.way[1], self.way[0]))


def sheets(asked: PageRequest, readings: Readings) -> dict[str, Any]:
    """What the sheets cost, the distances to read on the face, and what those typed say of its sheets."""
    from templates_engine import pipeline

    try:
        job = read(asked)
        plan = pipeline.plan_job(pipeline.solve_job(job), pipeline.printer_for(job))
    except TemplatesError as error:
        words = " ".join(f"{one.message} {one.remedy}" for one in error.problems)
        return {"fragments": {"cost": render("cost.html", words=words), "taped": ""}, "overlay": ""}
    face = next((one for one in plan.faces if one.layout.job.face.value == asked.face), plan.faces[0])
    word = face.layout.job.face.value
    found, wrong = _diagnosed(job, word, readings)
    file = Path(asked.name or NAMELESS)
    taped = render(
        "taped.html",
        face=word,
        wanted=_wanted(face, readings, found, job.lengths),
        verdict=_verdict(found, file) if found else (),
        correction=_correction(found, file) if found else None,
        wrong=wrong,
    )
    fragments = {"cost": render("cost.html", words=plan.cost), "taped": taped}
    return {"fragments": fragments, "overlay": _overlay(face, found.diagnosis) if found else ""}


def _diagnosed(job: Job, face: str, readings: Readings) -> tuple[MeasuredSheets | None, str]:
    """What the readings say of the face's sheets, or what is wrong with them; neither without any."""
    from templates_engine import pipeline

    typed = [f"{name}={value}" for name, value in readings if value.strip()]
    if not typed:
        return None, ""
    try:
        return pipeline.diagnose_job(job, typed, face=face), ""
    except TemplatesError as error:
        return None, " ".join(f"{one.message} {one.remedy}" for one in error.problems)


def _overlay(face: FacePlan, diagnosis: Diagnosis) -> str:
    """The sheets as they lie on the drawing, with the way each is to be moved."""
    letter = letter_height_in(face.layout.job.width_in)
    return render("sheets.svg", sheets=_views(face, diagnosis), letter=letter)


def _wanted(
    face: FacePlan, readings: Readings, found: MeasuredSheets | None, lengths: LengthFormat
) -> tuple[ExpectedReading, ...]:
    """What has to read true, then what else was typed or would tell more; each once, in a steady order."""
    from templates_engine.verify.distances import distance_of
    from templates_engine.verify.next_readings import distances_to_measure, placing_distances

    names = [one.name for one in (*distances_to_measure(face, ()), *placing_distances(face, ()))]
    names += (name for name, _ in readings)
    names += found.diagnosis.measure if found else ()
    typed = dict(readings)
    expected: dict[str, str] = {}
    for name in dict.fromkeys(names):
        try:
            distance = distance_of(name, face, lengths.unit == "mm")
        except TemplatesError:
            continue  # a hole that is gone since it was typed
        expected[name] = distance.said(lengths)
    return tuple(ExpectedReading(name, should, typed.get(name, "")) for name, should in expected.items())


def _verdict(found: MeasuredSheets, job: Path) -> tuple[str, ...]:
    from templates_engine.sentences.measured import MeasuredWords, notes_on_figures

    words = MeasuredWords(found, job).in_words(found.diagnosis)
    return (*words, *notes_on_figures(found))


def _correction(found: MeasuredSheets, job: Path) -> tuple[str, str] | None:
    """The errors across and down to keep a printer by, as they are typed."""
    from templates_engine.sentences.measured_causes import CauseWords

    whole = CauseWords(found, job).whole_error(found.diagnosis)
    return None if whole is None else (f"{whole[0]:+.3f} %", f"{whole[1]:+.3f} %")


def _views(face: FacePlan, diagnosis: Diagnosis) -> Iterator[SheetView]:
    for sheet in face.sheets:
        area = sheet.own
        way = _way(sheet.number, diagnosis)
        top = face.plane.depth_in - area.top
        yield SheetView(sheet.number, area.left, top, area.width, area.height, way)


def _way(number: int, diagnosis: Diagnosis) -> tuple[int, int]:
    """Which way the drawing shows a sheet moved so that it lies true."""
    across = down = 0
    for cause, amount in diagnosis.causes:
        if cause.kind == "slip" and number in cause.sheets:
            back = -1 if amount > 0 else 1
            across, down = (back, down) if cause.axis == "x" else (across, -back)
    return across, down
