"""Binds the templates of a building into one PDF a paper: contents, findings of all, then each enclosure.

A printer set to one paper may scale a page of another, so no binder holds two.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from pathlib import Path

from templates_engine.atomic import NewFile
from templates_engine.drawing.shapes import Document
from templates_engine.errors import CannotWrite, Problem
from templates_engine.office.binder.front_pages import BinderContents, BoundFile, binder_title, front_pages
from templates_engine.office.draw.drawn_before import code_of_bytes
from templates_engine.office.draw.one_job import DrawnJob, State
from templates_engine.outputs import beside, write_outputs
from templates_engine.values import Struct, replace
from templates_engine.writers.pdf import pdf_bytes
from templates_engine.writers.pdf_binder import BinderPart, binder_bytes, binder_check

_ROLL = "roll"


class Binder(Struct, frozen=True):
    """A binder that is written."""

    path: Path
    paper: str
    pages: int
    enclosures: int


def bind(jobs: Sequence[DrawnJob], path: Path, overwrite: Sequence[Path] = ()) -> tuple[Binder, ...]:
    """Writes the binders: ``path`` for the paper most pages are on, NAME-PAPER beside it for each other.

    The index of each names the pages of all. None without any template. Raises CannotWrite.
    """
    kept = sorted((one for one in jobs if one.state is not State.FAILED), key=_place_in_building)
    groups = _by_paper(kept)
    if not groups:
        return ()
    left_out = tuple(one for one in jobs if one.state is State.FAILED)
    names = {paper: beside(path, _slug(paper)) if index else path for index, paper in enumerate(groups)}
    fronts = _fronts(BinderContents(tuple(kept), left_out, groups, names, {}))
    parts = {paper: _parts(group, fronts.get(paper)) for paper, group in groups.items()}
    title = binder_title(kept)
    files = [
        NewFile(names[paper], binder_bytes(title, f"on {paper}", bound), binder_check(bound, names[paper]))
        for paper, bound in parts.items()
    ]
    write_outputs("pdf", files, overwrite)
    return tuple(
        Binder(
            names[paper], paper, _pages(group, fronts.get(paper)), len({one.job.order.name for one in group})
        )
        for paper, group in groups.items()
    )


def is_of_binder(path: Path, binder: Path) -> bool:
    """Whether a name is that of a binder, or of one beside it for another paper."""
    is_beside = path.parent == binder.parent and path.suffix == binder.suffix
    return path == binder or (is_beside and path.name.startswith(f"{binder.stem}-"))


def _place_in_building(job: DrawnJob) -> tuple[str, list[tuple[int, str]]]:
    """Folder by folder, LP-9 before LP-10."""
    words = re.findall(r"\d+|\D+", job.mark)
    return str(job.order.job.parent), [(int(one), "") if one.isdecimal() else (-1, one) for one in words]


def _by_paper(jobs: Sequence[DrawnJob]) -> dict[str, list[BoundFile]]:
    """The files by their paper: sheets before rolls, the paper with most pages first."""
    groups: dict[str, list[BoundFile]] = {}
    for job in jobs:
        for file in job.files:
            groups.setdefault(file.paper, []).append(BoundFile(job, file))

    def place(paper: str) -> tuple[bool, int, str]:
        return _ROLL in paper, -sum(one.file.pages for one in groups[paper]), paper

    return {paper: groups[paper] for paper in sorted(groups, key=place)}


def _slug(paper: str) -> str:
    return re.sub(r"[^\w.-]+", "-", paper)


# --- pages --------------------------------------------------------------------------------------------------


def _fronts(contents: BinderContents) -> dict[str, Document]:
    """The pages before the templates of each binder; a roll has none."""
    counts = {paper: 1 for paper in contents.groups if _ROLL not in paper}
    while True:  # more digits in the index may take another page, which moves all
        contents = replace(contents, first=_first_pages(contents, counts))
        made = {paper: front_pages(contents, paper) for paper in counts}
        found = {paper: len(one.pages) for paper, one in made.items()}
        if found == counts:
            return made
        counts = {paper: max(found[paper], counts[paper]) for paper in counts}


def _first_pages(contents: BinderContents, fronts: Mapping[str, int]) -> dict[str, int]:
    first: dict[str, int] = {}
    for paper, group in contents.groups.items():
        page = 1 + fronts.get(paper, 0)
        for one in group:
            first[one.file.name] = page
            page += one.file.pages
    return first


def _parts(group: Sequence[BoundFile], front: Document | None) -> list[BinderPart]:
    before = [BinderPart("", pdf_bytes(front))] if front is not None else []
    return before + [BinderPart(_bookmark(one, group), _read(one)) for one in group]


def _pages(group: Sequence[BoundFile], front: Document | None) -> int:
    return (len(front.pages) if front is not None else 0) + sum(one.file.pages for one in group)


def _bookmark(bound: BoundFile, group: Sequence[BoundFile]) -> str:
    """The enclosure's mark, with its file where another has the same."""
    mark = bound.job.mark
    is_shared = any(one.job.mark == mark and one.job is not bound.job for one in group)
    return f"{mark} ({bound.job.order.name})" if is_shared or not mark else mark


def _read(bound: BoundFile) -> bytes:
    """The file as it was written. Raises CannotWrite where something changed it meanwhile."""
    path = bound.job.order.into / bound.file.name
    try:
        data = path.read_bytes()
    except OSError:
        data = b""
    if code_of_bytes(data) != bound.file.code:
        words = f"the binder was not written: {path} is not as it was drawn."
        raise CannotWrite([Problem(words, "Leave the folder alone meanwhile, and run again.")])
    return data
