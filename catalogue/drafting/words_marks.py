"""Words that set out a row of marks along a line, and the same notch on both edges of a seam."""

from __future__ import annotations

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import length, path, plain_number, point
from catalogue.drafting.operation_sentences import operation_sentence
from catalogue.drafting.registry import line_word, piece_word
from catalogue.drafting.words_lines import between
from catalogue.drafting.words_pieces import HOW_OFTEN, ROWS, buttonhole_length, edge_of, piece_and_part
from catalogue.geometry import Path, contains
from catalogue.language.tree import Node
from catalogue.pattern import Mark, Notch, Piece
from catalogue.pattern.measure import ON_EDGE

MOST_MARKS = 60


@line_word("mark_row_on")
def mark_row_on(node: Node, desk: Desk) -> None:
    """`mark 6 buttonholes along centre_line from first_button to last_button on front`"""
    desk.table.put(with_row(desk.table.piece(node.piece), node, desk))
    desk.trace.operations.append(operation_sentence(node, desk))


@piece_word("mark_row")
def with_row(piece: Piece, node: Node, desk: Desk) -> Piece:
    """The piece with marks spread evenly over a line, its two ends included.

    `mark 6 buttons along LINE`, `mark buttonholes of 18 mm, 9 cm apart along LINE from A to B, lying along`
    """
    with desk.table.working_on(piece):
        way = path(node.line, desk)
        if node.start is not None:
            way = between(way, point(node.start, desk), point(node.end, desk), node.start, node.end, desk)
    places, kind, long = _places(node.row, way, desk)
    along = node.lying is not None and node.lying.text.split()[1] == "along"
    marks = []
    for number, s in enumerate(places, 1):
        at, direction = way.point_at(s), way.tangent_at(s)
        if not contains(piece.outline, at, ON_EDGE):
            raise desk.trouble(
                "off-the-paper",
                f"Number {number} of the {node.row.text} does not lie on “{piece.name}”.",
                node.line.place,
                "Give the ends of the row: from POINT to POINT.",
            )
        angle = (direction if along else direction.normal()).angle
        turned = (angle + 90) % 180 - 90 if kind == "buttonhole" else 0.0
        marks.append(Mark(at, kind, str(number), turned, long))
    return piece.with_changes(marks=(*piece.marks, *marks))


def _places(row: Node, way: Path, desk: Desk) -> tuple[list[float], str, float]:
    """Where along the line the marks go, mm, their kind, and how long a buttonhole is, mm."""
    if row.word == "row_count":
        count = plain_number(row.count, desk)
        if count != round(count) or not 1 <= count <= MOST_MARKS:
            raise desk.trouble(
                "not-a-count",
                f"A whole number from 1 to {MOST_MARKS} is needed here; this is {count:g}.",
                row.count.place,
            )
        gaps = round(count) - 1
    else:
        apart = length(row.apart, desk)
        if apart <= 0 or way.length / apart > MOST_MARKS:
            raise desk.trouble(
                "odd-distance",
                f"Marks {desk.show_length(apart)} apart on {desk.show_length(way.length)} is out of range.",
                row.apart.place,
            )
        gaps = max(1, round(way.length / apart))
    kind = ROWS[" ".join(row.kind.text.split())]
    places = [way.length * i / gaps for i in range(gaps + 1)] if gaps else [0.0]
    return places, kind, buttonhole_length(kind, row.size, desk)


@line_word("notch_both")
def notch_both(node: Node, desk: Desk) -> None:
    """`double notch back.side and front.side, 20 cm from back_corner and front_corner`"""
    count = HOW_OFTEN[node.count.text] if node.count else 1
    amount = length(node.amount, desk)
    for edge_node, corner_node in ((node.edge, node.corner), (node.other, node.other_corner)):
        piece, name = piece_and_part(edge_node, desk)
        edge = edge_of(piece, name, edge_node, desk)
        with desk.table.working_on(piece):
            at = point(corner_node, desk)
        s, off = edge.path.nearest(at)
        if off > ON_EDGE:
            raise desk.trouble(
                "off-the-line",
                f"“{corner_node.text}” is {desk.show_length(off)} away from the edge “{edge_node.text}”.",
                corner_node.place,
            )
        ahead = s <= edge.path.length / 2
        there = s + amount if ahead else s - amount
        if not 0 <= there <= edge.path.length:
            raise desk.trouble(
                "off-the-line",
                f"“{edge_node.text}” is {desk.show_length(edge.path.length)} long: "
                f"{desk.show_length(amount)} from there runs off it.",
                node.amount.place,
            )
        notch = Notch(edge.name, edge.path.point_at(there), count)
        desk.table.put(piece.with_changes(notches=(*piece.notches, notch)))
    desk.trace.operations.append(operation_sentence(node, desk))
