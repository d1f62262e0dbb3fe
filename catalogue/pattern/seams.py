"""Walking seams: two edges laid against each other from their start, as they are sewn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from catalogue.pattern.piece import Piece
from catalogue.pattern.seamline import SeamSide, Sewn, Sign, are_sewn, laid, plain_name, run_on

TOLERANCE = 1.0
"""mm that two edges sewn together, or two notches, may differ by when nothing else is said: common practice, no
source. No standard states a figure. Books that work by tables of parts are rounded to 1/8 in and agree with
arithmetic within 1/16 in (Vincent, Systems), which is 1.6 mm."""

SMOOTH = 5.0
"""Degrees of bend that still count as a smooth line, when a seam is asked to be smooth: common practice, no source."""

KINK = 20.0
"""Degrees of bend at a neck, an armhole or a hem that no style means: common practice, no source."""

RUNNING_ON = ("neck", "neckline", "armhole", "hem")
"""Edges that run on in one line across the seams that end at them, unless a style is drawn with points."""

Pair = tuple[Sign | None, Sign | None]

_MOST_PAIRINGS = 4_000
_UNPAIRED = 80.0
_OTHER_COUNT = 30.0
_AT_A_JOIN = 10.0


@dataclass(frozen=True, slots=True)
class Match:
    """A notch and what it meets on the other side.

    Attributes:
        first, second: a notch, or the place where two edges of a side meet; None when nothing answers the notch.
        miss: mm by which the first falls beyond the second; None without a partner.
        ok: whether they meet, the ease taken up so far allowed for; a notch without a partner holds.
    """

    first: Sign | None
    second: Sign | None
    miss: float | None
    ok: bool = True


@dataclass(frozen=True, slots=True)
class SeamSection:
    """The seam between two places that are matched: its length on both sides in mm, and what it runs between."""

    start: str
    end: str
    first_length: float
    second_length: float
    ok: bool = True

    @property
    def ease(self) -> float:
        return self.first_length - self.second_length


@dataclass(frozen=True, slots=True)
class Bend:
    """How the edges beside a seam run on across it when it is closed.

    Attributes:
        first, second: the edges beside the seam, "piece.edge".
        degrees: 0 where they make one smooth line; above 0 a point outwards, below a hollow.
        kinked: it bends more than a style can mean at such an edge.
    """

    first: str
    second: str
    degrees: float
    kinked: bool = False


@dataclass(frozen=True, slots=True)
class Walked:
    """A seam walked from one end to the other. Lengths in mm as sewn.

    Attributes:
        ease: the first less the second.
        matches: the notches of both sides, each with its partner, in order.
        sections: the seam between one match and the next; one for the whole seam where there are no notches.
        bends: at the start and at the end, where the edges beside the seam run on across it.
    """

    first: SeamSide
    second: SeamSide
    matches: tuple[Match, ...] = ()
    sections: tuple[SeamSection, ...] = ()
    bends: tuple[Bend, ...] = ()

    @property
    def first_length(self) -> float:
        return self.first.length

    @property
    def second_length(self) -> float:
        return self.second.length

    @property
    def ease(self) -> float:
        return self.first.length - self.second.length


@dataclass(frozen=True, slots=True)
class Allowed:
    """What may differ: the ease of a section from `least` to `most` mm, give or take `within`.

    With `gathered` a section may be longer on the first side by any amount.
    """

    least: float = 0.0
    most: float = 0.0
    within: float = TOLERANCE
    gathered: bool = False

    def section(self, ease: float) -> bool:
        """Ease lies anywhere along a seam, but no part of it may be stretched, or take more than the whole."""
        over = ease <= max(self.most, 0.0) + self.within + 1e-6
        return ease >= min(self.least, 0.0) - self.within - 1e-6 and (self.gathered or over)


def walk(
    pieces: Mapping[str, Piece],
    first: Sequence[str],
    second: Sequence[str],
    sewn: Sewn = (),
    allowed: Allowed | None = None,
    start: tuple[str, str] | None = None,
) -> Walked:
    """Walk edges named "piece.edge", each side one or several in a row.

    Args:
        sewn: all seams of the style: they tell which end of an edge meets which.
        allowed: how much ease a section may have; None for edges of the same length.
        start: the edges beside the seam where the walk begins, on its first and second side; None to find out
            from names, seams and notches.

    Raises:
        KeyError: an edge isn't there.
    """
    allowed = allowed or Allowed()
    one, other = laid(pieces, first, sewn), laid(pieces, second, sewn)
    if start is None:
        other = _likelier_way(one, other, sewn)
    else:
        one, other = _from_edge(one, start[0]), _from_edge(other, start[1])
    pairs = _paired(one, other)
    meeting = [(a, b) for a, b in pairs if a is not None and b is not None]
    sections = tuple(_sections(one, other, meeting, allowed))
    plain = allowed.least == allowed.most == 0.0 and not allowed.gathered
    fits = iter(sections)
    matches = []
    for a, b in pairs:
        if a is None or b is None:
            matches.append(Match(a, b, None))
            continue
        section = next(fits)
        miss = a.at - b.at
        # Without ease each notch is held to its own place: what it misses by must not add up unseen.
        matches.append(Match(a, b, miss, abs(miss) <= allowed.within + 1e-6 if plain else section.ok))
    bends = tuple(bend for at_end in (False, True) if (bend := _bend(one, other, at_end, sewn)))
    return Walked(one, other, tuple(matches), sections, bends)


def _likelier_way(one: SeamSide, other: SeamSide, sewn: Sewn) -> SeamSide:
    """The other side as it is laid, or turned where it then sooner starts and ends together with the first."""
    turned = other.reversed()
    there, back = (_ends_apart(one, side, sewn) for side in (other, turned))
    if there == back:
        there, back = (round(_notches_apart(one, side)) for side in (other, turned))
    if there == back:
        return turned if _drawn(one, other) > _drawn(one, turned) else other
    return turned if there > back else other


def _from_edge(side: SeamSide, beside: str) -> SeamSide:
    """The side turned so that its start lies at the edge called `beside`. Raises KeyError when neither end does."""
    for way in (side, side.reversed()):
        if way.corner(False)[1].name == beside:
            return way
    raise KeyError(beside)


def _ends_apart(one: SeamSide, other: SeamSide, sewn: Sewn) -> int:
    """How unlikely it is that two sides start together and end together, by the edges beside their ends."""
    cost = 0
    for at_end in (False, True):
        (p, a, _), (q, b, _) = one.corner(at_end), other.corner(at_end)
        names = f"{p.name}.{a.name}", f"{q.name}.{b.name}"
        alike = plain_name(a.name) == plain_name(b.name) or (a.fold and b.fold)
        cost += 0 if alike or run_on(*names, sewn) or are_sewn(*names, sewn) else 1
    return cost


def _notches_apart(one: SeamSide, other: SeamSide) -> float:
    return (
        sum(_cost(a, b, 1.0, 1.0) for a, b in _paired(one, other)) if one.notches and other.notches else 0.0
    )


def _drawn(one: SeamSide, other: SeamSide) -> float:
    """Nothing else telling, edges are walked the same way up, then as they are drawn."""
    rise = [side.runs[-1].point(True).y - side.runs[0].point(False).y for side in (one, other)]
    return 0.0 if rise[0] * rise[1] >= 0 else 1.0


def _cost(a: Sign | None, b: Sign | None, scale_a: float, scale_b: float) -> float:
    if a is None or b is None:
        only = a or b
        return _UNPAIRED if only is not None and only.is_notch else 0.0
    apart = abs(a.at * scale_a - b.at * scale_b)
    if a.is_notch and b.is_notch:
        return apart + (_OTHER_COUNT if a.count != b.count else 0.0)
    return apart + _AT_A_JOIN


def _paired(one: SeamSide, other: SeamSide) -> list[Pair]:
    """Notches paired in order, or with a place where two edges meet; the pairing that misses least in all."""
    a, b = one.signs, other.signs
    if not one.notches and not other.notches:
        return []
    if len(a) * len(b) > _MOST_PAIRINGS:
        return list(zip(one.notches, other.notches, strict=False))
    mean = (one.length + other.length) / 2
    scale_a, scale_b = mean / max(one.length, 1e-9), mean / max(other.length, 1e-9)
    # best[j]: the least miss of the first i signs of one side with the first j of the other, and the pairs.
    Way = tuple[float, tuple[Pair, ...]]
    best: list[Way] = []
    for i in range(len(a) + 1):
        row: list[Way] = []
        for j in range(len(b) + 1):
            ways: list[Way] = [(0.0, ())] if i == j == 0 else []
            if i and j and (a[i - 1].is_notch or b[j - 1].is_notch):
                ways.append(_and(best[j - 1], a[i - 1], b[j - 1], scale_a, scale_b))
            if i:
                ways.append(_and(best[j], a[i - 1], None, scale_a, scale_b))
            if j:
                ways.append(_and(row[j - 1], None, b[j - 1], scale_a, scale_b))
            row.append(min(ways, key=lambda w: w[0]))
        best = row
    return [p for p in best[-1][1] if any(s is not None and s.is_notch for s in p)]


def _and(
    way: tuple[float, tuple[Pair, ...]], a: Sign | None, b: Sign | None, scale_a: float, scale_b: float
) -> tuple[float, tuple[Pair, ...]]:
    return way[0] + _cost(a, b, scale_a, scale_b), (*way[1], (a, b))


def _sections(
    one: SeamSide, other: SeamSide, meeting: Sequence[tuple[Sign, Sign]], allowed: Allowed
) -> list[SeamSection]:
    stops = [
        (0.0, 0.0, "start"),
        *((a.at, b.at, _called(a, b)) for a, b in meeting),
        (one.length, other.length, "end"),
    ]
    return [
        SeamSection(n0, n1, a1 - a0, b1 - b0, allowed.section((a1 - a0) - (b1 - b0)))
        for (a0, b0, n0), (a1, b1, n1) in pairwise(stops)
    ]


def _called(a: Sign, b: Sign) -> str:
    """What a matched place is called: by the notch of the second side, or by the seam it meets there."""
    sign = b if b.is_notch else a
    kind = {1: "notch", 2: "double notch", 3: "triple notch"}[sign.count]
    return f"{kind} at the seam before {b.edge}" if not b.is_notch else f"{kind} on {b.edge}"


def _bend(one: SeamSide, other: SeamSide, at_end: bool, sewn: Sewn) -> Bend | None:
    """How the edges beside the seam run on across it; None where they are not one line but sewn to each other."""
    (p, a, angle_a), (q, b, angle_b) = one.corner(at_end), other.corner(at_end)
    first, second = f"{p.name}.{a.name}", f"{q.name}.{b.name}"
    if are_sewn(first, second, sewn):
        return None
    alike = plain_name(a.name) == plain_name(b.name)
    if not (alike or run_on(first, second, sewn) or (a.fold and b.fold)):
        return None
    degrees = 180.0 - angle_a - angle_b
    # A tapered sleeve or leg bends at its hem by its taper, which is meant; two pieces run on from each other.
    kinked = p.name != q.name and alike and plain_name(a.name) in RUNNING_ON and abs(degrees) > KINK
    return Bend(first, second, degrees, kinked)
