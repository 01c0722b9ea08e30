"""The wheel, built and installed in a clean environment outside the checkout, draws a sample job it
carries itself.
"""

from __future__ import annotations

import os
import subprocess
import sys
import sysconfig
import venv
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.mark.skipif(not (ROOT / "pyproject.toml").exists(), reason="needs the checkout to build from")
def test_an_installed_wheel_draws_a_sample_outside_the_checkout(tmp_path: Path) -> None:
    wheels = tmp_path / "wheels"
    _run(sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "-w", wheels, ROOT, cwd=tmp_path)
    (wheel,) = wheels.glob("*.whl")
    venv.create(tmp_path / "clean")
    scripts = tmp_path / "clean" / ("Scripts" if os.name == "nt" else "bin")
    python = scripts / "python"
    _run(
        sys.executable,
        "-m",
        "pip",
        "--python",
        python,
        "install",
        "--quiet",
        "--no-deps",
        wheel,
        cwd=tmp_path,
    )
    _lend_libraries(python, tmp_path)
    where = _run(
        scripts / "python",
        "-c",
        "import templates_engine.resources as r; print(r.folder('sample_jobs')); print(r.folder('fonts'))",
        cwd=tmp_path,
    ).stdout.splitlines()
    assert all(Path(line).is_relative_to(tmp_path / "clean") for line in where)
    sample = sorted(Path(where[0]).glob("*.yaml"))[0]
    done = _run(scripts / "templates-engine", "draw", sample, cwd=tmp_path)
    assert f"{sample.stem}.pdf" in done.stdout
    assert (tmp_path / f"{sample.stem}.pdf").read_bytes().startswith(b"%PDF-")


def _lend_libraries(python: Path, cwd: Path) -> None:
    """The libraries of this environment for the clean one, but not the checkout installed in it."""
    ask = "import sysconfig; print(sysconfig.get_path('purelib'))"
    clean = Path(_run(python, "-c", ask, cwd=cwd).stdout.strip())
    (clean / "lent.pth").write_text(sysconfig.get_path("purelib") + "\n", encoding="utf-8")


def _run(*words: str | Path, cwd: Path) -> subprocess.CompletedProcess[str]:
    env = {key: value for key, value in os.environ.items() if key != "PYTHONPATH"}
    done = subprocess.run(
        list(map(str, words)), cwd=cwd, env=env, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return done
