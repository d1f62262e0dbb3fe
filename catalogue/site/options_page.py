"""The page that compares a client's draft with the same under other options: drawn, laid over, and in figures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

from catalogue.drafting import Draft
from catalogue.findings import Finding
from catalogue.people import Client
from catalogue.site.differences import (
    LaidOver,
    Row,
    cloth_apart,
    finished_apart,
    options_apart,
    pieces_apart,
)
from catalogue.site.extremes import Variant, side_by_side
from catalogue.site.forms import is_offered
from catalogue.site.other_options import OtherOptions
from catalogue.site.page import Page
from catalogue.site.paths import adding_path, compare_path, draft_path, options_path, style_path
from catalogue.studio.style import Style

AS_CHOSEN = "as chosen now"
_LONGEST = 24  # letters under a drawing


@dataclass(frozen=True, slots=True)
class ComparedOptions:
    """A draft with other options beside the client's own.

    Attributes:
        words: what the options are called; `key` is the anchor.
        options, figures: what was chosen otherwise; cloth to buy and finished measurements.
        picture: name of the drawing of both beside each other; "" where nothing was drafted.
        pieces: those that differ, over each other; `same` are the titles of the others.
        findings: what is wrong with the draft that is not wrong with the client's own.
        over: path of the page where any two can be laid over each other, with these chosen.
    """

    key: str
    words: str
    options: Sequence[Row]
    figures: Sequence[Row]
    picture: str
    pieces: Sequence[LaidOver]
    same: Sequence[str]
    findings: Sequence[Finding]
    over: str


@dataclass(frozen=True, slots=True)
class OptionsPage(Page):
    """A client's draft compared with the same under other options."""

    template: ClassVar = "options.html"
    here: ClassVar = "styles"
    style: Style
    client: Client
    style_path: str
    draft_path: str
    adding_path: str
    compared: Sequence[ComparedOptions]
    drafted: bool


def options_page(
    style: Style,
    client: Client,
    draft: Draft,
    others: Sequence[tuple[OtherOptions, Draft, Sequence[Finding]]],
) -> OptionsPage:
    """The page at styles/<style>/compare/<client>/index.html.

    Args:
        draft: with the options that the client has.
        others: the drafts with other options, each with what is wrong with it alone.
    """
    return OptionsPage(
        options_path(style.slug, client.slug),
        style,
        client,
        style_path(style.slug),
        draft_path(style.slug, client.slug),
        adding_path(client.slug) if is_offered(style, client) else "",
        [_compared(draft, *other) for other in others],
        bool(draft.pieces),
    )


def options_pictures(draft: Draft, others: Sequence[tuple[OtherOptions, Draft]]) -> Mapping[str, str]:
    """The drawings beside the page, by name: the garment, or what differs of its pieces, with both sets of options."""
    return {
        picture_name(other): side_by_side(
            f"{draft.style.title} {AS_CHOSEN} and {other.words}",
            [Variant(AS_CHOSEN, draft), Variant(_short(other.words), drafted)],
        )
        for other, drafted in others
        if draft.pieces and drafted.pieces
    }


def picture_name(other: OtherOptions) -> str:
    """Name of the drawing beside the page."""
    return f"{other.key}.svg"


def _compared(
    draft: Draft, other: OtherOptions, drafted: Draft, findings: Sequence[Finding]
) -> ComparedOptions:
    both = bool(draft.pieces and drafted.pieces)
    pieces, same = pieces_apart(draft, drafted) if both else ([], [])
    client, style = draft.client.slug, draft.style.slug
    return ComparedOptions(
        other.key,
        other.words,
        options_apart(draft, drafted) if both else (),
        [*cloth_apart(draft, drafted), *finished_apart(draft, drafted)] if both else (),
        picture_name(other) if both else "",
        pieces,
        same,
        findings,
        f"{compare_path(style)}#{client}+{client}@{other.key}" if both else "",
    )


def _short(words: str) -> str:
    return words if len(words) <= _LONGEST else f"{words[: _LONGEST - 1]}…"
