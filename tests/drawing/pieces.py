"""Pieces and drafts built by hand for the tests of drawings and sheets: a small bodice and its skirt."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from catalogue.drafting.model import Draft
from catalogue.geometry import Knot, Path, Point, smooth
from catalogue.lengths import Units
from catalogue.pattern import Cut, Dart, Edge, InnerLine, Mark, Notch, Piece
from catalogue.studio.style import Style


def line(*points: Point) -> Path:
    return Path.polyline(points)


def curve(*points: Point, leaving: Point | None = None, arriving: Point | None = None) -> Path:
    knots = [Knot(p) for p in points]
    knots[0] = Knot(points[0], leaving=leaving)
    knots[-1] = Knot(points[-1], arriving=arriving)
    return smooth(knots)


def bodice_front(width: float = 250.0, length: float = 430.0) -> Piece:
    """Half a bodice front on the fold, with a waist dart and a side dart."""
    p = Point
    neck_centre, neck_shoulder = p(0, 75), p(68, 0)
    tip, armhole_end = p(68 + 118, 42), p(width, 215)
    side_a, side_b = p(width - 1, 250), p(width - 3, 284)
    side_hem, hem_centre = p(width - 12, length - 8), p(0, length + 6)
    leg_a, leg_b = p(118, length + 1), p(86, length + 3)
    bust = p(100, 262)
    side_dart_tip, waist_dart_tip = p(122, 266), p(101, 284)
    edges = (
        Edge("neck", curve(neck_centre, p(46, 52), neck_shoulder, leaving=p(1, 0), arriving=p(0.15, -1))),
        Edge("shoulder", line(neck_shoulder, tip)),
        Edge("armhole", curve(tip, p(166, 130), armhole_end, leaving=p(-0.35, 1), arriving=p(1, 0.1))),
        Edge("side", line(armhole_end, side_a, p(width + 6, 269), side_b, side_hem)),
        Edge("waist", line(side_hem, leg_a, p(102, length + 9), leg_b, hem_centre)),
        Edge("centre_front", line(hem_centre, neck_centre), fold=True),
    )
    return Piece(
        "front",
        "Bodice front",
        edges,
        cut=Cut(1, on_fold=True),
        grain=(p(40, 150), p(40, 380)),
        darts=(
            Dart("side_dart", "side", side_dart_tip, (side_a, side_b), p(width + 6, 269)),
            Dart("waist_dart", "waist", waist_dart_tip, (leg_a, leg_b), p(102, length + 9)),
        ),
        notches=(Notch("armhole", p(167, 128)), Notch("side", side_hem.toward(side_b, 60))),
        marks=(Mark(bust, "point", "bust point"),),
        points={"bust_point": bust},
    )


def bodice_back(width: float = 240.0, length: float = 420.0) -> Piece:
    """Half a bodice back, cut as a pair, with a double notch at the armhole."""
    p = Point
    nape, shoulder = p(0, 22), p(70, 0)
    tip, armhole_end = p(70 + 122, 44), p(width, 212)
    hem_side, hem_centre = p(width - 14, length), p(8, length)
    leg_a, leg_b, apex = p(112, length), p(84, length), p(98, 250)
    edges = (
        Edge("neck", curve(nape, p(44, 17), shoulder, leaving=p(1, 0), arriving=p(0.4, -1))),
        Edge("shoulder", line(shoulder, tip)),
        Edge("armhole", curve(tip, p(176, 130), armhole_end, leaving=p(-0.2, 1), arriving=p(1, 0.05))),
        Edge("side", line(armhole_end, hem_side)),
        Edge("waist", line(hem_side, leg_a, p(98, length + 5), leg_b, hem_centre)),
        Edge("centre_back", line(hem_centre, nape)),
    )
    return Piece(
        "back",
        "Bodice back",
        edges,
        cut=Cut(2, mirrored=True),
        grain=(p(140, 120), p(140, 360)),
        darts=(Dart("waist_dart", "waist", apex, (leg_a, leg_b), p(98, length + 5)),),
        notches=(Notch("armhole", p(176, 130), count=2),),
    )


def sleeve(width: float = 330.0, length: float = 560.0) -> Piece:
    """A set-in sleeve with a curved cap and a fold line at the hem."""
    p = Point
    left, right, top = p(0, 140), p(width, 140), p(width / 2, 0)
    hem_right, hem_left = p(width - 50, length), p(50, length)
    cap = curve(left, p(70, 70), top, p(width - 60, 70), right, leaving=p(1, -0.15), arriving=p(1, 0.25))
    return Piece(
        "sleeve",
        "Sleeve",
        (
            Edge("cap", cap),
            Edge("back_underarm", line(right, hem_right)),
            Edge("hem", line(hem_right, hem_left)),
            Edge("front_underarm", line(hem_left, left)),
        ),
        cut=Cut(2, mirrored=True),
        grain=(p(width / 2, 90), p(width / 2, length - 60)),
        notches=(Notch("cap", p(70, 70)), Notch("cap", p(width - 60, 70), count=2)),
        lines=(InnerLine(line(p(22, 320), p(width - 22, 320)), "guide", "elbow"),),
    )


def collar() -> Piece:
    """A narrow strip: hardly room for a label."""
    p = Point
    a, b, c, d = p(0, 0), p(210, 12), p(206, 62), p(0, 46)
    return Piece(
        "collar",
        "Collar",
        (
            Edge("outer", line(a, b)),
            Edge("front", line(b, c)),
            Edge("neck", line(c, d)),
            Edge("centre_back", line(d, a), fold=True),
        ),
        cut=Cut(2, on_fold=True, cloth="interfacing"),
        grain=(p(30, 10), p(30, 40)),
    )


def tab() -> Piece:
    """A very small piece."""
    p = Point
    a, b, c, d = p(0, 0), p(50, 0), p(50, 18), p(0, 18)
    edges = (
        Edge("top", line(a, b)),
        Edge("end", line(b, c)),
        Edge("bottom", line(c, d)),
        Edge("start", line(d, a)),
    )
    return Piece("tab", "Tab", edges, cut=Cut(4, mirrored=True, cloth="lining"))


def skirt_front(width: float = 270.0, length: float = 620.0) -> Piece:
    """Half a skirt front on the fold."""
    p = Point
    top, side_waist, side_hip, side_hem, hem = (
        p(0, 12),
        p(190, 0),
        p(width, 200),
        p(width, length),
        p(0, length),
    )
    leg_a, leg_b, apex = p(92, 9), p(112, 8), p(101, 108)
    edges = (
        Edge("waist", line(top, leg_a, p(102, 2), leg_b, side_waist)),
        Edge("side", curve(side_waist, side_hip, arriving=p(0, 1)).joined(line(side_hip, side_hem))),
        Edge("hem", line(side_hem, hem)),
        Edge("centre_front", line(hem, top), fold=True),
    )
    return Piece(
        "skirt_front",
        "Skirt front",
        edges,
        cut=Cut(1, on_fold=True),
        grain=(p(150, 220), p(150, 560)),
        darts=(Dart("dart", "waist", apex, (leg_a, leg_b), p(102, 2)),),
    )


def client(name: str = "Adaeze Okonjo", kind: str = "woman") -> Any:
    return SimpleNamespace(
        name=name, slug="client", kind=kind, units=Units(), measurements={}, for_order="", notices=()
    )


def style(title: str = "Fitted bodice", audience: tuple[str, ...] = ("women",)) -> Style:
    return Style(slug="style", file="styles/style.md", title=title, audience=audience)


def draft(
    *pieces: Piece, title: str = "Fitted bodice", name: str = "Adaeze Okonjo", kind: str = "woman"
) -> Draft:
    """A draft with these pieces, or with a whole small garment when none are given."""
    chosen = pieces or (bodice_front(), bodice_back(), sleeve(), collar(), tab(), skirt_front())
    return Draft(style=style(title), client=client(name, kind), pieces={p.name: p for p in chosen})
