"""Front matter with colons left out, read all the same: each such line is told, and so is what is wrong below it."""

from __future__ import annotations

import re
from dataclasses import replace

from catalogue.days import WRITTEN
from catalogue.findings import Finding, Place, Trouble
from catalogue.frontmatter import Front, split

MOST = 20
"""Lines that are mended in one file; one with more of them is of another kind."""

_DAY = re.compile(rf"(?P<indent>\s*)(?P<name>{WRITTEN})\s*")
_FIGURE = re.compile(r"(?P<indent>\s*)(?P<name>[^\W\d_][^\d:#]*?)\s+(?P<value>[\d½¼¾⅛⅜⅝⅞].*)")
_WORDS = re.compile(r"(?P<indent>\s*)(?P<name>name|for|units|language|garments|note)\s+(?P<value>\S.*)")
_ALONE = re.compile(r"(?P<indent>\s*)(?P<name>[^\W\d_][\w .'’-]*?)\s*")
_UNMENDED = frozenset({"no-front-matter", "empty-file", "too-large"})


def split_mended(text: str, file: str, keys: tuple[str, ...] = ()) -> tuple[Front, tuple[Finding, ...]]:
    """A file taken apart as by `split`, and what was wrong with lines that were read as they were meant.

    Args:
        keys: names in the front matter; where they are given, only a line that begins with one of them is mended.

    Raises Trouble when something else is wrong with the front matter.
    """
    rows = text.removeprefix("\ufeff").split("\n")
    as_written = tuple(rows)
    findings: list[Finding] = []
    mended: set[int] = set()
    while True:
        try:
            front = split("\n".join(rows), file)
        except Trouble as trouble:
            first = trouble.findings[0]
            at = _at_fault(rows, first.place) if first.code not in _UNMENDED and first.place else None
            if at is not None and keys and not re.match(rf"({'|'.join(keys)})\s", rows[at]):
                at = None
            if at is None or at in mended or len(mended) == MOST:
                raise Trouble(*findings, *trouble.findings) from None
            mended.add(at)
            rows[at], finding = _with_colon(rows, at, file, keys)
            findings.append(finding)
        else:
            return replace(front, lines=as_written), tuple(findings)


def _at_fault(rows: list[str], place: Place) -> int | None:
    """The nearest row, at a place or above it, that has no colon and ought to have one."""
    for at in range(min(place.line, len(rows)) - 1, 0, -1):
        row = rows[at].strip()
        if row.startswith("---"):
            return None
        if row and ":" not in row and not row.startswith(("#", "-", "[", '"', "'")):
            return at
    return None


def _with_colon(rows: list[str], at: int, file: str, keys: tuple[str, ...]) -> tuple[str, Finding]:
    """The row as it was probably meant, or none where that can't be told, and what to say of it."""
    row = rows[at]
    known = re.compile(rf"(?P<indent>)(?P<name>{'|'.join(keys)})\s+(?P<value>\S.*)") if keys else _WORDS
    found = next((m for p in (known, _DAY, _FIGURE) if (m := p.fullmatch(row))), None)
    if found is None and _is_above_a_group(rows, at):
        found = _ALONE.fullmatch(row)
    place = Place(file, at + 1, len(row) - len(row.lstrip()) + 1)
    if found is None:
        message = "there is a name without a colon here"
        return "", Finding(
            "yaml", message, place, "Write name: value, with a space after the colon.", source=row[:200]
        )
    value = found.groupdict().get("value") or ""
    meant = f"{found['indent']}{found['name']}:{' ' if value else ''}{value}"
    message = f"there is no colon after “{found['name']}”"
    return meant, Finding("no-colon", message, place, source=row[:200], instead=meant.strip())


def _is_above_a_group(rows: list[str], at: int) -> bool:
    below = next((row for row in rows[at + 1 :] if row.strip()), "")
    return _indent(below) > _indent(rows[at]) and not below.strip().startswith("---")


def _indent(row: str) -> int:
    return len(row) - len(row.lstrip())
