"""Turns a job or shop file on disk into its text, or says why there is none; its meaning is for
`yaml_tree.py`.
"""

from __future__ import annotations

from itertools import islice
from pathlib import Path

from templates_engine.errors import JobProblems, Problem
from templates_engine.trade.not_in_tables import nearest
from templates_engine.values import Struct

MOST_BYTES = 1_000_000
"""A job of some thousand raceways is a tenth of this."""


class FileKind(Struct, frozen=True):
    """What a file is, for messages: its name, how to begin it, and what to do where it is too much."""

    name: str
    begin: str
    part: str

    @property
    def too_large(self) -> tuple[str, str]:
        return "The file is larger than 1 MB.", self.part


JOB_FILE = FileKind(
    "job",
    "Begin with `job:`, `enclosure:` and `faces:`, each at the start of a line.",
    "Write each enclosure as a job file of its own.",
)
SHOP_FILE = FileKind(
    "shop",
    "Begin with `fittings:`, `punches:` or `gap:` at the start of a line, or delete the file.",
    "Keep the fittings and punches that are used.",
)


def load_text(path: Path | str, kind: FileKind = JOB_FILE) -> str:
    """The text of a file; raises JobProblems when there is none to be had."""
    file = file_name(path)
    try:
        data = _bytes(Path(path), file, kind)
    except PermissionError as error:
        raise _refused(file, "You have no permission to read this file.", "Ask its owner for it.") from error
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise _refused(
            file, f"The file cannot be read: {reason}.", "Check its name and where it is kept."
        ) from error
    if other := _other_kind(data):
        raise _refused(
            file,
            f"This is {other}, not a plain text file.",
            "Open it with the program that made it and save it as plain text (encoding UTF-8), under a name "
            "that ends in .yaml.",
        )
    if len(data) > MOST_BYTES:
        raise _refused(file, *kind.too_large)
    if data.startswith((b"\xff\xfe", b"\xfe\xff")) or b"\x00" in data[:4]:
        wrong = "The file is saved as UTF-16 or UTF-32, not as UTF-8."
        raise _refused(file, wrong, "Save it again and choose the encoding UTF-8.", 1)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        wrong = f"A character here is not UTF-8 (byte {data[error.start]:#04x})."
        raise _refused(file, wrong, "Save the file again and choose the encoding UTF-8.", line) from error


def file_name(path: Path | str) -> str:
    """The file's name as it can be printed anywhere."""
    return str(path).encode("utf-8", "backslashreplace").decode()


_SIGNS = (
    (b"{\\rtf", "a word processor's file"),
    (b"\xd0\xcf\x11\xe0", "an older word processor's or spreadsheet file"),
    (b"%PDF", "a PDF"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"<!DOCTYPE", "a web page"),
    (b"<html", "a web page"),
)
"""How files begin that are no plain text."""
_ZIPPED = (
    (b"word/", "a word processor's file"),
    (b"opendocument.text", "a word processor's file"),
    (b"xl/", "a spreadsheet"),
    (b"opendocument.spreadsheet", "a spreadsheet"),
)
"""What stands near the beginning of those that are packed."""


def _other_kind(data: bytes) -> str:
    """What a file is that was not saved as plain text; empty for text."""
    if data.startswith(b"PK\x03\x04"):
        return next((kind for sign, kind in _ZIPPED if sign in data), "a packed (zip) file")
    return next((kind for sign, kind in _SIGNS if data.startswith(sign)), "")


_ENDINGS = (".yaml", ".yml", ".yaml.txt", ".yml.txt")
"""A job's; some systems hide the last one and let nobody know of it."""


def _job_names(folder: Path) -> list[str]:
    """The names in a folder that a job may have, sorted; none where the folder cannot be read."""
    try:
        names = sorted(entry.name for entry in islice(folder.iterdir(), _MOST_LOOKED_AT))
    except (OSError, ValueError):
        return []
    return [name for name in names if name.lower().endswith(_ENDINGS) and name != "shop.yaml"]


def _near_name(place: Path) -> str:
    """The job beside a name that is not there which is most like it; empty where none is."""
    names = _job_names(place.parent)
    alike = place.name.lower(), place.stem.lower()
    same = (name for name in names if Path(name).stem.lower() in alike or name.lower() == f"{alike[0]}.txt")
    near = next(same, None) or nearest(place.name, names)
    return str(place.with_name(near)) if near else ""


_MOST_LOOKED_AT = 2000
"""Names looked through in a folder."""


def _bytes(place: Path, file: str, kind: FileKind) -> bytes:
    if place.is_dir():
        inside = [str(place / name) for name in _job_names(place)]
        remedy = f"Name the {kind.name} file inside it{f', such as {inside[0]}' if inside else ''}."
        raise _refused(file, f"This is a folder, not a {kind.name} file.", remedy)
    if not place.exists():
        near = _near_name(place)
        check = "Check the spelling of the name and the folder it is in."
        raise _refused(file, "There is no such file.", f"Did you mean {near}?" if near else check)
    if not place.is_file():  # a pipe or a device would never end
        remedy = f"Save the {kind.name} as a text file and name that."
        raise _refused(file, "This is not an ordinary file.", remedy)
    with place.open("rb") as stream:
        return stream.read(MOST_BYTES + 1)


def _refused(file: str, message: str, remedy: str, line: int | None = None) -> JobProblems:
    return JobProblems([Problem(message, remedy, file, line)])
