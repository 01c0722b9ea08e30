"""Remembers, beside the templates of a building, what each was drawn from, so that unchanged ones are left
alone.

Lost or damaged it costs the drawing anew, no more: a file counts only while its bytes are those that were
written.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from enum import Enum
from pathlib import Path
from typing import Any

from templates_engine import __version__
from templates_engine.atomic import NewFile
from templates_engine.errors import CannotWrite
from templates_engine.job.model import FilePlace, Job
from templates_engine.outputs import MAKER, write_outputs
from templates_engine.pipeline import Solved
from templates_engine.sheets.model import SheetPlan
from templates_engine.values import Struct, astuple, fields_of

FILE = ".drawn.json"
_PACKAGE = Path(__file__).parents[1]


class TemplateFile(Struct, frozen=True):
    """A file of a template, by its name in the folder of the whole building."""

    name: str
    pages: int
    code: str
    """SHA-256 of its bytes."""
    paper: str
    width_in: float
    height_in: float


class DrawnBefore(Struct, frozen=True):
    """What a template was drawn from, in short, and the files it became."""

    drawn_from: str
    files: tuple[TemplateFile, ...]

    def stands(self, into: Path) -> bool:
        """Whether its files are there as they were written."""
        return bool(self.files) and all(code_of(into / one.name) == one.code for one in self.files)


def code_of(path: Path) -> str:
    """SHA-256 of a file; "" where it cannot be read."""
    try:
        return code_of_bytes(path.read_bytes())
    except OSError:
        return ""


def code_of_bytes(data: bytes) -> str:
    """SHA-256 of a file's bytes."""
    return hashlib.sha256(data).hexdigest()


def read_drawn(into: Path) -> dict[str, DrawnBefore]:
    """What is remembered of a folder, by the templates' names; nothing where that cannot be read."""
    try:
        kept = json.loads((into / FILE).read_text(encoding="utf-8"))["drawn"]
        return {
            str(name): DrawnBefore(str(one["from"]), tuple(TemplateFile(*file) for file in one["files"]))
            for name, one in kept.items()
        }
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return {}


def keep_drawn(into: Path, drawn: Mapping[str, DrawnBefore]) -> None:
    """Remembers these too; whoever draws there at the same moment may be forgotten, and drawn once more."""
    before = read_drawn(into)
    now = {**before, **drawn}
    if now == before:
        return
    told = {
        name: {"from": one.drawn_from, "files": [astuple(file) for file in one.files]}
        for name, one in sorted(now.items())
        if (into / name).exists()
    }
    text = json.dumps({"made_by": MAKER, "drawn": told}, indent=1, ensure_ascii=False)
    try:
        write_outputs("json", [NewFile(into / FILE, text.encode())])
    except CannotWrite:  # everything is drawn anew the next time, as it is where nothing may be written
        return


# --- what a template is drawn from --------------------------------------------------------------------------


def drawn_from(solved: Solved, plan: SheetPlan, draft: bool, program: str) -> str:
    """Changes when the layout, the paper, the words on it or the program change; not with comments."""
    parts = (solved.layout, plan, solved.findings, solved.loads)
    text = json.dumps([program, draft, *map(_told, parts)], separators=(",", ":"))
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def program_code() -> str:
    """Changes with the version, with any line of the program and its tables, and with what writes for it."""
    import reportlab

    code = hashlib.sha256(f"{__version__} {reportlab.Version}".encode())
    for path in _program_files():
        code.update(path.name.encode())
        code.update(path.read_bytes())
    return code.hexdigest()


def _program_files() -> Iterable[Path]:
    from templates_engine.resources import folder

    yield from (path for kind in ("*.py", "*.yaml") for path in sorted(_PACKAGE.rglob(kind)))
    yield from (path for path in sorted(folder("fonts").iterdir()) if path.is_file())


def _told(value: Any) -> Any:
    """A stage's value as JSON takes it, without the places in the job's file."""
    if isinstance(value, Struct):
        return [type(value).__name__, *_fields_told(value)]
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, Mapping):
        return [[_told(key), _told(one)] for key, one in value.items()]
    if isinstance(value, tuple | list):
        return [_told(one) for one in value]
    if isinstance(value, frozenset | set):
        return sorted(json.dumps(_told(one)) for one in value)
    return value if value is None or isinstance(value, str | int | float) else repr(value)


def _fields_told(value: Struct) -> Iterator[Any]:
    for name, one in fields_of(value):
        if not isinstance(one, FilePlace) and not (isinstance(value, Job) and name == "file"):
            yield _told(one)
