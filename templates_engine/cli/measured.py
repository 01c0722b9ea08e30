"""The `measured` command: what a rule read on the taped sheets in, what to do about it out; words alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from templates_engine.cli.printers import quoted
from templates_engine.cli.reports import CHECK_FAILED, reported

if TYPE_CHECKING:
    from templates_engine.sheets.measured import Judged
    from templates_engine.sheets.model import FacePlan, SheetPlan
    from templates_engine.sheets.printers import Printer
    from templates_engine.sheets.readings import Taken
    from templates_engine.units import Speech

EPILOG = (
    "Exit codes: 0 good; 1 print or tape again, or measure more; 2 the job file or a reading has problems; "
    "3 it cannot fit."
)


def measured(
    job: Annotated[Path, typer.Argument(metavar="JOB", help="The job file, YAML.", show_default=False)],
    readings: Annotated[
        list[str],
        typer.Argument(
            metavar="READING...",
            help='Two places and what the rule read between them: A1-A7="31-7/16", left-A1=2-1/2, '
            '"left front corner to A7=36-1/16".',
            show_default=False,
        ),
    ],
    face: Annotated[
        str | None,
        typer.Option("--face", metavar="FACE", help="The face measured, where the job has several."),
    ] = None,
    printer: Annotated[
        str | None,
        typer.Option("--printer", metavar="NAME", help="The printer the sheets were drawn for, if any."),
    ] = None,
) -> None:
    """Say whether taped sheets are good, must be printed again, or which sheet slipped.

    Measure with a steel rule between hole centres: over the whole row, and across every joint.
    """
    from templates_engine import pipeline
    from templates_engine.sheets.measured import Verdict, judge
    from templates_engine.sheets.readings import read_taken
    from templates_engine.units import Speech

    with reported():
        opened = pipeline.the_only_face(pipeline.open_job(job, [face] if face else ()))
        solved = pipeline.solve_job(opened)
        known = pipeline.printer_for(opened, printer)
        plan = pipeline.plan_job(solved, known)
        speech = Speech(opened.unit, 32)
        taken = read_taken(tuple(readings), plan.faces[0], speech)
        judged = judge(plan.faces[0], taken)
        _say_readings(taken, speech)
        for line in _Words(plan, plan.faces[0], known, job, speech).verdict(judged):
            typer.echo(line)
        if judged.verdict is not Verdict.GOOD:
            raise typer.Exit(CHECK_FAILED)


def _say_readings(taken: tuple[Taken, ...], speech: Speech) -> None:
    from templates_engine.sheets.measured import ALLOWED_IN
    from templates_engine.writers.text_table import aligned

    rows = [
        (
            one.span.name,
            speech.exact(one.span.length_in),
            speech.exact(one.read_in),
            f"{'+' if one.off_in > 0 else ''}{speech.exact(one.off_in)}",
            "" if abs(one.off_in) <= ALLOWED_IN + 1e-9 else "off",
        )
        for one in taken
    ]
    headings = (
        "from-to",
        f"should read ({speech.unit})",
        "read",
        "difference",
        f"allowed {speech.say(ALLOWED_IN)}",
    )
    typer.echo(aligned(headings, rows), nl=False)


@dataclass(frozen=True)
class _Words:
    """What is said of one face's sheets."""

    plan: SheetPlan
    face: FacePlan
    printer: Printer | None
    job: Path
    speech: Speech

    def verdict(self, judged: Judged) -> Iterator[str]:
        """The verdict in a line, and what to do in further ones."""
        from templates_engine.sheets.measured import Verdict

        if judged.verdict is Verdict.GOOD:
            yield "good: every reading is within the allowed error, and all joints are measured."
        elif judged.verdict is Verdict.CANNOT_TELL:
            yield from self._cannot_tell(judged)
        else:
            yield f"{judged.verdict.value}: {self._what(judged)}."
            yield from self._remedy(judged)

    def _cannot_tell(self, judged: Judged) -> Iterator[str]:
        if judged.all_good_so_far:
            yield "cannot tell yet: all is good so far, but not every joint and the whole row are measured."
        elif judged.read_again:
            yield f"cannot tell: {judged.read_again} is off where all others are good. Read it again."
        elif judged.possible:
            yield "cannot tell: the readings are off, and this would explain them:"
        else:
            yield "cannot tell: the readings are off, and no one thing explains them."
        for one in judged.possible:
            yield f"  {self._what(one)}"
        for sheet in sorted({one.sheets[0] for one in judged.possible if one.sheet_scale is not None}):
            yield f"Measure the bars on sheet {sheet}."
        if judged.measure:
            yield f"Measure too, and give all readings again: {', '.join(judged.measure)}."
        elif not judged.possible and not judged.read_again:
            yield "Measure the bars on every sheet, look at every joint's marks, and read again."

    def _what(self, judged: Judged) -> str:
        """What is supposed to be wrong, in a clause."""
        if judged.sheet_scale is not None:
            return f"sheet {judged.sheets[0]} alone came out {_percent(judged.sheet_scale)}"
        if judged.sheets:
            return self._slip(judged)
        scales = ((judged.scale_x, self._way("x")), (judged.scale_y, self._way("y")))
        parts = [f"{_percent(scale)} {way} the paper" for scale, way in scales if scale is not None]
        return f"every sheet came out {' and '.join(parts)}"

    def _slip(self, judged: Judged) -> str:
        ways = {"x": ("the right", "the left"), "y": ("the back", "the front")}[judged.slip_axis]
        way = ways[0] if judged.slip_in > 0 else ways[1]
        joints = [
            f"{joint.first}-{joint.second}"
            for joint in self.face.joints
            if (joint.first in judged.sheets) != (joint.second in judged.sheets)
        ]
        one = len(judged.sheets) == 1
        sheets = f"sheet{'' if one else 's'} {', '.join(map(str, judged.sheets))} {'lies' if one else 'lie'}"
        size = f"{self.speech.mark(abs(judged.slip_in))} {self.speech.unit}"
        return (
            f"{sheets} {size} too far to {way}, at joint{'s' if len(joints) > 1 else ''} {', '.join(joints)}"
        )

    def _remedy(self, judged: Judged) -> Iterator[str]:
        if judged.slip_axis:
            yield "Lift the tape there, lay mark on mark, tape again, and measure again."
        elif judged.sheet_scale is not None:
            sheet = judged.sheets[0]
            yield f"Measure the bars on sheet {sheet}, and print that sheet again at actual size (100 %)."
        else:
            yield from self._correction(judged)

    def _correction(self, judged: Judged) -> Iterator[str]:
        """The correction to use, on top of what the sheets carried; none for an error no printer makes."""
        from templates_engine.sheets.printer_readings import MOST_ERROR_PERCENT
        from templates_engine.sheets.printers import correction_for, total_percent

        scales = {self._way("x"): judged.scale_x, self._way("y"): judged.scale_y}
        known = self.printer
        carried = {"across": known.across_percent, "down": known.down_percent} if known else {}
        across, down = (
            total_percent(carried.get(way, 0.0), scales[way] or 0.0) for way in ("across", "down")
        )
        if max(abs(across), abs(down)) > MOST_ERROR_PERCENT:
            yield (
                f"More than {MOST_ERROR_PERCENT:g} % is a print setting such as fit to page, not a printer: "
                "print again at actual size (100 %). No correction is given for it."
            )
            return
        factors, good_to = correction_for(across, down), judged.scale_within * 100
        yield (
            f"Print again with the correction across x{factors.across:.4f}, down x{factors.down:.4f} "
            f"(good to {good_to:.2f} %):"
        )
        name, again = (quoted(known.name), " --replace") if known else ("NAME", "")
        yield (
            f"  templates-engine printer add {name} --across={across:+.3f}% --down={down:+.3f}% "
            f"--paper {quoted(self.plan.paper_name)}{again}"
        )
        yield f"  templates-engine draw {quoted(str(self.job))} --printer {name}"
        for way in ("across", "down"):
            if scales[way] is None:
                taken_as = "left as it was" if known else "taken as true"
                yield f"Nothing was read of {way}, {taken_as}: `printer sheet` measures both."

    def _way(self, axis: str) -> str:
        """The way of the paper that runs along the sheet's x or y."""
        return "across" if (self.plan.orientation == "portrait") == (axis == "x") else "down"


def _percent(scale: float) -> str:
    return f"{abs(scale) * 100:.2f} % too {'long' if scale > 0 else 'short'}"
