"""Turns finished PDF files into one, page after page as they are, with bookmarks, page numbers and print
settings of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any

from templates_engine.outputs import MAKER
from templates_engine.values import Struct
from templates_engine.writers.pdf_check import (
    BOXES,
    PREFERENCES,
    DiffersError,
    check_frame,
    check_preferences,
    check_upright,
    content_of,
    far,
    inches,
    refusing,
)

if TYPE_CHECKING:
    from pypdf import PageObject, PdfReader, PdfWriter
    from pypdf.generic import IndirectObject


class BinderPart(Struct, frozen=True):
    """A finished PDF; its own bookmarks come below ``bookmark``, or stand at the top where that is empty."""

    bookmark: str
    data: bytes


def binder_bytes(title: str, subject: str, parts: Sequence[BinderPart]) -> bytes:
    """All pages of all parts in their order; the same bytes for the same parts, always.

    Pages are numbered from 1 throughout, so that the number shown, the number in an index and the number
    typed into a print dialogue are the same.
    """
    from pypdf import PdfReader, PdfWriter
    from pypdf.constants import PageLabelStyle
    from pypdf.generic import NameObject, TextStringObject

    from templates_engine.writers.pdf_parts import storable

    writer = PdfWriter()
    writer.pdf_header = "%PDF-1.7"
    for part in parts:
        reader = PdfReader(BytesIO(part.data), strict=True)
        first = len(writer.pages)
        writer.append(reader, import_outline=False)
        _add_bookmarks(writer, reader, part.bookmark, first)
    writer.set_page_label(0, len(writer.pages) - 1, style=PageLabelStyle.DECIMAL, start=1)
    writer.add_metadata({"/Title": storable(title), "/Subject": storable(subject)})
    info = writer._info
    assert info is not None
    for key in ("/Creator", "/Producer"):
        info[NameObject(key)] = _maker()
    root = writer.root_object
    root[NameObject("/Lang")] = TextStringObject("en-US")
    root[NameObject("/PageMode")] = NameObject("/UseOutlines")
    root[NameObject("/ViewerPreferences")] = _preferences()
    data = BytesIO()
    writer.write(data)
    return data.getvalue()


def _add_bookmarks(writer: PdfWriter, reader: PdfReader, bookmark: str, first: int) -> None:
    from pypdf.generic import Fit

    from templates_engine.writers.pdf_parts import storable

    above: list[IndirectObject] = []
    own = _bookmarks(reader, reader.outline, 1 if bookmark else 0)
    for title, level, page in [(storable(bookmark), 0, 0), *own] if bookmark else own:
        del above[level:]
        parent = above[-1] if above else None
        above.append(
            writer.add_outline_item(title=title, page_number=first + page, parent=parent, fit=Fit.fit())
        )


def _bookmarks(reader: PdfReader, entries: Sequence[Any], level: int) -> Iterator[tuple[str, int, int]]:
    """(title, depth, page from 0) of every bookmark, in order."""
    for entry in entries:
        if isinstance(entry, list):
            yield from _bookmarks(reader, entry, level + 1)
        else:
            page = reader.get_destination_page_number(entry)
            assert page is not None
            yield str(entry.title), level, page


def _maker() -> Any:
    from pypdf.generic import TextStringObject

    class Maker(TextStringObject):
        """Written letter by letter: by this it is known whose file it is (outputs.py)."""

        def write_to_stream(self, stream: Any, encryption_key: str | bytes | None = None) -> None:
            stream.write(f"({self})".encode("ascii"))

    return Maker(MAKER)


def _preferences() -> Any:
    from pypdf.generic import ArrayObject, BooleanObject, DictionaryObject, NameObject

    made = DictionaryObject({NameObject("/Enforce"): ArrayObject([NameObject("/PrintScaling")])})
    for key, value in PREFERENCES.items():
        made[NameObject(key)] = NameObject(value) if isinstance(value, str) else BooleanObject(value)
    return made


# --- read back ----------------------------------------------------------------------------------------------


def binder_check(parts: Sequence[BinderPart], shown_as: Path) -> Callable[[Path], None]:
    """What is to be called with the finished file: raises CannotWrite unless its pages are the parts' own."""

    def check(path: Path) -> None:
        with refusing(shown_as, "Run again."):
            _compare(path.read_bytes(), parts)

    return check


def _compare(data: bytes, parts: Sequence[BinderPart]) -> None:
    from pypdf import PdfReader

    check_frame(data)
    with PdfReader(BytesIO(data), strict=True) as bound:
        check_preferences(bound)
        count = 0
        for part in parts:
            with PdfReader(BytesIO(part.data), strict=True) as single:
                for page in single.pages:
                    if count >= len(bound.pages):
                        raise DiffersError(f"it has {len(bound.pages)} pages, too few")
                    _compare_pages(bound.pages[count], page, f"page {count + 1}")
                    count += 1
        if count != len(bound.pages):
            raise DiffersError(f"it has {len(bound.pages)} pages instead of {count}")


def _compare_pages(found: PageObject, wanted: PageObject, name: str) -> None:
    """Boxes, content and all that the content draws, to the byte."""
    for key in BOXES:
        if far(inches(found[key]), inches(wanted[key])):
            raise DiffersError(f"{key[1:]} of {name} is another than that page's alone")
    check_upright(found, name)
    if content_of(found) != content_of(wanted):
        raise DiffersError(f"{name} draws something else than that page alone")
    forms, own = _forms(found), _forms(wanted)
    if forms.keys() != own.keys() or any(_is_other(forms[one], own[one]) for one in own):
        raise DiffersError(f"{name} shows another picture than that page alone")
    if _fonts(found) != _fonts(wanted):
        raise DiffersError(f"{name} has other fonts than that page alone")


def _forms(page: PageObject) -> dict[str, Any]:
    return {name: one.get_object() for name, one in _resource(page, "/XObject").items()}


def _fonts(page: PageObject) -> dict[str, str]:
    return {name: str(one.get_object()["/BaseFont"]) for name, one in _resource(page, "/Font").items()}


def _resource(page: PageObject, kind: str) -> dict[str, Any]:
    resources: Any = page["/Resources"]
    return dict(resources[kind].get_object()) if kind in resources else {}


def _is_other(form: Any, own: Any) -> bool:
    """Whether a picture differs: what it draws to the byte, its bounds and place as lengths."""
    is_elsewhere = far(inches(form["/BBox"]), inches(own["/BBox"]))
    return is_elsewhere or form["/Matrix"] != own["/Matrix"] or form.get_data() != own.get_data()
