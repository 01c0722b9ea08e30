"""The README's own words, run: the draw command and the example job."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from command_line import run

from templates_engine import pipeline
from templates_engine.job import read_job, read_job_text

ROOT = Path(__file__).parents[2]
README = ROOT / "README.md"
PACKAGE = ROOT / "templates_engine"

if not README.exists():
    pytest.skip("no README beside these tests", allow_module_level=True)


def block(marker: str, language: str, document: Path = README) -> str:
    found = re.search(
        rf"<!-- {marker} -->\n```{language}\n(.*?)```\n<!-- end -->",
        document.read_text(encoding="utf-8"),
        re.DOTALL,
    )
    assert found, f"{document.name} has no block marked {marker}"
    return found[1]


def test_the_example_job_is_drawn(tmp_path: Path) -> None:
    solved = pipeline.solve_job(read_job_text(block("example job", "yaml"), "README.md"))
    assert not solved.fails
    pipeline.write_template(solved, tmp_path / "example.pdf")
    assert (tmp_path / "example.pdf").stat().st_size > 0


def test_the_example_of_factory_knockouts_stands_in_them() -> None:
    solved = pipeline.solve_job(read_job_text(block("example factory knockouts", "yaml"), "README.md"))
    holes = [(one.u_in, one.v_in, one.hole_diameter_in) for one in solved.layout.faces[0].holes]
    assert holes == [(4, 2, 1.109), (10, 2, 2.469)]  # NEMA knockouts of 3/4 and 2
    assert not solved.fails


def test_the_example_shop_file_serves_the_example_job(tmp_path: Path) -> None:
    job = block("example job", "yaml").replace("        gap: 1-1/8", "        #")
    (tmp_path / "job.yaml").write_text(job, encoding="utf-8")
    (tmp_path / "shop.yaml").write_text(block("example shop", "yaml"), encoding="utf-8")
    read = read_job(tmp_path / "job.yaml")
    assert {row.gap for face in read.faces for row in face.rows} == {"fittings"}
    assert len(read.shop.fittings) == 3
    assert not pipeline.solve_job(read).fails


def test_the_example_headings_serve_a_schedule(tmp_path: Path) -> None:
    (tmp_path / "office.yaml").write_text(block("example headings", "yaml"), encoding="utf-8")
    schedule = (
        "Panel,Job,Face,Width,Height,Depth,Type,Cond. size,Remarks\nLP-1,School,top,20,40,5-3/4,EMT,2,x\n"
    )
    (tmp_path / "f.csv").write_text(schedule, encoding="utf-8")
    done = run("import", "f.csv", "--into", "jobs", "--headings", "office.yaml", cwd=tmp_path)
    assert done.stdout.splitlines() == [
        f"{Path('jobs') / 'LP-1.yaml'}: new, 1 raceway.",
        "1 enclosure: 1 new; 0 changed; 0 as they are.",
    ]


def run_script(text: str, folder: Path) -> subprocess.CompletedProcess[str]:
    (folder / "own_script.py").write_text(text, encoding="utf-8")
    return subprocess.run(
        [sys.executable, "own_script.py"],
        cwd=folder, capture_output=True, text=True, check=True, timeout=300,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )  # fmt: skip


@pytest.mark.parametrize("marker", ["example stages", "example building"])
def test_the_examples_from_python_run(marker: str, tmp_path: Path) -> None:
    """Each as a script of its own, as people run it."""
    (tmp_path / "sample_jobs").mkdir()
    for number in (1, 8):  # the second fails a check
        (sample,) = (ROOT / "sample_jobs").glob(f"{number:02d}_*.yaml")
        (tmp_path / "sample_jobs" / sample.name).write_bytes(sample.read_bytes())
    (tmp_path / "sample_jobs" / "bad.yaml").write_text("job: x\n", encoding="utf-8")
    said = run_script(block(marker, "python", ROOT / "DEVELOPERS.md"), tmp_path).stdout
    if marker == "example stages":
        assert len(re.findall(r"^A\d [\d.]+ [\d.]+$", said, re.MULTILINE)) == 7
        assert re.search(r"^\d+ pages$", said, re.MULTILINE)
    else:
        assert [path.name for path in tmp_path.glob("*.pdf")] == ["01_panelboard_top.pdf"]
        assert "bad.yaml" in said
        assert "01_panelboard_top.yaml drawn 01_panelboard_top.pdf" in said


def test_a_script_that_forgot_the_guard_is_told_so_and_ends(tmp_path: Path) -> None:
    for number in (1, 2):
        (sample,) = (ROOT / "sample_jobs").glob(f"{number:02d}_*.yaml")
        (tmp_path / sample.name).write_bytes(sample.read_bytes())
    done = run_script(
        "from pathlib import Path\nfrom templates_engine import draw_building\n"
        "for job in draw_building([Path('.')], Path('drawn'), count=2).jobs:\n    print(job.error)\n",
        tmp_path,
    )
    assert done.stdout.count('below `if __name__ == "__main__":`') == 2
    assert "a script that works on many jobs at once is read anew by each process it starts" in done.stderr
    assert not list(tmp_path.rglob("*.pdf"))


def test_the_draw_command_names_a_sample_that_exists_and_the_file_it_makes() -> None:
    command = block("draw command", "sh")
    sample = ROOT / command.split(" draw ")[1].strip()
    assert sample.exists()
    assert f"{sample.stem}.pdf" in README.read_text(encoding="utf-8")


def test_every_picture_and_file_the_documents_name_exists() -> None:
    for name in ("README.md", "DEVELOPERS.md"):
        text = (ROOT / name).read_text(encoding="utf-8")
        for target in re.findall(r"!\[[^\]]*\]\(([^)]+)\)", text):
            assert (ROOT / target).exists(), target
        for target in re.findall(r"`((\w+)/[\w/.]+\.\w+)`", text):
            homes = [home for home in (ROOT, PACKAGE) if (home / target[1]).is_dir()]
            assert not homes or any((home / target[0]).exists() for home in homes), target[0]


def test_every_module_that_is_named_in_passing_exists() -> None:
    """A file that was renamed is called by its new name wherever another says what it leaves to it."""
    code = [*PACKAGE.rglob("*.py"), *(ROOT / "tests").rglob("*.py")]
    files = [f"/{path.relative_to(ROOT).as_posix()}" for path in code]
    for document in (ROOT / "DEVELOPERS.md", *PACKAGE.rglob("*.py")):
        for name in re.findall(r"(?<![\w/.-])((?:\w+/)*\w+\.py)\b", document.read_text(encoding="utf-8")):
            assert any(file.endswith(f"/{name}") for file in files), (document.name, name)
