"""Words for tape, tracing and truing: pieces joined, drawn off, and their edges redrawn to match."""

from __future__ import annotations

from functools import partial

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import length
from catalogue.drafting.registry import line_word
from catalogue.drafting.table import Traced
from catalogue.drafting.words_operations import free_name, lay, paper, path_on, point_on
from catalogue.drafting.words_pieces import cut_from, edge_of, piece_and_part, unquoted
from catalogue.language.tree import Node
from catalogue.pattern import joining, tracing, truing

# --- tape ---------------------------------------------------------------------------------------------------


@line_word("tape", paper_work=True)
def tape(node: Node, desk: Desk) -> None:
    """`tape front_yoke.shoulder to back_yoke.shoulder as yoke "Yoke", cut 2 on fold`

    Without a cut clause it is cut as the second piece was.
    """
    moving, moving_edge = piece_and_part(node.edge, desk)
    still, still_edge = piece_and_part(node.other, desk)
    edge_of(moving, moving_edge, node.edge, desk)
    edge_of(still, still_edge, node.other, desk)
    if moving.name == still.name:
        raise desk.trouble(
            "same-piece",
            "A piece can't be taped to itself.",
            node.other.place,
            "To join it to its mirror image write: unfold PIECE on EDGE.",
        )
    name = free_name(node.name, desk, moving.name, still.name)
    title = unquoted(node.title) or name.replace("_", " ").capitalize()
    with paper(node, desk, name):
        made = joining.tape(moving, moving_edge, still, still_edge, name, title)
        if node.clauses:
            made = made.with_changes(cut=cut_from(node.clauses, desk))
    lay(desk, node, made, instead_of=[moving.name, still.name])


@line_word("unfold", paper_work=True)
def unfold(node: Node, desk: Desk) -> None:
    """`unfold front on centre`"""
    piece = desk.table.piece(node.piece)
    edge_of(piece, node.edge.text, node.edge, desk)
    with paper(node, desk):
        made = joining.unfold(piece, node.edge.text)
    lay(desk, node, made)


@line_word("trace", paper_work=True)
def trace(node: Node, desk: Desk) -> None:
    """`trace facing "Neck facing" from front, 6 cm from neck, cut 1 on fold of interfacing`"""
    name = free_name(node.name, desk)
    title = unquoted(node.title) or name.replace("_", " ").capitalize()
    piece = desk.table.piece(node.piece)
    cuts = node.clauses_called("cut_clause")
    to_cut = cut_from(cuts, desk) if cuts else None
    band, along = node.clause("trace_band"), node.clause("trace_along")
    with paper(node, desk, name):
        if band is not None:
            for edge in band.edges:
                edge_of(piece, edge.text, edge, desk)
            edges = tuple(edge.text for edge in band.edges)
            again = partial(
                tracing.band,
                name=name,
                title=title,
                edges=edges,
                width=length(band.depth, desk),
                to_cut=to_cut,
            )
            made = again(piece)
            desk.table.traced[name] = Traced(piece.name, edges, again)
        elif along is not None:
            holds = point_on(piece, desk, along.holds) if along.holds else None
            made = tracing.along(piece, name, title, path_on(piece, desk, along.line), holds, to_cut)
        else:
            again = partial(tracing.copy, name=name, title=title, to_cut=to_cut)
            made = again(piece)
            if made.cut.cloth != piece.cut.cloth:  # else it may be another part of the garment
                desk.table.traced[name] = Traced(piece.name, tuple(e.name for e in piece.edges), again)
    lay(desk, node, made, paper=title)


# --- truing -------------------------------------------------------------------------------------------------


@line_word("true_across", paper_work=False)
def true_across(node: Node, desk: Desk) -> None:
    """`true front.neck and back.neck across front.shoulder and back.shoulder`"""
    given = (node.edge, node.other, node.seam, node.other_seam)
    sides = [piece_and_part(each, desk) for each in given]
    for each, (piece, edge) in zip(given, sides, strict=True):
        edge_of(piece, edge, each, desk)
    first, second = sides[0][0], sides[1][0]
    if first.name == second.name:
        raise desk.trouble(
            "same-piece", "Two pieces are needed here.", node.other.place, "Name an edge of another piece."
        )
    if {sides[2][0].name, sides[3][0].name} != {first.name, second.name}:
        raise desk.trouble(
            "wrong-piece",
            "The seam must be between the same two pieces.",
            node.seam.place,
            f"Name an edge of {first.name} and one of {second.name}.",
        )
    if sides[2][0].name != first.name:
        sides[2], sides[3] = sides[3], sides[2]
    with paper(node, desk):
        made = truing.true_across(first, sides[0][1], sides[2][1], second, sides[1][1], sides[3][1])
    lay(desk, node, *made)


@line_word("square_at", paper_work=False)
def square_at(node: Node, desk: Desk) -> None:
    """`square front.neck to centre`"""
    piece, edge = piece_and_part(node.edge, desk)
    edge_of(piece, edge, node.edge, desk)
    edge_of(piece, node.to.text, node.to, desk)
    with paper(node, desk):
        made = truing.squared(piece, edge, node.to.text)
    lay(desk, node, made)


@line_word("level_with", paper_work=False)
def level_with(node: Node, desk: Desk) -> None:
    """`level front.side and back.side at hem`"""
    first, edge = piece_and_part(node.edge, desk)
    second, other = piece_and_part(node.other, desk)
    edge_of(first, edge, node.edge, desk)
    edge_of(second, other, node.other, desk)
    for piece in (first, second):
        edge_of(piece, node.at.text, node.at, desk)
    if first.name == second.name:
        raise desk.trouble(
            "same-piece", "Two pieces are needed here.", node.other.place, "Name an edge of another piece."
        )
    with paper(node, desk):
        made = truing.level(first, edge, second, other, node.at.text)
    lay(desk, node, *made)


@line_word("redraw", paper_work=False)
def redraw(node: Node, desk: Desk) -> None:
    """`redraw front.hem along new_hem`"""
    piece, edge = piece_and_part(node.edge, desk)
    edge_of(piece, edge, node.edge, desk)
    with paper(node, desk):
        made = truing.redraw(piece, edge, path_on(piece, desk, node.line))
    lay(desk, node, made)


@line_word("straighten", "smoothen", paper_work=False)
def redraw_plain(node: Node, desk: Desk) -> None:
    """`redraw front.hem straight`, `redraw front.hem smooth`, `redraw front.side smooth, through A and B`"""
    piece, edge = piece_and_part(node.edge, desk)
    edge_of(piece, edge, node.edge, desk)
    straight = node.word == "straighten"
    with paper(node, desk):
        through = [] if straight else [point_on(piece, desk, p) for p in node.through]
        made = truing.straighten(piece, edge) if straight else truing.smoothed(piece, edge, through)
    lay(desk, node, made)


@line_word("shape_hem", paper_work=False)
def shape_hem(node: Node, desk: Desk) -> None:
    """`shape front.hem, 3 cm up at side, 4 cm down at centre, pointed`"""
    piece, edge = piece_and_part(node.edge, desk)
    edge_of(piece, edge, node.edge, desk)
    with paper(node, desk):
        shifts = {}
        for clause in node.clauses_called("shape_shift"):
            way = clause.direction
            if way.text not in ("up", "down"):
                raise desk.trouble("no-side", "A hem goes up or down.", way.place, "Up makes it shorter.")
            edge_of(piece, clause.edge.text, clause.edge, desk)
            shifts[clause.edge.text] = length(clause.amount, desk) * (1 if way.text == "up" else -1)
        made = truing.shape_edge(piece, edge, shifts, node.clause("shape_pointed") is not None)
    lay(desk, node, made)


@line_word("extend_edge", paper_work=False)
def extend_edge(node: Node, desk: Desk) -> None:
    """`extend front.centre by 2 cm as front_edge`"""
    piece, edge = piece_and_part(node.edge, desk)
    edge_of(piece, edge, node.edge, desk)
    with paper(node, desk):
        by = length(node.amount, desk)
        if by <= 0:
            raise desk.trouble(
                "amounts",
                "An edge is extended by more than 0.",
                node.amount.place,
                "To move an edge inwards, cut the piece along a line.",
            )
        made = truing.extend_edge(piece, edge, by, node.name.text if node.name is not None else "")
    lay(desk, node, made)
