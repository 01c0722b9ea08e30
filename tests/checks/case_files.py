"""Reads the case files beside the tests: a job changed a little, holes moved by hand, what is to be found.

A file of ``cases/`` is one check's. A case holds::

    name: what it shows
    change: {D3: {size: 2}, left D: {gap: 0}, top: {lips: {front: 1}}, enclosure: {depth: 12}}
    move: {D3: {u: 10, v: 3}}          where no layout would put a hole, it is put there by hand
    finds:
      - {face: left, outcome: fail, holes: [D3], provided: 3 - 1.163/2, required: 1/4, says: [D3, 1/4 in]}
    others: ok                         how all other findings of the check come out; left out, they are ok

A key set to ``~`` is taken out of the job. Numbers may be sums, so that a case shows where its figure is
from. ``within`` is how far the figures may be off, where a published one is rounded.
"""

from __future__ import annotations

import ast
import copy
import math
import operator
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import yaml

FOLDER = Path(__file__).parent / "cases"
BASE = FOLDER / "base.yaml"

_SIGNS: dict[type, Callable[..., float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.USub: operator.neg,
}


@dataclass(frozen=True)
class CheckCase:
    """One case of one check's file."""

    check: str
    name: str
    tree: dict[str, Any]
    """The changed job, every value as text."""
    moves: dict[str, dict[str, float]]
    finds: tuple[dict[str, Any], ...]
    others: str

    @property
    def job(self) -> str:
        """The text of the changed job."""
        return yaml.safe_dump(self.tree, sort_keys=False)


@cache
def all_cases() -> list[CheckCase]:
    """Every case of every file, in the order of the files' names."""
    return [case for path in sorted(FOLDER.glob("*.yaml")) if path != BASE for case in _cases(path)]


def number(written: Any) -> float:
    """A number, or a sum of them such as ``3 - 1.163/2``; ``hypot(a, b)`` too."""
    return _value(ast.parse(str(written), mode="eval").body)


def _value(node: ast.expr) -> float:
    match node:
        case ast.Constant(value=int() | float() as value):
            return value
        case ast.BinOp():
            return _SIGNS[type(node.op)](_value(node.left), _value(node.right))
        case ast.UnaryOp():
            return _SIGNS[type(node.op)](_value(node.operand))
        case ast.Call(func=ast.Name(id="hypot")):
            return math.hypot(*(_value(each) for each in node.args))
    raise ValueError(f"no sum of numbers: {ast.unparse(node)}")


def _cases(path: Path) -> Iterator[CheckCase]:
    file, base = _read(path), _read(BASE)
    for case in file["cases"]:
        unknown = set(case) - {"name", "change", "move", "finds", "others"}
        assert not unknown, f"{path.name}: {case['name']}: {unknown}"
        job = copy.deepcopy(base)
        for where, what in [*file.get("change", {}).items(), *case.get("change", {}).items()]:
            _change(job, where, what)
        moves = {id: {k: number(v) for k, v in to.items()} for id, to in case.get("move", {}).items()}
        finds = tuple(case.get("finds", ()))
        yield CheckCase(file["check"], case["name"], job, moves, finds, case.get("others", "ok"))


def _read(path: Path) -> Any:
    """All scalars as text, as a job file is read; ``~`` alone is nothing."""
    return yaml.load(path.read_text(encoding="utf-8"), Loader=getattr(yaml, "CBaseLoader", yaml.BaseLoader))


def _change(job: dict[str, Any], where: str, what: dict[str, Any]) -> None:
    """Put some keys where ``where`` says: job, enclosure, a face, a face's row ("left D"), a raceway's id."""
    target = _target(job, where)
    for key, value in what.items():
        if value == "~":
            target.pop(key, None)
        else:
            target[key] = copy.deepcopy(value)


def _target(job: dict[str, Any], where: str) -> dict[str, Any]:
    if where == "job":
        return job
    if where == "enclosure":
        return job["enclosure"]
    faces = {face["face"]: face for face in job["faces"]}
    face, _, row = where.partition(" ")
    if face in faces:
        return _row(faces[face], row) if row else faces[face]
    for each in job["faces"]:
        for one in each["rows"]:
            for raceway in one["raceways"]:
                if raceway["id"] == where:
                    return raceway
    raise ValueError(f"the base job has no '{where}'")


def _row(face: dict[str, Any], letter: str) -> dict[str, Any]:
    """The row whose raceways' ids begin with the letter."""
    (row,) = [each for each in face["rows"] if each["raceways"][0]["id"].startswith(letter)]
    return row
