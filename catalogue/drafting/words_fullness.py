"""Words that add or take out width: slashing and spreading, pleats, tucks across, pieces lengthened."""

from __future__ import annotations

import math
from collections.abc import Callable

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import length
from catalogue.drafting.operation_sentences import operation_sentence
from catalogue.drafting.registry import line_word
from catalogue.drafting.words_operations import bracketed, lay, paper, path_on, point_on, short_of_edge
from catalogue.drafting.words_pieces import edge_of
from catalogue.drafting.words_points import direction_of
from catalogue.geometry import Path
from catalogue.geometry.solving import NoSolution, solve
from catalogue.language.tree import Node
from catalogue.pattern import Piece, lengthening, middle_pleating, pleating, spreading
from catalogue.pattern.making import PieceError

MOST_LINES = 60
"""Slashes in one spread: more would be cloth in shreds."""

WELL_INSIDE = 10.0
"""mm: a slash that stops nearer to the edge is one drawn to a straight line that the curve of the edge leaves."""


@line_word("spread", "overlap", paper_work=True)
def spread(node: Node, desk: Desk) -> None:
    """`spread skirt, 3 lines from waist to hem, nothing at waist, 4 cm at hem, as gathers`"""
    piece = desk.table.piece(node.piece)
    with paper(node, desk):
        lines, ends = _spread_lines(node.lines, piece, desk)
        amounts = _amounts(node, lines, ends, piece, desk)
        sign = -1.0 if node.word == "overlap" else 1.0
        fullness, fold = node.clause("spread_as"), node.clause("spread_fold")

        def opened(more: float = 0.0) -> Piece:
            """The piece spread by the amounts, and by `more` where it opens as far as is said."""
            slashes = [
                spreading.Slash(
                    line, *(sign * (more if amount is None else amount) for amount in (at_start, at_end))
                )
                for line, at_start, at_end in zip(lines, *amounts, strict=True)
            ]
            return spreading.spread(
                piece, slashes, fullness.kind.text if fullness else "", fold.to.text if fold else ""
            )

        until = node.clause("spread_until")
        made = (
            opened() if until is None else opened(_far_enough(node, until, piece, len(lines), opened, desk))
        )
        if node.lines.word == "lines_drawn":
            _tell_extended(node, piece, lines, desk)
    lay(desk, node, made)


def _far_enough(
    node: Node, until: Node, piece: Piece, lines: int, opened: Callable[[float], Piece], desk: Desk
) -> float:
    """How far each line must open for the edge to have the length that is said: `as far as 60 cm at hem`."""
    edge, wanted = edge_of(piece, until.edge.text, until.edge, desk), length(until.amount, desk)
    by = (wanted - edge.path.length) * (-1.0 if node.word == "overlap" else 1.0)
    if by <= 0:
        longer, other = ("longer", "overlap") if node.word == "spread" else ("shorter", "spread")
        raise desk.trouble(
            "amounts",
            f"The edge “{edge.name}” of “{piece.title}” is {desk.show_length(edge.path.length)} long already; expected "
            f"a length that is {longer}.",
            until.amount.place,
            f"To go the other way write {other}.",
        )

    def off(more: float) -> float:
        desk.budget.spend_on(piece, lines)
        try:
            return opened(more).edge(edge.name).path.length - wanted
        except PieceError:
            if more == 0.0:
                raise  # It can't be slashed so at all.
            return math.nan

    try:
        # Along a curve, or where the slashes do not end square to it, the edge gains less than they open by.
        return solve(off, 0.0, min(2.0 * by / lines, spreading.WIDEST), 1e-4)
    except NoSolution as error:
        raise desk.trouble(
            "amounts",
            f"The edge “{edge.name}” of “{piece.title}” can't be made {desk.show_length(wanted)} long so; the nearest "
            f"is {desk.show_length(wanted + error.at_best)}.",
            until.amount.place,
            "Slash along more lines.",
        ) from None


def _tell_extended(node: Node, piece: Piece, lines: list[Path], desk: Desk) -> None:
    """Say so where a slash does not reach the edge and is run on to it: paper can't hinge there and lie flat."""
    for said, line in zip(node.lines.each, lines, strict=True):
        if (off := short_of_edge(piece, line, WELL_INSIDE)) is None:
            continue
        desk.messages.warn(
            "slash-extended",
            f"The slash ends inside “{piece.title}”, {desk.show_length(off)} from its edge, and is run on to it.",
            said.place,
            f"If it should, write: along {bracketed(said.text)} extended. If it should end there, cut the piece in two "
            f"where the slashes end and {node.word} one part, with nothing at the cut.",
        )


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
) -> tuple[list[float | None], list[float | None]]:
    """How far each line opens at its start and at its end; None where it opens as far as is said."""
    at_start: list[float | None] = [0.0] * len(lines)
    at_end: list[float | None] = [0.0] * len(lines)
    said_at: set[str] = set()
    in_all = node.clause("spread_in_all") is not None
    nothing = node.clauses_called("spread_nothing")
    until = node.clauses_called("spread_until")
    if len(until) > 1:
        raise desk.trouble("amounts", "Only one edge can be given its length.", until[1].place)
    for clause in (*node.clauses_called("spread_amount"), *nothing, *until):
        edge = edge_of(piece, clause.edge.text, clause.edge, desk)
        fixed = clause in nothing or clause in until
        values = [0.0] if fixed else [length(p, desk) for p in clause.amounts]
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
            (at_start if starts else at_end)[i] = None if clause in until else each[i]
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
