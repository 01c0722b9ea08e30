"""The circuits page folds in half whichever way its paper lies, says so, and crosses nothing."""

from __future__ import annotations

import pytest
from collisions import crossings, drawn_on, outside

from templates_engine import pipeline
from templates_engine.drawing.cover.circuits import FOLD_WORDS
from templates_engine.drawing.shapes import Words
from templates_engine.job import read_job_text
from templates_engine.resources import folder

JOBS = ("06_lighting_panel", "07_feeder_pull_box")
PAPERS = ("letter", "A4", "tabloid")


@pytest.mark.parametrize("sample", JOBS)
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("orientation", ["portrait", "landscape"])
def test_both_halves_are_used_and_the_fold_says_what_it_is(sample: str, paper: str, orientation: str) -> None:
    text = (folder("sample_jobs") / f"{sample}.yaml").read_text(encoding="utf-8")
    text = text[: text.index("\nprint:")] + f"\nprint: {{paper: {paper}, orientation: {orientation}}}\n"
    solved = pipeline.solve_job(read_job_text(text, "job.yaml"))
    document = pipeline.draw_job(solved)
    pages = [page for page in document.pages if page.bookmark.startswith("circuits")]
    assert len(pages) == 1
    found = drawn_on(document, pages[0])
    assert list(crossings(found)) == []
    assert list(outside(found, pipeline.plan_job(solved).cover_page.printable)) == []
    words = [shape for shape in pages[0].shapes if isinstance(shape, Words)]
    (fold,) = [shape for shape in words if shape.runs == (FOLD_WORDS,)]
    wide = orientation == "landscape"
    assert fold.angle == (90.0 if wide else 0.0)
    middle = (document.page_width_in if wide else document.page_height_in) / 2
    at = [shape.at.x if wide else shape.at.y for shape in words if shape is not fold]
    assert sum(one < middle for one in at) > 5
    assert sum(one > middle for one in at) > 5
