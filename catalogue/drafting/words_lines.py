"""Words that draw lines and curves."""

from __future__ import annotations

import math
from itertools import pairwise

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import degrees, length, path, point, point_or_path
from catalogue.drafting.registry import value_word
from catalogue.drafting.words_points import FAR, direction_of, leaning, position_on
from catalogue.geometry import Knot, Path, Point, arc, circle, parallel, smooth
from catalogue.language.tree import Node

MOST_KNOTS = 100
"""Points of one curve: a curve by so many is a copied outline, not a draft."""


@value_word("extended")
def extended(node: Node, desk: Desk) -> Path:
    """`shoulder extended`: run straight on at both ends."""
    return path(node.line, desk).extended(FAR, FAR)


@value_word("line_to", shows="nothing")
def line_to(node: Node, desk: Desk) -> Path:
    """`line A to B to C`"""
    points = [point(p, desk) for p in node.points]
    for a, b, where in zip(points, points[1:], node.points[1:], strict=False):
        if a.distance(b) < 1e-9:
            raise desk.trouble(
                "same-point", "The line has no length: its two points are the same.", where.place
            )
    return Path.polyline(points)


@value_word("line_from", shows="length")
def line_from(node: Node, desk: Desk) -> Path:
    """`line from A right 20 cm`, `line from A right and 20 degrees down 20 cm`"""
    start = point(node.start, desk)
    if node.end.word == "line_aimed":
        end = start + _aim(node.end.aim, desk, start, None) * length(node.end.amount, desk)
    else:
        end = point(node.end, desk)
    if start.distance(end) < 1e-9:
        raise desk.trouble("same-point", "The line has no length.", node.place)
    return Path.line(start, end)


@value_word("curve", shows="length")
def curve(node: Node, desk: Desk) -> Path:
    """`curve A leaving down, B, C arriving right`: smooth through the points (Hobby's spline)."""
    knots = node.knots
    if len(knots) > MOST_KNOTS:
        raise desk.trouble(
            "too-many-points",
            f"A curve passes through at most {MOST_KNOTS} points; this one has {len(knots)}.",
            knots[MOST_KNOTS].place,
            "Draw it in two parts and join them: first then second.",
        )
    points = [point(k.at, desk) for k in knots]
    for i, (a, b) in enumerate(pairwise(points)):
        if a.distance(b) < 1e-6:
            raise desk.trouble(
                "same-point",
                "The curve passes through the same point twice in a row here.",
                knots[i + 1].place,
            )
    made = []
    for i, knot in enumerate(knots):
        before = points[i] - points[i - 1] if i else None
        after = points[i + 1] - points[i] if i + 1 < len(points) else None
        if knot.word == "knot_through":
            aim = _aim(knot.heading.aim, desk, points[i], after or before)
            made.append(Knot(points[i], aim, aim))
            continue
        arriving = _aim(knot.arriving.aim, desk, points[i], before or after) if knot.arriving else None
        leaving = _aim(knot.leaving.aim, desk, points[i], after or before) if knot.leaving else None
        made.append(Knot(points[i], arriving, leaving))
    return smooth(made)


def _aim(node: Node, desk: Desk, at: Point, chord: Point | None) -> Point:
    """The direction a curve takes at a knot; of two possible ones that which goes the way of the curve."""
    match node.word:
        case "aim_direction":
            main = direction_of(node.direction.text)
            if node.tilt is None:
                return main
            return leaning(main, degrees(node.tilt, desk), node.side, desk)
        case "aim_toward":
            aim = point(node.aim, desk) - at
            if aim.length < 1e-9:
                raise desk.trouble(
                    "same-point",
                    "The curve ends at that point already, so there is no direction.",
                    node.place,
                )
            return aim.unit()
    way = path(node.line, desk)
    tangent = way.tangent_at(way.nearest(at)[0])
    aim = tangent.normal() if node.word == "aim_square" else tangent
    return -aim if chord is not None and aim.dot(chord) < 0 else aim


@value_word("arc_to", shows="length")
def arc_to(node: Node, desk: Desk) -> Path:
    """`arc about C from A to B`: the shorter way round, ending in the direction of B."""
    centre, start, aim = (point(p, desk) for p in (node.centre, node.start, node.aim))
    first, last = start - centre, aim - centre
    if first.length < 1e-9 or last.length < 1e-9:
        raise desk.trouble("same-point", "An arc needs points away from its centre.", node.place)
    turn = math.degrees(math.atan2(first.cross(last), first.dot(last)))
    if abs(turn) < 1e-9:
        raise desk.trouble(
            "same-point", "The arc has no length: both points lie in the same direction.", node.place
        )
    return arc(centre, start, turn)


@value_word("arc_turning", shows="length")
def arc_turning(node: Node, desk: Desk) -> Path:
    """`arc about C from A turning 90 degrees [anticlockwise]`"""
    centre, start = point(node.centre, desk), point(node.start, desk)
    turn = degrees(node.amount, desk)
    if not 0 < abs(turn) <= 360:
        raise desk.trouble(
            "no-angle", "An arc turns by more than 0 and at most 360 degrees.", node.amount.place
        )
    if start.distance(centre) < 1e-9:
        raise desk.trouble("same-point", "An arc needs a start away from its centre.", node.place)
    anticlockwise = node.turn is not None and node.turn.text == "anticlockwise"
    return arc(centre, start, -turn if anticlockwise else turn)


@value_word("circle", shows="length")
def whole_circle(node: Node, desk: Desk) -> Path:
    """`circle about C radius 4 cm`"""
    centre, radius = point(node.centre, desk), length(node.radius, desk)
    if radius <= 0:
        raise desk.trouble("no-radius", "The radius must be more than 0.", node.radius.place)
    return circle(centre, radius)


@value_word("part_of", shows="nothing")
def part_of(node: Node, desk: Desk) -> Path:
    """`part of armhole from A to B`"""
    way = path(node.line, desk)
    return between(way, point(node.start, desk), point(node.end, desk), node.start, node.end, desk)


def between(way: Path, start: Point, end: Point, start_node: Node, end_node: Node, desk: Desk) -> Path:
    """The part of a line from one point on it to another, in that direction."""
    s0, s1 = position_on(way, start, start_node, desk), position_on(way, end, end_node, desk)
    if way.is_closed and abs(s0 - s1) < 1e-6:
        return way
    if abs(s0 - s1) < 1e-6:
        raise desk.trouble("same-point", "The two points are at the same place of the line.", end_node.place)
    return way.between(s0, s1)


@value_word("parallel", shows="nothing")
def parallel_to(node: Node, desk: Desk) -> Path:
    """`parallel to hem, 2 cm up`"""
    way, by = path(node.line, desk), length(node.amount, desk)
    side = direction_of(node.side.text)
    size = len(way.segments)
    desk.budget.spend(node.place, 3 * size * size + 30 * size)
    normal = way.tangent_at(way.length / 2).normal()
    if abs(normal.dot(side)) < 1e-6:
        raise desk.trouble(
            "no-side",
            f"“{node.line.text}” runs {node.side.text}, so that is not a side of it.",
            node.side.place,
        )
    return parallel(way, by if normal.dot(side) > 0 else -by)


@value_word("chain", shows="nothing")
def chain(node: Node, desk: Desk) -> Path:
    """`front_part then back_part`: one line after another, turned round where that joins them."""
    shapes = [(p, point_or_path(p, desk)) for p in node.lines]
    made: Path | None = None
    for i, (where, shape) in enumerate(shapes):
        if isinstance(shape, Point):
            raise desk.trouble(
                "wrong-kind", f"“{where.text}” is a point; expected a line or curve.", where.place
            )
        if made is None:
            following = shapes[i + 1][1]
            ends = (following.start, following.end) if isinstance(following, Path) else (following, following)
            turn_round = (
                min(shape.start.distance(e) for e in ends) < min(shape.end.distance(e) for e in ends) - 1e-9
            )
            made = shape.reversed() if turn_round else shape
            continue
        if shape.end.distance(made.end) < shape.start.distance(made.end) - 1e-9:
            shape = shape.reversed()
        gap = made.end.distance(shape.start)
        if gap > 0.01:
            raise desk.trouble(
                "gap",
                f"“{where.text}” does not begin where the line before it ends: {desk.show_length(gap)} apart.",
                where.place,
            )
        made = made.joined(shape)
    assert made is not None
    return made
