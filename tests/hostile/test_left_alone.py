"""Nothing is written, or read, but what is meant: an empty home stays so, printers added at once stay."""

from __future__ import annotations

from pathlib import Path

from faults import FIRST, environment, run, start

from templates_engine.verify.printer_store import stored_printers
from templates_engine.writers import dxf

HOSTILE = "[core]\nWRITE_FIXED_META_DATA_FOR_TESTING = maybe\n[broken\n"


def test_every_command_leaves_an_empty_home_empty(tmp_path: Path) -> None:
    home, here = tmp_path / "home", tmp_path / "here"
    home.mkdir()
    here.mkdir()
    (here / "ezdxf.ini").write_text(HOSTILE, encoding="utf-8")
    fonts = Path(dxf.__file__).with_name("no_fonts")
    before = {path: path.read_bytes() for path in fonts.rglob("*.json")}
    commands = (
        ("draw", FIRST),
        ("check", FIRST),
        ("fit", FIRST),
        ("holes", FIRST),
        ("explain",),
        ("tables",),
        ("schema",),
        ("printer", "sheet"),
        ("printer", "list"),
        *(("export", FIRST, "--as", kind) for kind in ("json", "csv", "svg", "dxf")),
    )
    for words in commands:
        code, _, said = run(*words, cwd=here, home=home)
        assert (code, said) == (0, ""), words
    assert list(home.rglob("*")) == []
    assert {path: path.read_bytes() for path in fonts.rglob("*.json")} == before
    made = {f"{FIRST.stem}.{kind}" for kind in ("pdf", "json", "csv", "svg", "dxf")}
    assert {path.name for path in here.iterdir()} == {"ezdxf.ini", "measuring-page.pdf", *made}


def test_the_dxf_is_the_same_whatever_settings_file_lies_about(tmp_path: Path) -> None:
    files = []
    for name, settings in (("plain", None), ("hostile", HOSTILE)):
        (tmp_path / name).mkdir()
        if settings:
            (tmp_path / name / "ezdxf.ini").write_text(settings, encoding="utf-8")
        assert run("export", FIRST, "--as", "dxf", "-o", "x.dxf", cwd=tmp_path / name)[0] == 0
        files.append((tmp_path / name / "x.dxf").read_bytes())
    assert files[0] == files[1]


def test_printers_added_at_once_are_all_kept(tmp_path: Path) -> None:
    settings = tmp_path / "settings"
    given = environment(tmp_path, TEMPLATES_ENGINE_CONFIG=str(settings))
    names = [f"printer {number}" for number in range(8)]
    processes = [
        start("printer", "add", name, "--across", "-0.5%", "--down", "0.1%", cwd=tmp_path, env=given)
        for name in names
    ]
    for process in processes:
        _, said = process.communicate(timeout=120)
        assert process.returncode == 0, said
    assert sorted(one.name for one in stored_printers(settings / "printers.yaml")) == names
