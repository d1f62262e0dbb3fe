"""What was found in many drafts, put together so that each mistake is told once, with whom it concerns."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from catalogue.findings import BLOCK_FAILS, Finding, Place, Severity
from catalogue.sorting import sort_key

_FIGURE = re.compile(
    r"(?<![\w.])[-−+]?\d+(?:[.,]\d+)*(?:[ ]?\d+/\d+|[ ]?[½¼¾⅛⅜⅝⅞])?(?: (?:cm|mm|m|in|kg|g)\b|[ ]?[%°])?"
)
"""A number with its unit, in whatever units a client is measured: it may differ where the mistake is the same."""


@dataclass(frozen=True, slots=True)
class Told:
    """A finding and whom it concerns (nobody when it is about the file alone).

    Attributes:
        clients: whose own drafts have it.
        others: what else has it: orders, and sizes of a table.
        figures: who has the same in other figures, and these as text.
    """

    finding: Finding
    clients: tuple[str, ...] = ()
    others: tuple[str, ...] = ()
    figures: tuple[tuple[str, str], ...] = ()


@dataclass(slots=True)
class _Touched:
    clients: list[str] = field(default_factory=list)
    others: list[str] = field(default_factory=list)

    @property
    def names(self) -> str:
        return ", ".join((*self.clients, *self.others))


def gathered(findings: Iterable[tuple[Finding, str]]) -> tuple[Told, ...]:
    """Each finding once, by place, with the names of all clients, orders and sizes it concerns.

    Findings that differ in their figures alone are one, told in the figures of the first; the others' are listed.
    A mistake in a client file is only a warning in drafts that do without what it concerns; it is not repeated for
    these. Nor is one in a block for the styles that are cut from it, whose own pages say so.
    """
    every = list(findings)
    own = {finding.place for finding, _ in every if finding.code != BLOCK_FAILS and finding.is_error}
    every = [each for each in every if each[0].code != BLOCK_FAILS or each[0].place not in own]
    of_files = {finding for finding, who in every if not who and not finding.about}
    repeated = {replace(finding, severity=Severity.WARNING) for finding in of_files if finding.is_error}
    touched: dict[Finding, _Touched] = {}
    for finding, who in every:
        bare = replace(finding, about="") if finding.about else finding
        if bare in repeated and (who or finding.about):
            continue
        of = touched.setdefault(bare, _Touched())
        if bare not in of_files:
            names, name = (of.others, finding.about) if finding.about else (of.clients, who)
            if name not in names:
                names.append(name)
    return tuple(sorted(_one_each(touched), key=lambda told: _order_of(told.finding.place)))


def _one_each(touched: dict[Finding, _Touched]) -> Iterable[Told]:
    """What is told, with findings put together that differ in figures alone."""
    alike: dict[Finding, list[Finding]] = {}
    for finding, of in touched.items():
        masked = finding
        if finding.place is not None and (of.clients or of.others):
            masked = replace(finding, message=_masked(finding.message), hint=_masked(finding.hint))
        alike.setdefault(masked, []).append(finding)
    for of in touched.values():
        of.clients.sort(key=sort_key)
        of.others.sort(key=sort_key)
    for found in alike.values():
        first, *rest = sorted(
            found, key=lambda each: (not touched[each].clients, sort_key(touched[each].names))
        )
        of = touched[first]
        figures = tuple((touched[each].names, _differing(each, first)) for each in rest)
        clients, others, finding = tuple(of.clients), tuple(of.others), first
        if len(others) == 1 and not clients:
            # Of one order alone, or of the sizes of one table: named before the message, as it came up.
            finding, others = replace(first, about=others[0]), ()
        yield Told(finding, clients, others, figures)


def _masked(text: str) -> str:
    return _FIGURE.sub("\0", text.replace("\0", "\ufffd"))


def _differing(finding: Finding, first: Finding) -> str:
    """The figures of a finding that are not those of the first."""
    pairs = zip(_figures(finding), _figures(first), strict=True)
    return ", ".join(dict.fromkeys(own for own, of_first in pairs if own != of_first))


def _figures(finding: Finding) -> list[str]:
    return _FIGURE.findall(f"{finding.message}\n{finding.hint}")


def _order_of(place: Place | None) -> tuple[object, ...]:
    """Sorts places by file, line and column, and what has none after them."""
    return (True,) if place is None else (False, sort_key(place.file), place.line, place.column)
