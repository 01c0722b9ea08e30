"""The report for the inspector, read back from its PDF and worked out anew from published tables."""

from __future__ import annotations

from pathlib import Path

import pytest
from command_line import run
from pdf_reading import page_count, read_text
from reference_data import published

from templates_engine.resources import folder

AREAS = {(row["insulation"], row["size"]): float(row["area_in2"]) for row in published("nec_ch9_table5")}
INSIDE = {(row["raceway"], row["trade_size"]): float(row["area_in2"]) for row in published("nec_ch9_table4")}
THHN = next(name for name, _ in AREAS if name.startswith("THHN"))
AMPERES = {
    (row["size_AWG_or_kcmil"], row["insulation_temp_degC"]): row["copy_1 (states NEC 2023)"]
    for row in published("nec_310_16")
    if row["metal"] == "Cu"
}
GROUNDS = [(int(row["overcurrent_device_A"]), row["copper"]) for row in published("nec_250_122")]
DEVICES = [int(row["rating_amperes"]) for row in published("nec_240_6_a")]


def reported(sample: str, at: Path) -> str:
    (path,) = folder("sample_jobs").glob(f"{sample}_*.yaml")
    done = run("report", path, "-o", "report.pdf", cwd=at)
    assert done.returncode == 0, done.stderr
    assert page_count(at / "report.pdf") == 1
    return " ".join(read_text(at / "report.pdf", 0).split())


def fill(type: str, size: str, *wires: tuple[int, str]) -> str:
    """Percent of the inside, with one decimal place."""
    return f"{100 * sum(count * AREAS[THHN, wire] for count, wire in wires) / INSIDE[type, size]:.1f}"


def next_device(amperes: float) -> int:
    return min(rating for rating in DEVICES if rating >= amperes)


def ground(device: int) -> str:
    return next(size for rating, size in GROUNDS if device <= rating)


def test_two_parallel_sets(tmp_path: Path) -> None:
    """Two of 600 kcmil at terminals of 75 C, and a whole ground by 800 A in each (NEC 250.122(F))."""
    words = reported("10", tmp_path)
    whole = 2 * float(AMPERES["600", "75"])
    largest = max(rating for rating in DEVICES if rating <= whole)  # above 800 A none is rounded up
    assert words.count(f"{fill('RMC', '4', (4, '600'), (1, '1/0'))} of 40 3 100") == 2
    assert words.count(f"800 of {largest}") == 2
    assert words.count(f"1/0 AWG of {ground(800)} AWG") == 2


@pytest.mark.parametrize(
    ("raceway", "size", "wires", "carrying", "percent", "device", "wire"),
    [
        ("A1", "1/2", ((5, "12"),), 3, 100, 20, "12"),
        ("A2", "3/4", ((13, "12"),), 12, 50, 20, "12"),
        ("A3", "1/2", ((2, "8"), (1, "10")), 2, 100, 40, "8"),
    ],
)
def test_a_lighting_panel(raceway, size, wires, carrying, percent, device, wire, tmp_path: Path) -> None:
    """THHN of 90 C, adjusted, against terminals of 60 C; 12 AWG behind 20 A at most (NEC 240.4(D))."""
    words = reported("06", tmp_path)
    after = words.split(f" {raceway} ", 1)[1]
    amperes = min(float(AMPERES[wire, "90"]) * percent / 100, float(AMPERES[wire, "60"]))
    largest = min(next_device(amperes), 20) if wire == "12" else next_device(amperes)
    assert f"{fill('EMT', size, *wires)} of 40 {carrying} {percent} " in after
    assert f"{device} of {largest}" in after.split(" in EMT", 1)[1]
    assert f"AWG of {ground(device)} AWG" in after


def test_a_wireway_with_a_nipple_says_both_faces(tmp_path: Path) -> None:
    words = reported("11", tmp_path)
    wires = "3 phase 12 AWG THWN-2; 3 neutral 12 AWG THWN-2; 1 ground 12 AWG THHN"
    full = fill("EMT", "3/4", (7, "12"))
    assert f"top L3 3/4 in EMT to waiting room {wires} {full} of 40 6 80" in words
    assert f"{fill('EMT', '1', (19, '12'))} of 60 18 100" in words


def test_what_was_taken_for_granted_and_what_passed_in_part(tmp_path: Path) -> None:
    """Terminals by NEC 110.14(C), air by Table 310.16; of two faces only one needs no adjustment."""
    words = reported("11", tmp_path)
    assert "dry; terminals of 60 C up to 100 A, 75 C above, as none is told; air of 30 C; top" in words
    assert "ampacity adjustment, in part [NEC Table 310.15(C)(1)" in words
    assert "; fill [NEC chapter 9" in words
    words = reported("10", tmp_path)
    assert "dry; terminals of 75 C; air of 30 C; top" in words
    assert "in part [" not in words


def test_what_was_not_checked_says_why_and_on_which_face(tmp_path: Path) -> None:
    job = (folder("sample_jobs") / "11_wireway_many_circuits.yaml").read_text(encoding="utf-8")
    changed = job.replace("to: panelboard LP-3, first support: 30 in, ", "to: panelboard LP-3, ")
    changed = changed.replace(
        "  location: dry\n", "  service: yes\n  ambient: 40 C\n  nonlinear loads: yes\n"
    )
    (tmp_path / "job.yaml").write_text(changed, encoding="utf-8")
    done = run("report", "job.yaml", "-o", "report.pdf", cwd=tmp_path)
    words = " ".join(read_text(tmp_path / "report.pdf", 0).split())
    assert done.returncode == 0, done.stderr
    assert "NOT CHECKED (bottom), first support [NEC 358.30," in words
    assert "]: The job does not give 'first support' for P1." in words
    assert "first support, in part [" in words
    assert "NOT CHECKED (top), first support" not in words
    assert "place not told, taken as dry; service equipment;" in words
    assert "air of 40 C; loads mostly nonlinear; top" in words
