"""Checks measure with the shop's own figures where it gives them, and say so."""

from __future__ import annotations

import pytest
from check_cases import finding, moved, outcome
from factories import make_face, make_job, make_raceway, make_row

from templates_engine.job.model import Job
from templates_engine.job.shop.model import Shop, ShopFitting
from templates_engine.layout import solve
from templates_engine.layout.model import Layout
from templates_engine.values import replace

SOURCE = "the shop's own file"


def job(shop: tuple[ShopFitting, ...] = (), size: str = "2", **raceway: object) -> Job:
    raceways = [make_raceway(size, id, type="RMC", **raceway) for id in ("A1", "A2")]  # type: ignore[arg-type]
    made = make_job(make_face(make_row(*raceways, strut=3.25), width=40, depth=14))
    return replace(made, shop=Shop(SOURCE if shop else "", shop))


def apart(by_in: float, shop: tuple[ShopFitting, ...] = (), **raceway: object) -> Layout:
    layout = solve(job(shop, **raceway))  # type: ignore[arg-type]
    return moved(moved(layout, "A1", u=15), "A2", u=15 + by_in)


def own(kind: str, across: float, size: str = "2", lug: float | None = None) -> tuple[ShopFitting, ...]:
    return (ShopFitting(kind, None, size, across, lug),)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("check", "kind", "across", "raceway", "enough"),
    [
        ("fittings apart", "locknut", 3.3, {}, 3.3),
        ("fittings apart", "bonding bushing", 3.6, {"bushing": "bonding"}, 3.6),
        ("straps", "strap", 3.0, {}, 3.0),
        ("punch die", "punch die", 4.5, {}, (4.5 + 2.469) / 2),
    ],
)
def test_two_that_touch_pass_and_closer_ones_caution(
    check: str, kind: str, across: float, raceway: dict[str, object], enough: float
) -> None:
    shop = own(kind, across)
    assert outcome(apart(enough + 1e-3, shop, **raceway), check) == "ok"
    short = finding(apart(enough - 1e-3, shop, **raceway), check)
    assert short.outcome.value == "caution"
    assert short.source.endswith(f"; {SOURCE}")
    assert SOURCE not in finding(apart(enough - 1e-3, **raceway), check).source


def test_a_shops_own_lug_is_turned_about() -> None:
    """A lug longer than the face is deep and than the way to the next bushing meets something everywhere."""
    long = own("bonding bushing", 3.0, lug=30.0)
    assert (
        outcome(apart(5.0, own("bonding bushing", 3.0, lug=0.5), bushing="bonding"), "bonding lugs") == "ok"
    )
    assert outcome(apart(5.0, long, bushing="bonding"), "bonding lugs") == "caution"


def test_a_shops_own_locknut_is_not_taken_smaller_than_it_is() -> None:
    """The table's 2.95 in may be 1/8 less; a shop's 2.95 in is 2.95 in."""
    tight = 2.95 / 2 + 2.375 / 2 - 0.05
    for shop, expected in (((), "caution"), (own("locknut", 2.95), "ok")):
        layout = moved(moved(apart(5.0, shop), "A1", hole_most_in=tight), "A2", hole_most_in=tight)
        assert outcome(layout, "locknut covers the hole") == expected


def test_with_a_locknut_alone_of_a_size_no_table_has_a_bushing_is_not_checked() -> None:
    layout = apart(9.0, own("locknut", 6.4, "5"), size="5", bushing="bonding", cutter="hole saw")
    found = finding(layout, "fittings apart")
    assert found.outcome.value == "not checked"
    assert "bonding bushing" in found.message
    full = (*own("locknut", 6.4, "5"), *own("bonding bushing", 6.5, "5"))
    layout = apart(9.0, full, size="5", bushing="bonding", cutter="hole saw")
    assert outcome(layout, "fittings apart") == "ok"
