"""Straps that run on from the back over the shoulder and are buttoned in front, drawn where they lie."""

from __future__ import annotations

from dataclasses import replace

from catalogue.drawing.assembly import Half
from catalogue.drawing.laying import held
from catalogue.drawing.patch import Patch, Polyline
from catalogue.geometry import Point
from catalogue.pattern.joining import laid_against


def turned_over(front: Half, back: Half) -> tuple[Half, Half]:
    """Front and back with what lies beyond the line “shoulder” of the back turned over onto the front.

    As they were where the back has no such line, or the front no edge called “shoulder”.
    """
    shoulders = front.edges("shoulder")
    for n, patch in enumerate(back.patches):
        line = next((sorted(line, key=lambda p: p.x) for kind, line in patch.lines if kind == "over"), None)
        if line is None or len(shoulders) != 1:
            continue
        cut, strap = _parted(patch, line[0], line[-1])
        if len(strap) < 3:
            continue
        inner, outer = sorted((shoulders[0][0], shoulders[0][-1]), key=lambda p: p.x)
        ends = [edge[k] for edge in (cut.edges["shoulder"],) for k in (0, -1)]
        here = sorted(ends, key=lambda p: p.x)
        way = (here[1] - here[0]).unit()
        folded = [p - way.normal() * (2 * (p - here[0]).dot(way.normal())) for p in strap]
        move = laid_against(outer, inner, here[0], here[1])
        laid = Patch("strap turned over", {"strap": [move.apply(p) for p in folded]})
        patches = (*back.patches[:n], cut, *back.patches[n + 1 :])
        return replace(front, patches=(*front.patches, laid)), replace(back, patches=patches)
    return front, back


def _parted(patch: Patch, start: Point, end: Point) -> tuple[Patch, Polyline]:
    """A patch up to a line from left to right, which is then its edge “shoulder”, and the ring of what lies beyond."""
    up = (end - start).unit().normal()
    up = up if up.y < 0 else -up

    def below(p: Point) -> float:
        return (start - p).dot(up)

    kept: dict[str, Polyline] = {}
    for name, edge in patch.edges.items():
        part = held(edge, below)
        if len(part) < 2:
            if kept and "shoulder" not in kept:
                kept["shoulder"] = []
            continue
        kept[name] = part
    names = list(kept)
    if "shoulder" not in kept:
        return patch, []
    at = names.index("shoulder")
    before, after = kept[names[at - 1]], kept[names[(at + 1) % len(names)]]
    kept["shoulder"] = [before[-1], after[0]]
    beyond = held([*patch.outline, patch.outline[0]], lambda p: -below(p))
    buttons = tuple(b for b in patch.buttons if below(b) >= 0)
    lines = tuple((kind, line) for kind, line in patch.lines if kind != "over")
    return replace(patch, edges=kept, buttons=buttons, lines=lines), beyond
