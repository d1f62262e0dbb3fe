"""The choices of a style as the script of a form takes them: what there is to choose, its range and its picture."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from catalogue.drafting.choosing import LengthRange, length_ranges
from catalogue.drafting.steps import desk_for
from catalogue.lengths import LengthError, parse_length
from catalogue.people import Client
from catalogue.site.extremes import choice_picture_path, values_drawn
from catalogue.site.neutral import standard_person
from catalogue.site.words import in_words
from catalogue.studio.style import Choice, Style


def option_data(style: Style, made: Mapping[str, LengthRange] | None = None) -> list[dict[str, Any]]:
    """One record a choice, short of what it does not have.

    `name`, `about`, `usual` (the default in words), `from` and `to` (in words), `low`, `high` and `at` (the ends
    and the default in mm), `words` (the options), `picture` (its path from the site's root). `made` is 1 where the ends
    or the default are worked out of measurements.

    Args:
        made: the ranges that are worked out, for a client; those of a standard size when None.
    """
    worked_out = made_ranges(style, standard_person(style)) if made is None else made
    return [
        {k: v for k, v in _record(style, c, worked_out.get(c.name)).items() if v not in ("", [], None)}
        for c in style.choices
    ]


def made_ranges(style: Style, client: Client) -> dict[str, LengthRange]:
    """For a client, the range of each choice that is worked out of measurements, where these are there."""
    wanted = [c.name for c in style.choices if c.lowest and not c.options and None in _plain_range(c)]
    if not wanted or not style.ok:
        return {}
    found = length_ranges(style, client, desk_for(style, client))
    return {name: found[name] for name in wanted if name in found}


def _record(style: Style, choice: Choice, worked_out: LengthRange | None) -> dict[str, Any]:
    ends = _plain_range(choice)
    low, high, at = ends if None not in ends and not choice.options else (None, None, None)
    if worked_out is not None:
        low, high, at = (round(mm, 1) for mm in worked_out)
    return {
        "name": choice.name,
        "about": choice.about,
        "usual": in_words(choice.default),
        "from": in_words(choice.lowest),
        "to": in_words(choice.highest),
        "low": low,
        "high": high,
        "at": at,
        "made": 1 if worked_out is not None else None,
        "words": list(choice.options),
        "picture": choice_picture_path(style.slug, choice) if values_drawn(choice) and style.ok else "",
    }


def _plain_range(choice: Choice) -> list[float | None]:
    return [plain_length(text) for text in (choice.lowest, choice.highest, choice.default)]


def plain_length(text: str) -> float | None:
    """The length in mm that a text gives by itself; None for a formula or a number."""
    try:
        return round(parse_length(text, None, negative=True), 2)
    except LengthError:
        return None
