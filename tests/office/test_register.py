"""The register knows every sheet that was drawn, says what moved since, and loses nothing."""

from __future__ import annotations

import errno
import json
import os
import random
import re
import shutil
import sqlite3
import subprocess
import sys
from collections import Counter
from pathlib import Path
from unittest import mock

import pypdfium2
import pytest
import zxingcpp
from command_line import Done, run
from panels import RACEWAYS, TOO_SHALLOW, panel
from pdf_reading import page_count, raster

from templates_engine.office.register import store as register_store
from templates_engine.office.register.faces import RecordedFace, RecordedHole, moves
from templates_engine.office.register.find_sheets import read_codes
from templates_engine.office.register.store import Register

CODE = r"[0-9A-Z]{4}-[0-9A-Z]{4}-[0-9A-Z]{3}"
PLACED = """job: Harbour clinic
revision: {revision}
enclosure: {{mark: DP-7, kind: cabinet, width: 30, height: 40, depth: 8}}
faces:
  - face: top
    mark from: outside
    rows:
      - {{back line: 1, gap: 1, place: centred, raceways: [{{type: EMT, size: 1}}]}}
  - face: left
    mark from: outside
    rows:
      - back line: 1
        gap: 1
        place: {{from: top, to: centre, distance: 4}}
        raceways: [{{type: EMT, size: 1}}]
      - back line: {back}
        spacing: 3
        place: {{from: top, to: centre, distance: {distance}}}
        raceways: [{raceways}]
"""
TWO = "{type: EMT, size: 1}, {type: EMT, size: 3/4}"


def placed(revision: str = "A", back: str = "4", distance: str = "4", raceways: str = TWO) -> str:
    return PLACED.format(revision=revision, back=back, distance=distance, raceways=raceways)


@pytest.fixture(scope="module")
def first_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two panels and a can with a second row on its second face, all of them drawn and recorded."""
    folder = tmp_path_factory.mktemp("first")
    jobs = folder / "site" / "second floor"
    jobs.mkdir(parents=True)
    (folder / "site" / "LP-1.yaml").write_text(panel("LP-1"), encoding="utf-8")
    (jobs / "LP-10.yaml").write_text(panel("LP-10", RACEWAYS[1]), encoding="utf-8")
    (jobs / "DP-7.yaml").write_text(placed(), encoding="utf-8")
    assert run("register", "start", "site", cwd=folder).returncode == 0
    assert draw(folder).returncode == 0
    return folder


@pytest.fixture(scope="module")
def eighth_revision(first_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same after seven revisions more, so that the register is some pages long."""
    folder = shutil.copytree(first_site, tmp_path_factory.mktemp("eighth") / "site")
    for number, revision in enumerate("BCDEFGH", 5):
        change(folder, placed(revision, distance=f"{number}"))
        assert draw(folder).returncode == 0
    return folder


@pytest.fixture
def site(first_site: Path, tmp_path: Path) -> Path:
    """A copy of the first: registers and templates may be moved with their folder."""
    return shutil.copytree(first_site, tmp_path, dirs_exist_ok=True)


def draw(cwd: Path, *more: str) -> Done:
    return run("draw", "site", "--into", "out", "--cores", "1", *more, cwd=cwd)


def change(cwd: Path, text: str) -> None:
    (cwd / "site" / "second floor" / "DP-7.yaml").write_text(text, encoding="utf-8")


def printed_codes(pdf: Path) -> list[str]:
    """The fingerprints as they are printed, each once, in their order."""
    with pypdfium2.PdfDocument(pdf) as document:
        text = "\n".join(page.get_textpage().get_text_bounded() for page in document)
    return list(dict.fromkeys(re.findall(rf"fingerprint\s+({CODE})", text)))


def listed(cwd: Path, *more: str) -> list[list[str]]:
    done = run("register", "list", "site", *more, cwd=cwd)
    assert done.returncode == 0, done.stderr
    return [re.split(r"\s{2,}", line) for line in done.stdout.splitlines()[1:]]


def sheet(cwd: Path, *code: str) -> Done:
    return run("sheet", *code, "--in", "site", cwd=cwd)


def square_codes(pdf: Path) -> list[str]:
    """What a phone reads on each page that has a code."""
    pages = (raster(pdf, page, 300)[0] for page in range(page_count(pdf)))
    return [one.text for pixels in pages for one in zxingcpp.read_barcodes(pixels) if one.valid]


# --- what is recorded ---------------------------------------------------------------------------------------


def test_every_face_that_is_drawn_is_recorded_as_it_is_printed(site: Path) -> None:
    rows = listed(site)
    assert [(row[0], row[1], row[2], row[5], row[6]) for row in rows] == [
        ("LP-1", "top", "A", "drawn", "LP-1.yaml"),
        ("DP-7", "top", "A", "drawn", "second floor/DP-7.yaml"),
        ("DP-7", "left", "A", "drawn", "second floor/DP-7.yaml"),
        ("LP-10", "top", "A", "drawn", "second floor/LP-10.yaml"),
    ]
    assert [row[3] for row in rows[1:3]] == printed_codes(site / "out" / "second floor" / "DP-7.pdf")
    assert [rows[0][3]] == printed_codes(site / "out" / "LP-1.pdf")
    draw(site)
    draw(site, "--again")
    assert listed(site, "--all") == rows
    with sqlite3.connect(site / "site" / "register.sqlite") as kept:
        dump = "\n".join(kept.iterdump())
        texts = [text for (text,) in kept.execute("SELECT text FROM drawn ORDER BY number")]
    kept.close()
    assert str(site) not in dump
    assert placed() in texts


def test_one_job_drawn_alone_and_one_face_of_it_are_recorded_too(site: Path) -> None:
    change(site, placed("B", distance="5"))
    job = "site/second floor/DP-7.yaml"
    assert run("draw", job, "--face", "left", "-o", "x.pdf", cwd=site).returncode == 0
    by_face = {row[1]: row for row in listed(site) if row[0] == "DP-7"}
    assert by_face["left"][2:4] == ["B", *printed_codes(site / "x.pdf")]
    assert by_face["top"][2] == "A"
    checked = run("register", "check", "site", "--cores", "1", cwd=site)
    assert checked.returncode == 1
    assert "second floor/DP-7.yaml: DP-7 top: drawn as revision A." in checked.stdout
    assert "4 faces: 3 drawn as the jobs are today." in checked.stdout


def test_without_a_register_nothing_is_kept(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "LP-1.yaml").write_text(panel("LP-1"), encoding="utf-8")
    assert draw(tmp_path).returncode == 0
    assert [path.name for path in (tmp_path / "site").iterdir()] == ["LP-1.yaml"]
    for word in ("list", "check", "rebuild"):
        done = run("register", word, "site", cwd=tmp_path)
        assert done.returncode == 2
        assert "register start FOLDER" in done.stderr
    assert run("register", "start", "site", cwd=tmp_path).returncode == 0
    assert run("register", "check", "site", cwd=tmp_path).returncode == 1
    assert draw(tmp_path).returncode == 0  # it stands unchanged, and is recorded now
    assert run("register", "check", "site", cwd=tmp_path).returncode == 0


def test_one_register_for_one_folder(site: Path) -> None:
    again = run("register", "start", "site", cwd=site)
    assert again.returncode == 0
    assert "is kept already" in again.stdout
    assert len(listed(site)) == 4
    below = run("register", "start", "site/second floor", cwd=site)
    assert below.returncode == 2
    assert "That register has these jobs too." in below.stderr
    assert run("register", "start", ".", cwd=site).returncode == 2
    assert not (site / "register.sqlite").exists()  # or nobody would know which of two knows a sheet
    rebuilt = run("register", "rebuild", "site/second floor", cwd=site)
    assert rebuilt.stdout.startswith(f"{site / 'site' / 'register.sqlite'}: made anew, 3 drawings saved.")
    assert run("register", "start", "nowhere", cwd=site).returncode == 2


def test_folders_with_their_register_are_moved_and_keep_what_they_know(site: Path) -> None:
    other = site / "annex"
    other.mkdir()
    (other / "LP-7.yaml").write_text(panel("LP-7", RACEWAYS[2]), encoding="utf-8")
    assert run("register", "start", "annex", cwd=site).returncode == 0
    assert run("draw", "annex", "--into", "out", "--cores", "1", cwd=site).returncode == 0
    (code,) = printed_codes(site / "out" / "LP-7.pdf")
    before = entries(site)
    other.rename(site / "site" / "third floor")
    (site / "site").rename(site / "clinic")
    told = run("register", "check", "clinic", "--cores", "1", cwd=site)
    assert told.stdout == "4 faces: 4 drawn as the jobs are today.\n"  # that folder's own knows the fifth
    assert run("sheet", code, "--in", "clinic/third floor", cwd=site).returncode == 0
    assert run("register", "rebuild", "clinic", cwd=site).returncode == 0
    (site / "clinic").rename(site / "site")
    assert entries(site) == before


# --- the revision -------------------------------------------------------------------------------------------


def test_a_layout_that_changed_under_an_unchanged_revision_is_refused(site: Path) -> None:
    before = (site / "out" / "second floor" / "DP-7.pdf").read_bytes()
    (old,) = (row[3] for row in listed(site) if row[1] == "left")
    change(site, placed(distance="5"))  # the second row of the second face
    done = draw(site)
    assert done.returncode == 2
    assert f"left (was {old[:9]})" in done.stderr
    assert "second floor/DP-7.yaml: revision: the layout has changed since revision A" in done.stderr
    assert "top (was" not in done.stderr
    assert (site / "out" / "second floor" / "DP-7.pdf").read_bytes() == before
    alone = run("draw", "site/second floor/DP-7.yaml", cwd=site)
    assert alone.returncode == 2
    assert not (site / "DP-7.pdf").exists()
    change(site, "# only a note\n" + placed().replace("{paper", "{paper"))
    assert draw(site).returncode == 0
    change(site, placed("B", distance="5"))
    assert draw(site).returncode == 0
    change(site, placed("A", distance="6"))  # back to the letter that was drawn otherwise
    assert draw(site).returncode == 2
    assert draw(site, "--same-revision").returncode == 0
    assert draw(site).returncode == 0  # it is what was drawn last under A
    assert [row[2] for row in listed(site, "--all") if row[1] == "left"] == ["A", "B", "A"]


def test_without_a_revision_one_is_asked_for(site: Path) -> None:
    change(site, placed("''"))
    assert draw(site).returncode == 0
    change(site, placed("''", distance="5"))
    done = draw(site)
    assert done.returncode == 2
    assert "Write the next one, such as `revision: A`" in done.stderr


def test_a_draft_is_recorded_as_one_and_binds_no_revision(site: Path) -> None:
    job = site / "site" / "LP-1.yaml"
    job.write_text(panel("LP-1", TOO_SHALLOW), encoding="utf-8")
    assert draw(site, "--draft").returncode == 0
    (row,) = (row for row in listed(site) if row[0] == "LP-1")
    assert row[5] == "draft"
    told = sheet(site, row[3])
    assert told.returncode == 1
    assert "DRAFT: a check had failed. Do not cut from it." in told.stdout
    job.write_text(panel("LP-1"), encoding="utf-8")
    assert draw(site).returncode == 0


# --- a sheet in hand ----------------------------------------------------------------------------------------


def test_a_sheet_is_known_however_its_code_is_typed(site: Path) -> None:
    (code,) = printed_codes(site / "out" / "LP-1.pdf")
    first = f"LP-1 top, revision A, {code}: drawn "
    misread = code.replace("0", "O").replace("1", "l")
    for typed in (code, code.lower(), code[:9], code.replace("-", ""), code.replace("-", " "), misread):
        done = sheet(site, *typed.split(" "))
        assert done.returncode == 0, (typed, done.stderr)
        assert done.stdout.startswith(first)
        assert "CURRENT: " in done.stdout
    texts = square_codes(site / "out" / "second floor" / "DP-7.pdf")
    assert {text.split()[1] for text in texts} == {"TOP", "LEFT"}
    for text in texts:
        done = sheet(site, text)
        assert done.returncode == 0
        assert done.stdout.startswith(f"DP-7 {text.split()[1].lower()}, revision A, ")


def test_a_code_that_nobody_drew(site: Path) -> None:
    (code,) = printed_codes(site / "out" / "LP-1.pdf")
    other = ("0" if code[0] != "0" else "1") + code[1:]
    done = sheet(site, other)
    assert done.returncode == 2
    assert f"no sheet with the code {other} was drawn here." in done.stderr
    for words in ("", "LP-1", "K7QM", "sheet 1 of 2"):
        done = sheet(site, words)
        assert done.returncode == 2
        assert "this is no code of a sheet" in done.stderr


def test_enclosures_with_the_same_layout_are_all_named(site: Path) -> None:
    (site / "site" / "LP-10 west.yaml").write_text(panel("LP-10 W"), encoding="utf-8")
    (site / "site" / "LP-11.yaml").write_text(panel("LP-11", revision="C"), encoding="utf-8")
    assert draw(site).returncode == 0
    (code,) = printed_codes(site / "out" / "LP-1.pdf")
    told = sheet(site, code).stdout.splitlines()
    assert told[0] == "3 faces have this layout:"
    assert [line.partition(" top")[0] for line in told if ": drawn " in line] == ["LP-1", "LP-10 W", "LP-11"]
    (site / "site" / "LP-11.yaml").write_text(panel("LP-11", revision="C", paper="tabloid"), encoding="utf-8")
    assert draw(site).returncode == 0
    told = sheet(site, code).stdout
    assert told.count("CURRENT: ") == 3  # LP-11 was drawn on such sheets too
    (site / "site" / "LP-12.yaml").write_text(panel("LP-12", paper="tabloid"), encoding="utf-8")
    assert draw(site).returncode == 0
    assert "LP-12" not in sheet(site, code).stdout  # never on such sheets
    assert "LP-12" in sheet(site, code[:9]).stdout
    assert "LP-12" in sheet(site, f"{code[:9]}-ZZZ").stdout
    one = sheet(site, square_codes(site / "out" / "LP-11.pdf")[0]).stdout
    assert one.startswith("LP-11 top, revision C, ")


def test_what_moved_since_is_told_hole_by_hole(site: Path) -> None:
    """The second row of the left side: 4 in from the top, back line 4; then 5-1/2 in, 4-1/4, one more."""
    old = next(row[3] for row in listed(site) if row[1] == "left")
    three = "{type: EMT, size: 1}, {type: EMT, size: 1-1/4}, {type: EMT, size: 3/4}"
    change(site, placed("B", back="4-1/4", distance="5-1/2", raceways=three))
    told = sheet(site, old)
    assert told.returncode == 1
    assert "The job has changed since, and has not been drawn as it is: draw it." in told.stdout
    assert "Superseded" not in told.stdout
    assert draw(site).returncode == 0
    new = next(row[3] for row in listed(site) if row[1] == "left")
    told = sheet(site, old)
    assert told.returncode == 1
    lines = told.stdout.splitlines()
    assert lines[1] == "NOT CURRENT: do not mark from it."
    assert lines[2].startswith(f"Superseded by revision B, {new}, drawn ")
    # EMT 1 is 1.163 in outside, 3/4 is 0.922, 1-1/4 is 1.510 [ANSI C80.3 Table 1]; a centre lies half of it
    # in front of the back line, the next 3 in on.
    assert lines[3:] == [
        "B1 moved 1-1/2 in toward the bottom and 1/4 in toward the front: "
        "now 5-1/2 from the top, 4-13/16 from the back.",
        "B2, B3 now, moved 4-1/2 in toward the bottom and 1/4 in toward the front: "
        "now 11-1/2 from the top, 4-11/16 from the back.",
        "B2 added: 1-1/4 in EMT, 8-1/2 from the top, 5 from the back.",
        "1 hole as on the sheet.",
    ]
    assert sheet(site, new).returncode == 0
    change(site, placed("C", back="4-1/4", distance="5-1/2", raceways="{type: EMT, size: 1}"))
    told = sheet(site, new).stdout
    assert "B2 removed: 1-1/4 in EMT, it was 8-1/2 from the top, 5 from the back." in told
    assert "B3 removed: 3/4 in EMT" in told
    assert "2 holes as on the sheet." in told


def test_what_else_of_a_face_changed_is_told(site: Path) -> None:
    old = next(row[3] for row in listed(site) if row[1] == "left")
    text = placed("B").replace("height: 40", "height: 42, sheet metal: 16 ga")
    change(site, text.replace("left\n    mark from: outside", "left\n    mark from: inside"))
    told = sheet(site, old).stdout
    assert "It was marked from outside, and is marked from inside now." in told
    assert "The face's width was 40 in, and is 42 in now." in told
    assert "No hole is elsewhere." in told


def test_the_same_layout_under_another_revision_or_on_other_sheets(site: Path) -> None:
    text = square_codes(site / "out" / "LP-1.pdf")[0]
    (first,) = printed_codes(site / "out" / "LP-1.pdf")
    job = site / "site" / "LP-1.yaml"
    job.write_text(panel("LP-1", revision="B"), encoding="utf-8")
    assert draw(site).returncode == 0
    told = sheet(site, text)  # which says that it is revision A
    assert told.returncode == 1
    assert "NOT CURRENT" in told.stdout
    assert "No hole is elsewhere." in told.stdout
    typed = sheet(site, first)
    assert typed.returncode == 0
    assert "The same layout was drawn as revision A too: the sheet says which it is." in typed.stdout
    job.write_text(panel("LP-1", revision="B", paper="tabloid"), encoding="utf-8")
    assert draw(site).returncode == 0
    (second,) = printed_codes(site / "out" / "LP-1.pdf")
    assert second[:9] == first[:9]
    assert second != first
    assert f"It was drawn on other sheets since, {second}" in sheet(site, first).stdout
    assert "other sheets" not in sheet(site, second).stdout


def test_a_sheet_whose_job_is_gone_or_spoilt(site: Path) -> None:
    (code,) = printed_codes(site / "out" / "LP-1.pdf")
    job = site / "site" / "LP-1.yaml"
    job.write_text("job: x\n", encoding="utf-8")
    told = sheet(site, code)
    assert told.returncode == 1
    assert "NOT KNOWN TO BE CURRENT" in told.stdout
    assert "The job cannot be used today: " in told.stdout
    job.unlink()
    assert "NOT KNOWN TO BE CURRENT" in sheet(site, code).stdout
    left = next(row[3] for row in listed(site) if row[1] == "left")
    change(site, placed("B").partition("  - face: left")[0])
    assert "The job has no left any more." in sheet(site, left).stdout


def test_register_check_tells_every_face_that_is_not_as_drawn(site: Path) -> None:
    assert run("register", "check", "site", "--cores", "1", cwd=site).stdout == (
        "4 faces: 4 drawn as the jobs are today.\n"
    )
    left = next(row[3] for row in listed(site) if row[1] == "left")
    change(site, placed("B", distance="5"))
    (site / "site" / "new.yaml").write_text(panel("LP-20"), encoding="utf-8")
    (site / "site" / "bad.yaml").write_text("job: x\n", encoding="utf-8")
    (site / "site" / "LP-1.yaml").unlink()
    done = run("register", "check", "site", "--cores", "1", cwd=site)
    assert done.returncode == 1
    assert done.stdout.splitlines() == [
        "bad.yaml: cannot be used: `enclosure` is missing.",
        "new.yaml: LP-20 top: not drawn.",
        "second floor/DP-7.yaml: DP-7 top: drawn as revision A.",
        f"second floor/DP-7.yaml: DP-7 left: changed since it was drawn as {left}.",
        "LP-1.yaml: LP-1 top: drawn, and the job is gone.",
        "6 faces: 1 drawn as the jobs are today.",
    ]


# --- what moved, by itself ----------------------------------------------------------------------------------


def face_of(holes: list[RecordedHole]) -> RecordedFace:
    return RecordedFace("top", "left", "right", "AAAA-AAAA", "", "outside", 20.0, 6.0, tuple(holes))


@pytest.mark.parametrize("seed", range(40))
def test_every_hole_is_told_once(seed: int) -> None:
    """Whatever changes, each hole of either face stays, moves, goes or comes, and no two count for one."""
    chance = random.Random(seed)

    def some() -> list[RecordedHole]:
        return [
            RecordedHole(f"A{number}", kind, chance.choice((2.0, 4.0, 6.0)), 1.0, size, 0.5)
            for number in range(1, chance.randint(1, 6))
            for kind, size in [chance.choice((("1 in EMT", 1.375), ("3/4 in EMT", 1.125)))]
        ]

    old, new = some(), some()
    found = moves(face_of(old), face_of(new))
    gone = Counter([one.old for one in found.moved] + list(found.removed))
    come = Counter([one.new for one in found.moved] + list(found.added))
    assert sum(gone.values()) + found.stay == len(old)
    assert sum(come.values()) + found.stay == len(new)
    assert not gone - Counter(old)
    assert not come - Counter(new)
    for one in found.moved:
        assert (one.old.called, one.old.hole_in) == (one.new.called, one.new.hole_in)
    still = {(hole.hole_in, hole.u_in) for hole in old} & {(hole.hole_in, hole.u_in) for hole in new}
    assert not still & {(hole.hole_in, hole.u_in) for hole in found.removed} or found.stay + len(found.moved)


def test_codes_are_found_in_words() -> None:
    text = "ROOM-1234 TOP, tape\nsheet 1 of 2\nrev B\nK7QM-2XWD-4QP\nHall of art"
    assert [f"{one.fingerprint}-{one.sheets}" for one in read_codes(text)] == ["R00M-1234-", "K7QM-2XWD-4QP"]
    assert read_codes("k7qm 2xwd 4qp") == read_codes("K7QM2XWD4QP") == read_codes("K7QM-2XWD-4QP")


# --- many at once, and what goes wrong ----------------------------------------------------------------------


def test_ten_runs_at_once_lose_nothing(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    for number in range(1, 11):
        text = panel(f"LP-{number}", width=f"{20 + number}")
        (tmp_path / "site" / f"LP-{number}.yaml").write_text(text, encoding="utf-8")
    run("register", "start", "site", cwd=tmp_path)
    script = (
        "import sys\nfrom pathlib import Path\nfrom templates_engine import solve_job, read_job\n"
        "from templates_engine.office.register.recording import recording\n"
        "from templates_engine.pipeline import plan_job\n"
        "jobs = [(path, solve_job(read_job(path))) for path in sorted(Path('site').glob('*.yaml'))]\n"
        "jobs = [(path, solved, plan_job(solved)) for path, solved in jobs]\n"
        "sys.stdin.read()\n"
        "for path, solved, plan in jobs:\n"
        "    recording(path, solved).record(plan, path.with_suffix('.pdf'))\n"
    )
    running = [
        subprocess.Popen(
            [sys.executable, "-c", script],
            cwd=tmp_path,
            stdin=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        for _ in range(10)
    ]
    for process in running:
        assert process.stdin is not None
        process.stdin.close()  # all are ready, or nearly
    for process in running:
        assert process.stderr is not None
        complained = process.stderr.read()
        assert process.wait(timeout=120) == 0, complained
        process.stderr.close()
    assert Counter(row[0] for row in listed(tmp_path, "--all")) == {f"LP-{n}": 1 for n in range(1, 11)}


def entries(site: Path) -> list[list[str]]:
    """Every drawing: enclosure, face, revision, and the fingerprint of its layout."""
    return [[*row[:3], row[3][:9]] for row in listed(site, "--all")]


@pytest.mark.parametrize("damage", ["header", "page", "cut", "words", "figure", "empty"])
def test_a_damaged_register_is_reported_kept_aside_and_rebuilt(
    damage: str, eighth_revision: Path, tmp_path: Path
) -> None:
    site = shutil.copytree(eighth_revision, tmp_path, dirs_exist_ok=True)
    before = entries(site)
    file = site / "site" / "register.sqlite"
    data = bytearray(file.read_bytes())
    spoil(data, damage)
    file.write_bytes(data)
    done = draw(site)
    assert "Traceback" not in done.stderr
    if damage != "page":  # which hits one table or the other
        assert done.returncode == 2
        assert "register rebuild" in done.stderr
    made = run("register", "rebuild", "site", cwd=site)
    assert made.returncode == 0, made.stderr
    assert (site / "site" / "register-kept-aside-1.sqlite").read_bytes() == bytes(data)
    assert draw(site).returncode == 0
    assert run("register", "check", "site", "--cores", "1", cwd=site).returncode == 0
    saved = entries(site)
    assert all(row in before for row in saved)
    if damage in ("page", "words", "figure"):
        assert len(saved) > 4  # more than what the jobs are today
    today = {row[3] for row in before[-1:]}
    assert today <= {row[3] for row in saved}
    change(site, placed("H", distance="20"))
    assert draw(site).returncode == 2  # the revision is still known


def spoil(data: bytearray, damage: str) -> None:
    if damage == "header":
        data[:16] = b"not a database.."
    elif damage == "page":
        data[5 * 4096 : 5 * 4096 + 64] = b"\xff" * 64
    elif damage == "cut":
        del data[4096:]
    elif damage == "words":  # one face of an entry that cannot be read
        place = data.index(b'"fingerprint"')
        data[place : place + 13] = b"!fingerprint!"
    elif damage == "figure":  # a figure that is none
        place = data.index(b'"width_in":30.0')
        data[place : place + 15] = b'"width_in":"30"'
    else:
        data.clear()


def test_other_files_of_that_name(site: Path) -> None:
    file = site / "site" / "register.sqlite"
    with sqlite3.connect(file) as kept:
        kept.execute("PRAGMA user_version = 9")
    kept.close()
    assert "a later version of the program" in draw(site).stderr
    file.unlink()
    with sqlite3.connect(file) as other:
        other.execute("CREATE TABLE addresses (name TEXT)")
    other.close()
    for words in (("register", "start", "site"), ("register", "list", "site")):
        done = run(*words, cwd=site)
        assert done.returncode == 2
        assert "this file is no register" in done.stderr


def test_a_disk_without_room_is_told(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With SQLite's own answer: no page more may be taken."""
    connected = register_store.connected

    def full(file: Path, mode: str) -> sqlite3.Connection:
        made = connected(file, mode)
        (pages,) = made.execute("PRAGMA page_count").fetchone()
        made.execute(f"PRAGMA max_page_count = {pages}")
        return made

    change(site, placed("B", distance="5", raceways=", ".join([TWO] * 4)) + "# a long note\n" * 2000)
    monkeypatch.setattr(register_store, "connected", full)
    done = draw(site)
    assert done.returncode == 4
    assert "nothing could be recorded: the disk is full. Free some space" in done.stderr
    assert "out/second floor/DP-7.pdf: drawn, but not recorded" in done.stderr
    assert "an older template" not in done.stderr
    assert not sheet(site, printed_codes(site / "out" / "second floor" / "DP-7.pdf")[1]).stdout
    monkeypatch.undo()
    drawn = (site / "out" / "second floor" / "DP-7.pdf").stat().st_ino
    assert draw(site).returncode == 0
    assert (site / "out" / "second floor" / "DP-7.pdf").stat().st_ino == drawn  # it was left alone
    assert run("register", "check", "site", "--cores", "1", cwd=site).returncode == 0


@pytest.mark.parametrize("refused", ["copy", "page", "access"])
def test_a_register_that_cannot_be_rebuilt_stays_as_it_is(
    refused: str, site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = site / "site"
    before = {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}

    def half_a_copy(source: Path, target: Path) -> None:
        target.write_bytes(source.read_bytes()[:99])
        raise OSError(errno.ENOSPC, "No space left on device")

    if refused == "copy":
        monkeypatch.setattr(shutil, "copy2", half_a_copy)
    elif refused == "page":
        said = sqlite3.OperationalError("database or disk is full")
        monkeypatch.setattr(
            Register, "add", mock.Mock(side_effect=register_store._problem(folder / ".part", said))
        )
        (folder / "new.yaml").write_text(panel("LP-2"), encoding="utf-8")
        before["new.yaml"] = (folder / "new.yaml").read_bytes()
    else:
        monkeypatch.setattr(os, "access", lambda path, mode: not mode & os.W_OK)
    done = run("register", "rebuild", "site", cwd=site)
    assert done.returncode == 4
    assert f"{folder / 'register.sqlite'}: " in done.stderr
    assert {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()} == before


def test_a_register_that_cannot_be_written_is_told_before_anything_is_drawn(
    site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    access = os.access
    monkeypatch.setattr(
        os, "access", lambda path, mode: Path(path).name != "register.sqlite" and access(path, mode)
    )
    change(site, placed("B", distance="5"))
    before = (site / "out" / "second floor" / "DP-7.pdf").read_bytes()
    done = draw(site)
    assert done.returncode == 4
    assert "nothing could be recorded: it cannot be written to." in done.stderr
    assert (site / "out" / "second floor" / "DP-7.pdf").read_bytes() == before


def test_what_is_kept_of_a_face_comes_back(site: Path) -> None:
    told = json.loads(run("holes", "site/second floor/DP-7.yaml", "--as", "json", cwd=site).stdout)
    by_face = {one.face.face: one.face for one in Register(site / "site" / "register.sqlite").all()
               if one.entry.mark == "DP-7"}  # fmt: skip
    for face in told["faces"]:
        kept = by_face[face["face"]]
        assert kept.fingerprint == face["fingerprint"]
        assert [(hole.id, round(hole.u_in, 6), round(hole.v_in, 6)) for hole in kept.holes] == [
            (hole["id"], hole["u_in"], hole["v_in"]) for hole in face["holes"]
        ]
