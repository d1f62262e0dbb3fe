"""What must hold whatever a studio's files are: nothing written elsewhere, nothing that runs, and all that is wrong
said with its place.
"""

from __future__ import annotations

import io
import json
import os
import re
import xml.parsers.expat
from dataclasses import dataclass
from html.parser import HTMLParser
from pathlib import Path
from typing import Any, Protocol
from urllib.parse import urlsplit

import pypdf
import pypdfium2

from catalogue.cli import main

HEAD = re.compile(r"(?P<file>.+?):(?P<line>\d+):(?P<column>\d+): (?P<kind>error|warning): (?P<words>\S.*)")
RESERVED = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)(\..*)?$", re.IGNORECASE)
SCHEMES = {"", "http", "https", "mailto", "tel"}
VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}


@dataclass(frozen=True)
class Run:
    """What a command said: its status, and everything it printed."""

    status: int
    printed: str

    def findings(self) -> list[re.Match[str]]:
        return [m for row in self.printed.split("\n") if (m := HEAD.fullmatch(row))]


def everything(folder: Path, but: Path) -> dict[str, bytes | str]:
    """All files and links below a folder and what they hold, without those in `but`; huge ones by their size."""
    seen: dict[str, bytes | str] = {}
    for base, below, files in os.walk(folder):
        below[:] = [b for b in below if Path(base) / b != but]
        for path in (Path(base) / name for name in (*below, *files)):
            if path.is_symlink():
                seen[str(path)] = str(path.readlink())
            elif path.is_file():
                size = path.stat().st_size
                seen[str(path)] = path.read_bytes() if size < 2_000_000 else str(size)
    return seen


class Printed(Protocol):
    """What a command has printed since it was last asked, as pytest's `capsys` gives it."""

    def readouterr(self) -> Any: ...


def run(studio: Path, output: Path, capsys: Printed, *, look_at_pages: bool = True) -> Run:
    """Build and check a studio, and look at everything that came of it. Returns what the build said.

    Args:
        look_at_pages: not, where the studio's own templates, which are trusted, make them what they are.
    """
    apart = studio.parent
    before = everything(apart, output)
    told = []
    for arguments in (["build", str(studio), "--out", str(output)], ["check", str(studio)]):
        status = main([*arguments, "--jobs", "1"])
        captured = capsys.readouterr()
        told.append(Run(status, captured.out + captured.err))
    assert everything(apart, output) == before, "something was written outside the output folder"
    for each in told:
        is_told_well(each, studio)
    build = told[0]
    # What can't be printed shows only when it is: warnings may be more.
    errors = [{m[0] for m in each.findings() if m["kind"] == "error"} for each in told]
    # A check draws nothing, and so may miss what a template does with a drawing.
    assert errors[0] == errors[1] or (not look_at_pages and errors[1] < errors[0]), "build and check disagree"
    if output.exists():
        is_sound(output, look_at_pages=look_at_pages)
    return build


def is_told_well(told: Run, studio: Path) -> None:
    """No traceback and no blame on the program; every mistake has a place that is there, and a sentence."""
    assert told.status in (0, 1), told.printed
    assert "Traceback" not in told.printed and "fault of this program" not in told.printed, told.printed
    unsafe = re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", told.printed)
    assert unsafe is None, told.printed
    rows = [row for row in told.printed.split("\n") if row and row[0] not in " \t"]
    heads = [HEAD.fullmatch(row) for row in rows]
    rest = [row for row, head in zip(rows, heads, strict=True) if head is None]
    # What a draft waits for is no mistake, and has no line in the file.
    rest = [row for row in rest if not re.fullmatch(r"clients/.+\.md: no .+, which is needed for .+", row)]
    assert len(rest) == 1 and re.fullmatch(r".*\d+ drafts?.*\(\d+\.\d s\)\.", rest[0]), told.printed
    lines: dict[Path, int] = {}
    for head in filter(None, heads):
        path = studio / head["file"]
        if path.is_file() and path.stat().st_size < 2_000_000:
            if path not in lines:
                lines[path] = len(re.split(r"\r\n|\r|\n", path.read_bytes().decode(errors="replace")))
            assert 1 <= int(head["line"]) <= lines[path] + 1, head[0]
        assert int(head["column"]) >= 1
        assert not re.search(r"\b(None|Exception|Error:|object at 0x|<class)\b", head["words"]), head[0]
    assert any(h["kind"] == "error" for h in filter(None, heads)) == (told.status == 1), told.printed


def is_sound(output: Path, *, look_at_pages: bool = True) -> None:
    """Every file of a catalogue has a plain name and can be read as what it is, and nothing in it runs."""
    seen = set()
    for path in output.rglob("*"):
        name = path.relative_to(output).as_posix()
        assert not path.is_symlink(), name
        assert name.casefold() not in seen, f"{name} is another's name where capitals don't count"
        seen.add(name.casefold())
        parts = name.split("/")
        if parts[0] != "pictures":
            assert all(re.fullmatch(r"\.?[A-Za-z0-9][A-Za-z0-9._-]{0,70}", part) for part in parts), name
            assert not any(RESERVED.match(part) or part.endswith(".") for part in parts), name
        if path.suffix == ".html" and not look_at_pages:
            continue
        if path.suffix in READERS and path.is_file():
            data = path.read_bytes()
            if (name, hash(data)) in _looked_at:
                continue
            try:
                READERS[path.suffix](data, name)
                _looked_at.add((name, hash(data)))
            except (AssertionError, ValueError, xml.parsers.expat.ExpatError, pypdfium2.PdfiumError) as error:
                raise AssertionError(f"{name}: {error}") from error


class _Page(HTMLParser):
    """Fails on what is not closed, or could run or fetch."""

    def __init__(self, text: str, root: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.root = root
        self.feed(text)
        self.close()
        assert self.open == [], f"left open: {self.open}"

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        given = dict(attributes)
        assert len(given) == len(attributes), f"an attribute stands twice in {tag}"
        assert not any(key.startswith("on") or key == "style" for key in given), (tag, given)
        assert tag not in ("iframe", "object", "embed", "base", "foreignobject", "frame"), tag
        if tag == "script":
            assert set(given) <= {"src", "defer"} and str(given["src"]).startswith(f"{self.root}assets/"), (
                given
            )
        for key in ("href", "src", "action", "xlink:href", "formaction"):
            # Browsers leave out blanks and control characters before they look for the scheme.
            link = re.sub(r"[\x00-\x20\x7f-\xa0]", "", given.get(key) or "")
            assert urlsplit(link).scheme.lower() in SCHEMES or link.startswith("data:image/"), link
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attributes)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        assert self.open and self.open.pop() == tag, f"{tag} closes nothing"


def _html(data: bytes, name: str) -> None:
    _Page(data.decode(), "../" * name.count("/"))


def _svg(data: bytes, name: str) -> None:
    def element(tag: str, attributes: dict[str, str]) -> None:
        assert tag.rpartition(":")[2].lower() not in (
            "script",
            "foreignobject",
            "iframe",
            "animate",
            "set",
        ), tag
        for key, value in attributes.items():
            assert not key.lower().startswith("on"), key
            if key.rpartition(":")[2].lower() == "href":
                assert value.startswith(("#", "data:image/")), value

    parser = xml.parsers.expat.ParserCreate()
    parser.StartElementHandler = element
    parser.Parse(data, True)


def _json(data: bytes, name: str) -> None:
    text = data.decode()
    json.loads(text.rsplit("\n", 2)[0] if name == ".catalogue.json" else text, parse_constant=_not_json)


def _not_json(constant: str) -> None:
    raise ValueError(f"{constant} is not JSON")


def _script(data: bytes, name: str) -> None:
    if name == "assets/search.js":
        text = data.decode("ascii")
        json.loads(text.removeprefix("window.catalogueData=").rstrip(";\n"))


LIVE = {"/JavaScript", "/JS", "/OpenAction", "/AA", "/Launch", "/URI", "/EmbeddedFiles", "/RichMedia", "/XFA"}


def _pdf(data: bytes, name: str) -> None:
    document = pypdfium2.PdfDocument(data)
    assert len(document) >= 1
    document.close()
    reader = pypdf.PdfReader(io.BytesIO(data))
    todo, seen = [reader.trailer], set()
    while todo:
        part = todo.pop()
        if isinstance(part, pypdf.generic.IndirectObject):
            if part.idnum not in seen:
                seen.add(part.idnum)
                todo.append(part.get_object())
        elif isinstance(part, dict):
            assert not LIVE & part.keys() and part.get("/S") not in LIVE, part
            todo += dict.values(part)
        elif isinstance(part, list):
            todo += list.__iter__(part)


_looked_at: set[tuple[str, int]] = set()
"""Files found good before: most of a catalogue is the same in every test."""

READERS = {".html": _html, ".svg": _svg, ".json": _json, ".js": _script, ".pdf": _pdf}
