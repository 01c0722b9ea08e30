"""What the cover page tells a person with a rule: true distances, drills by size, corners within reach."""

from __future__ import annotations

import math
import re

from factories import make_face, make_job, make_raceway, make_row

from templates_engine.checks import check
from templates_engine.drawing import draw
from templates_engine.drawing.shapes import Fraction, Words
from templates_engine.job.model import CentreLine, FaceJob
from templates_engine.layout import solve
from templates_engine.layout.model import Note
from templates_engine.sheets import plan
from templates_engine.units import LengthFormat
from templates_engine.values import replace


def cover_text(face: FaceJob) -> str:
    layout = solve(make_job(face))
    document = draw(layout, plan(layout), check(layout))
    return "\n".join(
        _plain(shape)
        for page in document.pages
        if "cover" in page.bookmark
        for shape in page.shapes
        if isinstance(shape, Words)
    )


def _plain(words: Words) -> str:
    text = ""
    for run in words.runs:
        if isinstance(run, Fraction):
            text += ("-" if text[-1:].isdigit() else "") + f"{run.numerator}/{run.denominator}"
        else:
            text += run
    return text


def test_centre_to_centre_is_what_a_rule_reads_between_the_centres() -> None:
    face = make_face(make_row("4", "1/2"), depth=8.0)
    first, second = solve(make_job(face)).faces[0].holes
    true_in = math.dist(first.centre, second.centre)
    assert true_in > second.u_in - first.u_in + 0.1
    assert f"{true_in:.4f}".rstrip("0") in cover_text(face).split("\n")


def test_corners_are_those_a_rule_can_be_set_to() -> None:
    outside = make_face(make_row("1", "2"))
    assert "left front corner to A2" in cover_text(outside)
    inside = make_face(make_row("1", "2"), mark_from="inside")
    assert "corner to A2" not in cover_text(inside)
    known = replace(inside, metal_in=0.125)
    text = cover_text(known)
    _, last = solve(make_job(known)).faces[0].holes
    read = math.dist((0.125, 0.125), last.centre)
    assert "left back corner inside to A2" in text
    assert LengthFormat("in", 64).say(read) in text


def test_the_step_at_the_edges_fits_the_side_it_is_taped_to() -> None:
    known = replace(make_face(make_row("1"), mark_from="inside"), metal_in=0.125)
    outside, inside = cover_text(make_face(make_row("1"))), cover_text(known)
    assert "Crease or trim at the face's edges" in outside
    assert "Crease or trim at the face's edges" not in inside
    assert "Trim on the inner line" in inside
    assert "Trim on the inner line" not in outside


def test_a_drill_is_named_by_its_own_size() -> None:
    inches, metric = LengthFormat("in"), LengthFormat("mm")
    assert [inches.drill(one) for one in (25 / 32, 29 / 64, 1.2, 0.25)] == ["25/32", "29/64", "1.2", "1/4"]
    assert [metric.drill(one) for one in (0.875, 0.25)] == ["22.23", "6.35"]


def test_half_a_millimetre_is_a_tie_as_millimetres() -> None:
    assert LengthFormat("mm").mark(151.25 / 25.4) == "151.5"


def test_a_row_on_a_centre_line_is_told_by_its_centres_and_one_on_strut_by_its_backs() -> None:
    nipples = make_row("2", "1", back_line=CentreLine(2.5), strut=None, spacing=3.0)
    front = make_row("1", name="B", back_line="auto", strut=None)
    text = " ".join(cover_text(make_face(nipples, front)).split())
    assert "Row A: centres of holes 2-1/2 in from the back edge: centre line given as 2-1/2 in." in text
    assert "Row B: backs of raceways 4-5/8 in (4.5985) from the back edge: clear of row A" in text


def test_notes_of_what_moved_a_hole_stand_in_bold_on_the_faces_they_are_about() -> None:
    """Both faces have an A1: a note of the top face's is none of the bottom's."""
    top, bottom = make_face(make_row("1", "2")), make_face(make_row("1"), face="bottom")
    layout = solve(make_job(top, bottom))
    notes = (
        Note("moved off the seam", ("A2",), "top"),
        Note("no `hole` is named", ("A1", "A2"), "top"),
        Note("every gap is the shop's", ("A1",), "bottom"),
    )
    noted = replace(layout, notes=notes)
    wanted = {
        "top": {"A2: moved off the seam.", "No 'hole' is named."},
        "bottom": {"Every gap is the shop's."},
    }
    document = draw(noted, plan(noted), check(noted))
    for face, sentences in wanted.items():
        page = next(page for page in document.pages if page.bookmark == f"{face}: cover page")
        bold = [shape for shape in page.shapes if isinstance(shape, Words) and shape.bold]
        told = {_plain(one): one.at.y for one in bold if _plain(one) in set().union(*wanted.values())}
        table = next(one.at.y for one in bold if _plain(one).startswith("Holes ("))
        assert told.keys() == sentences
        assert min(told.values()) > table


def test_the_card_outline_is_on_the_page_that_the_steps_name() -> None:
    layout = solve(make_job(make_face(make_row("1", "2"))))
    many = replace(layout, notes=tuple(Note(f"Note {number}: " + "word " * 40) for number in range(60)))
    for one in (layout, many):
        pages = [page for page in draw(one, plan(one), check(one)).pages if "cover" in page.bookmark]
        words = [[_plain(part) for part in page.shapes if isinstance(part, Words)] for page in pages]
        texts = [" ".join(part for part in page if not re.fullmatch(r"\d\.", part)) for page in words]
        (outline,) = [number for number, text in enumerate(texts, 1) if "Lay a bank or ID card here" in text]
        assert any(f"card outline on cover page {outline}" in text for text in texts)


def test_bonding_bushings_stand_out_in_the_table_of_holes() -> None:
    raceways = (make_raceway("1", "A1"), make_raceway("2", "A2", bushing="bonding"))
    assert "BONDING" in cover_text(make_face(make_row(*raceways))).split("\n")
    assert "bushing" not in cover_text(make_face(make_row("1", "2"))).split("\n")
