"""Turns the enclosure and its pulls, as written, into an Enclosure; faces are read in `faces.py`."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Literal

from templates_engine.job.help.synonyms import FINISH_NAMES, SYSTEM_NAMES
from templates_engine.job.help.usual_slips import kind_remedy
from templates_engine.job.model import Enclosure, FaceJob, Pull, SheetMetal
from templates_engine.job.read.file_reading import FileReading
from templates_engine.job.read.quantities import celsius, terminals
from templates_engine.job.read.wiring import conductor_groups
from templates_engine.job.schema import (
    FINISHES,
    KINDS,
    LOCATIONS,
    NUMBERINGS,
    PAINT_AT_FITTINGS,
    PULL_KINDS,
    SYSTEMS,
    WrittenEnclosure,
    WrittenFace,
    WrittenPull,
)
from templates_engine.job.text.key_paths import shown
from templates_engine.job.written_values import WrittenText
from templates_engine.trade.gauges import thickness
from templates_engine.trade.not_in_tables import listed

_MOST_NAME = 60
MOST_SPACES = 200
_MOST_LISTED = 12
_PAINTED = tuple(other for other, word in FINISH_NAMES.items() if word == "painted")


def enclosure(written: WrittenEnclosure) -> Enclosure:
    """The enclosure; widths and the rest are NaN where they could not be read."""
    kind = _kind(written.kind)
    return Enclosure(
        mark=written.mark.printed(most=_MOST_NAME) or kind,
        kind=kind,
        width_in=written.width.length(),
        height_in=written.height.length(),
        depth_in=written.depth.length(),
        back_gap_in=written.back_gap.length(0.0, allow="zero"),
        sheet_metal=_sheet_metal(written.sheet_metal),
        location=_location(written.location),
        system=written.system.word(SYSTEMS, None, **SYSTEM_NAMES),
        spaces=written.spaces.whole(0, most=MOST_SPACES) or None,
        numbering=written.numbering.word(NUMBERINGS, "odd left"),
        service=written.service.yes_no(False),
        pulls=tuple(_pull(pull) for pull in written.pulls if pull.is_sound),
        terminals_c=terminals(written.terminals),
        ambient_c=celsius(written.ambient),
        finish=written.finish.word(FINISHES, None, **FINISH_NAMES),
        paint_at_fittings=_paint(written),
        nonlinear_loads=written.nonlinear_loads.yes_no(None),
        gutter_in=written.gutter.length_or_none(),
        fullest_section=conductor_groups(written.fullest_section),
    )


def _kind(written: WrittenText) -> str:
    """Its kind; what goes by another name is told which kind to write."""
    named = written.value()
    if named and (remedy := kind_remedy(named)):
        written.report(f"'{shown(named)}' is no kind of its own here", remedy)
    return written.word(KINDS, "cabinet")


def _paint(written: WrittenEnclosure) -> Literal["scraped", "cut through", "left on"] | None:
    """What becomes of the paint under fittings, where there is paint."""
    paint = written.paint_at_fittings
    found = paint.word(PAINT_AT_FITTINGS, None)
    if found and written.finish.spelled not in ("painted", *_PAINTED) and written.finish.is_sound:
        paint.report("Nothing says that the enclosure is painted", "Write `finish: painted` too.")
    return found


def _location(written: WrittenText) -> Literal["dry", "damp", "wet"] | None:
    named = written.value()
    if named and re.match(
        "in(door|side|terior)|out(door|side)|exterior|weather|nema|type|rain", named.lower()
    ):
        remedy = "Write dry (inside), damp (outside under a roof, or in a cellar) or wet (in the weather)."
        written.report(f"'{shown(named)}' does not say how wet the place is", remedy)
    return written.word(LOCATIONS, None)


def _sheet_metal(written: WrittenText) -> SheetMetal | None:
    found = written.from_tables(lambda value: thickness(value, written.reading.unit))
    return SheetMetal(*found) if found else None


def check_back_gap(written: WrittenEnclosure, faces: Iterable[WrittenFace]) -> None:
    """Where raceways stand on strut, the distance between wall and enclosure has to be written."""
    on_strut = any(row.strut.is_written for face in faces for row in face.rows)
    if on_strut and not written.back_gap.is_written and written.is_sound:
        wrong = (
            "`back gap` is missing; with strut, every hole moves by what the enclosure stands off the wall"
        )
        remedy = (
            "Write `back gap: 0` if it is flat on the wall, or such as `back gap: 1/4 in` where it stands on "
            "dimples or spacers."
        )
        written.back_gap.report(wrong, remedy)


# --- pulls --------------------------------------------------------------------------------------------------


def _pull(written: WrittenPull) -> Pull:
    return Pull(
        start=written.from_.printed(),
        end=written.to.printed(),
        kind=written.kind.word(PULL_KINDS, "straight"),
        place=written.where,
    )


def check_pulls(written: WrittenEnclosure, faces: Iterable[FaceJob]) -> None:
    """Each pull must run between two raceways that the job has, each id on one face only."""
    homes: dict[str, list[str]] = {}
    for face in faces:
        for row in face.rows:
            for raceway in row.raceways:
                homes.setdefault(raceway.id, []).append(face.face.value)
    for pull in written.pulls:
        ends = [end for end in (pull.from_, pull.to) if end.is_written]
        for end in ends:
            _check_end(end, homes)
        if len(ends) == 2 and len({(end.text or "").strip() for end in ends}) == 1:
            wrong = "A pull runs from one raceway to another, not back into the same"
            pull.to.report(wrong, "Write the id of the raceway it goes to.")


def _check_end(written: WrittenText, homes: dict[str, list[str]]) -> None:
    id = (written.text or "").strip()
    faces = list(dict.fromkeys(homes.get(id, ())))
    if len(faces) > 1:
        wrong = f"The id {id} is on the faces {listed(faces).replace(' or ', ' and ')}"
        written.report(wrong, "Give the raceways of a pull ids that no other face has, such as T1 and B1.")
    elif not faces and not _ids_are_doubtful(written.reading):
        known = list(homes)
        more = " and others" if len(known) > _MOST_LISTED else ""
        has = f"The job has {', '.join(known[:_MOST_LISTED])}{more}." if known else "The job has none."
        written.report(f"No raceway has the id '{shown(id)}'", f"Write the id of one. {has}")


def _ids_are_doubtful(reading: FileReading) -> bool:
    """Whether a raceway or an id could not be read, so that an unknown one may be no mistake."""
    return any(
        path[:1] == ("faces",)
        and (path[-1] in ("faces", "rows", "raceways", "count", "id") or isinstance(path[-1], int))
        for path in reading.broken
    )
