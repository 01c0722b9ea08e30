"""Makes a layout's fingerprint longer by three letters that change when it is cut into other sheets.

Sheets of two prints with the same fingerprint fit each other, whichever of them is printed again.
"""

from __future__ import annotations

import json
from collections.abc import Sequence

from templates_engine.geometry import Rect
from templates_engine.layout.fingerprint import length_text, letters_of
from templates_engine.sheets.model import Joint, PrinterCorrection


def sheets_fingerprint(
    layout_fingerprint: str,
    parts: Sequence[Rect],
    joints: Sequence[Joint],
    corrected: PrinterCorrection | None,
) -> str:
    """The layout's, "K7QM-2XWD", and "-4QP": over the sheets' own parts, how they join, the correction."""
    factors = (corrected.correction.across, corrected.correction.down) if corrected else (1.0, 1.0)
    said = [
        [[length_text(side) for side in (part.left, part.bottom, part.right, part.top)] for part in parts],
        [[joint.first, joint.second, joint.is_butt] for joint in joints],
        [length_text(factor) for factor in factors],
    ]
    return f"{layout_fingerprint}-{letters_of(json.dumps(said, separators=(',', ':')), 3)}"
