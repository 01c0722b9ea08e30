"""Turns what a face needs into what the cover page says to bring: fittings as a table, tools in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.advice.bring_list import BringList, Tool, ToolKind, bring_list
from templates_engine.drawing.cover.page_flow import PageBlock, beside, column_of, paragraph, section
from templates_engine.drawing.cover.tables import Column, right_end_in, table
from templates_engine.drawing.hole_lists import hole_list
from templates_engine.job.model import Job
from templates_engine.sheets.model import FacePlan
from templates_engine.units import LengthFormat

SIZE_COLUMN_IN, KIND_COLUMN_IN = 0.72, 2.0
"""What a column of the fittings table takes at most."""
BESIDE_IN, LEAST_TEXT_IN = 0.3, 3.0
"""Between the table and the words beside it, and the least width of those."""


def to_bring(job: Job, face: FacePlan, lengths: LengthFormat, width: float) -> tuple[PageBlock, ...]:
    """Fittings as a table by size, and beside it cutters and drills."""
    needed = bring_list(job, [face.layout])
    fittings = column_of(_fittings(needed, width))
    text_at = right_end_in(fittings) + BESIDE_IN
    if width - text_at < LEAST_TEXT_IN:
        pieces = [fittings, *_tools_told(needed, face, lengths, width)]
    else:
        told = column_of(_tools_told(needed, face, lengths, width - text_at))
        pieces = [beside(fittings, told, text_at)]
    return section("Bring", pieces)


def _tools_told(
    needed: BringList, face: FacePlan, lengths: LengthFormat, width: float
) -> Iterator[PageBlock]:
    """A sentence each for cutters and drills, bushings the job leaves open, and how all was counted."""
    yield from paragraph(" ".join(_tool_sentences(needed, lengths)), width)
    if needed.no_bushing_named:
        ids = hole_list(needed.no_bushing_named, face.layout.holes)
        yield from paragraph(f"The job names no bushing for {ids}: bring what it asks for.", width)
    yield from paragraph(f"From where: {'; '.join(needed.sources)}.", width)


def _tool_sentences(needed: BringList, lengths: LengthFormat) -> Iterator[str]:
    titles: dict[ToolKind, str] = {
        "knockout punch": "Knockout punches",
        "hole saw": "Hole saws",
        "step bit": "Step bits that reach",
        "pilot drill": "Pilot drills",
    }
    for kind, title in titles.items():
        if found := needed.of_kind(kind):
            yield f"{title}: {', '.join(_tool_words(tool, lengths) for tool in found)}."


def _tool_words(tool: Tool, lengths: LengthFormat) -> str:
    size = (
        f"size {tool.trade_size}" if tool.trade_size else f"{lengths.drill(tool.diameter_in)} {lengths.unit}"
    )
    count = len(tool.holes)
    return f"{size} ({count} hole{'s' if count > 1 else ''})"


def _fittings(needed: BringList, width: float) -> Iterator[PageBlock]:
    """How many of each kind and size; sizes that find no room beside the others in another table."""
    sizes = tuple(dict.fromkeys(one.size for one in needed.fittings))
    abreast = max(1, int((width - KIND_COLUMN_IN) / SIZE_COLUMN_IN))
    counts = {(one.kind, one.size): one.count for one in needed.fittings}
    for first in range(0, len(sizes), abreast):
        shown = sizes[first : first + abreast]
        kinds = dict.fromkeys(one.kind for one in needed.fittings if one.size in shown)
        columns = [Column("Fittings, how many", bold=True), *(Column(size, "right") for size in shown)]
        rows = [[kind, *(str(counts.get((kind, size), "")) for size in shown)] for kind in kinds]
        yield from table(columns, rows, width)
