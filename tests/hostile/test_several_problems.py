"""Many mistakes in one file: all are told at once, in the file's order, none twice, none hidden."""

from __future__ import annotations

from hostile_texts import SOUND, problems_of, spoilt

from templates_engine.job import read_job_text

MANY = """\
job: Pump station
revison: 2
enclosure:
  width: 20 in
  height: 3600 ft
  depth: 5-3/4 in
faces:
  - face: top
    keep out:
      - {along: {from: 6, to: 5}}
    rows:
      - gap: 1 in
        place: {from: top, to: middle, distance: 3}
        raceways:
          - {id: A/1, type: EMTT, size: 2, count: 0, at: 30}
          - [not, a, raceway]
          - {type: EMT, size: 2-1/4, at: 5}
          - {type: EMT, size: 2, at: 4, colour: blue}
  - face: top
    rows: []
  - nonsense
print: {overlap: 9, paper: lettr}
"""


def test_all_problems_at_once_in_file_order() -> None:
    found = [(problem.line, problem.key) for problem in problems_of(MANY)]
    row = "faces[1].rows[1]"
    assert found == [
        (2, "revison"),
        (5, "enclosure.height"),
        (10, "faces[1].keep out[1].along.from"),
        (12, f"{row}.strut"),
        (13, f"{row}.place.from"),
        (13, f"{row}.place.to"),
        (15, f"{row}.raceways[1].id"),
        (15, f"{row}.raceways[1].type"),
        (15, f"{row}.raceways[1].count"),
        (15, f"{row}.raceways[1].at"),
        (16, f"{row}.raceways[2]"),
        (17, f"{row}.raceways[3].size"),
        (18, f"{row}.raceways[4].at"),
        (18, f"{row}.raceways[4].colour"),
        (19, "faces[2].face"),
        (20, "faces[2].rows"),
        (21, "faces[3]"),
        (22, "print.paper"),
    ]


def test_what_is_said_of_a_problem_reads_as_one_line() -> None:
    assert str(problems_of(MANY)[0]) == (
        "job.yaml:2: revison: `revison` is no key of the job file. Did you mean `revision`?"
    )
    assert not [problem for problem in problems_of(MANY) if "\n" in str(problem)]


def test_mistaken_key_is_not_told_again_as_a_missing_one() -> None:
    assert len(problems_of(spoilt(4, "  widht: 20 in"))) == 1
    assert len(problems_of(spoilt(11, "      - sturt: 1-5/8 in"))) == 1
    assert len(problems_of(spoilt(12, "        gaap: 1 in"))) == 1


def test_unreadable_value_does_not_set_off_cross_checks() -> None:
    at_40 = "          - {type: EMT, size: 1, at: 40}"
    keys = [problem.key for problem in problems_of(spoilt(15, at_40).replace("width: 20 in", "width: wide"))]
    assert keys == ["enclosure.width"]
    unknown_face = spoilt(15, at_40).replace("face: top", "face: roof")
    assert [problem.key for problem in problems_of(unknown_face)] == ["faces[1].face"]


def test_cross_checks_still_run_beside_a_broken_raceway() -> None:
    text = spoilt(15, "          - {id: A2, type: EMTT, size: 1}")
    assert [problem.key for problem in problems_of(text)] == [
        "faces[1].rows[1].raceways[1].type",
        "faces[1].rows[1].raceways[2].id",
    ]


def test_unknown_unit_leaves_bare_numbers_alone_and_checks_the_rest() -> None:
    text = spoilt(1, "job: x\nunits: cm").replace("depth: 5-3/4 in", "depth: 99999")
    assert [problem.key for problem in problems_of(text)] == ["units"]
    text = spoilt(1, "job: x\nunits: cm").replace("depth: 5-3/4 in", "depth: 101 ft")
    assert [problem.key for problem in problems_of(text)] == ["units", "enclosure.depth"]


def test_pull_to_a_raceway_whose_id_cannot_be_read_is_no_second_problem() -> None:
    text = spoilt(7, "  pulls: [{from: A1, to: A/2, kind: straight}]").replace("id: A2", "id: A/2")
    assert [problem.key for problem in problems_of(text)] == ["faces[1].rows[1].raceways[2].id"]


def test_pull_by_an_id_that_two_faces_have() -> None:
    text = spoilt(7, "  pulls: [{from: A1, to: A2, kind: U}]").replace("id: L1", "id: A1")
    (problem,) = problems_of(text)
    assert (problem.line, problem.key) == (7, "enclosure.pulls[1].from")
    assert problem.message == "The id A1 is on the faces top and left."


def test_ids_may_be_the_same_on_two_faces_otherwise() -> None:
    job = read_job_text(SOUND.replace("id: L1", "id: A1"), "job.yaml")
    assert [face.rows[0].raceways[0].id for face in job.faces] == ["A1", "A1"]


def test_more_rows_than_letters() -> None:
    row = "\n".join(SOUND.splitlines()[18:22]).replace("id: L1, ", "")
    problems = problems_of(SOUND.replace("id: L1", "id: side") + f"{row}\n" * 26)
    assert [(problem.line, problem.message) for problem in problems] == [
        (18, "A face has at most 26 rows, named A to Z.")
    ]


def test_default_id_taken_by_an_earlier_raceway() -> None:
    text = spoilt(16, "          - {type: EMT, size: 1}").replace("id: A1", "id: A2")
    (problem,) = problems_of(text)
    assert (problem.line, problem.key) == (16, "faces[1].rows[1].raceways[2].id")
    assert (
        problem.message == "Counted on, a raceway here is A2, which stands on this face already, on line 15."
    )


def test_broken_pull_does_not_hide_another() -> None:
    text = spoilt(7, "  pulls: [nonsense, {from: A1, to: A9, kind: U}]")
    assert [problem.key for problem in problems_of(text)] == ["enclosure.pulls[1]", "enclosure.pulls[2].to"]


def test_unknown_id_is_answered_with_at_most_twelve_known_ones() -> None:
    pulled = spoilt(7, "  pulls: [{from: A1, to: Z9, kind: U}]")
    eleven = pulled.replace("{id: A2, type: EMT, size: 2}", "{id: A2, type: EMT, size: 2, count: 10}")
    assert problems_of(eleven)[0].remedy.endswith("A10, A11, L1.")
    assert problems_of(eleven.replace("count: 10", "count: 11"))[0].remedy.endswith(
        "A10, A11, A12 and others."
    )
