"""Which of many pages to look at closely: a few that between them have everything the others are built of."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

_TAG = re.compile(r'<(/?)([a-zA-Z][\w-]*)((?:[^>"]|"[^"]*")*)>')
_UNREAD = re.compile(r"<!--.*?-->|(<(script|style)\b[^>]*>).*?(</\2>)", re.DOTALL)
_ATTRIBUTE = re.compile(r'([\w:-]+)(?:="[^"]*")?')
_VOID = frozenset(
    ["area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"]
)


def parts(page: str) -> set[tuple[str, object]]:
    """What a page is built of: each kind of element inside each other kind, and with which attributes it stands.

    A kind is a tag with its classes. What the elements say, and how often they come, counts for nothing.
    """
    found: set[tuple[str, object]] = set()
    inside = [""]
    for end, tag, attributes in _TAG.findall(_UNREAD.sub(r"\1\3", page)):
        if end:
            if len(inside) > 1:
                inside.pop()
            continue
        classes = re.search(r'\bclass="([^"]*)"', attributes)
        kind = f"{tag}.{classes[1]}" if classes else tag
        found.add((inside[-1], kind))
        found.add((kind, tuple(sorted(set(_ATTRIBUTE.findall(attributes))))))
        if tag not in _VOID and not attributes.endswith("/"):
            inside.append(kind)
    return found


def representative(pages: Iterable[Path]) -> list[Path]:
    """Few of these pages that between them have all the parts that any of them has, those with most first."""
    built_of = {page: parts(page.read_text(encoding="utf-8")) for page in pages}
    wanted = set().union(*built_of.values())
    chosen = []
    while wanted:
        best = max(built_of, key=lambda page: len(built_of[page] & wanted))
        chosen.append(best)
        wanted -= built_of.pop(best)
    return chosen
