"""Turns a job file's text into nested dicts, lists and text, each with its place; says nothing of meaning.

Every scalar stays the text it looks like: `2`, `no` and `12:30` are not turned into numbers, truth or times.
Works on the parser's events, not by recursion, so that no file can exhaust the stack.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any, NamedTuple

import yaml

from templates_engine.errors import JobProblems, Problem
from templates_engine.job.text.file import JOB_FILE, MOST_BYTES, FileKind
from templates_engine.job.text.key_paths import KeyPath, plain_path, shown
from templates_engine.job.text.yaml_mistakes import MOST_LEVELS, TOO_DEEP, in_plain_words, is_rest_of_number
from templates_engine.units import Unit, without_comma

MOST_NODES = 20_000
"""Values in the file, each repeat by an alias counted anew: stops a small file from growing without end."""

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
"""The parser written in C is twenty times as fast; where PyYAML was built without it the other one serves."""
_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff\ud800-\udfff]")
_SPACES = dict.fromkeys(map(ord, "\u00a0\u2002\u2003\u2007\u2008\u2009\u200a\u202f\u3000"), " ")
"""Spaces that look like the plain one, from web pages and word processors; YAML takes them for letters."""
_LOST_NUMBER = re.compile(r"\s+#[0-9].*")
_LISTS = ("circuits", "spaces")
"""Keys of whole numbers in a list, where a comma is never a decimal one."""


class TextPosition(NamedTuple):
    """A place in the file, counted from 1; marks sort in file order."""

    line: int
    column: int


@dataclass
class YamlTree:
    """A file's content as plain values; ``keys`` and ``values`` say where each stands, by its path."""

    content: Any
    keys: dict[KeyPath, TextPosition] = field(default_factory=dict)
    values: dict[KeyPath, TextPosition] = field(default_factory=dict)
    problems: list[tuple[TextPosition, Problem]] = field(default_factory=list)
    broken: set[KeyPath] = field(default_factory=set)
    """Paths a problem was reported for."""
    without_value: dict[KeyPath, str] = field(default_factory=dict)
    """Paths where nothing is written, with the line of text each stands on; not reported yet."""


def parse(text: str, file: str, kind: FileKind = JOB_FILE) -> YamlTree:
    """The tree of a file's text; raises JobProblems where nothing after the mistake can be trusted."""
    text = text.removeprefix("\ufeff").translate(_SPACES)
    if len(text.encode("utf-8", "replace")) > MOST_BYTES:
        raise _stop(file, None, *kind.too_large)
    bad = _UNPRINTABLE.search(text)
    if bad:
        wrong = f"An unprintable character (U+{ord(bad.group()):04X}) stands here."
        raise _stop(file, text.count("\n", 0, bad.start()) + 1, wrong, "Delete it and type the line again.")
    try:
        root = _Composer(file, kind).compose(text)
    except yaml.YAMLError as error:
        raise _stop(file, *in_plain_words(text, error)) from error
    except (ValueError, OverflowError) as error:  # the parser written in Python lets these through
        raise _stop(file, None, "A backslash in double quotes names no character.", "Take it out.") from error
    if root is None or root.is_nothing:
        raise _stop(file, None, "The file is empty.", kind.begin)
    if root.pairs is None:
        what = "a list" if root.items is not None else "plain text"
        raise _stop(file, root.mark.line, f"The file holds {what}, not keys with values.", kind.begin)
    return _Speller(file, kind, text.splitlines()).tree(root)


def _too_many(kind: FileKind) -> tuple[str, str]:
    remedy = f"{kind.part.rstrip('.')}, and take out repeats by `*`."
    return f"The file holds more than {MOST_NODES} values.", remedy


def _stop(file: str, line: int | None, message: str, remedy: str) -> JobProblems:
    return JobProblems([Problem(message, remedy, file, line)])


# --- events to nodes ----------------------------------------------------------------------------------------


@dataclass
class _Node:
    """A value as parsed, aliases not spelled out: text (None when nothing is written), a list or pairs."""

    mark: TextPosition
    text: str | None = None
    items: list[_Node] | None = None
    pairs: list[tuple[_Node, _Node]] | None = None
    anchor: str | None = None
    waiting_key: _Node | None = None

    @property
    def is_nothing(self) -> bool:
        return self.text is None and self.items is None and self.pairs is None

    def take(self, child: _Node) -> None:
        """Hangs a finished child in: an entry, a key, or the value of the key that waits for one."""
        if self.items is not None:
            self.items.append(child)
        elif self.waiting_key is None:
            self.waiting_key = child
        else:
            assert self.pairs is not None
            self.pairs.append((self.waiting_key, child))
            self.waiting_key = None


class _Composer:
    """Builds the nodes of the file's only document; an alias stands as the very node it repeats."""

    def __init__(self, file: str, kind: FileKind) -> None:
        self.file = file
        self.kind = kind
        self.open: list[_Node] = []
        self.anchors: dict[str, _Node] = {}
        self.root: _Node | None = None

    def compose(self, text: str) -> _Node | None:
        """The root node, None when the file holds nothing."""
        documents = 0
        for count, event in enumerate(yaml.parse(text, Loader=_LOADER)):
            assert event.start_mark is not None
            mark = TextPosition(event.start_mark.line + 1, event.start_mark.column + 1)
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
            if documents > 1:
                wrong = "A second document begins here (`---`)."
                remedy = f"Write each {self.kind.name} as a file of its own, or delete the line."
                raise _stop(self.file, mark.line, wrong, remedy)
            if count > 2 * MOST_NODES:  # an event to open and one to close
                raise _stop(self.file, mark.line, *_too_many(self.kind))
            if isinstance(event, yaml.CollectionEndEvent):
                self._finish(self.open.pop())
            elif isinstance(event, yaml.AliasEvent):
                self._finish(self._repeated(str(event.anchor), mark))
            elif isinstance(event, yaml.NodeEvent):
                self._begin(event, mark)
        return self.root

    def _begin(self, event: Any, mark: TextPosition) -> None:
        """A scalar is finished at once; a list or keys stay open until their end."""
        if event.tag is not None:
            tag = str(event.tag).replace("tag:yaml.org,2002:", "!!")
            remedy = "Take it out, or put the whole text in quotes."
            raise _stop(self.file, mark.line, f"The tag `{shown(tag)}` is not read.", remedy)
        node = _Node(mark, anchor=event.anchor)
        if isinstance(event, yaml.ScalarEvent):
            is_unquoted = event.implicit[0]
            node.text = None if event.value == "" and is_unquoted else event.value
            return self._finish(node)
        if isinstance(event, yaml.SequenceStartEvent):
            node.items = []
        else:
            node.pairs = []
        self.open.append(node)
        if len(self.open) > MOST_LEVELS:
            raise _stop(self.file, mark.line, *TOO_DEEP)
        return None

    def _finish(self, node: _Node) -> None:
        if node.anchor:
            self.anchors[node.anchor] = node
        if self.open:
            self.open[-1].take(node)
        else:
            self.root = node

    def _repeated(self, name: str, mark: TextPosition) -> _Node:
        node = self.anchors.get(name)
        if node is None:  # also when a value repeats itself, as it is named only once it is finished
            wrong = f"`*{shown(name)}` repeats something that no `&{shown(name)}` above it names."
            raise _stop(self.file, mark.line, wrong, "Put text that begins with * in quotes.")
        return node


# --- nodes to plain values ----------------------------------------------------------------------------------


class _Speller:
    """Spells nodes out as plain values, marks every path, and notes what cannot be a key or a value."""

    def __init__(self, file: str, kind: FileKind, lines: list[str]) -> None:
        self.file = file
        self.kind = kind
        self.lines = lines
        self.out = YamlTree({})
        self.count = 0
        self.unit: Unit = "in"

    def tree(self, root: _Node) -> YamlTree:
        for key, value in root.pairs or ():
            if key.text == "units" and (value.text or "").strip().lower() == "mm":
                self.unit = "mm"
        self.out.content = self._value(root, ())
        return self.out

    def _note(self, mark: TextPosition, path: KeyPath, message: str, remedy: str) -> None:
        self.out.problems.append((mark, Problem(message, remedy, self.file, mark.line, plain_path(path))))

    def _value(self, node: _Node, path: KeyPath) -> Any:
        self.count += 1
        if self.count > MOST_NODES:
            raise _stop(self.file, node.mark.line, *_too_many(self.kind))
        if len(path) > MOST_LEVELS:
            raise _stop(self.file, node.mark.line, *TOO_DEEP)
        self.out.values[path] = node.mark
        if node.items is not None:
            return [self._value(item, (*path, place)) for place, item in enumerate(node.items)]
        if node.pairs is not None:
            return self._keys(node.pairs, path)
        if node.text is None:
            self._note_nothing(node, path)
        else:
            self._note_lost_number(node.text, node.mark, path)
        return node.text or ""

    def _note_lost_number(self, text: str, mark: TextPosition, path: KeyPath) -> None:
        """A number sign in a text, `job: Clinic #3`, begins a comment; a comment meant has a space after."""
        line, at = "".join(self.lines[mark.line - 1 : mark.line]), mark.column - 1
        if text and line.startswith(text, at) and (lost := _LOST_NUMBER.match(line, at + len(text))):
            wrong = f"`{shown(lost.group().strip())}` would be lost: a `#` after a space begins a comment."
            whole = shown(text + lost.group().rstrip())
            remedy = f'Put the text in quotes, "{whole}", or write a space after the `#` of a comment.'
            self._note(mark, path, wrong, remedy)
            self.out.broken.add(path)

    def _note_nothing(self, node: _Node, path: KeyPath) -> None:
        mark = self.out.keys.get(path, node.mark)
        if path and isinstance(path[-1], str) and (tight := re.fullmatch("([a-z ]+):([^:]+)", path[-1])):
            wrong = f"`{shown(path[-1])}` has no space after its colon."
            self._note(mark, path, wrong, f"Write `{tight[1]}: {tight[2]}`.")
            self.out.broken.add(path)
        else:
            self.out.without_value[path] = "".join(self.lines[mark.line - 1 : mark.line])

    def _keys(self, pairs: list[tuple[_Node, _Node]], path: KeyPath) -> dict[str, Any]:
        content: dict[str, Any] = {}
        before: str | None = None
        cut_off: dict[str, list[str]] = {}
        """Keys whose value a comma cut off, with what stands after it."""
        for key, value in pairs:
            if before is not None and is_rest_of_number(content[before], key.text, value.is_nothing):
                cut_off.setdefault(before, []).append(str(key.text))
                continue
            before = None
            if key.text is None:
                remedy = "Write a key, a colon and a value; put text that holds {, [ or a colon in quotes."
                self._note(key.mark, path, "Something stands here in the place of a key.", remedy)
            elif not key.text.isprintable():
                wrong = f"The key `{shown(key.text)}` holds a character that cannot be seen."
                self._note(key.mark, path, wrong, "Type the key again with plain letters and spaces.")
            elif key.text == "<<":
                remedy = "Write the keys out, or repeat a whole value by `*`."
                self._note(key.mark, path, "Keys cannot be merged in by `<<`.", remedy)
            elif key.text in content:
                first = self.out.keys[(*path, key.text)].line
                wrong = f"`{shown(key.text)}` is written twice; it stands on line {first} already."
                remedy = "Keep one of the two. A further entry of a list begins with a dash."
                self._note(key.mark, (*path, key.text), wrong, remedy)
            else:
                self.out.keys[(*path, key.text)] = key.mark
                content[key.text] = self._value(value, (*path, key.text))
                before = key.text
        for name, rest in cut_off.items():
            self._note_comma((*path, name), [content[name], *rest])
        return content

    def _note_comma(self, path: KeyPath, parts: list[str]) -> None:
        """A comma meant as a decimal point, `{at: 4,5}`, which YAML reads as `{at: 4, 5: }`; or a list."""
        written = ",".join(parts)
        wrong = f"The comma of `{shown(str(path[-1]))}: {shown(written)}` is read as the end of the value."
        is_list = len(parts) > 2 or path[-1] in _LISTS
        remedy = f"Write [{', '.join(parts)}]." if is_list else without_comma(written, self.unit)
        self._note(self.out.keys[path], path, wrong, remedy)
        self.out.broken.add(path)
