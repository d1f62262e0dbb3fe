"""Fronts whose upper edge turns back along a roll line, and the collar that meets it."""

from __future__ import annotations

from dataclasses import replace

from catalogue.drawing.assembly import Half
from catalogue.drawing.laying import held
from catalogue.drawing.patch import Patch, Polyline, along, length_of
from catalogue.geometry import Point

_NOTCH = 80.0  # degrees between the end of the collar and the edge of the lapel
_END = 0.75  # length of the front end of a collar as a share of the depth that falls


def roll_line(one: Half) -> Polyline:
    """The line a lapel turns on, from its upper end down to where it meets the front edge; empty without one."""
    lines = [line for p in one.patches for kind, line in p.lines if kind == "roll"]
    return sorted((lines[0][0], lines[0][-1]), key=lambda p: p.y) if lines else []


def turned(one: Half) -> Half:
    """A front with the cloth beyond its roll line turned back, as a part of its own on top."""
    roll = roll_line(one)
    if not roll:
        return one
    top, low = roll
    way = (low - top).unit()
    # The body lies to the right of the roll line as one looks down it from the neck... on paper, towards larger x.
    side = Point(way.y, -way.x)

    def inside(p: Point) -> float:
        return (p - top).dot(side)

    def mirrored(p: Point) -> Point:
        return p + side * (-2 * inside(p))

    patches: list[Patch] = []
    lapels: list[Patch] = []
    for patch in one.patches:
        if not any(kind == "roll" for kind, _ in patch.lines):
            patches.append(patch)
            continue
        kept = {name: part for name, edge in patch.edges.items() if len(part := held(edge, inside)) > 1}
        over = {
            name: [mirrored(p) for p in reversed(part)]
            for name, edge in reversed(list(patch.edges.items()))
            if len(part := held(edge, lambda p: -inside(p))) > 1
        }
        lines = tuple((kind, line) for kind, line in patch.lines if kind != "roll")
        patches.append(replace(patch, edges=kept, lines=lines))
        lapels.append(Patch("lapel", over))
    return replace(one, patches=tuple(patches), turned=tuple(lapels), roll=tuple(roll))


def notched_collar(one: Half, neck_side: Point, fall: float, stand: float, along_gorge: float) -> Polyline:
    """The right half of a collar that lies on a turned lapel, seen from the front.

    Args:
        neck_side: where the shoulder meets the neck.
        fall: how deep it falls at the back, mm; `stand` of it stands.
        along_gorge: how much of the lapel's upper edge it is sewn to.
    """
    roll_top = one.roll[0]
    (lapel,) = one.turned
    gorge = _gorge(lapel, roll_top)
    share = min(max(along_gorge / max(length_of(gorge), 1.0), 0.3), 0.8)
    corner = along(gorge, share)
    way = (gorge[-1] - corner).unit()
    tip = corner + way.turned(-_NOTCH) * (_END * fall)
    top = Point(neck_side.x - 0.25 * stand, neck_side.y - 0.8 * stand)
    over = Point(neck_side.x + 0.5 * fall, neck_side.y + 0.25 * fall)
    near = [along(gorge, share * n / 4) for n in range(5)]
    return [top, *near, tip, over]


def _gorge(lapel: Patch, roll_top: Point) -> Polyline:
    """The upper edge of a turned lapel, from the roll line out."""
    edges = [edge for name, edge in lapel.edges.items() if "gorge" in name or "neck" in name]
    line = (
        edges[0] if edges else min(lapel.edges.values(), key=lambda e: min(p.distance(roll_top) for p in e))
    )
    return line if line[0].distance(roll_top) < line[-1].distance(roll_top) else line[::-1]
