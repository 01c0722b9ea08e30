"""Turns the code of a printed sheet into what the sheet is, whether it is current, and what moved since."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from templates_engine.errors import JobProblems, Problem, TemplatesError
from templates_engine.office.register.faces import Moves, RecordedFace, moves
from templates_engine.office.register.store import DRAFT, EntryFace, Register
from templates_engine.office.register.today import job_today
from templates_engine.values import Struct

_CODE = re.compile(r"(?<![0-9A-Z])([0-9A-Z]{4})-([0-9A-Z]{4})(?:-([0-9A-Z]{3}))?(?![0-9A-Z-])")
_RUN_TOGETHER = re.compile(r"([0-9A-Z]{4})([0-9A-Z]{4})([0-9A-Z]{3})?")
_MISREAD = str.maketrans("OIL", "011")
"""Codes have none of these letters (see layout/fingerprint.py): who types one read a digit."""


class SheetCode(Struct, frozen=True):
    """A code as printed on sheets: the layout's fingerprint, and what the cut into sheets adds."""

    fingerprint: str
    sheets: str


class FaceToday(Struct, frozen=True):
    """A face as its job gives it now."""

    revision: str
    face: RecordedFace


class FoundSheet(Struct, frozen=True):
    """What a sheet is: the face it was drawn from, what was drawn last of that, and what the job says now."""

    sheet: EntryFace
    last: EntryFace
    """The last that was drawn of that face to be cut from."""
    today: FaceToday | None
    """None where the job has no such face any more, or cannot be read."""
    why_not_today: str
    other_cut: bool
    """Whether that face was drawn last on other sheets, so that the two prints do not fit together."""
    other_revisions: tuple[str, ...]
    """Under which the same layout was drawn too: the code is the same, and the sheet says which it is."""

    @property
    def is_current(self) -> bool:
        """Whether it may be marked from: the job still gives the same, under the same revision."""
        now = self.today
        is_same = now is not None and (now.revision, now.face.fingerprint) == (
            self.sheet.entry.revision,
            self.sheet.face.fingerprint,
        )
        return is_same and self.sheet.entry.how != DRAFT

    @property
    def newest(self) -> RecordedFace:
        """What is to be cut instead."""
        return self.today.face if self.today is not None else self.last.face

    @property
    def moves(self) -> Moves:
        """What became of the sheet's holes."""
        return moves(self.sheet.face, self.newest)


def read_codes(text: str) -> tuple[SheetCode, ...]:
    """The codes in what was typed, or in what a phone read off the square code."""
    told = text.upper()
    found = list(_CODE.finditer(told))
    if not found:
        together = re.sub(r"[^0-9A-Z]", "", told)
        found = [match for match in [_RUN_TOGETHER.fullmatch(together)] if match]
    parts = [[(part or "").translate(_MISREAD) for part in match.groups()] for match in found]
    return tuple(SheetCode(f"{first}-{second}", sheets) for first, second, sheets in parts)


def find_sheets(register: Register, text: str) -> tuple[FoundSheet, ...]:
    """What the sheet is; more than one where enclosures have the same layout and the text names none.

    Raises JobProblems for a text without a code, and for one the register does not know.
    """
    codes = read_codes(text)
    if not codes:
        remedy = "Type what stands behind `fingerprint` on the sheet: K7QM-2XWD-4QP."
        raise JobProblems([Problem("this is no code of a sheet.", remedy)])
    found = [(code, one) for code in codes for one in _sheets_of(register, code, text)]
    found = [(code, one) for code, one in found if code.sheets in ("", one.face.sheets)] or found
    if not found:
        shown = ", ".join(f"{one.fingerprint}-{one.sheets}".rstrip("-") for one in codes)
        remedy = "Compare it with the sheet once more. What was drawn before the register began is unknown."
        raise JobProblems([Problem(f"no sheet with the code {shown} was drawn here.", remedy)])
    named = [(code, one) for code, one in found if _is_named(one.entry.mark, text)]
    return tuple(_told(register, code, one) for code, one in named or found)


def _is_named(mark: str, text: str) -> bool:
    """Whether the text names the enclosure: LP-1, not LP-10."""
    pattern = rf"(?<![\w-]){re.escape(mark)}(?![\w-])"
    return bool(mark) and re.search(pattern, text, re.IGNORECASE) is not None


def _sheets_of(register: Register, code: SheetCode, text: str) -> Iterator[EntryFace]:
    """One for each enclosure's face: the last drawn on such sheets and under the revision the text names,
    where there is one.
    """
    told = re.search(r"^rev (.+)$", text, re.MULTILINE)
    by_face: dict[tuple[str, str], list[EntryFace]] = {}
    for one in register.with_fingerprint(code.fingerprint):
        by_face.setdefault((one.entry.job, one.face.face), []).append(one)
    for drawings in by_face.values():
        alike = [one for one in drawings if code.sheets in ("", one.face.sheets)] or drawings
        named = [one for one in alike if told and one.entry.revision == told[1].strip()]
        yield (named or alike)[-1]


def _told(register: Register, code: SheetCode, sheet: EntryFace) -> FoundSheet:
    face = sheet.face
    drawn = register.drawings_of(sheet.entry.job, face.face)
    last = ([one for one in drawn if one.entry.how != DRAFT] or [sheet])[-1]
    today, why_not = _today(register.folder / sheet.entry.job, face.face)
    is_same_layout = last.face.fingerprint == face.fingerprint
    is_other_cut = is_same_layout and last.face.sheets not in ("", code.sheets or face.sheets)
    revisions = dict.fromkeys(one.entry.revision for one in drawn if one.face.fingerprint == face.fingerprint)
    revisions.pop(sheet.entry.revision, None)
    return FoundSheet(sheet, last, today, why_not, is_other_cut, tuple(revisions))


def _today(file: Path, face: str) -> tuple[FaceToday | None, str]:
    try:
        told = job_today(file)
    except TemplatesError as error:
        return None, f"The job cannot be used today: {error.problems[0]}"
    found = next((one for one in told.faces if one.face == face), None)
    if found is None:
        return None, f"The job has no {face} any more."
    return FaceToday(told.job.revision, found), ""
