"""What the first page says of seam allowances: how wide they are, at seams and at hems, and which pieces have none."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from catalogue.lengths import Units, show_length
from catalogue.pattern import Edge, Piece
from catalogue.pattern.allowance import turned_up

_NONE = "Seam allowance not included"


def allowance_facts(pieces: Mapping[str, Sequence[Piece]], units: Units) -> str:
    """In words, "Seam allowance included: 1 cm to 1.5 cm, hems 4 cm; none on H and K".

    Args:
        pieces: by its letter each piece, as it is for one client or for several.
        units: in which lengths are shown.
    """
    edges = [e for group in pieces.values() for piece in group for e in piece.edges if _has(e)]
    if not edges:
        return _NONE
    widths = _span((e for e in edges if not turned_up(e)), units)
    hems = _span((e for e in edges if turned_up(e)), units)
    told = widths if widths == hems or not hems else f"{widths}, hems {hems}" if widths else f"hems {hems}"
    bare = [letter for letter, group in pieces.items() if not _some(group)]
    partly = [
        letter for letter, group in pieces.items() if _some(group) and not all(_some([p]) for p in group)
    ]
    words = f"Seam allowance included: {told}"
    if bare:
        words += f"; none on {_listed(bare)}"
    if partly:
        words += f"; not for all on {_listed(partly)}"
    return words


def _has(edge: Edge) -> bool:
    return bool(edge.allowance) and not edge.fold


def _some(pieces: Iterable[Piece]) -> bool:
    return any(_has(e) for p in pieces for e in p.edges)


def _span(edges: Iterable[Edge], units: Units) -> str:
    """The widths of some edges' allowances: the one they share, or the least and the largest."""
    widths = [e.allowance or 0.0 for e in edges]
    if not widths:
        return ""
    shown = dict.fromkeys(show_length(width, units) for width in (min(widths), max(widths)))
    return " to ".join(shown)


def _listed(letters: Sequence[str]) -> str:
    """ "H", "H and K", "H, I and K"."""
    return " and ".join([", ".join(letters[:-1]), letters[-1]] if len(letters) > 1 else letters)
