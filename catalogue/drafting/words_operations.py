"""Words for scissors: cutting, darts moved, fullness; each takes pieces and gives pieces, told on them in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import length, path, plain_number, point, quantity
from catalogue.drafting.operation_sentences import operation_sentence
from catalogue.drafting.registry import line_word
from catalogue.drafting.words_darts import is_empty_dart, without_dart
from catalogue.drafting.words_pieces import edge_of, piece_and_part, refused, unquoted
from catalogue.drafting.words_points import direction_of
from catalogue.geometry import Path, Point
from catalogue.language.tree import Node
from catalogue.pattern import (
    Piece,
    lengthening,
    middle_pleating,
    panels,
    parting,
    pivot,
    pleating,
    spreading,
)
from catalogue.pattern.making import PieceError

MOST_LINES = 60
"""Slashes in one spread: more would be cloth in shreds."""


def lay(
    desk: Desk, node: Node, *made: Piece, instead_of: Iterable[str] = (), paper: str | None = None
) -> None:
    """Put pieces on the table with what was done to them told on each.

    They lie on `paper`, or where the last of the pieces lay that they are made from.
    """
    words = operation_sentence(node, desk, made)
    desk.trace.operations.append(words)
    for old in instead_of:
        paper = desk.table.paper_of.get(old, paper)
        desk.table.take_away(old)
    for piece in made:
        desk.table.put(piece.with_changes(operations=(*piece.operations, words)), paper)


@contextmanager
def paper(node: Node, desk: Desk, *pieces: str) -> Iterator[None]:
    """Turn what paper can't do into a finding at this line, and mark pieces that did not come about."""
    try:
        yield
    except PieceError as error:
        desk.table.broken.update(pieces)
        raise refused(error, node, desk) from None
    except Exception:
        desk.table.broken.update(pieces)
        raise


def point_on(piece: Piece, desk: Desk, node: Node) -> Point:
    with desk.table.working_on(piece):
        return point(node, desk)


def path_on(piece: Piece, desk: Desk, node: Node) -> Path:
    with desk.table.working_on(piece):
        return path(node, desk)


def free_name(name_node: Node, desk: Desk, *allowed: str) -> str:
    """The name of a new piece, which must not be taken."""
    name = name_node.text
    if name not in allowed:
        desk.names.refuse_taken(name, name_node)
    return name


def _parts_named(parts: Sequence[Node], desk: Desk, old: Piece) -> list[tuple[str, str, Node | None]]:
    """(name, title, the point it holds) of the new parts."""
    found: list[tuple[str, str, Node | None]] = []
    for part in parts:
        name = free_name(part.name, desk, old.name)
        if any(name == f[0] for f in found):
            raise desk.trouble(
                "given-twice", f"Two parts are called “{name}”.", part.place, "Choose another name."
            )
        found.append((name, unquoted(part.title) or name.replace("_", " ").capitalize(), part.holds))
    return found


# --- scissors -----------------------------------------------------------------------------------------------


@line_word("cut_along", paper_work=True)
def cut_along(cut: Node, desk: Desk) -> None:
    """`cut front along style_line into middle "Middle front", side "Side front", edge panel`"""
    piece = desk.table.piece(cut.piece)
    named = _parts_named(cut.parts, desk, piece)
    if len(named) != 2:
        raise desk.trouble(
            "parts",
            "A line cuts a piece in two: name two parts.",
            cut.place,
            "For more parts write a second line that cuts one of them again.",
        )
    with paper(cut, desk, *(n for n, _, _ in named)):
        if cut.line.word == "cut_between":
            line = Path.line(point_on(piece, desk, cut.line.start), point_on(piece, desk, cut.line.end))
        else:
            line = path_on(piece, desk, cut.line)
        edge_name = cut.line.text if cut.line.word == "name" else "cut"
        edge_name = cut.edge.text if cut.edge else edge_name
        holds, swap = _holder(named, piece, desk)
        titles = [(n, t) for n, t, _ in named]
        first, second = parting.cut(piece, line, titles[::-1] if swap else titles, edge_name, holds)
        made = (second, first) if swap else (first, second)
    lay(desk, cut, *made, instead_of=[piece.name])


def _holder(named: list[tuple[str, str, Node | None]], piece: Piece, desk: Desk) -> tuple[Point | None, bool]:
    """The point that tells the parts apart, and whether it is the second one's."""
    for i, (_, _, holds) in enumerate(named):
        if holds is not None:
            return point_on(piece, desk, holds), i == 1
    return None, False


@line_word("cut_through", paper_work=True)
def cut_through(cut: Node, desk: Desk) -> None:
    """`cut front through armhole_dart and waist_dart into middle, side, smooth, edge panel`"""
    piece = desk.table.piece(cut.piece)
    named = _parts_named((cut.first, cut.second), desk, piece)
    darts = {d.name for d in piece.darts}
    stops = []
    with paper(cut, desk, *(n for n, _, _ in named)):
        for stop in cut.way.each:
            if stop.word == "name" and stop.text in darts:
                stops.append(panels.Stop(dart=stop.text))
            else:
                stops.append(panels.Stop(at=point_on(piece, desk, stop)))
        edge = cut.clause("cut_edge")
        holds, swap = _holder(named, piece, desk)
        titles = [(n, t) for n, t, _ in named]
        first, second = panels.cut_through(
            piece,
            stops,
            titles[::-1] if swap else titles,
            edge.edge.text if edge else "panel",
            smoothly=cut.clause("cut_smooth") is not None,
            first_holds=holds,
        )
        made = (second, first) if swap else (first, second)
    lay(desk, cut, *made, instead_of=[piece.name])


@line_word("discard", paper_work=False)
def discard(node: Node, desk: Desk) -> None:
    """`discard scrap`: a part that is not needed any more."""
    piece = desk.table.piece(node.piece)
    desk.trace.operations.append(operation_sentence(node, desk))
    desk.table.take_away(piece.name)


# --- darts moved --------------------------------------------------------------------------------------------


@line_word("close_dart", paper_work=True)
def close_dart(node: Node, desk: Desk) -> None:
    """`close front.side_dart, pivoting on bust_point, opening shoulder at shoulder_mid named shoulder_dart`"""
    piece, dart_name = piece_and_part(node.dart, desk)
    if not any(d.name == dart_name for d in piece.darts) and is_empty_dart(piece, dart_name, desk):
        with paper(node, desk), _promised(node, desk):
            for opening in (_opening(o, piece, desk) for o in node.openings):
                new = opening.name or f"{opening.edge}_dart"
                if opening.kind == "dart" and new not in piece.points:
                    piece = without_dart(piece, new, opening.at, desk)
        lay(desk, node, piece)
        return
    dart = desk.table.dart(node.dart, piece, dart_name)
    with paper(node, desk), _promised(node, desk):
        share = 1.0
        if node.share is not None:
            by = quantity(node.share.amount, desk)
            share = by.value if by.is_number else by.value / dart.intake
        about = point_on(piece, desk, node.pivot)
        openings = [_opening(o, piece, desk) for o in node.openings]
        given = sum(o.share for o in openings)
        if len(openings) > 1 and abs(given - len(openings)) < 1e-9:
            openings = [replace(o, share=1 / len(openings)) for o in openings]
        made = pivot.close_dart(piece, dart_name, about, tuple(openings), share)
    lay(desk, node, made)


@contextmanager
def _promised(node: Node, desk: Desk) -> Iterator[None]:
    """When the line fails, the darts that it would have made are known to be missing."""
    try:
        yield
    except Exception:
        for opening in node.openings:
            named = opening.clause("opening_named")
            if named is not None:
                desk.names.broken.add(named.name.text)
            elif opening.edge is not None:
                desk.names.broken.add(f"{opening.edge.text}_dart")
        raise


def _opening(node: Node, piece: Piece, desk: Desk) -> pivot.Opening:
    if node.edge is not None:
        edge_of(piece, node.edge.text, node.edge, desk)
    clauses = {c.word: c for c in node.clauses}
    return pivot.Opening(
        at=point_on(piece, desk, node.at),
        edge=node.edge.text if node.edge else "",
        kind=clauses["opening_as"].kind.text if "opening_as" in clauses else "dart",
        name=clauses["opening_named"].name.text if "opening_named" in clauses else "",
        short=length(clauses["opening_short"].amount, desk) if "opening_short" in clauses else 0.0,
        share=plain_number(clauses["opening_share"].amount, desk) if "opening_share" in clauses else 1.0,
        folded_to=clauses["opening_fold"].to.text if "opening_fold" in clauses else "",
    )


# --- fullness -----------------------------------------------------------------------------------------------


@line_word("spread", "overlap", paper_work=True)
def spread(node: Node, desk: Desk) -> None:
    """`spread skirt, 3 lines from waist to hem, nothing at waist, 4 cm at hem, as gathers`"""
    piece = desk.table.piece(node.piece)
    with paper(node, desk):
        lines, ends = _spread_lines(node.lines, piece, desk)
        amounts = _amounts(node, lines, ends, piece, desk)
        sign = -1.0 if node.word == "overlap" else 1.0
        slashes = [
            spreading.Slash(line, sign * a, sign * b) for line, a, b in zip(lines, *amounts, strict=True)
        ]
        fullness, fold = node.clause("spread_as"), node.clause("spread_fold")
        made = spreading.spread(
            piece,
            slashes,
            fullness.kind.text if fullness else "",
            fold.to.text if fold else "",
        )
    lay(desk, node, made)


def _spread_lines(node: Node, piece: Piece, desk: Desk) -> tuple[list[Path], tuple[str, str] | None]:
    """The lines to slash along; for even lines also the edges they run between."""
    if node.word == "lines_drawn":
        return [path_on(piece, desk, p) for p in node.each], None
    try:
        count = int(node.count.text)
    except ValueError:
        count = 0
    if not 1 <= count <= MOST_LINES:
        raise desk.trouble(
            "not-a-count",
            f"Expected 1 to {MOST_LINES} lines.",
            node.count.place,
            "For example: 3 lines from waist to hem",
        )
    first, second = node.start, node.end
    for edge in (first, second):
        edge_of(piece, edge.text, edge, desk)
    return spreading.even_lines(piece, count, first.text, second.text), (first.text, second.text)


def _amounts(
    node: Node, lines: list[Path], ends: tuple[str, str] | None, piece: Piece, desk: Desk
) -> tuple[list[float], list[float]]:
    """How far each line opens at its start and at its end."""
    at_start, at_end = [0.0] * len(lines), [0.0] * len(lines)
    said_at: set[str] = set()
    in_all = node.clause("spread_in_all") is not None
    nothing = node.clauses_called("spread_nothing")
    for clause in (*node.clauses_called("spread_amount"), *nothing):
        edge = edge_of(piece, clause.edge.text, clause.edge, desk)
        values = [0.0] if clause in nothing else [length(p, desk) for p in clause.amounts]
        if len(values) not in (1, len(lines)):
            raise desk.trouble(
                "amounts",
                f"There are {len(lines)} lines and {len(values)} amounts.",
                clause.place,
                "Give one amount for all, or one for each line.",
            )
        if any(v < 0 for v in values):
            raise desk.trouble(
                "amounts",
                "An amount cannot be negative here.",
                clause.place,
                "To overlap the paper write overlap.",
            )
        each = values * len(lines) if len(values) == 1 else values
        if in_all and len(values) == 1:
            each = [v / len(lines) for v in each]
        said_at.add(edge.name)
        for i, line in enumerate(lines):
            starts = (
                edge.name == ends[0]
                if ends
                else edge.path.nearest(line.start)[1] <= edge.path.nearest(line.end)[1]
            )
            (at_start if starts else at_end)[i] = each[i]
    if len(said_at) != 2:
        raise desk.trouble(
            "amounts",
            "Say how far the lines open at each end.",
            node.place,
            "For example: , nothing at waist, 4 cm at hem",
        )
    return at_start, at_end


@line_word("pleat", paper_work=True)
def pleat(node: Node, desk: Desk) -> None:
    """`pleat skirt along pleat_line, knife pleat, depth 3 cm, fold to left, free at hem`

    Along the fold or centre edge of a half piece (`along back.centre`) half of a box or inverted pleat is added to it.
    """
    piece = desk.table.piece(node.piece)
    named = node.clause("pleat_named")
    free = [clause.edge for clause in node.clauses_called("pleat_free")]
    for edge in free:
        edge_of(piece, edge.text, edge, desk)
    with paper(node, desk):
        line = _pleat_line(node.line, piece, desk)
        middle = middle_pleating.middle_edge(piece, line)
        left = _folded_to_left(node.clause("pleat_fold"), line, desk)
        taken = {p.name for p in piece.pleats}
        name = (
            named.name.text
            if named
            else next(n for n in (f"pleat_{i}" for i in range(1, 999)) if n not in taken)
        )
        if name in taken:
            raise desk.trouble("given-twice", f"“{piece.name}” has a pleat “{name}” already.", node.place)
        kind, depth, open_at = node.kind.text, length(node.depth, desk), [edge.text for edge in free]
        if middle is not None:
            made = middle_pleating.middle_pleat(piece, name, middle.name, kind, depth, open_at)
        else:
            made = pleating.pleat(piece, name, line, kind, depth, left, open_at)
    lay(desk, node, made)


def _pleat_line(node: Node, piece: Piece, desk: Desk) -> Path:
    """A line, or an edge of the piece by its name alone."""
    own = next((e for e in piece.edges if node.word == "name" and e.name == node.text), None)
    if own is not None and node.text not in {*desk.names.values, *desk.names.broken, *piece.points}:
        return own.path
    return path_on(piece, desk, node)


def _folded_to_left(fold: Node | None, line: Path, desk: Desk) -> bool:
    """Whether the fold that is seen points to the left of the line's travel."""
    if fold is None:
        return False
    side = (line.end - line.start).unit().normal().dot(direction_of(fold.to.text))
    if abs(side) < 0.1:
        raise desk.trouble(
            "no-side",
            "The pleat can't be folded along its own line.",
            fold.place,
            "Its line runs that way: fold to a side of it.",
        )
    return side < 0


@line_word("fold_out", paper_work=True)
def fold_out(node: Node, desk: Desk) -> None:
    """`fold out back, 1.5 cm at centre_waist, nothing at side_waist`"""
    piece = desk.table.piece(node.piece)
    with paper(node, desk):
        amount = length(node.amount, desk)
        if amount <= 0.005:
            desk.trace.operations.append(operation_sentence(node, desk))
            return
        made = lengthening.fold_out(
            piece, point_on(piece, desk, node.at), amount, point_on(piece, desk, node.hinge)
        )
    lay(desk, node, made)


@line_word("lengthen", "shorten", paper_work=True)
def lengthen(node: Node, desk: Desk) -> None:
    """`lengthen front at hip_line by 3 cm`"""
    piece = desk.table.piece(node.piece)
    with paper(node, desk):
        by = length(node.amount, desk)
        line = path_on(piece, desk, node.line)
        made = (
            piece
            if abs(by) < 0.005
            else lengthening.lengthen(piece, line, by if node.word == "lengthen" else -by)
        )
    lay(desk, node, made)
