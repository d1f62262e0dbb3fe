"""The pages of a style: what it is and whom it is drafted for, and its drafts laid over each other."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from catalogue.findings import Finding
from catalogue.people import Client, SizeTable
from catalogue.site.block_fittings import BlockFittings, block_fittings
from catalogue.site.extremes import choice_picture_path, values_drawn
from catalogue.site.home_pages import Card, card
from catalogue.site.markdown import plain
from catalogue.site.meanings import Meaning, meanings_of
from catalogue.site.measured import StyleState, needed
from catalogue.site.options import option_data
from catalogue.site.other_options import OtherOptions, other_options
from catalogue.site.overlay import EarlierDay, cut_words, earlier_days
from catalogue.site.page import Page, root_from
from catalogue.site.paths import compare_path, draft_path, options_path, style_path
from catalogue.site.records import Passage
from catalogue.site.story import Story
from catalogue.site.summaries import SizedSummary, SizedTable, from_plain
from catalogue.site.words import in_words
from catalogue.studio.alterations import known_alterations
from catalogue.studio.settings import Settings
from catalogue.studio.style import Choice, Style
from catalogue.workroom.kept_garments import KeptGarment


@dataclass(frozen=True, slots=True)
class PicturedChoice:
    """A choice with the picture of what it changes, drawn at each of `values`."""

    choice: Choice
    picture: str
    values: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NeededMeasurement:
    """A measurement that a style needs; `instead` names those that do as well, `lacking` the clients without it."""

    id: str
    name: str
    instead: tuple[str, ...]
    lacking: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SizedView:
    """A style in the sizes of a table, and what the table's file says besides."""

    made: SizedTable
    notes: str
    lang: str
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class BlockLink:
    """A style that another is cut from, or that is cut from it; `stated` are the choices that are settled for it."""

    title: str
    path: str
    stated: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class StylePage(Page):
    """The page of a style.

    Attributes:
        states: how it stands for each client it is meant for, by the client's name.
        compare: path of the page that lays its drafts over each other; "" where there are no two.
        intro: the prose before the drafting; `headings` are those of the steps and of what follows.
        blocks: what it is cut from; `cut` are the styles that are cut from it.
        options: the choices, for the script; `units` are those of the studio.
        meanings: of the states that are not simply ready.
        fitted: what was changed on it at fittings, over all clients; None where nothing was.
    """

    template: ClassVar = "style.html"
    here: ClassVar = "styles"
    style: Style
    card: Card
    states: Sequence[tuple[str, StyleState]]
    compare: str
    intro: Sequence[Passage]
    pictured: Sequence[PicturedChoice]
    needs: Sequence[NeededMeasurement]
    headings: Sequence[str]
    sized: Sequence[SizedView]
    blocks: Sequence[BlockLink]
    cut: Sequence[BlockLink]
    fitted: BlockFittings | None
    meanings: Sequence[Meaning]
    options: str
    units: str


@dataclass(frozen=True, slots=True)
class ComparedDraft:
    """A draft to lay over another: as it is, as the client was measured before, as it was cut (key and words), and
    with other options."""

    slug: str
    name: str
    path: str
    earlier: Sequence[EarlierDay]
    cut: Sequence[tuple[str, str]] = ()
    others: Sequence[OtherOptions] = ()
    options_path: str = ""


@dataclass(frozen=True, slots=True)
class ComparePage(Page):
    """Drafts of a style laid over each other."""

    template: ClassVar = "compare.html"
    here: ClassVar = "styles"
    style: Style
    drafts: Sequence[ComparedDraft]
    style_path: str


def style_page(
    style: Style,
    story: Story,
    states: Sequence[StyleState],
    clients: Sequence[Client],
    sized: Mapping[str, Any],
    tables: Sequence[SizeTable],
    styles: Sequence[Style] = (),
    settings: Settings | None = None,
) -> StylePage:
    """The page at styles/<style>/index.html.

    Args:
        states: how it stands for each of `clients`, those it is meant for.
        sized: plain values of its `SizedSummary`.
        tables: the studio's tables of sizes.
        styles: all that have pages.
        settings: of the studio, whose alterations the clients' fittings are understood by.
    """
    path = style_path(style.slug)
    root = root_from(path)
    return StylePage(
        path=path,
        style=style,
        card=card(style, states),
        states=[(c.name, s) for c, s in zip(clients, states, strict=True)],
        compare=compare_path(style.slug) if any(s.picture for s in states) else "",
        intro=[
            Passage(t.heading if n else "", story.html(t, {}, {}, root)) for n, t in enumerate(story.opening)
        ],
        pictured=[
            PicturedChoice(c, choice_picture_path(style.slug, c), tuple(in_words(v) for v in values_drawn(c)))
            for c in style.choices
            if values_drawn(c) and style.ok
        ],
        needs=_needs(style, clients),
        headings=list(dict.fromkeys(t.heading for t in (*story.steps, *story.closing) if t.heading)),
        sized=_sized(sized, tables, root),
        blocks=_blocks(style, {s.slug for s in styles}),
        cut=[
            BlockLink(s.title, style_path(s.slug))
            for s in styles
            if any(cut.slug == style.slug for cut in s.cut_from)
        ],
        fitted=_fitted(style, clients, settings),
        meanings=meanings_of(states),
        options=json.dumps(option_data(style), ensure_ascii=False, separators=(",", ":")),
        units=settings.units.primary.value if settings else "cm",
    )


def _fitted(style: Style, clients: Sequence[Client], settings: Settings | None) -> BlockFittings | None:
    if settings is None or not any(client.fittings for client in clients):
        return None
    return block_fittings(style, clients, known_alterations(settings.alterations), settings.units)


def _blocks(style: Style, pages: Collection[str]) -> list[BlockLink]:
    """What a style is cut from; without a path where it has no page."""
    return [
        BlockLink(
            style.blocks[cut.name].title,
            style_path(cut.slug) if cut.slug in pages else "",
            # What has the name of a choice of the style's own is said under its choices.
            tuple(
                (each.choice, words) for each in cut.stated if (words := in_words(each.text)) != each.choice
            ),
        )
        for cut in style.cut_from
        if cut.name in style.blocks
    ]


def compare_page(
    style: Style,
    states: Sequence[StyleState],
    clients: Sequence[Client],
    kept: Mapping[str, Sequence[KeptGarment]],
) -> ComparePage:
    """The page at styles/<style>/compare/index.html.

    Args:
        states: how it stands for each of `clients`.
        kept: garments as they were cut, by the client's slug.
    """
    drafts = [
        ComparedDraft(
            c.slug,
            c.name,
            draft_path(style.slug, c.slug),
            earlier_days(c, style),
            cut_words(kept.get(c.slug, ()), style.slug, c.units.dates),
            others := other_options(c, style),
            options_path(style.slug, c.slug) if others else "",
        )
        for c, state in zip(clients, states, strict=True)
        if state.picture
    ]
    return ComparePage(compare_path(style.slug), style, drafts, style_path(style.slug))


def _needs(style: Style, clients: Sequence[Client]) -> list[NeededMeasurement]:
    """The measurements a style uses, with those of which one is enough instead, and with who lacks them."""
    missing = {c.slug: style.missing_from(c.measurements) for c in clients}
    instead = {
        key: tuple(style.register.name_of(k) for k in group if k != key)
        for group in style.alternatives
        for key in group
    }
    return [
        NeededMeasurement(
            key,
            style.register.name_of(key),
            instead.get(key, ()),
            tuple(c.name for c in clients if key in missing[c.slug]),
        )
        for key in needed(style)
    ]


def _sized(sized: Mapping[str, Any], tables: Sequence[SizeTable], root: str) -> list[SizedView]:
    by_file = {table.file: table for table in tables}
    views = []
    for made in from_plain(sized, SizedSummary).tables:
        table = by_file[made.file]
        notes = plain(table.notes, root) if table.notes.strip() else ""
        views.append(SizedView(made, notes, table.lang, table.findings))
    return views
