"""Turns the raceways of a row into Raceways with ids; what they carry is read in `wiring.py`."""

from __future__ import annotations

import re
from math import isnan
from typing import Literal

from templates_engine.job.help.synonyms import CUTTER_NAMES
from templates_engine.job.likely_lengths import check_gap, check_hole
from templates_engine.job.model import Cutter, Raceway, RacewayWiring
from templates_engine.job.read.face_scope import FaceScope
from templates_engine.job.read.in_knockouts import in_knockout
from templates_engine.job.read.quantities import celsius, fahrenheit_range
from templates_engine.job.read.wiring import NOTHING, raceway_wiring
from templates_engine.job.schema import BUSHINGS, CUTTERS, HOLES, KNOCKOUTS, WrittenRaceway
from templates_engine.job.text.key_paths import shown
from templates_engine.job.written_values import WrittenList, WrittenText
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


def raceways(written: WrittenList[WrittenRaceway], row_name: str, scope: FaceScope) -> tuple[Raceway, ...]:
    """All raceways of a row in order, counts spelled out."""
    found: list[Raceway] = []
    number = 1
    pinned: Raceway | None = None
    for place, entry in enumerate(written):
        if not entry.is_sound:
            number += 1
            continue
        count = entry.count.whole(most=MOST_COUNT)
        ids = _ids(entry.id, count, f"{row_name}{number}")
        number += count
        if len(found) + count > MOST_IN_ROW:
            remedy = "Put the others in rows of their own, or correct the counts."
            written.report(f"A row has at most {MOST_IN_ROW} raceways", remedy)
            return tuple(found)
        _check_ids(entry, ids, scope)
        first = in_knockout(_raceway(entry, ids[0], scope.spaces), entry, scope)
        if first.factory_knockout and found and found[-1].factory_knockout:
            first = replace(first, gap_before_in=0.0)  # nothing can be asked of two places that are there
        if count > 1 and entry.circuits:
            remedy = "Write each raceway as an entry of its own, with its own circuits."
            entry.count.report(f"{count} raceways cannot carry the same circuits", remedy)
        _check_places(entry, count, first, pinned, scope)
        _check_before(entry, is_first=place == 0)
        check_gap(entry.gap_before, first.gap_before_in, scope.width_in)
        if first.at_in is not None and not isnan(first.at_in) and not first.at_in > scope.width_in:
            pinned = first
        found.append(first)
        found += [replace(first, id=id, gap_before_in=None, spacing_before_in=None) for id in ids[1:]]
    return tuple(found)


def _raceway(written: WrittenRaceway, id: str, spaces: int | None) -> Raceway:
    type_name, size = _type_and_size(written)
    wiring = raceway_wiring(written, spaces)
    _check_fit(written, wiring)
    return Raceway(
        id=id,
        place=written.where,
        type=type_name,
        size=size,
        at_in=written.at.length_or_none(allow="zero"),
        gap_before_in=written.gap_before.gap() if written.gap_before.is_written else None,
        cutter=Cutter(written.cutter.word(CUTTERS, "punch", **CUTTER_NAMES)),
        hole=_hole(written.hole),
        to=written.to.printed(SPARE if wiring is NOTHING else ""),
        bushing=written.bushing.word(BUSHINGS, None),
        nipple=written.nipple.yes_no(False),
        knockout=written.knockout.word(KNOCKOUTS, "cut"),
        first_support_in=written.first_support.length_or_none(allow="zero"),
        wiring=wiring,
        spacing_before_in=written.spacing_before.spacing(),
        parallel_set_of=written.parallel_set_of.printed(most=_MOST_FEEDER),
        ambient_c=celsius(written.ambient),
        straight_run_in=written.straight_run.length_or_none(),
        temperature_range_f=fahrenheit_range(written.temperature_range),
        has_expansion_fitting=written.expansion_fitting.yes_no(False),
        has_reducing_washers=written.reducing_washers.yes_no(None),
        nonlinear_loads=written.nonlinear_loads.yes_no(None),
        run_length_in=_run_length(written.run_length),
    )


def _check_fit(written: WrittenRaceway, wiring: RacewayWiring | None) -> None:
    """A size that is to fit needs something that it is to fit."""
    is_something = written.circuits.is_written or written.conductors.is_written
    if written.size.spelled == "fit" and (wiring is None or not is_something):
        wrong = "The size is to fit the fill, but nothing is said to be in the raceway"
        written.size.report(wrong, "Write its conductors or circuits, or a trade size.")


def _run_length(written: WrittenText) -> float | None:
    """How long the raceway is; a bare number could be feet as well as inches, and is refused."""
    if written.text is None:
        return None
    if re.fullmatch(r"\s*[0-9][0-9 ./-]*", written.text) and written.is_sound:
        number = shown(written.text.strip())
        written.report(f"'{number}' has no unit", f"Write `{number} ft`, or `{number} m`.")
        return None
    return written.length(most_in=MOST_RUN_IN)


def _type_and_size(written: WrittenRaceway) -> tuple[str, RacewaySize | None]:
    """The type's name and the size's row; no size when it is to fit, or when type or size is unknown."""
    name, size = written.type.from_tables(find_type), written.size
    if name is None or size.text is None or size.spelled == "fit":
        return name or "", None
    if re.fullmatch("[A-Za-z ]+", size.text) and size.is_sound:
        remedy = "Write one such as 1-1/4, or fit for the least that takes the conductors."
        size.report(f"'{shown(size.text)}' is no trade size", remedy)
        return name, None
    return name, size.from_tables(lambda text: look_up(name, text))


def _hole(written: WrittenText) -> Literal["knockout", "punch"] | float:
    if written.text is None:
        return "knockout"
    if re.match(r"\s*[a-z]", written.text, re.IGNORECASE) and written.is_sound:
        word = next((word for word in HOLES if word == written.spelled), None)
        if word is None:
            like = nearest(written.text.strip()[:20], HOLES)
            hint = f"Did you mean {like}? " if like else ""
            remedy = f"{hint}Write knockout, punch or the hole's diameter."
            written.report(f"'{shown(written.text)}' is no hole", remedy)
        return word or "knockout"
    diameter_in = written.length()
    check_hole(written, diameter_in)
    return diameter_in


def _check_before(written: WrittenRaceway, *, is_first: bool) -> None:
    """A raceway has a gap or a spacing of its own, not both; the first of a row has none to keep it from."""
    own = [one for one in (written.gap_before, written.spacing_before) if one.is_written]
    if is_first:
        for one in own:
            remedy = "Take it out, or set the row's place."
            one.report("Nothing stands before the first raceway of a row", remedy)
    if len(own) == 2:
        remedy = "Keep one of the two: a gap is clear between raceways, a spacing from centre to centre."
        own[1].report("Both `gap before` and `spacing before` are given", remedy)


# --- ids and places -----------------------------------------------------------------------------------------


def _ids(written: WrittenText, count: int, default: str) -> list[str]:
    """An id for each of ``count`` raceways, the trailing number counting up."""
    first = default
    if written.is_written:
        first = written.value() or ""
        if written.is_sound and not _ID.fullmatch(first):
            written.report(f"'{shown(first)}' cannot be an id", _ID_REMEDY)
        if not written.is_sound:
            return [""] * count
    stem = first.rstrip("0123456789")
    number = first[len(stem) :]
    if not number:
        if count > 1:
            wrong = f"The id {first} has no number to count up from for {count} raceways"
            remedy = f"End it with the number of the first, such as {first[: MOST_ID - 2]}1."
            written.report(wrong, remedy)
        return [first, *[""] * (count - 1)]
    ids = [f"{stem}{int(number) + step:0{len(number)}d}" for step in range(count)]
    if len(ids[-1]) > MOST_ID:
        written.report(f"Counted up, the last id would be {ids[-1]}", _ID_REMEDY)
    return ids


def _check_ids(written: WrittenRaceway, ids: list[str], scope: FaceScope) -> None:
    """No id twice on a face, capital or small."""
    for id in filter(None, ids):
        if id.lower() in scope.ids:
            at = f"stands on this face already, on line {scope.ids[id.lower()]}"
            counted = id != (written.id.text or "").strip()
            wrong = f"Counted on, a raceway here is {id}, which {at}" if counted else f"The id {id} {at}"
            remedy = "Write another `id:`. Without one a raceway is named by its row's letter and its number."
            written.id.report(wrong, remedy)
        scope.ids.setdefault(id.lower(), written.line)


def _check_places(
    written: WrittenRaceway, count: int, raceway: Raceway, pinned: Raceway | None, scope: FaceScope
) -> None:
    """A pinned centre must be one raceway's, on the face, and after the pinned ones before it."""
    at, say = raceway.at_in, written.say
    if at is None:
        return
    if count > 1:
        remedy = "Write each raceway as an entry of its own, with its own `at`."
        written.count.report(f"{count} raceways cannot all stand at one place", remedy)
    if at > scope.width_in:
        wide = f"The centre at {say(at)} is off the face, which ends at {say(scope.width_in)}"
        written.at.report(wide, f"Measure it from {scope.start} of the enclosure.")
    if pinned and pinned.at_in is not None and at <= pinned.at_in:
        wrong = f"The centre at {say(at)} is not beyond that of {pinned.id} at {say(pinned.at_in)}"
        written.at.report(wrong, f"List the raceways {scope.order}, as their places run.")
