"""What the tool has to say about a file: where, what was expected, and what would help."""

from __future__ import annotations

import difflib
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from catalogue.trade_names import trade_hint

BLOCK_FAILS = "block-fails"
"""Code of what is wrong with a style because something is with the block that it is cut from."""


class Severity(Enum):
    """How much a finding matters: an ERROR stops what it touches, a WARNING is shown and nothing more."""

    ERROR = "error"
    WARNING = "warning"


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A spot in a file: the path as the reader knows it (relative to the studio), line and column from 1."""

    file: str
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to tell the reader.

    Attributes:
        code: a short stable word for the kind of finding ("unknown-name", "not-a-length", ...).
        message: one sentence in the reader's words: what is wrong and what was expected.
        place: where, or None when no file is to blame.
        hint: what would help, for example the nearest known name; may be empty.
        source: the line of the file, for showing a caret under the column; may be empty.
        instead: the line to write in its place, for copying; may be empty.
        about: where it came up, when that is neither the file nor a client's own draft: an order, some sizes.
    """

    code: str
    message: str
    place: Place | None = None
    hint: str = ""
    severity: Severity = Severity.ERROR
    source: str = ""
    instead: str = ""
    about: str = ""

    @property
    def is_error(self) -> bool:
        return self.severity is Severity.ERROR

    def __str__(self) -> str:
        where = f"{self.place}: " if self.place else ""
        about = f"{self.about}: " if self.about else ""
        text = f"{where}{self.severity.value}: {about}{self.message}"
        if self.source and self.place:
            text += f"\n    {self.source}\n    {caret(self.source, self.place.column)}"
        if self.hint:
            text += f"\n    {self.hint}"
        if self.instead:
            text += f"\n    Write: {self.instead}"
        return text


class Trouble(Exception):
    """Raised inside a room when it can't go on; carries the findings that say why."""

    def __init__(self, *findings: Finding) -> None:
        super().__init__("; ".join(f.message for f in findings))
        self.findings = findings


def caret(source: str, column: int) -> str:
    """A line of spaces (tabs kept) with a caret under `column` of `source`."""
    before = source[: max(column - 1, 0)]
    return "".join("\t" if c == "\t" else " " for c in before) + "^"


def nearest(name: str, known: Iterable[str], count: int = 1, least: float = 0.6) -> list[str]:
    """The known names that look most like `name`, best first; empty when none is alike by `least` (from 0 to 1)."""
    names = {k.casefold(): k for k in known}
    found = difflib.get_close_matches(name.casefold(), names, n=count, cutoff=least)
    return [names[f] for f in found]


def did_you_mean(name: str, known: Iterable[str]) -> str:
    """A hint naming the known name that `name` is another name for, or the nearest; an empty text where none is near.

    It tells of letters that only look the same.
    """
    names = list(known)
    plain = name.translate(_LOOK_ALIKE)
    if plain != name and plain in names:
        letter = next(a for a, b in zip(name, plain, strict=True) if a != b)
        alphabet = unicodedata.name(letter).split(" ")[0].capitalize()
        return f"Did you mean “{plain}”? Your “{letter}” is a {alphabet} letter that looks the same."
    if hint := trade_hint(name, names):
        return hint
    found = nearest(name, names)
    return f"Did you mean “{found[0]}”?" if found else ""


_LOOK_ALIKE = str.maketrans(
    "аеорсухіјѕһАВЕКМНОРСТУХІЈЅοανρυικΑΒΕΖΗΙΚΜΝΟΡΤΥΧ",
    "aeopcyxijshABEKMHOPCTYXIJSoavpuikABEZHIKMNOPTYX",
)
"""Cyrillic and Greek letters to the Latin ones they are mistaken for."""
