"""What a print was drafted from, on its first page: warnings that stand, measurements with their day, options."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from catalogue.drawing.canvas import Canvas
from catalogue.geometry import Point
from catalogue.language.wording import in_words
from catalogue.people.used import used_by_day
from catalogue.sheets.shaping import width
from catalogue.sheets.wrapping import wrap

if TYPE_CHECKING:
    from catalogue.drafting.model import Draft

Basis = tuple[tuple[str, str], ...]
"""Paragraphs, each with the words that it begins with."""

_LARGEST, _SMALLEST = 2.8, 1.9
_LINE = 1.32
_HEADING = 8.0
MORE = " … More is on the page of this draft."


def basis_of(draft: Draft, warnings: Sequence[str], day_words: dict[object, str]) -> Basis:
    """What the first page says of a draft; `day_words` are the days of its measurements in words."""
    paragraphs = [("Warning:", _sentence(words)) for words in dict.fromkeys(warnings)]
    for day, values in used_by_day(draft.client, frozenset(draft.style.uses)):
        told = "; ".join(f"{name} {shown}" for name, shown in values)
        head = f"Measurements of {day_words[day]}:" if day else "Measurements without a date:"
        paragraphs.append((head, _sentence(told)))
    if draft.choices:
        told = "; ".join(f"{in_words(name)} {shown}" for name, shown in draft.choices.items())
        paragraphs.append(("Options:", _sentence(told)))
    return tuple(paragraphs)


def _sentence(words: str) -> str:
    return words if words.endswith((".", "?", "!")) else f"{words}."


def basis_height(basis: Basis, room: float, most: float) -> float:
    """How high it is in a column of `room` mm; at most `most`."""
    return _set(basis, room, most)[2] if basis else 0.0


def draw_basis(canvas: Canvas, at: Point, basis: Basis, room: float, most: float) -> None:
    """Draw it from `at` down; where it does not fit even when it is small, it says where the rest is."""
    if not basis:
        return
    size, paragraphs, _ = _set(basis, room, most)
    canvas.open_group("drafted from", kind="facts", title="What it was drafted from")
    x, y = at
    canvas.text(Point(x, y + 4), "Drafted from", 4.4, kind="strong")
    y += _HEADING + 0.3 * size
    for head, lines in paragraphs:
        for number, line in enumerate(lines):
            begins = number == 0 and line.startswith(head)
            if begins:
                canvas.text(Point(x, y), head, size, kind="strong")
            rest = line.removeprefix(head).lstrip() if begins else line
            left = width(f"{head} ", size, bold=True) if begins else 0.0
            if rest:
                canvas.text(Point(x + left, y), rest, size)
            y += _LINE * size
        y += 0.3 * size
    canvas.close_group()


@lru_cache(maxsize=16)
def _set(basis: Basis, room: float, most: float) -> tuple[float, list[tuple[str, list[str]]], float]:
    """The size of the letters, the paragraphs in lines, and the height of it all."""
    size = _LARGEST
    while True:
        # Bold words at the beginning of a paragraph are a little wider.
        paragraphs = [(head, wrap(f"{head} {words}", size, 0.96 * room)) for head, words in basis]
        high = _height(paragraphs, size)
        if high <= most or size <= _SMALLEST:
            break
        size -= 0.1
    while high > most and any(lines for _, lines in paragraphs):
        head, lines = paragraphs[-1]
        paragraphs[-1:] = [(head, lines[:-1])] if len(lines) > 1 else []
        shown = [*paragraphs, ("", wrap(MORE.strip(), size, room))]
        if (high := _height(shown, size)) <= most:
            paragraphs = shown
            break
    return size, paragraphs, high


def _height(paragraphs: list[tuple[str, list[str]]], size: float) -> float:
    return _HEADING + sum(len(lines) * _LINE * size + 0.3 * size for _, lines in paragraphs) + 2.0
