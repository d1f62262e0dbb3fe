"""A skirt of gores or of parts of a circle as it hangs: seams round the body, sides, a hem that falls in folds.

The panels are followed from the middle of the front to the middle of the back, seam by seam; at each level they share
what the skirt measures there. So a seam that lies at a third of the round is drawn there, in front or behind.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise

from catalogue.drafting.model import Draft
from catalogue.drawing.body_outline import BREADTH
from catalogue.drawing.hanging import strip_height
from catalogue.drawing.patch import Patch, Polyline, along, length_of, patch_of
from catalogue.drawing.pieces_worn import BACK, FRONT, is_strip, seams_of, strips_on, view_of, worn
from catalogue.geometry import Point
from catalogue.pattern import Edge, Piece

_LEAST = 12.0  # degrees that a panel's sides run apart, half round the body, for the skirt to count as flared
_MOST = 36.0  # degrees from upright at which the side of the fullest skirt hangs
_LEVELS = 24
_SEWN, _OPEN = (
    0.4,
    9.0,
)  # share of the length that a pleat is sewn down, and mm that half of it opens at the hem
_MIDDLES = ("centre", "center", "middle", "cf", "cb")


@dataclass(frozen=True, slots=True)
class Panel:
    """A panel between two seams, for one half of the body, from the front round to the back.

    Attributes:
        near, far: its two sides from the top down; the near one lies towards the middle of the front.
        top, low: lengths of the edges at waist and hem between them, darts and pleats shut, mm.
        half: only half of the panel belongs to this half of the body.
        view: where it lies by its name.
        lines: folds drawn on it, as shares across and down.
    """

    near: Polyline
    far: Polyline
    top: float
    low: float
    half: bool = False
    view: str = ""
    lines: tuple[tuple[tuple[float, float], ...], ...] = ()

    def width(self, share: float) -> float:
        """How wide it is a share of the way down, along its bend; mm."""
        chords = [a.distance(b) for a, b in ((self.near[0], self.far[0]), (self.near[-1], self.far[-1]))]
        bends = [
            long / chord if chord > 1 else 1.0
            for long, chord in zip((self.top, self.low), chords, strict=True)
        ]
        bend = bends[0] + (bends[1] - bends[0]) * share
        return along(self.near, share).distance(along(self.far, share)) * bend / (2 if self.half else 1)


@dataclass(frozen=True, slots=True)
class Gored:
    """Both views of the skirt: shapes from behind to the front, lines of seams and folds; y from the waist, mm.

    Attributes:
        front, back: seams between the panels that are seen there, on both sides of the middle.
        folds: where a very wide skirt falls in folds.
    """

    shapes: tuple[Polyline, ...]
    folds: tuple[Polyline, ...]
    front: tuple[Polyline, ...]
    back: tuple[Polyline, ...]
    pleats: tuple[tuple[Polyline, ...], tuple[Polyline, ...]] = ((), ())


def gored(draft: Draft) -> Gored | None:
    """The skirt; None for anything that isn't a plain skirt of panels that run apart."""
    pieces = [p for p in worn(draft) if _edge(p, "waist") and _edge(p, "hem")]
    others = [p for p in worn(draft) if p not in pieces and not is_strip(p)]
    if not pieces or others or any(p.darts for p in pieces):
        return None
    found = _round_the_body(draft, pieces)
    if found is None:
        return None
    panels, middle_seams = found
    views = [p.view for p in panels]
    at_side = next((n for n, pair in enumerate(pairwise(views)) if pair == (FRONT, BACK)), -1)
    shares = [n / _LEVELS for n in range(_LEVELS + 1)]
    widths = [[p.width(t) for t in shares] for p in panels]
    half_round = [sum(each) for each in zip(*widths, strict=True)]
    long = sum(length_of(p.near) + length_of(p.far) for p in panels) / (2 * len(panels))
    if math.degrees((half_round[-1] - half_round[0]) / long) < _LEAST:
        return None
    breadth, down, full = _side(half_round, long)
    spread = breadth[-1]
    waves = 0
    if full:
        waves = min(max(round((half_round[-1] - 2 * spread) / 180), 0), 7)
    deep = 0.028 * long if waves else 0.0
    hem = []
    for n in range(97):
        share = n / 96
        x = spread - 2 * spread * share
        fall = deep * math.cos(2 * math.pi * (waves + 0.5) * (share - 0.5)) * _fade(share)
        hem.append(Point(x, _level(1.0, x, breadth, down, long) + fall))
    waist = [
        Point(x, _level(0.0, x, breadth, down, long))
        for x in (breadth[0] * (n / 12 * 2 - 1) for n in range(13))
    ]
    right = [Point(x, y) for x, y in zip(breadth, down, strict=True)]
    left = [Point(-p.x, p.y) for p in right]
    shapes: list[Polyline] = [[*waist, *right[1:-1], *hem, *left[-2:0:-1]]]
    folds = []
    for n in range(waves):
        share = 0.5 + (n - (waves - 1) / 2) / (waves + 0.5)
        x = spread - 2 * spread * share
        if abs(x) < 1.0 and any(middle_seams):
            continue
        foot = hem[round(share * 96)]
        high = 0.45 if n % 2 else 0.62
        top_x = x / spread * (breadth[0] + (spread - breadth[0]) * (1 - high))
        folds.append([Point(top_x, foot.y - high * long * 0.97), foot])
    edges = [(p.name, e.name) for p in pieces for e in p.edges]
    for band, _ in strips_on(draft, edges):
        high = strip_height(band)
        shapes.append([*waist, *(Point(p.x, p.y - high) for p in reversed(waist))])
        break
    seams: tuple[list[Polyline], list[Polyline]] = ([], [])
    pleats: tuple[list[Polyline], list[Polyline]] = ([], [])
    sums = [list(accumulate(each)) for each in zip(*widths, strict=True)]

    def place(n: int, across: float, t: float) -> tuple[float, float]:
        """Share of the half round of a place on panel n, from the middle of the front; and of the way down."""
        at = min(max(t, 0.0), 1.0) * _LEVELS
        k = min(int(at), _LEVELS - 1)
        ends = []
        for m in (k, k + 1):
            before = sums[m][n - 1] if n else 0.0
            ends.append((before + across * widths[n][m]) / sums[m][-1])
        return ends[0] + (ends[1] - ends[0]) * (at - k), t

    def from_middle(share: float, t: float, view: int) -> float:
        """How far from the middle a place lies, as a share of the way to the side."""
        side = place(at_side, 1.0, t)[0] if at_side >= 0 else 0.5
        return share / side if view == 0 else (1 - share) / (1 - side)

    def drawn(places: Sequence[tuple[float, float]], into: tuple[list[Polyline], list[Polyline]]) -> None:
        view = 0 if sum(from_middle(s, t, 0) for s, t in places) < len(places) - 1e-6 else 1
        line = []
        for share, t in places:
            across = from_middle(share, t, view)
            at = min(max(t, 0.0), 1.0) * _LEVELS
            k = min(int(at), _LEVELS - 1)
            x = across * (breadth[k] + (breadth[k + 1] - breadth[k]) * (at - k))
            line.append(Point(x, _level(t, x, breadth, down, long)))
        if all(abs(from_middle(s, t, view) - 1.0) < 0.02 for s, t in places):
            return  # at the side it is the outline itself
        into[view].append(line)
        if max(p.x for p in line) > 1.0:
            into[view].append([Point(-p.x, p.y) for p in line])

    for n in range(len(panels) - 1):
        drawn([place(n, 1.0, t) for t in shares], seams)
    if middle_seams[0]:
        seams[0].append([Point(0.0, _level(t, 0.0, breadth, down, long)) for t in (0.0, 1.0)])
    if middle_seams[1]:
        seams[1].append([Point(0.0, _level(t, 0.0, breadth, down, long)) for t in (0.0, 1.0)])
    for n, panel in enumerate(panels):
        for fold in panel.lines:
            spots = [place(n, across, t) for across, t in fold]
            if min(share for share, _ in spots) > 0.995:
                # A pleat in the middle of the back stands a little open from where its stitching ends.
                top, low = (_level(t, 0.0, breadth, down, long) for t in (_SEWN, 1.0))
                pleats[1].extend([Point(0.0, top), Point(x, low)] for x in (-_OPEN, _OPEN))
            else:
                drawn(spots, pleats)
    seamed = [
        [line if abs(line[-1].x) > 0.1 else [*line[:-1], min(hem, key=lambda p: abs(p.x))] for line in view]
        for view in seams
    ]
    return Gored(
        tuple(shapes),
        tuple(folds),
        tuple(seamed[0]),
        tuple(seamed[1]),
        (tuple(pleats[0]), tuple(pleats[1])),
    )


def _side(half_round: Sequence[float], long: float) -> tuple[list[float], list[float], bool]:
    """Half the breadth and the depth of the side at each level, and whether the skirt is too full to stand so wide."""
    breadth, down = [half_round[0] / 2 * BREADTH], [0.0]
    step = long / (len(half_round) - 1)
    most = math.sin(math.radians(_MOST)) * step
    full = False
    for a, b in pairwise(half_round):
        out = (b - a) / 2 * BREADTH
        full = full or out > most
        out = min(max(out, -most), most)
        breadth.append(breadth[-1] + out)
        down.append(down[-1] + math.sqrt(step * step - out * out))
    return breadth, down, full


def _level(t: float, x: float, breadth: Sequence[float], down: Sequence[float], long: float) -> float:
    """How far below the waist a level runs at a distance from the middle: it sags from the sides to the middle."""
    at = min(max(t, 0.0), 1.0) * (len(breadth) - 1)
    k = min(int(at), len(breadth) - 2)
    wide = breadth[k] + (breadth[k + 1] - breadth[k]) * (at - k)
    side = down[k] + (down[k + 1] - down[k]) * (at - k)
    dip = 0.035 * breadth[0]
    middle = t * long + dip * (1 - t)
    return (
        middle - (middle - side) * min(x / wide, 1.0) ** 2 if x >= 0 else _level(t, -x, breadth, down, long)
    )


def _fade(share: float) -> float:
    return min(1.0, 6 * min(share, 1 - share))


def _edge(piece: Piece, word: str) -> Edge | None:
    return next((e for e in piece.edges if e.name == word or e.name.endswith(f"_{word}")), None)


# ---- from panel to panel ----


def _round_the_body(draft: Draft, pieces: Sequence[Piece]) -> tuple[list[Panel], tuple[bool, bool]] | None:
    """The panels of one half from the middle of the front to that of the back, and whether there is a seam there.

    None where the seams don't lead round.
    """
    named = {p.name: p for p in pieces}
    if len(pieces) == 1:
        return _alike(draft, pieces[0])
    starts = sorted((_is_front(p), p.name) for p in pieces if _middle(p))
    if not starts:
        return None
    piece = named[starts[0][1]]
    entry = _middle(piece)
    panels: list[Panel] = []
    seamed = [not piece.edge(entry).fold, False]
    done: set[str] = set()
    while True:
        done.add(piece.name)
        nexts = [
            (e, other, oe)
            for e, other, oe in _joined(draft, piece.name)
            if other in named and other not in done
        ]
        nexts = [n for n in nexts if n[0] != entry and not _is_level(piece, n[0])]
        if nexts:
            leaving, other, other_edge = nexts[0]
        else:
            leaving, other, other_edge = _middle(piece), "", ""
            if not leaving or leaving == entry:
                return None
            seamed[1] = not piece.edge(leaving).fold
        panel = _panel(piece, entry, leaving)
        if panel is None:
            return None
        panels.append(panel)
        if not other:
            break
        piece, entry = named[other], other_edge
    return (panels, (seamed[0], seamed[1])) if len(done) == len(pieces) else None


def _alike(draft: Draft, piece: Piece) -> tuple[list[Panel], tuple[bool, bool]] | None:
    """The panels of a skirt whose gores are all alike, or that is one piece with its seam behind."""
    sides = [e.name for e in piece.edges if not _is_level(piece, e.name)]
    if len(sides) != 2:
        return None
    on_fold = next((e for e in sides if piece.edge(e).fold), "")
    entry = on_fold or next((e for e in sides if e in _MIDDLES), sides[0])
    panel = _panel(piece, entry, next(e for e in sides if e != entry))
    if panel is None:
        return None
    if on_fold or any(e in _MIDDLES for e in sides):
        return ([panel], (not on_fold, True)) if piece.cut.count * (2 if on_fold else 1) == 2 else None
    count = piece.cut.count
    if count < 3:
        return None
    centred = count % 4 != 0  # a gore in the middle of the front, so that a seam lies at the side or behind
    panels = [replace(panel, half=True)] if centred else []
    while sum(0.5 if p.half else 1.0 for p in panels) < count / 2 - 0.75:
        panels.append(panel)
    if sum(0.5 if p.half else 1.0 for p in panels) < count / 2 - 0.1:
        panels.append(replace(panel, half=True))
    return panels, (not panels[0].half, not panels[-1].half)


def _is_front(piece: Piece) -> int:
    return {FRONT: 0, "": 1, BACK: 2}[view_of(piece)]


def _middle(piece: Piece) -> str:
    """The edge at the middle of the body; "" where a panel has none."""
    folds = [e.name for e in piece.edges if e.fold]
    named = [e.name for e in piece.edges if any(m == e.name or m in e.name.split("_") for m in _MIDDLES)]
    return next(iter([*folds, *named]), "")


def _is_level(piece: Piece, edge: str) -> bool:
    return any(word in edge.split("_") for word in ("waist", "hem", "top", "vent"))


def _joined(draft: Draft, name: str) -> Iterator[tuple[str, str, str]]:
    for first, second in seams_of(draft):
        if len(first) == len(second) == 1:
            for (a, edge), (b, other) in ((first[0], second[0]), (second[0], first[0])):
                if a == name and b != name:
                    yield edge, b, other


def _panel(piece: Piece, entry: str, leaving: str) -> Panel | None:
    """A piece between two of its sides, pleats shut; None where a side does not run from the waist to the hem."""
    waist, hem = _edge(piece, "waist"), _edge(piece, "hem")
    assert waist is not None and hem is not None
    patch = patch_of(piece)
    if entry not in patch.edges or leaving not in patch.edges:
        return None
    top, low = patch.edges[waist.name], patch.edges[hem.name]
    sides = []
    for name in (entry, leaving):
        line = _from_top(patch.edges[name], top)
        if piece.edge(name).fold or name == _middle(piece):
            line = _middle_line(patch, line, low)
        sides.append(line)
    near, far = sides
    lines = [line for kind, line in patch.lines if kind == "pleat"]
    shares = tuple(tuple(shares_on(p, near, far) for p in line) for line in lines)
    reach = [_clipped(edge, near, far) for edge in (top, low)]
    return Panel(near, far, reach[0], reach[1], view=view_of(piece), lines=shares)


def _from_top(line: Polyline, top: Polyline) -> Polyline:
    """A side from its end at the waist down."""
    first = min(line[0].distance(p) for p in top)
    last = min(line[-1].distance(p) for p in top)
    return line if first <= last else line[::-1]


def _middle_line(patch: Patch, edge: Polyline, low: Polyline) -> Polyline:
    """The middle of the body from the waist to the hem, where a vent or pleat makes the edge run on beyond it."""
    for middle in patch.middles:
        line = middle if middle[0].distance(edge[0]) <= middle[-1].distance(edge[0]) else middle[::-1]
        if line[-1].distance(edge[-1]) > 5.0 and line[0].distance(edge[-1]) < 5.0:
            return [*edge, *line[1:]]
        if length_of(line) > 0.7 * length_of(edge):
            return line
    return edge


def _clipped(edge: Polyline, near: Polyline, far: Polyline) -> float:
    """Length of a level edge between the two sides, mm."""
    ends = (
        [near[0], far[0]]
        if near[0].distance(edge[0]) + near[0].distance(edge[-1])
        < near[-1].distance(edge[0]) + near[-1].distance(edge[-1])
        else [near[-1], far[-1]]
    )
    spots = [min(range(len(edge)), key=lambda n: edge[n].distance(end)) for end in ends]
    a, b = min(spots), max(spots)
    long = length_of(edge[a : b + 1])
    chord = ends[0].distance(ends[1])
    return max(long, chord) if b > a else chord


def shares_on(p: Point, near: Polyline, far: Polyline) -> tuple[float, float]:
    """Where a point lies on a panel: share of the way across and down."""
    best = (math.inf, 0.0, 0.0)
    for n in range(_LEVELS + 1):
        t = n / _LEVELS
        a, b = along(near, t), along(far, t)
        way = b - a
        across = (p - a).dot(way) / max(way.dot(way), 1e-9)
        off = p.distance(a.mix(b, across))
        if off < best[0]:
            best = (off, across, t)
    return min(max(best[1], 0.0), 1.0), best[2]
