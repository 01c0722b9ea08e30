"""Says why a plan is as it is: what the other way round, other papers and margins need; decides nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from templates_engine.job.model import MarginsIn, PaperSize
from templates_engine.layout.model import Layout
from templates_engine.sheets.face import BORDER_IN, cut_into_tiles, total_sheets
from templates_engine.sheets.model import FacePlan
from templates_engine.sheets.papers import COMMON, Orientation, Page, pages_of
from templates_engine.units import Speech

_ROLL = PaperSize("24 in roll", 24.0, None)
_NARROW_MARGIN_IN = 0.20
"""What most office printers leave at the least; practitioners' measures run from 0.157 to 0.200 in."""


def reasons(layout: Layout, page: Page, faces: tuple[FacePlan, ...]) -> tuple[str, ...]:
    """The sentences that go with a plan on ``page``."""
    used = sum(len(face.sheets) for face in faces)
    return (
        _first(layout, page, used),
        *_listed(layout, page),
        *_cuts(layout, faces, used),
        *_borders(layout, faces),
        *_others(layout, used),
        *_margins(layout, page, used),
    )


def _first(layout: Layout, page: Page, used: int) -> str:
    head = f"{page.paper.name}, {page.orientation}: {_sheets(used)}"
    other: Orientation = "portrait" if page.orientation == "landscape" else "landscape"
    count = _fewest(layout, pages_of(page.paper, other, layout.job.printing.margins))
    if count is None:
        return f"{head}; {other} has no room for a view."
    if count == used:
        return f"{head}; {other} would need as many."
    asked = layout.job.printing.orientation != "either"
    return f"{head}{', as the job asks' if asked and count < used else ''}; {other} would need {count}."


def _listed(layout: Layout, page: Page) -> Iterator[str]:
    """The other papers the job lists."""
    settings = layout.job.printing
    needs = [
        (paper.name, _fewest(layout, pages_of(paper, settings.orientation, settings.margins)))
        for paper in settings.papers
        if paper != page.paper
    ]
    if needs:
        said = [
            f"{name} has no room for a view" if count is None else f"{name} {count}" for name, count in needs
        ]
        yield f"Of the other papers listed: {', '.join(said)}."


def _cuts(layout: Layout, faces: tuple[FacePlan, ...], used: int) -> Iterator[str]:
    if not any(face.joints for face in faces):
        return
    cut = [
        f"{'hole' if len(face.cut_holes) == 1 else 'holes'} {_and(face.cut_holes)} "
        f"on the {face.layout.job.face.value} face"
        for face in faces
        if face.cut_holes
    ]
    if not cut:
        yield "No joint crosses a hole."
        return
    yield (
        f"Joints cross {_and(cut)}: with so few sheets that cannot be avoided. "
        "Check the centres there by the table of tape positions."
    )
    whole = [_article(paper.name) for paper in (*COMMON, _ROLL) if _cuts_none(layout, paper, used)]
    if whole:
        yield f"No joint would cross a hole on {' or '.join(whole)}."


def _cuts_none(layout: Layout, paper: PaperSize, used: int) -> bool:
    """Whether the paper shows every hole whole in no more sheets, some way round."""
    overlap_in = layout.job.printing.overlap_in
    views = [
        page.shows(overlap_in)
        for page in pages_of(paper, "either", layout.job.printing.margins)
        if page.takes(overlap_in)
    ]
    return any(
        all(cut_into_tiles(face, view).harm == 0 for face in layout.faces)
        for view in views
        if total_sheets(layout, view) <= used
    )


def _borders(layout: Layout, faces: tuple[FacePlan, ...]) -> Iterator[str]:
    speech = Speech(layout.job.unit, layout.job.denominator)
    for face in faces:
        rect = face.plane.rect
        for side, width in (
            ("left and right", rect.left - face.bounds.left),
            ("above and below", face.bounds.top - rect.top),
        ):
            if width < BORDER_IN - 1e-9:
                yield (
                    f"The {face.layout.job.face.value} face has only {speech.exact(width)} {layout.job.unit} "
                    f"of paper past its edges {side}; more would take more sheets."
                )


def _others(layout: Layout, used: int) -> Iterator[str]:
    """Common papers, and a plotter's roll, on which fewer sheets would do; any way round."""
    settings = layout.job.printing
    listed = {paper.name for paper in settings.papers}
    better = []
    for paper in (*COMMON, _ROLL):
        count = _fewest(layout, pages_of(paper, "either", settings.margins))
        if paper.name not in listed and count is not None and count < used:
            better.append(f"{count} on {_article(paper.name)}")
    if better:
        yield f"Other paper needs fewer: {', '.join(better)}."


def _margins(layout: Layout, page: Page, used: int) -> Iterator[str]:
    """What a printer with narrower margins would save on the same paper."""
    settings = layout.job.printing
    now = settings.margins
    sides = (now.top_in, now.bottom_in, now.left_in, now.right_in)
    narrow = MarginsIn(*(min(side, _NARROW_MARGIN_IN) for side in sides))
    count = _fewest(layout, pages_of(page.paper, settings.orientation, narrow))
    if count is not None and count < used:
        speech = Speech(layout.job.unit, layout.job.denominator)
        yield (
            f"A printer that leaves margins of {speech.exact(_NARROW_MARGIN_IN)} {layout.job.unit} or less "
            f"would need {count}."
        )


def _fewest(layout: Layout, pages: Iterable[Page]) -> int | None:
    """The fewest sheets on any of the pages; None when none has room for a view."""
    overlap_in = layout.job.printing.overlap_in
    counts = [total_sheets(layout, page.shows(overlap_in)) for page in pages if page.takes(overlap_in)]
    return min(counts, default=None)


def _sheets(count: int) -> str:
    return "1 sheet" if count == 1 else f"{count} sheets"


def _article(name: str) -> str:
    return f"a {name}" if name.endswith("roll") else name


def _and(words: Iterable[str]) -> str:
    *most, last = words  # a list is never said when it is empty
    return f"{', '.join(most)} and {last}" if most else last
