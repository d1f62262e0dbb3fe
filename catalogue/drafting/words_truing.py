"""Words for tape, tracing and truing: pieces joined, drawn off, and their edges redrawn to match."""

from __future__ import annotations

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import length, line_word
from catalogue.drafting.words_operations import free_name, lay, paper, path_on, point_on
from catalogue.drafting.words_pieces import cut_from, edge_of, piece_and_part, unquoted
from catalogue.language.tree import Node
from catalogue.pattern import joining, tracing, truing

# --- tape ---------------------------------------------------------------------------------------------------


@line_word("tape")
def tape(node: Node, desk: Desk) -> None:
    """`tape front_yoke.shoulder to back_yoke.shoulder as yoke "Yoke", cut 2 on fold`

    Without a cut clause it is cut as the second piece was.
    """
    moving, moving_edge = piece_and_part(node.part(0), desk)
    still, still_edge = piece_and_part(node.part(1), desk)
    edge_of(moving, moving_edge, node.part(0), desk)
    edge_of(still, still_edge, node.part(1), desk)
    if moving.name == still.name:
        raise desk.trouble(
            "same-piece",
            "A piece can't be taped to itself.",
            node.part(1).place,
            "To join it to its mirror image write: unfold PIECE on EDGE.",
        )
    name = free_name(node.part(2), desk, moving.name, still.name)
    title = unquoted(node.parts[3]) or name.replace("_", " ").capitalize()
    clauses = node.all("cut_clause")
    with paper(node, desk, name):
        made = joining.tape(moving, moving_edge, still, still_edge, name, title)
        if clauses:
            made = made.with_changes(cut=cut_from(clauses, desk))
    lay(desk, node, made, instead_of=[moving.name, still.name])


@line_word("unfold")
def unfold(node: Node, desk: Desk) -> None:
    """`unfold front on centre`"""
    piece = desk.piece(node.part(0))
    edge_of(piece, node.part(1).text, node.part(1), desk)
    with paper(node, desk):
        made = joining.unfold(piece, node.part(1).text)
    lay(desk, node, made)


@line_word("trace")
def trace(node: Node, desk: Desk) -> None:
    """`trace facing "Neck facing" from front, 6 cm from neck, cut 1 on fold of interfacing`"""
    name = free_name(node.part(0), desk)
    title = unquoted(node.parts[1]) or name.replace("_", " ").capitalize()
    piece = desk.piece(node.part(2))
    to_cut = cut_from(node.all("cut_clause"), desk) if node.all("cut_clause") else None
    bands, lines = node.all("trace_band"), node.all("trace_along")
    with paper(node, desk, name):
        if bands:
            clause = bands[0]
            names = [p for p in clause.parts[1:] if p is not None]
            for edge in names:
                edge_of(piece, edge.text, edge, desk)
            made = tracing.band(
                piece, name, title, [n.text for n in names], length(clause.part(0), desk), to_cut
            )
        elif lines:
            holds = point_on(piece, desk, lines[0].part(1)) if lines[0].parts[1] is not None else None
            made = tracing.along(piece, name, title, path_on(piece, desk, lines[0].part(0)), holds, to_cut)
        else:
            made = tracing.copy(piece, name, title, to_cut)
    lay(desk, node, made, paper=title)


# --- truing -------------------------------------------------------------------------------------------------


@line_word("true_across")
def true_across(node: Node, desk: Desk) -> None:
    """`true front.neck and back.neck across front.shoulder and back.shoulder`"""
    sides = [piece_and_part(node.part(i), desk) for i in range(4)]
    for i, (piece, edge) in enumerate(sides):
        edge_of(piece, edge, node.part(i), desk)
    first, second = sides[0][0], sides[1][0]
    if first.name == second.name:
        raise desk.trouble(
            "same-piece", "Two pieces are needed here.", node.part(1).place, "Name an edge of another piece."
        )
    if {sides[2][0].name, sides[3][0].name} != {first.name, second.name}:
        raise desk.trouble(
            "wrong-piece",
            "The seam must be between the same two pieces.",
            node.part(2).place,
            f"Name an edge of {first.name} and one of {second.name}.",
        )
    if sides[2][0].name != first.name:
        sides[2], sides[3] = sides[3], sides[2]
    with paper(node, desk):
        made = truing.true_across(first, sides[0][1], sides[2][1], second, sides[1][1], sides[3][1])
    lay(desk, node, *made)


@line_word("square_at")
def square_at(node: Node, desk: Desk) -> None:
    """`square front.neck to centre`"""
    piece, edge = piece_and_part(node.part(0), desk)
    edge_of(piece, edge, node.part(0), desk)
    edge_of(piece, node.part(1).text, node.part(1), desk)
    with paper(node, desk):
        made = truing.squared(piece, edge, node.part(1).text)
    lay(desk, node, made)


@line_word("level_with")
def level_with(node: Node, desk: Desk) -> None:
    """`level front.side and back.side at hem`"""
    first, edge = piece_and_part(node.part(0), desk)
    second, other = piece_and_part(node.part(1), desk)
    edge_of(first, edge, node.part(0), desk)
    edge_of(second, other, node.part(1), desk)
    for piece in (first, second):
        edge_of(piece, node.part(2).text, node.part(2), desk)
    if first.name == second.name:
        raise desk.trouble(
            "same-piece", "Two pieces are needed here.", node.part(1).place, "Name an edge of another piece."
        )
    with paper(node, desk):
        made = truing.level(first, edge, second, other, node.part(2).text)
    lay(desk, node, *made)


@line_word("redraw")
def redraw(node: Node, desk: Desk) -> None:
    """`redraw front.hem along new_hem`"""
    piece, edge = piece_and_part(node.part(0), desk)
    edge_of(piece, edge, node.part(0), desk)
    with paper(node, desk):
        made = truing.redraw(piece, edge, path_on(piece, desk, node.part(1)))
    lay(desk, node, made)


@line_word("straighten", "smoothen")
def redraw_plain(node: Node, desk: Desk) -> None:
    """`redraw front.hem straight`, `redraw front.hem smooth`, `redraw front.side smooth, through A and B`"""
    piece, edge = piece_and_part(node.part(0), desk)
    edge_of(piece, edge, node.part(0), desk)
    with paper(node, desk):
        through = [point_on(piece, desk, p) for p in node.parts[1:] if p is not None]
        straight = node.word == "straighten"
        made = truing.straighten(piece, edge) if straight else truing.smoothed(piece, edge, through)
    lay(desk, node, made)


@line_word("shape_hem")
def shape_hem(node: Node, desk: Desk) -> None:
    """`shape front.hem, 3 cm up at side, 4 cm down at centre, pointed`"""
    piece, edge = piece_and_part(node.part(0), desk)
    edge_of(piece, edge, node.part(0), desk)
    with paper(node, desk):
        shifts = {}
        for clause in node.all("shape_shift"):
            way = clause.part(1)
            if way.text not in ("up", "down"):
                raise desk.trouble("no-side", "A hem goes up or down.", way.place, "Up makes it shorter.")
            edge_of(piece, clause.part(2).text, clause.part(2), desk)
            shifts[clause.part(2).text] = length(clause.part(0), desk) * (1 if way.text == "up" else -1)
        made = truing.shape_edge(piece, edge, shifts, bool(node.all("shape_pointed")))
    lay(desk, node, made)


@line_word("extend_edge")
def extend_edge(node: Node, desk: Desk) -> None:
    """`extend front.centre by 2 cm as front_edge`"""
    piece, edge = piece_and_part(node.part(0), desk)
    edge_of(piece, edge, node.part(0), desk)
    with paper(node, desk):
        by = length(node.part(1), desk)
        if by <= 0:
            raise desk.trouble(
                "amounts",
                "An edge is extended by more than nothing.",
                node.part(1).place,
                "To move an edge inwards, cut the piece along a line.",
            )
        made = truing.extend_edge(piece, edge, by, node.parts[2].text if node.parts[2] is not None else "")
    lay(desk, node, made)
