"""Names the limits of the sizes enclosures come in (common practice, no source): wide, within them nothing is
wrong.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

Dimension = Literal["width", "height", "depth"]

LEAST_CAN_IN = 1.0
MOST_CAN_IN: Mapping[Dimension, float] = MappingProxyType({"width": 144.0, "height": 144.0, "depth": 48.0})
"""12 ft along the wall, 4 ft off it."""
