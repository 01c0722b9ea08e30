"""Says how far two computed places may lie apart and still be one; all comparisons in layout use it."""

from __future__ import annotations

TOLERANCE_IN = 1e-9
"""Inches. Rounding in the last digits of a float stays below 1e-12 on any face; no rule or cutter comes near
1e-6.
"""
