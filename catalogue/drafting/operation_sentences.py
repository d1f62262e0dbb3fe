"""What was done to the paper, as sentences: a line of scissors, tape or truing said with the pieces' titles."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeAlias

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import length
from catalogue.language.tree import Node
from catalogue.language.wording import in_words, spell
from catalogue.pattern import Piece

Titles: TypeAlias = "Callable[[str], str]"
"""Gives the title of a piece by its name."""

_NOUNS = {
    "armhole",
    "centre",
    "crotch",
    "edge",
    "hem",
    "inseam",
    "line",
    "mouth",
    "neck",
    "seam",
    "shoulder",
    "side",
}
_NOUNS |= {"waist", "wrist"}
"""Last words of edges' names that can stand alone; any other is followed by “edge”."""
_WAYS = {"up": "upwards", "down": "downwards", "left": "to the left", "right": "to the right"}


def operation_sentence(node: Node, desk: Desk, made: Iterable[Piece] = ()) -> str:
    """The line as a sentence, with the pieces' titles and lengths in the client's units.

    Args:
        desk: with the pieces as they lay before the line was carried out.
        made: the pieces that it gives.
    """
    new = {piece.name: piece.title for piece in made}

    def title(name: str) -> str:
        old = desk.table.pieces.get(name)
        return old.title if old is not None else new.get(name, in_words(name).capitalize())

    words = SENTENCES[node.word](node, desk, title, lambda name: new.get(name, title(name)))
    return f"{words}."


# --- words ----------------------------------------------------------------------------------------------------


def _edge(name: str) -> str:
    words = in_words(name)
    return words if words.split()[-1] in _NOUNS else f"{words} edge"


def _edge_of(dotted: Node, title: Titles) -> str:
    """ "the hem of Front"."""
    piece, _, edge = dotted.text.partition(".")
    return f"the {_edge(edge)} of {title(piece)}"


def _edges_of(first: Node, second: Node, title: Titles) -> str:
    """ "the sides of Front and Back", or "the side of Front and the panel edge of Back"."""
    (one, _, edge), (other, _, far) = (n.text.partition(".") for n in (first, second))
    if edge == far:
        return f"the {_edge(edge)}s of {title(one)} and {title(other)}"
    return f"{_edge_of(first, title)} and {_edge_of(second, title)}"


def _called(node: Node, kind: str = "") -> str:
    """A place or line of the style: "the hip line", or its formula; `kind` follows a name that does not end in it."""
    if node.word != "name":
        return spell(node)
    words = in_words(node.text)
    return f"the {words}" if not kind or words.endswith(kind) else f"the {words} {kind}"


def _amount(node: Node, desk: Desk) -> str:
    return desk.show_length(length(node, desk))


def _listed(words: Iterable[str]) -> str:
    *others, last = words
    return f"{', '.join(others)} and {last}" if others else last


# --- sentences ------------------------------------------------------------------------------------------------


def _cut_along(cut: Node, desk: Desk, title: Titles, new: Titles) -> str:
    if cut.line.word == "cut_between":
        where = f"from {_called(cut.line.start)} to {_called(cut.line.end)}"
    else:
        where = f"along {_called(cut.line)}"
    return f"Cut {title(cut.piece.text)} {where} into {_listed(new(p.name.text) for p in cut.parts)}"


def _cut_through(cut: Node, desk: Desk, title: Titles, new: Titles) -> str:
    piece = desk.table.pieces.get(cut.piece.text)
    darts = {d.name for d in piece.darts} if piece else set()
    stops = _listed(_called(stop, "dart" if stop.text in darts else "") for stop in cut.way.each)
    parts = _listed(new(p.name.text) for p in (cut.first, cut.second))
    smooth = ", and redraw the cut edges as smooth curves" if cut.clause("cut_smooth") else ""
    return f"Cut {title(cut.piece.text)} through {stops} into {parts}{smooth}"


def _close_dart(close: Node, desk: Desk, title: Titles, new: Titles) -> str:
    piece, _, dart = close.dart.text.partition(".")
    words = in_words(dart)
    called = words if words.endswith("dart") else f"{words} dart"
    by = f" by {spell(close.share.amount)}" if close.share is not None else ""
    openings = _listed(_opening(opening) for opening in close.openings)
    return (
        f"Close the {called} of {title(piece)}{by}, pivoting on {_called(close.pivot)}, and open {openings}"
    )


def _opening(opening: Node) -> str:
    edge = f"the {_edge(opening.edge.text)}" if opening.edge is not None else "it"
    kind = opening.clause("opening_as")
    return f"{edge} at {_called(opening.at)}" + (f" as {kind.kind.text}" if kind else "")


def _spread(spread: Node, desk: Desk, title: Titles, new: Titles) -> str:
    verb = "Overlap" if spread.word == "overlap" else "Spread"
    if spread.lines.word == "lines_even":
        number = spread.lines.count.text
        lines = (
            f"along {number} line{'' if number == '1' else 's'} from the {_edge(spread.lines.start.text)} "
            f"to the {_edge(spread.lines.end.text)}"
        )
    else:
        lines = f"along {_listed(map(_called, spread.lines.each))}"
    in_all = " in all" if spread.clause("spread_in_all") else ""
    amounts = []
    for clause in spread.clauses:
        if clause.word == "spread_nothing":
            amounts.append(f"nothing at the {_edge(clause.edge.text)}")
        elif clause.word == "spread_amount":
            each = _listed(_amount(a, desk) for a in clause.amounts)
            amounts.append(f"{each}{in_all} at the {_edge(clause.edge.text)}")
    kind, fold = spread.clause("spread_as"), spread.clause("spread_fold")
    end = (f", as {kind.kind.text}" if kind else "") + (
        f", folded {_WAYS.get(fold.to.text, f'to the {in_words(fold.to.text)}')}" if fold else ""
    )
    return f"{verb} {title(spread.piece.text)} {lines}: {', '.join(amounts)}{end}"


def _pleat(pleat: Node, desk: Desk, title: Titles, new: Titles) -> str:
    fold = pleat.clause("pleat_fold")
    folded = f", folded {_WAYS.get(fold.to.text, fold.to.text)}" if fold else ""
    free = "".join(f", free at the {_edge(c.edge.text)}" for c in pleat.clauses_called("pleat_free"))
    kind = f"{'an' if pleat.kind.text[0] in 'aeiou' else 'a'} {pleat.kind.text} pleat"
    depth = _amount(pleat.depth, desk)
    piece, edge = desk.table.pieces.get(pleat.piece.text), pleat.line.text.rpartition(".")[2]
    if piece is not None and pleat.line.word in ("name", "dotted") and any(e.name == edge for e in piece.edges):
        return f"Add half of {kind} {depth} deep to {title(pleat.piece.text)} at the {_edge(edge)}{free}"
    return f"Fold {kind} {depth} deep in {title(pleat.piece.text)} along {_called(pleat.line)}{folded}{free}"


def _fold_out(fold: Node, desk: Desk, title: Titles, new: Titles) -> str:
    # A style leaves the fold out by an amount of nothing (a back that is not hollow).
    amount = _amount(fold.amount, desk) if length(fold.amount, desk) > 0.005 else "nothing"
    return f"Fold {amount} out of {title(fold.piece.text)} at {_called(fold.at)}, nothing at {_called(fold.hinge)}"


def _tape(tape: Node, desk: Desk, title: Titles, new: Titles) -> str:
    return (
        f"Tape {_edge_of(tape.edge, title)} to {_edge_of(tape.other, title)}; "
        f"the piece is called {new(tape.name.text)}"
    )


def _unfold(unfold: Node, desk: Desk, title: Titles, new: Titles) -> str:
    return f"Unfold {title(unfold.piece.text)} on its {_edge(unfold.edge.text)}"


def _trace(trace: Node, desk: Desk, title: Titles, new: Titles) -> str:
    band, along = trace.clause("trace_band"), trace.clause("trace_along")
    where = ""
    if band is not None:
        edges = _listed(f"the {_edge(e.text)}" for e in band.edges)
        where = f", {_amount(band.depth, desk)} from {edges}"
    elif along is not None:
        where = f" along {_called(along.line)}"
    return f"Trace {new(trace.name.text)} from {title(trace.piece.text)}{where}"


def _lengthen(change: Node, desk: Desk, title: Titles, new: Titles) -> str:
    where = f"{title(change.piece.text)} at {_called(change.line)}"
    return f"{change.word.capitalize()} {where} by {_amount(change.amount, desk)}"


def _true_across(true: Node, desk: Desk, title: Titles, new: Titles) -> str:
    edges = _edges_of(true.edge, true.other, title)
    (one, _, seam), (other, _, far) = (n.text.partition(".") for n in (true.seam, true.other_seam))
    same = seam == far and [n.text.partition(".")[0] for n in (true.edge, true.other)] == [one, other]
    across = f"their {_edge(seam)}s" if same else _edges_of(true.seam, true.other_seam, title)
    return f"True {edges} across {across}"


def _square_at(square: Node, desk: Desk, title: Titles, new: Titles) -> str:
    return f"Square {_edge_of(square.edge, title)} to the {_edge(square.to.text)}"


def _level_with(level: Node, desk: Desk, title: Titles, new: Titles) -> str:
    return f"Bring {_edges_of(level.edge, level.other, title)} to one length at the {_edge(level.at.text)}"


def _redraw(redraw: Node, desk: Desk, title: Titles, new: Titles) -> str:
    return f"Redraw {_edge_of(redraw.edge, title)} along {_called(redraw.line)}"


def _straighten(redraw: Node, desk: Desk, title: Titles, new: Titles) -> str:
    return f"Redraw {_edge_of(redraw.edge, title)} as a straight line"


def _smoothen(redraw: Node, desk: Desk, title: Titles, new: Titles) -> str:
    through = f" through {_listed(map(_called, redraw.through))}" if redraw.through else ""
    return f"Redraw {_edge_of(redraw.edge, title)} as a smooth curve{through}"


def _shape_hem(shape: Node, desk: Desk, title: Titles, new: Titles) -> str:
    shifts = [
        f"{_amount(c.amount, desk)} {c.direction.text} at the {_edge(c.edge.text)}"
        for c in shape.clauses_called("shape_shift")
    ]
    pointed = ", pointed" if shape.clause("shape_pointed") else ""
    return f"Shape {_edge_of(shape.edge, title)}: {', '.join(shifts)}{pointed}"


def _extend_edge(extend: Node, desk: Desk, title: Titles, new: Titles) -> str:
    named = f"; the new edge is called {in_words(extend.name.text)}" if extend.name is not None else ""
    piece, _, edge = extend.edge.text.partition(".")
    return f"Extend {title(piece)} by {_amount(extend.amount, desk)} at the {_edge(edge)}{named}"


def _discard(discard: Node, desk: Desk, title: Titles, new: Titles) -> str:
    return f"Discard {title(discard.piece.text)}"


def _move_piece(move: Node, desk: Desk, title: Titles, new: Titles) -> str:
    moves = [f"{_amount(m.amount, desk)} {_WAYS.get(m.direction.text, m.direction.text)}" for m in move.by.each]
    return f"Move {title(move.piece.text)} {_listed(moves)}"


def _turn_piece(turn: Node, desk: Desk, title: Titles, new: Titles) -> str:
    way = turn.turn.text if turn.turn is not None else "clockwise"
    return f"Turn {title(turn.piece.text)} {spell(turn.amount)} {way} about {_called(turn.centre)}"


def _mirror_piece(mirror: Node, desk: Desk, title: Titles, new: Titles) -> str:
    return f"Turn {title(mirror.piece.text)} over along {_called(mirror.line)}"


SENTENCES: dict[str, Callable[[Node, Desk, Titles, Titles], str]] = {
    "cut_along": _cut_along,
    "cut_through": _cut_through,
    "close_dart": _close_dart,
    "spread": _spread,
    "overlap": _spread,
    "pleat": _pleat,
    "fold_out": _fold_out,
    "tape": _tape,
    "unfold": _unfold,
    "trace": _trace,
    "lengthen": _lengthen,
    "shorten": _lengthen,
    "true_across": _true_across,
    "square_at": _square_at,
    "level_with": _level_with,
    "redraw": _redraw,
    "straighten": _straighten,
    "smoothen": _smoothen,
    "shape_hem": _shape_hem,
    "extend_edge": _extend_edge,
    "discard": _discard,
    "move_piece": _move_piece,
    "turn_piece": _turn_piece,
    "mirror_piece": _mirror_piece,
}
"""By word of the language."""
