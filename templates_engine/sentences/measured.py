"""Turns the verdict on taped sheets into words and what to type next; causes are for measured_causes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from templates_engine.sentences.measured_causes import CauseWords
from templates_engine.sentences.printers import quoted
from templates_engine.values import Struct, replace

if TYPE_CHECKING:
    from templates_engine.pipeline import MeasuredSheets
    from templates_engine.units import LengthFormat
    from templates_engine.verify.diagnosis import Diagnosis
    from templates_engine.verify.readings import Reading


def readings_table(readings: Sequence[Reading], lengths: LengthFormat, denominator: int) -> str:
    """What was read beside what should have been, to the marks that the sheets print, and exact; ends with a
    line feed.
    """
    from templates_engine.verify.diagnosis import ALLOWED_IN, ALLOWED_WORDS
    from templates_engine.writers.text_table import aligned

    printed = replace(lengths, denominator=denominator)

    rows = [
        (
            one.distance.name,
            _without_unit(one.distance.said(printed), printed),
            _without_unit(lengths.say_to_64ths(one.read_in), lengths),
            _difference(one.off_in, lengths),
            "" if abs(one.off_in) <= ALLOWED_IN + 1e-9 else "off",
        )
        for one in readings
    ]
    allowed = ALLOWED_WORDS[lengths.unit]
    headings = ("from-to", f"should read ({lengths.unit})", "read", "difference", f"allowed {allowed}")
    return aligned(headings, rows)


def notes_on_figures(found: MeasuredSheets) -> Iterator[str]:
    """What one must know of the figures that should have been read."""

    job, face = found.job, found.face.layout.job
    printed = job.lengths
    rows = [row.name for row in face.rows if row.snap_in is None]
    if rows and any("(" in one.distance.said(printed) for one in found.readings):
        yield (
            f"No `snap` in row {', '.join(rows)}: centres stand between the tape's marks. What should be "
            f"read from an edge is rounded to 1/{job.denominator} in, all else to 1/64 in, as on the sheets; "
            "readings are held to the exact figure beside it."
        )
    if found.metal_read and face.metal_in is not None:
        yield f"By the readings from both walls the metal is {printed.exact(face.metal_in)} {job.unit} thick."


def _without_unit(said: str, lengths: LengthFormat) -> str:
    """As a rule reads, the exact figure beside it where that differs; the heading says the unit."""
    return said.replace(f" {lengths.unit}", "")


def _difference(off_in: float, lengths: LengthFormat) -> str:
    """With its sign, as a rule reads, and exact beside it."""
    sign = "+" if off_in > 0 else ""
    exact = lengths.exact(off_in)
    if lengths.unit == "mm" or exact in ("0", "-0"):
        return f"{sign if exact != '0' else ''}{exact}"
    mark = lengths.mark(off_in)
    words = "0" if mark in ("0", "-0") else f"{sign}{mark}"
    is_exact = abs(abs(off_in) * lengths.denominator - round(abs(off_in) * lengths.denominator)) < 1e-6
    return words if is_exact else f"{words} ({sign}{exact})"


class MeasuredWords(Struct, frozen=True):
    """What is said of one face's sheets; ``options`` are those the command was given, to be given again."""

    causes: CauseWords
    options: tuple[str, ...] = ()

    @property
    def readings(self) -> tuple[Reading, ...]:
        return self.causes.readings

    @property
    def lengths(self) -> LengthFormat:
        return self.causes.lengths

    def verdict(self, diagnosis: Diagnosis) -> Iterator[str]:
        """The verdict in a line, and what to do in further ones."""
        from templates_engine.verify.diagnosis import Verdict

        if diagnosis.verdict is Verdict.GOOD:
            yield from self._good()
        elif diagnosis.verdict is Verdict.CANNOT_TELL:
            yield from self._cannot_tell(diagnosis)
        else:
            is_whole = diagnosis.verdict is Verdict.SLIPPED and all(one.is_all for one, _ in diagnosis.causes)
            yield f"{'tape again' if is_whole else diagnosis.verdict.value}: {self.causes.what(diagnosis)}."
            yield from self.causes.remedy(diagnosis)

    def in_words(self, diagnosis: Diagnosis) -> Iterator[str]:
        """The verdict and what to do, without any command to type."""
        from templates_engine.verify.diagnosis import Verdict

        if diagnosis.verdict is Verdict.CANNOT_TELL:
            yield from self._cannot_tell_why(diagnosis)
            yield f"Measure {self._listed(diagnosis.measure)}."
            return
        yield from (line for line in self.verdict(diagnosis) if not self.causes.is_command(line))

    def _good(self) -> Iterator[str]:
        from templates_engine.verify.next_readings import hidden_slips, placing_distances

        yield "good: every reading is within the allowed error, and every sheet, joint and row is measured."
        if hidden_slips(self.causes.face):
            yield "No distance here shows a slip toward BACK or FRONT: look that mark lies on mark."
        still = placing_distances(self.causes.face, [one.distance for one in self.readings])
        if still:
            said = ", ".join(f"{distance.name} {distance.said(self.lengths)}" for distance in still)
            yield f"Whether they lie true on the can shows from its edges; there a rule must read: {said}."

    # --- cannot tell ----------------------------------------------------------------------------------------

    def _cannot_tell(self, diagnosis: Diagnosis) -> Iterator[str]:
        yield from self._cannot_tell_why(diagnosis)
        listed = self._listed(diagnosis.measure)
        yield f"Measure {listed}, put what the rule reads in place of each ?, and run:"
        yield f"  {self._command(diagnosis)}"

    def _cannot_tell_why(self, diagnosis: Diagnosis) -> Iterator[str]:
        if diagnosis.all_good_so_far:
            yield "cannot tell yet: all is good so far, but not every sheet, joint and whole row is read."
        elif diagnosis.read_again:
            yield (
                f"cannot tell: all other readings speak against {diagnosis.read_again}. As they have it, "
                f"{self.causes.what(diagnosis)}."
            )
        elif diagnosis.too_coarse and not diagnosis.possible:
            yield "cannot tell: the rule was read too coarsely for what is off."
        elif diagnosis.possible:
            which = "each of these would explain them" if len(diagnosis.possible) > 1 else "perhaps"
            yield f"cannot tell: the readings are off, and {which}:"
        else:
            yield (
                "cannot tell: the readings are off, and no one thing explains them. Two things may be wrong, "
                "or two readings."
            )
        for one in diagnosis.possible:
            yield f"  {self.causes.what(one)}"
        if diagnosis.too_coarse:
            yield "All was read to 1/16 in, which does not show 1/32 in: read to 1/32 or 1/64 in."

    def _listed(self, names: Sequence[str]) -> str:
        read = {one.distance.name for one in self.readings}
        words = [f"{'the ' if name.startswith('bar ') else ''}{name}" for name in names]
        words = [
            f"{word} once more" if name in read else word for word, name in zip(words, names, strict=True)
        ]
        return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"

    def _command(self, diagnosis: Diagnosis) -> str:
        """The same command with the readings given and those still wanted; what is to be read more finely is
        not given twice.
        """
        from templates_engine.verify.readings import NOT_YET

        anew = diagnosis.measure if diagnosis.too_coarse else (diagnosis.read_again,)
        kept = [one for one in self.readings if one.distance.name not in anew]
        readings = [f"{one.distance.name}={self._typed(one)}" for one in kept]
        readings += [f"{name}={NOT_YET}" for name in diagnosis.measure]
        words = ["templates-engine", "measured", str(self.causes.job), *readings, *self.options]
        return " ".join(quoted(word) for word in words)

    def _typed(self, one: Reading) -> str:
        """A reading as it may be typed again: a bar's with its unit, which says the side that was read."""
        from templates_engine.units import LengthFormat

        unit = ("mm" if one.distance.is_metric else "in") if one.distance.bar else self.lengths.unit
        words = LengthFormat(unit, 64).say(one.read_in)
        figures = LengthFormat(unit).exact(one.read_in) if "(" in words else words.removesuffix(f" {unit}")
        return figures if unit == self.lengths.unit else f"{figures} {unit}"
