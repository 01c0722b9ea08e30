"""Looks into a packed spreadsheet before it is read: is it small enough, what in it cannot be read, what is
merged.

Reading itself gives nothing for a cell with an error and for a formula without its stored value, and takes
room for every cell up to the last one; both have to be known beforehand.
"""

from __future__ import annotations

import io
import re
import zipfile
import zlib
from collections.abc import Iterator
from xml.etree import ElementTree

from templates_engine.values import Struct

MOST_PACKED, MOST_UNPACKED = 20_000_000, 100_000_000
"""Bytes; a schedule of a thousand raceways has a hundredth of that."""
MOST_ROWS, MOST_COLUMNS = 20_000, 200
NO_VALUE = "holds a formula whose value is not stored"
ERROR = "holds an error"
_PIECE = 1 << 20
_OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_CELL = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")


class Unusable(Exception):
    """The file is no spreadsheet to be read: ``message`` says why, ``remedy`` what to do."""

    def __init__(self, message: str, remedy: str) -> None:
        super().__init__(message)
        self.message, self.remedy = message, remedy


TOO_LARGE = Unusable(
    f"It is larger than any schedule: more than {MOST_ROWS} rows, {MOST_COLUMNS} columns or "
    f"{MOST_UNPACKED // 1_000_000} MB unpacked.",
    "Copy the rows of the schedule alone into a new spreadsheet, or save them as CSV.",
)
DAMAGED = Unusable("It is damaged and cannot be read.", "Open it in a spreadsheet program and save it again.")


class Scan(Struct, frozen=True):
    """What was seen in one sheet; cells are (row, column) from 0."""

    name: str
    unreadable: dict[tuple[int, int], str]
    merged: tuple[tuple[int, int, int], ...]
    """Cells merged downward: column, first row, last row; only of ODS, reading tells those of others."""


def scan(data: bytes) -> tuple[Scan, ...]:
    """Every sheet of an XLSX or ODS file, in no special order. Raises Unusable."""
    if len(data) > MOST_PACKED:
        raise TOO_LARGE
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            parts = _Parts(archive)
            names = set(archive.namelist())
            if "xl/workbook.xml" in names:
                return tuple(_scan_xlsx(parts))
            if "content.xml" in names:
                return tuple(_scan_ods(parts.open("content.xml")))
    except NotImplementedError as error:
        raise DAMAGED from error
    except RuntimeError as error:  # how zipfile says that a password is needed
        raise Unusable("It is locked with a password.", "Save it without a password.") from error
    except (
        zipfile.BadZipFile,
        zlib.error,
        ElementTree.ParseError,
        EOFError,
        OSError,
        LookupError,
        ValueError,
    ) as error:
        raise DAMAGED from error
    raise Unusable("It is no spreadsheet.", "Save the schedule as .xlsx, .ods or .csv.")


class _Parts:
    """The parts of an archive; what all of them unpack to is limited, whatever the archive says of it."""

    def __init__(self, archive: zipfile.ZipFile) -> None:
        self._archive = archive
        if sum(part.file_size for part in archive.infolist()) > MOST_UNPACKED:
            raise TOO_LARGE

    def open(self, name: str) -> io.BytesIO:
        """A part unpacked. Raises Unusable where it is larger than it says."""
        unpacked = io.BytesIO()
        with self._archive.open(name) as stream:
            while piece := stream.read(_PIECE):
                unpacked.write(piece)
                if unpacked.tell() > MOST_UNPACKED:
                    raise TOO_LARGE
        unpacked.seek(0)
        return unpacked


# --- XLSX ---------------------------------------------------------------------------------------------------


def _scan_xlsx(parts: _Parts) -> Iterator[Scan]:
    targets = {
        one.get("Id", ""): one.get("Target", "")
        for one in ElementTree.parse(parts.open("xl/_rels/workbook.xml.rels")).getroot()
    }
    for element in ElementTree.parse(parts.open("xl/workbook.xml")).getroot().iter():
        if _plain(element.tag) == "sheet":
            link = next((value for key, value in element.items() if _plain(key) == "id"), "")
            target = targets.get(link, "")
            path = target.lstrip("/") if target.startswith("/") else f"xl/{target}"
            yield Scan(element.get("name", ""), dict(_unreadable_cells(parts.open(path))), ())


def _unreadable_cells(sheet: io.BytesIO) -> Iterator[tuple[tuple[int, int], str]]:
    """The cells that reading would leave out. Raises Unusable for a sheet that takes too much room."""
    for _, element in ElementTree.iterparse(sheet):
        kind = _plain(element.tag)
        if kind == "row":
            if len(element) and int(element.get("r", "0")) > MOST_ROWS:
                raise TOO_LARGE
            element.clear()
        elif kind == "c" and len(element):
            row, column = _place(element.get("r", ""))
            if row >= MOST_ROWS or column >= MOST_COLUMNS:
                raise TOO_LARGE
            if why := _why_unreadable(element):
                yield (row, column), why


def _why_unreadable(cell: ElementTree.Element) -> str:
    inside = {_plain(one.tag): one for one in cell}
    if cell.get("t") == "e":
        return ERROR
    value = inside.get("v")
    has_value = cell.get("t") == "str" or (value is not None and value.text)
    return NO_VALUE if "f" in inside and not has_value else ""


def _place(name: str) -> tuple[int, int]:
    """A cell's row and column from its name, "C7"."""
    match = _CELL.fullmatch(name)
    if match is None:
        return 0, 0
    column = 0
    for letter in match[1]:
        column = column * 26 + ord(letter) - ord("A") + 1
    return int(match[2]) - 1, column - 1


def _plain(tag: str) -> str:
    """A name without its name space."""
    return tag.rpartition("}")[2]


# --- ODS ----------------------------------------------------------------------------------------------------


def _scan_ods(content: io.BytesIO) -> Iterator[Scan]:
    for _, element in ElementTree.iterparse(content):
        if element.tag == f"{_TABLE}table":
            yield _scan_ods_sheet(element)
            element.clear()


def _scan_ods_sheet(table: ElementTree.Element) -> Scan:
    unreadable: dict[tuple[int, int], str] = {}
    merged: list[tuple[int, int, int]] = []
    row = 0
    for line in table.iter(f"{_TABLE}table-row"):
        column = 0
        rows = int(line.get(f"{_TABLE}number-rows-repeated", "1"))
        for cell in line:
            columns = int(cell.get(f"{_TABLE}number-columns-repeated", "1"))
            if _is_filled(cell):
                if row + rows > MOST_ROWS or column + columns > MOST_COLUMNS:
                    raise TOO_LARGE
                if any(_plain(key) == "value-type" and value == "error" for key, value in cell.items()):
                    unreadable[row, column] = ERROR
                down = int(cell.get(f"{_TABLE}number-rows-spanned", "1"))
                merged += [(column, row, row + down - 1)] if down > 1 else []
            column += columns
        row += rows
    return Scan(table.get(f"{_TABLE}name", ""), unreadable, tuple(merged))


def _is_filled(cell: ElementTree.Element) -> bool:
    return cell.get(f"{_OFFICE}value-type") is not None or len(cell) > 0
