"""Runs the command as people do: within this process, which is quick, or in one of its own."""

from __future__ import annotations

import contextlib
import gc
import io
import os
import signal
import subprocess
import sys
import traceback
from collections.abc import Iterator
from pathlib import Path
from unittest import mock

from templates_engine.cli.main import main

WIDE = {"COLUMNS": "100"}
Done = subprocess.CompletedProcess[str]


def run_process(*words: str | Path, cwd: Path, **env: str) -> Done:
    """In a process of its own: for what only a process shows, such as its signals and streams."""
    command = [sys.executable, "-m", "templates_engine", *map(str, words)]
    return subprocess.run(
        command,
        cwd=cwd,
        env={**os.environ, **WIDE, **env},
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )


def run(*words: str | Path, cwd: Path, **env: str) -> Done:
    """Within this process: the same exit code and words, without Python's start and the imports."""
    asked = ["templates-engine", *map(str, words)]
    with _own_streams() as (out, err), contextlib.chdir(cwd), _untouched_process():
        with mock.patch.dict(os.environ, {**WIDE, **env}), mock.patch.object(sys, "argv", asked):
            code = _exit_code()
        sys.stdout.flush()
        sys.stderr.flush()
        said = [stream.getvalue().decode("utf-8").replace(os.linesep, "\n") for stream in (out, err)]
    return Done(asked, code, *said)


def _exit_code() -> int:
    try:
        main()
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else int(stop.code is not None)
    except BaseException:  # as Python itself ends a program
        traceback.print_exc()
        return 1
    return 0


@contextlib.contextmanager
def _own_streams() -> Iterator[tuple[io.BytesIO, io.BytesIO]]:
    out, err = io.BytesIO(), io.BytesIO()
    wrapped = [io.TextIOWrapper(stream, encoding="utf-8") for stream in (out, err)]
    with mock.patch.object(sys, "stdout", wrapped[0]), mock.patch.object(sys, "stderr", wrapped[1]):
        yield out, err


@contextlib.contextmanager
def _untouched_process() -> Iterator[None]:
    """Put back what the command sets for the whole of its process."""
    handlers = {each: signal.getsignal(each) for each in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield
    finally:
        gc.enable()
        for each, handler in handlers.items():
            signal.signal(each, handler)
