"""Lists and keeps measured printers for the page, and makes the sheet they are measured on."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from templates_engine.errors import TemplatesError
from templates_engine.page.answer import render


def known_printers() -> dict[str, Any]:
    """The printers kept on this machine: their names, and the fragment that lists them."""
    from templates_engine.sentences.printers import lean_line, listed_words
    from templates_engine.verify.printer_store import stored_printers

    try:
        known = stored_printers()
    except TemplatesError as error:
        return {
            "names": [],
            "fragments": {
                "printers": render("printers.html", lines=[("", str(one)) for one in error.problems])
            },
        }
    lines = [(one.name, " ".join(filter(None, (listed_words(one), lean_line(one))))) for one in known]
    return {
        "names": [one.name for one in known],
        "fragments": {"printers": render("printers.html", lines=lines)},
    }


def forget_printer(name: str) -> dict[str, Any]:
    """Forgets a printer; says which, or what is wrong."""
    from templates_engine.sentences.printers import error_words
    from templates_engine.verify.printer_store import remove_printer

    try:
        gone = remove_printer(name)
    except TemplatesError as error:
        return {"said": [f"{one.message} {one.remedy}" for one in error.problems]} | known_printers()
    return {"said": [f"{gone.name} is removed. It {error_words(gone, 'printed')}."]} | known_printers()


def measuring_pdf(paper: str, margins: str) -> dict[str, Any]:
    """The page that a printer is measured on, as a PDF; ``margins`` one for all sides, or four."""
    from templates_engine.drawing.measuring_page import measuring_document
    from templates_engine.verify.printer_typed import DEFAULT_MARGIN, margins_of, paper_of
    from templates_engine.writers.pdf import write_pdf

    try:
        document = measuring_document(
            paper_of(paper), margins_of(_several(margins) if margins.strip() else [DEFAULT_MARGIN])
        )
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "measuring-page.pdf"
            write_pdf(document, path)
            return {"files": [(path.name, path.read_bytes(), 1)]}
    except TemplatesError as error:
        return {"problems": [f"{one.message} {one.remedy}" for one in error.problems]}


def keep_printer(typed: dict[str, str], anew: bool) -> dict[str, Any]:
    """Keeps a printer by what was typed of its measuring page; says what it is, or what is wrong."""
    from templates_engine.sentences.printers import accuracy_words, correction_words, error_words, lean_line
    from templates_engine.verify.printer_store import add_printer
    from templates_engine.verify.printer_typed import TypedReadings, printer_of

    squares = (typed["first"], typed["second"])
    try:
        readings = TypedReadings(
            typed["name"],
            _several(typed["across"]),
            _several(typed["down"]),
            typed["paper"],
            squares if any(one.strip() for one in squares) else None,
            _several(typed["margins"]) if typed["margins"].strip() else (),
        )
        printer, wide, high = printer_of(readings)
        add_printer(printer, replace_it=anew)
    except TemplatesError as error:
        return {"said": [_plain(f"{one.message} {one.remedy}") for one in error.problems]} | known_printers()
    said = [
        f"{printer.name} {error_words(printer)}; {correction_words(printer)}.",
        accuracy_words(printer, wide, high),
        lean_line(printer),
    ]
    return {"said": [one for one in said if one], "kept": printer.name} | known_printers()


def _several(typed: str) -> Sequence[str]:
    return [part.strip() for part in typed.split(";")]


def _plain(words: str) -> str:
    """A command's words as the page has them."""
    return words.replace("Add --replace", 'Tick "measured anew"').replace(", --paper?", "?")
