"""The letters that tell sheets of one print from those of another that show the same holes."""

from __future__ import annotations

import pytest
from sheet_layouts import Drilled, face, layout

from templates_engine.sheets import plan
from templates_engine.sheets.model import Correction, PrinterCorrection

SEVEN = [Drilled(2.0 + 3.3 * index, 2.5, 1.4) for index in range(7)]


def told(corrected=None, **named) -> str:
    return plan(layout([face(24.0, 6.0, SEVEN)], **named), corrected).faces[0].fingerprint


def test_it_starts_with_the_layouts_and_is_the_same_twice():
    assert told().startswith("TEST-TEST-")
    assert len(told()) == len("TEST-TEST-4QP")
    assert told() == told()


@pytest.mark.parametrize(
    "named",
    [
        {"papers": ["tabloid"]},
        {"joints": "butt"},
        {"orientation": "portrait"},
        {"corrected": PrinterCorrection("office", Correction(1.003, 1.0))},
        {"corrected": PrinterCorrection("office", Correction(1.0, 1.003))},
    ],
)
def test_other_sheets_of_the_same_face_have_another(named):
    assert told(**named) != told()


def test_whose_correction_it_is_does_not_matter():
    same = Correction(1.003, 1.0)
    assert told(PrinterCorrection("office", same)) == told(PrinterCorrection("plotter", same))
