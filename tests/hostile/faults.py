"""Runs the program as its own process, as people and shells do: closed streams, signals, many at once."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

from templates_engine.resources import folder

ROOT = Path(__file__).parents[2]
FIRST = sorted(folder("sample_jobs").glob("*.yaml"))[0]


def environment(home: Path, **more: str) -> dict[str, str]:
    """An account whose home is ``home`` alone."""
    kept = {name: os.environ[name] for name in ("PATH", "PYTHONPATH", "LANG") if name in os.environ}
    return {"PYTHONPATH": str(ROOT), **kept, "HOME": str(home), "PYTHONDONTWRITEBYTECODE": "1", **more}


def hearing_signals() -> None:
    """In the child: signals as a person's shell leaves them, though the suite may run in the background."""
    for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
        signal.signal(number, signal.SIG_DFL)


def start(*words: str | Path, cwd: Path, home: Path | None = None, **more: object) -> subprocess.Popen[str]:
    options: dict[str, object] = {
        "stdout": subprocess.PIPE,
        "stderr": subprocess.PIPE,
        "text": True,
        "preexec_fn": hearing_signals,
        "env": environment(home or cwd),
        **more,
    }
    command = [sys.executable, "-m", "templates_engine", *map(str, words)]
    return subprocess.Popen(command, cwd=cwd, **options)  # type: ignore[call-overload, no-any-return]


def run(*words: str | Path, cwd: Path, **more: object) -> tuple[int, str, str]:
    """(exit code, standard output, standard error)."""
    with start(*words, cwd=cwd, **more) as process:  # type: ignore[arg-type]
        said, complained = process.communicate(timeout=120)
    return process.returncode, said or "", complained or ""
