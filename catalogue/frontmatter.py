"""Front matter: the lines between two `---` fences at a file's head, every value kept as text with its place.

Style and client files come from strangers too, so what YAML offers beyond names, texts, lists and groups is
refused.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from catalogue.findings import Finding, Place, Severity, Trouble

LARGEST = 1_000_000
"""Bytes: a text file longer than this is no style or client file."""
DEEPEST = 6
"""Levels of groups and lists inside each other."""
MOST = 50
"""Findings about one file's front matter; after these the reader has enough to do."""

_LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
_UNSEEN = re.compile("[^\t\n\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]|\ufeff")
_IN_FRONT = re.compile(r"\s*(#.*|[^\W\d_][\w -]*:.*)?$|\s")
"""A row that may stand before another in front matter: a remark, a name with a value, one that is indented."""
_LOOKS_LIKE_FENCE = re.compile(r"\s*[-\u2010-\u2015\u2212_=*]{2,}\s*")


@dataclass(frozen=True, slots=True)
class FrontEntry:
    """One value of the front matter.

    Attributes:
        value: a text, a tuple of entries (a list), or a mapping of names to entries (a group).
        place: where the value starts.
        key_place: where its name starts; the value's own place for an item of a list.
        quoted: "" for a plain text, else the quote or block sign it was written with.
    """

    value: str | tuple[FrontEntry, ...] | Mapping[str, FrontEntry]
    place: Place
    key_place: Place
    quoted: str = ""

    @property
    def text(self) -> str | None:
        """The text, or None when it is a list or a group."""
        return self.value if isinstance(self.value, str) else None

    @property
    def entries(self) -> tuple[FrontEntry, ...] | None:
        """The items of a list, or None when it isn't one."""
        return self.value if isinstance(self.value, tuple) else None

    @property
    def mapping(self) -> Mapping[str, FrontEntry] | None:
        """The names and entries of a group, or None when it isn't one."""
        return self.value if isinstance(self.value, Mapping) else None

    @property
    def kind(self) -> str:
        """In the reader's words: "a text", "a list", "a group of names", "nothing"."""
        if self.value == "":
            return "nothing"
        if isinstance(self.value, str):
            return "a text"
        return "a list" if isinstance(self.value, tuple) else "a group of names"

    def place_at(self, offset: int) -> Place:
        """The place of the character at `offset` of a one-line text (of the whole text for others)."""
        if not isinstance(self.value, str) or self.quoted in ("|", ">"):
            return self.place
        return Place(self.place.file, self.place.line, self.place.column + offset + len(self.quoted))


@dataclass(frozen=True, slots=True)
class Front:
    """A file taken apart.

    Attributes:
        mapping: the names of the front matter, in order.
        body: what follows the second fence.
        body_line: line number of the body's first line.
        file: as the reader knows it.
        lines: every line of the file, for showing one in a finding.
    """

    mapping: Mapping[str, FrontEntry]
    body: str
    body_line: int
    file: str = ""
    lines: tuple[str, ...] = field(default=(), repr=False)

    def finding(
        self, code: str, message: str, place: Place, hint: str = "", severity: Severity = Severity.ERROR
    ) -> Finding:
        """A finding at `place` that shows the line of the file."""
        return _finding(self.lines, code, message, place, hint, severity)


def read_text(path: Path, file: str = "") -> str:
    """The text of a file: UTF-8 with or without a byte order mark, or UTF-16 with one; line ends made plain.

    `file` is the name for findings (default: the path as given). Raises Trouble when it can't be read.
    """
    return decode(read_bytes(path, file), file or path.as_posix())


def read_bytes(path: Path, file: str = "") -> bytes:
    """The bytes of a text file. Raises Trouble when it can't be read or is over 1 MB."""
    place = Place(file or path.as_posix())
    try:
        with path.open("rb") as stream:
            data = stream.read(LARGEST + 1)
    except OSError as error:
        reason = error.strerror or type(error).__name__
        raise Trouble(Finding("cannot-read", f"this file can't be read: {reason}", place)) from None
    if len(data) > LARGEST:
        raise Trouble(
            Finding("too-large", "this file is over 1 MB: too large for a style or client file", place)
        )
    return data


def decode(data: bytes, file: str) -> str:
    """The text in `data`; see `read_text`. Raises Trouble with line and column of what can't be read."""
    encoding = "utf-8-sig"
    if data.startswith((b"\xff\xfe\x00\x00", b"\x00\x00\xfe\xff")):
        raise Trouble(_wrong_encoding(Place(file), "this file is written in UTF-32"))
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        encoding = "utf-16"
    elif data[:200].count(0) > len(data[:200]) // 4:
        raise Trouble(_wrong_encoding(Place(file), "this is not plain text, or UTF-16 without its mark"))
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError as error:
        before = (
            data[: error.start].decode(encoding, errors="ignore").replace("\r\n", "\n").replace("\r", "\n")
        )
        line = before.count("\n") + 1
        place = Place(file, line, len(before) - (before.rfind("\n") + 1) + 1)
        if encoding == "utf-16":
            raise Trouble(_wrong_encoding(place, "a character here is broken")) from None
        byte = data[error.start : error.start + 1]
        meant = byte.decode("cp1252", errors="ignore")
        words = f"a character here is not in UTF-8 (byte {byte.hex().upper()}"
        words += f", perhaps meant as “{meant}”)" if meant.strip() else ")"
        raise Trouble(_wrong_encoding(place, words)) from None
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _wrong_encoding(place: Place, message: str) -> Finding:
    return Finding("wrong-encoding", message, place, "Save the file as UTF-8 in your editor.")


def split(text: str, file: str) -> Front:
    """Take a file apart into front matter and body.

    Raises:
        Trouble: the fences are missing, the front matter can't be read, or it holds what is refused; with
            every finding that could be made.
    """
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    lines = tuple(text.split("\n"))
    if len(text) > LARGEST:
        raise Trouble(Finding("too-large", "this file is too large for a style or client file", Place(file)))
    first, last = _fences(lines, file)
    front = "\n".join(lines[first + 1 : last])
    mapping = _EntryReader(lines, first + 1, file).read(front)
    return Front(mapping, "\n".join(lines[last + 1 :]), last + 2, file, lines)


def another_beginning(front: Front, name: str) -> Place | None:
    """Where the body holds front matter again, which begins with dashes and has a line `name:`; None where it doesn't.

    It is a second client or style in one file, of which nothing would be read.
    """
    rows = front.body.split("\n")
    for n, row in enumerate(rows):
        if row.rstrip() != "---":
            continue
        below = rows[n + 1 :]
        end = next((m for m, each in enumerate(below) if each.rstrip() == "---"), len(below))
        named = next((m for m, each in enumerate(below[:end]) if re.match(rf"{name}\s*:", each)), None)
        if named is not None and all(_IN_FRONT.match(each) for each in below[:named]):
            return Place(front.file, front.body_line + n)
    return None


def _fences(lines: tuple[str, ...], file: str) -> tuple[int, int]:
    """Line indices of the two fences."""
    first = next((i for i, line in enumerate(lines) if line.strip()), None)
    if first is None:
        raise Trouble(Finding("empty-file", "this file is empty", Place(file), "Begin it with a line ---."))
    if lines[first].rstrip() != "---":
        message = (
            "the file must begin with a line of three dashes, then its names and values, then three dashes"
        )
        hint = "Write --- alone on the first line."
        if _LOOKS_LIKE_FENCE.fullmatch(lines[first]):
            hint = f"“{lines[first].strip()}” looks like the line of dashes, but that must be three plain dashes: ---"
        raise Trouble(_finding(lines, "no-front-matter", message, Place(file, first + 1), hint))
    for i in range(first + 1, len(lines)):
        if lines[i].rstrip() == "---":
            return first, i
    for i in range(first + 1, len(lines)):
        if _LOOKS_LIKE_FENCE.fullmatch(lines[i]):
            hint = f"“{lines[i].strip()}” looks like the line of dashes, but that must be three plain dashes: ---"
            place = Place(file, i + 1)
            break
    else:
        hint = "Write --- alone on a line after the last name and value."
        place = Place(file, first + 1)
    message = "the line of three dashes that ends the front matter is missing"
    raise Trouble(_finding(lines, "no-front-matter", message, place, hint))


def _finding(
    lines: tuple[str, ...],
    code: str,
    message: str,
    place: Place,
    hint: str = "",
    severity: Severity = Severity.ERROR,
) -> Finding:
    source = lines[place.line - 1] if 0 < place.line <= len(lines) else ""
    return Finding(code, message, place, hint, severity, source[:200])


class _EntryReader:
    """Builds entries from YAML's events, so that aliases, tags and depth are met before anything is built."""

    def __init__(self, lines: tuple[str, ...], skipped: int, file: str) -> None:
        self.lines = lines
        self.skipped = skipped
        self.file = file
        self.findings: list[Finding] = []

    def read(self, front: str) -> Mapping[str, FrontEntry]:
        self.look_for_unseen(front)
        # YAML also ends a line at these; the reader's editor doesn't.
        front = front.translate({0x85: " ", 0x2028: " ", 0x2029: " "})
        try:
            events = yaml.parse(front, Loader=_LOADER)
            entry = self.document(events)
        except yaml.YAMLError as error:
            self.findings.append(self.translated(error))
            raise Trouble(*self.findings) from None
        if entry.mapping is None and entry.value != "":
            self.add(
                "not-a-mapping",
                "the front matter must be names with values, one on a line",
                entry.place,
                "Write name: value, for example name: Rosa.",
            )
        if self.findings:
            raise Trouble(*self.findings)
        return entry.mapping or {}

    def document(self, events: Iterator[Any]) -> FrontEntry:
        entry: FrontEntry | None = None
        for event in events:
            if isinstance(event, yaml.ScalarEvent | yaml.CollectionStartEvent | yaml.AliasEvent):
                entry = self.entry(event, events, 1, None)
        return entry or FrontEntry("", Place(self.file, self.skipped + 1), Place(self.file, self.skipped + 1))

    def entry(self, event: Any, events: Iterator[Any], depth: int, key_place: Place | None) -> FrontEntry:
        place = self.place(event.start_mark)
        key_place = key_place or place
        if isinstance(event, yaml.AliasEvent):
            self.add("alias", "a value cannot begin with * here: references are not read", place, _QUOTE)
            return FrontEntry("", place, key_place)
        self.refuse_extras(event, place)
        if isinstance(event, yaml.ScalarEvent):
            return FrontEntry(event.value, place, key_place, event.style or "")
        if depth > DEEPEST:
            self.add("too-deep", f"groups and lists inside each other go more than {DEEPEST} deep", place)
            raise Trouble(*self.findings)
        if isinstance(event, yaml.SequenceStartEvent):
            items: list[FrontEntry] = []
            while not isinstance(event := next(events), yaml.SequenceEndEvent):
                items.append(self.entry(event, events, depth + 1, None))
            return FrontEntry(tuple(items), place, key_place)
        group: dict[str, FrontEntry] = {}
        while not isinstance(event := next(events), yaml.MappingEndEvent):
            key = self.entry(event, events, depth + 1, None)
            value = self.entry(next(events), events, depth + 1, key.key_place)
            if key.text is None:
                self.add("not-a-name", f"{key.kind} can't be a name", key.place, _QUOTE)
            elif key.text in group:
                first = group[key.text].key_place.line
                self.add(
                    "twice",
                    f"“{key.text}” is given twice; the first is on line {first}",
                    key.key_place,
                    "Keep one of the two.",
                )
            else:
                group[key.text] = value
        return FrontEntry(group, place, key_place)

    def refuse_extras(self, event: Any, place: Place) -> None:
        if event.anchor is not None:
            self.add("anchor", "a value cannot begin with & here: labels are not read", place, _QUOTE)
        if event.tag is not None:
            self.add("tag", "a value cannot begin with ! here: types are not read", place, _QUOTE)

    def look_for_unseen(self, front: str) -> None:
        for found in _UNSEEN.finditer(front):
            line = front.count("\n", 0, found.start())
            column = found.start() - (front.rfind("\n", 0, found.start()) + 1) + 1
            place = Place(self.file, self.skipped + line + 1, column)
            self.add(
                "unseen",
                f"there is an invisible control character (code {ord(found.group()):04X}) here",
                place,
                "Delete it, or retype the line.",
            )
            raise Trouble(*self.findings)

    def place(self, mark: Any) -> Place:
        return Place(self.file, mark.line + self.skipped + 1, mark.column + 1)

    def add(self, code: str, message: str, place: Place, hint: str = "") -> None:
        self.findings.append(_finding(self.lines, code, message, place, hint))
        if len(self.findings) >= MOST:
            raise Trouble(*self.findings)

    def translated(self, error: yaml.YAMLError) -> Finding:
        """YAML's complaint in the reader's words."""
        problem = getattr(error, "problem", None) or ""
        context = getattr(error, "context", None) or ""
        mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
        start = getattr(error, "context_mark", None) or mark
        place = self.place(mark) if mark else Place(self.file, self.skipped + 1)
        line = self.lines[place.line - 1] if place.line <= len(self.lines) else ""
        at = line[place.column - 1 : place.column]
        if "mapping values are not allowed" in problem and ":" not in line[: place.column - 1].rstrip():
            message = "this line and the one above can't be read together"
            hint = "Is a colon and a space missing above, or are the two lines indented differently?"
            return _finding(self.lines, "yaml", message, place, hint)
        for words, uses_start, message, hint in _COMPLAINTS:
            if words in problem or words in context:
                if uses_start and start:
                    place = self.place(start)
                return _finding(self.lines, "yaml", message, place, hint)
        if "\t" in line[: place.column]:
            message, hint = (
                "there is a tab here; indent with spaces",
                "Use two spaces for each level.",
            )
        elif at and at in "@`%*&!":
            message, hint = f"a value can't begin with {at}", _QUOTE
        elif _BEGINS_WITH_BRACE.match(line[: place.column]):
            message, hint = "a value that begins with { needs quotes round it", _QUOTE
        else:
            message = "this line can't be read as a name with a value"
            hint = "Write name: value, indented like the other lines of its group; put quotes round unusual texts."
        return _finding(self.lines, "yaml", message, place, hint)


_BEGINS_WITH_BRACE = re.compile(r"[\w ]*: *\{|[ -]*- *\{")
_QUOTE = "Put quotes round the text if it is meant as one."
_COMPLAINTS = (
    (
        "mapping values are not allowed",
        False,
        "a second colon on this line can't be read",
        'Put quotes round a text with a colon in it, as in name: "Rosa: the blue coat".',
    ),
    (
        "tab character",
        False,
        "there is a tab here; indent with spaces",
        "Use two spaces for each level.",
    ),
    (
        "while scanning a quoted scalar",
        True,
        "a quote opens here and is not closed, or it is closed too early",
        "Close the quote at the end of the line; an inch mark after a number needs no quotes.",
    ),
    (
        "unknown escape",
        False,
        "a \\ in double quotes can't be read",
        "Use single quotes round a text with \\ in it.",
    ),
    (
        "while parsing a flow",
        True,
        "a bracket opens here and is not closed, or something between lacks a comma",
        "Close it on the same line, or put quotes round the text.",
    ),
    (
        "block sequence entries are not allowed",
        False,
        "a list can't begin on the same line as its name",
        "Start the list on the next line, or write [one, two].",
    ),
    (
        "could not find expected ':'",
        True,
        "there is a name without a colon here",
        "Write name: value, with a space after the colon.",
    ),
)
