"""File names of people and styles made safe for folders and links of the site."""

from __future__ import annotations

import hashlib
import re
import unicodedata

LONGEST = 60
_RESERVED = frozenset(
    {"con", "prn", "aux", "nul"} | {f"{port}{n}" for port in ("com", "lpt") for n in range(10)}
)
"""Names that Windows keeps for devices (Microsoft, "Naming Files, Paths, and Namespaces")."""

PAGES_BESIDE = frozenset({"choices", "compare", "sizes", "new"})
"""Folders beside the clients' own, in a style's folder or among the clients': no client's may have the name."""


def slugify(text: str) -> str:
    """`text` as a name of a-z, 0-9 and single hyphens, never empty, at most 60 long, the same every time.

    Nothing is transliterated: a text with letters outside ASCII becomes "c" and a short hash, as in
    `c-1f3a9b`. Two texts can give one slug ("a b", "a-b"); whoever collects files checks for that.
    """
    text = unicodedata.normalize("NFC", text).strip()
    slug = re.sub(r"[^a-z0-9]+", "-", text.casefold()).strip("-") if text.isascii() else ""
    if not slug:
        return f"c-{_mark(text)}"
    if len(slug) > LONGEST:
        return f"{slug[: LONGEST - 7].rstrip('-')}-{_mark(text)}"
    return f"c-{slug}" if slug in _RESERVED | PAGES_BESIDE else slug


def _mark(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", errors="surrogatepass")).hexdigest()[:6]
