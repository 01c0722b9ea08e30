"""Turns the figures a face's layout rests on, and where each came from, into sentences for its cover page."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.drawing.cover.page_flow import PageBlock, heading, paragraph
from templates_engine.drawing.hole_lists import hole_list
from templates_engine.job.model import Job
from templates_engine.layout.model import FaceLayout, FittingFigure
from templates_engine.units import LengthFormat


def figures_used(job: Job, face: FaceLayout, lengths: LengthFormat, width: float) -> Iterator[PageBlock]:
    """Where the figures came from, each once, remembered ones said so."""
    yield heading("Figures used")
    for sentence in figure_sentences(job, face, lengths):
        yield from paragraph(sentence, width)


def figure_sentences(job: Job, face: FaceLayout, lengths: LengthFormat) -> Iterator[str]:
    """Gaps worked out from fittings, the figures they rest on by source, and what the shop file gives."""
    yield from _raceways(face)
    yield from _gaps(face, lengths)
    yield from _fittings(face, lengths)
    yield from _usual(job, face)


def _raceways(face: FaceLayout) -> Iterator[str]:
    """Diameters, holes and pilots, each source once."""
    said: dict[tuple[str, str], list[str]] = {}
    for hole in face.holes:
        size = hole.raceway.size
        if size is not None:
            said.setdefault(("Outside diameter", f"{size.source}; {size.provenance}"), []).append(hole.id)
        said.setdefault(("Hole", hole.hole_source), []).append(hole.id)
        if hole.pilot_source:
            said.setdefault(("Pilot", hole.pilot_source), []).append(hole.id)
    for (what, source), ids in said.items():
        yield f"{what}, {hole_list(ids, face.holes)}: {source}."


def _gaps(face: FaceLayout, lengths: LengthFormat) -> Iterator[str]:
    """The least gap of each pair by the fittings that ask for it: "1-1/8 in for straps, A1 to A2"."""
    said: dict[str, list[str]] = {}
    for row in face.rows:
        for gap in row.gaps:
            if gap.fittings:
                words = f"{lengths.say(gap.required_in)} for {gap.fittings}"
                said.setdefault(words, []).append(f"{gap.before} to {gap.after}")
    if said:
        parts = (f"{words}, {', '.join(pairs)}" for words, pairs in said.items())
        yield f"Least gaps as the fittings need them: {'; '.join(parts)}."


def _fittings(face: FaceLayout, lengths: LengthFormat) -> Iterator[str]:
    said: dict[str, dict[str, list[str]]] = {}
    for figure in dict.fromkeys(figure for row in face.rows for figure in row.figures):
        source = f"{figure.source}; {figure.provenance}"
        said.setdefault(source, {}).setdefault(figure.what, []).append(_sized(figure, lengths))
    for source, kinds in said.items():
        parts = (f"{what} {', '.join(lengths)}" for what, lengths in kinds.items())
        yield f"Fittings ({lengths.unit}): {'; '.join(parts)} ({source})."


def _sized(figure: FittingFigure, lengths: LengthFormat) -> str:
    """A trade size and its figure, "2: 2.95"; the figure alone where all sizes have it."""
    length = lengths.exact(figure.length_in)
    return f"{figure.label}: {length}" if figure.label else length


def _usual(job: Job, face: FaceLayout) -> Iterator[str]:
    rows = [row.row.name for row in face.rows if row.row.gap_from_shop]
    gaps = [f"gap of row {', '.join(rows)}"] if rows else []
    taken = [*gaps, *job.printing.from_shop]
    if taken:
        yield f"Taken from {job.shop.source}: {', '.join(taken)}."
