"""Keeps measured printers in a file in the user's settings folder, and finds them again by name.

Changes wait for each other at a lock beside the file, so that none is lost.

The file is a person's to read and to mend, so a damaged one is reported with its line and never written over.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from templates_engine.atomic import cannot_write, write_atomically
from templates_engine.errors import CannotWrite, Problem
from templates_engine.trade.not_in_tables import nearest
from templates_engine.user_folder import user_folder
from templates_engine.values import replace
from templates_engine.verify.printer_file import printers_in, text_for, text_of
from templates_engine.verify.printers import MOST_NAME, Printer, PrinterError, checked_name, checked_note

FILE = "printers.yaml"
LONGEST_WAIT_S = 20
"""Each change takes a moment; a hundred at once take their turns in this time."""


def printers_file() -> Path:
    """Where the printers are kept; it may not exist yet."""
    return user_folder() / FILE


def stored_printers(file: Path | None = None) -> tuple[Printer, ...]:
    """All printers, in the order added; none without a file. Raises PrinterError for a damaged one."""
    file = printers_file() if file is None else file
    text = text_of(file)
    return () if text is None else printers_in(text, file)


def find_printer(name: str, file: Path | None = None) -> Printer:
    """The printer of that name, whatever the case of its letters. Raises PrinterError."""
    file = printers_file() if file is None else file
    known = stored_printers(file)
    found = _by_name(name, known)
    if found is None:
        raise PrinterError([_unknown(name, known)])
    return found


def add_printer(printer: Printer, *, replace_it: bool = False, file: Path | None = None) -> None:
    """Adds a printer to the file, or puts it in the place of its namesake where ``replace_it`` allows.

    Raises PrinterError for a bad or taken name, a bad note and for a damaged file, CannotWrite.
    """
    file = printers_file() if file is None else file
    printer = replace(printer, name=checked_name(printer.name), note=checked_note(printer.note))
    stored_printers(file)  # a damaged file is told before anything is made beside it
    with _alone_at(file):
        known = stored_printers(file)
        namesake = _by_name(printer.name, known)
        if namesake is None:
            _write(file, (*known, printer))
        elif replace_it:
            _write(file, [printer if one is namesake else one for one in known])
        else:
            problem = Problem(
                f"there is a printer '{namesake.name}' already.", "Add --replace to measure it anew."
            )
            raise PrinterError([problem])


def remove_printer(name: str, file: Path | None = None) -> Printer:
    """Takes a printer out of the file and returns it. Raises PrinterError and CannotWrite."""
    file = printers_file() if file is None else file
    find_printer(name, file)  # makes no folder and no lock where there is nothing to remove
    with _alone_at(file):
        gone = find_printer(name, file)
        _write(file, [one for one in stored_printers(file) if one != gone])
    return gone


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


@contextmanager
def _alone_at(file: Path) -> Iterator[None]:
    """While this holds no other run changes the file. Raises CannotWrite."""
    from filelock import FileLock, Timeout

    try:
        file.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise _no_folder(file.parent, error) from error
    lock = file.with_name(f".{file.name}.lock")
    try:
        with FileLock(lock, timeout=LONGEST_WAIT_S):
            yield
    except Timeout as error:
        problem = Problem(
            f"could not write {file}: another run has been changing it for {LONGEST_WAIT_S} seconds.",
            f"Run again; if this comes back, close other runs, then delete {lock}.",
        )
        raise CannotWrite([problem]) from error
    except OSError as error:
        raise cannot_write(file, error) from error


def _write(file: Path, printers: Iterable[Printer]) -> None:
    """The whole file, read back before it takes its name. Raises CannotWrite."""
    printers = tuple(printers)

    def check(part: Path) -> None:
        if printers_in(part.read_text(encoding="utf-8"), file) != printers:
            problem = Problem(f"{file} did not read back as written.", "Nothing was changed; report this.")
            raise CannotWrite([problem])

    write_atomically(file, text_for(printers).encode(), check)


def _no_folder(folder: Path, error: OSError) -> CannotWrite:
    why = (error.strerror or "the system refused it").lower()
    return CannotWrite(
        [Problem(f"could not make the folder {folder}: {why}.", "Make it by hand, with leave to write.")]
    )
