"""Remembers, beside the templates of a building, what each was drawn from, so that unchanged ones are left
alone.

Lost or damaged it costs the drawing anew, no more: a file counts only while its bytes are those that were
written.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable, Mapping
from pathlib import Path

from templates_engine import __version__
from templates_engine.atomic import NewFile
from templates_engine.errors import CannotWrite
from templates_engine.outputs import MAKER, write_outputs
from templates_engine.pipeline import Solved
from templates_engine.sheets.model import SheetPlan
from templates_engine.values import Struct, as_json, from_json, replace

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
    job: str = ""
    """The job file, from the templates' folder on."""

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


class _Remembered(Struct, frozen=True):
    """The whole file; templates by their names."""

    made_by: str
    drawn: dict[str, DrawnBefore]


def read_drawn(into: Path) -> dict[str, DrawnBefore]:
    """What is remembered of a folder, by the templates' names; nothing where that cannot be read."""
    try:
        return from_json((into / FILE).read_bytes(), _Remembered).drawn
    except (OSError, ValueError):
        return {}


def keep_drawn(into: Path, drawn: Mapping[str, DrawnBefore]) -> None:
    """Remembers these too; whoever draws there at the same moment may be forgotten, and drawn once more."""
    before = read_drawn(into)
    now = {**before, **drawn}
    if now == before:
        return
    there = {name: one for name, one in sorted(now.items()) if (into / name).exists()}
    text = as_json(_Remembered(MAKER, there), over_lines=True)
    try:
        write_outputs("json", [NewFile(into / FILE, text.encode())])
    except CannotWrite:  # everything is drawn anew the next time, as it is where nothing may be written
        return


def jobs_gone(into: Path) -> dict[Path, Path]:
    """The templates that stand though their jobs do not any more, with the jobs."""
    remembered = ((name, into / one.job) for name, one in read_drawn(into).items() if one.job)
    return {
        into / name: Path(os.path.normpath(job))
        for name, job in remembered
        if (into / name).exists() and not job.exists()
    }


# --- what a template is drawn from --------------------------------------------------------------------------


def drawn_from(solved: Solved, plan: SheetPlan, draft: bool, program: str) -> str:
    """Changes when the layout, the paper, the words on it or the program change; not with comments."""
    layout = replace(solved.layout, job=replace(solved.layout.job, file=""))
    told = repr((program, draft, layout, plan, solved.findings, solved.contents))
    return hashlib.sha256(told.encode("utf-8", "surrogatepass")).hexdigest()


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
