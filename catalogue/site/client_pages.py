"""The pages of a client: what is drafted and measured, and a card of the measurements to print."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar, NamedTuple

from catalogue.days import day_words
from catalogue.people import Client
from catalogue.site.kept_pages import CutGarment, cut_garments
from catalogue.site.meanings import Meaning, meanings_of
from catalogue.site.measured import History, StyleState, chosen_since, history, last_measured, weight
from catalogue.site.other_options import other_options
from catalogue.site.overlay import UNFITTED, earlier
from catalogue.site.page import Page, fitting_notes, root_from
from catalogue.site.paths import card_path, client_path, compare_path, draft_path, options_path, ordered_path
from catalogue.studio.style import Style
from catalogue.workroom.kept_garments import KeptGarment
from catalogue.workroom.own_drafts import has_own_draft


@dataclass(frozen=True, slots=True)
class StyleForClient:
    """A style meant for the client; `before` leads to the comparison with the draft of the day before, if any.

    `options` leads to that with the same under other options, if any.
    """

    title: str
    state: StyleState
    ordered: bool
    before: str
    options: str = ""


class OrderLine(NamedTuple):
    """An open order on the client's page.

    Attributes:
        called: as it is named; `path` leads to it in the workroom, "" in a copy.
        due: in words, "" when no day is set.
        options: those of its own; `own` says whether it has a draft of its own, and `pattern` leads to its draft.
    """

    called: str
    path: str
    style: str
    due: str
    options: Sequence[tuple[str, str]]
    own: bool
    pattern: str


@dataclass(frozen=True, slots=True)
class ClientPage(Page):
    """The page of a client; `choices` are the client's own, by the title of the style; `cut` is what was kept.

    `orders` are the open ones, what is due first first. `meanings` are those of the states that are not simply ready.
    """

    template: ClassVar = "client.html"
    here: ClassVar = "clients"
    client: Client
    history: History
    measured: str
    weight: str
    drafted: Sequence[StyleForClient]
    orders: Sequence[OrderLine]
    choices: Sequence[tuple[str, Mapping[str, tuple[str, str]]]]
    notes: str
    cut: Sequence[CutGarment]
    meanings: Sequence[Meaning]


@dataclass(frozen=True, slots=True)
class CardPage(Page):
    """A client's measurements as a card to print."""

    template: ClassVar = "card.html"
    here: ClassVar = "clients"
    client: Client
    history: History
    measured: str


def client_page(
    client: Client,
    styles: Sequence[Style],
    states: Mapping[str, StyleState],
    kept: Sequence[KeptGarment] = (),
) -> ClientPage:
    """The page at clients/<client>/index.html; `states` has the styles meant for the client, by slug."""
    path = client_path(client.slug)
    titles = {s.slug: s.title for s in styles}
    drafted = [
        StyleForClient(
            s.title,
            states[s.slug],
            s.slug in client.garments,
            _before(states[s.slug], s, client),
            options_path(s.slug, client.slug) if states[s.slug].picture and other_options(client, s) else "",
        )
        for s in styles
        if s.slug in states
    ]
    return ClientPage(
        path=path,
        client=client,
        history=history(client),
        measured=last_measured(client),
        weight=weight(client),
        drafted=sorted(drafted, key=lambda d: (not d.ordered, not d.state.can_be_made)),
        orders=_orders(client, styles),
        choices=[
            (
                titles.get(slug, slug),
                {
                    name: (choice.text, chosen_since(choice, client.units.dates))
                    for name, choice in chosen.items()
                },
            )
            for slug, chosen in client.choices.items()
        ],
        notes=fitting_notes(client, root_from(path)),
        cut=cut_garments(
            client.slug,
            kept,
            {slug for slug, state in states.items() if state.picture},
            titles.keys(),
            client.units.dates,
        ),
        meanings=meanings_of(d.state for d in drafted),
    )


def card_page(client: Client) -> CardPage:
    """The page at clients/<client>/card/index.html."""
    return CardPage(card_path(client.slug), client, history(client), last_measured(client))


def _orders(client: Client, styles: Sequence[Style]) -> list[OrderLine]:
    by_slug = {style.slug: style for style in styles}
    found = []
    for order in sorted(client.orders, key=lambda o: o.due or datetime.date.max):
        style = by_slug.get(order.style)
        if style is None or not order.is_open:
            continue
        own = has_own_draft(client, order, style)
        found.append(
            OrderLine(
                order.name or "As ordered",
                "" if client.is_copy else f"workroom/{client.slug}/index.html#{order.slug}",
                style.title,
                day_words(order.due, client.units.dates) if order.due else "",
                [(name, chosen.text) for name, chosen in order.choices.items()],
                own,
                ordered_path(client.slug, order.slug) if own else draft_path(style.slug, client.slug),
            )
        )
    return found


def _before(state: StyleState, style: Style, client: Client) -> str:
    """Link to the comparison of a draft with the one from the measurements before; "" where there is none."""
    then = [e for e in earlier(client, style) if e.key != UNFITTED] if state.picture else []
    return f"{compare_path(style.slug)}#{client.slug}@{then[0].key}+{client.slug}" if then else ""
