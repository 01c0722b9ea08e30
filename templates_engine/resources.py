"""Finds the folders shipped beside the code, fonts and sample jobs, in a checkout or an installed wheel."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def folder(name: str) -> Path:
    """The folder ``fonts`` or ``sample_jobs``: inside the package when installed, beside it in a checkout.

    Raises FileNotFoundError when the installation lacks it.
    """
    for candidate in (_PACKAGE / name, _PACKAGE.parent / name):
        if candidate.is_dir():
            return candidate
    raise FileNotFoundError(f"this installation lacks its {name} folder; install templates-engine again")
