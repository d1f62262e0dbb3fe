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
from catalogue.geometry import Path, Point, contains
from catalogue.language.tree import Node
from catalogue.pattern import (
    Piece,
    panels,
    parting,
    pivot,
)
from catalogue.pattern.making import PieceError
from catalogue.pattern.measure import ON_EDGE


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
        desk.table.cut_up.add(old)
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
        _tell_extended(cut, piece, line, desk)
        made = (second, first) if swap else (first, second)
    lay(desk, cut, *made, instead_of=[piece.name])


def bracketed(text: str) -> str:
    """A phrase as it must stand inside another: in brackets where it is more than a name and has none."""
    depth = 0
    for n, letter in enumerate(text):
        depth += (letter == "(") - (letter == ")")
        if depth == 0 and n < len(text) - 1:
            return f"({text})" if " " in text else text
    return text


def _tell_extended(cut: Node, piece: Piece, line: Path, desk: Desk) -> None:
    """Say so where the cut does not reach the edge and is run on to it."""
    off = short_of_edge(piece, line)
    if off is None:
        return
    said_so = bracketed(cut.line.text)
    if cut.line.word == "cut_between":
        said_so = f"(line {bracketed(cut.line.start.text)} to {bracketed(cut.line.end.text)})"
    desk.messages.warn(
        "cut-extended",
        f"The cut ends inside “{piece.title}”, {desk.show_length(off)} from its edge, and is run on to it.",
        cut.line.place,
        f"Write: cut {piece.name} along {said_so} extended into …",
    )


def short_of_edge(piece: Piece, line: Path, at_least: float = ON_EDGE) -> float | None:
    """How far from the edge a line ends inside a piece, mm; None where both ends are no farther than `at_least`."""
    for at in (line.start, line.end):
        if contains(piece.outline, at, 0.0) and (off := piece.outline.nearest(at)[1]) > at_least:
            return off
    return None


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
    desk.table.cut_up.add(piece.name)


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
