"""Garments kept as they were cut, as the client's page lists them, and the files copied beside that page."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from pathlib import Path

from catalogue.days import day_words
from catalogue.site.paths import compare_path, kept_path, style_path
from catalogue.workroom.kept_garments import SHEET, KeptGarment

SHEET_SHOWN = "as-cut.txt"
"""The sheet under a name that every browser shows as text."""


@dataclass(frozen=True, slots=True)
class CutGarment:
    """A kept garment in a list: paths below the site, "" where there is none; `prints` are links with their words."""

    day: str
    title: str
    style: str
    order: str
    cloth: tuple[str, ...]
    prints: tuple[tuple[str, str], ...]
    sheet: str
    figures: str
    compare: str


def cut_garments(
    client: str,
    kept: Sequence[KeptGarment],
    compared: Collection[str],
    styles: Collection[str],
    dates: str = "",
) -> list[CutGarment]:
    """What was cut for a client (a slug), newest first.

    Args:
        compared: slugs of the styles whose page of comparison shows this client's draft.
        styles: slugs of those that have pages.
        dates: what comes first of a date, as in `Units`.
    """
    return [_cut(client, each, compared, styles, dates) for each in kept]


def _cut(
    client: str, each: KeptGarment, compared: Collection[str], styles: Collection[str], dates: str
) -> CutGarment:
    told = each.told
    shown = {name: kept_path(client, each.key, _shown(name)) for name in each.files}
    return CutGarment(
        day=day_words(told.date, dates),
        title=told.title,
        style=style_path(told.style) if told.style in styles else "",
        order=told.order,
        cloth=tuple(told.cloth),
        prints=tuple((shown[name], _paper(name)) for name in each.prints),
        sheet=shown.get(SHEET, ""),
        figures=shown.get("draft.json", ""),
        compare=f"{compare_path(told.style)}#{client}@{each.key}+{client}" if told.style in compared else "",
    )


def kept_copies(client: str, root: Path, kept: Sequence[KeptGarment]) -> dict[str, bytes]:
    """The files of kept garments by their paths in the site."""
    return {
        kept_path(client, each.key, _shown(name)): (root / each.folder / name).read_bytes()
        for each in kept
        for name in each.files
    }


def _shown(name: str) -> str:
    return SHEET_SHOWN if name == SHEET else name


def _paper(name: str) -> str:
    return name.removesuffix(".pdf").removeprefix("draft-").replace("-", " ").upper()
