"""A seam that does not match: its pieces side by side, both edges marked with their names and lengths."""

from __future__ import annotations

from collections.abc import Callable
from math import inf

from markupsafe import Markup, escape

from catalogue.drafting.model import Draft, Seam
from catalogue.drawing.arrange import arrange
from catalogue.drawing.markup import page_path_data, pair, tenths, titled, view_box
from catalogue.drawing.page_svg import elements, piece_strokes
from catalogue.drawing.piece_lines import Look
from catalogue.geometry import union
from catalogue.pattern import Piece
from catalogue.site.labels import Labels, rough
from catalogue.site.words import in_words

ROOM = (620.0, 420.0)
"""Width and height that the figure may take on the page, px."""
LETTER, WHITE = 13.0, 26.0
SIGN = 1.6
"""What a millimetre of signs is drawn as, px."""


def seam_figure(draft: Draft, seam: Seam, show: Callable[[float], str], id: str) -> Markup:
    """Both sides of a seam drawn at one scale, the edges that should meet heavy; empty when no piece is known.

    Args:
        show: writes a length in mm in the client's units.
        id: unique on the page.
    """
    edges = [
        (piece, edge)
        for side in (seam.first, seam.second)
        for piece, _, edge in (named.strip().partition(".") for named in side.split(" and "))
        if piece in draft.pieces and any(e.name == edge for e in draft.pieces[piece].edges)
    ]
    pieces = [draft.pieces[name] for name in dict.fromkeys(name for name, _ in edges)]
    if not pieces:
        return Markup("")
    boxes = [p.outline.bounds() for p in pieces]
    gap = 0.25 * max(max(b.width, b.height) for b in boxes)
    laid = {p.piece.name: p.moved() for p in arrange(pieces, gap=gap)}
    box = union(p.outline.bounds() for p in laid.values())
    assert box is not None
    px = max(box.width / (ROOM[0] - 4 * WHITE), box.height / (ROOM[1] - 2 * WHITE), 0.05)
    frame = box.grown(WHITE * px)
    labels = Labels(frame, LETTER * px)
    for piece in laid.values():
        labels.add_path(piece.outline)
    look = Look(scale=SIGN * px, filled=True, fold_marks=False, grain=False, largest_notch=inf)
    parts = [f'<g class="old">{elements(piece_strokes(p, look))}</g>' for p in laid.values()]
    parts += [_edge(laid[name], edge, show, labels) for name, edge in edges]
    words = f"{seam.detail or 'The edges differ'}. Both edges are drawn as heavy lines."
    attributes, said = titled(f"{in_words(seam.first)} and {in_words(seam.second)} do not match", words, id)
    return Markup(
        f'<svg class="paper" viewBox="{view_box(frame)}" width="{frame.width / px:.0f}" '
        f'height="{frame.height / px:.0f}" font-size="{LETTER * px:.1f}" {attributes}>{said}{"".join(parts)}</svg>'
    )


def _edge(piece: Piece, name: str, show: Callable[[float], str], labels: Labels) -> str:
    path = piece.edge(name).path
    drawn = f'<path class="unmet" d="{page_path_data(path)}"/>'
    words = f"{in_words(name)} {show(path.length)}"
    label = labels.along(rough(*path.segments), words)
    if label is None:
        label = labels.beside(path.point_at(path.length / 2), words)
    anchor = f' text-anchor="{label.anchor}"' if label.anchor != "start" else ""
    turn = f' transform="rotate({label.angle:.1f} {pair(label.at)})"' if abs(label.angle) > 0.5 else ""
    at = f'x="{tenths(label.at.x)}" y="{tenths(label.at.y)}"'
    return f'{drawn}<text class="length unmet-name"{anchor}{turn} {at}>{escape(words)}</text>'
