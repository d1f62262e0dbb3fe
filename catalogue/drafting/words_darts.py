"""Words that draw darts: on an edge, with two points inside a piece, or folded as a pleat."""

from __future__ import annotations

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import length, point
from catalogue.drafting.registry import line_word
from catalogue.drafting.words_pieces import edge_of, piece_and_part, refused
from catalogue.geometry import GeometryError, Point
from catalogue.language.tree import Node
from catalogue.pattern import Piece
from catalogue.pattern.darts import add_dart, add_double_dart
from catalogue.pattern.grain import clear_grain
from catalogue.pattern.making import PieceError
from catalogue.pattern.measure import ON_EDGE
from catalogue.pattern.pivot import folded_wedge


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
        if "dart_intake" not in clauses:
            raise desk.trouble("dart-lacks", "A dart needs its intake.", node.place, "Add: , intake 2 cm.")
        intake = length(clauses["dart_intake"].amount, desk)
        if intake < 0:
            desk.messages.warn(
                "dart-dropped",
                f"The dart “{name}” would take in {desk.show_length(intake)}, less than nothing: "
                "it is left out.",
                node.place,
            )
        if "dart_middle" in clauses:
            at_node = clauses["dart_middle"].at
            middle, off = edge.path.nearest(point(at_node, desk))
            if off > ON_EDGE:
                raise desk.trouble(
                    "off-the-line",
                    f"“{at_node.text}” is {desk.show_length(off)} away from the edge “{edge_name}”.",
                    at_node.place,
                )
        elif "dart_middle_half" in clauses:
            middle = edge.path.length / 2
        else:
            raise desk.trouble(
                "dart-lacks",
                "A dart needs the middle of its mouth.",
                node.place,
                "Add: , middle at halfway, or a point on the edge.",
            )
        apex = point(clauses["dart_point"].at, desk) if "dart_point" in clauses else None
        how_long = length(clauses["dart_length"].amount, desk) if "dart_length" in clauses else None
        if apex is not None and how_long is not None:
            mouth = edge.path.point_at(middle)
            apex = mouth.toward(apex, how_long)
    fold = clauses["dart_fold"].to.text if "dart_fold" in clauses else ""
    as_pleat = "dart_as_pleat" in clauses
    try:
        made = add_dart(
            found,
            name,
            edge_name,
            middle,
            intake,
            length=how_long,
            apex=apex,
            folded_to="" if as_pleat else fold,
            straight=as_pleat or "dart_straight" in clauses,
        )
        if as_pleat and made is not found:
            made = _folded(made, name, fold)
    except PieceError as error:
        raise refused(error, node, desk) from None
    desk.table.put(
        without_dart(found, name, edge.path.point_at(middle), desk) if made is found else _beside(made)
    )


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
