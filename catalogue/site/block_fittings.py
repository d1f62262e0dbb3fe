"""What the fittings say about a block: the corrections made on it, by alteration, over all clients it was fitted on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from statistics import median

from catalogue.lengths import Units, show_length
from catalogue.people import Client
from catalogue.sorting import sort_key
from catalogue.studio.alterations import Alteration
from catalogue.studio.fitting_words import NotUnderstood, understand
from catalogue.studio.style import DraftLines, Style

FEWEST = 3
"""Clients fitted in a block before anything is said of the block itself: two may be alike by chance."""


@dataclass(frozen=True, slots=True)
class CorrectionRow:
    """One alteration as it was made on a block: for how many clients, by how much.

    Attributes:
        line: number of the line of the block's file that it concerns; 0 where none can be told.
        most: more than half of the clients fitted in it needed it.
    """

    slug: str
    title: str
    clients: int
    median: str
    least: str
    largest: str
    line: int
    most: bool


@dataclass(frozen=True, slots=True)
class BlockFittings:
    """The corrections of a block, the most frequent first, and on how many clients it was fitted."""

    clients: int
    rows: Sequence[CorrectionRow]


def block_fittings(
    style: Style, clients: Iterable[Client], known: Mapping[str, Alteration], units: Units
) -> BlockFittings | None:
    """The corrections made on a block; None for a style that is none, or was never fitted."""
    if not style.is_a_block:
        return None
    amounts: dict[str, dict[str, float]] = {}
    fitted = set()
    for client in clients:
        for line in client.fittings:
            if line.garment != style.slug and line.garment not in style.cut_into:
                continue
            try:
                alteration, amount, _, only = understand(line.text, client.units.primary, known)
            except NotUnderstood:
                continue
            if line.decided == "dropped" or (
                line.garment != style.slug and (only or not alteration.on_the_body)
            ):
                continue
            if not _names(alteration, style):
                continue
            fitted.add(client.slug)
            of = amounts.setdefault(alteration.slug, {})
            of[client.slug] = of.get(client.slug, 0.0) + amount
    if not fitted:
        return None
    show = partial(show_length, units=units)
    rows = [
        CorrectionRow(
            slug,
            known[slug].title,
            len(of),
            show(median(of.values())),
            show(min(of.values())),
            show(max(of.values())),
            _line(known[slug], style),
            len(fitted) >= FEWEST and 2 * len(of) > len(fitted),
        )
        for slug, of in amounts.items()
    ]
    return BlockFittings(len(fitted), sorted(rows, key=lambda row: (-row.clients, sort_key(row.title))))


def _names(alteration: Alteration, style: Style) -> bool:
    """Whether the block draws a piece that the alteration works on."""
    pieces = {name.partition(".")[0] for step in alteration.steps for name in step.landmarks}
    return bool({style.landmarks.get(piece, piece) for piece in pieces} & _pieces(style).keys())


def _pieces(style: Style) -> dict[str, dict[str, int]]:
    """The pieces that a style draws: of each the line of every edge of its outline."""
    found: dict[str, dict[str, int]] = {}
    for section in style.sections:
        for part in section.parts:
            for statement in part.statements if isinstance(part, DraftLines) else ():
                if statement.word == "piece":
                    edges = [node for node in statement.walk() if node.word == "edge"]
                    found[statement.name.text] = {
                        "": statement.place.line,
                        **{node.name.text: node.place.line for node in edges},
                    }
    return found


def _line(alteration: Alteration, style: Style) -> int:
    """The line of the block that draws the first edge which the alteration names."""
    pieces = _pieces(style)
    for step in alteration.steps:
        for landmark in step.landmarks:
            name = style.landmarks.get(landmark, landmark)
            piece, _, part = name.partition(".")
            if part and part in pieces.get(piece, {}):
                return pieces[piece][part]
    return 0
