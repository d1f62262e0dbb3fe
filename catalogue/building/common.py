"""What the units of one studio have in common, worked out once: the page-maker, pictures, what a draft is made from."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from catalogue.building import fingerprint
from catalogue.building.pictures import Pictures, look_through, without_left_out
from catalogue.building.studio import TEMPLATE, Studio, kept_for
from catalogue.building.unit import Product
from catalogue.findings import Finding
from catalogue.sorting import in_order

if TYPE_CHECKING:
    from catalogue.drafting import Draft, Extent
    from catalogue.people import Client
    from catalogue.people.client import Chosen, Order
    from catalogue.site.overlay import Held
    from catalogue.site.pages import Site
    from catalogue.studio.settings import Settings
    from catalogue.studio.style import Style
    from catalogue.workroom.kept_garments import KeptGarment

Figures = tuple[str, list[tuple[str, str]]]
"""A day, and the measurements taken on it: the key of each, and it with its value as one text."""


class Common:
    """A studio that was read, and what is needed of it for more than one unit."""

    def __init__(self, studio: Studio) -> None:
        self.studio = studio
        self._needed: dict[str, frozenset[str]] = {}
        self._clients: dict[str, tuple[str, str]] = {}
        self._figures: dict[str, list[Figures]] = {}
        self._held: dict[str, Held] = {}
        self._kept: dict[str, list[tuple[str, str]]] | None = None
        self._kept_garments: dict[str, tuple[tuple[KeptGarment, ...], tuple[Finding, ...]]] = {}

    def __reduce__(self) -> tuple[type[Common], tuple[Studio]]:
        # A process that is started afresh makes ready for itself what it needs.
        return Common, (self.studio,)

    @cached_property
    def shared_settings(self) -> Settings:
        """The settings as all units come from them."""
        from catalogue.people import REGISTER
        from catalogue.studio.prices import Prices

        # What is charged shows in the workroom alone.
        # Measurements of the studio's own are shared by those who use them alone: see `own`.
        return replace(self.studio.settings, register=REGISTER, prices=Prices())

    @cached_property
    def _own(self) -> dict[str, str]:
        own = self.studio.settings.register.own
        return {measurement.key: fingerprint.of(measurement) for measurement in own}

    def own(self, keys: Collection[str] | None = None) -> list[str]:
        """Fingerprints of the studio's own measurements as it describes them; only those among `keys` when given."""
        return [told for key, told in self._own.items() if keys is None or key in keys]

    @cached_property
    def suited(self) -> list[tuple[str, str]]:
        """Slugs of every style with each client that it suits."""
        from catalogue.studio.suiting import suits

        return [(s.slug, c.slug) for s in self.studio.styles for c in self.studio.clients if suits(s, c)]

    def needed(self, style: Style) -> frozenset[str]:
        """Keys of the measurements that a style uses, that its figure is drawn from, and that doubts about wearing it
        are judged by."""
        from catalogue.drawing.body_outline import MEASURED
        from catalogue.studio.suiting import WORN

        if style.slug not in self._needed:
            drawn = MEASURED if style.flat else frozenset()
            self._needed[style.slug] = (
                frozenset(style.uses) | drawn | (frozenset() if style.is_block else WORN)
            )
        return self._needed[style.slug]

    def figures(self, client: Client) -> list[Figures]:
        """The client's measurements: those that count now, then those of each earlier set, with its day."""
        if client.slug not in self._figures:
            every = [("", client.measurements), *((str(s.date), s.values) for s in client.sets[:-1])]
            self._figures[client.slug] = [
                (day, [(key, f"{key}={m.mm!r} {m.date}") for key, m in taken.items()]) for day, taken in every
            ]
        return self._figures[client.slug]

    def held(self, client: Client) -> Held:
        """The client's measurements that held on each day: `earlier_days` of every style asks for them."""
        if client.slug not in self._held:
            from catalogue.site.overlay import held_on

            self._held[client.slug] = held_on(client)
        return self._held[client.slug]

    def client_content(self, client: Client) -> str:
        """Fingerprint of what all drafts of a client come from."""
        return self._client(client)[0]

    def client_page(self, client: Client) -> str:
        """Fingerprint of what the pages of all drafts of a client show besides."""
        return self._client(client)[1]

    def _client(self, client: Client) -> tuple[str, str]:
        if client.slug not in self._clients:
            page = fingerprint.of(client.file, client.notes, client.findings, client.lang)
            self._clients[client.slug] = fingerprint.of(_without_particulars(client)), page
        return self._clients[client.slug]

    def draft(self, style: Style, client: Client, extent: Extent | None = None) -> Draft:
        """The style drafted for the client; whole unless less is asked for."""
        from catalogue.drafting import Extent, draft_style

        counted = what_counts(style, client, self.needed(style))
        return draft_style(style, counted, self.studio.settings, extent or Extent.WHOLE)

    def ordered(self, style: Style, client: Client, order: Order) -> Client:
        """The client with what an order of the style has otherwise, to be drafted for it."""
        from catalogue.workroom.order_view import with_choices
        from catalogue.workroom.own_drafts import beside_the_name, differs, notice_for

        own = with_choices(client, order, self.kept(client)[0])
        if not differs(client, order, style):
            return own
        return replace(own, for_order=beside_the_name(order), notices=(notice_for(client, order, style),))

    def kept_files(self, client: Client) -> list[tuple[str, str]]:
        """Paths and fingerprints of the files of garments that were kept for a client as they were cut."""
        if self._kept is None:
            self._kept = {}
            for path, digest in self.studio.files.digests.items():
                if stem := kept_for(path):
                    self._kept.setdefault(stem, []).append((path, digest))
        return self._kept.get(Path(client.file).stem, []) if self._kept else []

    def kept(self, client: Client) -> tuple[tuple[KeptGarment, ...], tuple[Finding, ...]]:
        """The garments that were kept for a client, newest first, and what is wrong with those that can't be read."""
        files = self.kept_files(client)
        if not files:
            return (), ()
        if client.slug not in self._kept_garments:
            from catalogue.workroom.kept_garments import kept_garments

            self._kept_garments[client.slug] = kept_garments(
                self.studio.root, [path for path, _ in files], client.name
            )
        return self._kept_garments[client.slug]

    @cached_property
    def pictures(self) -> Pictures:
        """The pictures that styles show."""
        return look_through(self.studio)

    @property
    def cloths(self) -> list[str]:
        """Names of the studio's cloths."""
        return in_order(cloth.name for cloth in self.studio.cloths.values())

    @cached_property
    def site(self) -> Site:
        """The page-maker, which holds templates and prose made ready."""
        from catalogue.site.pages import Site

        studio, good = self.studio, self.pictures.good
        # A style without its picture is shown by its pieces.
        styles = [s if s.picture in good else replace(s, picture="") for s in studio.styles]
        return Site(studio.settings, styles, studio.clients, studio.root, studio.sizes, self.cloths)

    @cached_property
    def has_templates(self) -> bool:
        """Whether the studio has page templates of its own, which may be wrong."""
        from catalogue.site.folders import own_templates

        named = any(path.endswith(".html") for path, _ in self.studio.files.under(TEMPLATE))
        return named and own_templates(self.studio.root) is not None

    @cached_property
    def _shows_pictures(self) -> bool:
        return any(s.picture or any("![" in row for row in s.lines) for s in self.studio.styles)

    @property
    def left_out(self) -> frozenset[str]:
        """Names of pictures that styles show and that are left out."""
        return self.pictures.left_out if self._shows_pictures else frozenset()

    def mistakes(self) -> tuple[Finding, ...]:
        """What is wrong with things that belong to no style or client alone: templates, pictures."""
        if not self.has_templates and not self._shows_pictures:
            return ()  # So that nothing heavy is imported for nothing.
        return (*self.site.mistakes(), *self.pictures.findings)

    def pages(self, pages: Mapping[str, str], besides: Mapping[str, bytes] | None = None) -> Product:
        """Pages, by path, that were just made, with what went wrong in the studio's own templates meanwhile."""
        pages = {path: without_left_out(text, self.left_out) for path, text in pages.items()}
        return Product(encoded(pages) | dict(besides or {}), findings=self.site.troubles())


def encoded(texts: Mapping[str, str]) -> dict[str, bytes]:
    """Texts as the bytes of their files."""
    return {path: text.encode() for path, text in texts.items()}


def what_counts(style: Style, client: Client, keys: Collection[str]) -> Client:
    """The client with no more than a draft of this style may depend on: the measurements `keys`, its choices, ...

    Drafts are made from this, so that what a fingerprint leaves out can't find its way into a drawing.
    """
    from catalogue.studio.suiting import lines_for
    from catalogue.workroom.own_drafts import notices

    plain = _without_particulars(client)
    fittings = lines_for(style, client.fittings)
    slugs = {style.slug, *(block.slug for block in style.chain)}
    if fittings:
        # Whether something was measured again since is told by the sets.
        plain = replace(
            plain,
            sets=tuple(
                replace(
                    s,
                    values={k: m for k, m in s.values.items() if k in keys},
                    note="",
                    weight_kg=None,
                    of_sides={},
                )
                for s in client.sets
            ),
        )
    return replace(
        plain,
        fittings=fittings,
        corrections=tuple(c for c in client.corrections if c.garment in slugs),
        sides={
            side: kept
            for side, own in client.sides.items()
            if (kept := {k: m for k, m in own.items() if k in keys})
        },
        findings=() if client.ok_for(style.uses) else client.findings_for(style.uses),
        concerning={},
        doubts=client.doubts_for(style.uses),
        notices=client.notices or notices(client, style),
        file=client.file,
        measurements={key: m for key, m in client.measurements.items() if key in keys},
        choices=choices_for(style, client.choices),
        garments=tuple(slug for slug in client.garments if slug == style.slug),
    )


def _without_particulars(client: Client) -> Client:
    """What of a client every draft may depend on: name, kind, units, and the day of the newest measurements."""
    newest = max((s.date for s in client.sets if s.date is not None), default=None)
    return replace(
        client,
        file="",
        sets=tuple(
            replace(s, values={}, note="", weight_kg=None, of_sides={})
            for s in client.sets
            if s.date == newest
        )[-1:],
        measurements={},
        choices={},
        garments=(),
        garment_places={},
        choice_places={},
        compared={},
        compared_places={},
        orders=(),
        is_copy=False,
        notes="",
        notes_line=1,
        lang="",
        weight_kg=None,
        fittings=(),
        corrections=(),
        fitting_places={},
        sides={},
        # Warnings about the file stop no draft; errors do, and are then all there is to show.
        findings=() if client.ok else client.findings,
        digest="",
    )


def choices_for(style: Style, choices: Mapping[str, Mapping[str, Chosen]]) -> dict[str, Mapping[str, Chosen]]:
    """Of someone's choices those that a draft of the style may depend on: the style's own and those of its blocks."""
    slugs = {style.slug, *(block.slug for block in style.chain)}
    return {slug: chosen for slug, chosen in choices.items() if slug in slugs}
