"""The pages that write a client file: one for a new client, one that adds to the file of a client who is there.

The page's script puts the file's text together and judges each figure by the limits of a build, which stand beside its
field; without the script the pages are forms to print and fill in.
"""

from __future__ import annotations

import json
import math
from collections.abc import Container, Mapping, Sequence
from dataclasses import asdict, dataclass, fields
from pathlib import PurePosixPath
from typing import Any, ClassVar

from markupsafe import Markup

from catalogue.lengths import Units, show_length
from catalogue.people import Client, Measurement, Register
from catalogue.people.client import Measured
from catalogue.people.exchanged import EXCHANGES
from catalogue.people.measurements import BODIES
from catalogue.people.relations import RELATIONS, Ratio
from catalogue.site.body import body_definitions
from catalogue.site.measured import KINDS, group_of, last_measured, needed
from catalogue.site.measuring import Groups, MeasurementView, StyleLink, measurement_view
from catalogue.site.options import made_ranges, option_data
from catalogue.site.page import Page
from catalogue.site.paths import NEW_CLIENT, NEW_ORDER, adding_path, style_path
from catalogue.sorting import sort_key
from catalogue.studio.alterations import Alteration, known_alterations
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style
from catalogue.studio.suiting import suits

_NOTHING: Mapping[str, Sequence[str]] = {}


@dataclass(frozen=True, slots=True)
class AskedMeasurement(MeasurementView):
    """A measurement to be filled in.

    Attributes:
        limits: what is plausible for each body, mm, as the script reads it: lowest, low, high, highest.
        last: what was measured before, in the client's units; "" when nothing was.
    """

    limits: str = "{}"
    last: str = ""


@dataclass(frozen=True, slots=True)
class ChoiceField:
    """A choice of a style to be filled in.

    `now` is the client's own value, "" where the default holds; `option` is the choice as the script takes it. `own` is
    its range worked out for this client, lowest, highest and default; empty where it is the same for everyone.
    """

    name: str
    about: str
    default: str
    lowest: str
    highest: str
    options: tuple[str, ...]
    now: str
    option: str
    own: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class StyleChoices:
    """The choices that a style offers."""

    slug: str
    title: str
    choices: tuple[ChoiceField, ...]


@dataclass(frozen=True, slots=True)
class NewClientPage(Page):
    """The form for a new client.

    Attributes:
        units: "cm", "mm" or "in": what the studio measures in.
        taken: file names and names of the clients there are, for the script.
        relations: which measurements go together, for the script.
        exchanges: which two may have changed places, for the script.
    """

    template: ClassVar = "new-client.html"
    here: ClassVar = "clients"
    groups: Groups
    styles: Sequence[Style]
    kinds: Sequence[str]
    units: str
    taken: str
    relations: str
    exchanges: str
    body: Markup


@dataclass(frozen=True, slots=True)
class AddingPage(Page):
    """The form that adds to a client's file: figures of a new day, and choices.

    Attributes:
        file: the name of the client's file, without its folder.
        last: the day of the last measurements, in words; "" when there is none.
        changes: what can be changed at a fitting of each style, for the script.
    """

    template: ClassVar = "adding.html"
    here: ClassVar = "clients"
    client: Client
    file: str
    groups: Groups
    styles: Sequence[Style]
    choices: Sequence[StyleChoices]
    last: str
    relations: str
    body: Markup
    changes: str


@dataclass(frozen=True, slots=True)
class NewOrderPage(Page):
    """The form for an order: whose, which style, by when, of which cloths.

    Attributes:
        people: of each client the file's name, its digest and unit, and the client's own choices by style and choice
            where there are any, for the script, by slug.
        styles: by title, since the list has no headings for the kinds of garment.
        uses: the cloths that each style asks for ("main", "lining"), for the script, by slug.
        meant: slugs of the clients that each style is meant for, for the script, by slug.
        cloths: names of the studio's cloths.
        choices: what each style offers to choose, for the script, by slug; `units` are those of the studio.
    """

    template: ClassVar = "new-order.html"
    here: ClassVar = "clients"
    clients: Sequence[Client]
    styles: Sequence[Style]
    cloths: Sequence[str]
    people: str
    uses: str
    meant: str
    choices: str
    units: str
    relations: str = "[]"


def new_order_page(
    styles: Sequence[Style], clients: Sequence[Client], cloths: Sequence[str], units: str
) -> NewOrderPage:
    """The page at orders/new/index.html."""
    offered = sorted((s for s in styles if not s.is_block), key=lambda s: sort_key(s.title))
    slugs = frozenset(s.slug for s in offered)
    return NewOrderPage(
        NEW_ORDER,
        clients,
        offered,
        cloths,
        _data({c.slug: _person(c, slugs) for c in clients}),
        _data({s.slug: [use for use, _ in s.cloth] for s in offered}),
        _data({s.slug: [c.slug for c in clients if suits(s, c)] for s in offered}),
        _data({s.slug: option_data(s) for s in offered if s.choices}),
        units,
    )


def _person(client: Client, styles: Container[str]) -> list[Any]:
    own = {
        slug: {name.replace("_", " "): each.text for name, each in chosen.items()}
        for slug, chosen in client.choices.items()
        if slug in styles
    }
    about: list[Any] = [PurePosixPath(client.file).name, client.digest, client.units.primary.value]
    return [*about, own] if own else about


def new_client_page(styles: Sequence[Style], clients: Sequence[Client], settings: Settings) -> NewClientPage:
    """The page at clients/new/index.html."""
    taken = {"files": [PurePosixPath(c.file).name for c in clients], "names": [c.name for c in clients]}
    return NewClientPage(
        NEW_CLIENT,
        _groups(styles, settings.register, {}),
        [s for s in styles if not s.is_block],
        KINDS,
        settings.units.primary.value,
        _data(taken),
        _relations(),
        _data([asdict(each) for each in EXCHANGES]),
        body_definitions(),
    )


def adding_page(
    client: Client,
    styles: Sequence[Style],
    possible: Mapping[str, Sequence[str]] = _NOTHING,
    own: Sequence[Alteration] = (),
) -> AddingPage:
    """The page at clients/<client>/add/index.html.

    Args:
        possible: by style, slugs of the alterations that can be made on its draft.
        own: the studio's own alterations.
    """
    meant = [s for s in styles if is_offered(s, client)]
    return AddingPage(
        adding_path(client.slug),
        client,
        PurePosixPath(client.file).name,
        _groups(meant, client.register, client.measurements),
        meant,
        [_choices(s, client) for s in meant if s.choices],
        last_measured(client),
        _relations(),
        body_definitions(),
        _changes(client, {s.slug: possible.get(s.slug, ()) for s in meant}, known_alterations(own)),
    )


def _changes(client: Client, possible: Mapping[str, Sequence[str]], known: Mapping[str, Alteration]) -> str:
    """For the script: what can be changed on each garment, and each change's title, line and sign."""
    units = Units(client.units.primary)
    lines = {
        slug: [each.title, f"{each.names[0]} {show_length(sum(each.usual) / 2, units)}", each.sign]
        for slug, each in known.items()
        if any(slug in slugs for slugs in possible.values())
    }
    return _data(
        {"lines": lines, "of": {style: [s for s in slugs if s in lines] for style, slugs in possible.items()}}
    )


def is_offered(style: Style, client: Client) -> bool:
    """Whether the form that adds to a client's file offers a style: a block only to those who ordered it."""
    return suits(style, client) and (not style.is_block or style.slug in client.garments)


def _groups(
    styles: Sequence[Style], register: Register, before: Mapping[str, Measured]
) -> dict[str, list[AskedMeasurement]]:
    groups: dict[str, list[AskedMeasurement]] = {}
    for key, known in register.items():
        view = measurement_view(key, register)
        links = tuple(StyleLink(s.slug, s.title, style_path(s.slug)) for s in styles if key in needed(s))
        given = {each.name: getattr(view, each.name) for each in fields(view)} | {"styles": links}
        last = before[key].text if key in before else ""
        groups.setdefault(group_of(known), []).append(
            AskedMeasurement(**given, limits=_limits(known), last=last)
        )
    return groups


def _limits(known: Measurement) -> str:
    """What is plausible for each body, as the script reads it; a limit that is none is null."""
    found = {body: [_finite(v) for v in known.bounds[body]] for body in BODIES if body in known.bounds}
    return _data(found)


def _relations() -> str:
    """What goes together, as the script reads it."""
    return _data(
        [
            {"first": r.first, "second": r.second, "limits": [r.lowest, r.low, r.high, r.highest]}
            | {"why": r.why, "bodies": r.bodies}
            if isinstance(r, Ratio)
            else {"whole": r.whole, "parts": r.parts, "spare": _finite(r.spare), "limit": _finite(r.limit)}
            | {"why": r.why, "bodies": r.bodies}
            for r in RELATIONS
        ]
    )


def _choices(style: Style, client: Client) -> StyleChoices:
    chosen, made = client.choices.get(style.slug, {}), made_ranges(style, client)
    return StyleChoices(
        style.slug,
        style.title,
        tuple(
            ChoiceField(
                c.name,
                c.about,
                c.default,
                c.lowest,
                c.highest,
                c.options,
                chosen[c.name].text if c.name in chosen else "",
                _data(option),
                tuple(show_length(mm, client.units) for mm in made[c.name]) if c.name in made else (),
            )
            for c, option in zip(style.choices, option_data(style, made), strict=True)
        ),
    )


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _data(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))
