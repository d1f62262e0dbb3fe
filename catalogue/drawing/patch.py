"""A piece as a flat drawing shows it: polylines, darts and pleats shut, ready to be laid to its neighbours."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from catalogue.geometry import Box, Point
from catalogue.pattern import Dart, Piece, Pleat
from catalogue.pattern.joining import laid_against

Polyline = list[Point]
Move = Callable[[Point], Point]

FINE = 0.4
"""mm that the polylines may be off the curves."""
_PRESSED = 160.0  # mm that a fold is shown that grows less to nothing
_LOOSE = 60.0  # mm that a fold held at an edge is shown to run into the cloth


@dataclass(frozen=True, slots=True)
class Patch:
    """A piece on the way into a flat drawing.

    Attributes:
        name: of its piece.
        edges: by name, running clockwise round the piece one after the other.
        folds: names of edges that lie on a fold of the cloth.
        lines: what is drawn inside, by kind: "dart", "pleat", "stitch", "welt" and its name, "strap", and "over", the
            line on which a strap turns over the shoulder.
        buttons: centres of buttons and buttonholes.
        middles: lines drawn inside that are named as the middle of the body.
        pockets: marks of the corners of pockets, with their words.
    """

    name: str
    edges: Mapping[str, Polyline]
    folds: frozenset[str] = frozenset()
    lines: tuple[tuple[str, Polyline], ...] = ()
    buttons: tuple[Point, ...] = ()
    middles: tuple[Polyline, ...] = ()
    pockets: tuple[tuple[str, Point], ...] = ()

    @property
    def outline(self) -> Polyline:
        """The outline, edge after edge; it closes from the last point to the first."""
        points: Polyline = []
        for edge in self.edges.values():
            points += edge if not points or points[-1].distance(edge[0]) > 0.01 else edge[1:]
        return points

    @property
    def box(self) -> Box:
        return Box.around(self.outline)

    def moved(self, move: Move) -> Patch:
        return replace(
            self,
            edges={name: [move(p) for p in edge] for name, edge in self.edges.items()},
            lines=tuple((kind, [move(p) for p in line]) for kind, line in self.lines),
            buttons=tuple(move(p) for p in self.buttons),
            middles=tuple([move(p) for p in line] for line in self.middles),
            pockets=tuple((words, move(p)) for words, p in self.pockets),
        )

    def mirrored(self) -> Patch:
        """Turned over about the upright through x = 0; its edges still run clockwise."""
        turned = self.moved(lambda p: Point(-p.x, p.y))
        return replace(turned, edges={n: turned.edges[n][::-1] for n in reversed(list(turned.edges))})


def patch_of(piece: Piece, outward: int = 1) -> Patch:
    """A piece with its darts and pleats shut.

    Args:
        outward: 1 when the side away from the middle of the body is to the right, -1 when to the left; that side
            comes in when a dart is shut.
    """
    return _closed(*_open(piece), outward)


def both_ways(piece: Piece, outward: int) -> tuple[Patch, Patch]:
    """A piece with its darts and pleats shut for an outward side, and for the other; see `patch_of`."""
    patch, shut = _open(piece)
    return _closed(patch, shut, outward), _closed(patch, shut, -outward)


def _open(piece: Piece) -> tuple[Patch, list[_Shut]]:
    """A piece with its darts and pleats still open, and what is to be taken out to shut them."""
    edges = {e.name: _without_mouths(piece, e.name) for e in piece.edges}
    lines: list[tuple[str, Polyline]] = []
    shut: list[_Shut] = []
    for dart in piece.darts:
        shut.append(_shut_dart(dart))
        start = shut[-1].foot
        ends = [dart.apex] if dart.far_apex is None else [dart.apex, dart.far_apex]
        lines.append(("dart", [*ends[1:], start, ends[0]]))
    for fold, pleat in _folds(piece):
        shut.append(fold)
        if pleat.kind == "box" and (beside := _beside_middle(piece, pleat)):
            # Of a box pleat in the middle the fold beside it is seen, half of what it takes away.
            aside = Point(beside * fold.wide / 2, 0.0)
            lines.append(
                ("pleat", [max(pleat.mouth, key=lambda p: p.x * beside) + aside, fold.tip + aside * 2.0])
            )
            continue
        # A fold that runs out into nothing is pressed, or holds, only so far.
        run = fold.foot.distance(fold.tip)
        tip = fold.tip if fold.even else fold.foot.mix(fold.tip, min(_PRESSED / max(run, 1.0), 1.0))
        lines.append(("pleat", [fold.foot, tip]))
    lines += [
        (_stitched(line.text), line.path.flatten(FINE))
        for line in piece.lines
        if line.kind in ("stitch", "placement") and not _is_roll(line.text)
    ]
    lines += [("over", line.path.flatten(FINE)) for line in piece.lines if line.text.lower() == "shoulder"]
    lines += [("roll", [line.path.start, line.path.end]) for line in piece.lines if _is_roll(line.text)]
    buttons = tuple(m.at for m in piece.marks if m.kind in ("button", "buttonhole"))
    middles = tuple(line.path.flatten(FINE) for line in piece.lines if _is_middle(line.text))
    pockets = tuple(
        (m.text.lower(), m.at) for m in piece.marks if m.kind == "placement" and "pocket" in m.text.lower()
    )
    on_fold = frozenset(e.name for e in piece.edges if e.fold)
    return Patch(piece.name, edges, on_fold, tuple(lines), buttons, middles, pockets), shut


def _closed(patch: Patch, shut: list[_Shut], outward: int) -> Patch:
    if outward < 0:
        patch = patch.mirrored()
        shut = [s.mirrored() for s in shut]
    if not shut:
        return patch

    def close(p: Point) -> Point:
        return p - sum((s.taken(p) for s in shut), Point(0.0, 0.0))

    return patch.moved(close)


def follow(patch: Patch, edge: str, target: Sequence[Point]) -> Patch:
    """The patch laid with one edge on `target` (which runs the other way) and stretched a little to lie on all of it.

    Every level of the patch, counted along the seam, moves by what its point of the seam moves; so panels of unlike
    curves close without a gap, as cloth does on a body.
    """
    own = patch.edges[edge]
    move = laid_against(target[0], target[-1], own[0], own[-1])
    laid = patch.moved(move.apply)
    own, wanted = laid.edges[edge], list(reversed(target))
    way = own[-1] - own[0]
    if way.length < 1e-6:
        return laid
    way = way.unit()
    table: list[tuple[float, Point]] = []
    total, walked, high = length_of(own), 0.0, -1e9
    for n, p in enumerate(own):
        walked += own[n - 1].distance(p) if n else 0.0
        high = max(high, (p - own[0]).dot(way))
        table.append((high, along(wanted, walked / total) - p))

    def drawn(p: Point) -> Point:
        at = (p - own[0]).dot(way)
        for (a, da), (b, db) in pairwise(table):
            if at <= b:
                return p + (da.mix(db, min(max((at - a) / (b - a), 0.0), 1.0)) if b > a else db)
        return p + table[-1][1]

    # The seam itself lies exactly on the other edge, whatever its bends.
    made = laid.moved(drawn)
    return replace(made, edges={**made.edges, edge: wanted})


def turn_of(patch: Patch, edge: str, target: Sequence[Point]) -> float:
    """Degrees that a patch turns when it is laid with its edge on `target`."""
    own = patch.edges[edge]
    move = laid_against(target[0], target[-1], own[0], own[-1])
    return abs(move.apply_vector(Point(1.0, 0.0)).angle)


@dataclass(frozen=True, slots=True)
class _Shut:
    """A wedge of paper that is taken out: from `foot`, where it is `wide`, to nothing at `tip` (and at `far`)."""

    foot: Point
    tip: Point
    wide: float
    far: Point | None = None
    level: bool = False  # it points across, so what lies under it moves up
    even: bool = False  # as wide at its tip, and on beyond both ends
    step: float = 0.0  # how much lower (or further right) the side that moves lies at the mouth

    def taken(self, p: Point) -> Point:
        """How far a point moves back when the wedge is shut; both sides of the mouth come to the same place."""
        if self.level:
            up = self.down(p)
            return Point(self.step * up / self.wide if self.wide else 0.0, up)
        back = self.across(p)
        return Point(back, self.step * back / self.wide if self.wide else 0.0)

    def mirrored(self) -> _Shut:
        def flip(p: Point) -> Point:
            return Point(-p.x, p.y)

        far = None if self.far is None else flip(self.far)
        return replace(self, foot=flip(self.foot), tip=flip(self.tip), far=far, step=-self.step)

    def across(self, p: Point) -> float:
        """How far a point comes in."""
        if self.level:
            return 0.0
        end = self.tip
        if self.far is not None and (p.y - self.foot.y) * (self.tip.y - self.foot.y) < 0:
            end = self.far
        rise = end.y - self.foot.y
        share = (p.y - self.foot.y) / rise if abs(rise) > 1e-6 else 1.0
        if share < 0 and self.far is None:
            share = 0.0
        open_here = self.wide if self.even else self.wide * min(max(1.0 - share, 0.0), 1.0)
        middle = self.foot.x + (end.x - self.foot.x) * min(max(share, 0.0), 1.0)
        return min(max(p.x - (middle - open_here / 2), 0.0), open_here)

    def down(self, p: Point) -> float:
        """How far a point goes up: a band is folded out on the level of the dart, right across."""
        if not self.level:
            return 0.0
        run = self.tip.x - self.foot.x
        share = min(max((p.x - self.foot.x) / run, 0.0), 1.0) if abs(run) > 1e-6 else 0.0
        middle = self.foot.y + (self.tip.y - self.foot.y) * share
        return min(max(p.y - (middle - self.wide / 2), 0.0), self.wide)


def _shut_dart(dart: Dart) -> _Shut:
    a, b = dart.legs
    foot = a.mix(b, 0.5)
    way = dart.apex - foot
    level = abs(way.x) > abs(way.y) and dart.far_apex is None
    if level:
        return _Shut(foot, dart.apex, abs(b.y - a.y), level=True, step=_step(a.y, a.x, b.y, b.x))
    return _Shut(foot, dart.apex, abs(b.x - a.x), dart.far_apex, step=_step(a.x, a.y, b.x, b.y))


def _step(at: float, value: float, other: float, other_value: float) -> float:
    """What the value gains from the lesser of two places to the greater."""
    return other_value - value if other > at else value - other_value


def _folds(piece: Piece) -> Iterator[tuple[_Shut, Pleat]]:
    """The pleats of a piece and what shuts them; one that is folded from edge to edge counts once."""
    done: list[Point] = []
    for pleat in piece.pleats:
        a, b = pleat.mouth
        if any(a.distance(p) < 1.0 for p in done):
            continue
        foot = a.mix(b, 0.5)
        ends = [end for mouth in (a, b) for end in _other_ends(piece, mouth)]
        if len(ends) == 1:  # at the middle of the body the pleat ends with the piece
            ends += [end for mouth in (a, b) for end in _other_end_of_edge(piece, pleat.edge, mouth)]
        if not ends:
            yield (
                _Shut(foot, foot + _inward(piece, pleat) * _LOOSE, abs(b.x - a.x), step=_step(*a, *b)),
                pleat,
            )
            continue
        done += ends
        tip = Point(sum(p.x for p in ends) / len(ends), sum(p.y for p in ends) / len(ends))
        even = max(p.x for p in ends) - min(p.x for p in ends) > abs(b.x - a.x) / 2
        yield _Shut(foot, tip, abs(b.x - a.x), even=even, step=_step(*a, *b)), pleat


def _beside_middle(piece: Piece, pleat: Pleat) -> int:
    """Which way the piece lies from a pleat that begins at its fold: 1 to the right, -1 to the left; else 0."""
    for edge in piece.edges:
        if edge.fold:
            for here, there in (pleat.mouth, pleat.mouth[::-1]):
                if edge.path.nearest(here)[1] < 1.0:
                    return 1 if there.x > here.x else -1
    return 0


def _other_ends(piece: Piece, mouth: Point) -> Iterator[Point]:
    """Where the fold lines that begin at a point of a pleat's mouth end."""
    for line in piece.lines:
        if line.kind == "pleat":
            for here, there in ((line.path.start, line.path.end), (line.path.end, line.path.start)):
                if here.distance(mouth) < 1.0:
                    yield there


def _other_end_of_edge(piece: Piece, not_this: str, corner: Point) -> Iterator[Point]:
    """Where the edge that meets another at a corner ends."""
    for edge in piece.edges:
        if edge.name != not_this:
            for here, there in ((edge.path.start, edge.path.end), (edge.path.end, edge.path.start)):
                if here.distance(corner) < 1.0:
                    yield there


def _inward(piece: Piece, pleat: Pleat) -> Point:
    try:
        edge = piece.edge(pleat.edge).path
    except KeyError:
        return Point(0.0, 1.0)
    return edge.tangent_at(edge.nearest(pleat.mouth[0])[0]).normal()


def _stitched(words: str) -> str:
    """The kind of a line that is stitched, or that something is placed on, by its words."""
    said = words.lower().replace(",", " ").split()
    if "welt" in said:
        return f"welt {words.lower()}"
    return next((kind for kind in ("fly", "strap") if kind in said), "stitch")


def _is_roll(words: str) -> bool:
    """Whether a line is named as the one on which a lapel turns back."""
    return bool({"roll", "break"} & set(words.lower().split()))


def _is_middle(words: str) -> bool:
    return bool({"centre", "center", "middle"} & set(words.lower().split()))


def _without_mouths(piece: Piece, name: str) -> Polyline:
    """An edge as a polyline that steps over the mouths of its darts and pleats, roofs left out."""
    path = piece.edge(name).path
    mouths = [d.legs for d in piece.darts if d.edge == name] + [
        p.mouth for p in piece.pleats if p.edge == name
    ]
    spans = sorted(tuple(sorted(path.nearest(p)[0] for p in mouth)) for mouth in mouths)
    points: Polyline = []
    at = 0.0
    for start, end in spans:
        if start - at > 0.5:
            points += path.between(at, start).flatten(FINE)
        at = end
    if path.length - at > 0.5:
        points += path.between(at, path.length).flatten(FINE)
    return points or path.flatten(FINE)


def length_of(line: Sequence[Point]) -> float:
    """Length of a polyline, mm."""
    return sum(a.distance(b) for a, b in pairwise(line))


def along(line: Sequence[Point], share: float) -> Point:
    """The point at a share of a polyline's length."""
    left = length_of(line) * share
    for a, b in pairwise(line):
        step = a.distance(b)
        if left <= step and step > 0:
            return a.mix(b, left / step)
        left -= step
    return line[-1]
