"""Says what is wrong with taped sheets by the can's own edges, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from templates_engine.sentences.printers import quoted
from templates_engine.values import Struct

if TYPE_CHECKING:
    from templates_engine.drawing.edge_directions import EdgeDirections
    from templates_engine.sheets.model import FacePlan, SheetPlan
    from templates_engine.units import LengthFormat
    from templates_engine.verify.causes import Cause
    from templates_engine.verify.diagnosis import Diagnosis
    from templates_engine.verify.printers import Printer
    from templates_engine.verify.readings import Reading

SLIP_DENOMINATOR = 32
"""A slip is worked out from several readings to 1/64 in: no finer than this."""
EVEN_IN = 1 / 32
"""A misreading within this of a whole inch is one of the rule's zero."""
NO_NAME = "NAME"


class CauseWords(Struct, frozen=True):
    """The words for what can be wrong with one face's sheets."""

    plan: SheetPlan
    face: FacePlan
    printer: Printer | None
    job: Path
    lengths: LengthFormat
    readings: tuple[Reading, ...]
    roll: str = ""
    """The roll the sheets are pieces of; "" for those of `draw`."""

    # --- what is wrong --------------------------------------------------------------------------------------

    def what(self, diagnosis: Diagnosis) -> str:
        """What is supposed to be wrong, in a clause."""
        scales = [(one.axis, amount) for one, amount in diagnosis.causes if one.kind == "scale"]
        parts = [f"{_percent(amount)} {self._edge_of_paper(axis or 'x')}" for axis, amount in scales]
        words = [f"every sheet came out {' and '.join(parts)}"] if parts else []
        words += [self._cause(one, amount) for one, amount in diagnosis.causes if one.kind != "scale"]
        return ", and ".join(words)

    def _cause(self, one: Cause, amount: float) -> str:
        if one.kind == "misread":
            return self._misread(self.readings[one.reading], amount)
        if one.kind == "sheet scale":
            return f"sheet {one.sheets[0]} alone came out {_percent(amount)}"
        if one.kind == "turn":
            return self._turned(amount)
        if one.kind == "lean":
            return f"every sheet leans by {abs(amount) * 100:.2f} %, {abs(amount) * 12:.3f} in over 12 in"
        size, way = self._size(amount), self._toward(one.axis or "x", amount)
        if one.is_all:
            whole = "the sheet sits" if len(one.sheets) == 1 else "all sheets together sit"
            return f"{whole} {size} too far toward {way} on the can"
        joints = self._joints(one.sheets)
        return f"{_sheets(one.sheets)} {_verb('sits', one.sheets)} {size} too far toward {way}, at {joints}"

    def _misread(self, one: Reading, amount: float) -> str:
        whole = round(abs(amount))
        is_zero = whole > 0 and abs(abs(amount) - whole) <= EVEN_IN and self.lengths.unit == "in"
        hint = " (a whole inch: was the rule held at its 1 in mark?)" if is_zero and whole == 1 else ""
        way = "long" if amount > 0 else "short"
        return f"{one.distance.name} was read {self._size(amount)} too {way}{hint}"

    def _turned(self, amount: float) -> str:
        end, rise_in = self._far_end(amount)
        whole = "the sheet is" if len(self.face.sheets) == 1 else "all sheets together are"
        return (
            f"{whole} turned on the can: at {end} {self._size(rise_in)} further toward "
            f"{self._toward('y', rise_in)} than at the other end"
        )

    def _far_end(self, turn: float) -> tuple[str, float]:
        """The edge opposite the rulers' zero, and how far a turn lifts it toward the back, inches."""
        runs_right, width = self.face.plane.u_runs_right, self.face.plane.width_in
        edges = self._compass()
        return (edges.right, turn * width) if runs_right else (edges.left, -turn * width)

    def _joints(self, sheets: Sequence[int]) -> str:
        joints = [
            f"{joint.first}-{joint.second}"
            for joint in self.face.joints
            if (joint.first in sheets) != (joint.second in sheets)
        ]
        return f"joint{'s' if len(joints) > 1 else ''} {' and '.join(joints)}"

    def _compass(self) -> EdgeDirections:
        from templates_engine.drawing.edge_directions import edge_directions

        return edge_directions(self.face)

    def _toward(self, axis: str, amount: float) -> str:
        """The edge of the can a way of the sheet plane leads to."""
        edges = self._compass()
        if axis == "x":
            return edges.right if amount > 0 else edges.left
        return edges.up if amount > 0 else edges.down

    def _size(self, amount: float) -> str:
        from templates_engine.values import replace

        return f"{replace(self.lengths, denominator=SLIP_DENOMINATOR).mark(abs(amount))} {self.lengths.unit}"

    # --- what to do -----------------------------------------------------------------------------------------

    def remedy(self, diagnosis: Diagnosis) -> Iterator[str]:
        from templates_engine.verify.diagnosis import Verdict

        if diagnosis.sheet_scale is not None:
            sheet = diagnosis.sheets[0]
            yield f"Print sheet {sheet} again at actual size (100 %), and measure its bars first."
        if diagnosis.scale_x is not None or diagnosis.scale_y is not None:
            yield from self._correction(diagnosis)
        for one, amount in diagnosis.causes:
            if one.kind == "lean":
                yield "No correction mends that: print on another printer, or from another tray."
            elif one.kind in ("turn", "slip") and diagnosis.verdict is Verdict.SLIPPED:
                yield self._move(one, amount)

    def _move(self, one: Cause, amount: float) -> str:
        if one.kind == "turn":
            end, rise_in = self._far_end(amount)
            way, size = self._toward("y", -rise_in), self._size(rise_in)
            return f"Lift the tape at {end}, turn all there toward {way} by {size}, tape and measure again."
        size, way = self._size(amount), self._toward(one.axis or "x", -amount)
        if one.is_all:
            return f"Lift the tape on the can, move all toward {way} by {size}, tape and measure again."
        return (
            f"Lift the tape at {self._joints(one.sheets)}, move {_sheets(one.sheets)} toward {way} by {size} "
            "until mark lies on mark, tape and measure again."
        )

    def _correction(self, diagnosis: Diagnosis) -> Iterator[str]:
        """The correction to use, on top of what the sheets carried; none for an error no printer makes."""
        from templates_engine.verify.printer_readings import MOST_ERROR_PERCENT
        from templates_engine.verify.printers import correction_for

        scales, known, whole = self._scales(diagnosis), self.printer, self.whole_error(diagnosis)
        if whole is None:
            yield (
                f"More than {MOST_ERROR_PERCENT:g} % is a print setting such as fit to page, not a printer: "
                "print again at actual size (100 %). No correction is given for it."
            )
            return
        across, down = whole
        factors, good_to = correction_for(across, down), diagnosis.scale_within * 100
        yield (
            f"Print again with the correction across ({self._paper('across')}) x{factors.across:.4f}, "
            f"down ({self._paper('down')}) x{factors.down:.4f}, good to {good_to:.2f} %:"
        )
        name, again = (quoted(known.name), " --replace") if known else (NO_NAME, "")
        yield (
            f"  templates-engine printer add {name} --across={across:+.3f}% --down={down:+.3f}% "
            f"--paper {quoted(self.plan.paper_name)}{again}"
        )
        command, paper = ("rolls", f" --paper {quoted(self.roll)}") if self.roll else ("draw", "")
        yield f"  templates-engine {command} {quoted(str(self.job))}{paper} --printer {name}"
        if not known:
            yield f"{NO_NAME} is what you call the printer."
        for way in ("across", "down"):
            if scales[way] is None:
                taken_as = "is left as it was" if known else "is taken as true"
                yield (
                    f"Nothing long was read along {self._paper(way)}, so {way} {taken_as}: read a bar that "
                    "runs along it, or measure the printer with `templates-engine printer sheet`."
                )

    def whole_error(self, diagnosis: Diagnosis) -> tuple[float, float] | None:
        """The printer's whole error across and down, percent; None where none was found or no printer makes
        it.
        """
        from templates_engine.verify.printer_readings import MOST_ERROR_PERCENT
        from templates_engine.verify.printers import total_percent

        scales, known = self._scales(diagnosis), self.printer
        if not any(scale is not None for scale in scales.values()):
            return None
        carried = {"across": known.across_percent, "down": known.down_percent} if known else {}
        across, down = (
            total_percent(carried.get(way, 0.0), scales[way] or 0.0) for way in ("across", "down")
        )
        return None if max(abs(across), abs(down)) > MOST_ERROR_PERCENT else (across, down)

    def _scales(self, diagnosis: Diagnosis) -> dict[str, float | None]:
        return {self._way("x"): diagnosis.scale_x, self._way("y"): diagnosis.scale_y}

    @staticmethod
    def is_command(line: str) -> bool:
        """Whether a line of a remedy is for a terminal: a command, or about one."""
        return line.startswith(("  templates-engine", NO_NAME))

    def _way(self, axis: str) -> str:
        """The way of the paper that runs along the sheet's x or y."""
        return "across" if (self.plan.orientation == "portrait") == (axis == "x") else "down"

    def _edge_of_paper(self, axis: str) -> str:
        return f"along {self._paper(self._way(axis))}"

    def _paper(self, way: str) -> str:
        """What of the paper lies across or down: a piece of a roll may be shorter than the roll is wide."""
        if self.plan.cover_apart is not None:
            return {"across": "the roll's width", "down": "the roll's length"}[way]
        return {"across": "the paper's short edge", "down": "the paper's long edge"}[way]


def _sheets(numbers: Sequence[int]) -> str:
    words = [str(number) for number in numbers]
    if len(words) == 1:
        return f"sheet {words[0]}"
    return f"sheets {', '.join(words[:-1])} and {words[-1]}"


def _verb(word: str, numbers: Sequence[int]) -> str:
    return word if len(numbers) == 1 else word.removesuffix("s")


def _percent(scale: float) -> str:
    return f"{abs(scale) * 100:.2f} % too {'long' if scale > 0 else 'short'}"
