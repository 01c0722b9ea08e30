"""Turns a job or shop file on disk into its text, or says why there is none; its meaning is for
`yaml_text.py`.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from templates_engine.errors import JobProblems, Problem

MOST_BYTES = 1_000_000
"""A job of some thousand raceways is a tenth of this."""


@dataclass(frozen=True)
class FileKind:
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


def _bytes(place: Path, file: str, kind: FileKind) -> bytes:
    if place.is_dir():
        raise _refused(
            file, f"This is a folder, not a {kind.name} file.", f"Name the {kind.name} file inside it."
        )
    if not place.exists():
        raise _refused(
            file, "There is no such file.", "Check the spelling of the name and the folder it is in."
        )
    if not place.is_file():  # a pipe or a device would never end
        remedy = f"Save the {kind.name} as a text file and name that."
        raise _refused(file, "This is not an ordinary file.", remedy)
    with place.open("rb") as stream:
        return stream.read(MOST_BYTES + 1)


def _refused(file: str, message: str, remedy: str, line: int | None = None) -> JobProblems:
    return JobProblems([Problem(message, remedy, file, line)])
