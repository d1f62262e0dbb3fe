"""The choices of a style as the script of a form takes them: what there is to choose, its range and its picture."""

from __future__ import annotations

from typing import Any

from catalogue.lengths import LengthError, parse_length
from catalogue.site.extremes import choice_picture_path, values_drawn
from catalogue.site.words import in_words
from catalogue.studio.style import Choice, Style


def option_data(style: Style) -> list[dict[str, Any]]:
    """One record a choice, short of what it does not have.

    `name`, `about`, `usual` (the default in words), `from` and `to` (in words), `low`, `high` and `at` (the ends
    and the default in mm, where all three are plain lengths), `words` (the options), `picture`
    (its path from the site's root).
    """
    return [{k: v for k, v in _record(style, c).items() if v not in ("", [], None)} for c in style.choices]


def _record(style: Style, choice: Choice) -> dict[str, Any]:
    ends = [plain_length(text) for text in (choice.lowest, choice.highest, choice.default)]
    low, high, at = ends if None not in ends and not choice.options else (None, None, None)
    return {
        "name": choice.name,
        "about": choice.about,
        "usual": in_words(choice.default),
        "from": in_words(choice.lowest),
        "to": in_words(choice.highest),
        "low": low,
        "high": high,
        "at": at,
        "words": list(choice.options),
        "picture": choice_picture_path(style.slug, choice) if values_drawn(choice) and style.ok else "",
    }


def plain_length(text: str) -> float | None:
    """The length in mm that a text gives by itself; None for a formula or a number."""
    try:
        return round(parse_length(text, None, negative=True), 2)
    except LengthError:
        return None
