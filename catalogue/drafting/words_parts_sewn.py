"""Words for seams of less than an edge, and of an edge and its mirror image: parts of edges, left to right, zips."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from catalogue.drafting.asked import PartAsked, SeamAsked
from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import degrees, length, point
from catalogue.drafting.model import Check
from catalogue.drafting.registry import line_word
from catalogue.drafting.words_pieces import edge_of, piece_and_part
from catalogue.findings import did_you_mean
from catalogue.language.tree import Node
from catalogue.language.wording import in_words
from catalogue.lengths import LengthError, parse_length
from catalogue.pattern import Mark, Notch, Piece
from catalogue.pattern.edge_parts import with_part
from catalogue.pattern.levels import point_sewn
from catalogue.pattern.measure import ON_EDGE, place_on, sewn_length
from catalogue.pattern.seams import SMOOTH, TOLERANCE


def part_of_edge(node: Node, desk: Desk) -> PartAsked:
    """`front.side from waist to zip_end`, `20 cm of front.side from waist`: looked at now, walked at the end."""
    found, name = piece_and_part(node.edge, desk)
    edge_of(found, name, node.edge, desk)
    part = PartAsked(node.edge.text, node)
    part_places(part, found, desk)
    return part


def part_places(part: PartAsked, piece: Piece, desk: Desk) -> tuple[float, float]:
    """Where a part of an edge begins and ends on the piece as it is now, mm along the edge as drawn."""
    node, name = part.node, part.edge.partition(".")[2]
    path = piece.edge(name).path
    if node.word == "edge_length":
        at_end = end_beside(piece, name, node.start, desk)
        by, whole = length(node.amount, desk), sewn_length(piece, name)
        if not 0 < by <= whole + 1e-6:
            raise desk.trouble(
                "off-the-line",
                f"The edge “{part.edge}” is {desk.show_length(whole)} long, so {desk.show_length(by)} of it is "
                "more than there is.",
                node.amount.place,
                f"Write {part.edge} alone for the whole of it.",
            )
        to = place_on(path, point_sewn(piece, name, whole - by if at_end else by))
        return (path.length if at_end else 0.0), to
    places = []
    with desk.table.working_on(piece):
        for at in (node.start, node.end):
            s, off = path.nearest(point(at, desk))
            if off > ON_EDGE:
                raise desk.trouble(
                    "off-the-line",
                    f"“{at.text}” is {desk.show_length(off)} away from the edge “{part.edge}”.",
                    at.place,
                    f"Name a point on the edge, or say how much: 20 cm of {part.edge} from {_an_end(piece, name)}",
                )
            places.append(s)
    if abs(places[0] - places[1]) < ON_EDGE:
        raise desk.trouble("same-point", "The part of the edge has no length.", node.end.place)
    return places[0], places[1]


def _an_end(piece: Piece, name: str) -> str:
    """The edge that an edge begins at."""
    return piece.edges[next(i for i, e in enumerate(piece.edges) if e.name == name) - 1].name


def end_beside(piece: Piece, name: str, node: Node, desk: Desk) -> bool:
    """Whether the end of an edge that lies at another edge, or at a corner by name, is its last one."""
    at = next(i for i, e in enumerate(piece.edges) if e.name == name)
    before, after = piece.edges[at - 1].name, piece.edges[(at + 1) % len(piece.edges)].name
    if node.text in (before, after):
        return node.text == after
    corner = piece.points.get(node.text)
    if corner is not None:
        for at_end, there in ((False, piece.edges[at].path.start), (True, piece.edges[at].path.end)):
            if corner.distance(there) <= ON_EDGE:
                return at_end
    raise desk.trouble(
        "no-such-end",
        f"No end of “{piece.name}.{name}” lies at “{node.text}”.",
        node.place,
        did_you_mean(node.text, [before, after]) or f"Its ends lie at {before} and {after}.",
    )


@dataclass(frozen=True, slots=True)
class PartsCut:
    """Pieces with parts of their edges as edges of their own, and where the walk starts; a word for each part."""

    pieces: Mapping[str, Piece]
    start: tuple[str, str] | None
    words: tuple[str, ...]


def cut_at_parts(wanted: SeamAsked, pieces: Mapping[str, Piece], desk: Desk) -> PartsCut:
    """The pieces with the parts that a seam asks for as edges of their own; both sides begin where each is said to."""
    made = dict(pieces)
    begins: dict[str, str] = {}
    words = []
    for part in wanted.parts:
        name, _, edge = part.edge.partition(".")
        if name not in made or edge not in {e.name for e in made[name].edges}:
            raise KeyError(part.edge)
        s0, s1 = part_places(part, made[name], desk)
        made[name] = with_part(made[name], edge, s0, s1)
        at = next(i for i, e in enumerate(made[name].edges) if e.name == edge)
        around = made[name].edges
        begins[part.edge] = (around[at - 1] if s0 < s1 else around[(at + 1) % len(around)]).name
        words.append(f"{in_words(part.edge)} for {desk.show_length(sewn_length(made[name], edge))}")
    start = wanted.start
    if start is None and len(wanted.first) == len(wanted.second) == 1:
        both = begins.get(wanted.first[0]), begins.get(wanted.second[0])
        if both[0] is not None and both[1] is not None:
            start = both[0], both[1]
    return PartsCut(made, start, tuple(words))


@line_word("sew_halves")
def sew_halves(node: Node, desk: Desk) -> None:
    """`sew back.centre left to right`, `sew front.fork and back.fork left to right`: an edge and its mirror image."""
    names: list[str] = []
    for given in node.side.edges:
        if given.word != "DOTTED":
            raise desk.trouble(
                "left-to-right",
                "Only whole edges are sewn left to right.",
                given.place,
                "Write the edge alone: sew back.centre left to right",
            )
        found, edge = piece_and_part(given, desk)
        edge_of(found, edge, given, desk)
        if not found.cut.mirrored:
            what = (
                "is on the fold: left and right are one piece there"
                if found.cut.on_fold
                else "has no left and right: it is not cut in pairs"
            )
            raise desk.trouble(
                "no-pair",
                f"“{found.name}” {what}.",
                given.place,
                f"Cut a pair of it, cut 2, or leave this seam out: {given.text} is not sewn to itself.",
            )
        names.append(given.text)
    smooth: float | None = None
    if node.smooth is not None:
        smooth = SMOOTH if node.smooth.amount is None else degrees(node.smooth.amount, desk)
    desk.asked.seams.append(
        SeamAsked(
            tuple(names), tuple(names), 0.0, 0.0, TOLERANCE, node.place, smooth=smooth, left_to_right=True
        )
    )


@line_word("zip_in")
def zip_in(node: Node, desk: Desk) -> None:
    """`zip 20 cm in back.centre from waist`: marked at its end, and compared with the zip among the notions."""
    by = length(node.amount, desk)
    for given in node.edges:
        found, edge = piece_and_part(given, desk)
        path = edge_of(found, edge, given, desk).path
        at_end, whole = end_beside(found, edge, node.start, desk), sewn_length(found, edge)
        if not 0 < by <= whole + 1e-6:
            raise desk.trouble(
                "off-the-line",
                f"The edge “{given.text}” is {desk.show_length(whole)} long: a zip of {desk.show_length(by)} does "
                "not fit in it.",
                node.amount.place,
                f"Write at most: zip {desk.show_length(whole)} in {given.text} from {node.start.text}",
            )
        at = point_sewn(found, edge, whole - by if at_end else by)
        at = path.point_at(path.nearest(at)[0])
        desk.table.put(
            replace(
                found,
                notches=(*found.notches, Notch(edge, at)),
                marks=(*found.marks, Mark(at, "end", "zip ends")),
            )
        )
    edges = " and ".join(in_words(given.text) for given in node.edges)
    desk.trace.checks.append(_zip_check(by, edges, node, desk))


def _zip_check(by: float, edges: str, node: Node, desk: Desk) -> Check:
    """Whether there is a zip among the notions that is long enough for the opening."""
    words = f"The notions have a zip for the {desk.show_length(by)} in {edges}"
    zips = [n for n in desk.asked.notions if "zip" in n.lower()]
    if not zips:
        detail = f"add to the notions: {desk.show_length(by)} zip"
        return Check(words, False, detail, node.place)
    known = [mm for each in zips if (mm := _length_in(each)) is not None]
    if not known:
        return Check(words, True, f"“{zips[0]}”", node.place)
    longest = max(known)
    if longest + LIKE < by:
        detail = f"the zip among the notions is {desk.show_length(longest)}: too short"
        return Check(words, False, detail, node.place)
    over = f", to be shortened by {desk.show_length(longest - by)}" if longest > by + LIKE else ""
    return Check(words, True, f"{desk.show_length(longest)}{over}", node.place)


LIKE = 3.0
"""mm that a zip may differ from its opening by: less than two of its teeth (common practice, no source)."""


def _length_in(notion: str) -> float | None:
    """The length that a notion states, mm: `20 cm zip`, `zip 8 in`; None where it states none."""
    words = notion.split()
    for n in range(len(words)):
        for count in (3, 2, 1):
            try:
                return parse_length(" ".join(words[n : n + count]), None)
            except LengthError:
                continue
    return None
