"""The thread that goes through a hole: a rigid raceway's of that trade size, whatever the type."""

from __future__ import annotations

from templates_engine.layout.model import Hole
from templates_engine.trade.names import NotListed
from templates_engine.trade.raceways import METRIC, look_up


def thread_in(hole: Hole) -> float:
    """The thread's diameter, inches; connectors have the rigid raceway's (common practice, no source)."""
    if hole.type == METRIC:
        return hole.outside_diameter_in
    try:
        return look_up("RMC", hole.trade_size).outside_diameter_in
    except NotListed:
        return hole.outside_diameter_in
