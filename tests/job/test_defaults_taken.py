"""What is taken for keys left out, told with the raceways it concerns; nothing where all is written."""

from __future__ import annotations

from templates_engine.job.read.job import read_job_text
from templates_engine.job.shop.read import read_shop_text

JOB = """\
job: x
enclosure: {width: 20, height: 30, depth: 8, back gap: 0, location: dry}
code: NEC 2023
faces:
  - face: top
    mark from: outside
    rows:
      - strut: 13/16
        gap: 1
        place: centred
        raceways:
          - {id: A1, type: EMT, size: 1, hole: knockout, cutter: punch}
  - face: left
    mark from: inside
    rows:
      - back line: 1
        gap: 1
        place: centred
        raceways:
          - {id: L1, type: EMT, size: 1, hole: punch, cutter: punch}
      - back line: 4
        gap: 1
        place: centred
        raceways:
          - {id: M1, type: EMT, size: 1, hole: knockout, cutter: hole saw}
          - {id: M2, type: EMT, size: 2, hole: knockout, cutter: punch, bushing: plain, count: 2}
"""
LAST = "{id: M2, type: EMT, size: 2, hole: knockout, cutter: punch, bushing: plain, count: 2}"


def told(job: str = JOB, shop: str = "units: in") -> list[tuple[str, str, tuple[str, ...]]]:
    read = read_job_text(job, "job.yaml", read_shop_text(shop, "shop.yaml"))
    return [(one.face, one.words, one.holes) for one in read.defaults_taken]


def last(entry: str) -> str:
    assert LAST in JOB
    return JOB.replace(LAST, entry)


def test_a_job_that_says_all_assumes_nothing() -> None:
    assert told() == []


def test_hole_and_cutter_left_out_at_the_last_raceways_of_the_second_row() -> None:
    ((face, words, ids),) = told(last("{id: M2, type: EMT, size: 2, count: 2}"))
    assert (face, ids) == ("left", ("M2", "M3"))
    assert "no `hole` and no `cutter`" in words
    ((_, words, ids),) = told(last("{id: M2, type: EMT, size: 2, cutter: step bit}"))
    assert (words, ids) == ("the standard knockout is cut, as no `hole` is named", ("M2",))
    ((_, words, ids),) = told(last("{id: M2, type: EMT, size: 2, hole: 2-1/2}"))
    assert (words, ids) == ("the pilot is for a knockout punch, as no `cutter` is named", ("M2",))


def test_the_side_of_the_second_face() -> None:
    assert told(JOB.replace("    mark from: inside\n", "")) == [
        ("left", "marked from outside, as no `mark from` is written", ())
    ]


def test_the_shops_gap_of_the_second_row() -> None:
    job = JOB.replace("back line: 4\n        gap: 1\n", "back line: 4\n")
    ((face, words, ids),) = told(job, "gap: 1-1/4")
    assert (face, ids) == ("left", ("M1", "M2", "M3"))
    assert words == "the shop's usual gap (1-1/4 in) is kept, as row B gives none"


def test_gaps_by_fittings_without_bushing_or_location() -> None:
    job = JOB.replace("back line: 4\n        gap: 1\n", "back line: 4\n        gap: fittings\n")
    assert [(words, ids) for _, words, ids in told(job)] == [
        ("gaps leave room for locknuts alone, as no `bushing` is named", ("M1",))
    ]
    dry = told(job.replace(", location: dry", ""))
    assert (dry[1][1].startswith("gaps leave room for the fittings of a dry place"), dry[1][2]) == (
        True,
        ("M1", "M2", "M3"),
    )
    pair = last(
        "{id: M2, type: EMT, size: 2, hole: punch, cutter: punch, bushing: plain, gap before: fittings}"
    )
    assert [ids for _, _, ids in told(pair)] == [("M1",)]


def test_sizes_by_fill_without_a_code() -> None:
    fit = last(
        "{id: M2, type: EMT, size: fit, hole: punch, cutter: punch, "
        "conductors: [{count: 3, size: 12, insulation: THHN}]}"
    )
    assert told(fit) == []
    assert told(fit.replace("code: NEC 2023\n", "")) == [
        ("left", "sized by fill after NEC 2023, as no `code` is written", ("M2",))
    ]


def test_a_row_whose_raceways_are_all_pinned_needs_no_place() -> None:
    pinned = JOB.replace("type: EMT, size: 1, hole: punch", "type: EMT, size: 1, at: 4, hole: punch")
    job = pinned.replace(
        "back line: 1\n        gap: 1\n        place: centred\n", "back line: 1\n        gap: 1\n"
    )
    assert read_job_text(job, "job.yaml").faces[1].rows[0].raceways[0].at_in == 4
