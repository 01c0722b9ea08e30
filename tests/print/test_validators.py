"""Every sample's PDF through programs that did not write it: nothing to mend, settings kept, same bytes.

qpdf and its library (by pikepdf, which every test run has), mupdf and poppler, the last two where installed.
"""

from __future__ import annotations

import hashlib
import pickle
import re
import shutil
import subprocess
import sys
import sysconfig
from pathlib import Path

import pikepdf
import pytest
from pdf_reading import page_count

from templates_engine import pipeline
from templates_engine.job import read_job
from templates_engine.resources import folder

SAMPLES = sorted(folder("sample_jobs").glob("*.yaml"))


@pytest.fixture(scope="module", params=SAMPLES, ids=lambda path: path.stem)
def printed(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    sample: Path = request.param
    expected = re.search(r"^# Expected exit code: (\d)", sample.read_text(encoding="utf-8"), re.MULTILINE)
    if expected is None or expected[1] != "0":
        pytest.skip("this sample shows a job that is not drawn")
    path = tmp_path_factory.mktemp("validators") / f"{sample.stem}.pdf"
    pipeline.write_template(pipeline.solve_job(read_job(sample)), path)
    return path


@pytest.mark.skipif(shutil.which("qpdf") is None, reason="qpdf is not installed")
def test_qpdf_finds_nothing_wrong(printed: Path) -> None:
    done = subprocess.run(["qpdf", "--check", printed], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "No syntax or stream encoding errors found" in done.stdout


def test_a_strict_reader_finds_nothing_to_mend(printed: Path) -> None:
    with pikepdf.open(printed, attempt_recovery=False) as pdf:
        assert pdf.check_pdf_syntax() == []
        for page in pdf.pages:  # every operator of every page and form can be told apart
            assert pikepdf.parse_content_stream(page)
            for form in page.form_xobjects.values():
                assert pikepdf.parse_content_stream(form)


def test_a_damaged_file_is_seen(printed: Path, tmp_path: Path) -> None:
    damaged = tmp_path / "damaged.pdf"
    data = printed.read_bytes()
    middle = data.index(b"stream", len(data) // 2) + 40
    damaged.write_bytes(data[:middle] + b"XXXXXXXX" + data[middle + 8 :])
    with pikepdf.open(damaged) as pdf:
        assert pdf.check_pdf_syntax() != []


@pytest.mark.skipif(shutil.which("pdfinfo") is None, reason="poppler's pdfinfo is not installed")
def test_poppler_reads_pages_and_sizes_without_a_word(printed: Path) -> None:
    done = subprocess.run(
        ["pdfinfo", "-f", "1", "-l", "999", "-box", printed], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0
    assert done.stderr == ""
    assert f"Pages:           {page_count(printed)}\n" in done.stdout
    sizes = set(re.findall(r"Page +\d+ size: +([\d.]+ x [\d.]+) pts", done.stdout))
    assert len(sizes) == 1, "all pages of a file have one size and one way round"
    assert "PDF version:     1.7" in done.stdout


@pytest.mark.skipif(shutil.which("mutool") is None, reason="mupdf's mutool is not installed")
def test_mupdf_draws_every_page_without_a_warning(printed: Path) -> None:
    done = subprocess.run(
        ["mutool", "draw", "-r", "20", "-F", "pam", "-o", "/dev/null", printed],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0
    said = done.stderr.replace("warning: ICC support is not available", "")  # of the program, not of the file
    assert not re.search(r"warning|error", said, re.IGNORECASE), said


def test_print_settings_read_back_by_another_library(printed: Path) -> None:
    with pikepdf.open(printed) as pdf:
        settings = pdf.Root.ViewerPreferences
        assert settings.PrintScaling == "/None"
        assert list(settings.Enforce) == ["/PrintScaling"]
        assert settings.PickTrayByPDFSize is True
        assert settings.Duplex == "/Simplex"
        assert settings.DisplayDocTitle is True
        assert str(pdf.docinfo["/Title"])
        assert "/CreationDate" not in pdf.docinfo


@pytest.mark.parametrize("sample", SAMPLES[:3], ids=lambda path: path.stem)
def test_the_same_job_gives_the_same_bytes_twice(sample: Path, tmp_path: Path) -> None:
    for name in ("one.pdf", "two.pdf"):
        pipeline.write_template(pipeline.solve_job(read_job(sample)), tmp_path / name)
    assert (tmp_path / "one.pdf").read_bytes() == (tmp_path / "two.pdf").read_bytes()


# --- another Python -----------------------------------------------------------------------------------------

# The job is handed over read, because the library that checks job files is compiled for one Python; so is the
# one the PDF library loads for photographs, of which there are none here, and the one that makes values, for
# which the dataclasses of the other Python stand in.
REDRAW = """
import dataclasses, hashlib, pickle, sys, types
for name in ("PIL", "PIL.Image", "msgspec", "msgspec.json", "msgspec.structs"):
    sys.modules[name] = types.ModuleType(name)
sys.modules["PIL"].Image = sys.modules["PIL.Image"]
class Struct:
    def __init_subclass__(cls, frozen=False, eq=True, **_):
        dataclasses.dataclass(frozen=frozen, eq=eq)(cls)
values = dict(Struct=Struct, field=dataclasses.field, to_builtins=dataclasses.asdict, MsgspecError=Exception)
vars(sys.modules["msgspec"]).update(values)
vars(sys.modules["msgspec.json"]).update(decode=None, encode=None, format=None)  # the register's alone
vars(sys.modules["msgspec.structs"]).update(replace=dataclasses.replace, astuple=dataclasses.astuple)
from templates_engine import pipeline
from templates_engine.writers.pdf import pdf_bytes
with open(sys.argv[1], "rb") as file:
    job = pickle.load(file)
print(hashlib.sha256(pdf_bytes(pipeline.draw_job(pipeline.solve_job(job)))).hexdigest())
"""


def other_pythons() -> list[str]:
    """Other Pythons this program runs on (3.11 and later) that start, on the path or beside this one."""
    beside = Path(sys.base_prefix).parent.glob("*/bin/python3")
    named = (shutil.which(f"python3.{minor}") for minor in range(11, 20))
    found: dict[tuple[int, ...], str] = {}
    for command in (*filter(None, named), *map(str, beside)):
        asked = subprocess.run(
            [command, "-c", "import sys; print(*sys.version_info[:2])"],
            capture_output=True,
            text=True,
            check=False,
        )
        version = tuple(map(int, asked.stdout.split())) if asked.returncode == 0 else ()
        if version >= (3, 11) and version != sys.version_info[:2]:
            found.setdefault(version, command)
    return [found[version] for version in sorted(found)]


def test_another_python_gives_the_same_bytes(tmp_path: Path) -> None:
    others = other_pythons()
    if not others:
        pytest.skip("only one Python of 3.11 or later is on this machine")
    job = read_job(SAMPLES[2])
    (tmp_path / "job").write_bytes(pickle.dumps(job))
    (tmp_path / "redraw.py").write_text(REDRAW, encoding="utf-8")
    from templates_engine.writers.pdf import pdf_bytes

    here = hashlib.sha256(pdf_bytes(pipeline.draw_job(pipeline.solve_job(job)))).hexdigest()
    root = Path(pipeline.__file__).parents[1]
    paths = f"{root}{':' if sys.platform != 'win32' else ';'}{sysconfig.get_paths()['purelib']}"
    for command in others:
        done = subprocess.run(
            [command, tmp_path / "redraw.py", tmp_path / "job"],
            capture_output=True, text=True, check=False, env={"PYTHONPATH": paths, "PATH": ""}, cwd=tmp_path,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        assert done.stdout.strip() == here, command
