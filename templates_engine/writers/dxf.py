"""Turns one face's layout into a DXF for a shop's cutter: real circles and lines at true size, in inches.

::

    front left corner of the view is (0, 0)     seen from OUTSIDE, wall edge at the top, inches
        y                                       x = u or width - u, as the frame says for that face
        |  back edge                            y = depth - v
        |   ( + )   ( + )
        +------------------ x  front edge       mirrored: the same, seen from INSIDE
"""

from __future__ import annotations

import io
import os
from collections.abc import Iterator
from configparser import ConfigParser
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from templates_engine.drawing.edge_directions import edge_directions
from templates_engine.drawing.sheet.face_picture import quarter_lines
from templates_engine.errors import CannotWrite, Problem
from templates_engine.geometry import Point, Rect, cross_lines
from templates_engine.job.model import KeepOut, MarkFrom
from templates_engine.layout.model import FaceLayout, Hole
from templates_engine.outputs import MAKER
from templates_engine.sheets.face_lines import keep_out_rect, lip_lines
from templates_engine.sheets.face_plan import whole_face
from templates_engine.sheets.model import FacePlan, Plane

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

LAYERS = {
    "CUT": "holes to cut, at the size to cut them",
    "KNOCKOUTS": "knockouts that the enclosure came with, to be knocked out; not to cut",
    "PILOT": "pilot holes for punch, hole saw or step bit; only where the hole itself is not cut",
    "QUARTER_POINTS": "the four points where a hole's cross-lines meet its circle; to scribe, not to cut",
    "CENTRES": "cross-lines through the centres; to scribe, not to cut",
    "EDGES": "the edges of the face, which is there already; not to cut",
    "LIPS": "where the metal along an edge stops being flat; not to cut",
    "KEEP_OUTS": "what no hole may touch; not to cut",
    "WORDS": "names and notes; not to cut",
}
"""What each layer means; the words stand in the file as the layer's description."""

_VERSION = "R2000"  # the oldest that holds units and any letter; shop programs read it
_INCHES = 1
_COMMENT = f"999\nmade by {MAKER}\n"  # a comment may stand anywhere (DXF reference, group code 999)
_US_CUSTOMARY = 0
_CROSS_PAST_IN = 0.125
_QUARTER_HALF_IN = 0.0625
_TEXT_IN, _NOTE_IN = 0.1875, 0.125
_NOTE_STEP_IN = 0.1875


def dxf_bytes(face: FaceLayout, seen_from: MarkFrom = MarkFrom.OUTSIDE, title: str = "") -> bytes:
    """The face as seen from that side; ``title`` is the first line of its note.

    Raises CannotWrite when the library for DXF is not installed. Same face, same bytes.
    """
    with _fixed_dates():
        document = _new_document()
        _draw(document.modelspace(), whole_face(face, seen_from), title)
        _show_all(document, face)
        text = io.StringIO()
        document.write(text)
        return (_COMMENT + text.getvalue()).encode(document.output_encoding, "dxfreplace")


@contextmanager
def _fixed_dates() -> Iterator[None]:
    """The library writes neither the time nor new identifiers while this holds."""
    options = _library().options
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _library() -> Any:
    try:
        with _by_itself():
            import ezdxf
    except ImportError as error:
        message = "DXF is written with the library ezdxf, which is not installed."
        remedy = 'Install it with: pip install "templates-engine[dxf]"'
        raise CannotWrite([Problem(message, remedy)]) from error
    return ezdxf


@contextmanager
def _by_itself() -> Iterator[None]:
    """While this holds the library reads no settings file, of whichever folder, and neither looks for this
    machine's fonts nor keeps a list of them: it finds an empty one.
    """
    cache_home, read = os.environ.get("XDG_CACHE_HOME"), ConfigParser.read
    os.environ["XDG_CACHE_HOME"] = str(Path(__file__).with_name("no_fonts"))
    ConfigParser.read = lambda *_, **__: []  # type: ignore[method-assign]
    try:
        yield
    finally:
        ConfigParser.read = read  # type: ignore[method-assign]
        if cache_home is None:
            del os.environ["XDG_CACHE_HOME"]
        else:
            os.environ["XDG_CACHE_HOME"] = cache_home


def _new_document() -> Drawing:
    document: Drawing = _library().new(_VERSION, units=_INCHES)
    document.header["$MEASUREMENT"] = _US_CUSTOMARY
    for name, meaning in LAYERS.items():
        document.layers.add(name).description = meaning
    return document


def _draw(space: Modelspace, plan: FacePlan, title: str) -> None:
    face = plan.layout.job
    _outline(space, plan.plane.rect, "EDGES")
    for start, end in lip_lines(plan):
        _line(space, start, end, "LIPS")
    for keep_out in face.keep_outs:
        _keep_out(space, plan.plane, keep_out)
    for hole in plan.layout.holes:
        _hole(space, plan, hole)
    _edge_names(space, plan)
    seen = "OUTSIDE" if face.mark_from is MarkFrom.OUTSIDE else "INSIDE (mirrored)"
    notes = (
        title,
        f"{face.face.value.upper()} of the enclosure, seen from {seen}, back edge at the top",
        f"units: inches; cut layer CUT only; fingerprint {plan.layout.fingerprint}",
    )
    for index, note in enumerate(note for note in notes if note):
        _words(space, note, Point(0.0, -0.5 - index * _NOTE_STEP_IN), _NOTE_IN)


def _hole(space: Modelspace, plan: FacePlan, hole: Hole) -> None:
    centre, radius = plan.circle_of(hole).centre, plan.circle_of(hole).radius
    space.add_circle(centre, radius, dxfattribs={"layer": "KNOCKOUTS" if hole.is_knocked_out else "CUT"})
    if hole.pilot_diameter_in is not None:
        space.add_circle(centre, hole.pilot_diameter_in / 2, dxfattribs={"layer": "PILOT"})
    for start, end in cross_lines(centre, radius + _CROSS_PAST_IN):
        _line(space, start, end, "CENTRES")
    for start, end in quarter_lines(plan, hole, _QUARTER_HALF_IN):
        _line(space, start, end, "QUARTER_POINTS")
    beside = radius * 0.7072 + 0.06
    _words(space, hole.id, Point(centre.x + beside, centre.y + beside), _TEXT_IN)


def _keep_out(space: Modelspace, plane: Plane, item: KeepOut) -> None:
    rect = keep_out_rect(plane, item)
    if item.diameter_in is None:
        _outline(space, rect, "KEEP_OUTS")
    else:
        space.add_circle(rect.middle, item.diameter_in / 2, dxfattribs={"layer": "KEEP_OUTS"})
    _words(space, f"keep out: {item.name}", Point(rect.left + 0.06, rect.top + 0.06), _NOTE_IN)


def _edge_names(space: Modelspace, plan: FacePlan) -> None:
    """Which edge is which, outside the face, so that nobody turns or mirrors it unawares."""
    names, width, depth = edge_directions(plan), plan.plane.width_in, plan.plane.depth_in
    _words(space, f"{names.up} (wall)", Point(width / 2, depth + 0.12), _NOTE_IN)
    _words(space, names.down, Point(width / 2, -0.25), _NOTE_IN)
    _words(space, names.left, Point(-0.12, depth / 2), _NOTE_IN, angle=90.0)
    _words(space, names.right, Point(width + 0.25, depth / 2), _NOTE_IN, angle=90.0)


def _outline(space: Modelspace, rect: Rect, layer: str) -> None:
    left, bottom, right, top = rect
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    space.add_lwpolyline(corners, close=True, dxfattribs={"layer": layer})


def _line(space: Modelspace, start: Point, end: Point, layer: str) -> None:
    space.add_line(start, end, dxfattribs={"layer": layer})


def _words(space: Modelspace, text: str, at: Point, height_in: float, angle: float = 0.0) -> None:
    # A line break would end the value in the file, and "%%" begins a code for a sign.
    shown = "".join(sign if sign.isprintable() else "?" for sign in " ".join(text.split())).replace(
        "%%", "% %"
    )
    attributes = {"layer": "WORDS", "insert": at, "rotation": angle}
    space.add_text(shown, height=height_in, dxfattribs=attributes)


def _show_all(document: Drawing, face: FaceLayout) -> None:
    """What a program shows on opening the file: the face and the words round it."""
    low, high = (-1.0, -1.5), (face.job.width_in + 1.0, face.job.depth_in + 1.0)
    document.modelspace().reset_extents((*low, 0.0), (*high, 0.0))
    document.modelspace().reset_limits(low, high)
