"""Words that place points, the way a drafter says it with a ruler, a square and a pair of compasses."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import degrees, length, path, plain_number, point, point_or_path, quantity
from catalogue.drafting.registry import value_word
from catalogue.findings import did_you_mean
from catalogue.geometry import (
    DIRECTIONS,
    Path,
    Point,
    Transform,
    circle_meets_path,
    circles_meet,
    crossings,
    foot_of,
    line_meets_line,
)
from catalogue.language.tree import Node
from catalogue.pattern.measure import joint_at

ON_THE_LINE = 0.5
"""mm a point may lie off a line and still be taken as on it: half the width of a pencil line and a ruler's error."""

FAR = 20_000.0
"""mm by which `extended` lengthens a line at both ends: longer than any garment."""


def direction_of(text: str) -> Point:
    """Unit vector of a direction word; `across` is to the right, as drafts run."""
    return DIRECTIONS["right" if text == "across" else text]


def guide(desk: Desk, start: Point, end: Point) -> None:
    """Draw the ruler line from one point to the next, for this step's figure."""
    if not desk.names.trial and start.distance(end) > 1e-9:
        desk.trace.draw("", "guide", Path.line(start, end), desk.table.paper)


@value_word("placed", shows="amounts")
def placed(node: Node, desk: Desk) -> Point:
    """`3 cm down and 2 cm right from nape`, `4.5 cm up and 45 degrees left from fork`"""
    here = point(node.start, desk)
    for by in moved_by(node.by, desk):
        there = here + by
        guide(desk, here, there)
        here = there
    return here


@value_word("shifted", shows="nothing")
def shifted(node: Node, desk: Desk) -> Point | Path:
    """`armhole moved 2 cm down`"""
    shape = point_or_path(node.shape, desk)
    by = sum(moved_by(node.by, desk), Point(0.0, 0.0))
    return _transformed(shape, Transform.translation(by))


def moved_by(moves: Node, desk: Desk) -> list[Point]:
    """Each move of `3 cm down and 2 cm right`; an angle leans the move before it toward its side."""
    found: list[tuple[float, Point]] = []
    for move in moves.each:
        side = direction_of(move.direction.text)
        amount = quantity(move.amount, desk)
        if not amount.angle:
            found.append((length(move.amount, desk), side))
            continue
        if not found:
            raise desk.trouble(
                "wrong-kind",
                f"“{move.amount.text}” is an angle; a length comes before it.",
                move.place,
                "Write 4 cm up and 45 degrees left from A.",
            )
        far, main = found[-1]
        found[-1] = far, leaning(main, amount.value, move.direction, desk)
    return [side * far for far, side in found]


def leaning(main: Point, tilt: float, to: Node, desk: Desk) -> Point:
    """A direction that leans by so many degrees toward another at right angles to it. Raises Trouble."""
    side = direction_of(to.text)
    if abs(main.dot(side)) > 0.5:
        names = {(round(d.x), round(d.y)): name for name, d in DIRECTIONS.items()}
        ahead = names.get((round(main.x), round(main.y)), "it")
        raise desk.trouble("no-side", f"{to.text} is not to the side of {ahead}.", to.place)
    radians = math.radians(tilt)
    return main * math.cos(radians) + side * math.sin(radians)


@value_word("toward", shows="amounts")
def toward(node: Node, desk: Desk) -> Point:
    """`5 cm from tip toward neck`"""
    start, aim = point(node.start, desk), point(node.aim, desk)
    _refuse_same(node, desk, start, aim)
    end = start.toward(aim, length(node.amount, desk))
    guide(desk, start, end)
    return end


@value_word("beyond", shows="amounts")
def beyond(node: Node, desk: Desk) -> Point:
    """`2 cm beyond neck from tip`: on the line from tip through neck, past neck."""
    past, start = point(node.past, desk), point(node.start, desk)
    _refuse_same(node, desk, start, past)
    end = past + (past - start).unit() * length(node.amount, desk)
    guide(desk, past, end)
    return end


@value_word("along", shows="amounts")
def along(node: Node, desk: Desk) -> Point:
    """`8 cm along armhole from tip`: by the tape along the line, away from that end (or on in its direction).

    `5 cm along front.side from waist_mark toward hem_corner` says which way to go from a point in the middle.
    """
    way, start = path(node.line, desk), point(node.start, desk)
    at = position_on(way, start, node.start, desk)
    by = length(node.amount, desk)
    backwards = at > way.length - ON_THE_LINE and not way.is_closed
    if node.aim is not None:
        backwards = _lies_back(way, at, node.aim, desk)
    s = at - by if backwards else at + by
    if way.is_closed:
        s %= way.length
    if not -1e-6 <= s <= way.length + 1e-6:
        raise desk.trouble(
            "off-the-line",
            f"{desk.show_length(by)} along “{node.line.text}” runs past its end: from there it is "
            f"{desk.show_length(at if backwards else way.length - at)} long.",
            node.place,
        )
    return way.point_at(min(max(s, 0.0), way.length))


def _lies_back(way: Path, at: float, aim_node: Node, desk: Desk) -> bool:
    """Whether a point lies against the line's direction from the place `at`; on a closed line the shorter way round."""
    aim = position_on(way, point(aim_node, desk), aim_node, desk)
    if abs(aim - at) < 1e-6:
        raise desk.trouble(
            "same-point", "It starts at that point, so there is no direction toward it.", aim_node.place
        )
    if way.is_closed:
        return (at - aim) % way.length < (aim - at) % way.length
    return aim < at


@value_word("end_of", shows="nothing")
def end_of(node: Node, desk: Desk) -> Point:
    """`start of hem_line`, `end of hem_line`: where the line was begun or ended."""
    way = path(node.line, desk)
    return way.start if node.end.text.split()[0] == "start" else way.end


@value_word("corner_of", shows="nothing")
def corner_of(node: Node, desk: Desk) -> Point:
    """`corner of front.side and hem`: where two edges of a piece meet."""
    piece_name, _, first = node.edge.text.partition(".")
    piece = desk.table.piece(node.edge, piece_name)
    edges = []
    for name, where in ((first, node.edge), (node.other.text, node.other)):
        edge = next((e for e in piece.edges if e.name == name), None)
        if edge is None:
            known = [e.name for e in piece.edges]
            raise desk.trouble(
                "unknown-edge",
                f"The piece “{piece_name}” has no edge “{name}”.",
                where.place,
                did_you_mean(name, known) or f"Its edges: {', '.join(known)}.",
            )
        edges.append(edge.path)
    one, other = edges
    for a, b in ((one.end, other.start), (one.start, other.end)):
        if a.distance(b) < 1e-6:
            return a
    at = next(i for i, e in enumerate(piece.edges) if e.name == first)
    beside = f"“{piece.edges[at - 1].name}” and “{piece.edges[(at + 1) % len(piece.edges)].name}”"
    raise desk.trouble(
        "no-crossing",
        f"The edges “{first}” and “{node.other.text}” do not meet.",
        node.place,
        f"“{first}” meets {beside}.",
    )


@value_word("part_way", shows="nothing")
def part_way(node: Node, desk: Desk) -> Point:
    """`1/3 of the way from A to B`, on the straight line or `along` a curve through both."""
    share = plain_number(node.share, desk)
    start, end = point(node.start, desk), point(node.end, desk)
    if node.line is None:
        return start.mix(end, share)
    way = path(node.line, desk)
    s0 = position_on(way, start, node.start, desk)
    s1 = position_on(way, end, node.end, desk)
    return way.point_at(min(max(s0 + share * (s1 - s0), 0.0), way.length))


@value_word("part_between", shows="nothing")
def part_between(node: Node, desk: Desk) -> Point:
    """`2/5 of A to B`: that part of the way from A, on the straight line."""
    return point(node.start, desk).mix(point(node.end, desk), plain_number(node.share, desk))


@value_word("halfway", shows="nothing")
def halfway(node: Node, desk: Desk) -> Point:
    way = path(node.line, desk)
    return way.point_at(way.length / 2)


@value_word("midway", shows="nothing")
def midway(node: Node, desk: Desk) -> Point:
    return point(node.start, desk).mix(point(node.end, desk), 0.5)


@value_word("level", shows="nothing")
def level(node: Node, desk: Desk) -> Point:
    """`below A on level B`: straight below A, as low as B. `left of A in line with B`: level with A, under B."""
    side, by = node.side.text.split()[0], node.by.text.split()[0]
    a, b = point(node.start, desk), point(node.aim, desk)
    upright = side in ("below", "above")
    if upright != (by == "on"):
        hint = (
            f"Write {side} … on level …"
            if upright
            else f"Write {' '.join(node.side.text.split())} … in line with …"
        )
        raise desk.trouble("not-understood", "A point cannot be placed in that way.", node.by.place, hint)
    result = Point(a.x, b.y) if upright else Point(b.x, a.y)
    guide(desk, a, result)
    return result


@value_word("onto", shows="nothing")
def onto(node: Node, desk: Desk) -> Point:
    """`below A on hem_line`: where the line straight down from A meets it."""
    a, way = point(node.start, desk), path(node.line, desk)
    words = node.side.text.split()
    vectors = {
        "below": [Point(0, 1)],
        "above": [Point(0, -1)],
        "left": [Point(-1, 0)],
        "right": [Point(1, 0)],
        "across": [Point(1, 0), Point(-1, 0)],
    }[words[0]]
    found: list[Point] = []
    desk.budget.spend(node.place, 10 + 5 * len(way.segments))
    for v in vectors:
        found += [c.point for c in crossings(Path.line(a - v * ON_THE_LINE, a + v * FAR), way)]
    if not found:
        raise desk.trouble(
            "no-crossing",
            f"Nothing of “{node.line.text}” lies {' '.join(words)} “{node.start.text}”.",
            node.place,
            "Lengthen the line: write “extended” after its name." if way.corners() == () else "",
        )
    found.sort(key=lambda p: p.distance(a))
    result = choose(found, node.which, node, desk, fallback=0)
    guide(desk, a, result)
    return result


@value_word("crossing", shows="nothing")
def crossing(node: Node, desk: Desk) -> Point:
    """`where A crosses B`"""
    a, b = path(node.line, desk), path(node.other, desk)
    desk.budget.spend(node.place, len(a.segments) * len(b.segments) // 2 + 20)
    found = [c.point for c in crossings(a, b)]
    if not found:
        hint = "Lengthen one of them: write “extended” after its name."
        if len(a.segments) == 1 and len(b.segments) == 1:
            meet = line_meets_line(a.start, a.end, b.start, b.end)
            hint = "They run side by side." if meet is None else hint
        raise desk.trouble(
            "no-crossing", f"“{node.line.text}” and “{node.other.text}” do not cross.", node.place, hint
        )
    return choose(found, node.which, node, desk)


@value_word("square_foot", shows="nothing")
def square_foot(node: Node, desk: Desk) -> Point:
    """`square from A to L`: where the line from A meets L square."""
    a, way = point(node.start, desk), path(node.line, desk)
    if (
        len(way.segments) == 1
        and way.start.distance(way.end) > 1e-9
        and abs(way.length - way.start.distance(way.end)) < 1e-6
    ):
        along_it = (way.end - way.start).unit()
        foot = way.start + along_it * (a - way.start).dot(along_it)
    else:
        foot = foot_of(a, way)[0]
    guide(desk, a, foot)
    return foot


@value_word("square_off", shows="amounts")
def square_off(node: Node, desk: Desk) -> Point:
    """`4 cm square off shoulder at tip, down`: away from the line on its lower side."""
    way, at = path(node.line, desk), point(node.at, desk)
    s = position_on(way, at, node.at, desk)
    normal = way.tangent_at(s).normal()
    side = direction_of(node.side.text)
    if abs(normal.dot(side)) < 1e-6:
        raise desk.trouble(
            "no-side",
            f"“{node.line.text}” runs {node.side.text} here, so that is not a side of it.",
            node.side.place,
            "Name the side on which the new point lies.",
        )
    result = at + normal * (length(node.amount, desk) * (1 if normal.dot(side) > 0 else -1))
    guide(desk, at, result)
    return result


@value_word("touching", shows="amounts")
def touching(node: Node, desk: Desk) -> Point:
    """`13 cm from neck to touch level`: swing a length from a point until it meets a line."""
    radius, centre, way = length(node.amount, desk), point(node.centre, desk), path(node.line, desk)
    desk.budget.spend(node.place, 10 + 2 * len(way.segments))
    found = circle_meets_path(centre, radius, way)
    if not found:
        _, s = foot_of(centre, way)
        near = way.point_at(s).distance(centre)
        raise desk.trouble(
            "no-crossing",
            f"{desk.show_length(radius)} from “{node.centre.text}” does not reach “{node.line.text}”: "
            f"its nearest point is {desk.show_length(near)} away.",
            node.place,
        )
    result = choose(found, node.which, node, desk)
    guide(desk, centre, result)
    return result


@value_word("sweeps", shows="nothing")
def sweeps(node: Node, desk: Desk) -> Point:
    """`9 in from A meeting 10 in from B, highest`: where two sweeps of the compasses cross."""
    r1, a = length(node.amount, desk), point(node.centre, desk)
    r2, b = length(node.other_amount, desk), point(node.other_centre, desk)
    found = circles_meet(a, r1, b, r2)
    if not found:
        raise desk.trouble(
            "no-crossing",
            f"The two sweeps do not meet: the points are {desk.show_length(a.distance(b))} apart.",
            node.place,
        )
    result = choose(found, node.which, node, desk)
    guide(desk, a, result)
    guide(desk, b, result)
    return result


@value_word("mirrored", shows="nothing")
def mirrored(node: Node, desk: Desk) -> Point | Path:
    """`mirror of A over L`"""
    shape, over = point_or_path(node.shape, desk), path(node.line, desk)
    return _transformed(shape, Transform.reflection(over.start, over.end))


@value_word("turned", shows="nothing")
def turned(node: Node, desk: Desk) -> Point | Path:
    """`A turned 12 degrees about B`: clockwise on the paper."""
    shape, centre = point_or_path(node.shape, desk), point(node.centre, desk)
    return _transformed(shape, Transform.rotation(degrees(node.amount, desk), centre))


def _transformed(shape: Point | Path, by: Transform) -> Point | Path:
    return by.apply(shape) if isinstance(shape, Point) else shape.transformed(by)


def _refuse_same(node: Node, desk: Desk, a: Point, b: Point) -> None:
    if a.distance(b) < 1e-9:
        raise desk.trouble("same-point", "The two points are the same, so there is no direction.", node.place)


def position_on(way: Path, at: Point, node: Node, desk: Desk) -> float:
    """Arc length at which `at` lies on the line. Raises Trouble when it lies off it."""
    desk.budget.spend(node.place, 5 + len(way.segments) // 2)
    joint = joint_at(way, at)
    if joint is not None:
        return joint
    s, off = way.nearest(at)
    if off > ON_THE_LINE:
        raise desk.trouble(
            "off-the-line",
            f"“{node.text}” does not lie on that line: it is {desk.show_length(off)} away.",
            node.place,
        )
    return s


_ORDER: dict[str, Callable[[Point], float]] = {
    "highest": lambda p: p.y,
    "lowest": lambda p: -p.y,
    "leftmost": lambda p: p.x,
    "rightmost": lambda p: -p.x,
}


def choose(
    found: Sequence[Point], which: Node | None, node: Node, desk: Desk, fallback: int | None = None
) -> Point:
    """One of several points, as the line says which. Raises Trouble when it doesn't and there is more than one."""
    if which is not None:
        word = which.order.text.lstrip(", \n").split()[0]
        if which.word == "which_nearest":
            aim = point(which.aim, desk)
            return (min if word == "nearest" else max)(found, key=aim.distance)
        if word in ("first", "last"):
            return found[0 if word == "first" else -1]
        return min(found, key=_ORDER[word])
    distinct = [p for i, p in enumerate(found) if all(p.distance(q) > 0.01 for q in found[:i])]
    if len(distinct) > 1 and fallback is None:
        raise desk.trouble(
            "which-one",
            f"They meet in {len(distinct)} points.",
            node.place,
            "Say which: end the line with “, highest”, “, leftmost” or “, nearest” and a point.",
        )
    return found[fallback or 0]
