"""What to bring is counted hole by hole: sizes, kinds, what is there already, more faces than one."""

from __future__ import annotations

from factories import make_enclosure, make_face, make_job, make_raceway, make_row

from templates_engine.advice.bring_list import BringList, bring_list
from templates_engine.job.model import FaceJob, Job
from templates_engine.layout import solve
from templates_engine.values import replace


def needs(*faces: FaceJob, job: Job | None = None) -> BringList:
    layout = solve(job or make_job(*faces))
    return bring_list(layout.job, layout.faces)


def counts(found: BringList) -> dict[tuple[str, str], int]:
    return {(one.kind, one.size): one.count for one in found.fittings}


def test_alike_fittings_of_two_rows_and_two_faces_are_counted_together() -> None:
    rows = (make_row("1", "2"), make_row("1", name="B", back_line=5.0, strut=None))
    found = counts(needs(make_face(*rows), make_face(make_row("1"), face="bottom")))
    assert found["EMT connector", "1 in"] == found["locknut", "1 in"] == 3
    assert found["EMT connector", "2 in"] == 1
    assert found["EMT strap", "1 in"] == 2  # the front row is on no strut


def test_threads_take_two_locknuts_and_cemented_ends_an_adapter() -> None:
    cemented = make_raceway("1", "A2", type="PVC 40", bushing="insulated")
    raceways = (make_raceway("1", "A1", type="RMC"), cemented)
    found = needs(make_face(make_row(*raceways)))
    assert counts(found) == {
        ("locknut", "1 in"): 4,
        ("PVC 40 terminal adapter", "1 in"): 1,
        ("insulated bushing", "1 in"): 1,
        ("RMC strap", "1 in"): 1,
        ("PVC 40 strap", "1 in"): 1,
    }
    assert found.no_bushing_named == ("A1",)


def test_in_a_wet_place_a_hub_stands_outside() -> None:
    face = make_face(make_row(make_raceway("1", "A1", type="RMC")))
    wet = make_job(face, enclosure=make_enclosure(location="wet"))
    found = counts(needs(job=wet))
    assert (found["hub", "1 in"], found["locknut", "1 in"]) == (1, 1)
    assert ("EMT connector", "1 in") in counts(needs(make_face(make_row("1"))))


def test_a_knockout_that_is_there_is_cut_by_nothing() -> None:
    raceways = (make_raceway("1", "A1"), make_raceway("2", "A2", knockout="concentric"))
    found = needs(make_face(make_row(*raceways)))
    assert {tool.kind: tool.holes for tool in found.tools} == {
        "knockout punch": ("A1",),
        "pilot drill": ("A1",),
    }
    assert counts(found)["EMT connector", "2 in"] == 1


def test_cutters_go_by_the_size_they_are_sold_by() -> None:
    raceways = (
        make_raceway("2", "A1"),
        make_raceway("1", "A2", cutter="hole saw"),
        make_raceway("1", "A3", cutter="hole saw", hole=1.5),
        make_raceway("1/2", "A4", cutter="step bit"),
        make_raceway("1", "A5", hole=1.4),
    )
    found = needs(make_face(make_row(*raceways)))
    told = [(tool.kind, tool.trade_size, round(tool.diameter_in, 4), tool.holes) for tool in found.tools]
    assert ("knockout punch", "2", 2.469, ("A1",)) in told
    assert ("hole saw", "", 1.375, ("A2",)) in told  # usual for 1 in, read on a public page
    assert ("hole saw", "", 1.5, ("A3",)) in told
    assert ("step bit", "", 0.875, ("A4",)) in told
    assert ("knockout punch", "", 1.4, ("A5",)) in told
    assert [source.split(":")[0] for source in found.sources] == ["hole saws", "fittings counted"]


def test_metric_sizes_are_said_in_millimetres() -> None:
    found = needs(make_face(make_row(make_raceway("25", "A1", type="metric"))))
    assert {size for _, size in counts(found)} == {"25 mm"}
    assert replace(found, tools=()).of_kind("pilot drill") == ()
