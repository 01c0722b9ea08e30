"""Finds the register that a job belongs to; what stands in it is `register/store.py`'s."""

from __future__ import annotations

import os
from pathlib import Path

from templates_engine.office.building import FoundJobs, find_jobs
from templates_engine.values import replace

FILE = "register.sqlite"


def register_file_over(path: Path) -> Path | None:
    """The register of a folder, or of the nearest above it that has one."""
    place = Path(os.path.abspath(path))
    return next((folder / FILE for folder in (place, *place.parents) if (folder / FILE).is_file()), None)


def jobs_of(register: Path) -> FoundJobs:
    """The jobs it has; a folder that came with a register of its own is left to that one."""
    found = find_jobs([register.parent], or_none=True)
    own = register.absolute()
    return replace(found, files=tuple(one for one in found.files if register_file_over(one.parent) == own))


def register_below(folder: Path) -> Path | None:
    """A register of one of the folders in it, which would keep its jobs from one for all."""
    places = (Path(place) for place, _, names in os.walk(folder) if FILE in names)
    return next((place for place in places if place != folder), None)
