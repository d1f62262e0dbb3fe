"""Words that move a piece: the whole of it elsewhere on its paper, or points of its outline, the edges following."""

from __future__ import annotations

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import degrees, length
from catalogue.drafting.registry import line_word
from catalogue.drafting.words_operations import lay, paper, path_on, point_on
from catalogue.drafting.words_points import direction_of
from catalogue.geometry import Point, Transform
from catalogue.language.tree import Node
from catalogue.pattern.moving import moved
from catalogue.pattern.shifting import Shift, shifted


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
    shifts = []
    with paper(node, desk):
        for each in node.shifts:
            by = Point(0.0, 0.0)
            if each.word == "shift_by":
                with desk.table.working_on(piece):
                    for move in each.by.each:
                        by = by + direction_of(move.direction.text) * length(move.amount, desk)
            shifts.append(Shift(point_on(piece, desk, each.at), by))
        made = shifted(piece, shifts)
    lay(desk, node, made)
