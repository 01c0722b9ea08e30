"""Shop files: what they say, where they are found, what they are asked before the tables, and what a job
leaves to them."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from templates_engine.errors import JobProblems
from templates_engine.job import read_job
from templates_engine.job.model import Job, MarginsIn
from templates_engine.job.read.job import read_job_text
from templates_engine.job.shop.find import BESIDE_JOB, IN_USER_FOLDER, NO_SHOP, shop_beside
from templates_engine.job.shop.model import (
    MEASURED,
    NO_FIGURES,
    Shop,
    ShopFitting,
    ShopPunch,
    bonding_lug,
    fitting,
    punch,
)
from templates_engine.job.shop.read import read_shop_text
from templates_engine.trade import fittings as tables
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceways import look_up
from templates_engine.user_folder import OVERRIDE

SHOP = """\
units: in
fittings:
  - {kind: bonding bushing, size: 2, across: 3-1/16, lug: 5/8}
  - {kind: Grounding bushing, size: 1-1/4, across: 2.2}
  - {kind: connector, type: EMT, size: 53 mm, across: 2-7/8}
  - {kind: locknut, size: 5, across: 6-1/2 in}
  - {kind: strap, type: metric, size: M20, across: 50.8 mm}
punches:
  - {size: 2, hole: 2.416, pilot: 7/8, die: 3-1/8}
  - {size: 1, pilot: 25/32}
gap: 1-1/4
paper: [legal, tabloid]
margins: 3/8
printer: office
"""

JOB = """\
job: x
enclosure: {width: 30, height: 30, depth: 8, back gap: 0}
faces:
  - face: top
    rows:
      - strut: 1-5/8
        place: centred
        raceways: [{type: EMT, size: 2}, {type: EMT, size: 1}]
"""


def job_with(shop: str, job: str = JOB) -> Job:
    return read_job_text(job, "job.yaml", read_shop_text(shop, "shop.yaml"))


# --- what it says -------------------------------------------------------------------------------------------


def test_figures_are_read_in_inches_by_kind_type_and_size() -> None:
    shop = read_shop_text(SHOP, "shop.yaml").shop
    assert shop == Shop(
        BESIDE_JOB,
        (
            ShopFitting("bonding bushing", None, "2", 3.0625, 0.625),
            ShopFitting("bonding bushing", None, "1-1/4", 2.2),
            ShopFitting("connector", "EMT", "2", 2.875),
            ShopFitting("locknut", None, "5", 6.5),
            ShopFitting("strap", "metric", "20", 2.0),
            ShopFitting("punch die", None, "2", 3.125),
        ),
        (ShopPunch(None, "2", 2.416, 0.875), ShopPunch(None, "1", None, 25 / 32)),
    )


def test_bare_numbers_are_millimetres_where_the_shop_file_says_so() -> None:
    (found,) = read_shop_text("units: mm\nfittings: [{kind: hub, size: 2, across: 79}]", "s").shop.fittings
    assert found.across_in == pytest.approx(79 / 25.4)


def test_a_shop_file_may_hold_one_thing_alone() -> None:
    assert read_shop_text("printer: office", "s").usual.printer == "office"
    assert read_shop_text("gap: Fittings", "s").usual.gap == "fittings"


# --- asked before the tables --------------------------------------------------------------------------------


def test_the_shop_is_asked_first_and_said_to_be() -> None:
    shop, two = read_shop_text(SHOP, "s").shop, look_up("RMC", "2")
    found = fitting(shop, "bonding bushing", two)
    assert (found.diameter_in, found.source, found.provenance) == (3.0625, BESIDE_JOB, MEASURED)
    assert (bonding_lug(shop, two).length_in, bonding_lug(shop, two).provenance) == (0.625, MEASURED)
    own = punch(shop, two)
    assert own is not None
    assert own.hole_in == 2.416


def test_the_tables_are_asked_for_all_else() -> None:
    shop = read_shop_text(SHOP, "s").shop
    for kind in tables.KINDS:
        size = look_up("RMC", "1/2")
        assert fitting(shop, kind, size) == tables.look_up(kind, size)
        assert fitting(NO_FIGURES, kind, size) == tables.look_up(kind, size)
    assert bonding_lug(shop, look_up("RMC", "1-1/4")) == tables.allowance(tables.BONDING_LUG)
    assert punch(shop, look_up("RMC", "1/2")) is None
    with pytest.raises(NotInTables):
        fitting(shop, "hub", look_up("RMC", "5"))


def test_what_neither_table_has_can_come_from_the_shop() -> None:
    assert fitting(read_shop_text(SHOP, "s").shop, "locknut", look_up("RMC", "5")).diameter_in == 6.5


def test_a_figure_for_a_type_goes_before_one_for_all_and_serves_that_type_alone() -> None:
    text = """\
fittings:
  - {kind: strap, size: 2, across: 3}
  - {kind: strap, type: EMT, size: 2, across: 2-3/4}
"""
    shop = read_shop_text(text, "s").shop
    assert fitting(shop, "strap", look_up("EMT", "2")).diameter_in == 2.75
    assert fitting(shop, "strap", look_up("RMC", "2")).diameter_in == 3.0


def test_metric_raceways_share_no_figure_with_trade_sizes() -> None:
    shop = Shop("s", (ShopFitting("strap", None, "20", 9.0),))
    metric = look_up("metric", "20")
    assert fitting(shop, "strap", metric) == tables.look_up("strap", metric)
    own = read_shop_text(SHOP, "s").shop
    assert fitting(own, "strap", metric).diameter_in == pytest.approx(2.0)


def test_a_plain_bushing_is_taken_as_large_as_the_shops_insulated_one() -> None:
    shop = read_shop_text("fittings: [{kind: insulated bushing, size: 2, across: 3.2}]", "s").shop
    found = fitting(shop, "plain bushing", look_up("EMT", "2"))
    assert (found.kind, found.diameter_in, found.provenance) == ("plain bushing", 3.2, MEASURED)


# --- what a job leaves to it --------------------------------------------------------------------------------


def test_a_job_takes_gap_paper_margins_and_printer_it_does_not_name() -> None:
    job = job_with(SHOP)
    (row,) = job.faces[0].rows
    assert (row.gap, row.gap_from_shop, row.gap_words) == (1.25, True, "the shop's usual gap")
    assert [paper.name for paper in job.printing.papers] == ["legal", "tabloid"]
    assert job.printing.margins == MarginsIn(0.375, 0.375, 0.375, 0.375)
    assert job.printing.printer == "office"
    assert job.printing.from_shop == ("paper", "margins", "printer")
    assert not job.printing.margins_named
    assert job.shop.source == BESIDE_JOB


def test_what_the_job_names_goes_before_the_shops() -> None:
    text = (
        JOB.replace("strut: 1-5/8", "strut: 1-5/8\n        gap: 1")
        + "print: {paper: A4, margins: 1/2, printer: b}"
    )
    job = job_with(SHOP, text)
    (row,) = job.faces[0].rows
    assert (row.gap, row.gap_from_shop, row.gap_words) == (1.0, False, "gap of the row")
    assert [paper.name for paper in job.printing.papers] == ["A4"]
    assert job.printing.margins.top_in == 0.5
    assert job.printing.printer == "b"
    assert job.printing.from_shop == ()


def test_a_spread_row_stays_as_open_as_it_was() -> None:
    text = JOB.replace("centred", "{spread: {from: 2, to: 28}}")
    (row,) = job_with(SHOP, text).faces[0].rows
    assert (row.gap, row.gap_from_shop) == (0.0, False)


def test_the_shops_gap_may_be_fittings() -> None:
    (row,) = job_with("gap: fittings").faces[0].rows
    assert row.gap == "fittings"


def test_a_single_gap_may_be_left_to_the_fittings() -> None:
    text = JOB.replace("{type: EMT, size: 1}", "{type: EMT, size: 1, gap before: Fittings}")
    raceways = job_with(SHOP, text).faces[0].rows[0].raceways
    assert [raceway.gap_before_in for raceway in raceways] == [None, "fittings"]


def test_without_a_shop_file_nothing_is_taken_from_one() -> None:
    job = read_job_text(JOB.replace("strut: 1-5/8", "strut: 1-5/8\n        gap: 1"), "job.yaml")
    assert job.shop == NO_FIGURES
    assert job.printing.from_shop == ()


# --- where it is found --------------------------------------------------------------------------------------


@pytest.fixture
def settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "settings"
    folder.mkdir()
    monkeypatch.setenv(OVERRIDE, str(folder))
    return folder


def write_job(folder: Path, text: str = JOB, name: str = "job.yaml") -> Path:
    folder.mkdir(exist_ok=True)
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_beside_the_job_before_the_users_folder(tmp_path: Path, settings: Path) -> None:
    job = write_job(tmp_path / "jobs")
    assert shop_beside(job) == NO_SHOP
    (settings / "shop.yaml").write_text("gap: 2", encoding="utf-8")
    assert read_job(job).faces[0].rows[0].gap == 2.0
    assert read_job(job).shop.source == IN_USER_FOLDER
    (tmp_path / "jobs" / "shop.yaml").write_text("gap: 3", encoding="utf-8")
    assert read_job(job).faces[0].rows[0].gap == 3.0
    assert read_job(job).shop.source == BESIDE_JOB


def test_a_job_read_by_its_bare_name_has_its_folder_too(
    tmp_path: Path, settings: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_job(tmp_path)
    (tmp_path / "shop.yaml").write_text("gap: 3", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    assert read_job("job.yaml").faces[0].rows[0].gap == 3.0


def test_an_account_without_a_home_has_no_settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(OVERRIDE)
    monkeypatch.delenv("XDG_CONFIG_HOME", raising=False)
    monkeypatch.setattr("templates_engine.user_folder._home", _no_home)
    assert shop_beside(tmp_path / "job.yaml") == NO_SHOP


def test_a_settings_folder_that_cannot_be_looked_into_is_told(
    tmp_path: Path, settings: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(path: Path, *more: object, **how: object) -> os.stat_result:
        if Path(path).parent == settings:
            raise PermissionError(errno.EACCES, "Permission denied", str(path))
        return plain(path)

    plain = os.lstat
    monkeypatch.setattr("templates_engine.job.shop.find.os.lstat", refused)
    (problem,) = shop_beside(tmp_path / "job.yaml").problems
    assert "shop.yaml" in str(problem)
    monkeypatch.undo()
    assert shop_beside(tmp_path / "job.yaml") == NO_SHOP


def _no_home() -> Path:
    from templates_engine.errors import Problem, TemplatesError

    raise TemplatesError([Problem("no home.", "")])


def test_a_file_read_as_a_job_is_not_its_own_shop_file(tmp_path: Path, settings: Path) -> None:
    text = JOB.replace("strut: 1-5/8", "strut: 1-5/8\n        gap: 1")
    assert read_job(write_job(tmp_path, text, "shop.yaml")).shop == NO_FIGURES


def test_problems_of_both_files_are_told_at_once(tmp_path: Path, settings: Path) -> None:
    job = write_job(tmp_path, JOB.replace("width: 30", "wdth: 30"))
    shop = tmp_path / "shop.yaml"
    shop.write_text("fitings: []\ngap: -1\n", encoding="utf-8")
    with pytest.raises(JobProblems) as caught:
        read_job(job)
    found = [(problem.file, problem.line, problem.key) for problem in caught.value.problems]
    assert found == [
        (str(shop), 1, "fitings"),
        (str(shop), 2, "gap"),
        (str(job), 2, "enclosure.wdth"),
    ]


def test_a_damaged_shop_file_stops_a_sound_job_and_its_gap_is_not_called_missing(
    tmp_path: Path, settings: Path
) -> None:
    job = write_job(tmp_path)
    (tmp_path / "shop.yaml").write_text("gap: 1 in 4\n", encoding="utf-8")
    with pytest.raises(JobProblems) as caught:
        read_job(job)
    (problem,) = caught.value.problems
    assert problem.file.endswith("shop.yaml")
    (tmp_path / "shop.yaml").write_text("gap: 1\n", encoding="utf-8")
    assert read_job(job).faces[0].rows[0].gap == 1.0
