"""Words that draw darts: on an edge, with two points inside a piece, or folded as a pleat."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import length, point
from catalogue.drafting.model import Check
from catalogue.drafting.operation_sentences import operation_sentence
from catalogue.drafting.registry import line_word, value_word
from catalogue.drafting.words_pieces import edge_of, piece_and_part, refused
from catalogue.drafting.words_points import direction_of
from catalogue.geometry import GeometryError, Path, Point
from catalogue.language.tree import Node
from catalogue.language.wording import in_words
from catalogue.pattern import Edge, Piece
from catalogue.pattern.darts import add_dart, add_double_dart
from catalogue.pattern.grain import clear_grain
from catalogue.pattern.making import PieceError
from catalogue.pattern.measure import ON_EDGE
from catalogue.pattern.pivot import folded_wedge

EASED_IN = 10.0
"""mm by which the longer leg of a dart can be eased into the shorter one (common practice, no source)."""

MOST_TRUED = 10.0
"""mm that a leg is made longer by without a word, as on a sloping shoulder: more shows in the edge (common practice,
no source)."""

LIKE = 0.5
"""mm that two legs may differ by and still be called alike."""


class Mouth(NamedTuple):
    """Where a dart opens: mm along its edge from where to where, and the place its middle line runs to."""

    start: float
    end: float
    at: Point

    @property
    def intake(self) -> float:
        return self.end - self.start


@line_word("dart")
def dart(node: Node, desk: Desk) -> None:
    """`dart front.waist, middle at halfway, intake 2 cm, length 10 cm, fold to centre`"""
    found, edge_name = piece_and_part(node.edge, desk)
    edge = edge_of(found, edge_name, node.edge, desk)
    name = node.name.text if node.name else _free_name(found, f"{edge_name}_dart")
    if name in _drawn(found):
        raise desk.trouble("given-twice", f"“{found.name}” has a dart or pleat “{name}” already.", node.place)
    clauses = {c.word: c for c in node.clauses}
    with desk.table.working_on(found):
        mouth = _mouth(node, clauses, edge, desk)
        if mouth.intake < 0:
            desk.messages.warn(
                "dart-dropped",
                f"The dart “{name}” would take in {desk.show_length(mouth.intake)}, less than nothing: "
                "it is left out.",
                node.place,
            )
        apex = point(clauses["dart_point"].at, desk) if "dart_point" in clauses else None
        how_long = length(clauses["dart_length"].amount, desk) if "dart_length" in clauses else None
        if apex is not None and how_long is not None:
            apex = mouth.at.toward(apex, how_long)
        elif apex is None and how_long is not None and "dart_sides" in clauses:
            apex = mouth.at + edge.path.tangent_at(edge.path.nearest(mouth.at)[0]).normal() * how_long
        unequal = node.clause("dart_unequal")
        within = length(unequal.amount, desk) if unequal is not None and unequal.amount else EASED_IN
    fold = clauses["dart_fold"].to.text if "dart_fold" in clauses else ""
    as_pleat = "dart_as_pleat" in clauses
    try:
        made = add_dart(
            found,
            name,
            edge_name,
            (mouth.start + mouth.end) / 2,
            mouth.intake,
            length=how_long,
            apex=apex,
            folded_to="" if as_pleat else fold,
            straight=as_pleat or "dart_straight" in clauses,
            unequal=unequal is not None,
        )
        if made is not found:
            _legs_told(
                made,
                name,
                (edge.path.point_at(mouth.start), edge.path.point_at(mouth.end)),
                within,
                node,
                desk,
            )
        if as_pleat and made is not found:
            made = _folded(made, name, fold)
        elif made is not found and not as_pleat:
            _width_told(made, name, node, desk)
    except PieceError as error:
        raise refused(error, node, desk) from None
    if made is not found:
        with desk.table.working_on(found):
            desk.trace.operations.append(operation_sentence(node, desk))
    desk.table.put(without_dart(found, name, mouth.at, desk) if made is found else _beside(made))


def _width_told(piece: Piece, name: str, node: Node, desk: Desk) -> None:
    """A warning where a dart is wider than it is long: it would stand up as a cone (common practice, no source)."""
    made = next((d for d in piece.darts if d.name == name), None)
    if made is None:
        return
    wide = made.legs[0].distance(made.legs[1])
    long = made.apex.distance(made.legs[0].mix(made.legs[1], 0.5))
    if wide > long:
        desk.messages.warn(
            "wide-dart",
            f"The dart “{name}” takes in {desk.show_length(wide)} and is {desk.show_length(long)} long: none that is "
            "wider than long lies flat.",
            node.place,
            "Make it longer, or share what it takes in between two darts and the side.",
        )


def _mouth(node: Node, clauses: Mapping[str, Node], edge: Edge, desk: Desk) -> Mouth:
    """The mouth as it is said: between two points, so much to each side of one, or by its middle and its intake."""
    path = edge.path
    ways = [w for w in ("dart_mouth", "dart_sides", "dart_intake") if w in clauses]
    if len(ways) > 1:
        raise desk.trouble(
            "dart-mouth-twice",
            "How wide the dart opens is said twice.",
            clauses[ways[-1]].place,
            f"Leave out: {clauses[ways[-1]].text}",
        )
    if "dart_mouth" in clauses:
        clause = clauses["dart_mouth"]
        ends = sorted(_on_edge(at, edge, desk) for at in (clause.start, clause.end))
        return Mouth(ends[0], ends[1], path.point_at((ends[0] + ends[1]) / 2))
    if "dart_sides" in clauses:
        return _sides(clauses["dart_sides"], edge, desk)
    if "dart_intake" not in clauses:
        raise desk.trouble("dart-lacks", "A dart needs its intake.", node.place, "Add: , intake 2 cm.")
    intake = length(clauses["dart_intake"].amount, desk)
    if "dart_middle" in clauses:
        middle = _on_edge(clauses["dart_middle"].at, edge, desk)
    elif "dart_middle_half" in clauses:
        middle = path.length / 2
    else:
        raise desk.trouble(
            "dart-lacks",
            "A dart needs the middle of its mouth.",
            node.place,
            "Add: , middle at halfway, or a point on the edge.",
        )
    return Mouth(middle - intake / 2, middle + intake / 2, path.point_at(middle))


def _on_edge(at_node: Node, edge: Edge, desk: Desk) -> float:
    """mm along the edge to a point that must lie on it."""
    s, off = edge.path.nearest(point(at_node, desk))
    if off > ON_EDGE:
        raise desk.trouble(
            "off-the-line",
            f"“{at_node.text}” is {desk.show_length(off)} away from the edge “{edge.name}”.",
            at_node.place,
        )
    return s


def _sides(clause: Node, edge: Edge, desk: Desk) -> Mouth:
    """`at A, 1/2 in left and 1 1/2 in right`: the mouth as drafts print it, so much to each side of a point."""
    s = _on_edge(clause.at, edge, desk)
    way = edge.path.tangent_at(s)
    ends: dict[bool, float] = {}
    for amount, side in ((clause.amount, clause.side), (clause.other, clause.other_side)):
        leaning = way.dot(direction_of(side.text))
        if abs(leaning) < 0.25:
            raise desk.trouble(
                "no-side",
                f"The edge “{edge.name}” runs up and down there, so {side.text} is not along it."
                if side.text in ("left", "right", "across")
                else f"The edge “{edge.name}” runs level there, so {side.text} is not along it.",
                side.place,
                "Write up and down." if side.text in ("left", "right", "across") else "Write left and right.",
            )
        by = length(amount, desk)
        ends[leaning > 0] = s + by if leaning > 0 else s - by
    if len(ends) < 2:
        raise desk.trouble(
            "no-side",
            "Both amounts lie to the same side of the point.",
            clause.other_side.place,
            "Write one to each side: 1 cm left and 3 cm right.",
        )
    return Mouth(ends[False], ends[True], edge.path.point_at(s))


def _legs_told(
    piece: Piece, name: str, drawn: tuple[Point, Point], within: float, node: Node, desk: Desk
) -> None:
    """What there is to say of legs that were drawn unequal: kept so, or trued by more than a pencil line."""
    made = next(d for d in piece.darts if d.name == name)
    title = f"{in_words(name)} of “{piece.title}”"
    if node.clause("dart_unequal") is not None:
        legs = sorted(leg.distance(made.apex) for leg in made.legs)
        apart = legs[1] - legs[0]
        detail = f"{desk.show_length(legs[0])} and {desk.show_length(legs[1])}"
        detail += f": {desk.show_length(apart)} is eased in" if apart > LIKE else ""
        words = f"The legs of the {title} differ by at most {desk.show_length(within)}"
        desk.trace.checks.append(Check(words, apart <= within + 1e-6, detail, node.place))
        return
    legs = sorted(leg.distance(made.apex) for leg in drawn)
    if legs[1] - legs[0] > MOST_TRUED:
        desk.messages.warn(
            "dart-trued",
            f"The legs of the {title} are {desk.show_length(legs[0])} and {desk.show_length(legs[1])} as drawn: the "
            f"shorter is made longer by {desk.show_length(legs[1] - legs[0])}, and the edge redrawn to meet it.",
            node.place,
            "Move the point or the mouth, or to keep them as they are drawn write: , unequal legs",
        )


@value_word("leg", shows="length")
def leg(node: Node, desk: Desk) -> Path:
    """`front.waist_dart.left leg`: a leg of a dart as a line, from its mouth to its point."""
    piece_name, dart_name, which = node.text.split(".")
    piece = desk.table.piece(node, piece_name)
    found = desk.table.dart(node, piece, dart_name)
    if found.far_apex is not None:
        raise desk.trouble(
            "dart-two-points",
            f"The dart “{dart_name}” has two points, so it has no left or right leg.",
            node.place,
            f"Its intake is: intake of {piece_name}.{dart_name}",
        )
    side = which.split()[0]
    across = found.legs[1] - found.legs[0]
    level = abs(across.x) >= abs(across.y)
    if level != (side in ("left", "right")):
        known = ("left", "right") if level else ("upper", "lower")
        raise desk.trouble(
            "no-side",
            f"The legs of “{dart_name}” lie {'beside' if level else 'above'} each other.",
            node.place,
            f"Write {piece_name}.{dart_name}.{known[0]} leg or {piece_name}.{dart_name}.{known[1]} leg.",
        )
    first = (across.x if level else across.y) > 0
    at = found.legs[0] if first == (side in ("left", "upper")) else found.legs[1]
    return Path.line(at, found.apex)


def _folded(piece: Piece, name: str, fold: str) -> Piece:
    """The piece with a dart laid as a pleat: folded and not stitched, its folds drawn."""
    new = next(d for d in piece.darts if d.name == name)
    rest = piece.with_changes(darts=tuple(d for d in piece.darts if d is not new))
    return folded_wedge(rest, name, new.edge, new.legs, new.apex, fold)


def without_dart(piece: Piece, name: str, at: Point, desk: Desk) -> Piece:
    """The piece with the place of a dart that this body does not need, so that a line may still name it."""
    empty = desk.table.empty_darts
    empty[piece.name] = empty.get(piece.name, frozenset()) | {name}
    return piece.with_changes(points={**piece.points, name: at})


def is_empty_dart(piece: Piece, name: str, desk: Desk) -> bool:
    """Whether the piece, or one that it was cut from, has no need of the dart of that name."""
    return name in piece.points and any(name in names for names in desk.table.empty_darts.values())


@line_word("double_dart")
def double_dart(node: Node, desk: Desk) -> None:
    """`dart waist_dart inside back, from A, point at B, widest at C, intake 2 cm`"""
    found = desk.table.piece(node.piece)
    clauses = {c.word: c for c in node.clauses}
    for word, lacking in (
        ("dart_from", "from A"),
        ("dart_point", "point at B"),
        ("dart_centre", "widest at C"),
        ("dart_intake", "intake 2 cm"),
    ):
        if word not in clauses:
            raise desk.trouble(
                "dart-lacks",
                "A dart inside a piece needs both ends, where it is widest and its intake.",
                node.place,
                f"Add: , {lacking}",
            )
    with desk.table.working_on(found):
        start, end, widest = (point(clauses[w].at, desk) for w in ("dart_from", "dart_point", "dart_centre"))
        intake = length(clauses["dart_intake"].amount, desk)
    try:
        made = add_double_dart(found, node.name.text, start, end, widest, intake)
    except (PieceError, GeometryError) as error:
        problem = error if isinstance(error, PieceError) else PieceError(str(error))
        raise refused(problem, node, desk) from None
    if made is not found:
        with desk.table.working_on(found):
            desk.trace.operations.append(operation_sentence(node, desk))
    desk.table.put(without_dart(found, node.name.text, widest, desk) if made is found else _beside(made))


def _beside(piece: Piece) -> Piece:
    """The piece with its grain line beside a dart that would lie on it."""
    return piece.with_changes(grain=clear_grain(piece, piece.grain)) if piece.grain else piece


def _drawn(piece: Piece) -> set[str]:
    """The names of a piece's darts and pleats."""
    return {d.name for d in piece.darts} | {p.name for p in piece.pleats}


def _free_name(piece: Piece, wanted: str) -> str:
    names = _drawn(piece)
    return next(n for n in (wanted, *(f"{wanted}_{i}" for i in range(2, 99))) if n not in names)
