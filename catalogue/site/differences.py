"""Two drafts of a style for one client side by side: which options, cloth, finished measurements and edges differ."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import chain

from catalogue.cloth.lay import lays
from catalogue.cloth.words import length_to_buy, shop_length, width_in
from catalogue.drafting import Draft
from catalogue.drawing.labels import cloth_words, count_words, cut_words
from catalogue.geometry import union
from catalogue.lengths import Units, show_length
from catalogue.pattern import Piece
from catalogue.site.overlay import drawn
from catalogue.site.words import in_words

APART = 0.5
"""mm: lengths that differ by less are the same."""
_WIDE, _HIGH = 520.0, 560.0  # px of the largest piece drawn
_NONE = "–"


@dataclass(frozen=True, slots=True)
class Row:
    """A figure in both drafts as the client reads it; `difference` is "" where there is none to tell."""

    what: str
    first: str
    second: str
    difference: str = ""


@dataclass(frozen=True, slots=True)
class LaidOver:
    """A piece of both drafts over each other.

    Attributes:
        title: of the piece. only_in: "first" or "second" where the other draft has none; else "".
        view: the viewBox of the drawing, mm; `wide` and `high` are its size in px.
        first, second: path data; "" where there is no such piece.
        edges: those whose length or allowance differs, after how it is cut, where that does.
    """

    title: str
    only_in: str
    view: str
    wide: int
    high: int
    first: str
    second: str
    edges: tuple[Row, ...]


def options_apart(first: Draft, second: Draft) -> list[Row]:
    """The options that were chosen differently."""
    names = dict.fromkeys((*first.choices, *second.choices))
    rows = [Row(in_words(n), first.choices.get(n, _NONE), second.choices.get(n, _NONE)) for n in names]
    return [row for row in rows if row.first != row.second]


def cloth_apart(first: Draft, second: Draft) -> list[Row]:
    """What is to be bought of each cloth whose width the style states, the same or not; estimates as on its page."""
    units = first.client.units
    lengths = [_cloth(first), _cloth(second)]
    rows = []
    for use in dict.fromkeys(chain(*lengths)):
        a, b = (each.get(use) for each in lengths)
        by = (b or 0.0) - (a or 0.0)
        amount = f"{'+' if by > 0 else '−'}{length_to_buy(abs(by), units)}" if abs(by) > 1.0 else "the same"
        shown = [_NONE if each is None else length_to_buy(each, units) for each in (a, b)]
        rows.append(Row(cloth_words(use), shown[0], shown[1], amount))
    return rows


def finished_apart(first: Draft, second: Draft) -> list[Row]:
    """The finished measurements that differ."""
    tables = [{f.name: f.garment for f in draft.finished} for draft in (first, second)]
    return list(_rows(tables[0], tables[1], first.client.units))


def pieces_apart(first: Draft, second: Draft) -> tuple[list[LaidOver], list[str]]:
    """The pieces that differ, laid over each other at one scale, and the titles of those that are the same."""
    names = dict.fromkeys((*first.pieces, *second.pieces))
    pairs = [(first.pieces.get(n), second.pieces.get(n)) for n in names]
    same = [a.title for a, b in pairs if a is not None and b is not None and is_same(a, b)]
    differ = [(a, b) for a, b in pairs if a is None or b is None or not is_same(a, b)]
    boxes = [box for a, b in differ if (box := union(p.outline.bounds() for p in (a, b) if p is not None))]
    if not boxes:
        return [], same
    scale = min(min(_WIDE / max(box.width, 1.0), _HIGH / max(box.height, 1.0)) for box in boxes)
    return [_laid_over(a, b, scale, first.client.units) for a, b in differ], same


def is_same(a: Piece, b: Piece) -> bool:
    """Whether two pieces are drawn and cut alike, to `APART`: edges in their places, allowances, darts."""
    return (
        a.cut == b.cut
        and [e.name for e in a.edges] == [e.name for e in b.edges]
        and all(
            abs(one.path.length - other.path.length) <= APART
            and one.path.start.distance(other.path.start) <= APART
            and one.path.end.distance(other.path.end) <= APART
            and one.fold == other.fold
            and abs((one.allowance or 0.0) - (other.allowance or 0.0)) <= APART
            for one, other in zip(a.edges, b.edges, strict=True)
        )
        and len(a.darts) == len(b.darts)
    )


def _laid_over(a: Piece | None, b: Piece | None, scale: float, units: Units) -> LaidOver:
    there = a or b
    assert there is not None
    box = union(p.outline.bounds() for p in (a, b) if p is not None)
    assert box is not None
    gap = 8.0 / scale
    left, top, wide, high = box.left - gap, box.top - gap, box.width + 2 * gap, box.height + 2 * gap
    lengths = [_lengths(piece) if piece is not None else {} for piece in (a, b)]
    rows = list(_rows(lengths[0], lengths[1], units))
    if a is not None and b is not None and a.cut != b.cut:
        words = count_words if a.cut.cloth == b.cut.cloth else cut_words
        rows.insert(0, Row("cutting", words(a.cut), words(b.cut)))
    return LaidOver(
        there.title,
        "" if a is not None and b is not None else "first" if b is None else "second",
        f"{left:.1f} {top:.1f} {wide:.1f} {high:.1f}",
        round(wide * scale),
        round(high * scale),
        drawn(a) if a is not None else "",
        drawn(b) if b is not None else "",
        tuple(rows),
    )


def _lengths(piece: Piece) -> dict[str, float]:
    """mm of each edge, and of its allowance where there is one."""
    found = {}
    for edge in piece.edges:
        found[edge.name] = edge.path.length
        if edge.allowance:
            found[f"{edge.name}, allowance"] = edge.allowance
    return found


def _rows(first: Mapping[str, float], second: Mapping[str, float], units: Units) -> Iterator[Row]:
    for name in dict.fromkeys((*first, *second)):
        a, b = first.get(name), second.get(name)
        if a is not None and b is not None and abs(b - a) <= APART:
            continue
        by = (
            f"{'+' if b > a else '−'}{show_length(abs(b - a), units)}"
            if a is not None and b is not None
            else ""
        )
        shown = [_NONE if v is None else show_length(v, units) for v in (a, b)]
        yield Row(in_words(name), shown[0], shown[1], by)


def _cloth(draft: Draft) -> dict[str, float]:
    """mm to ask for over the counter, by use; none where nothing is laid."""
    widths = {use: width for use, words in draft.style.cloth if (width := width_in(words))}
    if not _is_whole(draft):
        return {}
    laid = lays(draft.pieces.values(), draft.cut_lines, widths)
    return {each.cloth: shop_length(each.length, draft.client.units) for each in laid if each.pieces}


def _is_whole(draft: Draft) -> bool:
    return bool(draft.pieces) and not draft.missing and not any(f.is_error for f in draft.findings)
