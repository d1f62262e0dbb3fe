"""What a body measurement is: its name, how it is taken, and what is plausible."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, NamedTuple

from catalogue.people.everyday import names_of

Kind = Literal["girth", "length", "width", "height", "weight"]
Figure = Literal["front", "back", "side"]
BODIES = ("woman", "man", "child")


class Bounds(NamedTuple):
    """What is plausible, in mm (kg for weight), end values included.

    Below `lowest` and above `highest` a figure is impossible (a slip of the pen); outside `low` to `high` it
    is improbable and worth measuring again.
    """

    lowest: float
    low: float
    high: float
    highest: float


ANY = Bounds(0.0, 0.0, float("inf"), float("inf"))
"""The bounds of what is not judged."""


def body_of(kind: str) -> str:
    """ "woman", "man" or "child" for a client's kind."""
    return kind if kind in ("woman", "man") else "child"


@dataclass(frozen=True, slots=True)
class Measurement:
    """One body measurement.

    Attributes:
        name: as ISO 8559 names it where it does, else as the trade does ("bust girth").
        kind: "girth", "length", "width", "height" or "weight" (the only one that is no length: kilograms).
        how: how it is taken, in plain words.
        figure: the view it is drawn on: "front", "back" or "side".
        bounds: "woman", "man" and "child", those of whom it is taken, to what is plausible.
        aliases: what else the trade calls it, lower case.
        iso: number and year of the standard that lists it, "" when it is the trade's own.
        own: the studio describes it itself.
        from_memory: the standard's name or meaning was not checked against a copy.
    """

    name: str
    kind: Kind
    how: str
    figure: Figure
    bounds: Mapping[str, Bounds]
    aliases: tuple[str, ...] = ()
    iso: str = ""
    from_memory: bool = False
    own: bool = False

    @property
    def key(self) -> str:
        """Its name in formulas: "bust_girth"."""
        return key_of(self.name)

    def bounds_for(self, person: str) -> Bounds:
        """The bounds for a kind of client ("woman", "man", "girl", "boy", "child")."""
        return self.bounds.get(body_of(person), ANY)

    def is_for(self, person: str) -> bool:
        """Whether it is taken of such a client at all."""
        return body_of(person) in self.bounds


def key_of(name: str) -> str:
    """The name of a measurement as a formula writes it."""
    return name.replace(" ", "_").replace("-", "_")


class Listing(NamedTuple):
    """Where a name comes from: number and year of the standard, and whether that is from memory."""

    iso: str
    from_memory: bool


LISTED = Listing("8559:1989", False)
"""In the list of ISO 8559:1989 as *Anthropometry, Apparel Sizing and Design*, table 4.1, reprints it."""
REMEMBERED = Listing("8559-1:2017", True)
"""Thought to be in ISO 8559-1:2017; from memory."""
TRADE = Listing("", False)
"""The trade's own (common practice, no source)."""

_Row = tuple[float, float, float, float]


def measurement(
    name: str,
    kind: Kind,
    how: str,
    figure: Figure,
    listing: Listing,
    woman: _Row,
    man: _Row,
    child: _Row,
) -> Measurement:
    """A line of the register. Bounds as (lowest, low, high, highest) in cm, or kg for weight."""
    scale = 1.0 if kind == "weight" else 10.0
    bounds = {
        body: Bounds(*(v * scale for v in row)) for body, row in zip(BODIES, (woman, man, child), strict=True)
    }
    names = names_of(key_of(name))
    return Measurement(name, kind, how, figure, bounds, names, listing.iso, listing.from_memory)
