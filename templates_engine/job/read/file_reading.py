"""Turns single texts of a job file into lengths, words, numbers and names, and gathers every problem met.

A value that cannot be read is reported once and replaced: a length by NaN, anything else by its default.
Comparisons with NaN are false, so a later cross-check stays silent about what was reported already; no Job
with a replacement is ever handed out. Which values go together is for the modules beside it.
"""

from __future__ import annotations

from templates_engine.errors import JobProblems, Problem
from templates_engine.job.model import FilePlace
from templates_engine.job.text.key_paths import KeyPath, plain_path
from templates_engine.job.text.yaml_tree import TextPosition, YamlTree
from templates_engine.units import LengthFormat, Unit


class FileReading:
    """One job file being read: its marks, its unit, its problems so far, and the paths found broken."""

    def __init__(self, file: str, tree: YamlTree) -> None:
        self.file = file
        self._tree = tree
        self._problems = list(tree.problems)
        self.broken: set[KeyPath] = set(tree.broken)
        self.unit: Unit = "in"
        self.denominator = 16

    # --- places and problems ---

    def mark(self, path: KeyPath) -> TextPosition:
        """Where the key or list entry stands; for what is not written, where it should."""
        while path:
            found = self._tree.keys.get(path) or self._tree.values.get(path)
            if found:
                return found
            path = path[:-1]
        return TextPosition(1, 1)

    def place(self, path: KeyPath) -> FilePlace:
        return FilePlace(self.file, self.mark(path).line, plain_path(path))

    def report(self, path: KeyPath, message: str, remedy: str) -> None:
        """Notes a problem of the value at ``path``, unless that value is known to be broken already."""
        if path in self.broken:
            return
        self.broken.add(path)
        mark = self.mark(path)
        sentence = message if message.endswith(".") else f"{message}."
        self._problems.append((mark, Problem(sentence, remedy, self.file, mark.line, plain_path(path))))

    def is_sound(self, path: KeyPath) -> bool:
        return path not in self.broken

    def raise_problems(self) -> None:
        """Raises JobProblems with everything found, in file order; returns when there is nothing."""
        if self._problems:
            raise JobProblems(problem for _, problem in sorted(self._problems, key=lambda noted: noted[0]))

    @property
    def lengths(self) -> LengthFormat:
        return LengthFormat(self.unit, self.denominator)

    def say(self, inches: float) -> str:
        """A length in the job's own unit."""
        return self.lengths.say(inches)
