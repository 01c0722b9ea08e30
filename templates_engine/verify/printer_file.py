"""Turns the file of measured printers into text and back; when it is read and written is the store's part.

It is a person's to read and to mend: whatever in it is not as the store writes it is reported with its line.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from templates_engine.errors import Problem
from templates_engine.job.model import MarginsIn
from templates_engine.units import LengthError, read_length
from templates_engine.verify.printer_readings import MOST_ERROR_PERCENT
from templates_engine.verify.printers import Printer, PrinterError, checked_name

MOST_BYTES = 1_000_000
_HEAD = """\
# Printers as measured, written by the command `printer add`. Errors are percent of the true length: -0.7
# means that 100 in comes out as 99.3 in. Across is along the paper's short edge, down along its long edge.
"""
_MEND = "Mend it in an editor, or move the file away and add the printers again; it has been left as it is."
_PERCENT_KEYS = ("across", "down", "good to", "skew")
_KEYS = ("name", "across", "down", "paper", "margins", "good to", "skew", "note")
_SIDES = ("top", "bottom", "left", "right")


def text_for(printers: Iterable[Printer]) -> str:
    """The whole file for these printers."""
    import yaml

    entries = [_as_written(printer) for printer in printers]
    return _HEAD + yaml.dump(
        {"printers": entries}, Dumper=yaml.SafeDumper, sort_keys=False, allow_unicode=True, width=1000
    )


def printers_in(text: str, file: Path) -> tuple[Printer, ...]:
    """All printers of the file's text. Raises PrinterError with the line of what is damaged."""
    return tuple(_Damage(file).printers(text))


def text_of(file: Path) -> str | None:
    """The file's text, None when there is no such file. Raises PrinterError."""
    try:
        with file.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except FileNotFoundError:
        return None
    except (OSError, ValueError) as error:
        why = (getattr(error, "strerror", None) or "the system refused it").lower()
        problem = Problem(
            f"could not read the printers: {why}.", "Mend the file's place or its permissions.", str(file)
        )
        raise PrinterError([problem]) from error
    damage = _Damage(file)
    if len(data) > MOST_BYTES:
        raise damage.at(None, "The file is too large to be a list of printers.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise damage.at(line, "A character here is not UTF-8 text.") from error


def _as_written(printer: Printer) -> dict[str, Any]:
    """The printer as the file's keys, every value text; what is not known is left out."""
    percents = (printer.across_percent, printer.down_percent, printer.good_to_percent, printer.skew_percent)
    entry: dict[str, Any] = {"name": printer.name, "paper": printer.paper}
    entry |= {
        key: f"{value!r} %" for key, value in zip(_PERCENT_KEYS, percents, strict=True) if value is not None
    }
    if printer.margins is not None:
        entry["margins"] = {side: f"{getattr(printer.margins, f'{side}_in')!r} in" for side in _SIDES}
    if printer.note:
        entry["note"] = printer.note
    return entry


class _Damage:
    """Reads the file's text, and says of anything that is not as `printer add` writes it where it stands."""

    def __init__(self, file: Path) -> None:
        self.file = file

    def at(self, line: int | None, message: str, key: str = "") -> PrinterError:
        return PrinterError([Problem(message, _MEND, str(self.file), line, key)])

    def printers(self, text: str) -> Iterable[Printer]:
        """Every printer of the file, checked."""
        root = self._composed(text)
        if root is None:
            return
        top = self._keys(root, ("printers",))
        entries = top.get("printers")
        if entries is None or not isinstance(entries.value, list) or entries.id != "sequence":
            raise self.at(None, "The file has no list under `printers:`.")
        names: set[str] = set()
        for entry in entries.value:
            printer = self._printer(entry)
            if printer.name.casefold() in names:
                raise self.at(
                    entry.start_mark.line + 1, f"'{printer.name}' stands here a second time.", "name"
                )
            names.add(printer.name.casefold())
            yield printer

    def _composed(self, text: str) -> Any:
        """The nodes of the file; BaseLoader leaves every scalar the text it is."""
        import yaml

        try:
            return yaml.compose(text, Loader=yaml.BaseLoader)
        except yaml.MarkedYAMLError as error:
            mark = error.problem_mark or error.context_mark
            raise self.at(mark.line + 1 if mark else None, "This line is damaged.") from error
        except (yaml.YAMLError, RecursionError, ValueError) as error:
            raise self.at(None, "The file is damaged.") from error

    def _printer(self, entry: Any) -> Printer:
        line = entry.start_mark.line + 1
        keys = self._keys(entry, _KEYS)
        for key in ("name", "across", "down", "paper"):
            if key not in keys:
                raise self.at(line, f"This printer has no `{key}`.")
        return Printer(
            name=self._name(keys["name"]),
            across_percent=self._percent(keys["across"], "across", MOST_ERROR_PERCENT),
            down_percent=self._percent(keys["down"], "down", MOST_ERROR_PERCENT),
            paper=self._text(keys["paper"], "paper"),
            margins=self._margins(keys["margins"]) if "margins" in keys else None,
            good_to_percent=self._percent(keys["good to"], "good to", 100) if "good to" in keys else None,
            skew_percent=self._percent(keys["skew"], "skew", 100) if "skew" in keys else None,
            note=self._text(keys["note"], "note") if "note" in keys else "",
        )

    def _keys(self, node: Any, known: tuple[str, ...]) -> Mapping[str, Any]:
        """A node's keys, each known and written once."""
        line = node.start_mark.line + 1
        if node.id != "mapping":
            raise self.at(line, f"Keys should stand here: {', '.join(known)}.")
        found: dict[str, Any] = {}
        for key, value in node.value:
            word = key.value if key.id == "scalar" else ""
            if word not in known:
                raise self.at(key.start_mark.line + 1, f"`{word}` is no key here; known: {', '.join(known)}.")
            if word in found:
                raise self.at(key.start_mark.line + 1, f"`{word}` is written twice.")
            found[word] = value
        return found

    def _text(self, node: Any, key: str) -> str:
        if node.id != "scalar" or not str(node.value).isprintable():
            raise self.at(node.start_mark.line + 1, "One line of text should stand here.", key)
        return str(node.value)

    def _name(self, node: Any) -> str:
        text = self._text(node, "name")
        try:
            tidy = checked_name(text)
        except PrinterError as error:
            raise self.at(node.start_mark.line + 1, error.problems[0].message, "name") from error
        if tidy != text:
            raise self.at(node.start_mark.line + 1, "The name has stray spaces.", "name")
        return text

    def _percent(self, node: Any, key: str, most: float) -> float:
        text = self._text(node, key)
        try:
            value = float(text.removesuffix("%"))
        except ValueError:
            value = float("nan")
        if not abs(value) <= most:  # not-a-number too
            wrong = f"'{text}' should be a percentage between -{most:g} and {most:g}."
            raise self.at(node.start_mark.line + 1, wrong, key)
        return value

    def _margins(self, node: Any) -> MarginsIn:
        keys = self._keys(node, _SIDES)
        if set(keys) != set(_SIDES):
            raise self.at(
                node.start_mark.line + 1, f"All of {', '.join(_SIDES)} should stand here.", "margins"
            )
        return MarginsIn(*(self._length(keys[side], side) for side in _SIDES))

    def _length(self, node: Any, key: str) -> float:
        try:
            return read_length(self._text(node, key), "in", allow="zero", most_in=20.0)
        except LengthError as error:
            raise self.at(node.start_mark.line + 1, error.message, key) from error
