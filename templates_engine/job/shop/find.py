"""Turns a job file's place into its shop file, if there is one; the content is for `read.py`."""

from __future__ import annotations

import os
from pathlib import Path

from templates_engine.errors import JobProblems, Problem, TemplatesError
from templates_engine.job.shop.defaults import NOTHING_USUAL, ShopDefaults
from templates_engine.job.shop.model import NO_FIGURES, Shop
from templates_engine.job.text.file import SHOP_FILE, file_name, load_text
from templates_engine.job.written_values import UNREADABLE
from templates_engine.user_folder import user_folder
from templates_engine.values import Struct

SHOP_NAME = "shop.yaml"
BESIDE_JOB = "the shop file beside the job"
IN_USER_FOLDER = "the shop file in the user's settings"


class ReadShop(Struct, frozen=True):
    """What came of looking for a shop file: its figures and habits, and its problems."""

    shop: Shop = NO_FIGURES
    usual: ShopDefaults = NOTHING_USUAL
    problems: tuple[Problem, ...] = ()


NO_SHOP = ReadShop()


def shop_beside(job: Path) -> ReadShop:
    """The shop file in a job's folder, else the one in the user's folder; NO_SHOP where there is none."""
    for folder, source in ((job.parent, BESIDE_JOB), (_settings(), IN_USER_FOLDER)):
        place = folder / SHOP_NAME if folder else None
        if place is not None and place != job and _is_there(place):
            return _read(place, source)
    return NO_SHOP


def _settings() -> Path | None:
    try:
        return user_folder()
    except TemplatesError:  # an account without a home has no settings either
        return None


def _is_there(place: Path) -> bool:
    """Whether a file is there, or may be: in a folder that cannot be looked into, reading it says why not."""
    try:
        os.lstat(place)
    except (FileNotFoundError, NotADirectoryError):
        return False
    except OSError:
        return True
    return True


def _read(place: Path, source: str) -> ReadShop:
    """A damaged file's problems are kept for those of the job; its gap counts as given, but unreadable."""
    from templates_engine.job.shop.read import read_shop_text  # its tables are built only where one is

    try:
        return read_shop_text(load_text(place, SHOP_FILE), file_name(place), source)
    except JobProblems as error:
        return ReadShop(usual=ShopDefaults(gap=UNREADABLE), problems=error.problems)
