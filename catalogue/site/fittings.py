"""The fittings on the page of a draft: what was changed since the toile, each with the pieces before and after it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from markupsafe import Markup, escape

from catalogue.days import day_words
from catalogue.drafting.model import Draft, EdgeMoved, FittingDone
from catalogue.drawing.markup import titled, view_box
from catalogue.drawing.page_svg import elements, piece_strokes
from catalogue.drawing.piece_lines import Look
from catalogue.geometry import Box, Point, Transform, union
from catalogue.pattern import Piece
from catalogue.pattern.moving import moved
from catalogue.site.words import in_words

ROOM = (900.0, 460.0)
"""Width and height that the figure may take on the page, px."""
LETTER, WHITE = 13.0, 20.0
SIGN = 1.4
"""What a millimetre of signs is drawn as, px."""

SHOWN = 0.4
"""mm: an edge whose length changes by less is not listed."""

_SIDES = {"both": "both sides", "left": "left side", "right": "right side"}


@dataclass(frozen=True, slots=True)
class EdgeChange:
    """An edge whose sewn length a fitting changed."""

    edge: str
    before: str
    after: str
    change: str


@dataclass(frozen=True, slots=True)
class FittingView:
    """A line of a fitting as it was carried out.

    Attributes:
        key: unique on the page.
        alteration: slug in the handbook; "" for drafting lines of the client's own.
        text: as the client's file has it. seen: what was seen; may be empty.
        origin: whether it belongs to the body or to this garment, and since when.
        pieces: titles of the pieces of this draft that it changed.
        figure: those pieces before and after; empty where nothing is drawn.
        seams: the seams that it moved, each with whether it still matches.
    """

    key: str
    day: str
    title: str
    alteration: str
    amount: str
    side: str
    text: str
    seen: str
    origin: str
    pieces: tuple[str, ...]
    operations: tuple[str, ...]
    edges: tuple[EdgeChange, ...]
    seams: tuple[tuple[str, bool], ...]
    follows: str
    remark: str
    figure: Markup


def fitting_views(draft: Draft, show: Callable[[float], str]) -> Iterator[FittingView]:
    """The fittings of a draft in the order in which they were carried out."""
    styles = {style.slug: style.title for style in (draft.style, *draft.style.chain)}
    for n, done in enumerate(draft.fittings, 1):
        titles = {piece.name: piece.title for piece in done.before}
        yield FittingView(
            key=f"{n}",
            day=day_words(done.date, draft.client.units.dates),
            title=done.title,
            alteration="" if done.alteration == "correction" else done.alteration,
            amount=show(done.amount) if done.amount else "",
            side=_SIDES[done.side],
            text=done.text,
            seen=done.seen,
            origin=_origin(done, draft, styles),
            pieces=tuple(draft.pieces[name].title for name in done.pieces if name in draft.pieces),
            operations=done.operations,
            edges=tuple(
                _change(each, titles, show) for each in done.edges if abs(each.after - each.before) >= SHOWN
            ),
            seams=tuple(_seams(done, draft)),
            follows=done.follows,
            remark=done.remark,
            figure=before_and_after(done.before, done.after, f"fitting-{n}", done.title),
        )


def _origin(done: FittingDone, draft: Draft, styles: dict[str, str]) -> str:
    seen_on = styles.get(done.garment, in_words(done.garment))
    on = styles.get(done.on, in_words(done.on))
    day = day_words(done.date, draft.client.units.dates)
    if done.source == "garment":
        return f"Stays with this garment, since {day}."
    if done.on == draft.style.slug:
        return f"Belongs to the body: in every style cut from this block since {day}."
    seen = "" if done.garment == done.on else f", seen on “{seen_on}”"
    return f"Belongs to the body: from the block “{on}”{seen}, in every style cut from it since {day}."


def _change(each: EdgeMoved, titles: dict[str, str], show: Callable[[float], str]) -> EdgeChange:
    by = each.after - each.before
    return EdgeChange(
        f"{titles.get(each.piece, in_words(each.piece))}, {in_words(each.edge)}",
        show(each.before),
        show(each.after),
        f"{show(abs(by))} {'longer' if by > 0 else 'shorter'}",
    )


def _seams(done: FittingDone, draft: Draft) -> Iterator[tuple[str, bool]]:
    """The seams of the draft on the pieces that were changed, whose edges were."""
    edges = {each.edge for each in done.edges if abs(each.after - each.before) >= SHOWN}
    for seam in draft.seams:
        sides = [edge for side in (seam.first, seam.second) for edge in side.split(" and ")]
        touched = any(
            edge.partition(".")[0] in done.pieces
            and edge.partition(".")[2].removeprefix("right_").removeprefix("left_") in edges
            for edge in sides
        )
        if touched:
            words = " to ".join(
                " and ".join(_edge_words(edge, draft) for edge in side.split(" and "))
                for side in (seam.first, seam.second)
            )
            yield words, seam.ok


def _edge_words(edge: str, draft: Draft) -> str:
    piece, _, rest = edge.partition(".")
    known = draft.pieces.get(piece)
    return f"{known.title}, {in_words(rest)}" if known is not None else in_words(edge)


def before_and_after(
    before: Sequence[Piece], after: Sequence[Piece], id: str, title: str, room: tuple[float, float] = ROOM
) -> Markup:
    """Pieces before an alteration (dashed) and after it (in ink) on one another, side by side; empty without pieces."""
    pairs = list(zip(before, after, strict=True))
    if not pairs:
        return Markup("")
    laid: list[tuple[Piece, Piece]] = []
    right = 0.0
    for old, new in pairs:
        box = union(p.outline.bounds() for p in (old, new))
        assert box is not None
        by = Transform.translation(Point(right - box.left, -box.top))
        laid.append((moved(old, by), moved(new, by)))
        right += box.width + 0.12 * max(box.width, box.height)
    frame = union(p.outline.bounds() for both in laid for p in both)
    assert frame is not None
    px = max(frame.width / (room[0] - 2 * WHITE), frame.height / (room[1] - 4 * WHITE), 0.05)
    frame = Box(
        frame.left - WHITE * px,
        frame.top - WHITE * px,
        frame.right + WHITE * px,
        frame.bottom + 2.2 * WHITE * px,
    )
    plain = Look(scale=SIGN * px, filled=True, fold_marks=False, grain=False, largest_notch=12 * px)
    parts = [f'<g class="before">{elements(piece_strokes(old, plain))}</g>' for old, _ in laid]
    bare = Look(scale=SIGN * px, filled=False, fold_marks=False, grain=True, largest_notch=12 * px)
    for old, new in laid:
        parts.append(f'<g class="new">{elements(piece_strokes(new, bare))}</g>')
        box = union(p.outline.bounds() for p in (old, new))
        assert box is not None
        at = Point((box.left + box.right) / 2, box.bottom + 1.4 * LETTER * px)
        parts.append(f'<text text-anchor="middle" x="{at.x:.1f}" y="{at.y:.1f}">{escape(new.title)}</text>')
    words = "Dashed: before. In ink: after. " + ", ".join(new.title for _, new in laid) + "."
    attributes, said = titled(f"{title}: before and after", words, id)
    return Markup(
        f'<svg class="paper" viewBox="{view_box(frame)}" width="{frame.width / px:.0f}" '
        f'height="{frame.height / px:.0f}" font-size="{LETTER * px:.1f}" {attributes}>{said}{"".join(parts)}</svg>'
    )
