"""Words that cut a piece out of the draft and draw on it: outline, grain, notches, marks, darts."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from catalogue.drafting.desk import Desk
from catalogue.drafting.edges import WIDEST_SEAM, allowance_of, edges_of_line
from catalogue.drafting.evaluate import length, path, point
from catalogue.drafting.operation_sentences import operation_sentence
from catalogue.drafting.registry import PIECE_WORDS, line_word, piece_word
from catalogue.drafting.words_points import direction_of
from catalogue.findings import did_you_mean
from catalogue.geometry import Point, contains
from catalogue.language.tree import Node
from catalogue.pattern import BUTTONHOLE, Cut, Edge, InnerLine, Mark, Notch, Piece
from catalogue.pattern.fold_checks import is_slit
from catalogue.pattern.grain import grain_through, upright
from catalogue.pattern.making import PieceError, make_piece
from catalogue.pattern.measure import ON_EDGE

MOST_PIECES = 80

SHORTEST_HOLE, LONGEST_HOLE = 6.0, 80.0
"""mm that a buttonhole may be long: from a doll's to a coat's (common practice, no source)."""

HOW_OFTEN = {"single": 1, "double": 2, "triple": 3}

ROWS = {"buttons": "button", "buttonholes": "buttonhole", "drill holes": "drill"}
"""What a row of marks is called -> the kind of each."""


def unquoted(node: Node | None) -> str:
    return node.text.strip('"“”') if node else ""


def refused(error: PieceError, node: Node, desk: Desk) -> Exception:
    return desk.trouble(
        "cannot-be-paper", error.message[0].upper() + error.message[1:] + ".", node.place, error.hint
    )


@line_word("piece")
def piece(node: Node, desk: Desk) -> None:
    """`piece front "Skirt front", cut 1 on fold` and the indented lines under it."""
    name_node = node.name
    try:
        if len(desk.table.pieces) >= MOST_PIECES:
            raise desk.trouble("too-many-pieces", f"A style has at most {MOST_PIECES} pieces.", node.place)
        desk.names.refuse_taken(name_node.text, name_node)
        _make(node, name_node.text, desk)
    except Exception:
        desk.table.broken.add(name_node.text)
        raise


def _make(node: Node, name: str, desk: Desk) -> None:
    title = unquoted(node.title) or name.replace("_", " ").capitalize()
    cut = cut_of(node, desk)
    edges: list[Edge] = []
    for line in node.body:
        if line.word == "outline":
            for edge_node in (*([line.edge] if line.edge else []), *line.body):
                edges += edges_of_line(edge_node, desk)
    if not edges:
        raise desk.trouble(
            "no-outline",
            f"The piece “{name}” has no outline.",
            node.place,
            "Add an indented line: outline side: A to B, and so on round the piece.",
        )
    points = {
        n: v
        for n, v in desk.names.values.items()
        if isinstance(v, Point) and desk.names.paper_of.get(n) == desk.table.paper
    }
    try:
        made = make_piece(name, title, edges, cut, points)
    except PieceError as error:
        raise refused(error, node, desk) from None
    for line in node.body:
        if line.word != "outline":
            made = PIECE_WORDS[line.word](made, line, desk)
    desk.table.first_put.setdefault(name, node.place)
    desk.table.put(made if made.grain else made.with_changes(grain=upright(made)))


def cut_of(node: Node, desk: Desk) -> Cut:
    """`cut 2 of lining`, `cut 1 on fold`: an even number not on the fold is cut in mirrored pairs, unless `alike`."""
    return cut_from(node.clauses_called("cut_clause"), desk)


def cut_from(cuts: Sequence[Node], desk: Desk) -> Cut:
    """What the cut clauses of a line say (at most one is allowed); none is one piece of the main cloth."""
    if len(cuts) > 1:
        raise desk.trouble("cut-twice", "How often the piece is cut is given twice.", cuts[1].place)
    if not cuts:
        return Cut()
    clause = cuts[0]
    try:
        count = int(clause.count.text)
    except ValueError:
        count = 0
    if not 1 <= count <= 99:
        raise desk.trouble(
            "not-a-count", "A whole number of pieces is needed here, such as 1 or 2.", clause.count.place
        )
    on_fold, alike = (clause.clause(word) is not None for word in ("on_fold", "alike"))
    cloth = clause.clause("of_cloth")
    mirrored = count % 2 == 0 and not on_fold and not alike
    return Cut(count, on_fold, mirrored, cloth.cloth.text if cloth else "main")


# --- drawn on the piece -------------------------------------------------------------------------------------


@piece_word("grain")
def with_grain(piece: Piece, node: Node, desk: Desk) -> Piece:
    """`grain along centre`, `grain A to B`, `grain down`"""
    lead = node.lie
    if lead.word == "DIRECTION":
        return piece.with_changes(grain=grain_through(piece, direction_of(lead.text)))
    if lead.word == "grain_between":
        a, b = point(lead.start, desk), point(lead.end, desk)
        if a.distance(b) < 1:
            raise desk.trouble("same-point", "The grain line has no length.", lead.end.place)
        return piece.with_changes(grain=(a, b))
    edge = next((e for e in piece.edges if lead.word == "name" and e.name == lead.text), None)
    unknown = (
        edge is None and lead.word == "name" and lead.text not in {*desk.names.values, *desk.names.broken}
    )
    if unknown and (meant := did_you_mean(lead.text, [e.name for e in piece.edges])):
        raise desk.trouble("unknown-name", f"“{lead.text}” is not known here.", lead.place, meant)
    way = edge.path if edge is not None else path(lead, desk)
    chord = way.end - way.start
    if chord.length < 1:
        raise desk.trouble("same-point", "The grain line has no direction.", lead.place)
    unit = chord.unit()
    unit = -unit if (unit.y, unit.x) < (0, 0) else unit
    return piece.with_changes(grain=grain_through(piece, unit))


def edge_of(piece: Piece, name: str, node: Node, desk: Desk) -> Edge:
    """The edge of that name. Raises Trouble with the nearest known one."""
    for edge in piece.edges:
        if edge.name == name:
            return edge
    known = [e.name for e in piece.edges]
    raise desk.trouble(
        "unknown-edge",
        f"The piece “{piece.name}” has no edge “{name}”.",
        node.place,
        did_you_mean(name, known) or f"Its edges: {', '.join(known)}.",
    )


@piece_word("notch")
def with_notch(piece: Piece, node: Node, desk: Desk) -> Piece:
    """`double notch armhole at pitch`; after the piece is made, `front.armhole`."""
    edge_name = node.edge.text.rpartition(".")[2]
    edge = edge_of(piece, edge_name, node.edge, desk)
    with desk.table.working_on(piece):
        at = point(node.at, desk)
    s, off = edge.path.nearest(at)
    if off > ON_EDGE:
        raise desk.trouble(
            "off-the-line",
            f"“{node.at.text}” is {desk.show_length(off)} away from the edge “{edge_name}”.",
            node.at.place,
        )
    count = HOW_OFTEN[node.count.text] if node.count else 1
    return piece.with_changes(notches=(*piece.notches, Notch(edge.name, edge.path.point_at(s), count)))


@piece_word("mark")
def with_mark(piece: Piece, node: Node, desk: Desk) -> Piece:
    with desk.table.working_on(piece):
        at = point(node.at, desk)
    if not contains(piece.outline, at, ON_EDGE):
        raise desk.trouble("off-the-paper", f"“{node.at.text}” does not lie on “{piece.name}”.", node.place)
    kind = node.kind.text.split()[0] if node.kind else "point"
    kind = {"zip": "end"}.get(kind, kind)
    long = buttonhole_length(kind, node.size, desk)
    return piece.with_changes(marks=(*piece.marks, Mark(at, kind, unquoted(node.label), 0.0, long)))


def buttonhole_length(kind: str, node: Node | None, desk: Desk) -> float:
    """The length in mm asked for with `buttonhole of 18 mm`; without one, what is usual."""
    if node is None:
        return BUTTONHOLE
    long = length(node, desk)
    if kind != "buttonhole":
        raise desk.trouble(
            "no-length",
            "Only a buttonhole has a length; other marks are points.",
            node.place,
            "Leave out of.",
        )
    if not SHORTEST_HOLE <= long <= LONGEST_HOLE:
        raise desk.trouble(
            "odd-distance",
            f"A buttonhole is {desk.show_length(SHORTEST_HOLE)} to {desk.show_length(LONGEST_HOLE)} long; "
            f"this is {desk.show_length(long)}.",
            node.place,
        )
    return long


@piece_word("draw")
def with_line(piece: Piece, node: Node, desk: Desk) -> Piece:
    with desk.table.working_on(piece):
        way = path(node.line, desk)
    if not contains(piece.outline, way.point_at(way.length / 2), ON_EDGE):
        raise desk.trouble("off-the-paper", f"“{node.line.text}” does not lie on “{piece.name}”.", node.place)
    kind = node.kind.text.split()[0] if node.kind else "guide"
    return piece.with_changes(lines=(*piece.lines, InnerLine(way, kind, unquoted(node.label))))


@line_word("grain_of")
def grain_of(node: Node, desk: Desk) -> None:
    """`grain of front along side`"""
    found = desk.table.piece(node.piece)
    with desk.table.working_on(found):
        desk.table.put(with_grain(found, node, desk))
    desk.trace.operations.append(operation_sentence(node, desk))


@line_word("notch_of")
def notch_of(node: Node, desk: Desk) -> None:
    """`double notch back.armhole at pitch`"""
    found, _ = piece_and_part(node.edge, desk)
    desk.table.put(with_notch(found, node, desk))
    desk.trace.operations.append(operation_sentence(node, desk))


@line_word("mark_on")
def mark_on(node: Node, desk: Desk) -> None:
    """`mark bust_point drill hole "Bust point" on front`"""
    desk.table.put(with_mark(desk.table.piece(node.piece), node, desk))
    desk.trace.operations.append(operation_sentence(node, desk))


@line_word("draw_on")
def draw_on(node: Node, desk: Desk) -> None:
    """`draw pocket_line as placement line on front`"""
    desk.table.put(with_line(desk.table.piece(node.piece), node, desk))
    desk.trace.operations.append(operation_sentence(node, desk))


@line_word("point_on")
def point_on(node: Node, desk: Desk) -> None:
    """`point waist_mark at 16 cm down from side_top on front`: from then on it travels with the paper."""
    name, found = node.name, desk.table.piece(node.piece)
    taken = name.text in found.points or name.text in {e.name for e in found.edges}
    if taken:
        raise desk.trouble(
            "given-twice",
            f"“{found.name}” has a point or an edge “{name.text}” already.",
            name.place,
            "Choose another name.",
        )
    if name.text not in desk.names.values:
        desk.names.refuse_taken(name.text, name)
    with desk.table.working_on(found):
        at = point(node.at, desk)
    if not contains(found.outline, at, ON_EDGE):
        raise desk.trouble(
            "off-the-paper", f"“{node.at.text}” does not lie on “{found.name}”.", node.at.place
        )
    desk.table.put(found.with_changes(points={**found.points, name.text: at}))
    desk.trace.operations.append(operation_sentence(node, desk))


def piece_and_part(node: Node, desk: Desk) -> tuple[Piece, str]:
    """The piece of `piece.part`, and the part's name."""
    piece_name, _, part = node.text.partition(".")
    return desk.table.piece(node, piece_name), part


@line_word("allow")
def allow(node: Node, desk: Desk) -> None:
    """`allow 1.5 cm, hem 4 cm, front.waist 1 cm`"""
    default = allowance_of(node.amount, desk, WIDEST_SEAM)
    desk.asked.allowance = default
    known = {e.name for p in desk.table.pieces.values() for e in p.edges}
    for clause in node.clauses:
        name_node, amount = clause.edge, allowance_of(clause.amount, desk)
        if name_node.word == "DOTTED":
            found, edge_name = piece_and_part(name_node, desk)
            edge_of(found, edge_name, name_node, desk)
        elif known and name_node.text not in known | desk.names.broken and not desk.table.broken:
            raise desk.trouble(
                "unknown-edge",
                f"No piece has an edge “{name_node.text}”.",
                name_node.place,
                did_you_mean(name_node.text, known),
            )
        desk.asked.allowances[name_node.text] = amount
        if clause.corners is not None:
            desk.asked.corners[name_node.text] = " ".join(clause.corners.text.split())


def with_allowances(piece: Piece, desk: Desk) -> Piece:
    """The piece with an allowance on each edge: the edge's own, by piece and edge, by edge name, or the default.

    Parts of an edge (hem_2) and its mirror image (other_hem) take what is said for the edge. A slit in line with the
    fold has none unless it is named: beyond the fold nothing can be cut.
    """
    asked = desk.asked
    sewn = {name for seam in asked.seams for name in (*seam.first, *seam.second)}

    def finished_edge(edge: Edge) -> Edge:
        names = [
            edge.name,
            edge.name.removeprefix("other_"),
            re.sub(r"_\d+$", "", edge.name.removeprefix("other_")),
        ]
        keys = [*(f"{piece.name}.{n}" for n in names), *names]
        kept = next((asked.block_allowances[k] for k in keys if k in asked.block_allowances), asked.allowance)
        width = next((asked.allowances[k] for k in keys if k in asked.allowances), kept)
        own = asked.allowances.keys() & {f"{piece.name}.{edge.name}", edge.name}
        if not own and not edge.fold and is_slit(piece, edge):
            width = 0.0
        corners = next((asked.corners[k] for k in keys if k in asked.corners), "")
        if edge.fold:
            return replace(edge, allowance=0.0)
        if not edge.corners and not corners and f"{piece.name}.{edge.name}" in sewn:
            corners = "mitred"  # a sleeve's hem that is sewn into a cuff is not turned up
        return replace(
            edge,
            allowance=width if edge.allowance is None else edge.allowance,
            corners=edge.corners or corners,
        )

    return piece.with_changes(edges=tuple(finished_edge(e) for e in piece.edges))
