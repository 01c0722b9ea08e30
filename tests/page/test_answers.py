"""What the page shows of a text, held to the layout that the commands make of it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from templates_engine.job import read_job_text
from templates_engine.layout import solve
from templates_engine.page.answer import PageRequest, answer, remedies, template_pdf

SAMPLES = sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.yaml"))
HOLE = re.compile(r'data-hole="([^"]+)" data-entry="([^"]+)" data-nth="(\d+)" data-x="([0-9.]+)"')


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_every_hole_of_every_sample_stands_where_the_layout_has_it(sample: Path) -> None:
    """x on the drawing is u, or counted from the other edge for bottom and left faces marked from outside and
    for top and right ones marked from inside.
    """
    from templates_engine.wiring import fit_sizes

    text = sample.read_text()
    for face in solve(fit_sizes(read_job_text(text, "x"))).faces:
        shown = answer(PageRequest(text, face=face.job.face.value))
        assert shown.is_drawn
        assert shown.face == face.job.face.value
        drawn = {id: float(x) for id, _, _, x in HOLE.findall(shown.fragments["drawing"])}
        flips = (face.job.face.value in ("bottom", "left")) != (face.job.mark_from.value == "inside")
        for hole in face.holes:
            x = face.job.width_in - hole.u_in if flips else hole.u_in
            assert drawn[hole.id] == pytest.approx(x, abs=1e-4)
        assert len(drawn) == len(face.holes)


def test_rings_round_a_hole_are_drawn_without_words_over_it() -> None:
    """Of sample 12 K1 is used whole, K2 leaves a ring round C2, K3 and K4 are left alone."""
    (sample,) = (path for path in SAMPLES if path.stem.startswith("12_"))
    drawing = answer(PageRequest(sample.read_text(), face="top")).fragments["drawing"]
    said = re.findall(
        r'<title>keep out: ([^<]*)</title>.*?text-anchor="middle">([^<]*)</text></g>', drawing, re.S
    )
    left_alone = [(f"factory knockout {name}", f"factory knockout {name}") for name in ("K3", "K4")]
    assert sorted(said) == [*left_alone, ("rings of K2", "")]


def test_bad_input_is_told_at_its_field_and_line_and_nothing_is_drawn() -> None:
    text = SAMPLES[0].read_text().replace("depth: 5-3/4", "depth: 5-3/")
    shown = answer(PageRequest(text))
    assert not shown.is_drawn
    assert set(shown.fragments) == {"form", "problems"}
    line = text.splitlines().index("  depth: 5-3/") + 1
    assert list(shown.lines) == [line]
    field = shown.fragments["form"].split('id="f-enclosure-depth"')[1].split("</div>")[0]
    assert "has a &#39;/&#39;" in field
    assert 'value="5-3/"' in field


def test_text_that_is_no_yaml_keeps_the_form_as_it_is() -> None:
    shown = answer(PageRequest("job: [\n"))
    assert set(shown.fragments) == {"problems"}
    assert "line 2" in shown.fragments["problems"] or "line 1" in shown.fragments["problems"]


def test_markup_in_a_job_is_shown_as_text() -> None:
    text = SAMPLES[0].read_text().replace("to: switchboard", 'to: "<script>alert(1)</script>"')
    shown = answer(PageRequest(text))
    assert shown.is_drawn
    assert "<script>" not in "".join(shown.fragments.values())


def test_a_remedy_makes_a_text_in_which_the_finding_is_gone() -> None:
    text = SAMPLES[0].read_text().replace("depth: 5-3/4", "depth: 3")
    asked = PageRequest(text)
    assert "A check fails" in answer(asked).fragments["faces"]
    offered = remedies(asked)
    assert offered["texts"]
    assert any(offered["texts"])
    for cured in filter(None, offered["texts"]):
        assert "No check fails" in answer(PageRequest(cured)).fragments["faces"]


def test_the_pdf_is_the_one_the_command_writes(tmp_path: Path) -> None:
    from templates_engine import pipeline

    text = SAMPLES[0].read_text()
    made = template_pdf(PageRequest(text, name="01_panelboard_top.yaml"), False)
    job = tmp_path / "01_panelboard_top.yaml"
    job.write_text(text)
    pipeline.write_template(pipeline.solve_job(pipeline.open_job(job)), tmp_path / "x.pdf")
    ((name, data, _),) = made["files"]
    assert name == "01_panelboard_top.pdf"
    assert data == (tmp_path / "x.pdf").read_bytes()


def test_a_layout_that_fails_is_no_template_unless_asked_for() -> None:
    text = SAMPLES[0].read_text().replace("depth: 5-3/4", "depth: 3")
    assert "fails a check" in template_pdf(PageRequest(text), False)["problems"][0]
    assert "files" in template_pdf(PageRequest(text), True)
