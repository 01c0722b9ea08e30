"""Turns keys left out of a job into what was taken for them, where that moves holes or their circles."""

from __future__ import annotations

from collections.abc import Iterator
from math import isnan

from templates_engine.job.model import DefaultTaken, FaceJob, Job, Row
from templates_engine.job.schema import WrittenFace, WrittenJob, WrittenRaceway, WrittenRow

_KNOCKOUT = "the standard knockout is cut, as no `hole` is named"
_PUNCH = "the pilot is for a knockout punch, as no `cutter` is named"
_BOTH = "the standard knockout is cut, its pilot for a knockout punch, as no `hole` and no `cutter` is named"


def defaults_taken(written: WrittenJob, job: Job) -> tuple[DefaultTaken, ...]:
    """Everything taken, by face in file order; ``job`` is the sound job that ``written`` was read into."""
    return tuple(
        one
        for written_face, face in zip(written.faces, job.faces, strict=True)
        for one in _of_face(written, written_face, job, face)
    )


def _of_face(
    written: WrittenJob, written_face: WrittenFace, job: Job, face: FaceJob
) -> Iterator[DefaultTaken]:
    word = face.face.value
    if not written_face.mark_from.is_written:
        yield DefaultTaken("marked from outside, as no `mark from` is written", word, ())
    entries = [
        (raceway, entry)
        for row, written_row in zip(face.rows, written_face.rows, strict=True)
        for raceway, entry in zip(row.raceways, _spelled_out(written_row), strict=True)
        if not raceway.factory_knockout
    ]
    for words, is_meant in (
        (_BOTH, (True, True)),
        (_KNOCKOUT, (True, False)),
        (_PUNCH, (False, True)),
    ):
        ids = tuple(
            one.id
            for one, entry in entries
            if (not entry.hole.is_written, not entry.cutter.is_written) == is_meant
        )
        if ids:
            yield DefaultTaken(words, word, ids)
    fit = tuple(one.id for one, _ in entries if one.size is None)
    if fit and not written.code.is_written:
        yield DefaultTaken(f"sized by fill after {job.code}, as no `code` is written", word, fit)
    for row in face.rows:
        yield from _of_row(row, word, job)


def _of_row(row: Row, word: str, job: Job) -> Iterator[DefaultTaken]:
    lengths = job.lengths
    ids = tuple(one.id for one in row.raceways)
    if row.gap_from_shop and (row.gap == "fittings" or not isnan(row.gap)):
        gap = row.gap if row.gap == "fittings" else lengths.say(row.gap)
        yield DefaultTaken(f"the shop's usual gap ({gap}) is kept, as row {row.name} gives none", word, ids)
    if "fittings" not in (row.gap, *(one.gap_before_in for one in row.raceways)):
        return
    bare = tuple(one.id for one in row.raceways if one.bushing is None)
    if bare:
        yield DefaultTaken("gaps leave room for locknuts alone, as no `bushing` is named", word, bare)
    if job.enclosure.location is None:
        yield DefaultTaken(
            "gaps leave room for the fittings of a dry place, as no `location` is named", word, ids
        )


def _spelled_out(row: WrittenRow) -> list[WrittenRaceway]:
    """A row's entries, each as often as it counts."""
    return [entry for entry in row.raceways for _ in range(entry.count.whole())]
