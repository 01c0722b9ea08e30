"""Finds the register that a job belongs to; what stands in it is `register/store.py`'s."""

from __future__ import annotations

import os
from pathlib import Path

FILE = "register.sqlite"


def register_file_over(path: Path) -> Path | None:
    """The register of a folder, or of the nearest above it that has one."""
    place = Path(os.path.abspath(path))
    return next((folder / FILE for folder in (place, *place.parents) if (folder / FILE).is_file()), None)
