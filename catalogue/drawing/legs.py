"""Trousers as they hang: the fork folded away between the legs, both legs straight down, as broad as they are round.

What the halves are made of lies on the table with its grain upright: the crotch curve runs out to the fork, the inside
of the leg back from it. On the body the fork goes through between the legs and is not seen.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from operator import itemgetter

import numpy as np
from numpy.typing import ArrayLike, NDArray

from catalogue.drawing.assembly import Half, outline_of
from catalogue.drawing.body_outline import BREADTH, CROTCH, BodyOutline
from catalogue.drawing.patch import Patch, Polyline
from catalogue.drawing.pieces_worn import NotTogetherError, crotch_edge, titles_of, words_of
from catalogue.geometry import Point
from catalogue.geometry.arrays import coordinates
from catalogue.pattern import Piece

Numbers = NDArray[np.float64]
Side = Callable[[ArrayLike], Numbers]
"""How far right something lies at each of some levels, mm."""

_MOUTH = {"mouth", "pocket"}
_STEP = 12.0  # mm between points where straight edges are bent
_ABOVE = 80.0  # mm below the top of a leg to which what is sewn on above it may reach
_GAP = 2.0  # mm left between the legs
_HOLLOW = 0.6  # share of the way to the fork at which the crotch seam leaves the middle of the body
_CALF = 450.0  # mm under the fork by which a leg, deeper than broad at the thigh, is round
_FINE = 10.0  # mm between the levels at which the sides of a leg are worked out
_BEND = (
    150.0  # mm from the fork within which the side is rounded, and from the hem within which it is levelled
)
_ROUND = 6  # such levels on both sides over which bends are rounded


@dataclass(frozen=True, slots=True)
class Leg:
    """One half of trousers as it lies on the table, by level; mm.

    Attributes:
        fork: level of the point of the fork.
        top, hem: levels of the middle's upper end and of the hem.
        inner, outer: how far right the two sides lie at a level.
        middle: how far right the middle of the body lies.
    """

    fork: float
    top: float
    hem: float
    inner: Side
    outer: Side
    middle: Side

    def width(self, level: ArrayLike) -> Numbers:
        return self.outer(level) - self.inner(level)


def leg_of(one: Half, root: Piece) -> Leg:
    """The levels and sides of a half whose grain is upright; `root` is the piece with the fork."""
    name = crotch_edge(root)
    patch = next(p for p in one.patches if p.name == root.name)
    seam = sorted(patch.edges[name], key=lambda p: p.y)
    tip = seam[-1]
    # A yoke or bib above the leg has sides of its own, which follow those of the leg.
    below = [
        p
        for p in one.patches
        if p.name == root.name or p.box.bottom > min(q.y for q in patch.outline) + _ABOVE
    ]
    ring = outline_of([p.outline for p in below], "leg")
    start = max(range(len(ring)), key=lambda n: ring[n].x - ring[n].y)
    ring = [*ring[start:], *ring[:start]]
    if _turns_left(ring):
        ring = [ring[0], *reversed(ring[1:])]
    # Clockwise from the upper end of the side: the hem, the inside up to the fork, the crotch seam, the waist.
    low_out = max(range(len(ring)), key=lambda n: ring[n].x + 2 * ring[n].y)
    fork = min(range(len(ring)), key=lambda n: ring[n].distance(tip))
    middle_edges = [e for p in below for n, e in p.edges.items() if n == name or "cent" in n]
    highest = min((p for e in middle_edges for p in e), key=lambda p: p.y)
    low_in = max(range(len(ring)), key=lambda n: 2 * ring[n].y - ring[n].x)
    if not 0 < low_out <= low_in < fork:
        raise NotTogetherError(
            f"{titles_of([root])} does not lie with the waist upwards and the leg below the fork"
        )
    outer = _table(ring[: low_out + 1])
    inside = _table(ring[low_in : fork + 1])
    crotch = _table([p for e in middle_edges for p in e])
    leaves = highest.y + _HOLLOW * (tip.y - highest.y)

    def inner(level: ArrayLike) -> Numbers:
        return np.where(np.asarray(level) < tip.y, crotch(level), inside(level))

    def middle(level: ArrayLike) -> Numbers:
        return crotch(np.minimum(level, leaves))

    return Leg(tip.y, highest.y, ring[low_in].y, inner, outer, middle)


def hanging_legs(
    halves: tuple[Half, Half], roots: tuple[Piece, Piece], body: BodyOutline
) -> tuple[Half, Half]:
    """Front and back of trousers as they hang on the figure, both equally broad at each level."""
    halves, legs = _pockets_filled(
        halves, [leg_of(one, root) for one, root in zip(halves, roots, strict=True)]
    )
    # Levels are counted upwards from the hem, where front and back end at one height.
    fork = sum(leg.hem - leg.fork for leg in legs) / 2
    top = min(leg.hem - leg.top for leg in legs)

    def half_breadth(up: ArrayLike) -> Numbers:
        """From the middle of the body to the side."""
        levels = [leg.hem - np.asarray(up) for leg in legs]
        wide = [leg.outer(at) - leg.middle(at) for leg, at in zip(legs, levels, strict=True)]
        return BREADTH * (wide[0] + wide[1]) / 2

    at_fork = float(half_breadth(fork))

    def round_leg(up: ArrayLike) -> Numbers:
        """What a leg would be as broad as if it were round; the two forks lie at heights of their own."""
        wide = [leg.width(np.maximum(leg.hem - np.asarray(up), leg.fork + 1.0)) for leg in legs]
        return BREADTH * (wide[0] + wide[1]) / 2

    left_of, right_below = _sides(at_fork, round_leg, fork)
    right_of = _eased(lambda up: np.where(up >= fork, half_breadth(up), right_below(up)), fork)

    # Trousers to the waist begin at the waist; cut lower, they hang from where their fork lies on the body.
    hem = max(body.y(CROTCH) + 10.0 + fork, top)
    made = []
    for one, leg in zip(halves, legs, strict=True):
        side_top = leg.hem - min((p.y for p in _at_side(one, leg)), default=leg.top)
        over = max(leg.hem - leg.top - side_top, 0.0)

        def move(x: Numbers, y: Numbers, leg: Leg = leg, over: float = over) -> tuple[Numbers, Numbers]:
            up = leg.hem - y
            start, end = leg.inner(y), leg.outer(y)
            share = (x - start) / np.maximum(end - start, 1.0)
            # What the middle of the back rises by goes over the seat, and the waist is seen level.
            rises = np.clip((leg.fork - y) / max(leg.fork - leg.top, 1.0), 0.0, 1.0)
            low = up - over * rises * np.maximum(1.0 - share, 0.0)
            left, right = left_of(up), right_of(up)
            above = y < leg.fork
            return (
                np.where(above, np.maximum(right * share, 0.0), left + (right - left) * share),
                np.where(above, hem - low, hem - up),
            )

        fine = _moved_at_once(replace(one, patches=tuple(finer(p) for p in one.patches)), move)
        made.append(_levelled_ends(fine, hem - (leg.hem - leg.fork)))
    return made[0], made[1]


def _moved_at_once(one: Half, move: Callable[[Numbers, Numbers], tuple[Numbers, Numbers]]) -> Half:
    """A half with all its points moved in one stroke."""
    found: list[Point] = []

    def note(p: Point) -> Point:
        found.append(p)
        return p

    one.moved(note)
    x, y = move(*coordinates(found).T)
    # In the same order, for the same points are asked for again.
    places = iter(map(Point, x.tolist(), y.tolist()))
    return one.moved(lambda _: next(places))


def _eased(side: Callable[[Numbers], Numbers], fork: float) -> Callable[[Numbers], Numbers]:
    """The side of hip and leg, by the height above the hem, with the bend rounded where the one becomes the other."""

    def at(up: Numbers) -> Numbers:
        here = side(up)
        near = 1.0 - np.abs(up - fork) / _BEND
        bent = near > 0
        if bent.any():
            about = side(up[bent] + _FINE * np.arange(-_ROUND, _ROUND + 1)[:, None])
            here[bent] += (about.mean(axis=0) - here[bent]) * near[bent]
        return here

    return at


def _levelled_ends(one: Half, fork: float) -> Half:
    """A half whose waist runs straight from the middle to the side, and whose hem is level, as they are seen on a body.

    Cut flat, a waist is curved to lie on the hips, and the hem of a leg that was opened for a pleat has a corner.
    """
    waist, hem = one.edges("waist"), one.edges("hem")
    top = sorted((p for line in waist for p in line), key=lambda p: p.x)
    low = sorted((p for line in hem for p in line), key=lambda p: p.x)
    if len(top) < 2 or len(low) < 2:
        return one
    first, last, level = top[0], top[-1], sum(p.y for p in low) / len(low)
    top_at, low_at = _height(top), _height(low)

    def move(x: Numbers, y: Numbers) -> tuple[Numbers, Numbers]:
        straight = first.y + (last.y - first.y) * (x - first.x) / max(last.x - first.x, 1.0)
        top_here, low_here = top_at(x), low_at(x)
        above = (straight - top_here) * np.minimum((fork - y) / np.maximum(fork - top_here, 1.0), 1.0)
        below = (level - low_here) * np.clip(1.0 - (low_here - y) / _BEND, 0.0, 1.0)
        return x, y + np.where(y < fork, above, below)

    return _moved_at_once(one, move)


def _height(line: Sequence[Point]) -> Side:
    """How low a line from left to right lies; beyond its ends as at the end."""
    return _table([Point(p.y, p.x) for p in line])


def _pockets_filled(halves: tuple[Half, Half], legs: list[Leg]) -> tuple[tuple[Half, Half], list[Leg]]:
    """Halves whose corner was cut away for the mouth of a pocket, with the corner as the other half's side has it."""
    filled = list(halves)
    for n, one in enumerate(halves):
        leg, other = legs[n], legs[1 - n]
        mouths = [e for p in one.patches for name, e in p.edges.items() if _MOUTH & words_of(name)]
        if len(mouths) != 1:
            continue
        mouth = sorted(mouths[0], key=lambda p: p.y)
        low, apart = mouth[-1], other.hem - leg.hem
        if abs(low.x - float(leg.outer(low.y))) > 3.0:
            continue  # it does not run out into the side

        def outer(
            level: ArrayLike, leg: Leg = leg, other: Leg = other, low: Point = low, apart: float = apart
        ) -> Numbers:
            above = other.outer(np.minimum(level, low.y) + apart) - other.outer(low.y + apart)
            return leg.outer(np.maximum(level, low.y)) + above

        top = min((p.y for p in _at_side(halves[1 - n], other)), default=mouth[0].y) - apart
        rise = max(low.y - top, 1.0)
        levels = top + rise * np.arange(12) / 12
        side = [Point(*at) for at in zip(outer(levels).tolist(), levels.tolist(), strict=True)]
        corner = {"waist": [mouth[0], side[0]], "side": [*side, low], "mouth": mouth[::-1]}
        filled[n] = replace(one, patches=(*one.patches, Patch("pocket", corner)))
        legs[n] = replace(leg, outer=outer)
    return (filled[0], filled[1]), legs


def _sides(at_fork: float, round_leg: Side, fork: float) -> tuple[Side, Side]:
    """How far right the inside and the outside of the right leg lie, by the height above the hem.

    A thigh is deeper than it is broad: at the fork a leg is seen as broad as half the body, and lower down as broad as
    it is round. So what is wider than the body there keeps to its breadth until it has run in, or to the calf.
    """
    count = max(int(fork / _FINE), 1)
    ups = fork * (1 - np.arange(count + 1) / count)
    rounds = round_leg(ups)
    pressed = at_fork / float(rounds[0])
    shares = np.minimum((fork - ups) / _CALF, 1.0)
    by_height = pressed + (1 - pressed) * shares * shares * (3 - 2 * shares)
    # Once as broad as it is round, a leg stays so.
    freed = np.minimum(np.maximum.accumulate(np.maximum(by_height, at_fork / np.maximum(rounds, 1e-9))), 1.0)
    broad = freed * rounds
    gaps = _GAP * np.minimum((fork - ups) / 60.0, 1.0)
    axes = np.maximum(at_fork / 2, broad / 2)
    lefts, rights = (
        [Point(*at) for at in zip(line.tolist(), ups.tolist(), strict=True)]
        for line in (axes - broad / 2 + gaps, axes + broad / 2)
    )
    return _table(_smoothed(lefts)), _table(_smoothed(rights))


def _smoothed(line: Polyline) -> Polyline:
    """A line with its bends rounded, its ends kept."""
    made = []
    for n, p in enumerate(line):
        reach = min(_ROUND, n, len(line) - 1 - n)
        near = line[n - reach : n + reach + 1]
        made.append(Point(sum(q.x for q in near) / len(near), p.y))
    return made


def _at_side(one: Half, leg: Leg) -> Polyline:
    """The points of a half on its side above the fork."""
    points = [p for patch in one.patches for p in patch.outline if p.y < leg.fork]
    if not points:
        return []
    x, y = coordinates(points).T
    return [p for p, out in zip(points, (x > leg.outer(y) - 0.5).tolist(), strict=True) if out]


def finer(patch: Patch) -> Patch:
    """The patch with points close enough on its straight edges for them to be bent."""
    return replace(
        patch,
        edges={name: _finer(edge) for name, edge in patch.edges.items()},
        lines=tuple((kind, _finer(line)) for kind, line in patch.lines),
        middles=tuple(_finer(line) for line in patch.middles),
    )


def _finer(line: Sequence[Point]) -> Polyline:
    points: Polyline = list(line[:1])
    for a, b in pairwise(line):
        parts = int(a.distance(b) // _STEP) + 1
        points += [a.mix(b, n / parts) for n in range(1, parts + 1)]
    return points


def _turns_left(ring: Sequence[Point]) -> bool:
    """Whether a ring runs anticlockwise on paper, y down."""
    return sum(a.cross(b) for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)) < 0


def _table(line: Sequence[Point]) -> Side:
    """How far right a line lies at a level; beyond its ends as at the end."""
    places, levels = coordinates(sorted(line, key=itemgetter(1))).T

    def at(level: ArrayLike) -> Numbers:
        level = np.asarray(level)
        n = np.searchsorted(levels, level)
        after, before = np.minimum(n, len(levels) - 1), np.maximum(n - 1, 0)
        rise = levels[after] - levels[before]
        share = (level - levels[before]) / np.where(rise > 0, rise, 1.0)
        between = places[before] + (places[after] - places[before]) * share
        return np.where((n > 0) & (n < len(levels)), between, places[after])

    return at
