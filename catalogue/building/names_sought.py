"""Names of other clients sought in a copy for one: prose of a style may speak of the person it was made for."""

from __future__ import annotations

import html
import re
from collections.abc import Container, Iterable, Iterator, Sequence
from pathlib import Path

from catalogue.building.studio import STYLES, Files
from catalogue.findings import Finding, Place, Severity
from catalogue.language.lines import without_comments
from catalogue.slugs import slugify

_TEXTS = (".html", ".svg", ".json", ".js", ".css")
"""Ends of the names of published files that are searched; a print holds no words that its page has not."""
_OWN = ("handbook/",)
"""Where the program speaks for itself: the names in its examples are nobody's."""
_SOURCES = (".md", ".html", ".toml", ".css", ".js", ".svg")
_WORD = re.compile(r"\w+")
MOST = 20
"""Places that are named."""


def names_in(output: Path, ours: Iterable[str], files: Files, names: Sequence[str]) -> tuple[Finding, ...]:
    """Warnings where a file of a copy holds one of the names: with the line of the studio's file it comes from.

    Args:
        output: the copy's folder, `ours` the paths of its files.
        files: the studio's, without those of other clients.
        names: of the other clients.
    """
    sought = [name for name in names if _WORD.search(name)]
    ours = sorted(ours)
    published: list[tuple[str, str]] = []
    for path in ours:
        if path.endswith(_TEXTS) and not path.startswith(_OWN):
            text = _text(output / path)
            published += [(name, path) for name in _names_in(text, sought)]
    styles = {path.split("/")[1] for path in ours if path.startswith(f"{STYLES}/")}
    found: list[Finding] = []
    for name in dict.fromkeys(name for name, _ in published):
        places: list[tuple[Place | None, str]] = [*_places(files, name, styles)] or [(None, "")]
        pages = [path for other, path in published if other == name]
        where = f"“{pages[0]}”" + (f" and {len(pages) - 1} more" if pages[1:] else "")
        message = f"the copy holds the name of another client, “{name}”, in {where}"
        hint = "Take the name out, or reserve the style for them: reserved for: and the name."
        for place, source in places:
            found.append(Finding("name-of-another", message, place, hint, Severity.WARNING, source))
    return tuple(found[:MOST])


def _text(path: Path) -> str:
    try:
        return html.unescape(path.read_text("utf-8", "replace"))
    except OSError:
        return ""


def _names_in(text: str, names: Iterable[str]) -> list[str]:
    words = set(_WORD.findall(text.casefold()))
    likely = (name for name in names if words.issuperset(_WORD.findall(name.casefold())))
    return [name for name in likely if _pattern(name).search(text)]


def _pattern(name: str) -> re.Pattern[str]:
    words = r"\s+".join(map(re.escape, name.split()))
    return re.compile(rf"(?<!\w){words}(?!\w)", re.IGNORECASE)


def _places(files: Files, name: str, styles: Container[str]) -> Iterator[tuple[Place, str]]:
    """Where the studio's files that a copy comes from hold a name; of style files, those of the copy's `styles`."""
    pattern = _pattern(name)
    for path in files.digests:
        left_out = (
            path.startswith(f"{STYLES}/") and path.endswith(".md") and slugify(Path(path).stem) not in styles
        )
        if left_out or not path.endswith(_SOURCES):
            continue
        text = _text(files.root / path)
        if not pattern.search(text):
            continue
        for number, row in enumerate(_published_rows(path, text), 1):
            if match := pattern.search(row):
                yield Place(path, number, match.start() + 1), row[:200]


def _published_rows(path: str, text: str) -> Iterator[str]:
    """The rows of a file; of a style file without what no page shows: comments, and whom it is reserved for."""
    drafted = False
    for row in text.split("\n"):
        if not (path.startswith(f"{STYLES}/") and path.endswith(".md")):
            yield row
            continue
        fence = row.strip()
        if fence.startswith("```"):
            drafted = fence.removeprefix("```").strip() == "draft"
        yield "" if row.startswith("reserved for:") else without_comments(row) if drafted else row
