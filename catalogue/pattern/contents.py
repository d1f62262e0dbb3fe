"""What is drawn on a piece's paper, and how it goes with the part it lies on."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from catalogue.geometry import DIRECTIONS, Path, Point, Transform, contains, crossings
from catalogue.pattern.making import PieceError
from catalogue.pattern.measure import ON_EDGE
from catalogue.pattern.piece import Dart, Edge, InnerLine, Mark, Notch, Piece, Pleat

SHORTEST_LINE = 0.02
"""mm: a bit of an inner line shorter than this is dropped when the line is cut."""

_ONE_DIRECTION = 0.9998
"""Cosine of the degree within which two halves of a line run in one direction."""


@dataclass(frozen=True, slots=True)
class Contents:
    """Everything on a piece but its outline; see `Piece` for each."""

    darts: tuple[Dart, ...] = ()
    pleats: tuple[Pleat, ...] = ()
    notches: tuple[Notch, ...] = ()
    marks: tuple[Mark, ...] = ()
    lines: tuple[InnerLine, ...] = ()
    points: Mapping[str, Point] = field(default_factory=dict)
    grain: tuple[Point, Point] | None = None

    def moved(self, by: Transform) -> Contents:
        """All of it carried along by a movement of the paper."""
        return Contents(
            tuple(moved_dart(d, by) for d in self.darts),
            tuple(_moved_pleat(p, by) for p in self.pleats),
            tuple(replace(n, at=by.apply(n.at)) for n in self.notches),
            tuple(_moved_mark(m, by) for m in self.marks),
            tuple(replace(line, path=line.path.transformed(by)) for line in self.lines),
            {n: by.apply(p) for n, p in self.points.items()},
            (by.apply(self.grain[0]), by.apply(self.grain[1])) if self.grain else None,
        )

    def and_also(self, other: Contents) -> Contents:
        """Both, this one's first; what both have at one place is kept once.

        Of two points of one name, or two grain lines, this one's stays.
        """
        return Contents(
            (*self.darts, *other.darts),
            (*self.pleats, *other.pleats),
            (*self.notches, *(n for n in other.notches if not any(_same(n, m) for m in self.notches))),
            (*self.marks, *(n for n in other.marks if not any(_same(n, m) for m in self.marks))),
            _rejoined(self.lines, other.lines),
            {**other.points, **self.points},
            self.grain or other.grain,
        )

    def on(self, piece: Piece, edges: Sequence[Edge]) -> Piece:
        """The piece with another outline and with this on it; its grain line stays as it is."""
        return piece.with_changes(
            edges=tuple(edges),
            darts=self.darts,
            pleats=self.pleats,
            notches=self.notches,
            marks=self.marks,
            lines=self.lines,
            points=self.points,
        )


def _same(a: Notch | Mark, b: Notch | Mark) -> bool:
    """Whether two marks are one: on a pivot or a line that did not open both parts of the paper have it."""
    if isinstance(a, Mark) and isinstance(b, Mark):
        a = replace(a, angle=b.angle)
    return a.at.distance(b.at) < 1e-6 and replace(a, at=b.at) == b


def _moved_mark(mark: Mark, by: Transform) -> Mark:
    """A mark turns with the paper: a buttonhole keeps its direction on it."""
    way = by.apply_vector(Point(1.0, 0.0).turned(mark.angle))
    angle = round((way.angle + 90.0) % 180.0 - 90.0, 9)
    return replace(mark, at=by.apply(mark.at), angle=angle)


def direction_word(way: Point) -> str:
    """The direction word nearest to a vector: up, down, left or right on the paper."""
    return max(DIRECTIONS, key=lambda word: DIRECTIONS[word].dot(way))


def _folded_still(word: str, by: Transform) -> str:
    """What a fold points to after the paper was moved: a direction turns with it, an edge is still the edge."""
    return direction_word(by.apply_vector(DIRECTIONS[word])) if word in DIRECTIONS else word


def moved_dart(dart: Dart, by: Transform) -> Dart:
    legs = (by.apply(dart.legs[0]), by.apply(dart.legs[1]))
    return replace(
        dart,
        apex=by.apply(dart.apex),
        legs=(legs[1], legs[0]) if by.flips else legs,
        tip=by.apply(dart.tip) if dart.tip else None,
        far_apex=by.apply(dart.far_apex) if dart.far_apex else None,
        folded_to=_folded_still(dart.folded_to, by),
    )


def _moved_pleat(pleat: Pleat, by: Transform) -> Pleat:
    mouth = (by.apply(pleat.mouth[0]), by.apply(pleat.mouth[1]))
    return replace(
        pleat,
        mouth=(mouth[1], mouth[0]) if by.flips else mouth,
        folded_to=_folded_still(pleat.folded_to, by),
    )


def contents_of(piece: Piece) -> Contents:
    return Contents(
        piece.darts, piece.pleats, piece.notches, piece.marks, piece.lines, piece.points, piece.grain
    )


def contents_within(piece: Piece, region: Path, skip: Collection[str] = ()) -> Contents:
    """What lies in a region of the paper; a line that runs out of it is cut at its border.

    Args:
        region: a closed path, part of whose border is the piece's outline.
        skip: darts that are not carried along (the one being closed, those being redrawn).

    Raises:
        PieceError: the border runs through a dart or a pleat.
    """

    def inside(at: Point, tolerance: float = ON_EDGE) -> bool:
        return contains(region, at, tolerance)

    return Contents(
        tuple(
            d for d in piece.darts if d.name not in skip and _whole(dart_probes(d), inside, "dart", d.name)
        ),
        tuple(p for p in piece.pleats if inside(p.mouth[0]) and inside(p.mouth[1])),
        tuple(n for n in piece.notches if inside(n.at)),
        tuple(m for m in piece.marks if inside(m.at)),
        tuple(part for line in piece.lines for part in _line_within(line, region)),
        {n: p for n, p in piece.points.items() if inside(p)},
        piece.grain if piece.grain and inside(piece.grain[0].mix(piece.grain[1], 0.5), 0.0) else None,
    )


def dart_probes(dart: Dart) -> list[Point]:
    """Points just inside a dart's corners: they lie on one side of whatever does not run through it."""
    middle = dart.legs[0].mix(dart.legs[1], 0.5)
    beside = [leg.mix(middle, 0.1) for leg in dart.legs]
    ends = [dart.apex] if dart.far_apex is None else [dart.apex, dart.far_apex]
    return [end.mix(leg, t) for end in ends for leg in beside for t in (0.03, 0.97)]


def _whole(probes: list[Point], inside: Callable[..., bool], what: str, name: str) -> bool:
    answers = {inside(p, 0.0) for p in probes}
    if len(answers) > 1:
        raise PieceError(
            f"the line runs through the {what} “{name}”",
            f"Close the {what} first, or move the line.",
            probes[0],
        )
    return answers.pop()


def _line_within(line: InnerLine, region: Path) -> list[InnerLine]:
    path = line.path
    marks = sorted({0.0, path.length, *(c.on_first for c in crossings(path, region))})
    parts: list[Path] = []
    for a, b in pairwise(marks):
        if b - a > SHORTEST_LINE and contains(region, path.point_at((a + b) / 2), 0.01):
            part = path.between(a, b)
            if parts and parts[-1].end.distance(part.start) < 1e-6:
                part = parts.pop().joined(part)
            parts.append(part)
    return [replace(line, path=p) for p in parts]


def _rejoined(lines: tuple[InnerLine, ...], others: tuple[InnerLine, ...]) -> tuple[InnerLine, ...]:
    """The lines of two parts; halves of a line that meet again end to end are one line."""
    kept = list(lines)
    for line in others:
        for i, other in enumerate(kept):
            if (other.kind, other.text) != (line.kind, line.text):
                continue
            if other.path.end.distance(line.path.start) < 1e-6:
                kept[i] = replace(other, path=other.path.joined(line.path).simplified)
                break
            if line.path.end.distance(other.path.start) < 1e-6:
                kept[i] = replace(other, path=line.path.joined(other.path).simplified)
                break
        else:
            kept.append(line)
    return tuple(kept)


def bridged(fixed: Contents, moving: Contents, move: Transform) -> tuple[Contents, Contents]:
    """Two parts of paper before one of them moves, the halves of an inner line joined straight across the opening.

    Only a line that runs on in one direction is joined; the halves of one that was turned stay apart.
    """
    joined: list[InnerLine] = []
    kept, left = list(fixed.lines), list(moving.lines)
    for line in fixed.lines:
        for other in left:
            if (other.kind, other.text) != (line.kind, line.text):
                continue
            if line.path.end.distance(other.path.start) < 1e-6:
                ways = line.path, other.path.transformed(move)
            elif other.path.end.distance(line.path.start) < 1e-6:
                ways = other.path.transformed(move), line.path
            else:
                continue
            into, out = ways[0].arriving, ways[1].leaving
            if into.dot(out) < _ONE_DIRECTION or ways[0].end.distance(ways[1].start) < 1e-6:
                continue
            across = Path.line(ways[0].end, ways[1].start)
            joined.append(replace(line, path=ways[0].joined(across).joined(ways[1]).simplified))
            kept.remove(line)
            left.remove(other)
            break
    return replace(fixed, lines=(*kept, *joined)), replace(moving, lines=tuple(left))


def fitted(piece: Piece) -> Piece:
    """The piece with darts, pleats and notches assigned again to the edges they lie on (edges may have new names)."""

    def edge_for(name: str, at: Point) -> str:
        def rank(edge: Edge) -> tuple[bool, bool, float]:
            off = edge.path.nearest(at)[1]
            return (off > ON_EDGE, edge.name != name and not edge.name.startswith(f"{name}_"), off)

        namesakes = [e for e in piece.edges if e.name == name or e.name.startswith(f"{name}_")]
        if len(namesakes) == 1 and namesakes[0].path.passes(at, ON_EDGE):
            return namesakes[0].name
        return min(piece.edges, key=rank).name

    return piece.with_changes(
        darts=tuple(d if not d.edge else replace(d, edge=edge_for(d.edge, d.legs[0])) for d in piece.darts),
        pleats=tuple(replace(p, edge=edge_for(p.edge, p.mouth[0])) for p in piece.pleats),
        notches=tuple(replace(n, edge=edge_for(n.edge, n.at)) for n in piece.notches),
    )
