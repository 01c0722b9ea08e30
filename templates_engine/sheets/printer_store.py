"""Keeps measured printers in a file in the user's settings folder, and finds them again by name.

The file is a person's to read and to mend, so a damaged one is reported with its line and never written over.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, TypeVar

from templates_engine.atomic import write_atomically
from templates_engine.errors import CannotWrite, Problem
from templates_engine.job.model import MarginsIn
from templates_engine.sheets.printers import MOST_ERROR_PERCENT, Printer, PrinterProblems
from templates_engine.trade.names import nearest
from templates_engine.units import LengthError, exact, read_length
from templates_engine.user_folder import user_folder

FILE = "printers.yaml"
MOST_BYTES = 1_000_000
MOST_NAME = 40
_HEAD = """\
# Printers as measured, written by the command `printer add`. Errors are percent of the true length: -0.7 means that
# what is drawn 100 in long comes out 99.3 in. Across is along the paper's short edge, down along its long edge.
"""
_MEND = "Mend that line in an editor, or move the file away and add the printers again; it has been left as it is."
_PERCENT_KEYS = ("across", "down", "good to", "skew")
_KEYS = ("name", "across", "down", "paper", "margins", "good to", "skew", "note")
_SIDES = ("top", "bottom", "left", "right")
_T = TypeVar("_T")


def printers_file() -> Path:
    """Where the printers are kept; it may not exist yet."""
    return user_folder() / FILE


def stored_printers(file: Path | None = None) -> tuple[Printer, ...]:
    """All printers, in the order added; none when there is no file. Raises PrinterProblems for a damaged file."""
    file = printers_file() if file is None else file
    text = _text_of(file)
    return () if text is None else tuple(_Damage(file).printers(text))


def find_printer(name: str, file: Path | None = None) -> Printer:
    """The printer of that name, whatever the case of its letters. Raises PrinterProblems."""
    file = printers_file() if file is None else file
    known = stored_printers(file)
    found = _by_name(name, known)
    if found is None:
        raise PrinterProblems([_unknown(name, known)])
    return found


def add_printer(printer: Printer, *, replace_it: bool = False, file: Path | None = None) -> None:
    """Adds a printer to the file, or puts it in the place of its namesake where ``replace_it`` allows.

    Raises PrinterProblems for a bad or taken name and for a damaged file, CannotWrite.
    """
    file = printers_file() if file is None else file
    printer = replace(printer, name=checked_name(printer.name))
    known = stored_printers(file)
    namesake = _by_name(printer.name, known)
    if namesake is None:
        _write(file, (*known, printer))
    elif replace_it:
        _write(file, [printer if one is namesake else one for one in known])
    else:
        problem = Problem(f"there is a printer '{namesake.name}' already.", "Add --replace to measure it anew.")
        raise PrinterProblems([problem])


def remove_printer(name: str, file: Path | None = None) -> Printer:
    """Takes a printer out of the file and returns it. Raises PrinterProblems and CannotWrite."""
    file = printers_file() if file is None else file
    gone = find_printer(name, file)
    _write(file, [one for one in stored_printers(file) if one != gone])
    return gone


def checked_name(name: str) -> str:
    """A printer's name with its spaces tidied. Raises PrinterProblems for one that could not be printed or typed."""
    tidy = " ".join(name.split())
    if not tidy or len(tidy) > MOST_NAME or not tidy.isprintable():
        wrong = "is empty" if not tidy else "is too long" if len(tidy) > MOST_NAME else "holds unprintable characters"
        problem = Problem(f"the printer's name {wrong}.", f"Write 1 to {MOST_NAME} plain letters and figures: office.")
        raise PrinterProblems([problem])
    return tidy


def _by_name(name: str, printers: Iterable[Printer]) -> Printer | None:
    wanted = " ".join(name.split()).casefold()
    return next((printer for printer in printers if printer.name.casefold() == wanted), None)


def _unknown(name: str, known: tuple[Printer, ...]) -> Problem:
    shown = name if len(name) <= MOST_NAME else f"{name[:MOST_NAME]}..."
    if not known:
        return Problem(
            f"there is no printer '{shown}'; none has been measured yet.",
            "Print a measuring page with `templates-engine printer sheet`, then add what it reads.",
        )
    names = [printer.name for printer in known]
    near = nearest(shown, names)
    remedy = f"Did you mean '{near}'?" if near else f"There are: {', '.join(names)}."
    return Problem(f"there is no printer '{shown}'.", remedy)


# --- writing ------------------------------------------------------------------------------------------------


def _write(file: Path, printers: Iterable[Printer]) -> None:
    """The whole file, read back before it takes its name. Raises CannotWrite."""
    import yaml

    printers = tuple(printers)
    entries = [_as_written(printer) for printer in printers]
    body = yaml.dump({"printers": entries}, Dumper=yaml.SafeDumper, sort_keys=False, allow_unicode=True, width=1000)

    def check(part: Path) -> None:
        if tuple(_Damage(file).printers(part.read_text(encoding="utf-8"))) != printers:
            problem = Problem(f"{file} did not read back as written.", "Nothing was changed; please report this.")
            raise CannotWrite([problem])

    try:
        file.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise _no_folder(file.parent, error) from error
    write_atomically(file, (_HEAD + body).encode(), check)


def _no_folder(folder: Path, error: OSError) -> CannotWrite:
    why = (error.strerror or "the system refused it").lower()
    return CannotWrite([Problem(f"could not make the folder {folder}: {why}.", "Make it by hand, with leave to write.")])


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


# --- reading ------------------------------------------------------------------------------------------------


def _text_of(file: Path) -> str | None:
    """The file's text, None when there is no such file."""
    try:
        with file.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except FileNotFoundError:
        return None
    except (OSError, ValueError) as error:
        why = (getattr(error, "strerror", None) or "the system refused it").lower()
        problem = Problem(f"could not read the printers: {why}.", "Mend the file's place or its permissions.", str(file))
        raise PrinterProblems([problem]) from error
    damage = _Damage(file)
    if len(data) > MOST_BYTES:
        raise damage.at(None, "The file is too large to be a list of printers.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise damage.at(line, "A character here is not UTF-8 text.") from error


class _Damage:
    """Reads the file's text, and says of anything that is not as `printer add` writes it where it stands."""

    def __init__(self, file: Path) -> None:
        self.file = file

    def at(self, line: int | None, message: str, key: str = "") -> PrinterProblems:
        return PrinterProblems([Problem(message, _MEND, str(self.file), line, key)])

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
                raise self.at(entry.start_mark.line + 1, f"'{printer.name}' stands here a second time.", "name")
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
        except PrinterProblems as error:
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
            raise self.at(node.start_mark.line + 1, f"All of {', '.join(_SIDES)} should stand here.", "margins")
        return MarginsIn(*(self._length(keys[side], side) for side in _SIDES))

    def _length(self, node: Any, key: str) -> float:
        try:
            return read_length(self._text(node, key), "in", allow="zero", most_in=20.0)
        except LengthError as error:
            raise self.at(node.start_mark.line + 1, error.message, key) from error
