"""Finds where a person's own settings live on this machine; what stands in the files there is for others."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from pathlib import Path

from templates_engine.errors import Problem, TemplatesError

OVERRIDE = "TEMPLATES_ENGINE_CONFIG"
"""An environment variable that names another folder to use."""
NAME = "templates-engine"


def user_folder(
    environment: Mapping[str, str] | None = None, platform: str = sys.platform, home: Path | None = None
) -> Path:
    """The folder of the user's settings; it need not exist yet.

    $TEMPLATES_ENGINE_CONFIG wins everywhere; else %APPDATA% on Windows, Library/Application Support on a Mac,
    $XDG_CONFIG_HOME or ~/.config elsewhere (XDG Base Directory Specification 0.8: a relative path there is to
    be ignored). Raises TemplatesError where the system names no home.
    """
    environment = os.environ if environment is None else environment
    if environment.get(OVERRIDE):
        return Path(environment[OVERRIDE])
    home = _home() if home is None else home
    if platform == "win32":
        roaming = environment.get("APPDATA")
        return (Path(roaming) if roaming else home / "AppData" / "Roaming") / NAME
    if platform == "darwin":
        return home / "Library" / "Application Support" / NAME
    shared = Path(environment.get("XDG_CONFIG_HOME", ""))
    return (shared if shared.is_absolute() else home / ".config") / NAME


def _home() -> Path:
    try:
        return Path.home()
    except RuntimeError as error:
        problem = Problem("this account has no home folder.", f"Name a folder for settings in {OVERRIDE}.")
        raise TemplatesError([problem]) from error
