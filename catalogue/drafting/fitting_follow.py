"""What follows an alteration: points and lines with names, strips sewn to what was altered, and the notches."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from catalogue.drafting.asked import SeamAsked
from catalogue.drafting.desk import Desk
from catalogue.drafting.table import Traced
from catalogue.geometry import Path, Point, signed_area
from catalogue.pattern import Piece
from catalogue.pattern.making import PieceError
from catalogue.pattern.seamline import Sign
from catalogue.pattern.seams import Match, Walked, walk
from catalogue.pattern.shifting import Shift, shifted

SAME = 0.01
"""mm: places nearer than this are one."""
STRETCHED = 0.05
"""mm: a strip whose seam changes by less stays as it is."""
ASIDE = 5.0
"""mm: a point that came to lie farther from its edge was moved on purpose."""
MET = 0.05
"""mm: notches that miss each other by so much more than before are put where they meet."""
FARTHEST = 40.0
"""mm: a notch that would have to go farther is left, and the seam says that it misses."""


def points_kept_on_edges(before: Piece, after: Piece) -> Piece:
    """The altered piece with its points on the edges that they lay on, those of corners at the corners."""
    edges = {e.name: e.path for e in after.edges}
    lie = [(e.path, edges[e.name]) for e in before.edges if e.name in edges]
    moved = {}
    for name, at in before.points.items():
        now = after.points.get(name)
        ends = [
            (old, new)
            for e, n in lie
            for old, new in ((e.start, n.start), (e.end, n.end))
            if at.distance(old) < SAME
        ]
        along = next(
            (
                n
                for e, n in lie
                if not ends and e.bounds().grown(SAME).contains(at) and e.nearest(at)[1] < SAME
            ),
            None,
        )
        if now is None:
            continue
        if ends and all(new.distance(ends[0][1]) < SAME for _, new in ends):
            moved[name] = ends[0][1]
        elif along is not None and SAME < along.nearest(now)[1] < ASIDE:
            moved[name] = along.point_at(along.nearest(now)[0])
    return after.with_changes(points={**after.points, **moved}) if moved else after


def follow_names(desk: Desk, before: Piece, after: Piece) -> None:
    """Take named points and lines of the draft along with the edges of a piece that they lie on."""
    edges = {e.name: e.path for e in after.edges}
    lie = [(e.path, edges[e.name]) for e in before.edges if e.name in edges]
    if all(old == new for old, new in lie) and before.points == after.points:
        return
    paper = desk.table.paper_of.get(before.name)
    drawn = {item.name: item.paper for item in desk.trace.items}
    for name, value in tuple(desk.names.values.items()):
        # On another sheet of paper the same place is another point.
        here = drawn.get(name) == paper
        if isinstance(value, Point):
            now = after.points.get(name) if before.points.get(name) == value else None
            now = now or (_carried(value, lie) if here else None)
            if now is not None and now != value:
                desk.names.values[name] = now
        elif isinstance(value, Path) and here:
            line = next((new for old, new in lie if _is(value, old)), None)
            back = next((new for old, new in lie if line is None and _is(value, old.reversed())), None)
            if line is not None or back is not None:
                desk.names.values[name] = line if line is not None else back.reversed() if back else value


def _is(one: Path, other: Path) -> bool:
    return (
        one.start.distance(other.start) < SAME
        and one.end.distance(other.end) < SAME
        and abs(one.length - other.length) < SAME
        and one.point_at(one.length / 2).distance(other.point_at(other.length / 2)) < SAME
    )


def _carried(at: Point, edges: Sequence[tuple[Path, Path]]) -> Point | None:
    """Where a point of an edge lies on the new edge: at its end, or at the same share of its length."""
    for old, new in edges:
        if at.distance(old.start) < SAME:
            return new.start
        if at.distance(old.end) < SAME:
            return new.end
    for old, new in edges:
        if old != new and old.bounds().grown(SAME).contains(at):
            along, away = old.nearest(at)
            if away < SAME:
                return new.point_at(along / old.length * new.length)
    return None


def traced_follow(
    traced: Mapping[str, Traced], pieces: Mapping[str, Piece], altered: Mapping[str, Piece]
) -> dict[str, Piece]:
    """The altered pieces, and those that lie as they were traced off one of them (a facing), traced off it again.

    Args:
        pieces: all pieces before the alteration.
        altered: those it changed, as they are now.
    """
    now = dict(altered)
    for name, (source, edges, again) in traced.items():  # a facing comes before what is traced off it
        if name in now or name not in pieces or source not in now or source not in pieces:
            continue
        try:
            if all(_same_shape(pieces[source].edge(e).path, now[source].edge(e).path) for e in edges):
                continue
            if _but_for_operations(again(pieces[source])) == _but_for_operations(pieces[name]):
                now[name] = again(now[source]).with_changes(operations=pieces[name].operations)
        except (KeyError, PieceError):
            continue  # The seam says what does not match.
    return now


def _same_shape(one: Path, other: Path) -> bool:
    """Whether two lines are the same wherever they lie, as far as their ends and middles tell."""

    def sides(path: Path) -> tuple[float, ...]:
        middle = path.point_at(path.length / 2)
        ends = (path.start, path.end)
        return path.length, ends[0].distance(ends[1]), *(middle.distance(end) for end in ends)

    return all(abs(a - b) < STRETCHED for a, b in zip(sides(one), sides(other), strict=True))


def _but_for_operations(piece: Piece) -> Piece:
    return piece.with_changes(operations=())


def strips_follow(
    seams: Sequence[SeamAsked],
    before: Mapping[str, Piece],
    after: Mapping[str, Piece],
    altered: Collection[str],
) -> dict[str, Piece]:
    """The altered pieces, and straight strips sewn to them (a waistband) made as much longer or shorter.

    A strip is cut across the middle of its straight edge and spread or lapped; one of the same shape (its interfacing)
    goes with it.
    """
    now = dict(after)
    changed = list(altered)
    sewn = [(w.first, w.second) for w in seams]
    for wanted in seams:
        if wanted.parts or wanted.whole or wanted.left_to_right or wanted.gathered:
            continue
        for strip, others, sign in ((wanted.second, wanted.first, 1.0), (wanted.first, wanted.second, -1.0)):
            piece, _, edge = strip[0].partition(".")
            names = {each.partition(".")[0] for each in others}
            if len(strip) != 1 or piece in altered or names.isdisjoint(altered) or piece not in now:
                continue
            try:
                was = walk(before, wanted.first, wanted.second, sewn, start=wanted.start)
                more = sign * (
                    walk(now, wanted.first, wanted.second, sewn, start=wanted.start).ease - was.ease
                )
                if abs(more) < STRETCHED:
                    continue
                twins = [
                    n for n, p in now.items() if n == piece or (n not in altered and _alike(p, now[piece]))
                ]
                longer = {n: _longer(now[n], now[piece].edge(edge).path, more) for n in twins}
            except (KeyError, PieceError):
                continue
            now.update(longer)
            changed += [n for n in longer if n not in changed]
    return {name: now[name] for name in changed}


def _alike(one: Piece, other: Piece) -> bool:
    a, b = one.outline.bounds(), other.outline.bounds()
    return (
        abs(a.width - b.width) < SAME
        and abs(a.height - b.height) < SAME
        and abs(a.left - b.left) < SAME
        and abs(a.top - b.top) < SAME
        and abs(signed_area(one.outline) - signed_area(other.outline)) < 1.0
    )


def _longer(piece: Piece, edge: Path, more: float) -> Piece:
    """The piece cut across the middle of an edge and moved apart there.

    Raises PieceError where it is no strip: what the cut crosses must be straight and run beside the edge.
    """
    way = (edge.end - edge.start).unit()
    middle = edge.start.mix(edge.end, 0.5)

    def along(at: Point) -> float:
        return (at - middle).dot(way)

    if edge.length - edge.start.distance(edge.end) > SAME:
        raise PieceError("the edge is not straight")
    for each in piece.edges:
        a, b = along(each.path.start), along(each.path.end)
        aside = abs(abs((each.path.end - each.path.start).unit().dot(way)) - 1.0) > 1e-6
        if a * b < 0 and (aside or each.path.length - abs(a - b) > SAME):
            raise PieceError("the piece is no strip")
    by = way * more
    beyond = [Shift(e.path.start, by) for e in piece.edges if along(e.path.start) > 0]
    return shifted(piece, beyond)


def meet_again(
    seams: Sequence[SeamAsked],
    before: Mapping[str, Piece],
    after: Mapping[str, Piece],
    altered: Collection[str],
) -> dict[str, Piece]:
    """The altered pieces with their notches slid along to where they meet those of the other side as before.

    Notches of the first half of a seam keep what they missed each other by from its start, the others from its end.
    """
    now = dict(after)
    sewn = [(w.first, w.second) for w in seams]
    for wanted in seams:
        names = {edge.partition(".")[0] for edge in (*wanted.first, *wanted.second)}
        if (
            wanted.parts
            or wanted.whole
            or wanted.left_to_right
            or wanted.gathered
            or names.isdisjoint(altered)
        ):
            continue
        try:
            was = walk(before, wanted.first, wanted.second, sewn, start=wanted.start)
            _meet(wanted, was, sewn, now, altered)
        except (KeyError, PieceError):
            continue
    return {name: now[name] for name in altered}


def _meet(
    wanted: SeamAsked,
    was: Walked,
    sewn: Sequence[tuple[tuple[str, ...], tuple[str, ...]]],
    pieces: dict[str, Piece],
    altered: Collection[str],
) -> None:
    known = {
        (m.first.edge, m.second.edge, n): m
        for n, m in _pairs(was)
        if m.first is not None and m.second is not None
    }
    for n, _ in _pairs(was):
        here = walk(pieces, wanted.first, wanted.second, sewn, start=wanted.start)
        match = next((m for k, m in _pairs(here) if k == n), None)
        if match is None or match.first is None or match.second is None or match.miss is None:
            return
        old = known.get((match.first.edge, match.second.edge, n))
        if old is None or old.miss is None:
            return
        in_first_half = match.first.at < here.first_length / 2
        ease = 0.0 if in_first_half else here.ease - was.ease
        off = match.miss - old.miss - ease
        if not MET < abs(off) <= FARTHEST:
            continue
        for sign, way in ((match.second, off), (match.first, -off)):
            slid = _slid(sign, way, pieces, altered)
            if slid is None:
                continue
            for piece in slid:
                tried = {**pieces, piece.name: piece}
                again = walk(tried, wanted.first, wanted.second, sewn, start=wanted.start)
                found = next((m for k, m in _pairs(again) if k == n), None)
                if (
                    found is not None
                    and found.miss is not None
                    and abs(found.miss - old.miss - ease) < abs(off) / 2
                ):
                    pieces[piece.name] = piece
                    break
            else:
                continue
            break


def _pairs(walked: Walked) -> Iterator[tuple[int, Match]]:
    return ((n, m) for n, m in enumerate(walked.matches) if m.miss is not None)


def _slid(sign: Sign, by: float, pieces: Mapping[str, Piece], altered: Collection[str]) -> list[Piece] | None:
    """A piece with its notch slid along the edge by so much, both ways; None where there is no such notch."""
    piece, _, edge = sign.edge.partition(".")
    notch = next(
        (n for n in pieces[piece].notches if n.edge == edge and n.at.distance(sign.point) < SAME), None
    )
    if not sign.is_notch or notch is None or piece not in altered:
        return None
    path = pieces[piece].edge(edge).path
    s, _ = path.nearest(notch.at)
    found = []
    for way in (by, -by):
        if 0.0 < s + way < path.length:
            at = path.point_at(s + way)
            old = pieces[piece]
            found.append(
                old.with_changes(
                    notches=tuple(replace(n, at=at) if n is notch else n for n in old.notches),
                    points={k: at if p.distance(notch.at) < SAME else p for k, p in old.points.items()},
                )
            )
    return found
