"""Turns a job into one text of all that a person gets from it: pages, what the terminal says, exports.

The text is read from the finished files, words by their places on the page; a person reads what changes.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import chdir
from pathlib import Path

from click.testing import CliRunner
from eight_cases import EIGHT
from pdf_reading import ReadText, page_count, read_text_lines

from templates_engine.cli.main import app
from templates_engine.resources import folder

HERE = Path(__file__).parent
SAME_LINE_IN = 0.045
"""Words whose base lines are no further apart stand on one line."""
COLUMN_IN = 0.35
"""White from which a bar tells that words belong to another column."""
COMMANDS = (("check",), ("holes",), ("fit",))
EXPORTS = ("csv", "json")


def jobs() -> dict[str, str]:
    """Job texts by the name of their golden file: every sample, and every face from either side."""
    found = {
        path.stem: path.read_text(encoding="utf-8") for path in sorted(folder("sample_jobs").glob("*.yaml"))
    }
    for face in ("top", "bottom", "left", "right"):
        for side in ("outside", "inside"):
            start = "top" if face in ("left", "right") else "left"
            found[f"face_{face}_{side}"] = EIGHT.format(face=face, side=side, start=start)
    return found


def golden_file(name: str) -> Path:
    return HERE / f"{name}.txt"


def text_of(name: str, job: str, at: Path) -> str:
    """All output of a job, made in the folder ``at``."""
    with chdir(at):
        file = f"{name}.yaml"
        Path(file).write_text(job, encoding="utf-8")
        parts = [*_drawn(file)]
        parts += (_said(*command, file) for command in COMMANDS)
        if "conductors:" in job:
            parts += _reported(file, Path(f"{name}-report.pdf"))
        for kind in EXPORTS:
            parts.append(_said("export", file, "--as", kind))
            parts.append(Path(f"{name}.{kind}").read_text(encoding="utf-8").replace("\r\n", "\n").rstrip())
    return "\n\n".join(parts) + "\n"


def _drawn(file: str) -> Iterator[str]:
    """What ``draw`` says, and every page of the PDFs it writes; a failing layout's as a draft too."""
    yield _said("draw", file)
    if not list(Path().glob("*.pdf")):
        yield _said("draw", file, "--draft")
    for path in sorted(Path().glob("*.pdf")):
        for page in range(page_count(path)):
            yield f"--- {path.name}, page {page + 1}\n{_page_text(path, page)}"


def _reported(file: str, path: Path) -> Iterator[str]:
    """What ``report`` says, and every page of its PDF."""
    yield _said("report", file)
    for page in range(page_count(path)):
        yield f"--- {path.name}, page {page + 1}\n{_page_text(path, page)}"


def _said(*words: str) -> str:
    """A command as typed, its exit code where not 0, and what it says."""
    width = os.environ | {"COLUMNS": "110"}
    done = CliRunner().invoke(app, list(words), env=width, prog_name="templates-engine")
    if done.exception is not None and not isinstance(done.exception, SystemExit):
        raise done.exception
    code = f"   (exit code {done.exit_code})" if done.exit_code else ""
    return f"--- templates-engine {' '.join(words)}{code}\n{done.stdout}{done.stderr}".rstrip()


# --- a page -------------------------------------------------------------------------------------------------


def _page_text(path: Path, page: int) -> str:
    """Level words line by line from the top; then those that stand on end, from the left."""
    words = [word for word in read_text_lines(path, page) if word.text.strip()]
    level = [word for word in words if abs(word.angle) < 1.0]
    lines: list[list[ReadText]] = []
    for word in sorted(level, key=lambda one: -one.y_in):
        if lines and lines[-1][0].y_in - word.y_in <= SAME_LINE_IN:
            lines[-1].append(word)
        else:
            lines.append([word])
    text = [_line(line) for line in lines]
    turned = [word for word in words if abs(word.angle) >= 1.0]
    turned.sort(key=lambda one: (round(one.x_in, 2), round(one.y_in, 2), one.text))
    text += (f"(turned {round(word.angle)}) {word.text.strip()}" for word in turned)
    return "\n".join(text)


def _line(words: list[ReadText]) -> str:
    text, end = "", None
    for word in sorted(words, key=lambda one: (one.x_in, one.text)):
        if end is not None:
            text += "  |  " if word.x_in - end > COLUMN_IN else "  "
        text += word.text.strip()
        end = word.end_x_in
    return text
