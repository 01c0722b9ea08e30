"""Turns the changed jobs that cure a finding into changed texts, each held to the layout it promises."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Literal

from templates_engine.advice.advise import is_measured, offers
from templates_engine.checks.model import Finding
from templates_engine.errors import TemplatesError
from templates_engine.job.help.key_order import keys_in_order
from templates_engine.job.model import Centred, CentreLine, FromEdge, Job, Raceway, Row
from templates_engine.job.text.edit import CannotEdit, content, put
from templates_engine.job.text.key_paths import KeyPath
from templates_engine.layout import solve
from templates_engine.layout.model import Layout
from templates_engine.page.edits import as_path
from templates_engine.units import to_mm
from templates_engine.values import Struct
from templates_engine.wiring import fit_sizes

if TYPE_CHECKING:
    from templates_engine.page.answer import PageRequest

_SAME_IN = 1e-6
_TAPE = 64
"""The finest graduation that a length is typed to before it is typed as a decimal."""


class OfferedEdit(Struct, frozen=True):
    """A remedy in words, the finding it cures, and the text with it done; "" where words must do."""

    finding: Finding
    words: str
    text: str


def offered(
    text: str, job: Job, layout: Layout, findings: Sequence[Finding], asked: PageRequest
) -> tuple[OfferedEdit, ...]:
    """What cures each finding, in the order of the findings."""
    return tuple(
        OfferedEdit(finding, offer.words, _text_of(text, job, offer.job, asked))
        for finding in findings
        if is_measured(finding)
        for offer in offers(layout, findings, finding)
    )


def _text_of(text: str, before: Job, after: Job, asked: PageRequest) -> str:
    """The text that makes the changed job, "" where it cannot be written in place."""
    from templates_engine.page.answer import PageRequest, read

    try:
        for path, value in _changes(text, before, after):
            text = put(text, path, value, keys_in_order)
        made = solve(fit_sizes(read(PageRequest(text, name=asked.name, folder=asked.folder))))
        return text if _holes(made) == _holes(solve(after)) else ""
    except (CannotEdit, TemplatesError):
        return ""


def _holes(layout: Layout) -> list[tuple[object, ...]]:
    return [
        (
            face.job.face,
            hole.id,
            *(round(each / _SAME_IN) for each in (hole.u_in, hole.v_in, hole.hole_diameter_in)),
        )
        for face in layout.faces
        for hole in face.holes
    ]


def _changes(text: str, before: Job, after: Job) -> Iterator[tuple[KeyPath, Any]]:
    """Each key of the file that a changed job writes otherwise."""
    old, new = before.enclosure, after.enclosure
    for key, was, now in (
        ("width", old.width_in, new.width_in),
        ("height", old.height_in, new.height_in),
        ("depth", old.depth_in, new.depth_in),
        ("back gap", old.back_gap_in, new.back_gap_in),
    ):
        if was != now:
            yield ("enclosure", key), typed(now, before)
    for face_was, face_now in zip(before.faces, after.faces, strict=True):
        if len(face_was.rows) != len(face_now.rows):
            raise CannotEdit("A new row is written in the text.")
        for row_was, row_now in zip(face_was.rows, face_now.rows, strict=True):
            yield from _row_changes(text, row_was, row_now, before)


def _row_changes(text: str, was: Row, now: Row, job: Job) -> Iterator[tuple[KeyPath, Any]]:
    path = as_path(was.place.key)
    if was.strut != now.strut and now.strut is not None:
        depths = [typed(depth, job) for depth in now.strut.depths_in]
        yield (*path, "strut"), depths[0] if len(depths) == 1 else depths
    if was.back_line != now.back_line:
        yield from _line_changes(path, now.back_line, job)
    if was.gap != now.gap:
        yield (*path, "gap"), "fittings" if now.gap == "fittings" else typed(now.gap, job)
    if was.placing != now.placing:
        if isinstance(now.placing, Centred):
            yield (*path, "place"), "centred"
        elif isinstance(now.placing, FromEdge):
            yield (*path, "place", "distance"), typed(now.placing.distance_in, job)
    if [one.id for one in was.raceways] != [one.id for one in now.raceways]:
        yield (*path, "raceways"), _reordered(text, path, now.raceways)
        return
    for one, other in zip(was.raceways, now.raceways, strict=True):
        yield from _raceway_changes(one, other, job)


def _line_changes(
    path: KeyPath, line: float | Literal["strut", "auto"] | CentreLine, job: Job
) -> Iterator[tuple[KeyPath, Any]]:
    if isinstance(line, CentreLine):
        yield (*path, "centre line"), typed(line.at_in, job)
    elif line != "strut":
        yield (*path, "back line"), "auto" if line == "auto" else typed(line, job)


def _raceway_changes(was: Raceway, now: Raceway, job: Job) -> Iterator[tuple[KeyPath, Any]]:
    path = as_path(was.place.key)
    if was.hole != now.hole:
        yield (*path, "hole"), now.hole if isinstance(now.hole, str) else typed(now.hole, job)
    if was.gap_before_in != now.gap_before_in and isinstance(now.gap_before_in, float | int):
        yield (*path, "gap before"), typed(now.gap_before_in, job)


def _reordered(text: str, path: KeyPath, raceways: Sequence[Raceway]) -> list[Any]:
    """The entries of a row in a new order, each with its id, so that the holes keep their names."""
    entries: Any = content(text)
    for step in (*path, "raceways"):
        entries = entries[step]
    order = [as_path(one.place.key)[-1] for one in raceways]
    if len(set(order)) != len(order):
        raise CannotEdit("Raceways written as one entry are put in another order in the text.")
    return [{"id": one.id, **entries[place]} for one, place in zip(raceways, order, strict=True)]


def typed(inches: float, job: Job) -> str:
    """A length as one types it: a fraction where a tape has it, else a decimal; millimetres if metric."""
    if job.unit == "mm":
        return f"{to_mm(inches):.4f}".rstrip("0").rstrip(".")
    parts = Fraction(inches * _TAPE).limit_denominator(1)
    if abs(float(parts) / _TAPE - inches) > _SAME_IN:
        return f"{inches:.6f}".rstrip("0").rstrip(".")
    whole, rest = divmod(parts / _TAPE, 1)
    fraction = f"{rest.numerator}/{rest.denominator}" if rest else ""
    return "-".join(part for part in (str(whole) if whole or not fraction else "", fraction) if part)
