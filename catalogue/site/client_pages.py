"""The pages of a client: what is drafted and measured, and a card of the measurements to print."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

from catalogue.people import Client
from catalogue.site.kept_pages import CutGarment, cut_garments
from catalogue.site.meanings import Meaning, meanings_of
from catalogue.site.measured import History, StyleState, chosen_since, history, last_measured, weight
from catalogue.site.other_options import other_options
from catalogue.site.overlay import UNFITTED, earlier
from catalogue.site.page import Page, fitting_notes, root_from
from catalogue.site.paths import card_path, client_path, compare_path, options_path
from catalogue.studio.style import Style
from catalogue.workroom.kept_garments import KeptGarment


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


@dataclass(frozen=True, slots=True)
class ClientPage(Page):
    """The page of a client; `choices` are the client's own, by the title of the style; `cut` is what was kept.

    `meanings` are those of the states that are not simply ready.
    """

    template: ClassVar = "client.html"
    here: ClassVar = "clients"
    client: Client
    history: History
    measured: str
    weight: str
    drafted: Sequence[StyleForClient]
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


def _before(state: StyleState, style: Style, client: Client) -> str:
    """Link to the comparison of a draft with the one from the measurements before; "" where there is none."""
    then = [e for e in earlier(client, style) if e.key != UNFITTED] if state.picture else []
    return f"{compare_path(style.slug)}#{client.slug}@{then[0].key}+{client.slug}" if then else ""
