"""A client: the file that a person wrote, read once and checked."""

from __future__ import annotations

import datetime
from collections.abc import Container, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal

from catalogue.findings import Finding, Place, Severity
from catalogue.lengths import Units
from catalogue.people.fittings import FittingLine, FreeCorrection
from catalogue.people.register import REGISTER, Register


@dataclass(frozen=True, slots=True)
class Measured:
    """One measurement: `mm` in millimetres, `text` as written, `date` of its set, `place` of the text."""

    mm: float
    text: str
    date: datetime.date | None
    place: Place


@dataclass(frozen=True, slots=True)
class MeasurementSet:
    """What was measured on one day (`date` None when the file doesn't say), by measurement key.

    `weight_kg` stands apart, since everything in `values` is a length; so do measurements of one side of the body, in
    `of_sides` by "left" and "right".
    """

    date: datetime.date | None
    values: Mapping[str, Measured]
    note: str = ""
    weight_kg: float | None = None
    of_sides: Mapping[str, Mapping[str, Measured]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Chosen:
    """A choice made for a style: the text as written and where; `key_place` is where its name stands.

    Attributes:
        date: the day it holds from; None where the file doesn't say.
        before: what was chosen earlier, newest first.
    """

    text: str
    place: Place
    key_place: Place
    date: datetime.date | None = None
    before: tuple[Chosen, ...] = ()

    def on(self, day: datetime.date) -> Chosen | None:
        """What was chosen on a day; None where nothing was yet."""
        for n, each in enumerate((self, *self.before)):
            if each.date is None or each.date <= day:
                return replace(each, before=self.before[n:])
        return None


@dataclass(frozen=True, slots=True)
class OptionSet:
    """Other choices for a style, to be compared with those that hold; `name` is as written, `choices` by name."""

    slug: str
    name: str
    place: Place
    choices: Mapping[str, Chosen]


@dataclass(frozen=True, slots=True)
class Order:
    """One garment that the client ordered.

    Attributes:
        slug: tells the client's orders apart; `name` is as written.
        style: slug of the style.
        cloths: use ("main"), name of the cloth as written, and where that stands.
        choices: for this garment; they count before the client's own for the style.
        lay: how the cloth is to be spread, "" for the shortest way.
        price: as agreed, which stands at `price_place`; None where none is.
        extras: what is charged besides, with its price.
        hours, planned_hours: spent and planned.
        stages: those that are done, with their days, in the order of the work.
        as_cut: the day that a garment of this style was kept, which this order makes again; None for a new one.
    """

    slug: str
    name: str
    style: str
    place: Place
    style_place: Place
    ordered: datetime.date | None = None
    due: datetime.date | None = None
    cloths: tuple[tuple[str, str, Place], ...] = ()
    choices: Mapping[str, Chosen] = field(default_factory=dict)
    lay: str = ""
    price: Decimal | None = None
    deposit: Decimal | None = None
    extras: tuple[tuple[str, Decimal], ...] = ()
    hours: Decimal | None = None
    planned_hours: Decimal | None = None
    note: str = ""
    stages: Mapping[str, datetime.date] = field(default_factory=dict)
    as_cut: datetime.date | None = None
    price_place: Place | None = None

    @property
    def is_open(self) -> bool:
        """Whether anything is left to do: it is not delivered, or not paid."""
        return not {"delivered", "paid"} <= self.stages.keys()


@dataclass(frozen=True, slots=True)
class Client:
    """A client file.

    Attributes:
        slug: name of the client's folder in the site: the file's stem made safe.
        file: path as the reader knows it, relative to the studio.
        name: as written, in any script; the file's stem when the file gives none.
        kind: "woman", "man", "girl", "boy" or "child".
        units: how this client's lengths are shown, and what a bare number means.
        sets: every set of measurements, oldest first; an undated one counts as the oldest.
        measurements: measurement key to the newest value taken, in the register's order.
        choices: style slug to choice name (as written, single spaces) to what was chosen last.
        garments: slugs of the styles ordered, in order; `garment_places` says where each stands.
        orders: garments ordered with their dates and prices, by the day they were ordered.
        choice_places: style slug to where it stands under choices.
        notes: fitting notes, Markdown; `notes_line` is the file's line they begin on.
        lang: language of the notes (BCP 47), "" for the studio's own.
        weight_kg: the newest weight, None when there is none.
        findings: what is wrong or unusual, in the file's order.
        digest: hash of the file's bytes.
        concerning: of findings on a measurement, the keys of what they are about (none, where the name is not known);
            other findings are about the whole file.
        register: the measurements of the studio that the file was read in.
        fittings: every line of every fitting, oldest first; `fitting_places` says where each garment fitted stands.
        corrections: drafting lines of this client's own for one garment each, oldest first.
        sides: "left" and "right" to measurements that hold for that side of the body alone.
        doubts: what a print of a draft has to say of the client's file: its warnings, in words (see `doubts_for`).
        compared: style slug to the sets of choices that its draft is to be compared with; `compared_places` says
            where each style stands.
        for_order: how prints name the order that the client is drafted for, where that has other options; else "".
        notices: what a print says at its top: for which order it is, or is not.
        is_copy: whether it is the client of a copy to hand over: of orders it holds style and options alone.
    """

    slug: str
    file: str
    name: str
    kind: str = "woman"
    units: Units = field(default_factory=Units)
    sets: tuple[MeasurementSet, ...] = ()
    measurements: Mapping[str, Measured] = field(default_factory=dict)
    choices: Mapping[str, Mapping[str, Chosen]] = field(default_factory=dict)
    garments: tuple[str, ...] = ()
    garment_places: Mapping[str, Place] = field(default_factory=dict)
    notes: str = ""
    notes_line: int = 1
    lang: str = ""
    weight_kg: float | None = None
    findings: tuple[Finding, ...] = ()
    digest: str = ""
    choice_places: Mapping[str, Place] = field(default_factory=dict)
    concerning: Mapping[Finding, frozenset[str]] = field(default_factory=dict, compare=False, repr=False)
    register: Register = field(default=REGISTER, compare=False, repr=False)
    fittings: tuple[FittingLine, ...] = ()
    corrections: tuple[FreeCorrection, ...] = ()
    fitting_places: Mapping[str, Place] = field(default_factory=dict)
    sides: Mapping[str, Mapping[str, Measured]] = field(default_factory=dict)
    orders: tuple[Order, ...] = ()
    doubts: tuple[str, ...] = ()
    compared: Mapping[str, tuple[OptionSet, ...]] = field(default_factory=dict)
    compared_places: Mapping[str, Place] = field(default_factory=dict)
    for_order: str = ""
    notices: tuple[str, ...] = ()
    is_copy: bool = False

    def as_measured_on(self, side: str) -> Client:
        """The client with the measurements of one side of the body in place of those of both."""
        own = self.sides.get(side)
        return replace(self, measurements={**self.measurements, **own}) if own else self

    def as_chosen_on(self, day: datetime.date) -> Client:
        """The client with the choices of a day in place of today's."""
        return replace(
            self,
            choices={
                slug: {name: then for name, each in chosen.items() if (then := each.on(day)) is not None}
                for slug, chosen in self.choices.items()
            },
        )

    def with_choices(self, style: str, choices: Mapping[str, Chosen]) -> Client:
        """The client with these choices for a style before their own for it."""
        return replace(self, choices={**self.choices, style: {**self.choices.get(style, {}), **choices}})

    @property
    def ok(self) -> bool:
        """No error in the file; warnings don't count."""
        return not any(f.is_error for f in self.findings)

    def findings_for(self, keys: Container[str]) -> tuple[Finding, ...]:
        """The file's findings as they matter to a draft that uses the measurements `keys`.

        An error on other measurements stops nothing there, so it is a warning.
        """
        return tuple(
            replace(f, severity=Severity.WARNING)
            if f.is_error and f in self.concerning and not any(key in keys for key in self.concerning[f])
            else f
            for f in self.findings
        )

    def doubts_for(self, keys: Container[str]) -> tuple[str, ...]:
        """Warnings of the file that matter to a draft that uses the measurements `keys`, in words."""
        return tuple(
            f.message
            for f in self.findings
            if f in self.concerning and any(key in keys for key in self.concerning[f]) and not f.is_error
        )

    def ok_for(self, keys: Container[str]) -> bool:
        """No error in the file that matters to such a draft."""
        return not any(f.is_error for f in self.findings_for(keys))
