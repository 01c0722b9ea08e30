"""Keeps a command from writing over what it should not: a file it did not make, or a name that means another
format; the writing itself is `atomic.py`'s.
"""

from __future__ import annotations

import errno
import hashlib
import os
from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from templates_engine.atomic import NewFile, cannot_write, write_together
from templates_engine.errors import CannotWrite, Problem

MAKER = "templates-engine"
CSV_START = "job,revision,enclosure,face,mark_from,fingerprint,"
"""How the heading of a table of holes begins: a table has no other place to say who made it."""
ANSWERS_START = f"# Answers for {MAKER} new"
"""How answers kept for a later run begin. A job file has no such mark: it is its writer's own."""

TABLE_CODE = MAKER
"""The last heading of a table that people work on: a code of all its cells stands behind it."""
BOOK_MARK = MAKER.encode()
"""The comment of a workbook's archive; a program that saves the workbook again leaves it out."""

Format = Literal["pdf", "svg", "dxf", "json", "csv", "xlsx", "yaml"]

_MARKS: dict[bytes, bytes] = {
    b"%PDF-": f"/Producer ({MAKER})".encode(),
    b"<?xml": f"<metadata>{MAKER}</metadata>".encode(),
    b"999\n": MAKER.encode(),
    b"{\n": f'"made_by": "{MAKER}"'.encode(),
    CSV_START.encode(): b"",
    ANSWERS_START.encode(): b"",
}
"""What a file of ours holds, by how it begins; only a PDF says it elsewhere than near its beginning."""
_NEAR = 1000
_LARGEST = 200_000_000

_MEANT_BY_SUFFIX = {
    **dict.fromkeys((".doc", ".docx", ".odt", ".rtf", ".pages"), "a word processor's document"),
    **dict.fromkeys((".xls", ".ods", ".numbers"), "a spreadsheet"),
    **dict.fromkeys((".png", ".jpg", ".jpeg", ".gif", ".tif", ".tiff", ".bmp", ".webp"), "a picture"),
    **dict.fromkeys((".yaml", ".yml"), "a job or shop file"),
    **dict.fromkeys((".txt", ".md", ".log"), "plain text"),
    **dict.fromkeys((".htm", ".html"), "a web page"),
    **dict.fromkeys((".zip", ".gz", ".7z", ".tar"), "an archive"),
    **dict.fromkeys((".ps", ".eps", ".xps"), "another print format"),
    **dict.fromkeys((".dwg", ".step", ".stp", ".stl"), "another drawing format"),
    ".pdf": "a PDF",
    ".svg": "an SVG drawing",
    ".dxf": "a DXF drawing",
    ".json": "JSON",
    ".csv": "a CSV table",
    ".xlsx": "a workbook",
}
_ALSO: dict[Format, tuple[str, ...]] = {"json": (".txt",), "csv": (".txt",), "yaml": (".yml",)}
"""Further suffixes that mean a format well enough."""


def write_outputs(format_: Format, files: Sequence[NewFile], overwrite: Sequence[Path] = ()) -> None:
    """Write what a command makes, all files or none. ``overwrite`` names files that may be written over
    though this program did not make them.

    Raises CannotWrite, also for a name that means another format and for two names of one file.
    """
    refuse_taken(format_, [file.path for file in files], overwrite)
    write_together(files)


def refuse_taken(format_: Format, paths: Sequence[Path], overwrite: Sequence[Path] = ()) -> None:
    """Raises CannotWrite where ``write_outputs`` would refuse such names, without writing."""
    _refuse_stray_names(paths, overwrite)
    _refuse_one_file_twice(paths)
    for path in paths:
        _refuse_suffix(path, format_)
        if not any(_is_same(path, named) for named in overwrite) and not _may_be_replaced(path):
            problem = Problem(
                f"could not write {_shown(path)}: a file that {MAKER} did not make has that name already.",
                f"Choose another name, or, to lose that file, add: --overwrite {_quoted(path)}",
            )
            raise CannotWrite([problem])


def beside(path: Path, word: str) -> Path:
    """The name of a further file of the same run: NAME-word.pdf beside NAME.pdf. Raises CannotWrite."""
    if not path.name or path.name == "..":
        raise cannot_write(path, IsADirectoryError(errno.EISDIR, "", str(path)))
    return path.with_name(f"{path.stem}-{word}{path.suffix}")


def _may_be_replaced(path: Path) -> bool:
    """Whether nothing is lost: no file stands there, an empty one, or one that this program made."""
    if not path.is_file():  # what is no file at all is refused, with its reason, where it is written
        return True
    try:
        with path.open("rb") as stream:
            data = stream.read(_LARGEST)
    except OSError as error:
        raise cannot_write(path, error) from error
    if not data:
        return True
    for start, mark in _MARKS.items():
        if data.startswith(start):
            return mark in (data if start == b"%PDF-" else data[:_NEAR])
    if data.startswith(b"PK\3\4"):
        return data.endswith(BOOK_MARK)
    return _is_untouched_table(data)


def signed_table(data: bytes) -> bytes:
    """A table whose first line ends in TABLE_CODE, with the code of its cells behind that."""
    headings, _, rows = data.partition(b"\n")
    return b"%s %s\n%s" % (headings, _code_of(data), rows)


def _is_untouched_table(data: bytes) -> bool:
    """Whether it is a table as this program wrote it: nobody's cells are lost with it."""
    headings, _, rows = data.partition(b"\n")
    names, _, code = headings.rpartition(b" ")
    return names.endswith(f",{TABLE_CODE}".encode()) and _code_of(names + b"\n" + rows) == code


def _code_of(data: bytes) -> bytes:
    return hashlib.sha256(data).hexdigest()[:8].encode()


def _refuse_suffix(path: Path, format_: Format) -> None:
    meant = _MEANT_BY_SUFFIX.get(path.suffix.lower())
    right = f".{format_}"
    is_right = path.suffix.lower() in (right, *_ALSO.get(format_, ()))
    if meant is None or is_right:
        return
    problem = Problem(
        f"could not write {_shown(path)}: '{path.suffix}' means {meant}, but "
        f"{_MEANT_BY_SUFFIX[right]} is to be written.",
        f"Did you mean {_shown(path.with_suffix(right))}?",
    )
    raise CannotWrite([problem])


def _refuse_stray_names(paths: Sequence[Path], overwrite: Sequence[Path]) -> None:
    """A name that no file is written under is a slip, and the file that was meant is not told by name."""
    for named in overwrite:
        if not any(_is_same(path, named) for path in paths):
            written = ", ".join(_shown(path) for path in paths)
            problem = Problem(
                f"--overwrite names {_shown(named)}, but what is written is {written}.",
                "Name that, or leave --overwrite out.",
            )
            raise CannotWrite([problem])


def _refuse_one_file_twice(paths: Sequence[Path]) -> None:
    for index, path in enumerate(paths):
        other = next((one for one in paths[:index] if _is_same(one, path)), None)
        if other is not None:
            problem = Problem(
                f"could not write {_shown(path)}: it is the same file as {_shown(other)}, written too.",
                "Remove the link, or choose another name.",
            )
            raise CannotWrite([problem])


def _is_same(one: Path, other: Path) -> bool:
    """Whether two names lead to one place, through links and whatever the case where the disk has none.

    Two hard links are two places: moving a new file over one leaves the other as it is.
    """
    first, second = os.path.realpath(one), os.path.realpath(other)
    if first == second:
        return True
    is_spelt_alike = first.casefold() == second.casefold()
    return is_spelt_alike and all(map(os.path.exists, (first, second))) and os.path.samefile(first, second)


def _shown(path: Path) -> str:
    return str(path).encode("utf-8", "backslashreplace").decode("utf-8")


def _quoted(path: Path) -> str:
    shown = _shown(path)
    return f'"{shown}"' if set(shown) & set(" '()&;$") else shown
