"""What each piece of a draft is in the garment, by its name and its seams: front or back, sleeve, band, collar."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache

from catalogue.drafting.model import Draft
from catalogue.pattern import Piece
from catalogue.pattern.partners import INSIDE

FRONT, BACK = "front", "back"

_STRIPS = {"band", "waistband", "neckband", "cuff", "collar", "stand", "binding", "ribbon"}
_CENTRES = ("front_edge", "centre", "center", "middle", "cf", "cb", "opening")
_CROTCH = ("crotch", "fork", "seat")

Edge = tuple[str, str]
"""A piece's name and an edge's name."""


class NotTogetherError(Exception):
    """Raised where the pieces don't say how they go together: which piece or seam stopped it, and what to write."""


def worn(draft: Draft) -> list[Piece]:
    """The pieces that make the outside of the garment."""
    return [
        p for p in draft.pieces.values() if p.cut.cloth == "main" and not words_of(p.name, p.title) & INSIDE
    ]


def is_sleeve(piece: Piece) -> bool:
    words = words_of(piece.name, piece.title)
    return "sleeve" in words and not words & _STRIPS


def is_strip(piece: Piece) -> bool:
    """A band, cuff or collar, or whatever is as long and narrow."""
    box = piece.outline.bounds()
    long, short = max(box.width, box.height), min(box.width, box.height)
    words = words_of(piece.name, piece.title)
    return bool(words & _STRIPS) or (long > 5 * short and not view_of(piece))


def view_of(piece: Piece) -> str:
    """ "front", "back", or "" for a piece that belongs to both or to neither."""
    words = words_of(piece.name, piece.title)
    found = [view for view in (FRONT, BACK) if view in words]
    return found[0] if len(found) == 1 else ""


def seams_of(draft: Draft) -> Iterator[tuple[tuple[Edge, ...], tuple[Edge, ...]]]:
    """The edges on both sides of each declared seam."""
    for seam in draft.seams:
        yield _edges(seam.first), _edges(seam.second)


def titles_of(pieces: Sequence[Piece]) -> str:
    """Titles in quotation marks: “Front” or “Side front”."""
    return " or ".join(f"“{piece.title}”" for piece in pieces)


def crotch_edge(piece: Piece) -> str:
    """Name of the edge that runs through between the legs; "" for a piece without one."""
    return next((e.name for word in _CROTCH for e in piece.edges if word in words_of(e.name)), "")


def centre_of(piece: Piece) -> tuple[int, str]:
    """How sure it is that a piece lies at the middle of the body, and the edge that does."""
    if crotch_edge(piece):
        return 4, crotch_edge(piece)
    for edge in piece.edges:
        if edge.fold and piece.cut.on_fold:
            return 3, edge.name
    for n, word in enumerate(_CENTRES):
        for edge in piece.edges:
            if edge.name == word or word in words_of(edge.name):
                return (2 if n < 3 else 1), edge.name
    return 0, ""


def neighbours(draft: Draft, name: str) -> Iterator[tuple[str, str, str]]:
    """Seams of a piece that join one edge to one edge: its edge, the other piece, the other edge."""
    for first, second in seams_of(draft):
        if len(first) == len(second) == 1:
            for (a, edge), (b, other) in ((first[0], second[0]), (second[0], first[0])):
                if a == name and b != name:
                    yield edge, b, other


def fullness(draft: Draft, one: Edge, other: Edge) -> float:
    """How many times as long an edge is as the one it is sewn to, as far as they are sewn; 1 where that isn't known."""
    names = ".".join(one), ".".join(other)
    for seam in draft.seams:
        if {seam.first, seam.second} == set(names) and min(seam.first_length, seam.second_length) > 1:
            ratio = seam.first_length / seam.second_length
            return ratio if seam.first == names[0] else 1 / ratio
    return 1.0


def is_between(draft: Draft, piece: Piece) -> bool:
    """Whether a band joins two other pieces, one above and one below it."""
    met = {other for _, other, _ in neighbours(draft, piece.name)}
    return (
        len(
            {
                n
                for n in met
                if n in draft.pieces and not is_strip(draft.pieces[n]) and view_of(draft.pieces[n])
            }
        )
        > 1
    )


def strips_on(draft: Draft, edges: Sequence[Edge]) -> Iterator[tuple[Piece, list[Edge]]]:
    """Bands, collars and cuffs sewn to any of the edges, and to which of them."""
    wanted = set(edges)
    for first, second in seams_of(draft):
        for one, other in ((first, second), (second, first)):
            held = [e for e in one if e in wanted]
            if held and len({piece for piece, _ in other}) == 1:
                piece = draft.pieces.get(other[0][0])
                if piece is not None and piece.cut.cloth == "main" and is_strip(piece):
                    yield piece, held


@lru_cache(maxsize=4096)
def _edges(side: str) -> tuple[Edge, ...]:
    named = (part.strip().partition(".") for part in side.split(" and "))
    return tuple((piece, edge) for piece, _, edge in named)


@lru_cache(maxsize=4096)
def words_of(*names: str) -> frozenset[str]:
    """The words in names, in small letters."""
    return frozenset(re.findall(r"[a-z]+", " ".join(names).lower().replace("_", " ")))
