"""Names of paper that offices use and this program does not: each is answered with what to write instead."""

from __future__ import annotations

import pytest

from templates_engine.trade.papers import CALLED_HERE, PaperError, read_paper


@pytest.mark.parametrize("name", [name for names in CALLED_HERE.values() for name in names])
def test_what_is_offered_instead_of_a_usual_name_can_be_written(name: str) -> None:
    with pytest.raises(PaperError) as refused:
        read_paper(name)
    offered = refused.value.remedy.removeprefix('Write "').removesuffix('".')
    assert read_paper(offered).short_in >= 5


@pytest.mark.parametrize(
    ("name", "message", "remedy"),
    [
        ("ledger", '"ledger" is called tabloid here (11 x 17 in).', 'Write "tabloid".'),
        ("Ledger paper", "called tabloid here", 'Write "tabloid".'),
        ("ANSI-A", "called letter here (8.5 x 11 in)", 'Write "letter".'),
        ("ansi d", "is written by its size here", 'Write "22 x 34 in".'),
        ("Arch D", "is written by its size here", 'Write "24 x 36 in".'),
        ("D size", "may be either of two sizes", 'Write "22 x 34 in" or "24 x 36 in".'),
        ("c", "may be either of two sizes", 'Write "17 x 22 in" or "18 x 24 in".'),
        ("B4", "names no paper known here", "or a size such as"),
    ],
)
def test_a_usual_name_is_answered_with_the_one_used_here(name: str, message: str, remedy: str) -> None:
    with pytest.raises(PaperError) as refused:
        read_paper(name)
    assert message in refused.value.message
    assert remedy in refused.value.remedy


@pytest.mark.parametrize("name", ["11x17", "8.5x11", "a4", "Letter", "8-1/2 x 11", "11 by 17"])
def test_sizes_and_capitals_as_people_write_them(name: str) -> None:
    assert read_paper(name).long_in is not None
