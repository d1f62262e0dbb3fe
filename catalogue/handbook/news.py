"""What is new in each version, from `what-is-new.md`."""

from __future__ import annotations

import re
from pathlib import Path
from typing import NamedTuple

_FILE = Path(__file__).with_name("what-is-new.md")
_VERSION = re.compile(r"^## (.+)$", re.MULTILINE)


class Version(NamedTuple):
    """A version's name as written ("0.1.0") and what it brings, as Markdown."""

    name: str
    text: str


def versions() -> tuple[Version, ...]:
    """Every version, the newest first, as in the file: each begins with a heading of two signs ("## 0.1.0")."""
    _, *parts = _VERSION.split(_FILE.read_text(encoding="utf-8"))
    return tuple(
        Version(name.strip(), text.strip()) for name, text in zip(parts[::2], parts[1::2], strict=True)
    )
