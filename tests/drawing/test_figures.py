"""The cover page's sentences on figures: gaps with what governed, fittings by source, what the shop gave."""

from __future__ import annotations

from factories import make_face, make_job, make_printing, make_raceway, make_row

from templates_engine.drawing.cover.figures import figure_sentences
from templates_engine.job.model import Job
from templates_engine.job.shop.find import BESIDE_JOB
from templates_engine.job.shop.model import Shop, ShopFitting
from templates_engine.layout import solve
from templates_engine.values import replace

SHOP = Shop(BESIDE_JOB, (ShopFitting("bonding bushing", None, "4", 5.5, 0.625),))


def job_of(gap: float | str = "fittings", shop: Shop | None = None, **job: object) -> Job:
    raceways = [make_raceway("4", f"A{n}", type="RMC", bushing="bonding") for n in (1, 2, 3)]
    row = make_row(*raceways, make_raceway("1", "A4"), gap=gap, strut=None, back_line=1.5)  # type: ignore[arg-type]
    made = make_job(make_face(row, width=40.0, depth=12.0), **job)  # type: ignore[arg-type]
    return made if shop is None else replace(made, shop=shop)


def sentences(job: Job) -> list[str]:
    return list(figure_sentences(job, solve(job).faces[0], job.lengths))


def test_equal_gaps_are_told_once_with_what_governed() -> None:
    (said,) = [text for text in sentences(job_of()) if text.startswith("Least gaps")]
    assert "15/16 in (0.9525) for bonding bushings inside, A1 to A2, A2 to A3; " in said
    assert said.count("A3 to A4") == 1


def test_fittings_are_told_by_source_and_how_they_were_had() -> None:
    said = [text for text in sentences(job_of()) if text.startswith("Fittings (in)")]
    assert said[0] == (
        "Fittings (in): locknut 4: 5.35, 1: 1.73; bonding bushing 4: 5.39 "
        "(one published table of fittings; read on a public page)."
    )
    assert any("connector 1: 1.65" in text and "from memory" in text for text in said)
    assert said[-1] == (
        "Fittings (in): bonding lug 0.5; between fittings 0.0625 (habit of the trade; "
        "common practice, no source)."
    )


def test_a_metric_job_is_told_in_millimetres() -> None:
    said = "\n".join(sentences(job_of(unit="mm")))
    assert "24.19 mm for bonding bushings inside" in said
    assert "Fittings (mm): locknut 4: 135.89" in said


def test_what_came_from_the_shop_file_is_said_whatever_the_gap() -> None:
    figures = "bonding bushing 4 in RMC: 5.5; bonding lug 4 in RMC: 0.625"
    own = f"Fittings (in): {figures} ({BESIDE_JOB}; as the shop gives it)."
    assert own in sentences(job_of(shop=SHOP))
    given = sentences(job_of(gap=2.0, shop=SHOP))
    assert own in given
    assert not any(text.startswith("Least gaps") for text in given)
    assert len([text for text in given if text.startswith("Fittings")]) == 1


def test_gap_paper_and_margins_of_the_shop_are_named() -> None:
    job = job_of(gap=2.0, shop=SHOP, printing=make_printing(from_shop=("paper", "margins")))
    face = job.faces[0]
    row = replace(face.rows[0], gap_from_shop=True)
    job = replace(job, faces=(replace(face, rows=(row,)),))
    assert f"Taken from {BESIDE_JOB}: gap of row A, paper, margins." in sentences(job)


def test_without_fittings_and_shop_only_holes_are_told_of() -> None:
    assert not any(
        word in text for text in sentences(job_of(gap=2.0)) for word in ("Fittings", "Least", "Taken")
    )
