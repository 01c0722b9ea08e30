"""Turns a face with its holes into eight letters and digits that change when anything cut or drawn of it
changes.

It says nothing of the job's title, revision or enclosure mark: two sheets with the same fingerprint show the
same holes.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from typing import Any

from templates_engine.job.model import FaceJob, KeepOut, MarkFrom
from templates_engine.layout.model import Hole, PlacedRow, RowLine

_DIGITS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Base 32 without I, L, O and U, which are misread (Douglas Crockford, "Base 32", crockford.com/base32.html,
from memory).
"""


def fingerprint(face: FaceJob, rows: Sequence[PlacedRow]) -> str:
    """Forty bits of SHA-256 over the face, as "K7QM-2XWD"."""
    letters = letters_of(canonical_text(face, rows), 8)
    return f"{letters[:4]}-{letters[4:]}"


def letters_of(text: str, count: int) -> str:
    """The first five times ``count`` bits of a text's SHA-256 as letters and digits."""
    number = int.from_bytes(hashlib.sha256(text.encode()).digest(), "big")
    return "".join(_DIGITS[number >> 256 - 5 * (place + 1) & 31] for place in range(count))


def canonical_text(face: FaceJob, rows: Sequence[PlacedRow]) -> str:
    """Everything the fingerprint is taken over, every length to the millionth of an inch."""
    lips = face.lips
    parts: list[Any] = [
        [face.face.value, face.mark_from.value, length_text(face.width_in), length_text(face.depth_in)],
        [length_text(lip) for lip in (lips.back_in, lips.front_in, lips.start_in, lips.end_in)],
        [_keep_out(keep_out) for keep_out in face.keep_outs],
        [length_text(face.metal_in) if face.mark_from is MarkFrom.INSIDE else "outside"],
        [[row.row.name, _line(row.line), [_hole(hole) for hole in row.holes]] for row in rows],
    ]
    return json.dumps(parts, separators=(",", ":"))


def length_text(inches: float | None) -> str:
    """A length to the millionth of an inch, as fingerprints are taken over it."""
    if inches is None:
        return "none"
    return f"{round(inches, 6) + 0.0:.6f}"  # + 0.0 turns -0.0 into 0.0


def _line(line: RowLine) -> str:
    """The line as the sheet shows it."""
    return length_text(line.at_in) if line.through == "backs" else f"{line.through} {length_text(line.at_in)}"


def _keep_out(keep_out: KeepOut) -> list[str]:
    lengths = (
        keep_out.u_low_in,
        keep_out.u_high_in,
        keep_out.v_low_in,
        keep_out.v_high_in,
        keep_out.diameter_in,
        keep_out.clear_in,
    )
    return [keep_out.name, *map(length_text, lengths)]


def _hole(hole: Hole) -> list[str]:
    lengths = (
        hole.u_in,
        hole.v_in,
        hole.outside_diameter_in,
        hole.outside_diameter_most_in,
        hole.hole_diameter_in,
        hole.pilot_diameter_in or 0.0,
    )
    return [hole.id, hole.type, hole.trade_size, hole.cutter, *map(length_text, lengths)]
