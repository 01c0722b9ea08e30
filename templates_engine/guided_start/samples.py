"""Finds the sample jobs, to start a job of one's own from."""

from __future__ import annotations

from pathlib import Path

from templates_engine.resources import folder


def samples() -> tuple[str, ...]:
    """The samples by name, smallest first: panelboard top, panelboard bottom, ..."""
    return tuple(path.stem.split("_", 1)[1].replace("_", " ") for path in _paths())


def sample_text(name: str) -> str | None:
    """The text of the sample whose name begins so, None where there is none."""
    wanted = " ".join(name.lower().replace("_", " ").split())
    for path, sample in zip(_paths(), samples(), strict=True):
        if wanted and (sample.startswith(wanted) or path.stem == name):
            return path.read_text()
    return None


def _paths() -> list[Path]:
    return sorted(folder("sample_jobs").glob("*.yaml"))
