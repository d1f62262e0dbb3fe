"""Words broken into lines."""

from __future__ import annotations

from catalogue.sheets.shaping import width


def wrap(words: str, size: float, room: float) -> list[str]:
    """Lines of at most `room` mm."""
    lines: list[str] = []
    line = ""
    for word in words.split():
        longer = f"{line} {word}" if line else word
        if line and width(longer, size) > room:
            lines.append(line)
            line = word
        else:
            line = longer
    return [*lines, line] if line else lines
