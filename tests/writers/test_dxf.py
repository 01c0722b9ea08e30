"""The DXF read back by its library: circles in inches where the frame has the holes, seen from outside."""

from __future__ import annotations

import io
import math
import sys
from itertools import pairwise
from typing import Any

import ezdxf
import pytest
from ezdxf import recover
from factories import make_face, make_job, make_keep_out, make_row

from templates_engine.errors import CannotWrite
from templates_engine.job import read_job_text
from templates_engine.job.model import Lips, MarkFrom
from templates_engine.layout import solve
from templates_engine.layout.model import FaceLayout
from templates_engine.writers.dxf import LAYERS, dxf_bytes

FACES = ("top", "bottom", "left", "right")
SEEN_FROM = {False: MarkFrom.OUTSIDE, True: MarkFrom.INSIDE}


def layout_of(face: str, mark_from: str = "outside") -> FaceLayout:
    """Four raceways of unlike sizes, none of them in the middle, and a round and a square keep-out."""
    row = make_row("2", "3/4", "1-1/4", "1")
    keep_outs = (
        make_keep_out((15.0, 16.0), (6.0, 7.5), name="hinge"),
        make_keep_out(18.0, 2.0, diameter=0.5, name="stud"),
    )
    made = make_face(
        row, face=face, mark_from=mark_from, lips=Lips(front_in=0.5, start_in=0.25), keep_outs=keep_outs
    )
    return solve(make_job(made)).faces[0]


def read(data: bytes) -> Any:
    document, audit = recover.read(io.BytesIO(data))
    assert not audit.errors
    return document


def circles(document: Any, layer: str) -> list[tuple[float, float, float]]:
    found = document.modelspace().query(f'CIRCLE[layer=="{layer}"]')
    return [(one.dxf.center.x, one.dxf.center.y, 2 * one.dxf.radius) for one in found]


def seen(
    face: str, u: float, v: float, width: float, depth: float, inside: bool = False
) -> tuple[float, float]:
    """Where a person who looks at the face with the wall above sees a place; from the lower left corner.

    Written out from the frame in words, not from the program's own: X right, Y up, Z off the wall as one
    faces the front. Looking down on the top with the wall ahead, X runs right; looking up at the bottom with
    the wall above, it runs left. Facing the right side from outside with the wall above, down runs right;
    facing the left side, down runs left. From inside each turns round.
    """
    u_runs_right = {"top": True, "bottom": False, "right": True, "left": False}[face] != inside
    return (u if u_runs_right else width - u, depth - v)


@pytest.mark.parametrize("mark_from", ["outside", "inside"])
@pytest.mark.parametrize("inside", [False, True])
@pytest.mark.parametrize("face", FACES)
def test_holes_and_pilots_lie_where_the_side_looked_at_shows_them(
    face: str, inside: bool, mark_from: str
) -> None:
    layout = layout_of(face, mark_from)
    document = read(dxf_bytes(layout, SEEN_FROM[inside]))
    width, depth = layout.job.width_in, layout.job.depth_in
    for layer, size in (("CUT", "hole_diameter_in"), ("PILOT", "pilot_diameter_in")):
        wanted = [
            (*seen(face, hole.u_in, hole.v_in, width, depth, inside), getattr(hole, size))
            for hole in layout.holes
        ]
        assert len(wanted) == 4
        for found, want in zip(sorted(circles(document, layer)), sorted(wanted), strict=True):
            assert found == pytest.approx(want, abs=1e-9)


@pytest.mark.parametrize("face", FACES)
def test_the_handedness_is_that_of_the_frame_itself(face: str) -> None:
    """Right x up must point at the person who looks, whatever the face: no table of cases."""
    from templates_engine.geometry import Point
    from templates_engine.layout.frame import to_space
    from templates_engine.sheets.face_plan import whole_face

    layout, job = layout_of(face), make_job(make_face(make_row("1"), face=face))
    outward = {"top": (0, 1, 0), "bottom": (0, -1, 0), "left": (-1, 0, 0), "right": (1, 0, 0)}[face]
    for mirrored, viewer in ((False, 1), (True, -1)):
        plane = whole_face(layout, SEEN_FROM[mirrored]).plane

        def in_space(x: float, y: float, plane: Any = plane) -> tuple[float, float, float]:
            u = x if plane.u_runs_right else plane.width_in - x
            return to_space(job.enclosure, layout.job.face, Point(u, plane.depth_in - y))

        origin = in_space(0, 0)
        right = [a - b for a, b in zip(in_space(1, 0), origin, strict=True)]
        up = [a - b for a, b in zip(in_space(0, 1), origin, strict=True)]
        cross = (
            right[1] * up[2] - right[2] * up[1],
            right[2] * up[0] - right[0] * up[2],
            right[0] * up[1] - right[1] * up[0],
        )
        assert cross == pytest.approx([viewer * part for part in outward])
        assert up == pytest.approx([0, 0, -1])  # toward the wall


def test_units_are_inches_and_layers_say_what_they_mean() -> None:
    document = read(dxf_bytes(layout_of("top")))
    assert document.header["$INSUNITS"] == 1  # inches, by the DXF reference's list of units
    assert document.header["$MEASUREMENT"] == 0
    for name, meaning in LAYERS.items():
        assert document.layers.get(name).description == meaning
    used = {entity.dxf.layer for entity in document.modelspace()}
    assert used == set(LAYERS) - {"KNOCKOUTS"}


FACTORY = """
job: knocked out
enclosure: {mark: E-1, kind: cabinet, width: 14, height: 17, depth: 7, back gap: 1/4}
faces:
  - face: right
    factory knockouts:
      - {along: 12-1/2, from back: 2, sizes: [1/2, 1], rings: concentric}
      - {along: 9, from back: 2, sizes: 2}
    rows:
      - strut: 1-5/8
        gap: 1-1/8
        raceways: [{type: EMT, size: 1, at: 3}, {type: EMT, size: 2, factory knockout: K2}]
print: {paper: letter}
"""


def test_what_is_knocked_out_is_neither_cut_nor_drilled() -> None:
    """The right side, facing it from outside with the wall above: 9 in down is 9 in from the left."""
    face = solve(read_job_text(FACTORY, "job.yaml")).faces[0]
    document = read(dxf_bytes(face))
    assert circles(document, "KNOCKOUTS") == [pytest.approx((9.0, 5.0, 2.469))]  # the published knockout
    assert [round(x, 6) for x, _, _ in circles(document, "CUT")] == [3.0]
    assert [round(x, 6) for x, _, _ in circles(document, "PILOT")] == [3.0]
    strokes = document.modelspace().query('LINE[layer=="QUARTER_POINTS"]')
    assert len(strokes) == 4
    assert max(line.dxf.start.x for line in strokes) < 4.0


def test_the_library_finds_nothing_to_mend() -> None:
    for face in FACES:
        audit = read(dxf_bytes(layout_of(face))).audit()
        assert not audit.errors
        assert not audit.fixes


def test_quarter_strokes_have_their_middles_on_the_circle_and_edges_are_the_face() -> None:
    layout = layout_of("bottom")
    document = read(dxf_bytes(layout))
    strokes = document.modelspace().query('LINE[layer=="QUARTER_POINTS"]')
    middles = [
        ((line.dxf.start.x + line.dxf.end.x) / 2, (line.dxf.start.y + line.dxf.end.y) / 2) for line in strokes
    ]
    assert len(middles) == 16
    for x, y, diameter in circles(document, "CUT"):
        r = diameter / 2
        for quarter in ((x - r, y), (x + r, y), (x, y - r), (x, y + r)):
            assert min(math.dist(quarter, middle) for middle in middles) < 1e-9
    (edges,) = document.modelspace().query('LWPOLYLINE[layer=="EDGES"]')
    assert edges.closed
    assert {(x, y) for x, y, *_ in edges.get_points()} == {(0, 0), (20, 0), (20, 8), (0, 8)}


def lines_in(document: Any, layer: str) -> list[tuple[tuple[float, float], ...]]:
    """Every line's two ends, lowest first."""
    found = document.modelspace().query(f'LINE[layer=="{layer}"]')
    ends = [((one.dxf.start.x, one.dxf.start.y), (one.dxf.end.x, one.dxf.end.y)) for one in found]
    return sorted(tuple(sorted(pair)) for pair in ends)


@pytest.mark.parametrize("inside", [False, True])
@pytest.mark.parametrize("face", FACES)
def test_lips_and_keep_outs_lie_where_the_job_has_them(face: str, inside: bool) -> None:
    layout = layout_of(face)
    document = read(dxf_bytes(layout, SEEN_FROM[inside]))
    width, depth = layout.job.width_in, layout.job.depth_in

    def at(u: float, v: float) -> tuple[float, float]:
        return seen(face, u, v, width, depth, inside)

    start, front = ((0.25, 0.0), (0.25, depth)), ((0.0, depth - 0.5), (width, depth - 0.5))
    wanted = sorted(tuple(sorted(at(*end) for end in line)) for line in (start, front))
    assert lines_in(document, "LIPS") == wanted
    assert circles(document, "KEEP_OUTS") == [(*at(18.0, 2.0), 0.5)]
    (hinge,) = document.modelspace().query('LWPOLYLINE[layer=="KEEP_OUTS"]')
    corners = {at(u, v) for u in (15.0, 16.0) for v in (6.0, 7.5)}
    assert {(x, y) for x, y, *_ in hinge.get_points()} == corners
    words = placed_words(document)
    assert words["keep out: hinge"] == pytest.approx(upper_left(corners), abs=0.1)
    assert words["keep out: stud"] == pytest.approx(upper_left({at(17.75, 1.75), at(18.25, 2.25)}), abs=0.1)


def upper_left(corners: set[tuple[float, float]]) -> tuple[float, float]:
    return min(x for x, _ in corners), max(y for _, y in corners)


def placed_words(document: Any) -> dict[str, tuple[float, float]]:
    found = document.modelspace().query("TEXT")
    return {one.dxf.text: (one.dxf.insert.x, one.dxf.insert.y) for one in found}


def test_lips_of_the_back_and_the_end_are_drawn_as_well() -> None:
    made = make_face(make_row("2"), face="top", lips=Lips(back_in=0.375, end_in=1.25))
    document = read(dxf_bytes(solve(make_job(made)).faces[0]))
    width, depth = 20.0, 8.0
    back, end = ((0.0, depth - 0.375), (width, depth - 0.375)), ((width - 1.25, 0.0), (width - 1.25, depth))
    assert lines_in(document, "LIPS") == [back, end]


@pytest.mark.parametrize("inside", [False, True])
@pytest.mark.parametrize("face", FACES)
def test_each_edge_s_name_stands_outside_that_edge_and_the_notes_below(face: str, inside: bool) -> None:
    layout = layout_of(face)
    width, depth = layout.job.width_in, layout.job.depth_in
    document = read(dxf_bytes(layout, SEEN_FROM[inside], title="PB-1"))
    words = placed_words(document)
    start, end = ("TOP", "BOTTOM") if face in ("left", "right") else ("LEFT", "RIGHT")
    places = {
        "BACK (wall)": seen(face, width / 2, -0.2, width, depth, inside),
        "FRONT": seen(face, width / 2, depth + 0.2, width, depth, inside),
        start: seen(face, -0.2, depth / 2, width, depth, inside),
        end: seen(face, width + 0.2, depth / 2, width, depth, inside),
    }
    for name, place in places.items():
        assert words[name] == pytest.approx(place, abs=0.15), name
    notes = [
        place for text, place in words.items() if text == "PB-1" or "back edge" in text or "units" in text
    ]
    heights = [y for _, y in notes]
    assert [x for x, _ in notes] == [0.0] * 3
    assert heights[0] < words["FRONT"][1] - 0.125  # below the letters, which are 1/8 in high
    assert all(above - below >= 0.15 for above, below in pairwise(heights))
    for hole in layout.holes:
        x, y = seen(face, hole.u_in, hole.v_in, width, depth, inside)
        r = hole.hole_diameter_in / 2
        assert r < math.dist(words[hole.id], (x, y)) < r + 0.15, hole.id


def test_cross_lines_go_through_each_centre_past_its_circle() -> None:
    layout = layout_of("left")
    found = lines_in(read(dxf_bytes(layout)), "CENTRES")
    wanted = []
    for hole in layout.holes:
        x, y = seen("left", hole.u_in, hole.v_in, layout.job.width_in, layout.job.depth_in)
        reach = hole.hole_diameter_in / 2 + 0.125
        wanted += [((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach))]
    assert found == [tuple(map(pytest.approx, pair)) for pair in sorted(wanted)]


def test_a_program_that_opens_the_file_shows_all_of_it() -> None:
    document = read(dxf_bytes(layout_of("top")))
    low, high = document.header["$EXTMIN"], document.header["$EXTMAX"]
    for x, y in placed_words(document).values():
        assert low[0] <= x <= high[0]
        assert low[1] <= y <= high[1]
    assert low[0] <= 0 <= 20 <= high[0]
    assert low[1] <= 0 <= 8 <= high[1]
    assert high[0] - low[0] < 24  # and not much else
    assert high[1] - low[1] < 12


def test_words_say_the_side_the_edges_the_fingerprint_and_each_hole() -> None:
    layout = layout_of("right")
    texts = [
        text.dxf.text
        for text in read(dxf_bytes(layout, title="PB-1, 港\nrev 2 %%c")).modelspace().query("TEXT")
    ]
    assert {"A1", "A2", "A3", "A4", "BACK (wall)", "FRONT", "TOP", "BOTTOM"} <= set(texts)
    assert any("seen from OUTSIDE" in text for text in texts)
    assert any(layout.fingerprint in text and "inches" in text for text in texts)
    assert "PB-1, 港 rev 2 % %c" in texts
    mirrored = [text.dxf.text for text in read(dxf_bytes(layout, MarkFrom.INSIDE)).modelspace().query("TEXT")]
    assert any("seen from INSIDE" in text for text in mirrored)


def test_the_same_face_gives_the_same_bytes_and_leaves_the_library_as_it_was() -> None:
    before = ezdxf.options.write_fixed_meta_data_for_testing
    assert dxf_bytes(layout_of("left")) == dxf_bytes(layout_of("left"))
    assert ezdxf.options.write_fixed_meta_data_for_testing == before
    assert b"ezdxf" not in dxf_bytes(layout_of("left")).split(b"ENTITIES")[1].split(b"OBJECTS")[0]


def test_without_the_library_the_message_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "ezdxf", None)
    with pytest.raises(CannotWrite, match=r'pip install "templates-engine\[dxf\]"'):
        dxf_bytes(layout_of("top"))
