"""Turns the raceways of a row into Raceways with ids; what they carry is read in `wiring.py`."""

from __future__ import annotations

import re
from math import isnan
from typing import Literal

from templates_engine.job.help.synonyms import CUTTER_NAMES
from templates_engine.job.likely_lengths import check_gap_before, check_hole
from templates_engine.job.model import Cutter, Raceway, RacewayWiring
from templates_engine.job.read.face_scope import FaceScope
from templates_engine.job.read.file_reading import FileReading
from templates_engine.job.read.in_knockouts import in_knockout
from templates_engine.job.read.quantities import celsius, fahrenheit_range
from templates_engine.job.read.wiring import NOTHING, raceway_wiring
from templates_engine.job.schema import (
    BUSHINGS,
    CUTTERS,
    HOLES,
    KNOCKOUTS,
    WrittenRaceway,
)
from templates_engine.job.text.key_paths import KeyPath, shown
from templates_engine.trade.not_in_tables import nearest
from templates_engine.trade.raceways import RacewaySize, find_type, look_up
from templates_engine.values import replace

MOST_ID = 8
SPARE = "nothing (spare)"
"""Where a spare raceway goes, printed unless the job says where."""
MOST_COUNT = 99
_MOST_FEEDER = 24
MOST_IN_ROW = 300
"""More than any face holds; a row many times as long would keep the search for remedies busy for minutes."""
MOST_RUN_IN = 12 * 5000.0
"""Longer than any raceway that is pulled in one (common practice, no source)."""
_ID = re.compile(rf"(?=.*[A-Za-z0-9])[A-Za-z0-9.-]{{1,{MOST_ID}}}")
_ID_REMEDY = f"Write at most {MOST_ID} letters, digits, hyphens or dots; it is printed in the hole's circle."


def raceways(
    written: list[WrittenRaceway], path: KeyPath, row_name: str, scope: FaceScope, reading: FileReading
) -> tuple[Raceway, ...]:
    """All raceways of a row in order, counts spelled out."""
    found: list[Raceway] = []
    number = 1
    pinned: tuple[float, str] | None = None
    for place, entry in enumerate(written):
        here = (*path, place)
        if not reading.is_sound(here):
            number += 1
            continue
        count = reading.whole(entry.count, (*here, "count"), most=MOST_COUNT)
        ids = _ids(entry, here, count, f"{row_name}{number}", reading)
        number += count
        if len(found) + count > MOST_IN_ROW:
            remedy = "Put the others in rows of their own, or correct the counts."
            reading.report(path, f"A row has at most {MOST_IN_ROW} raceways", remedy)
            return tuple(found)
        _check_ids(entry, here, ids, scope, reading)
        first = in_knockout(_raceway(entry, here, ids[0], scope.spaces, reading), entry, here, scope, reading)
        if first.factory_knockout and found and found[-1].factory_knockout:
            first = replace(first, gap_before_in=0.0)  # nothing can be asked of two places that are there
        if count > 1 and entry.circuits:
            remedy = "Write each raceway as an entry of its own, with its own circuits."
            reading.report((*here, "count"), f"{count} raceways cannot carry the same circuits", remedy)
        _check_places(here, count, first, pinned, scope, reading)
        _check_before(entry, here, is_first=place == 0, reading=reading)
        gap_path = (*here, "gap before")
        check_gap_before(entry.gap_before, first.gap_before_in, gap_path, scope.width_in, reading)
        if first.at_in is not None and not isnan(first.at_in) and not first.at_in > scope.width_in:
            pinned = (first.at_in, first.id)
        found.append(first)
        found += [replace(first, id=id, gap_before_in=None, spacing_before_in=None) for id in ids[1:]]
    return tuple(found)


def _raceway(
    written: WrittenRaceway, path: KeyPath, id: str, spaces: int | None, reading: FileReading
) -> Raceway:
    type_name, size = _type_and_size(written, path, reading)
    wiring = raceway_wiring(written, path, spaces, reading)
    _check_fit(written, wiring, path, reading)
    before = _before(written, path, reading)
    return Raceway(
        id=id,
        place=reading.place(path),
        type=type_name,
        size=size,
        at_in=reading.length_or_none(written.at, (*path, "at"), allow="zero"),
        gap_before_in=before[0],
        cutter=Cutter(reading.word(written.cutter, (*path, "cutter"), CUTTERS, "punch", **CUTTER_NAMES)),
        hole=_hole(written.hole, (*path, "hole"), reading),
        to=reading.text(written.to, (*path, "to"), SPARE if wiring is NOTHING else ""),
        bushing=reading.word(written.bushing, (*path, "bushing"), BUSHINGS, None),
        nipple=reading.yes_no(written.nipple, (*path, "nipple"), False),
        knockout=reading.word(written.knockout, (*path, "knockout"), KNOCKOUTS, "cut"),
        first_support_in=reading.length_or_none(
            written.first_support, (*path, "first support"), allow="zero"
        ),
        wiring=wiring,
        spacing_before_in=before[1],
        parallel_set_of=reading.text(written.parallel_set_of, (*path, "parallel set of"), most=_MOST_FEEDER),
        ambient_c=celsius(written.ambient, (*path, "ambient"), reading),
        straight_run_in=reading.length_or_none(written.straight_run, (*path, "straight run")),
        temperature_range_f=fahrenheit_range(
            written.temperature_range, (*path, "temperature range"), reading
        ),
        has_expansion_fitting=reading.yes_no(written.expansion_fitting, (*path, "expansion fitting"), False),
        has_reducing_washers=reading.yes_no(written.reducing_washers, (*path, "reducing washers"), None),
        nonlinear_loads=reading.yes_no(written.nonlinear_loads, (*path, "nonlinear loads"), None),
        run_length_in=_run_length(written.run_length, (*path, "run length"), reading),
    )


def _check_fit(
    written: WrittenRaceway, wiring: RacewayWiring | None, path: KeyPath, reading: FileReading
) -> None:
    """A size that is to fit needs something that it is to fit."""
    wants_fit = written.size is not None and written.size.strip().lower() == "fit"
    if wants_fit and (wiring is None or (written.circuits is None and written.conductors is None)):
        wrong = "The size is to fit the fill, but nothing is said to be in the raceway"
        reading.report((*path, "size"), wrong, "Write its conductors or circuits, or a trade size.")


def _before(
    written: WrittenRaceway, path: KeyPath, reading: FileReading
) -> tuple[float | Literal["fittings"] | None, float | None]:
    """The gap and the spacing that it asks for from the raceway before."""
    gap, spacing = written.gap_before, written.spacing_before
    return (
        None if gap is None else reading.gap(gap, (*path, "gap before")),
        None if spacing is None else reading.spacing(spacing, (*path, "spacing before")),
    )


def _run_length(written: str | None, path: KeyPath, reading: FileReading) -> float | None:
    """How long the raceway is; a bare number could be feet as well as inches, and is refused."""
    if written is None:
        return None
    if re.fullmatch(r"\s*[0-9][0-9 ./-]*", written) and reading.is_sound(path):
        number = shown(written.strip())
        reading.report(path, f"'{number}' has no unit", f"Write `{number} ft`, or `{number} m`.")
        return None
    return reading.length(written, path, most_in=MOST_RUN_IN)


def _type_and_size(
    written: WrittenRaceway, path: KeyPath, reading: FileReading
) -> tuple[str, RacewaySize | None]:
    """The type's name and the size's row; no size when it is to fit, or when type or size is unknown."""
    if written.type is None:
        return "", None
    name = reading.from_tables(written.type, (*path, "type"), find_type)
    if name is None or written.size is None or written.size.strip().lower() == "fit":
        return name or "", None
    size_path = (*path, "size")
    if re.fullmatch("[A-Za-z ]+", written.size) and reading.is_sound(size_path):
        remedy = "Write one such as 1-1/4, or fit for the least that takes the conductors."
        reading.report(size_path, f"'{shown(written.size)}' is no trade size", remedy)
        return name, None
    return name, reading.from_tables(written.size, size_path, lambda text: look_up(name, text))


def _hole(written: str | None, path: KeyPath, reading: FileReading) -> Literal["knockout", "punch"] | float:
    if written is None:
        return "knockout"
    if re.match(r"\s*[a-z]", written, re.IGNORECASE) and reading.is_sound(path):
        word = next((word for word in HOLES if word == written.strip().lower()), None)
        if word is None:
            like = nearest(written.strip()[:20], HOLES)
            hint = f"Did you mean {like}? " if like else ""
            remedy = f"{hint}Write knockout, punch or the hole's diameter."
            reading.report(path, f"'{shown(written)}' is no hole", remedy)
        return word or "knockout"
    diameter_in = reading.length(written, path)
    check_hole(written, diameter_in, path, reading)
    return diameter_in


def _check_before(written: WrittenRaceway, path: KeyPath, *, is_first: bool, reading: FileReading) -> None:
    """A raceway has a gap or a spacing of its own, not both; the first of a row has none to keep it from."""
    own = {"gap before": written.gap_before, "spacing before": written.spacing_before}
    for key in (key for key, text in own.items() if text is not None and is_first):
        remedy = "Take it out, or set the row's place."
        reading.report((*path, key), "Nothing stands before the first raceway of a row", remedy)
    if None not in own.values():
        remedy = "Keep one of the two: a gap is clear between raceways, a spacing from centre to centre."
        reading.report((*path, "spacing before"), "Both `gap before` and `spacing before` are given", remedy)


# --- ids and places -----------------------------------------------------------------------------------------


def _ids(written: WrittenRaceway, path: KeyPath, count: int, default: str, reading: FileReading) -> list[str]:
    """An id for each of ``count`` raceways, the trailing number counting up."""
    id_path = (*path, "id")
    first = default
    if written.id is not None:
        first = reading.value(written.id, id_path) or ""
        if reading.is_sound(id_path) and not _ID.fullmatch(first):
            reading.report(id_path, f"'{shown(first)}' cannot be an id", _ID_REMEDY)
        if not reading.is_sound(id_path):
            return [""] * count
    stem = first.rstrip("0123456789")
    number = first[len(stem) :]
    if not number:
        if count > 1:
            remedy = f"End it with the number of the first, such as {first[: MOST_ID - 2]}1."
            reading.report(
                id_path, f"The id {first} has no number to count up from for {count} raceways", remedy
            )
        return [first, *[""] * (count - 1)]
    ids = [f"{stem}{int(number) + step:0{len(number)}d}" for step in range(count)]
    if len(ids[-1]) > MOST_ID:
        reading.report(id_path, f"Counted up, the last id would be {ids[-1]}", _ID_REMEDY)
    return ids


def _check_ids(
    written: WrittenRaceway, path: KeyPath, ids: list[str], scope: FaceScope, reading: FileReading
) -> None:
    """No id twice on a face, capital or small."""
    line = reading.mark(path).line
    for id in filter(None, ids):
        if id.lower() in scope.ids:
            at = f"stands on this face already, on line {scope.ids[id.lower()]}"
            counted = written.id is None or id != written.id.strip()
            wrong = f"Counted on, a raceway here is {id}, which {at}" if counted else f"The id {id} {at}"
            remedy = "Write another `id:`. Without one a raceway is named by its row's letter and its number."
            reading.report((*path, "id"), wrong, remedy)
        scope.ids.setdefault(id.lower(), line)


def _check_places(
    path: KeyPath,
    count: int,
    raceway: Raceway,
    pinned: tuple[float, str] | None,
    scope: FaceScope,
    reading: FileReading,
) -> None:
    """A pinned centre must be one raceway's, on the face, and after the pinned ones before it."""
    at_path = (*path, "at")
    at = raceway.at_in
    if at is None:
        return
    if count > 1:
        remedy = "Write each raceway as an entry of its own, with its own `at`."
        reading.report((*path, "count"), f"{count} raceways cannot all stand at one place", remedy)
    if at > scope.width_in:
        wide = f"The centre at {reading.say(at)} is off the face, which ends at {reading.say(scope.width_in)}"
        reading.report(at_path, wide, f"Measure it from {scope.start} of the enclosure.")
    if pinned and at <= pinned[0]:
        wrong = (
            f"The centre at {reading.say(at)} is not beyond that of {pinned[1]} at {reading.say(pinned[0])}"
        )
        reading.report(at_path, wrong, f"List the raceways {scope.order}, as their places run.")
