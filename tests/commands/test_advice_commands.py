"""`fit`, `explain`, and the remedies that `check` offers, as people run them."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from test_commands import SAMPLES, run

from templates_engine.checks import RULES

SHALLOW = next(sample for sample in SAMPLES if sample.stem == "08_too_shallow")
LIGHTING = next(sample for sample in SAMPLES if sample.stem == "06_lighting_panel")

JOB = """
job: feeders
enclosure: {{mark: DP-2, kind: panelboard, width: {width}, height: 60, depth: {depth}, back gap: 1/4}}
faces:
  - face: top
    rows:
      - strut: 1-5/8
        gap: 7/8
        place: centred
        raceways: [{{type: RMC, size: 4, bushing: bonding, count: {count}}}]
"""


def job_file(tmp_path: Path, **values: object) -> Path:
    path = tmp_path / "job.yaml"
    path.write_text(JOB.format(**values), encoding="utf-8")
    return path


def findings(job: Path, tmp_path: Path, exit_code: int) -> dict[str, dict[str, object]]:
    done = run("check", job, "--as", "json", cwd=tmp_path)
    assert done.returncode == exit_code, done.stderr
    return {one["check"]: one for one in json.loads(done.stdout)["findings"]}


def test_large_bonding_bushings_at_the_habitual_gap_caution(tmp_path: Path) -> None:
    # 5.39 in bushings [one published table] on 4.5 in raceways at 7/8 in: 4.5 + 0.875 - 5.39 = -0.015.
    told = findings(job_file(tmp_path, width=40, depth=8, count=3), tmp_path, 0)
    bushings = told["fittings apart"]
    assert bushings["outcome"] == "caution"
    assert bushings["provided"] == pytest.approx(-0.015, abs=1e-6)
    assert bushings["holes"] == ["A1", "A2", "A3"]
    assert "make the gap 15/16 in: this caution is gone" in str(bushings["remedy"])


def test_a_can_too_shallow_fails_and_a_strut_that_fits_is_offered(tmp_path: Path) -> None:
    told = findings(job_file(tmp_path, width=20, depth="5-3/4", count=1), tmp_path, 1)["depth of the can"]
    assert set(told) == {
        "check", "outcome", "face", "holes", "provided", "required", "unit", "source", "message", "remedy",
        "solved_remedies",
    }  # fmt: skip
    assert (told["outcome"], told["face"], told["holes"], told["unit"]) == ("fail", "top", ["A1"], "in")
    # 1-5/8 - 1/4 + 4.5 / 2 + 4.641 / 2 = 5.9455 of 5.75.
    assert told["provided"] == pytest.approx(-0.1955, abs=1e-6)
    assert told["required"] == 0
    first = told["solved_remedies"][0]  # type: ignore[index]
    assert first == "use 13/16 in strut: every hole fits, centre of A1 moves to 2-13/16 from the back"
    assert first in str(told["remedy"])
    # What is offered holds when it is written down.
    path = tmp_path / "job.yaml"
    text = path.read_text(encoding="utf-8").replace("strut: 1-5/8", "strut: 13/16")
    path.write_text(text, encoding="utf-8")
    assert findings(path, tmp_path, 0)["depth of the can"]["outcome"] == "ok"
    drawn = run("holes", path, "--as", "json", cwd=tmp_path)
    assert json.loads(drawn.stdout)["faces"][0]["holes"][0]["v_in"] == 2.8125


def test_the_sample_that_fails_still_offers_what_its_comment_says(tmp_path: Path) -> None:
    said = re.findall(r"^#   (.+)$", SHALLOW.read_text(encoding="utf-8"), re.MULTILINE)
    assert len(said) == 3
    assert findings(SHALLOW, tmp_path, 1)["depth of the can"]["solved_remedies"] == said
    shown = run("check", SHALLOW, cwd=tmp_path)
    assert f"Any one of these cures it: {'; '.join(said)}." in shown.stdout


def test_fit_prints_struts_and_faces_also_for_a_job_that_cannot_fit(tmp_path: Path) -> None:
    # 5 x 5.375 + 4.641 = 31.516 of 20; the sides are 60 high; the strut as written is too deep for all.
    tight = job_file(tmp_path, width=20, depth="5-3/4", count=6)
    assert run("check", tight, cwd=tmp_path).returncode == 3
    done = run("fit", tight, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    rows = {line.split("  ")[0]: line for line in done.stdout.splitlines() if line}
    assert rows["top, row A: A1 to A6, gap 7/8 in"]
    assert "11.516 short" in rows["1-5/8 in, as written"]
    assert "0.1955 short" in rows["1-5/8 in, as written"]
    assert rows["1-5/8 in, as written"].endswith("no: short to the front, short left to right")
    assert "28.484" in rows["left, not in the job: no lips known"]
    data = json.loads(run("fit", tight, "--as", "json", cwd=tmp_path).stdout)
    (row,) = data["rows"]
    assert (row["face"], row["row"], row["holes"][-1]) == ("top", "A", "A6")
    written, thinner = row["struts"][:2]
    assert (written["strut_in"], written["as_written"], written["takes"]) == ([1.625], True, False)
    assert (thinner["strut_in"], thinner["to_front_in"]) == ([0.8125], pytest.approx(0.617, abs=1e-6))
    assert [one["along_in"] for one in row["faces"]] == pytest.approx([-11.516, -11.516, 28.484, 28.484])


def test_fit_keeps_to_the_faces_asked_for_and_knows_wrong_ones(tmp_path: Path) -> None:
    sample = next(one for one in SAMPLES if one.stem == "07_feeder_pull_box")
    done = run("fit", sample, "--face", "left", "--as", "json", cwd=tmp_path)
    assert [row["face"] for row in json.loads(done.stdout)["rows"]] == ["left"]
    (row,) = json.loads(done.stdout)["rows"]
    assert [one["in_job"] for one in row["faces"]] == [True, True, True, False]
    wrong = run("fit", sample, "--face", "right", cwd=tmp_path)
    assert wrong.returncode == 2
    assert "top" in wrong.stderr


def test_explain_lists_every_check_and_says_all_of_one(tmp_path: Path) -> None:
    listed = run("explain", cwd=tmp_path)
    assert listed.returncode == 0
    lines = listed.stdout.splitlines()[1:]
    assert [line.split("  ")[0] for line in lines] == [about.name for about in RULES]
    about = next(one for one in RULES if one.name == "pulls, angle and U")
    told = run("explain", "Pulls,", "angle", "and", "u", cwd=tmp_path)
    assert told.returncode == 0
    for words in (about.name, about.what, about.limit, about.source, about.leaves_out, "can fail a job"):
        assert words in told.stdout
    assert "it only cautions" in run("explain", "punch die", cwd=tmp_path).stdout


def test_explain_takes_several_checks(tmp_path: Path) -> None:
    one, other = run("explain", "fill", cwd=tmp_path).stdout, run("explain", "punch die", cwd=tmp_path).stdout
    assert run("explain", "Fill", "punch", "die", cwd=tmp_path).stdout == f"{one}\n{other}"
    assert run("explain", "punch die", "fill", cwd=tmp_path).stdout == f"{other}\n{one}"
    wrong = run("explain", "fill", "punch", "dye", cwd=tmp_path)
    assert (wrong.returncode, wrong.stdout) == (2, "")
    assert wrong.stderr == "there is no check 'punch dye'. Did you mean 'punch die'?\n"


def test_explain_of_an_unknown_check_names_the_nearest(tmp_path: Path) -> None:
    wrong = run("explain", "deptth of can", cwd=tmp_path)
    assert wrong.returncode == 2
    assert "'depth of the can'" in wrong.stderr
    lost = run("explain", "zzzz", cwd=tmp_path)
    assert lost.returncode == 2
    assert "'fill'" in lost.stderr


def test_the_exported_json_says_what_each_raceway_carries(tmp_path: Path) -> None:
    done = run("export", LIGHTING, "--as", "json", "-o", "out.json", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    data = json.loads((tmp_path / "out.json").read_text(encoding="utf-8"))
    lighting, receptacles, heater, feeder = (hole["wiring"] for hole in data["faces"][0]["holes"])
    # Odd spaces 1, 3, 5 are on A, B, C [NEC 408.3(E)]; one neutral serves one circuit of each phase.
    assert lighting["circuits"] == [
        {"name": "1", "spaces": [1], "phases": ["A"], "colours": ["black"], "neutral": True},
        {"name": "3", "spaces": [3], "phases": ["B"], "colours": ["red"], "neutral": True},
        {"name": "5", "spaces": [5], "phases": ["C"], "colours": ["blue"], "neutral": True},
    ]
    assert lighting["neutrals"]["count"] == 1
    assert lighting["neutrals"]["of_circuits"] == [
        {"circuits": ["1", "3", "5"], "shared": True, "current_carrying": False}
    ]
    alike = {"size": "12", "insulation": "THHN", "metal": "Cu"}
    assert lighting["conductors"] == [
        {"count": 3, **alike, "use": "phase", "colours": ["black", "red", "blue"]},
        {"count": 1, **alike, "use": "neutral", "colours": ["white"]},
        {"count": 1, **alike, "use": "ground", "colours": ["green"]},
    ]
    assert (lighting["conductor_count"], lighting["current_carrying"]) == (5, 3)
    # 5 x 0.0133 in 0.304 in2 of 1/2 in EMT [NEC chapter 9, Tables 5 and 4]: 21.875 of 40 %, the
    # tables' areas being rounded.
    assert lighting["fill_percent"] == pytest.approx(21.875, abs=0.05)
    assert (lighting["fill_limit_percent"], lighting["adjustment_percent"]) == (40, 100)
    assert (receptacles["neutrals"]["count"], len(receptacles["neutrals"]["of_circuits"])) == (6, 6)
    assert receptacles["adjustment_percent"] == 50  # 12 current-carrying, NEC Table 310.15(C)(1)
    assert (heater["neutrals"]["count"], heater["neutrals"]["of_circuits"]) == (0, [])
    assert (feeder["circuits"], feeder["neutrals"]["count"]) == ([], 1)
    printed = json.loads(run("holes", LIGHTING, "--as", "json", cwd=tmp_path).stdout)
    assert printed == data


def test_a_raceway_of_which_the_job_is_silent_has_no_wiring(tmp_path: Path) -> None:
    done = run("holes", SHALLOW, "--as", "json", cwd=tmp_path)
    assert [hole["wiring"] for hole in json.loads(done.stdout)["faces"][0]["holes"]] == [None, None]
