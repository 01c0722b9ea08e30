"""Turns the figures a face's layout rests on, and where each came from, into sentences for its lead page."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.drawing.hole_lists import in_short
from templates_engine.job.model import Job
from templates_engine.layout.model import FaceLayout, FittingFigure
from templates_engine.units import Speech


def figure_sentences(job: Job, face: FaceLayout, speech: Speech) -> Iterator[str]:
    """Gaps worked out from fittings, the figures they rest on by source, and what the shop file gives."""
    yield from _raceways(face)
    yield from _gaps(face, speech)
    yield from _fittings(face, speech)
    yield from _usual(job, face)


def _raceways(face: FaceLayout) -> Iterator[str]:
    """Diameters, holes and pilots, each source once."""
    said: dict[tuple[str, str], list[str]] = {}
    for hole in face.holes:
        size = hole.raceway.size
        if size is not None:
            said.setdefault(("Outside diameter", f"{size.source}; {size.how_had}"), []).append(hole.id)
        said.setdefault(("Hole", hole.hole_source), []).append(hole.id)
        said.setdefault(("Pilot", hole.pilot_source), []).append(hole.id)
    order = [hole.id for hole in face.holes]
    for (what, source), ids in said.items():
        yield f"{what}, {in_short(ids, order)}: {source}."


def _gaps(face: FaceLayout, speech: Speech) -> Iterator[str]:
    """The least gap of each pair by the fittings that ask for it: "1-1/8 in for straps, A1 to A2"."""
    said: dict[str, list[str]] = {}
    for row in face.rows:
        for gap in row.gaps:
            if gap.fittings:
                words = f"{speech.say(gap.required_in)} for {gap.fittings}"
                said.setdefault(words, []).append(f"{gap.before} to {gap.after}")
    if said:
        parts = (f"{words}, {', '.join(pairs)}" for words, pairs in said.items())
        yield f"Least gaps as the fittings need them: {'; '.join(parts)}."


def _fittings(face: FaceLayout, speech: Speech) -> Iterator[str]:
    said: dict[str, dict[str, list[str]]] = {}
    for figure in dict.fromkeys(figure for row in face.rows for figure in row.figures):
        source = f"{figure.source}; {figure.how_had}"
        said.setdefault(source, {}).setdefault(figure.what, []).append(_sized(figure, speech))
    for source, kinds in said.items():
        parts = (f"{what} {', '.join(lengths)}" for what, lengths in kinds.items())
        yield f"Fittings ({speech.unit}): {'; '.join(parts)} ({source})."


def _sized(figure: FittingFigure, speech: Speech) -> str:
    """A trade size and its figure, "2: 2.95"; the figure alone where all sizes have it."""
    length = speech.exact(figure.length_in)
    return f"{figure.label}: {length}" if figure.label else length


def _usual(job: Job, face: FaceLayout) -> Iterator[str]:
    rows = [row.row.name for row in face.rows if row.row.gap_from_shop]
    gaps = [f"gap of row {', '.join(rows)}"] if rows else []
    taken = [*gaps, *job.printing.from_shop]
    if taken:
        yield f"Taken from {job.shop.source}: {', '.join(taken)}."
