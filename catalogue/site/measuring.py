"""The pages on measuring: how each measurement is taken, and a blank form."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

from markupsafe import Markup

from catalogue.people import Register
from catalogue.site.body import body_definitions, tape_figure
from catalogue.site.measured import group_of, needed
from catalogue.site.page import Page
from catalogue.site.paths import style_path
from catalogue.studio.style import Style

NOTHING = Markup("")


@dataclass(frozen=True, slots=True)
class StyleLink:
    """A style to go to; `path` leads from the site's root."""

    slug: str
    title: str
    path: str


@dataclass(frozen=True, slots=True)
class MeasurementView:
    """A measurement as pages show it.

    Attributes:
        id: its key, for links to it.
        how: how it is taken; "" for one that the register doesn't know.
        tape: where the tape goes, drawn; may be empty.
        styles: those that need it.
    """

    id: str
    name: str
    how: str = ""
    aliases: tuple[str, ...] = ()
    kind: str = ""
    iso: str = ""
    from_memory: bool = False
    tape: Markup = NOTHING
    styles: tuple[StyleLink, ...] = ()


Groups = Mapping[str, Sequence[MeasurementView]]
"""Measurements by the heading they stand under."""


@dataclass(frozen=True, slots=True)
class MeasuringPage(Page):
    """How each measurement is taken."""

    template: ClassVar = "measuring.html"
    here: ClassVar = "measuring"
    groups: Groups
    body: Markup


@dataclass(frozen=True, slots=True)
class FormPage(Page):
    """A blank form to write measurements in."""

    template: ClassVar = "form.html"
    here: ClassVar = "measuring"
    groups: Groups
    styles: Sequence[Style]


def measurement_view(key: str, register: Register) -> MeasurementView:
    """A measurement by its key; one that the register doesn't know keeps its name in words."""
    known = register.get(key)
    if known is None:
        return MeasurementView(key, register.name_of(key))
    tape = tape_figure(known.key, known.name, known.how)
    return MeasurementView(
        known.key, known.name, known.how, known.aliases, known.kind, known.iso, known.from_memory, tape
    )


def measuring_page(styles: Sequence[Style], register: Register) -> MeasuringPage:
    """The page at measuring/index.html."""
    return MeasuringPage("measuring/index.html", _groups(styles, register), body_definitions())


def form_page(styles: Sequence[Style], register: Register) -> FormPage:
    """The page at measuring/form/index.html."""
    return FormPage("measuring/form/index.html", _groups(styles, register), styles)


def _groups(styles: Sequence[Style], register: Register) -> Groups:
    """Every measurement with the styles that need it."""
    groups: dict[str, list[MeasurementView]] = {}
    for key, known in register.items():
        links = tuple(StyleLink(s.slug, s.title, style_path(s.slug)) for s in styles if key in needed(s))
        groups.setdefault(group_of(known), []).append(replace(measurement_view(key, register), styles=links))
    return groups
