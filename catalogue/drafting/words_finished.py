"""Finished measurements of the garment: where they are measured, what the style claims, and the ease it wants."""

from __future__ import annotations

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import evaluate, length, point, wrong_kind
from catalogue.drafting.finished_wanted import EdgeStretch, FinishedWanted, Level
from catalogue.drafting.registry import line_word
from catalogue.drafting.words_pieces import edge_of, piece_and_part
from catalogue.geometry import Path, Point
from catalogue.language.tree import Node
from catalogue.language.values import Quantity, Value
from catalogue.people.measurements import Measurement
from catalogue.people.naming import plain_name


@line_word("finished")
def finished(node: Node, desk: Desk) -> None:
    """`finished bust girth measured at front.bust_point = bust_girth + ease, ease 4 cm to 8 cm`: see `measured`."""
    name = " ".join(node.name.text.split())
    taken = node.taken
    claimed = None if node.formula is None else length(node.formula, desk)
    levels: tuple[Level, ...] = ()
    stretches: tuple[EdgeStretch, ...] = ()
    if taken is not None and taken.word == "measured_at":
        levels = tuple(_level(level, desk) for level in taken.levels)
    elif taken is not None:
        stretches = tuple(_stretch(stretch, desk) for stretch in taken.stretches)
    clauses = {c.word: c for c in node.clauses}
    body: float | None = None
    if "finish_on" in clauses:
        body = length(clauses["finish_on"].on, desk)
        measurement = _compared(clauses["finish_on"].on, desk)
    else:
        eased = clauses.keys() & {"finish_ease_least", "finish_ease_range"}
        measurement = desk.names.register.of_lengths(name) if eased else _called(name, desk)
        if measurement is not None:
            body = desk.names.measurements.get(measurement.key)
            if body is None and clauses:
                raise desk.trouble(
                    "missing-measurement", f"The client file has no {measurement.name}.", node.place
                )
    if clauses.keys() - {"finish_on", "finish_overlap"} and body is None:
        raise desk.trouble(
            "no-body-figure",
            f"“{name}” is not a body measurement, so there is no ease to judge.",
            node.name.place,
            "Add what it is compared with: , body bust_girth",
        )
    least = most = None
    if "finish_ease_least" in clauses:
        least = length(clauses["finish_ease_least"].least, desk)
    elif "finish_ease_range" in clauses:
        limits = clauses["finish_ease_range"]
        least, most = length(limits.least, desk), length(limits.most, desk)
    overlap = 0.0
    if "finish_overlap" in clauses:
        if not levels:
            raise desk.trouble(
                "overlap-of-nothing",
                "An overlap is taken off what is measured round the garment.",
                clauses["finish_overlap"].place,
                f"Write where it is measured: finished {name} measured at front.waist",
            )
        overlap = length(clauses["finish_overlap"].overlap, desk)
    desk.asked.finished.append(
        FinishedWanted(name, node.place, claimed, levels, stretches, overlap, body, measurement, least, most)
    )


def _level(node: Node, desk: Desk) -> Level:
    """A level: a point of a piece, a named line, an edge, or so much below an edge."""
    what, edge, on = node.where, node.edge, node.piece
    if edge is not None:
        piece, name = piece_and_part(edge, desk)
        edge_of(piece, name, edge, desk)
        depth = length(what, desk)
        if depth <= 0.0:
            raise desk.trouble(
                "below-nothing",
                "A level lies more than nothing below an edge.",
                what.place,
                f"Or write {edge.text}.",
            )
        return Level(edge.text, node.place, piece.name, edge=name, depth=depth)
    if on is not None:
        piece = desk.table.piece(on)
        with desk.table.working_on(piece):
            return Level(what.text, node.place, piece.name, point(what, desk))
    if what.word == "dotted":
        piece, name = piece_and_part(what.written, desk)
        if any(e.name == name for e in piece.edges):
            return Level(what.text, node.place, piece.name, edge=name)
        if name not in piece.points:
            edge_of(piece, name, what, desk)
        return Level(what.text, node.place, piece.name)
    if what.word == "name" and any(what.text in piece.points for piece in desk.table.pieces.values()):
        return Level(what.text, node.place)
    value: Value = evaluate(what, desk)
    if isinstance(value, Path):
        return Level(what.text, node.place, line=value)
    if isinstance(value, Point):
        raise desk.trouble(
            "on-which-piece",
            f"“{what.text}” is a point of no piece.",
            what.place,
            f"Say the piece too: measured at {what.text} on {next(iter(desk.table.pieces), 'front')}",
        )
    hint = "Name a point of a piece, a line, or an edge: measured at front.waist"
    if isinstance(value, Quantity) and value.is_length:
        hint = f"Say below which edge: measured at {what.text} below front.waist"
    raise wrong_kind(what, desk, "a point, a line or an edge", value, hint)


def _stretch(node: Node, desk: Desk) -> EdgeStretch:
    """An edge, or what of it lies between two points."""
    piece, name = piece_and_part(node.edge, desk)
    edge = edge_of(piece, name, node.edge, desk)
    if node.start is None:
        return EdgeStretch(piece.name, name)
    ends = []
    with desk.table.working_on(piece):
        for given in (node.start, node.end):
            ends.append(point(given, desk))
            if not edge.path.passes(ends[-1], 1.0):
                raise desk.trouble(
                    "off-the-line", f"“{given.text}” does not lie on {node.edge.text}.", given.place
                )
    return EdgeStretch(piece.name, name, ends[0], ends[1])


def _compared(node: Node, desk: Desk) -> Measurement | None:
    """The body measurement that a garment is compared with, where it is one; of several the first that there is."""
    if node.word == "either":
        names = [p.text for p in node.names]
        return _called(next((n for n in names if n in desk.names.measurements), names[0]), desk)
    return (
        desk.names.register.find(node.text)
        if node.text in desk.names.known_measurements
        else _called(node.text, desk)
    )


def _called(name: str, desk: Desk) -> Measurement | None:
    """The body measurement of exactly that name; not by its other names, which are a garment's too (a side seam)."""
    found = desk.names.register.find(name)
    return (
        found if found is not None and plain_name(name) in map(plain_name, (found.name, found.key)) else None
    )
