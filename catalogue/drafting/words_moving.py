"""Words that move a piece: the whole of it elsewhere on its paper, or points of its outline, the edges following."""

from __future__ import annotations

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import degrees, length
from catalogue.drafting.registry import line_word
from catalogue.drafting.words_operations import lay, paper, path_on, point_on
from catalogue.drafting.words_pieces import edge_of, piece_and_part
from catalogue.drafting.words_points import direction_of
from catalogue.geometry import Point, Transform
from catalogue.language.tree import Node
from catalogue.pattern import Piece
from catalogue.pattern.bust import dart_shifted, notch_shifted, widened
from catalogue.pattern.moving import moved
from catalogue.pattern.shifting import Shift, Turn, shifted


@line_word("move_piece", paper_work=False)
def move_piece(node: Node, desk: Desk) -> None:
    """`move front 5 cm right and 2 cm down`"""
    piece = desk.table.piece(node.piece)
    by = Point(0.0, 0.0)
    with desk.table.working_on(piece):
        for move in node.by.each:
            by = by + direction_of(move.direction.text) * length(move.amount, desk)
    lay(desk, node, moved(piece, Transform.translation(by)))


@line_word("turn_piece", paper_work=False)
def turn_piece(node: Node, desk: Desk) -> None:
    """`turn front 12 degrees anticlockwise about bust_point`"""
    piece = desk.table.piece(node.piece)
    with paper(node, desk):
        centre = point_on(piece, desk, node.centre)
        by = degrees(node.amount, desk)
    anticlockwise = node.turn is not None and node.turn.text == "anticlockwise"
    lay(desk, node, moved(piece, Transform.rotation(-by if anticlockwise else by, centre)))


@line_word("mirror_piece", paper_work=False)
def mirror_piece(node: Node, desk: Desk) -> None:
    """`mirror front over front.centre`: the piece turned over along a straight line."""
    piece = desk.table.piece(node.piece)
    with paper(node, desk):
        line = path_on(piece, desk, node.line)
    if line.start.distance(line.end) < 1e-6 or line.length - line.start.distance(line.end) > 0.01:
        raise desk.trouble(
            "not-straight",
            f"“{node.line.text}” is not straight, so nothing can be mirrored over it.",
            node.line.place,
            "Write the line between two points: (line A to B).",
        )
    lay(desk, node, moved(piece, Transform.reflection(line.start, line.end), turns_over=True))


@line_word("shift_points", paper_work=True)
def shift_points(node: Node, desk: Desk) -> None:
    """`shift back, 6 mm down at shoulder_tip, 6 mm down and 2 mm right at underarm, nothing at hip_side`"""
    piece = desk.table.piece(node.piece)
    shifts: list[Shift] = []
    turns: list[Turn] = []
    with paper(node, desk):
        for each in node.shifts:
            if each.word == "shift_to":
                start = point_on(piece, desk, each.start)
                shifts.append(Shift(start, point_on(piece, desk, each.end) - start))
            elif each.word == "shift_turn":
                with desk.table.working_on(piece):
                    by = degrees(each.amount, desk)
                if each.turn is not None and each.turn.text == "anticlockwise":
                    by = -by
                ends = (point_on(piece, desk, each.start), point_on(piece, desk, each.end))
                turns.append(Turn(*ends, point_on(piece, desk, each.centre), by))
            else:
                way = Point(0.0, 0.0) if each.word == "shift_nothing" else _way(each.by, piece, desk)
                shifts.append(Shift(point_on(piece, desk, each.at), way))
        made = shifted(piece, shifts, turns)
    lay(desk, node, made)


def _way(moves: Node, piece: Piece, desk: Desk) -> Point:
    by = Point(0.0, 0.0)
    with desk.table.working_on(piece):
        for move in moves.each:
            by = by + direction_of(move.direction.text) * length(move.amount, desk)
    return by


@line_word("shift_dart", paper_work=True)
def shift_dart(node: Node, desk: Desk) -> None:
    """`shift dart front.bust_dart 1 cm down with bust_point`"""
    piece, name = piece_and_part(node.dart, desk)
    with paper(node, desk):
        carrying = (node.carried.text,) if node.carried is not None else ()
        made = dart_shifted(piece, name, _way(node.by, piece, desk), carrying)
    lay(desk, node, made)


@line_word("shift_notch", paper_work=False)
def shift_notch(node: Node, desk: Desk) -> None:
    """`shift notch sleeve.cap at cap_top, 5 mm toward front_underarm`"""
    piece, edge = piece_and_part(node.edge, desk)
    edge_of(piece, edge, node.edge, desk)
    with paper(node, desk):
        amount = length(node.amount, desk)
        made = notch_shifted(
            piece, edge, point_on(piece, desk, node.at), amount, point_on(piece, desk, node.aim)
        )
    lay(desk, node, made)


@line_word("widen_bust", paper_work=True)
def widen_bust(node: Node, desk: Desk) -> None:
    """`widen front over bust_point by 15 mm, hinged at pitch, opening at side_foot and dart_foot`"""
    piece = desk.table.piece(node.piece)
    with paper(node, desk):
        bust, hinge, side, waist = (
            point_on(piece, desk, each) for each in (node.bust, node.hinge, node.side, node.waist)
        )
        made = widened(piece, bust, length(node.amount, desk), hinge, side, waist)
    lay(desk, node, made)
