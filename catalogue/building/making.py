"""Making and checking one unit, in a worker process.

What is made goes into the build's hidden folder, and the answer is a short account, so that no drawing travels between
processes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeVar

import msgspec

from catalogue.building.common import Common
from catalogue.building.kind import Definition
from catalogue.building.made_units import packed, unpacked_summary
from catalogue.building.pool import Outcome
from catalogue.building.stage import Made, Stage
from catalogue.building.studio import Studio
from catalogue.building.unit import Product, Results, UnitName
from catalogue.findings import Finding, Place

T = TypeVar("T")
A = TypeVar("A")


@dataclass(frozen=True, slots=True)
class Task:
    """A unit to make.

    Attributes:
        number: makes the names of staged files unique.
        summaries: of the units it shows, packed.
        files: of the units it shows, by path, where it reads them.
    """

    number: int
    name: UnitName
    summaries: Mapping[UnitName, bytes] = field(default_factory=dict)
    files: Mapping[str, Made] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Account:
    """What was made of a unit.

    Attributes:
        body: as `MadeUnit` has it.
        staged: names of its files in the hidden folder (see `Made`).
        findings: what is wrong with it.
    """

    name: UnitName
    body: msgspec.Raw
    staged: tuple[str, ...]
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Maker:
    """Makes units: call it with a task. Answers with an account of the unit, and one of each made with it.

    Attributes:
        keeps: whether records for later builds are kept.
    """

    definition: Definition
    common: Common
    stage: Stage
    keeps: bool = True

    def __call__(self, task: Task) -> tuple[Account, ...]:
        def read(path: str) -> bytes:
            return self.stage.read(task.files[path]) if path in task.files else b""

        summaries = {name: unpacked_summary(data) for name, data in task.summaries.items()}
        results = Results(summaries, read)
        return self.put(task, self.definition.kind_of(task.name).make(self.common, task.name, results))

    def put(self, task: Task, products: Mapping[UnitName, Product]) -> tuple[Account, ...]:
        """Put what was made into the hidden folder."""
        accounts = []
        number = 0
        for name, product in products.items():
            made = []
            files = {**product.files, **(product.records if self.keeps else {})}
            for path, data in sorted(files.items()):
                made.append(self.stage.put(path, data, f"{task.number}-{number}"))
                number += 1
            body = packed([each.written for each in made], product.summary, product.findings)
            accounts.append(Account(name, body, tuple(each.staged for each in made), product.findings))
        return tuple(accounts)


@dataclass(frozen=True, slots=True)
class Checker:
    """Answers with what is wrong with a unit; writes nothing."""

    definition: Definition
    common: Common

    def __call__(self, name: UnitName) -> tuple[Finding, ...]:
        return self.definition.kind_of(name).check(self.common, name)


def internal(outcome: Outcome[T, A], name: UnitName, studio: Studio) -> Finding:
    """A fault of the program at a unit, told at the style's file."""
    style = studio.by_style.get(name.style)
    place = Place(style.file) if style is not None else None
    what = outcome.trouble if not outcome.kind else f"{outcome.kind}: {outcome.trouble}"
    return Finding("internal", f"this could not be made, through a fault of this program: {what}", place)
