"""The circuits page, recomputed from the job's circuits: spaces, poles, phases, colours, what to pull, fill.

Spaces to phases: NEC 408.3(E) phase order, odd spaces left [common practice]. High leg B orange: NEC 110.15.
Other colours are common practice, no source. Fill: NEC chapter 9 Tables 1, 4 and 5, from data/.
"""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest
from printed_page import Run, lines, pages, pages_that_say
from reference_data import published

from templates_engine import pipeline
from templates_engine.job import read_job_text

JOB = """
job: circuits
enclosure: {{mark: P-3, kind: panelboard, width: 20, height: 40, depth: 6, back gap: 1/4, system: {system},
             spaces: 18, numbering: {numbering}}}
faces:
  - face: top
    rows:
      - strut: 13/16
        gap: 1-1/8
        place: centred
        raceways:
          - {{type: EMT, size: 1, to: sockets,
             circuits: [{{spaces: [2], neutral: yes}}, {{spaces: [{three}], neutral: no}}],
             wire: {{size: 12, insulation: THHN}}, neutrals: own, ground: 12}}
          - {{type: EMT, size: 3/4, to: heater, circuits: [{{spaces: [{two}], neutral: no}}],
             wire: {{size: 8, insulation: THHN}}, neutrals: none, ground: 10}}
print: {{paper: letter}}
"""
LOW, HIGH = ("black", "red", "blue"), ("brown", "orange", "yellow")
SYSTEMS = {
    "208Y/120": (LOW, "white"),
    "480Y/277": (HIGH, "grey"),
    "120/240": (LOW[:2], "white"),
    "240 delta high leg": (("black", "orange", "blue"), "white"),
}
CASES = [
    ("208Y/120", "odd left"),
    ("480Y/277", "down"),
    ("120/240", "odd left"),
    ("120/240", "down"),
    ("240 delta high leg", "odd left"),
]


def phase(space: int, count: int, numbering: str) -> int:
    """1 and 2 on A, 3 and 4 on B, and round again; numbered down one side 1 on A, 2 on B."""
    return ((space + 1) // 2 - 1 if numbering == "odd left" else space - 1) % count


def circuits(system: str, numbering: str) -> dict[str, list[list[int]]]:
    """The spaces of every circuit, by raceway."""
    step, poles = (2 if numbering == "odd left" else 1), len(SYSTEMS[system][0])
    return {"A1": [[2], [5 + step * one for one in range(poles)]], "A2": [[12, 12 + step]]}


def printed(at: Path, system: str, numbering: str) -> list[Run]:
    used = circuits(system, numbering)
    job = JOB.format(
        system=system,
        numbering=numbering,
        three=", ".join(map(str, used["A1"][1])),
        two=", ".join(map(str, used["A2"][0])),
    )
    path = at / "out.pdf"
    pipeline.write_template(pipeline.solve_job(read_job_text(job, "circuits.yaml")), path)
    (runs,) = pages(path, pages_that_say(path, "circuits and what to pull"))
    return runs


@pytest.mark.parametrize(("system", "numbering"), CASES)
def test_every_figure_of_the_circuits_page(system: str, numbering: str, tmp_path: Path) -> None:
    runs = printed(tmp_path, system, numbering)
    check_the_directory(runs, system, numbering)
    check_what_to_pull(runs, system, numbering)
    check_both_halves_are_filled(runs)


def check_the_directory(runs: list[Run], system: str, numbering: str) -> None:
    colours, _ = SYSTEMS[system]
    wanted: dict[str, list[str]] = {str(space): [] for space in range(1, 19)}
    for raceway, all_spaces in circuits(system, numbering).items():
        for spaces in all_spaces:
            for space in spaces:
                on = phase(space, len(colours), numbering)
                first = space == spaces[0]
                poles = (
                    "1"
                    if len(spaces) == 1
                    else f"{len(spaces)}, to {spaces[-1]}"
                    if first
                    else f"with {spaces[0]}"
                )
                wanted[str(space)] = [poles, f"{'ABC'[on]} {colours[on]}", raceway]
    head = next(line for line in lines(runs) if line[0].text == "space")
    starts = [run for run in head if run.text == "space"]
    assert len(starts) == (2 if numbering == "odd left" else 1)
    found: dict[str, list[str]] = {}
    for start in starts:
        titles = head[head.index(start) :][:4]
        for run in runs:
            if run.base < start.base and abs(run.right - start.right) < 1.5 and run.text.isdigit():
                beside = [one for one in runs if abs(one.base - run.base) < 1.0]
                found[run.text] = [
                    one.text for title in titles[1:] for one in beside if abs(one.left - title.left) < 1.5
                ]
    assert found == wanted
    if len(starts) == 2:  # odd spaces on the left, even ones on the right
        by_side = {run.text: run.left for run in runs if run.text in wanted and run.base < starts[0].base}
        assert by_side["17"] < by_side["18"]


def check_what_to_pull(runs: list[Run], system: str, numbering: str) -> None:
    colours, neutral = SYSTEMS[system]
    area = {(r["raceway"], r["trade_size"]): float(r["area_in2"]) for r in published("nec_ch9_table4")}
    wire = {
        r["size"]: float(r["area_in2"])
        for r in published("nec_ch9_table5")
        if r["insulation"].startswith("THHN")
    }
    loads = {"A1": ("1", "12", "12", 1), "A2": ("3/4", "8", "10", 0)}
    for raceway, all_spaces in circuits(system, numbering).items():
        size, hot, ground, neutrals = loads[raceway]
        counted = Counter(
            (f"{hot} AWG", "THHN", colours[phase(space, len(colours), numbering)], "phase")
            for spaces in all_spaces
            for space in spaces
        )
        poles = sum(map(len, all_spaces))
        if neutrals:
            counted[f"{hot} AWG", "THHN", neutral, "neutral"] = neutrals
        counted[f"{ground} AWG", "THHN", "green", "ground"] = 1
        rows, told = pull_rows(runs, f"{raceway}: {size} in EMT")
        assert rows == dict(counted)
        assert f"{poles + neutrals + 1} conductors, {poles + neutrals} carry current" in told
        used = (poles + neutrals) * wire[hot] + wire[ground]
        (fill,) = re.findall(r"Fill ([\d.]+) % of at most 40 %", told)
        assert float(fill) == pytest.approx(100 * used / area["EMT", size], abs=0.051)


def pull_rows(runs: list[Run], title: str) -> tuple[dict[tuple[str, ...], int], str]:
    """The table under a raceway's name, counts by size, insulation, colour and use; the words below it."""
    start = next(run for run in runs if run.text.startswith(title))
    column = [run for run in runs if start.left - 1.5 < run.left < start.left + 360 and run.base < start.base]
    rows: dict[tuple[str, ...], int] = {}
    told: list[str] = []
    for line in lines(column):
        texts = [run.text for run in line]
        if texts[0] == "pull":
            continue
        if len(texts) == 5 and texts[0].isdigit():
            rows[tuple(texts[1:])] = int(texts[0])
        elif re.match(r"[A-Z]\d: ", texts[0]):
            break
        else:
            told.append(texts[0])
    return rows, " ".join(told)


def check_both_halves_are_filled(runs: list[Run]) -> None:
    middle = 11 * 36 if max(run.right for run in runs) > 8.5 * 72 else 8.5 * 36
    assert any(run.right < middle for run in runs)
    assert any(run.left > middle for run in runs)
