"""Turns keep-outs into the stretches of a circle's own line where its centre may stand; nothing else.

::

         v |         +-----------+ keep-out
           |         |           |
           |         +-----------+      reach = radius + clear
           |      |<-half          half->|        half = sqrt(reach^2 - dv^2) beyond the keep-out's side
           +------(======forbidden======)------ centre line of the circle, dv away
                                                               u
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from templates_engine.geometry import Interval
from templates_engine.job.model import KeepOut
from templates_engine.layout.tolerance import TOLERANCE_IN


def forbidden_stretch(v_in: float, radius_in: float, keep_out: KeepOut) -> Interval | None:
    """The open stretch of u where a circle at ``v_in`` comes nearer the keep-out than its clear distance, or
    into it where it gives none.

    None when it passes by wherever it stands. Touching, and exactly the clear distance, are allowed.
    """
    if keep_out.diameter_in is None:
        left, right = keep_out.u_low_in, keep_out.u_high_in
        aside = max(keep_out.v_low_in - v_in, 0.0, v_in - keep_out.v_high_in)
        reach = radius_in + (keep_out.clear_in or 0.0)
    else:
        left = right = (keep_out.u_low_in + keep_out.u_high_in) / 2
        aside = abs(v_in - (keep_out.v_low_in + keep_out.v_high_in) / 2)
        reach = radius_in + (keep_out.clear_in or 0.0) + keep_out.diameter_in / 2
    if aside >= reach - TOLERANCE_IN:
        return None
    half = math.sqrt((reach - aside) * (reach + aside))
    return Interval(left - half, right + half)


def free_stretches(low: float, high: float, taken: Iterable[Interval]) -> tuple[Interval, ...]:
    """The closed stretches of ``low`` .. ``high`` left when the open ones ``taken`` are cut out, in order.

    A single point between two of them stays. Empty when ``high`` lies below ``low``.
    """
    left: list[Interval] = []
    start = low
    for stretch in sorted(taken):
        if stretch.low >= high:
            break
        if stretch.low >= start - TOLERANCE_IN:
            left.append(Interval(start, max(start, stretch.low)))
        start = max(start, stretch.high)
    if high >= start - TOLERANCE_IN:
        left.append(Interval(min(start, high), high))
    return tuple(left)
