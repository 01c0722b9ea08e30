"""Holds what a shop usually takes where a job says nothing; its measured figures are in ``model.py``."""

from __future__ import annotations

from typing import Literal

from templates_engine.job.model import MarginsIn, PaperSize
from templates_engine.values import Struct


class ShopDefaults(Struct, frozen=True):
    """None or empty where the shop file says nothing either."""

    gap: float | Literal["fittings"] | None = None
    """Inches, or as much as the fittings need."""
    papers: tuple[PaperSize, ...] = ()
    margins: MarginsIn | None = None
    printer: str | None = None


NOTHING_USUAL = ShopDefaults()
