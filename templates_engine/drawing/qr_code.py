"""Turns what a sheet is into a small matrix code that a phone reads as plain text; pages find it a place.

::

    +-------------------+      quiet zone: four modules of white all round; words and lines keep out of it
    |  ## # ####        |
    |  # ## # ##        |      dark modules are filled rectangles: runs within a row, made taller where the
    |  ####  # #        |      rows below have the same run
    +-------------------+
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import groupby

from templates_engine.drawing.edge_directions import side_words
from templates_engine.drawing.shapes import DrawnRect, Shape
from templates_engine.geometry import Rect
from templates_engine.job.model import Job
from templates_engine.sheets.model import FacePlan

QUIET_MODULES = 4
"""White round the code, as its standard asks (ISO/IEC 18004, from memory)."""
LEVEL = "m"
"""Error correction: a seventh of the code may be lost to dirt, and it still reads."""
MOST_BYTES = 106
"""As much as 41 x 41 modules hold at that level; more would make modules too small for a worn printer."""
MOST_MARK_BYTES, MOST_REVISION_BYTES = 24, 12


def sheet_code(job: Job, face: FacePlan, sheet: int | None, area: Rect) -> Iterator[Shape]:
    """The code of a sheet, or of the cover pages where ``sheet`` is None, quiet zone included in the area."""
    # Finding the best of eight patterns takes most of the time; sheets differ by a letter, so one does.
    pattern = _best_pattern(code_text(job, face, None))
    yield from code_shapes(_modules(code_text(job, face, sheet), pattern), area)


def code_text(job: Job, face: FacePlan, sheet: int | None) -> str:
    """What a phone shows: enclosure and face, sheet, revision, fingerprint, and what fits of the title."""
    count = len(face.sheets)
    which = (
        f"cover page, {count} sheet{'s' if count > 1 else ''}"
        if sheet is None
        else f"sheet {sheet} of {count}"
    )
    revision = f"rev {_cut(job.revision, MOST_REVISION_BYTES)}" if job.revision else "no revision"
    side = side_words(face).replace(", tape to the", "")
    lines = f"{_cut(job.enclosure.mark, MOST_MARK_BYTES)} {side}\n{which}\n{revision}\n{face.fingerprint}"
    title = _cut(job.title, MOST_BYTES - len(lines.encode()) - 1)
    return f"{lines}\n{title}" if title else lines


def code_shapes(modules: Sequence[Sequence[bool]], area: Rect) -> Iterator[Shape]:
    """The dark modules as filled boxes, the code with its quiet zone as large as the area lets it be."""
    module = min(area.width, area.height) / (len(modules) + 2 * QUIET_MODULES)
    side = module * len(modules)
    left = area.left + (area.width - side) / 2
    top = area.top - (area.height - side) / 2
    xs = [left + column * module for column in range(len(modules) + 1)]
    ys = [top - row * module for row in range(len(modules) + 1)]
    for row, last_row, column, last_column in _runs(modules):
        yield DrawnRect(Rect(xs[column], ys[last_row], xs[last_column], ys[row]), None, "frame", fill=0.0)


def _runs(modules: Sequence[Sequence[bool]]) -> Iterator[tuple[int, int, int, int]]:
    """(row, row after the last, column, column after the last) of rectangles that cover the dark modules."""
    open_since: dict[tuple[int, int], int] = {}
    for row, line in enumerate((*modules, ())):
        runs = set(_dark(line))
        for run, since in list(open_since.items()):
            if run not in runs:
                yield since, row, *run
                del open_since[run]
        for run in sorted(runs):
            open_since.setdefault(run, row)


def _dark(line: Sequence[bool]) -> Iterator[tuple[int, int]]:
    """(first column, column after the last) of each run of dark modules."""
    start = 0
    for is_dark, run in groupby(line):
        end = start + len(list(run))
        if is_dark:
            yield start, end
        start = end


@lru_cache(maxsize=128)
def _modules(text: str, pattern: int | None) -> tuple[tuple[bool, ...], ...]:
    import segno

    code = segno.make(text, error=LEVEL, micro=False, mask=pattern, encoding="utf-8")
    return tuple(tuple(bool(module) for module in row) for row in code.matrix)


@lru_cache(maxsize=64)
def _best_pattern(text: str) -> int:
    """The standard's choice among its eight masks, the one without large blots."""
    import segno

    return int(segno.make(text, error=LEVEL, micro=False, encoding="utf-8").mask)


def _cut(text: str, most_bytes: int) -> str:
    """As much of the text as fits in that many bytes, with an ellipsis where it was cut."""
    shown = " ".join(text.encode("utf-8", "replace").decode().split())
    if len(shown.encode()) <= most_bytes:
        return shown
    room = most_bytes - len("…".encode())
    return shown.encode()[: max(room, 0)].decode(errors="ignore").rstrip() + "…" if room > 0 else ""
