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
from templates_engine.job.text.key_paths import KeyPath, shown
from templates_engine.trade.gauges import thickness
from templates_engine.trade.not_in_tables import listed

_MOST_NAME = 60
MOST_SPACES = 200
_MOST_LISTED = 12
_PAINTED = tuple(other for other, word in FINISH_NAMES.items() if word == "painted")
_PATH: KeyPath = ("enclosure",)


def enclosure(written: WrittenEnclosure, reading: FileReading) -> Enclosure:
    """The enclosure; widths and the rest are NaN where they could not be read."""
    path = _PATH
    spaces = reading.whole(written.spaces, (*path, "spaces"), 0, most=MOST_SPACES)
    kind = _kind(written.kind, (*path, "kind"), reading)
    return Enclosure(
        mark=reading.text(written.mark, (*path, "mark"), most=_MOST_NAME) or kind,
        kind=kind,
        width_in=reading.length(written.width, (*path, "width")),
        height_in=reading.length(written.height, (*path, "height")),
        depth_in=reading.length(written.depth, (*path, "depth")),
        back_gap_in=reading.length(written.back_gap, (*path, "back gap"), 0.0, allow="zero"),
        sheet_metal=_sheet_metal(written.sheet_metal, (*path, "sheet metal"), reading),
        location=_location(written.location, (*path, "location"), reading),
        system=reading.word(written.system, (*path, "system"), SYSTEMS, None, **SYSTEM_NAMES),
        spaces=spaces or None,
        numbering=reading.word(written.numbering, (*path, "numbering"), NUMBERINGS, "odd left"),
        service=reading.yes_no(written.service, (*path, "service"), False),
        pulls=tuple(
            _pull(pull, (*path, "pulls", place), reading)
            for place, pull in enumerate(written.pulls or [])
            if reading.is_sound((*path, "pulls", place))
        ),
        terminals_c=terminals(written.terminals, (*path, "terminals"), reading),
        ambient_c=celsius(written.ambient, (*path, "ambient"), reading),
        finish=reading.word(written.finish, (*path, "finish"), FINISHES, None, **FINISH_NAMES),
        paint_at_fittings=_paint(written, reading),
        nonlinear_loads=reading.yes_no(written.nonlinear_loads, (*path, "nonlinear loads"), None),
        gutter_in=reading.length_or_none(written.gutter, (*path, "gutter")),
        fullest_section=conductor_groups(written.fullest_section, (*path, "fullest section"), reading),
    )


def _kind(text: str | None, path: KeyPath, reading: FileReading) -> str:
    """Its kind; what goes by another name is told which kind to write."""
    named = None if text is None else reading.value(text, path)
    if named and (remedy := kind_remedy(named)):
        reading.report(path, f"'{shown(named)}' is no kind of its own here", remedy)
    return reading.word(text, path, KINDS, "cabinet")


def _paint(
    written: WrittenEnclosure, reading: FileReading
) -> Literal["scraped", "cut through", "left on"] | None:
    """What becomes of the paint under fittings, where there is paint."""
    path = (*_PATH, "paint at fittings")
    found = reading.word(written.paint_at_fittings, path, PAINT_AT_FITTINGS, None)
    is_painted = (written.finish or "").strip().lower() in ("painted", *_PAINTED)
    if found and not is_painted and reading.is_sound((*_PATH, "finish")):
        reading.report(path, "Nothing says that the enclosure is painted", "Write `finish: painted` too.")
    return found


def _location(text: str | None, path: KeyPath, reading: FileReading) -> Literal["dry", "damp", "wet"] | None:
    named = None if text is None else reading.value(text, path)
    if named and re.match(
        "in(door|side|terior)|out(door|side)|exterior|weather|nema|type|rain", named.lower()
    ):
        remedy = "Write dry (inside), damp (outside under a roof, or in a cellar) or wet (in the weather)."
        reading.report(path, f"'{shown(named)}' does not say how wet the place is", remedy)
    return reading.word(text, path, LOCATIONS, None)


def _sheet_metal(text: str | None, path: KeyPath, reading: FileReading) -> SheetMetal | None:
    if text is None:
        return None
    found = reading.from_tables(text, path, lambda value: thickness(value, reading.unit))
    return SheetMetal(*found) if found else None


def check_back_gap(written: WrittenEnclosure, faces: Iterable[WrittenFace], reading: FileReading) -> None:
    """Where raceways stand on strut, the distance between wall and enclosure has to be written."""
    on_strut = any(row.strut is not None for face in faces for row in face.rows or [])
    if on_strut and written.back_gap is None and reading.is_sound(_PATH):
        wrong = (
            "`back gap` is missing; with strut, every hole moves by what the enclosure stands off the wall"
        )
        remedy = (
            "Write `back gap: 0` if it is flat on the wall, or such as `back gap: 1/4 in` where it stands on "
            "dimples or spacers."
        )
        reading.report((*_PATH, "back gap"), wrong, remedy)


# --- pulls --------------------------------------------------------------------------------------------------


def _pull(written: WrittenPull, path: KeyPath, reading: FileReading) -> Pull:
    return Pull(
        start=reading.text(written.from_, (*path, "from")),
        end=reading.text(written.to, (*path, "to")),
        kind=reading.word(written.kind, (*path, "kind"), PULL_KINDS, "straight"),
        place=reading.place(path),
    )


def check_pulls(written: WrittenEnclosure, faces: Iterable[FaceJob], reading: FileReading) -> None:
    """Each pull must run between two raceways that the job has, each id on one face only."""
    homes: dict[str, list[str]] = {}
    for face in faces:
        for row in face.rows:
            for raceway in row.raceways:
                homes.setdefault(raceway.id, []).append(face.face.value)
    for place, pull in enumerate(written.pulls or []):
        path = (*_PATH, "pulls", place)
        for key, text in (("from", pull.from_), ("to", pull.to)):
            if text is not None:
                _check_end(text.strip(), (*path, key), homes, reading)
        if pull.from_ is not None and pull.to is not None and pull.from_.strip() == pull.to.strip():
            wrong = "A pull runs from one raceway to another, not back into the same"
            reading.report((*path, "to"), wrong, "Write the id of the raceway it goes to.")


def _check_end(id: str, path: KeyPath, homes: dict[str, list[str]], reading: FileReading) -> None:
    faces = list(dict.fromkeys(homes.get(id, ())))
    if len(faces) > 1:
        wrong = f"The id {id} is on the faces {listed(faces).replace(' or ', ' and ')}"
        reading.report(
            path, wrong, "Give the raceways of a pull ids that no other face has, such as T1 and B1."
        )
    elif not faces and not _ids_are_doubtful(reading):
        known = list(homes)
        more = " and others" if len(known) > _MOST_LISTED else ""
        has = f"The job has {', '.join(known[:_MOST_LISTED])}{more}." if known else "The job has none."
        reading.report(path, f"No raceway has the id '{shown(id)}'", f"Write the id of one. {has}")


def _ids_are_doubtful(reading: FileReading) -> bool:
    """Whether a raceway or an id could not be read, so that an unknown one may be no mistake."""
    return any(
        path[:1] == ("faces",)
        and (path[-1] in ("faces", "rows", "raceways", "count", "id") or isinstance(path[-1], int))
        for path in reading.broken
    )
