"""A building is drawn at once: what is bad is told, what is unchanged left alone, and no file comes half."""

from __future__ import annotations

import errno
import json
import os
import pickle
import random
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pypdfium2
import pytest
from command_line import Done, run, run_process
from panels import FLOORS, RACEWAYS, TOO_SHALLOW, drawn, make_building, panel, strays

from templates_engine import atomic
from templates_engine.errors import CannotFit, JobProblems, Problem, TemplatesError
from templates_engine.office.draw import batch, over_cores
from templates_engine.office.draw.drawn_before import read_drawn
from templates_engine.office.draw.one_job import State
from templates_engine.office.draw.orders import HowToDraw

COLUMNS = ("jobs", "drawn", "unchanged", "failed", "problems")


def counts(done: Done, folder: str = "all") -> dict[str, int]:
    """The line of a folder in the closing table."""
    (line,) = (line for line in done.stdout.splitlines() if re.match(rf"{re.escape(folder)}\s+\d", line))
    return dict(zip(COLUMNS, map(int, line.removeprefix(folder).split()), strict=True))


def draw(cwd: Path, *more: str | Path, cores: int = 1, **env: str) -> Done:
    return run("draw", "site", "--into", "out", "--cores", str(cores), *more, cwd=cwd, **env)


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """Four panels on four floors, the last with a second face."""
    make_building(tmp_path / "site", 4)
    last = tmp_path / "site" / FLOORS[3] / "LP-04.yaml"
    last.write_text(panel("LP-4", RACEWAYS[3], second_face=True), encoding="utf-8")
    return tmp_path


def text_of(pdf: Path) -> str:
    with pypdfium2.PdfDocument(pdf) as document:
        return "\n".join(page.get_textpage().get_text_bounded() for page in document)


# --- forty panels -------------------------------------------------------------------------------------------


def test_forty_panels_are_drawn_whatever_is_wrong_with_some(tmp_path: Path) -> None:
    good = make_building(tmp_path / "site")
    second = tmp_path / "site" / "second floor"
    (second / "bad.yaml").write_text("job: x\n", encoding="utf-8")
    (second / "picture.yaml").write_bytes(b"\x89PNG\r\n\x1a\n\0\0\xff\xfe")
    (second / "shallow.yaml").write_text(panel("LP-90", TOO_SHALLOW), encoding="utf-8")
    (second / "narrow.yaml").write_text(panel("LP-91", RACEWAYS[2], width="4"), encoding="utf-8")
    (second / "gone.yaml").symlink_to("nowhere.yaml")
    done = run_process("draw", "site", "--into", "out", "--cores", "2", cwd=tmp_path)
    assert done.returncode == 3, done.stderr
    assert "Traceback" not in done.stderr
    templates = drawn(tmp_path / "out")
    assert list(templates) == [
        path.relative_to(tmp_path / "site").with_suffix(".pdf").as_posix() for path in good
    ]
    told = [line.partition(".pdf: ")[0] for line in done.stdout.splitlines() if ", drawn." in line]
    assert told == [f"out/{name.removesuffix('.pdf')}" for name in templates]
    said = done.stderr.splitlines()
    for name in ("bad", "picture", "shallow", "narrow", "gone"):
        assert any(line.startswith(f"site/second floor/{name}.yaml") for line in said), name
    by_job = {line.partition(".yaml")[0] for line in said}
    assert by_job == {f"site/second floor/{name}" for name in ("bad", "picture", "shallow", "narrow", "gone")}
    assert counts(done) == {"jobs": 45, "drawn": 40, "unchanged": 0, "failed": 5, "problems": 6}
    assert counts(done, "site/second floor")["drawn"] == 10
    assert counts(done, "site/second floor/plant room") == {
        "jobs": 10, "drawn": 10, "unchanged": 0, "failed": 0, "problems": 0,
    }  # fmt: skip
    for name in (good[7], good[39]):  # as each is drawn alone
        alone = run("draw", name, "-o", tmp_path / "alone.pdf", cwd=tmp_path)
        assert alone.returncode == 0
        inside = name.relative_to(tmp_path / "site").with_suffix(".pdf").as_posix()
        assert (tmp_path / "alone.pdf").read_bytes() == templates[inside]
    again = run_process("draw", "site", "--into", "out", "--cores", "2", cwd=tmp_path)
    assert counts(again) == {"jobs": 45, "drawn": 0, "unchanged": 40, "failed": 5, "problems": 6}
    assert drawn(tmp_path / "out") == templates
    assert strays(tmp_path / "out") == []


# --- what is left alone -------------------------------------------------------------------------------------


def stamps(folder: Path) -> dict[str, int]:
    return {path.name: path.stat().st_ino for path in sorted(folder.rglob("*.pdf"))}


def drawn_again(cwd: Path, *more: str) -> set[str]:
    """The templates that a run writes anew, by their files themselves and by what it tells."""
    before = stamps(cwd / "out")
    done = draw(cwd, *more)
    assert done.returncode == 0, done.stderr
    told = {line.partition(": ")[0] for line in done.stdout.splitlines() if line.endswith(", drawn.")}
    changed = {name for name, stamp in stamps(cwd / "out").items() if before.get(name) != stamp}
    assert {Path(name).name for name in told} == changed
    assert counts(done)["unchanged"] == counts(done)["jobs"] - counts(done)["drawn"]
    return changed


def test_only_what_changed_is_drawn_again(site: Path) -> None:
    everything = {"LP-01.pdf", "LP-02.pdf", "LP-03.pdf", "LP-04.pdf"}
    assert drawn_again(site) == everything
    assert drawn_again(site) == set()
    fourth = site / "site" / FLOORS[3] / "LP-04.yaml"
    text = fourth.read_text(encoding="utf-8")
    fourth.write_text("# walked on Tuesday\n\n" + text, encoding="utf-8")
    assert drawn_again(site) == set()
    fourth.write_text(text.replace("gap: 1-1/8", "gap: 1-1/4").replace("size: 1}", "size: 1-1/4}"), "utf-8")
    assert drawn_again(site) == {"LP-04.pdf"}  # the second row of the second face
    fourth.write_text(fourth.read_text(encoding="utf-8").replace("revision: A", "revision: B"), "utf-8")
    assert drawn_again(site) == {"LP-04.pdf"}
    assert "rev B" in text_of(site / "out" / FLOORS[3] / "LP-04.pdf")
    fourth.write_text(fourth.read_text(encoding="utf-8").replace("letter", "A4"), "utf-8")
    assert drawn_again(site) == {"LP-04.pdf"}
    assert drawn_again(site, "--again") == everything


def test_another_program_draws_all_again(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    drawn_again(site)
    monkeypatch.setattr(batch, "program_code", lambda: "a later one")
    assert len(drawn_again(site)) == 4


def test_a_file_that_is_not_as_it_was_written_is_drawn_again(site: Path) -> None:
    drawn_again(site)
    whole = drawn(site / "out")
    touched = site / "out" / FLOORS[1] / "LP-02.pdf"
    touched.write_bytes(touched.read_bytes()[:-1] + b" ")
    (site / "out" / FLOORS[2] / "LP-03.pdf").unlink()
    assert drawn_again(site) == {"LP-02.pdf", "LP-03.pdf"}
    assert drawn(site / "out") == whole
    for damaged in ("{", '{"drawn": 3}', '{"drawn": {"LP-01.pdf": {"from": "x", "files": [1]}}}', ""):
        (site / "out" / ".drawn.json").write_text(damaged, encoding="utf-8")
        assert read_drawn(site / "out") == {}
    assert len(drawn_again(site)) == 4
    assert drawn(site / "out") == whole
    assert len(read_drawn(site / "out")) == 4


def test_cover_pages_apart_belong_to_their_template(site: Path) -> None:
    roll = site / "site" / FLOORS[3] / "LP-04.yaml"
    roll.write_text(panel("LP-4", RACEWAYS[3], paper="24 in roll"), encoding="utf-8")
    drawn_again(site)
    cover = site / "out" / FLOORS[3] / "LP-04-cover.pdf"
    cover.unlink()
    assert drawn_again(site) == {"LP-04.pdf", "LP-04-cover.pdf"}
    assert drawn_again(site) == set()


def test_what_moved_holes_and_what_to_mind_is_told_once(site: Path) -> None:
    first, second = draw(site), draw(site)
    note = f"site/{FLOORS[3]}/LP-04.yaml: note, bottom A1, A2, B1: "
    assert note in first.stdout
    assert "note, " not in second.stdout


# --- names --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "names",
    [
        ("LP-01.yml",),
        ("lp-01.yaml",),
        ("LP-01-cover.yaml",),
    ],
)
def test_two_jobs_never_write_one_file(names: tuple[str, ...], site: Path) -> None:
    for name in names:
        (site / "site" / FLOORS[0] / name).write_text(panel("LP-9"), encoding="utf-8")
    done = draw(site)
    assert done.returncode == 4
    assert counts(done) == {"jobs": 5, "drawn": 3, "unchanged": 0, "failed": 2, "problems": 2}
    for name in ("LP-01.yaml", *names):
        assert f"site/{FLOORS[0]}/{name}: its template would have the name of that of " in done.stderr
    assert not list((site / "out").rglob("*-01*"))


def test_a_file_of_another_program_stays_unless_it_is_named(site: Path) -> None:
    place = site / "out" / FLOORS[2] / "LP-03.pdf"
    place.parent.mkdir(parents=True)
    place.write_bytes(b"%PDF-1.4 a map of the site")
    done = draw(site)
    assert done.returncode == 4
    assert f'--overwrite "out/{FLOORS[2]}/LP-03.pdf"' in done.stderr
    assert place.read_bytes() == b"%PDF-1.4 a map of the site"
    assert counts(done)["drawn"] == 3
    stray = draw(site, "--overwrite", "out/LP-03.pdf")
    assert stray.returncode == 4
    assert "which no job here writes" in stray.stderr
    assert counts(draw(site, "--overwrite", f"out/{FLOORS[2]}/LP-03.pdf")) == {
        "jobs": 4, "drawn": 1, "unchanged": 3, "failed": 0, "problems": 0,
    }  # fmt: skip


def test_folders_are_mirrored_below_the_one_that_holds_all(site: Path) -> None:
    paths = ["site/ground floor", f"site/{FLOORS[3]}/LP-04.yaml"]
    done = run("draw", *paths, "--into", "out/new", "--cores", "1", cwd=site)
    assert done.returncode == 0, done.stderr
    assert list(drawn(site / "out" / "new")) == [
        "ground floor/LP-01.pdf", "ground floor/east/LP-02.pdf", "second floor/plant room/LP-04.pdf",
    ]  # fmt: skip


def test_options_that_do_not_go_together_are_refused(site: Path) -> None:
    job = f"site/{FLOORS[0]}/LP-01.yaml"
    for words, said in {
        ("site",): "Add --into FOLDER.",
        (job, job): "Add --into FOLDER.",
        (job, "--again"): "Add --into FOLDER.",
        ("site", "--into", "out", "-o", "x.pdf"): "Leave one of them out.",
        ("site", "--into", "out", "--face", "top"): "--face is for one job",
        ("nowhere", "--into", "out", "--cores", "1"): "nowhere",
    }.items():
        done = run("draw", *words, cwd=site)
        assert done.returncode == 2, words
        assert said in done.stderr
    assert drawn(site) == {}
    (site / "taken").write_text("a file", encoding="utf-8")
    done = run("draw", "site", "--into", "taken", cwd=site)
    assert done.returncode == 4
    assert "could not write taken: part of its folder's name is a file." in done.stderr


# --- what goes wrong ----------------------------------------------------------------------------------------


def test_a_folder_without_permission_is_told_and_the_others_are_drawn(
    site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    scandir = os.scandir

    def guarded(path: str) -> Iterator[os.DirEntry[str]]:  # chmod keeps root from nothing
        if str(path).endswith("second floor"):
            raise PermissionError(errno.EACCES, "Permission denied", str(path))
        return scandir(path)

    monkeypatch.setattr(os, "scandir", guarded)
    done = draw(site)
    assert done.returncode == 2
    assert "site/second floor: the folder cannot be read: permission denied." in done.stderr
    assert counts(done) == {"jobs": 2, "drawn": 2, "unchanged": 0, "failed": 0, "problems": 1}
    needed = run("materials", "site", cwd=site)  # where a number would be short without a word
    assert needed.returncode == 2
    assert needed.stdout == ""


def test_a_template_of_another_day_is_told_where_none_can_be_drawn(site: Path) -> None:
    draw(site)
    third = site / "site" / FLOORS[2] / "LP-03.yaml"
    third.write_text(panel("LP-3", TOO_SHALLOW), encoding="utf-8")
    done = draw(site)
    assert done.returncode == 1
    assert f"out/{FLOORS[2]}/LP-03.pdf: an older template, not of the job as it is" in done.stderr
    drafted = draw(site, "--draft")
    assert drafted.returncode == 0
    assert "DRAFT: a check failed" in drafted.stderr
    assert "DRAFT" in text_of(site / "out" / FLOORS[2] / "LP-03.pdf")


def test_a_template_whose_job_is_gone_is_told(site: Path) -> None:
    draw(site)
    fourth = site / "site" / FLOORS[3] / "LP-04.yaml"
    fourth.rename(fourth.with_name("LP-40.yaml"))
    job = f"site/{FLOORS[3]}/LP-04.yaml"
    gone = f"out/{FLOORS[3]}/LP-04.pdf: drawn from {job}, which is gone: do not cut from it.\n"
    for _ in range(2):  # as long as it stands there
        done = draw(site)
        assert done.returncode == 0
        assert done.stderr == gone
    part = run("draw", "site/ground floor", "--into", "out", "--cores", "1", cwd=site)
    assert part.stderr == gone  # the jobs that are not asked for are there
    (site / "out" / FLOORS[3] / "LP-04.pdf").unlink()
    assert draw(site).stderr == ""


def test_a_fault_of_the_program_is_told_and_the_others_are_drawn(
    site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    draw_one = batch.draw_one
    monkeypatch.setattr(
        batch, "draw_one", lambda order: 1 / 0 if order.name.endswith("3.pdf") else draw_one(order)
    )
    done = draw(site)
    assert done.returncode == 2
    assert f"site/{FLOORS[2]}/LP-03.yaml: the program has a fault here (ZeroDivisionError" in done.stderr
    assert counts(done)["drawn"] == 3


def test_a_folder_that_takes_nothing(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    opened = os.open

    def read_only(path: str, flags: int, mode: int = 0o777, **more: int) -> int:
        if flags & os.O_CREAT and "/out" in str(Path(path).resolve()):
            raise OSError(errno.EROFS, "Read-only file system", str(path))
        return opened(path, flags, mode, **more)

    monkeypatch.setattr(atomic.os, "open", read_only)
    done = draw(site)
    assert done.returncode == 4
    assert done.stderr.count("the disk is read-only") == 4
    assert drawn(site / "out") == {}
    assert strays(site / "out") == []


def test_a_disk_that_fills_up(site: Path) -> None:
    draw(site)
    whole = drawn(site / "out")
    for file in (site / "site").rglob("*.yaml"):
        file.write_text(file.read_text(encoding="utf-8").replace("revision: A", "revision: B"), "utf-8")
    resource = pytest.importorskip("resource")
    most = 20_000
    command = [sys.executable, "-m", "templates_engine", "draw", "site", "--into", "out", "--cores", "2"]
    done = subprocess.run(
        command,
        cwd=site,
        capture_output=True,
        text=True,
        check=False,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (most, most)),
    )
    assert done.returncode == 4, done.stderr
    assert done.stderr.count("could not write out/") == 4
    assert drawn(site / "out") == whole
    assert strays(site / "out") == []


def test_errors_come_whole_out_of_another_process() -> None:
    problems = (Problem("no.", "yes.", "a.yaml", 3, "faces"), Problem("neither.", ""))
    for kind in (TemplatesError, JobProblems, CannotFit):
        back = pickle.loads(pickle.dumps(kind(problems)))
        assert type(back) is kind
        assert back.problems == problems


def sleep_or_end(order: float) -> float:
    if order < 0:
        os._exit(9)
    time.sleep(order)
    return order


def test_one_that_takes_for_ever_or_dies_does_not_keep_the_others(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(over_cores, "_WITHIN_S", 1.0)
    orders = [0.0, 30.0, -1.0, 0.01, 0.02]
    given = [told for _, told in over_cores.each_done(sleep_or_end, orders, 2)]
    assert [given[0], *given[3:]] == [0.0, 0.01, 0.02]
    assert "minutes and was stopped" in str(given[1])
    assert "ended before it was done" in str(given[2])


# --- stopped ------------------------------------------------------------------------------------------------


def start(cwd: Path, *more: str) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "templates_engine", "draw", "site", "--into", "out", "--cores", "2"]
    return subprocess.Popen(
        [*command, *more],
        cwd=cwd,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )


def everything_is_whole(folder: Path) -> None:
    for path in folder.rglob("*.pdf"):
        with pypdfium2.PdfDocument(path) as document:
            assert len(document) >= 2


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_stopped_it_leaves_whole_files_and_says_what_is_left(number: signal.Signals, tmp_path: Path) -> None:
    files = make_building(tmp_path / "site")
    with start(tmp_path, "--binder", "all.pdf") as process:
        assert process.stdout is not None
        first = process.stdout.readline()
        os.killpg(process.pid, number)  # as a terminal does: to all of them
        said, complained = process.communicate(timeout=60)
    assert process.returncode == 128 + number
    assert "Traceback" not in complained
    left = next(line for line in complained.splitlines() if line.startswith("Left: "))
    told = {line.partition(":")[0] for line in (first + said).splitlines() if line.endswith(", drawn.")}
    assert 0 < len(told) < 40
    ended = 40 - int(left.split()[1])  # the last one may have ended before its line was out
    assert len(told) <= ended <= min(len(told) + 1, len(drawn(tmp_path / "out")))
    here = str(drawn(tmp_path / "out").keys())
    named = next(str(file.relative_to(tmp_path)) for file in files if file.stem not in here)
    assert named in left
    assert "all.pdf: not written." in complained
    assert not (tmp_path / "all.pdf").exists()
    assert told <= {f"out/{name}" for name in drawn(tmp_path / "out")}
    everything_is_whole(tmp_path / "out")
    assert strays(tmp_path / "out") == []


@pytest.mark.parametrize("seed", range(2))
def test_killed_at_any_moment_it_leaves_nothing_broken(seed: int, tmp_path: Path) -> None:
    kill_and_draw(tmp_path, random.Random(seed))


def kill_and_draw(folder: Path, chance: random.Random, panels: int = 4) -> None:
    """Kill all processes of a run at some moment of its drawing, with binder and register, then look, draw
    again, and look again.
    """
    make_building(folder / "site", panels)
    assert run("register", "start", "site", cwd=folder).returncode == 0
    with start(folder, "--binder", "all.pdf") as process:
        time.sleep(chance.uniform(0.3, 1.6))
        os.killpg(process.pid, signal.SIGKILL)
        process.communicate(timeout=60)
    everything_is_whole(folder)
    recorded = run("register", "list", "site", cwd=folder).stdout.splitlines()[1:]
    assert len(recorded) >= len(drawn(folder / "out")) - 2  # what two processes had in hand
    done = draw(folder, "--binder", "all.pdf")
    assert done.returncode == 0, done.stderr
    assert counts(done)["failed"] == 0
    assert len(drawn(folder / "out")) == panels
    everything_is_whole(folder)
    assert strays(folder / "out") == []
    assert sorted(path.name for path in folder.iterdir()) == ["all.pdf", "out", "site"]
    assert not list((folder / "site").glob("*-journal"))
    checked = run("register", "check", "site", "--cores", "1", cwd=folder)
    assert checked.stdout == f"{panels} faces: {panels} drawn as the jobs are today.\n"
    assert set(recorded) <= set(run("register", "list", "site", cwd=folder).stdout.splitlines())


def running(group: int) -> list[str]:
    """The processes of a group that have not ended."""
    told = subprocess.run(["ps", "-A", "-o", "pgid=,stat="], capture_output=True, text=True, check=True)
    fields = [line.split() for line in told.stdout.splitlines()]
    return [state for number, state in fields if int(number) == group and not state.startswith("Z")]


def test_workers_end_with_the_process_that_started_them(tmp_path: Path) -> None:
    make_building(tmp_path / "site", 12)
    with start(tmp_path) as process:
        assert process.stdout is not None
        process.stdout.readline()
        process.kill()
        process.communicate(timeout=60)  # returns once nobody holds its streams open
    for _ in range(200):
        if not running(process.pid):
            return
        time.sleep(0.1)
    pytest.fail("workers still run")


def test_ten_runs_at_once_lose_nothing(site: Path) -> None:
    for number in (1, 3):
        next((site / "site").rglob(f"LP-0{number}.yaml")).unlink()
    running = [start(site, "--again", "--cores", "1") for _ in range(10)]
    for process in running:
        _, complained = process.communicate(timeout=300)
        assert process.returncode == 0, complained
    assert len(drawn(site / "out")) == 2
    everything_is_whole(site / "out")
    assert strays(site / "out") == []
    assert len(read_drawn(site / "out")) == 2


# --- on a terminal ------------------------------------------------------------------------------------------


def test_on_a_terminal_a_bar_shows_how_far_it_is(site: Path) -> None:
    pty = pytest.importorskip("pty")
    (site / "site" / "bad.yaml").write_text("job: x\n", encoding="utf-8")
    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "templates_engine", "draw", "site", "--into", "out", "--cores", "1"]
    with subprocess.Popen(
        command,
        cwd=site,
        stdout=theirs,
        stderr=theirs,
        env={**os.environ, "TERM": "xterm", "COLUMNS": "200"},
    ) as process:
        os.close(theirs)
        seen = b""
        try:
            while part := os.read(ours, 4096):
                seen += part
        except OSError:  # how Linux says that the other end is closed
            pass
    os.close(ours)
    assert process.returncode == 2
    text = re.sub(r"\x1b\[[0-9;?]*[A-Za-z]", "", seen.decode())
    assert re.search(r"drawing .*[1-4]/5", text)
    assert f"out/{FLOORS[3]}/LP-04.pdf: " in text
    assert "site/bad.yaml:1: faces" in text
    assert re.search(r"all +5 +4 +0 +1 +2", text)


# --- check, holes, and from Python --------------------------------------------------------------------------


def test_check_looks_at_many(site: Path) -> None:
    (site / "site" / "bad.yaml").write_text("job: x\n", encoding="utf-8")
    (site / "site" / "shallow.yaml").write_text(panel("LP-90", TOO_SHALLOW), encoding="utf-8")
    done = run("check", "site", "--cores", "1", cwd=site)
    assert done.returncode == 2
    for number, floor in enumerate(FLOORS, 1):
        assert f"site/{floor}/LP-0{number}.yaml: " in done.stdout
    assert f"site/{FLOORS[3]}/LP-04.yaml: 7 holes; passes" in done.stdout
    assert "site/shallow.yaml: 1 hole; fails" in done.stdout
    assert "site/bad.yaml:1: enclosure" in done.stderr
    assert done.stderr.splitlines()[-1] == "6 jobs: 4 pass, 1 fail, 1 cannot be used."
    told = json.loads(run("check", "site", "--as", "json", "--cores", "2", cwd=site).stdout)["jobs"]
    alone = json.loads(run("check", f"site/{FLOORS[3]}/LP-04.yaml", "--as", "json", cwd=site).stdout)
    by_file = {one["file"]: one for one in told}
    assert len(by_file) == 6
    assert by_file[f"site/{FLOORS[3]}/LP-04.yaml"]["findings"] == alone["findings"]
    assert len(by_file["site/bad.yaml"]["problems"]) == 2
    assert run("check", "site", "--face", "top", cwd=site).returncode == 2


def test_holes_of_many(site: Path) -> None:
    alone = [
        run("holes", f"site/{floor}/LP-0{number}.yaml", "--as", "csv", cwd=site).stdout.splitlines()
        for number, floor in enumerate(FLOORS, 1)
    ]
    done = run("holes", "site", "--as", "csv", "--cores", "1", cwd=site)
    assert done.returncode == 0
    assert done.stdout.splitlines() == [alone[0][0], *(line for one in alone for line in one[1:])]
    told = json.loads(run("holes", "site", "--as", "json", "--cores", "1", cwd=site).stdout)["jobs"]
    assert [len(one["faces"]) for one in told] == [1, 1, 1, 2]
    table = run("holes", "site", "--cores", "1", cwd=site).stdout
    assert table.count("LP-4 bottom, ") == 1
    (site / "site" / "zz.yaml").write_text(panel("LP-90", TOO_SHALLOW), encoding="utf-8")
    bad = run("holes", "site", "--cores", "1", cwd=site)
    assert bad.returncode == 1
    assert "site/zz.yaml:" in bad.stderr
    assert "do not cut from these numbers" in bad.stderr


def test_from_python(site: Path) -> None:
    made = batch.draw_building([site / "site"], site / "out", HowToDraw(), 1)
    assert made.count(State.DRAWN) == 4
    assert made.problems == ()
    assert [one.mark for one in made.jobs] == ["LP-1", "LP-2", "LP-3", "LP-4"]
    assert [[face.face for face in one.faces] for one in made.jobs][3] == ["top", "bottom"]
