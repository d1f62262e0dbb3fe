"""A table of sizes: the measurements that a studio takes for each of its sizes, from a file that a person wrote."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from catalogue.findings import Finding, Place
from catalogue.lengths import Units
from catalogue.people.client import Chosen, Client, Measured, MeasurementSet
from catalogue.people.register import REGISTER, Register
from catalogue.slugs import slugify


@dataclass(frozen=True, slots=True)
class Size:
    """One size.

    Attributes:
        name: as written at the head of its column, single spaces.
        place: where that stands.
        measurements: measurement key to what is taken for this size, in the register's order.
    """

    name: str
    place: Place
    measurements: Mapping[str, Measured] = field(default_factory=dict)
    weight_kg: float | None = None


@dataclass(frozen=True, slots=True)
class SizeTable:
    """A file of sizes.

    Attributes:
        slug: its name in the site and on the command line: the file's stem made safe.
        file: path as the reader knows it, relative to the studio.
        name: as written, in any script; the file's stem when the file gives none.
        kind: whom the sizes are for: "woman", "man", "girl", "boy" or "child".
        units: how its lengths are shown, and what a bare number means.
        sources: where the figures come from, as written.
        sizes: in the order of their columns.
        choices, choice_places, garments, garment_places: as those of a client; garments are the styles that the
            catalogue offers nested in these sizes.
        notes: what else the file says, Markdown, the tables left out; `notes_line` is the line it begins on.
        lang: language of the notes (BCP 47), "" for the studio's own.
        findings: what is wrong or unusual, in the file's order.
        digest: hash of the file's bytes.
        register: the measurements of the studio that the file was read in.
    """

    slug: str
    file: str
    name: str
    kind: str = "woman"
    units: Units = field(default_factory=Units)
    sources: tuple[str, ...] = ()
    sizes: tuple[Size, ...] = ()
    choices: Mapping[str, Mapping[str, Chosen]] = field(default_factory=dict)
    choice_places: Mapping[str, Place] = field(default_factory=dict)
    garments: tuple[str, ...] = ()
    garment_places: Mapping[str, Place] = field(default_factory=dict)
    notes: str = ""
    notes_line: int = 1
    lang: str = ""
    findings: tuple[Finding, ...] = ()
    digest: str = ""
    register: Register = field(default=REGISTER, compare=False, repr=False)

    @property
    def ok(self) -> bool:
        """No error in the file; warnings don't count."""
        return not any(f.is_error for f in self.findings)

    def client(self, size: Size) -> Client:
        """A client of this size, to draft for. What the file is warned of stays with the file."""
        return Client(
            slug=slugify(f"{self.slug}-{size.name}"),
            file=self.file,
            name=named(size.name),
            kind=self.kind,
            units=self.units,
            sets=(MeasurementSet(None, size.measurements, weight_kg=size.weight_kg),),
            measurements=size.measurements,
            choices=self.choices,
            choice_places=self.choice_places,
            garments=self.garments,
            garment_places=self.garment_places,
            lang=self.lang,
            weight_kg=size.weight_kg,
            findings=() if self.ok else self.findings,
            register=self.register,
        )


def named(size: str) -> str:
    """What a size is called beside others: "size 38", for a bare number says little."""
    return size if size.casefold().startswith("size") else f"size {size}"
