"""A sound job file, value by value: the Job holds what is written, in inches, and defaults for the rest."""

from __future__ import annotations

import math

import pytest

from templates_engine.errors import JobProblems
from templates_engine.job import read_job_text
from templates_engine.job.model import (
    Centred,
    Circuit,
    ConductorGroup,
    Cutter,
    Face,
    FaceJob,
    FromEdge,
    Job,
    KeepOut,
    Lips,
    MarginsIn,
    MarkFrom,
    PaperSize,
    Placing,
    Pull,
    Raceway,
    RacewayWiring,
    Row,
    SheetMetal,
    Spread,
    Strut,
    TerminalLugs,
    Wire,
)
from templates_engine.values import replace

FULL = """\
job: Pump station
revision: 2
date: 12:30
tape: 1/32
code: nec 2020
enclosure:
  mark: LP-1
  kind: Panelboard
  width: 1' 8"
  height: 36
  depth: 5-3/4 in
  back gap: 1/4
  sheet metal: 16 ga
  location: damp
  system: 208y/120
  spaces: 42
  numbering: down
  service: yes
  pulls:
    - {from: A1, to: L1, kind: angle}
faces:
  - face: Top
    mark from: inside
    lips: {front: 3/4, back: 1/2, left: 1, right: 2}
    keep out:
      - {name: seam, along: {from: 4 in, to: 5 in}, from back: {from: 0, to: 1 in}, clear: 1/8}
      - {along: {from: 9, to: 10}}
      - {along: 12 in, from back: 2 in, diameter: 1}
    lugs: {distance: 6 in, wires: 2, opposite: true}
    rows:
      - strut: [13/16 in, 1-5/8 in]
        shim: 1/8
        gap: fittings
        snap: 1/16 in
        place: {from: right, to: near side, distance: 3}
        raceways:
          - {type: emt, size: 1.25, at: 3 in, to: Pump room, bushing: bonding, knockout: concentric}
          - {type: EMT, size: 2, count: 3, gap before: 2 in, cutter: hole saw, hole: punch, nipple: yes,
             first support: 2 ft}
          - {id: P09, type: RMC, size: 1, count: 2, hole: 1.375 in}
      - back line: auto
        strut: 7/8
        place: {spread: {from: 2 in, to: 18 in}}
        raceways:
          - type: EMT
            size: fit
            circuits: [1, {spaces: [2, 4, 6], neutral: no}]
            wire: {size: '#12', insulation: thwn-2, metal: aluminum}
            neutrals: own
            ground: 12 AWG
            conductors:
              - {count: 4, size: 500 kcmil, insulation: THHN}
              - {count: 1, size: 3, insulation: Bare}
              - {count: 1, size: 1/0, insulation: THHN, use: neutral, metal: Al}
            simultaneous disconnect: no
  - face: left
    lips: {top: 1, bottom: 2}
    rows:
      - back line: 1-3/8
        place: {from: bottom, to: center, distance: 4}
        raceways:
          - {id: L1, type: metric, size: M20, ground: none}
print:
  paper: [Letter, 24 x 36 in, 610 mm roll]
  orientation: Landscape
  overlap: 3/4
  margins: {top: 1/2, left: 0}
  printer: office
  leave out empty sheets: yes
  joints: butt
  extra sheets: 2
"""


# The least job there can be.
ONE_ROW = "[{back line: 1, place: centred, raceways: [{type: EMT, size: 1}]}]"
LEAST = f"{{job: x, enclosure: {{width: 20, height: 36, depth: 6}}, faces: [{{face: top, rows: {ONE_ROW}}}]}}"


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job_text(FULL, "full.yaml")


@pytest.fixture(scope="module")
def top(job: Job) -> FaceJob:
    return job.faces[0]


def test_heading(job: Job) -> None:
    assert (job.file, job.title, job.revision, job.date) == ("full.yaml", "Pump station", "2", "12:30")
    assert (job.unit, job.denominator, job.code) == ("in", 32, "NEC 2020")


def test_enclosure(job: Job) -> None:
    can = job.enclosure
    assert (can.mark, can.kind) == ("LP-1", "panelboard")
    assert (can.width_in, can.height_in, can.depth_in, can.back_gap_in) == (20, 36, 5.75, 0.25)
    assert can.sheet_metal == SheetMetal("16 ga steel (0.0598 in)", 0.0598)
    assert (can.location, can.system, can.spaces, can.numbering) == ("damp", "208Y/120", 42, "down")
    assert can.service is True
    (pull,) = can.pulls
    assert replace(pull, place=job.faces[0].place) == Pull("A1", "L1", "angle", job.faces[0].place)
    assert (pull.place.line, pull.place.key) == (20, "enclosure.pulls[1]")


def test_face_extent_is_width_on_top_and_height_on_the_sides(job: Job) -> None:
    top, left = job.faces
    assert (top.face, top.mark_from, top.width_in, top.depth_in) == (Face.TOP, MarkFrom.INSIDE, 20, 5.75)
    assert (left.face, left.mark_from, left.width_in, left.depth_in) == (
        Face.LEFT,
        MarkFrom.OUTSIDE,
        36,
        5.75,
    )


@pytest.mark.parametrize(("word", "width_in"), [("top", 20), ("bottom", 20), ("left", 36), ("right", 36)])
def test_every_face_has_its_extent(word: str, width_in: float) -> None:
    assert read_job_text(LEAST.replace("face: top", f"face: {word}"), "x").faces[0].width_in == width_in


def test_lips_by_the_words_of_the_face(job: Job) -> None:
    assert job.faces[0].lips == Lips(back_in=0.5, front_in=0.75, start_in=1, end_in=2)
    assert job.faces[1].lips == Lips(back_in=0, front_in=0, start_in=1, end_in=2)


def test_keep_outs(top: FaceJob) -> None:
    seam, strip, hole = top.keep_outs
    assert seam == KeepOut("seam", seam.place, 4, 5, 0, 1, None, 0.125)
    assert strip == KeepOut("keep-out 2", strip.place, 9, 10, 0, 5.75, None, None)
    assert hole == KeepOut("keep-out 3", hole.place, 11.5, 12.5, 1.5, 2.5, 1, None)
    assert (hole.place.line, hole.place.key) == (28, "faces[1].keep out[3]")


def test_lugs(top: FaceJob) -> None:
    assert top.lugs == TerminalLugs(6, 2, True)


def test_row_on_stacked_strut(top: FaceJob) -> None:
    row = top.rows[0]
    assert (row.name, row.back_line, row.gap, row.snap_in) == ("A", "strut", "fittings", 0.0625)
    assert row.strut == Strut((0.8125, 1.625), 0.125)
    assert row.strut.total_in == 2.5625
    assert row.placing == FromEdge("end", "near side", 3)
    assert (row.place.line, row.place.key) == (31, "faces[1].rows[1]")


def test_row_in_front(top: FaceJob) -> None:
    row = top.rows[1]
    assert (row.name, row.back_line, row.strut) == ("B", "auto", Strut((0.875,), 0))
    assert (row.placing, row.gap, row.snap_in) == (Spread(2, 18), 0, None)


def test_row_by_its_back_line(job: Job) -> None:
    row = job.faces[1].rows[0]
    assert (row.name, row.back_line, row.strut) == ("A", 1.375, None)
    assert row.placing == FromEdge("end", "centre", 4)


def test_counts_are_spelled_out_and_ids_count_on(top: FaceJob) -> None:
    assert [raceway.id for raceway in top.rows[0].raceways] == ["A1", "A2", "A3", "A4", "P09", "P10"]
    assert [raceway.id for raceway in top.rows[1].raceways] == ["B1"]


def test_gap_before_is_before_the_first_of_a_count_alone(top: FaceJob) -> None:
    gaps = [raceway.gap_before_in for raceway in top.rows[0].raceways]
    assert gaps == [None, 2, None, None, None, None]


def test_raceway_values(top: FaceJob) -> None:
    first, second, *_, last = top.rows[0].raceways
    assert first.size is not None
    assert (first.type, first.size.trade_size, first.at_in) == ("EMT", "1-1/4", 3)
    assert (first.to, first.bushing, first.knockout) == ("Pump room", "bonding", "concentric")
    assert (first.cutter, first.hole, first.nipple, first.first_support_in) == (
        Cutter.PUNCH,
        "knockout",
        False,
        None,
    )
    assert (second.cutter, second.hole, second.nipple, second.first_support_in) == (
        Cutter.HOLE_SAW,
        "punch",
        True,
        24,
    )
    assert last.size is not None
    assert (last.type, last.size.trade_size, last.hole, last.at_in) == ("RMC", "1", 1.375, None)
    assert (last.place.line, last.place.key) == (40, "faces[1].rows[1].raceways[3]")


def test_load(top: FaceJob) -> None:
    raceway = top.rows[1].raceways[0]
    assert raceway.size is None
    assert raceway.wiring == RacewayWiring(
        circuits=(Circuit((1,), None), Circuit((2, 4, 6), False)),
        wire=Wire("12", "THWN-2", "Al"),
        neutrals="own",
        ground=Wire("12", "THHN", "Cu"),
        ground_named=True,
        conductors=(
            ConductorGroup(4, Wire("500", "THHN", "Cu"), "phase"),
            ConductorGroup(1, Wire("3", "bare", "Cu"), "ground"),
            ConductorGroup(1, Wire("1/0", "THHN", "Al"), "neutral"),
        ),
        simultaneous_disconnect=False,
    )


def test_ground_none_is_named_and_nothing_said_is_no_load(job: Job) -> None:
    left = job.faces[1].rows[0].raceways[0]
    assert left.wiring is not None
    assert (left.wiring.ground, left.wiring.ground_named) == (None, True)
    assert job.faces[0].rows[0].raceways[0].wiring is None


def test_print(job: Job) -> None:
    settings = job.printing
    assert settings.papers == (
        PaperSize("letter", 8.5, 11),
        PaperSize("24 x 36 in", 24, 36),
        PaperSize("610 mm roll", 610 / 25.4, None),
    )
    assert (settings.orientation, settings.overlap_in, settings.printer) == ("landscape", 0.75, "office")
    assert settings.margins == MarginsIn(top_in=0.5, bottom_in=0.25, left_in=0, right_in=0.25)
    assert settings.leave_out_empty is True
    assert (settings.joints, settings.extra_sheets) == ("butt", 2)


@pytest.mark.parametrize(
    ("joints", "overlap_in"), [("", 0.5), ("joints: overlap", 0.5), ("joints: butt", 0.25)]
)
def test_sheets_that_butt_overlap_less(joints: str, overlap_in: float) -> None:
    """Enough to cut along: nothing of it is left once both are trimmed."""
    job = read_job_text(f"{LEAST[:-1]}, print: {{{joints}}}}}" if joints else LEAST, "x")
    assert job.printing.overlap_in == overlap_in
    assert job.printing.extra_sheets is None


# --- defaults -----------------------------------------------------------------------------------------------


def row_of(row: str) -> Row:
    """The only row of a job that is otherwise the least there can be."""
    return read_job_text(LEAST.replace(ONE_ROW, f"[{row}]"), "x").faces[0].rows[0]


def test_least_job() -> None:
    job = read_job_text(LEAST, "x")
    assert (job.revision, job.date, job.unit, job.denominator, job.code) == ("", "", "in", 16, "NEC 2023")
    can = job.enclosure
    assert (can.mark, can.kind, can.back_gap_in, can.sheet_metal, can.location) == (
        "cabinet",
        "cabinet",
        0,
        None,
        None,
    )
    assert (can.system, can.spaces, can.numbering, can.service, can.pulls) == (
        None,
        None,
        "odd left",
        False,
        (),
    )
    face = job.faces[0]
    assert (face.mark_from, face.lips, face.keep_outs, face.lugs) == (MarkFrom.OUTSIDE, Lips(), (), None)
    assert face.rows[0].placing == Centred()
    raceway = face.rows[0].raceways[0]
    assert raceway == Raceway(
        id="A1",
        place=raceway.place,
        type="EMT",
        size=raceway.size,
        at_in=None,
        gap_before_in=None,
        cutter=Cutter.PUNCH,
        hole="knockout",
        to="",
        bushing=None,
        nipple=False,
        knockout="cut",
        first_support_in=None,
        wiring=None,
    )
    assert job.printing.papers == (PaperSize("letter", 8.5, 11),)
    assert job.printing.margins == MarginsIn(0.25, 0.25, 0.25, 0.25)
    assert (job.printing.orientation, job.printing.overlap_in, job.printing.printer) == ("either", 0.5, None)
    assert job.printing.leave_out_empty is False


def test_bare_numbers_are_millimetres_where_the_file_says_so() -> None:
    can = "units: mm, enclosure: {width: 508, height: 36 in, depth: 152.4, back gap: 6.35, sheet metal: 1.5}"
    row = "[{strut: 41, gap: 25.4, place: centred, raceways: [{type: EMT, size: 1, count: 2}]}]"
    job = read_job_text(f"{{job: x, {can}, faces: [{{face: top, rows: {row}}}]}}", "x")
    assert (job.unit, job.enclosure.height_in) == ("mm", 36)
    assert math.isclose(job.enclosure.width_in, 20)
    assert math.isclose(
        job.faces[0].rows[0].strut.depths_in[0] if job.faces[0].rows[0].strut else 0, 41 / 25.4
    )
    assert math.isclose(
        job.enclosure.sheet_metal.thickness_in if job.enclosure.sheet_metal else 0, 1.5 / 25.4
    )
    assert job.printing.papers[0].name == "A4"


@pytest.mark.parametrize(
    ("row", "gap"),
    [
        ("{back line: 1, place: centred, raceways: [{type: EMT, size: 1}]}", 0),
        ("{back line: 1, place: centred, raceways: [{type: EMT, size: 1, count: 1}]}", 0),
        (
            "{back line: 1, place: centred, raceways: [{type: EMT, size: 1}, "
            "{type: EMT, size: 1, gap before: 1}]}",
            0,
        ),
        ("{back line: 1, place: {spread: {from: 1, to: 9}}, raceways: [{type: EMT, size: 1, count: 2}]}", 0),
        ("{back line: 1, place: centred, gap: 0, raceways: [{type: EMT, size: 1, count: 2}]}", 0),
        (
            "{back line: 1, place: centred, gap: Fittings, raceways: [{type: EMT, size: 1, count: 2}]}",
            "fittings",
        ),
    ],
)
def test_gap_where_it_may_be_left_out(row: str, gap: float | str) -> None:
    assert row_of(row).gap == gap


@pytest.mark.parametrize(
    ("place", "placing"),
    [
        ("centred", Centred()),
        ("Centered", Centred()),
        ("{from: left, to: centre, distance: 4}", FromEdge("start", "centre", 4)),
        ("{from: right, to: center, distance: 4}", FromEdge("end", "centre", 4)),
        ("{from: Left, to: Near Side, distance: 0}", FromEdge("start", "near side", 0)),
        ("{spread: {from: 0, to: 20}}", Spread(0, 20)),
    ],
)
def test_placings_on_top(place: str, placing: Placing) -> None:
    assert row_of(f"{{back line: 1, place: {place}, raceways: [{{type: EMT, size: 1}}]}}").placing == placing


@pytest.mark.parametrize(("edge", "said"), [("top", "start"), ("bottom", "end")])
def test_placings_on_a_side(edge: str, said: str) -> None:
    row = ONE_ROW.replace("centred", f"{{from: {edge}, to: centre, distance: 30}}")
    face = read_job_text(LEAST.replace(ONE_ROW, row).replace("face: top", "face: right"), "x").faces[0]
    assert face.rows[0].placing == FromEdge("start" if said == "start" else "end", "centre", 30)


def test_limits_themselves_are_allowed() -> None:
    row = "{back line: 6, gap: 0, raceways: [{type: EMT, size: 1, at: 0}, {type: EMT, size: 1, at: 20}]}"
    assert [raceway.at_in for raceway in row_of(row).raceways] == [0, 20]
    assert row_of(row).back_line == 6


def test_round_keep_out_may_have_its_centre_on_the_corner() -> None:
    corner = (
        "face: top, keep out: [{along: 20, from back: 0, diameter: 2}, {along: 0, from back: 6, diameter: 2}]"
    )
    first, second = read_job_text(LEAST.replace("face: top", corner), "x").faces[0].keep_outs
    assert (first.u_low_in, first.u_high_in, first.v_low_in, first.v_high_in) == (19, 21, -1, 1)
    assert (second.u_low_in, second.u_high_in, second.v_low_in, second.v_high_in) == (-1, 1, 5, 7)


def test_last_space_of_the_panel_may_be_used() -> None:
    text = LEAST.replace("depth: 6", "depth: 6, spaces: 42").replace("size: 1", "size: 1, circuits: [42]")
    wiring = read_job_text(text, "x").faces[0].rows[0].raceways[0].wiring
    assert wiring is not None
    assert wiring.circuits == (Circuit((42,), None),)


@pytest.mark.parametrize(
    ("written", "size"),
    [
        ("14", "14"),
        ("No. 8", "8"),
        ("4/0 awg", "4/0"),
        ("250", "250"),
        ("250 MCM", "250"),
        ("2000kcmil", "2000"),
    ],
)
def test_wire_sizes_by_name(written: str, size: str) -> None:
    text = LEAST.replace("size: 1", f"size: 1, ground: {written}")
    wiring = read_job_text(text, "x").faces[0].rows[0].raceways[0].wiring
    assert wiring is not None
    assert wiring.ground == Wire(size, "THHN", "Cu")


@pytest.mark.parametrize(
    "wiring",
    [
        "conductors: [{count: 3, size: 12, insulation: THHN}]",
        "circuits: [1], wire: {size: 12, insulation: THHN}",
    ],
)
def test_size_may_fit_conductors_or_circuits_alone(wiring: str) -> None:
    row = f"{{back line: 1, place: centred, raceways: [{{type: EMT, size: fit, {wiring}}}]}}"
    assert row_of(row).raceways[0].size is None


def test_counted_ids_may_be_eight_characters_long() -> None:
    row = "{back line: 1, place: centred, gap: 1, raceways: [{id: A9999998, type: EMT, size: 1, count: 2}]}"
    assert [raceway.id for raceway in row_of(row).raceways] == ["A9999998", "A9999999"]


def test_first_support_may_be_at_the_enclosure() -> None:
    row = "{back line: 1, place: centred, raceways: [{type: EMT, size: 1, first support: 0}]}"
    assert row_of(row).raceways[0].first_support_in == 0


def test_the_length_of_a_run_is_longer_than_any_can() -> None:
    pair = "{type: EMT, size: 1, count: 2, run length: 5000 ft}"
    row = f"{{back line: 1, place: centred, gap: 1, raceways: [{pair}]}}"
    assert [raceway.run_length_in for raceway in row_of(row).raceways] == [60_000, 60_000]
    assert row_of(ONE_ROW[1:-1]).raceways[0].run_length_in is None


def test_rows_up_to_the_last_letter() -> None:
    rows = ", ".join([ONE_ROW[1:-1]] * 26)
    face = read_job_text(LEAST.replace(ONE_ROW, f"[{rows}]"), "x").faces[0]
    assert [row.name for row in face.rows] == list("ABCDEFGHIJKLMNOPQRSTUVWXYZ")


def test_margins_may_leave_just_two_inches() -> None:
    job = read_job_text(LEAST[:-1] + ", print: {paper: letter, margins: 3-1/4}}", "x")
    assert job.printing.margins.left_in == 3.25


def test_distance_may_reach_the_far_edge_and_a_back_line_may_be_the_back() -> None:
    place = "{from: left, to: centre, distance: 20}"
    row = row_of(f"{{back line: 0, place: {place}, raceways: [{{type: EMT, size: 1}}]}}")
    assert (row.back_line, row.placing) == (0, FromEdge("start", "centre", 20))


def test_texts_and_values_may_be_as_long_as_their_limit() -> None:
    assert len(read_job_text(LEAST.replace("job: x", f"job: {'x' * 120}"), "x").title) == 120
    assert read_job_text(LEAST.replace("width: 20", f"width: {'0' * 58}20"), "x").enclosure.width_in == 20


@pytest.mark.parametrize("word", ["yes", "Yes", "true", "TRUE"])
def test_yes(word: str) -> None:
    assert (
        row_of(f"{{back line: 1, place: centred, raceways: [{{type: EMT, size: 1, nipple: {word}}}]}}")
        .raceways[0]
        .nipple
        is True
    )


@pytest.mark.parametrize("word", ["no", "No", "false", '"no"'])
def test_no(word: str) -> None:
    assert (
        row_of(f"{{back line: 1, place: centred, raceways: [{{type: EMT, size: 1, nipple: {word}}}]}}")
        .raceways[0]
        .nipple
        is False
    )


def test_same_paper_twice_is_one() -> None:
    job = read_job_text(LEAST[:-1] + ", print: {paper: [letter, Letter, legal]}}", "x")
    assert [paper.name for paper in job.printing.papers] == ["letter", "legal"]


def test_overlap_may_be_just_under_half_of_what_is_printed() -> None:
    read_job_text(LEAST[:-1] + ", print: {paper: letter, overlap: 3.999}}", "x")


@pytest.mark.parametrize(("last", "refused"), [(3, False), (4, True)])
def test_a_face_has_at_most_three_hundred_raceways_the_second_face_too(last: int, refused: bool) -> None:
    row = "      - {back line: %d, gap: 0, place: centred, raceways: [{type: EMT, size: 1/2, count: %d}]}"
    rows = "\n".join(row % (number + 1, count) for number, count in enumerate([99, 99, 99, last]))
    text = (
        "job: x\nenclosure: {mark: P, kind: pull box, width: 100, height: 100, depth: 12, "
        "back gap: 0}\nfaces:\n"
        f"  - face: top\n    rows:\n{row % (1, 9)}\n  - face: left\n    rows:\n{rows}\n"
    )
    if not refused:
        assert sum(len(row.raceways) for row in read_job_text(text, "x").faces[1].rows) == 300
        return
    with pytest.raises(JobProblems) as caught:
        read_job_text(text, "x")
    (problem,) = caught.value.problems
    assert (problem.line, problem.key) == (8, "faces[2].rows")
    assert "The face has 301 raceways. A face takes at most 300" in str(problem)
