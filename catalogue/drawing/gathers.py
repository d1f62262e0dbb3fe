"""Cloth gathered into a seam: as wide as the seam there, wider below, with short lines where it is drawn together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from catalogue.drawing.patch import Patch, Polyline, along, length_of
from catalogue.geometry import Point

_FALLS = (
    0.45  # of the width that is gathered away, the share that shows at the far end: the rest lies in folds
)
_APART = 17.0  # mm between the lines of gathers
_LONG = (34.0, 22.0, 46.0, 28.0)  # mm that they run into the cloth, one after the other


def gathered_on(patch: Patch, edge: str, target: Sequence[Point]) -> Patch:
    """The patch laid with a longer edge on `target`, which runs the other way and is nearly level.

    Its lines of gathers are among its lines, as "gather".
    """
    own, wanted = patch.edges[edge], list(reversed(target))
    share = length_of(wanted) / length_of(own)
    down = 1.0 if _mean(patch.outline).y > _mean(own).y else -1.0
    far = max(abs(p.y - own[0].y) for p in patch.outline)
    start, way = own[0], own[-1].x - own[0].x
    widest = share + (1.0 - share) * _FALLS
    # What lies towards the middle of the body stays there; the rest comes in towards it.
    first = abs(wanted[0].x) < abs(wanted[-1].x)
    inner, fixed = (wanted[0], own[0]) if first else (wanted[-1], own[-1])
    lower = _mean(wanted).y - _mean(own).y

    def drawn(p: Point) -> Point:
        across = min(max((p.x - start.x) / way, 0.0), 1.0) if way else 0.0
        seam, lies = along(own, across), along(wanted, across)
        deep = min(max((p.y - seam.y) * down / far, 0.0), 1.0)
        spread = share + (widest - share) * deep**0.8
        out = p.x - fixed.x
        x = inner.x + (out * spread if (across if first else 1 - across) > 0 else out)
        # The far end hangs as it was cut, whatever the run of the seam.
        return Point(x, p.y + lower + (lies.y - seam.y - lower) * (1 - deep))

    made = patch.moved(drawn)
    lines = [("gather", line) for line in gathers(wanted, down)]
    return replace(made, edges={**made.edges, edge: wanted}, lines=(*made.lines, *lines))


def gathers(seam: Sequence[Point], down: float) -> list[Polyline]:
    """Short lines from a seam into the cloth, below it (1) or above (-1)."""
    count = int(length_of(seam) // _APART)
    lines = []
    for n in range(1, count):
        foot = along(seam, n / count)
        lines.append([foot, foot + Point(0.0, down * _LONG[n % len(_LONG)])])
    return lines


def _mean(points: Sequence[Point]) -> Point:
    return Point(sum(p.x for p in points) / len(points), sum(p.y for p in points) / len(points))
