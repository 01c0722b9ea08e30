"""Names the few line weights and type sizes every drawing uses.

Heavy enough for a worn printer, black only.
"""

from __future__ import annotations

from templates_engine.drawing.shapes import Pen

HOLE = Pen(0.016)
CROSS = Pen(0.008)
QUARTER = Pen(0.020)
PILOT = Pen(0.008)
EDGE = Pen(0.022)
INSIDE = Pen(0.010)
LIP = Pen(0.010, (0.30, 0.05, 0.02, 0.05, 0.02, 0.05))
KEEP_OUT = Pen(0.014, (0.05, 0.05))
BACK_LINE = Pen(0.010, (0.40, 0.06, 0.06, 0.06))
TICK = Pen(0.007)
JOINT = Pen(0.010, (0.20, 0.10))
HATCH = Pen(0.006)
TAPE = Pen(0.010, (0.02, 0.05))
MARK = Pen(0.010)
BAR = Pen(0.010)
TABLE = Pen(0.006)
HEAVY = Pen(0.020)

LABEL_PT = 14.0
HEAD_PT = 14.0
TEXT_PT = 10.0
SMALL_PT = 9.0


def line_height_in(size_pt: float) -> float:
    """Base line to base line for running text of that size, inches."""
    return size_pt * 1.3 / 72


def capital_height_in(size_pt: float) -> float:
    """Height of a capital letter, inches."""
    return size_pt * 0.73 / 72


SMALL_CAPITAL_IN = capital_height_in(SMALL_PT)
"""Of words at the least size, which most are."""
