"""What was done to the paper, as sentences: a line of scissors, tape or truing said with the pieces' titles."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeAlias

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import length, plain_number
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


def edge_words(name: str) -> str:
    words = in_words(name)
    return words if words.split()[-1] in _NOUNS else f"{words} edge"


def edge_of_piece(dotted: Node, title: Titles) -> str:
    """ "the hem of Front"."""
    piece, _, edge = dotted.text.partition(".")
    return f"the {edge_words(edge)} of {title(piece)}"


def edges_of_pieces(first: Node, second: Node, title: Titles) -> str:
    """ "the sides of Front and Back", or "the side of Front and the panel edge of Back"."""
    (one, _, edge), (other, _, far) = (n.text.partition(".") for n in (first, second))
    if edge == far:
        return f"the {edge_words(edge)}s of {title(one)} and {title(other)}"
    return f"{edge_of_piece(first, title)} and {edge_of_piece(second, title)}"


def called(node: Node, kind: str = "") -> str:
    """A place or line of the style: "the hip line", or its formula; `kind` follows a name that does not end in it."""
    if node.word != "name":
        words = spell(node)
        return f"a {words}" if words.startswith("line ") else words
    words = in_words(node.text)
    if words == "start":
        return "the first point"
    article = "" if words[-1].isdigit() else "the "
    return f"{article}{words}" if not kind or words.endswith(kind) else f"{article}{words} {kind}"


def at_place(node: Node, desk: Desk) -> str:
    """Where something is drawn: "at the hip notch", "below the bust point", "8 cm along the cap from the back tip"."""
    if node.word == "along":
        return f"{amount_words(node.amount, desk)} along {called(node.line)} from {called(node.start)}"
    words = called(node)
    return words if node.word in ("onto", "level", "midway", "crossing", "halfway") else f"at {words}"


def amount_words(node: Node, desk: Desk) -> str:
    return desk.show_length(length(node, desk))


def listed(words: Iterable[str]) -> str:
    *others, last = words
    return f"{', '.join(others)} and {last}" if others else last


# --- sentences ------------------------------------------------------------------------------------------------


def _cut_along(cut: Node, desk: Desk, title: Titles, new: Titles) -> str:
    if cut.line.word == "cut_between":
        where = f"from {called(cut.line.start)} to {called(cut.line.end)}"
    else:
        where = f"along {called(cut.line)}"
    return f"Cut {title(cut.piece.text)} {where} into {listed(new(p.name.text) for p in cut.parts)}"


def _cut_through(cut: Node, desk: Desk, title: Titles, new: Titles) -> str:
    piece = desk.table.pieces.get(cut.piece.text)
    darts = {d.name for d in piece.darts} if piece else set()
    stops = listed(called(stop, "dart" if stop.text in darts else "") for stop in cut.way.each)
    parts = listed(new(p.name.text) for p in (cut.first, cut.second))
    smooth = ", and redraw the cut edges as smooth curves" if cut.clause("cut_smooth") else ""
    return f"Cut {title(cut.piece.text)} through {stops} into {parts}{smooth}"


def _close_dart(close: Node, desk: Desk, title: Titles, new: Titles) -> str:
    piece, _, dart = close.dart.text.partition(".")
    words = in_words(dart)
    named = words if words.endswith("dart") else f"{words} dart"
    by = f" by {spell(close.share.amount)}" if close.share is not None else ""
    openings = listed(_opening(opening) for opening in close.openings)
    return f"Close the {named} of {title(piece)}{by}, pivoting on {called(close.pivot)}, and open {openings}"


def _opening(opening: Node) -> str:
    edge = f"the {edge_words(opening.edge.text)}" if opening.edge is not None else "it"
    kind = opening.clause("opening_as")
    return f"{edge} at {called(opening.at)}" + (f" as {kind.kind.text}" if kind else "")


def _spread(spread: Node, desk: Desk, title: Titles, new: Titles) -> str:
    verb = "Overlap" if spread.word == "overlap" else "Spread"
    if spread.lines.word == "lines_even":
        number = spread.lines.count.text
        lines = (
            f"along {number} line{'' if number == '1' else 's'} from the {edge_words(spread.lines.start.text)} "
            f"to the {edge_words(spread.lines.end.text)}"
        )
    else:
        lines = f"along {listed(map(called, spread.lines.each))}"
    in_all = " in all" if spread.clause("spread_in_all") else ""
    amounts = []
    for clause in spread.clauses:
        if clause.word == "spread_nothing":
            amounts.append(f"nothing at the {edge_words(clause.edge.text)}")
        elif clause.word == "spread_amount":
            each = listed(amount_words(a, desk) for a in clause.amounts)
            amounts.append(f"{each}{in_all} at the {edge_words(clause.edge.text)}")
        elif clause.word == "spread_until":
            long = amount_words(clause.amount, desk)
            amounts.append(f"until the {edge_words(clause.edge.text)} is {long} long")
    kind, fold = spread.clause("spread_as"), spread.clause("spread_fold")
    end = (f", as {kind.kind.text}" if kind else "") + (
        f", folded {_WAYS.get(fold.to.text, f'to the {in_words(fold.to.text)}')}" if fold else ""
    )
    return f"{verb} {title(spread.piece.text)} {lines}: {', '.join(amounts)}{end}"


def _pleat(pleat: Node, desk: Desk, title: Titles, new: Titles) -> str:
    fold = pleat.clause("pleat_fold")
    folded = f", folded {_WAYS.get(fold.to.text, fold.to.text)}" if fold else ""
    free = "".join(f", free at the {edge_words(c.edge.text)}" for c in pleat.clauses_called("pleat_free"))
    kind = f"{'an' if pleat.kind.text[0] in 'aeiou' else 'a'} {pleat.kind.text} pleat"
    depth = amount_words(pleat.depth, desk)
    piece, edge = desk.table.pieces.get(pleat.piece.text), pleat.line.text.rpartition(".")[2]
    if (
        piece is not None
        and pleat.line.word in ("name", "dotted")
        and any(e.name == edge for e in piece.edges)
    ):
        return f"Add half of {kind} {depth} deep to {title(pleat.piece.text)} at the {edge_words(edge)}{free}"
    return f"Fold {kind} {depth} deep in {title(pleat.piece.text)} along {called(pleat.line)}{folded}{free}"


def _fold_out(fold: Node, desk: Desk, title: Titles, new: Titles) -> str:
    if length(fold.amount, desk) <= 0.005:  # A back that is not hollow, say.
        return f"Leave {title(fold.piece.text)} as it is: there is nothing to fold out at {called(fold.at)}"
    ends = f"at {called(fold.at)}, running to nothing at {called(fold.hinge)}"
    return f"Fold {amount_words(fold.amount, desk)} out of {title(fold.piece.text)} {ends}"


def _tape(tape: Node, desk: Desk, title: Titles, new: Titles) -> str:
    return (
        f"Tape {edge_of_piece(tape.edge, title)} to {edge_of_piece(tape.other, title)}; "
        f"the piece is called {new(tape.name.text)}"
    )


def _unfold(unfold: Node, desk: Desk, title: Titles, new: Titles) -> str:
    return f"Unfold {title(unfold.piece.text)} on its {edge_words(unfold.edge.text)}"


def _trace(trace: Node, desk: Desk, title: Titles, new: Titles) -> str:
    band, along = trace.clause("trace_band"), trace.clause("trace_along")
    where = ""
    if band is not None:
        edges = listed(f"the {edge_words(e.text)}" for e in band.edges)
        where = f", {amount_words(band.depth, desk)} from {edges}"
    elif along is not None:
        where = f" along {called(along.line)}"
    return f"Trace {new(trace.name.text)} from {title(trace.piece.text)}{where}"


def _lengthen(change: Node, desk: Desk, title: Titles, new: Titles) -> str:
    where = f"{title(change.piece.text)} at {called(change.line)}"
    return f"{change.word.capitalize()} {where} by {amount_words(change.amount, desk)}"


def _true_across(true: Node, desk: Desk, title: Titles, new: Titles) -> str:
    edges = edges_of_pieces(true.edge, true.other, title)
    (one, _, seam), (other, _, far) = (n.text.partition(".") for n in (true.seam, true.other_seam))
    same = seam == far and [n.text.partition(".")[0] for n in (true.edge, true.other)] == [one, other]
    across = f"their {edge_words(seam)}s" if same else edges_of_pieces(true.seam, true.other_seam, title)
    return f"True {edges} across {across}"


def _square_at(square: Node, desk: Desk, title: Titles, new: Titles) -> str:
    return f"Square {edge_of_piece(square.edge, title)} to the {edge_words(square.to.text)}"


def _level_with(level: Node, desk: Desk, title: Titles, new: Titles) -> str:
    return f"Bring {edges_of_pieces(level.edge, level.other, title)} to one length at the {edge_words(level.at.text)}"


def _redraw(redraw: Node, desk: Desk, title: Titles, new: Titles) -> str:
    return f"Redraw {edge_of_piece(redraw.edge, title)} along {called(redraw.line)}"


def _straighten(redraw: Node, desk: Desk, title: Titles, new: Titles) -> str:
    return f"Redraw {edge_of_piece(redraw.edge, title)} as a straight line"


def _smoothen(redraw: Node, desk: Desk, title: Titles, new: Titles) -> str:
    through = f" through {listed(map(called, redraw.through))}" if redraw.through else ""
    return f"Redraw {edge_of_piece(redraw.edge, title)} as a smooth curve{through}"


def _shape_hem(shape: Node, desk: Desk, title: Titles, new: Titles) -> str:
    shifts = [
        f"{amount_words(c.amount, desk)} {c.direction.text} at the {edge_words(c.edge.text)}"
        for c in shape.clauses_called("shape_shift")
    ]
    pointed = ", pointed" if shape.clause("shape_pointed") else ""
    return f"Shape {edge_of_piece(shape.edge, title)}: {', '.join(shifts)}{pointed}"


def _extend_edge(extend: Node, desk: Desk, title: Titles, new: Titles) -> str:
    named = f"; the new edge is called {in_words(extend.name.text)}" if extend.name is not None else ""
    piece, _, edge = extend.edge.text.partition(".")
    return f"Extend {title(piece)} by {amount_words(extend.amount, desk)} at the {edge_words(edge)}{named}"


def _discard(discard: Node, desk: Desk, title: Titles, new: Titles) -> str:
    return f"Discard {title(discard.piece.text)}"


def _move_piece(move: Node, desk: Desk, title: Titles, new: Titles) -> str:
    moves = [
        f"{amount_words(m.amount, desk)} {_WAYS.get(m.direction.text, m.direction.text)}"
        for m in move.by.each
    ]
    return f"Move {title(move.piece.text)} {listed(moves)}"


def _shift_points(shift: Node, desk: Desk, title: Titles, new: Titles) -> str:
    told, still = [], []
    for each in shift.shifts:
        if each.word == "shift_to":
            told.append(f"from {called(each.start)} to {called(each.end)}")
            continue
        if each.word == "shift_turn":
            way = each.turn.text if each.turn is not None else "clockwise"
            stretch = f"the stretch from {called(each.start)} to {called(each.end)}"
            told.append(f"with {stretch} turned {spell(each.amount)} {way} about {called(each.centre)}")
            continue
        if each.word == "shift_nothing":
            still.append(called(each.at))
            continue
        moves = [
            f"{amount_words(m.amount, desk)} {_WAYS.get(m.direction.text, m.direction.text)}"
            for m in each.by.each
            if abs(length(m.amount, desk)) > 0.005
        ]
        if moves:
            told.append(f"{listed(moves)} at {called(each.at)}")
        else:
            still.append(called(each.at))
    if not told:
        return f"Leave {title(shift.piece.text)} as it is"
    kept = f"; nothing moves at {listed(still)}" if still else ""
    return (
        f"Shift the outline of {title(shift.piece.text)} {listed(told)}, and redraw the edges between{kept}"
    )


def _shift_dart(shift: Node, desk: Desk, title: Titles, new: Titles) -> str:
    piece, _, dart = shift.dart.text.partition(".")
    moves = [
        f"{amount_words(m.amount, desk)} {_WAYS.get(m.direction.text, m.direction.text)}"
        for m in shift.by.each
    ]
    return f"Shift the {in_words(dart)} of {title(piece)} {listed(moves)}, as in a box cut round it"


def _shift_notch(shift: Node, desk: Desk, title: Titles, new: Titles) -> str:
    amount = amount_words(shift.amount, desk)
    return f"Move the notch on {edge_of_piece(shift.edge, title)} {amount} toward {called(shift.aim)}"


def _widen_bust(widen: Node, desk: Desk, title: Titles, new: Titles) -> str:
    amount = length(widen.amount, desk)
    how = "Open" if amount >= 0 else "Lap"
    return (
        f"{how} {title(widen.piece.text)} over {called(widen.bust)} by {desk.show_length(abs(amount))}, hinged at "
        f"{called(widen.hinge)}, and level the waist"
    )


def _turn_piece(turn: Node, desk: Desk, title: Titles, new: Titles) -> str:
    way = turn.turn.text if turn.turn is not None else "clockwise"
    return f"Turn {title(turn.piece.text)} {spell(turn.amount)} {way} about {called(turn.centre)}"


def _mirror_piece(mirror: Node, desk: Desk, title: Titles, new: Titles) -> str:
    return f"Turn {title(mirror.piece.text)} over along {called(mirror.line)}"


def _take(take: Node, desk: Desk, title: Titles, new: Titles) -> str:
    names = [(item.renamed or item.name).text for item in take.items if item.word == "take_piece"]
    return f"Take {listed(map(new, names))} from {desk.blocks.on_hand[take.block.text].style.title}"


# --- what is drawn on a piece --------------------------------------------------------------------------------------


def _dart(dart: Node, desk: Desk, title: Titles, new: Titles) -> str:
    clauses = {clause.word: clause for clause in dart.clauses}
    kind = "tuck" if "dart_as_pleat" in clauses else "dart"
    edge = edge_of_piece(dart.edge, title)
    if "dart_mouth" in clauses:
        mouth = clauses["dart_mouth"]
        words = f"Draw a {kind} on {edge}, its mouth from {called(mouth.start)} to {called(mouth.end)}"
    elif "dart_sides" in clauses:
        sides = clauses["dart_sides"]
        amounts = [
            f"{amount_words(amount, desk)} {side.text}"
            for amount, side in ((sides.amount, sides.side), (sides.other, sides.other_side))
        ]
        words = f"Draw a {kind} on {edge}, its mouth {' and '.join(amounts)} from {called(sides.at)}"
    else:
        where = (
            "halfway along it" if "dart_middle_half" in clauses else at_place(clauses["dart_middle"].at, desk)
        )
        words = f"Draw a {kind} of {amount_words(clauses['dart_intake'].amount, desk)} on {edge}, its middle {where}"
    if "dart_point" in clauses:
        words += f", pointing to {called(clauses['dart_point'].at)}"
    if "dart_length" in clauses:
        words += f", {amount_words(clauses['dart_length'].amount, desk)} long"
    if "dart_fold" in clauses:
        to = clauses["dart_fold"].to.text
        words += f", folded {_WAYS.get(to, f'to the {in_words(to)}')}"
    return words


def _double_dart(dart: Node, desk: Desk, title: Titles, new: Titles) -> str:
    clauses = {clause.word: clause for clause in dart.clauses}
    start, end, widest = (called(clauses[word].at) for word in ("dart_from", "dart_point", "dart_centre"))
    intake = amount_words(clauses["dart_intake"].amount, desk)
    inside = f"Draw a dart inside {title(dart.piece.text)} from {start} to {end}"
    return f"{inside}, taking in {intake} where it is widest, at {widest}"


def _grain_of(grain: Node, desk: Desk, title: Titles, new: Titles) -> str:
    lie = grain.lie
    if lie.word == "grain_between":
        way = f"from {called(lie.start)} to {called(lie.end)}"
    elif lie.word == "DIRECTION":
        way = "across" if lie.text in ("left", "right", "across") else "up and down"
    else:
        way = f"along {called(lie)}"
    return f"Lay the grain of {title(grain.piece.text)} {way}"


def _notch_of(notch: Node, desk: Desk, title: Titles, new: Titles) -> str:
    count = f"{notch.count.text} " if notch.count is not None else ""
    return f"Draw a {count}notch on {edge_of_piece(notch.edge, title)} {at_place(notch.at, desk)}"


def _notch_both(notch: Node, desk: Desk, title: Titles, new: Titles) -> str:
    count = f"{notch.count.text} " if notch.count is not None else ""
    ends = called(notch.corner)
    if notch.other_corner.text != notch.corner.text:
        ends += f" and {called(notch.other_corner)}"
    edges = edges_of_pieces(notch.edge, notch.other, title)
    return f"Draw a {count}notch on {edges}, {amount_words(notch.amount, desk)} from {ends}"


def _mark_on(mark: Node, desk: Desk, title: Titles, new: Titles) -> str:
    kind = " ".join(mark.kind.text.split()) if mark.kind is not None else "point"
    return f"Mark a {kind} on {title(mark.piece.text)} {at_place(mark.at, desk)}"


def _mark_row_on(mark: Node, desk: Desk, title: Titles, new: Titles) -> str:
    kind = " ".join(mark.row.kind.text.split())
    if mark.row.word == "row_count":
        row = f"{plain_number(mark.row.count, desk):g} {kind}"
    else:
        row = f"{kind} {amount_words(mark.row.apart, desk)} apart"
    return f"Mark {row} on {title(mark.piece.text)} along {called(mark.line)}"


def _draw_on(draw: Node, desk: Desk, title: Titles, new: Titles) -> str:
    kind = f" as a {' '.join(draw.kind.text.split())}" if draw.kind is not None else ""
    return f"Draw {called(draw.line)} on {title(draw.piece.text)}{kind}"


def _point_on(mark: Node, desk: Desk, title: Titles, new: Titles) -> str:
    return f"Mark the point {in_words(mark.name.text)} on {title(mark.piece.text)}"


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
    "shift_points": _shift_points,
    "shift_dart": _shift_dart,
    "shift_notch": _shift_notch,
    "widen_bust": _widen_bust,
    "turn_piece": _turn_piece,
    "mirror_piece": _mirror_piece,
    "take": _take,
    "dart": _dart,
    "double_dart": _double_dart,
    "grain_of": _grain_of,
    "notch_of": _notch_of,
    "notch_both": _notch_both,
    "mark_on": _mark_on,
    "mark_row_on": _mark_row_on,
    "draw_on": _draw_on,
    "point_on": _point_on,
}
"""By word of the language."""
