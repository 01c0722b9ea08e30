"""Leads through the questions: asks, explains, goes back, and holds each answer to the job file's rules."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

from templates_engine.errors import CannotFit, JobProblems, Problem
from templates_engine.guided_start.questions import (
    QUESTIONS,
    RACEWAYS,
    SKELETON,
    Answers,
    Put,
    Question,
    edges_of,
)
from templates_engine.job.read.job import read_job_text
from templates_engine.job.text.edit import CannotEdit, put, take_out
from templates_engine.job.text.key_paths import plain_path
from templates_engine.layout import solve
from templates_engine.layout.model import Layout
from templates_engine.wiring import fit_sizes

EXPLAIN, BACK = "?", "back"
_REMARK_COLUMN = 26
Given = dict[str, Any]
"""Answers by question; of a question that repeats a list."""


@dataclass
class Conversation:
    """The answers so far; ``ask`` shows a prompt and gives the line typed, ``tell`` shows lines."""

    ask: Callable[[str], str]
    tell: Callable[[str], None]
    given: Given = field(default_factory=dict)
    """Answers given beforehand: they are not asked for again."""
    show: Callable[[Layout], str] | None = None
    """The hole table, shown as soon as there are holes."""
    answers: Given = field(default_factory=dict)
    shown: str = ""
    """The hole table as it was last shown."""

    def run(self) -> str:
        """The job's text, once every question is answered."""
        asked: list[int] = []
        at = 0
        while at < len(QUESTIONS):
            question = QUESTIONS[at]
            if not question.applies(self._plain()):
                self.answers.pop(question.id, None)
                at += 1
                continue
            if self._take_given(question):
                at += 1
                continue
            if self._answer(question) == BACK:
                at = asked.pop() if asked else at
                continue
            asked.append(at)
            at += 1
        return self.text()

    def text(self) -> str:
        """The job's text with all answers so far; what is not answered stands as in the skeleton."""
        return with_remarks_in_line(text_of(self.answers))

    def _answer(self, question: Question) -> str:
        """Asks until the answer is sound; BACK where the question before is to be asked again."""
        lines: list[str] = []
        while True:
            line = self.ask(self._prompt(question, lines)).strip()
            if line.lower() == BACK:
                if not lines:
                    return BACK
                lines.pop()
                continue
            if line == EXPLAIN:
                self.tell(f"  {question.explanation}")
                continue
            if not line and not lines:
                line = question.usual
            if not line and question.repeats and lines:
                self.answers[question.id] = lines
                return ""
            if not line:
                self.tell("  This has to be answered; ? explains it.")
                continue
            problems = self._problems(question, [*lines, line] if question.repeats else line)
            if problems:
                self._tell_problems(problems)
            elif question.repeats:
                lines.append(line)
                self._show({**self.answers, question.id: lines})
            else:
                self.answers[question.id] = line
                self._show(self.answers)
                return ""

    def _prompt(self, question: Question, lines: Sequence[str]) -> str:
        start, end = edges_of(self._plain())
        if question.repeats and lines:
            return f"  {len(lines) + 1}: "
        usual = f" [{question.usual}]" if question.usual else ""
        return f"{question.words.format(start=start, end=end)}{usual}\n  {'1: ' if question.repeats else ''}"

    def _take_given(self, question: Question) -> bool:
        """Whether an answer given beforehand is taken; one that is wrong is told and asked for."""
        if question.id not in self.given:
            return False
        value = self.given.pop(question.id)
        value = [str(line) for line in value] if isinstance(value, list) else str(value)
        if question.repeats and isinstance(value, str):
            value = [value]
        problems = self._problems(question, value)
        if problems:
            self.tell(f"{question.id}: {value}")
            self._tell_problems(problems)
            return False
        self.answers[question.id] = value
        return True

    def _problems(self, question: Question, value: str | list[str]) -> tuple[Problem, ...]:
        """What is wrong with an answer, by reading the job with it."""
        try:
            text = text_of({**self.answers, question.id: value})
            paths = [
                path
                for path, _ in question.puts(value if isinstance(value, str) else value[-1], self._plain())
            ]
            read_job_text(text, "")
        except (ValueError, CannotEdit) as error:
            return (Problem(str(error), ""),)
        except JobProblems as error:
            keys = tuple(plain_path(path) for path in paths)
            return tuple(one for one in error.problems if one.key.startswith(keys))
        return ()

    def _tell_problems(self, problems: Sequence[Problem]) -> None:
        for one in problems:
            self.tell(f"  {one.message} {one.remedy}".rstrip())

    def _show(self, answers: Given) -> None:
        """The hole table, where there are holes and it is another than the one shown last."""
        if self.show is None or "raceways" not in answers:
            return
        try:
            shown = self.show(solve(fit_sizes(read_job_text(text_of(answers), ""))))
            if shown != self.shown:
                self.tell(f"\n{shown}")
            self.shown = shown
        except CannotFit as error:
            self._tell_problems(error.problems)
        except JobProblems:
            return

    def _plain(self) -> Answers:
        return {key: value for key, value in self.answers.items() if isinstance(value, str)}


def text_of(answers: Given) -> str:
    """The skeleton with the answers put in. Raises ValueError and CannotEdit for one that cannot be."""
    text, plain = SKELETON, {key: value for key, value in answers.items() if isinstance(value, str)}
    for question in QUESTIONS:
        if question.id not in answers:
            continue
        value = answers[question.id]
        if question.repeats:
            text = _with_raceways(text, question, value, plain)
        else:
            for change in question.puts(value, plain):
                text = _with(text, change)
    return text


def with_remarks_in_line(text: str) -> str:
    """The text with the skeleton's remarks one under the other again, whatever the answers' lengths."""
    lines = [line.split("  # ", 1) if "  # " in line else [line] for line in text.splitlines()]
    return "".join(
        f"{code.rstrip():{_REMARK_COLUMN}}  # {rest[0].strip()}\n" if rest else f"{code}\n"
        for code, *rest in lines
    )


def _with(text: str, change: Put) -> str:
    path, value = change
    return take_out(text, path) if value is None else put(text, path, value)


def _with_raceways(text: str, question: Question, lines: Sequence[str], plain: Answers) -> str:
    """Each line an entry; a type that is left out is that of the line before."""
    known = dict(plain)
    for place, line in enumerate(lines):
        ((_, entry),) = question.puts(line, known)
        known["type"] = entry["type"]
        text = put(text, (*RACEWAYS, place), entry)
    return text
