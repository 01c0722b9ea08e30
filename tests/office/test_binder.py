"""A binder holds the pages of every template as they are, and finds them by index, bookmark and number."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pikepdf
import pypdf
import pypdfium2
import pytest
from command_line import Done, run
from panels import RACEWAYS, TOO_SHALLOW, drawn, panel, strays

from templates_engine.errors import CannotWrite
from templates_engine.office.binder import bind as binder
from templates_engine.office.draw.batch import draw_building
from templates_engine.office.draw.one_job import DrawnJob
from templates_engine.office.draw.orders import HowToDraw
from templates_engine.values import replace

MARKS = ("LP-1", "LP-2", "LP-3", "LP-10", "LP-20")


@pytest.fixture(scope="module")
def building(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Panels on letter, LP-10 with two faces; LP-3 on A4, LP-20 on a roll, one too shallow and one bad."""
    folder = tmp_path_factory.mktemp("binder")
    site = folder / "site"
    site.mkdir()
    jobs = {
        "LP-1": panel("LP-1", RACEWAYS[0]),
        "LP-2": panel("LP-2", RACEWAYS[1]),
        "LP-3": panel("LP-3", RACEWAYS[2], paper="A4"),
        "LP-10": panel("LP-10", RACEWAYS[3], second_face=True),
        "LP-20": panel("LP-20", RACEWAYS[0], width="60", paper="24 in roll"),
        "LP-30": panel("LP-30", TOO_SHALLOW),
        "bad": "job: x\n",
    }
    for name, text in jobs.items():
        (site / f"{name}.yaml").write_text(text, encoding="utf-8")
    done = bind(folder)
    assert done.returncode == 2, done.stderr
    return folder


def bind(folder: Path, *more: str) -> Done:
    return run(
        "draw", "site", "--into", "out", "--binder", "all.pdf", "--cores", "1", *more, cwd=folder
    )  # fmt: skip


def texts(path: Path) -> list[str]:
    """The words of every page, as one reader of PDF files has them."""
    with pypdfium2.PdfDocument(path) as document:
        return [page.get_textpage().get_text_bounded().replace("\r\n", "\n") for page in document]


def pictures(path: Path, dpi: int = 40) -> Iterator[tuple[tuple[float, float], bytes]]:
    """The size of every page in points, and its picture."""
    with pypdfium2.PdfDocument(path) as document:
        for page in document:
            yield page.get_size(), bytes(page.render(scale=dpi / 72, grayscale=True).buffer)


def index_of(path: Path) -> dict[str, list[tuple[int, int, str]]]:
    """(first page, last page, file) of every enclosure, as the index has it."""
    pages = "\n".join(texts(path)).partition("Findings of all")[0]
    found: dict[str, list[tuple[int, int, str]]] = {}
    for line in pages.splitlines():
        if mark := re.match(r"(LP-\d+) LP-\d+\.yaml ", line):
            places = re.findall(r"(\d+)(?: to (\d+))?(?: of (\S+\.pdf))?(?:;|$)", line)
            found[mark[1]] = [(int(first), int(last or first), file) for first, last, file in places]
    return found


def test_every_page_is_that_of_its_template(building: Path) -> None:
    single = {name: list(pictures(building / "out" / name)) for name in drawn(building / "out")}
    words = {name: texts(building / "out" / name) for name in single}
    binders = {
        "all.pdf": ["LP-1.pdf", "LP-2.pdf", "LP-10.pdf", "LP-20-cover.pdf"],
        "all-A4.pdf": ["LP-3.pdf"],
        "all-24-in-roll.pdf": ["LP-20.pdf"],
    }
    for name, parts in binders.items():
        wanted = [page for part in parts for page in single[part]]
        seen = list(pictures(building / name))
        front = len(seen) - len(wanted)
        assert front == (0 if "roll" in name else 2)
        assert seen[front:] == wanted
        assert texts(building / name)[front:] == [page for part in parts for page in words[part]]
    sizes = {tuple(round(side / 72, 2) for side in size) for size, _ in pictures(building / "all.pdf")}
    assert {tuple(sorted(size)) for size in sizes} == {(8.5, 11.0)}
    assert strays(building / "out") == []


def test_the_index_leads_to_every_enclosure(building: Path) -> None:
    told = texts(building / "all.pdf")
    index = index_of(building / "all.pdf")
    assert list(index) == list(MARKS)
    assert [file for _, _, file in index["LP-20"]] == ["", "all-24-in-roll.pdf"]
    assert [file for _, _, file in index["LP-3"]] == ["all-A4.pdf"]
    for mark, places in index.items():
        for first, last, file in places:
            pages = texts(building / file) if file else told
            own = [number for number, text in enumerate(pages, 1) if re.search(rf"\b{mark}\b", text)]
            assert [number for number in own if number > (2 if "roll" not in file else 0)] == list(
                range(first, last + 1)
            ), mark
    assert index_of(building / "all-A4.pdf")["LP-3"] == [(3, len(texts(building / "all-A4.pdf")), "")]
    (elsewhere,) = index_of(building / "all-A4.pdf")["LP-2"]
    assert elsewhere == (*index["LP-2"][0][:2], "all.pdf")


def test_what_is_not_there_is_told(building: Path) -> None:
    first = texts(building / "all.pdf")[0]
    assert "Not in any binder, for no template could be drawn" in first
    assert "site/bad.yaml: `enclosure` is missing" in first
    assert re.search(r"LP-30, site/LP-30.yaml: a check failed", first)
    assert "What is on A4 stands in all-A4.pdf." in first


def test_findings_of_all_come_by_their_gravity(building: Path) -> None:
    told = " ".join(texts(building / "all.pdf")[1].split())
    jobs = {}
    for mark in MARKS:
        done = run("check", f"site/{mark}.yaml", "--as", "json", cwd=building)
        jobs[mark] = json.loads(done.stdout)["findings"]
    cautions = [
        f"CAUTION, {one['check']}, {mark} {one['face']}" for mark, found in jobs.items() for one in found
        if one["outcome"] == "caution"
    ]  # fmt: skip
    assert len(cautions) >= 2
    places = [told.index(words) for words in cautions]
    assert max(places) < told.index("NOT CHECKED")
    assert told.count("CAUTION, ") == len(cautions)
    lacking = {
        (mark, one["check"])
        for mark, found in jobs.items()
        for one in found
        if one["outcome"] == "not checked"
    }
    for mark, check in lacking:
        assert re.search(rf"NOT CHECKED,[^•]*\b{check}\b[^•]*\b{mark}\b", told), (mark, check)
    passed = sum(one["outcome"] == "ok" for found in jobs.values() for one in found)
    assert f"Passed: {passed} checks." in told


def test_what_is_said_alike_of_several_enclosures_is_said_once(one_job: DrawnJob, tmp_path: Path) -> None:
    own = [one for one in one_job.findings if one.outcome.value == "caution"]
    jobs = copies(one_job, 3)
    other = replace(own[-1], message="The third has something else.")
    jobs[2] = replace(jobs[2], findings=(*one_job.findings, other))
    binder.bind(jobs, tmp_path / "all.pdf")
    told = " ".join(" ".join(texts(tmp_path / "all.pdf")[1:3]).split())
    assert own
    assert told.count("CAUTION, ") == len(own) + 1
    holes = ", ".join(own[0].holes)
    assert f"CAUTION, {own[0].check}, LP-1 top {holes}; LP-2 top {holes}; LP-3 top {holes}: " in told
    of_third = ", ".join(own[-1].holes)
    assert f"CAUTION, {own[-1].check}, LP-3 top {of_third}: The third has something else." in told


def test_a_draft_is_the_gravest(building: Path, tmp_path: Path) -> None:
    made = draw_building([building / "site"], tmp_path / "out", binder=tmp_path / "all.pdf", count=1,
                         how=HowToDraw(draft=True))  # fmt: skip
    assert [one.paper for one in made.binders] == ["letter", "A4", "24 in roll"]
    told = texts(tmp_path / "all.pdf")
    assert "DRAFT, 1 failed: do not cut" in " ".join(told[0].split())
    findings = " ".join(told[1].split())
    assert findings.index("FAIL, depth of the can, LP-30 top") < findings.index("CAUTION, ")


def test_bookmarks_and_numbers(building: Path) -> None:
    with pypdfium2.PdfDocument(building / "all.pdf") as document:
        marks = [(one.level, one.get_title(), one.get_dest().get_index()) for one in document.get_toc()]
        labels = [document.get_page_label(number) for number in range(len(document))]
    assert labels == [str(number) for number in range(1, len(labels) + 1)]
    assert [title for level, title, _ in marks if level == 0] == [
        "contents", "findings", "LP-1", "LP-2", "LP-10", "LP-20",
    ]  # fmt: skip
    index = index_of(building / "all.pdf")
    for level, title, page in marks:
        if level == 0 and title in index:
            assert page + 1 == index[title][0][0]
    told = texts(building / "all.pdf")
    (bottom,) = (page for _, title, page in marks if title == "bottom: cover page")
    assert "LP-10: BOTTOM" in told[bottom]
    last = max(page for _, title, page in marks if title.startswith("bottom, sheet "))
    assert "LP-10" in told[last]
    assert "BOTTOM" in told[last]


def test_it_is_printed_as_it_is_and_known_as_ours(building: Path) -> None:
    for path in sorted(building.glob("all*.pdf")):
        with pikepdf.open(path) as document:
            assert document.Root.ViewerPreferences.PrintScaling == "/None"
            assert document.Root.ViewerPreferences.PickTrayByPDFSize
            assert str(document.docinfo["/Title"]) == "Lakeside school: marking templates"
            assert "/CreationDate" not in document.docinfo
            assert document.check_pdf_syntax() == []
    before = {path.name: path.read_bytes() for path in building.glob("all*.pdf")}
    assert len(before) == 3
    assert bind(building).returncode == 2  # over what it made itself
    assert {path.name: path.read_bytes() for path in building.glob("all*.pdf")} == before
    assert bind(building, "--again").returncode == 2
    assert {path.name: path.read_bytes() for path in building.glob("all*.pdf")} == before


def test_a_file_of_another_program_is_not_written_over(building: Path, tmp_path: Path) -> None:
    (tmp_path / "site").symlink_to(building / "site")
    other = tmp_path / "all-A4.pdf"
    other.write_bytes(b"%PDF-1.4 a map")
    done = bind(tmp_path)
    assert done.returncode == 4
    assert "--overwrite all-A4.pdf" in done.stderr
    assert [path.name for path in tmp_path.glob("*.pdf")] == ["all-A4.pdf"]
    assert bind(tmp_path, "--overwrite", "all-A4.pdf").returncode == 2
    assert len(list(tmp_path.glob("*.pdf"))) == 3
    (tmp_path / "all.pdf").write_bytes(b"%PDF-1.4 a map")
    (tmp_path / "site 2").mkdir()
    early = run("draw", "site", "--into", "new", "--binder", "all.pdf", cwd=tmp_path)
    assert early.returncode == 4
    assert not (tmp_path / "new").exists()
    same = run("draw", "site", "--into", ".", "--binder", "LP-2.pdf", cwd=tmp_path)
    assert same.returncode == 4
    assert "a job's template has that name" in same.stderr
    alone = run("draw", "site/LP-1.yaml", "--binder", "x.pdf", cwd=tmp_path)
    assert alone.returncode == 2
    assert "Add --into FOLDER." in alone.stderr


# --- many, and what must not get by -------------------------------------------------------------------------


@pytest.fixture(scope="module")
def one_job(tmp_path_factory: pytest.TempPathFactory) -> DrawnJob:
    folder = tmp_path_factory.mktemp("one")
    (folder / "LP-1.yaml").write_text(panel("LP-1"), encoding="utf-8")
    (job,) = draw_building([folder], folder / "out", count=1).jobs
    return job


def copies(job: DrawnJob, count: int) -> list[DrawnJob]:
    """The same template under many names and marks."""
    made = []
    for number in range(1, count + 1):
        order = replace(job.order, name=f"LP-{number}.pdf", job=Path(f"LP-{number}.yaml"))
        order.pdf.write_bytes((job.order.into / job.files[0].name).read_bytes())
        files = (replace(job.files[0], name=order.name),)
        made.append(replace(job, order=order, mark=f"LP-{number}", files=files))
    return made


def test_the_index_is_right_where_it_takes_pages_itself(one_job: DrawnJob, tmp_path: Path) -> None:
    jobs = copies(one_job, 120)
    (made,) = binder.bind(jobs[::-1], tmp_path / "all.pdf")
    each = one_job.files[0].pages
    front = made.pages - 120 * each
    assert front >= 4
    assert index_of(tmp_path / "all.pdf") == {
        f"LP-{number}": [(front + 1 + (number - 1) * each, front + number * each, "")]
        for number in range(1, 121)
    }


def test_two_enclosures_of_one_mark_are_told_apart(one_job: DrawnJob, tmp_path: Path) -> None:
    jobs = [replace(one, mark="LP-1") for one in copies(one_job, 2)]
    binder.bind(jobs, tmp_path / "all.pdf")
    with pypdfium2.PdfDocument(tmp_path / "all.pdf") as document:
        marks = [one.get_title() for one in document.get_toc() if one.level == 0]
    assert marks[2:] == ["LP-1 (LP-1.pdf)", "LP-1 (LP-2.pdf)"]
    jobs = [
        replace(one, order=replace(one.order, name=f"floor {number}/LP-1.pdf"))
        for number, one in enumerate(jobs)
    ]
    for one in jobs:
        one.order.pdf.parent.mkdir()
    binder.bind(jobs, tmp_path / "all.pdf")
    told = texts(tmp_path / "all.pdf")[0]
    assert all(f"LP-1 floor {number}/LP-1.yaml" in told for number in range(2))


def test_a_template_that_changed_meanwhile_is_not_bound(one_job: DrawnJob, tmp_path: Path) -> None:
    jobs = copies(one_job, 2)
    jobs[1].order.pdf.write_bytes(jobs[1].order.pdf.read_bytes() + b"\n")
    with pytest.raises(CannotWrite, match=r"LP-2\.pdf is not as it was drawn"):
        binder.bind(jobs, tmp_path / "all.pdf")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("slip", ["scaled", "turned", "lost", "swapped", "picture", "box", "setting"])
def test_a_binder_whose_pages_differ_is_refused(
    slip: str, one_job: DrawnJob, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    binder_bytes = binder.binder_bytes

    def spoilt(*values: object) -> bytes:
        (tmp_path / "whole").write_bytes(binder_bytes(*values))  # type: ignore[arg-type]
        writer = pypdf.PdfWriter(clone_from=tmp_path / "whole")
        writer.pdf_header = "%PDF-1.7"
        spoil(writer, slip)
        writer.write(tmp_path / "spoilt")
        return (tmp_path / "spoilt").read_bytes()

    binder.bind([one_job], tmp_path / "all.pdf")
    before = (tmp_path / "all.pdf").read_bytes()
    monkeypatch.setattr(binder, "binder_bytes", spoilt)
    with pytest.raises(CannotWrite, match="read back and refused"):
        binder.bind([one_job], tmp_path / "all.pdf")
    assert (tmp_path / "all.pdf").read_bytes() == before


def spoil(writer: pypdf.PdfWriter, slip: str) -> None:
    """What a library or a slip could do to the last page, a sheet."""
    page = writer.pages[-1]
    if slip == "scaled":
        page.add_transformation(pypdf.Transformation().scale(0.97))
    elif slip == "turned":
        page.rotate(90)
    elif slip == "lost":
        writer.remove_page(len(writer.pages) - 1)
    elif slip == "swapped":
        writer.pages[-2][pypdf.generic.NameObject("/Contents")] = page["/Contents"].get_object()
    elif slip == "picture":
        form = next(iter(page["/Resources"]["/XObject"].values())).get_object()
        form[pypdf.generic.NameObject("/Matrix")][0] = pypdf.generic.FloatObject(0.97)
    elif slip == "box":
        page.mediabox.upper_right = (600, 800)
    else:
        writer.root_object["/ViewerPreferences"][pypdf.generic.NameObject("/PrintScaling")] = (
            pypdf.generic.NameObject("/AppDefault")
        )
