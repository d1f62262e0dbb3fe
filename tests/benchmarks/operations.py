"""Microseconds per operation of the pattern room, the best of several rounds. Run it by hand:

python tests/benchmarks/operations.py
"""

import sys
import timeit
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path as File

sys.path.insert(0, str(File(__file__).resolve().parents[2]))

from catalogue.geometry import Knot, Path, Point, smooth
from catalogue.pattern import Cut, Edge, InnerLine, Mark, Notch, Piece
from catalogue.pattern.darts import add_dart, add_double_dart
from catalogue.pattern.joining import tape, unfold
from catalogue.pattern.lengthening import fold_out, lengthen
from catalogue.pattern.making import make_piece
from catalogue.pattern.panels import Stop, cut_through
from catalogue.pattern.parting import cut
from catalogue.pattern.pivot import Opening, close_dart
from catalogue.pattern.pleating import pleat
from catalogue.pattern.seams import Allowed, walk
from catalogue.pattern.spreading import Slash, even_lines, spread
from catalogue.pattern.tracing import band
from catalogue.pattern.truing import level, redraw, shape_edge, smoothed, squared, true_across

BUST = Point(95, 265)


def outline() -> list[Edge]:
    """A bodice front of about bust 92 cm, on the fold at the left."""
    cf, neck, tip, side_top = Point(0, 75), Point(70, 0), Point(185, 42), Point(245, 225)
    side_waist, waist = Point(205, 435), Point(0, 443)
    armhole = smooth(
        [Knot(tip, None, Point(-0.35, 0.94)), Knot(Point(170, 150)), Knot(side_top, Point(1, 0), None)]
    )
    return [
        Edge("neck", smooth([Knot(cf, None, Point(1, 0)), Knot(neck, Point(0, -1), None)])),
        Edge("shoulder", Path.line(neck, tip)),
        Edge("armhole", armhole),
        Edge("side", Path.line(side_top, side_waist)),
        Edge("waist", smooth([Knot(side_waist), Knot(waist, Point(-1, 0), None)])),
        Edge("centre", Path.line(waist, cf), fold=True),
    ]


def bodice(darts: bool = True) -> Piece:
    made = make_piece("front", "Front", outline(), Cut(1, True), {"bust_point": BUST})
    made = made.with_changes(
        notches=tuple(Notch(e.name, e.path.point_at(e.path.length * 0.4)) for e in made.edges[:-1]),
        marks=(Mark(BUST, "drill"), Mark(Point(60, 150), "button")),
        lines=(InnerLine(Path.line(Point(0, 225), Point(240, 225))),),
        grain=(Point(40, 130), Point(40, 380)),
    )
    for name, middle, intake in (
        (("waist", BUST + Point(0, 175), 25.0), ("side", Point(225, 305), 35.0)) if darts else ()
    ):
        made = add_dart(made, name, name, made.edge(name).path.nearest(middle)[0], intake, apex=BUST)
    return made


def operations() -> dict[str, Callable[[], object]]:
    plain, darted, edges = bodice(False), bodice(), outline()
    half = Point(127, 21)
    across = Path.line(Point(0, 330), Point(250, 330))
    upper, lower = cut(plain, across, [("a", "A"), ("b", "B")], "cut")
    armhole_dart = close_dart(darted, "side", BUST, (Opening(Point(170, 150), "armhole", name="new"),))
    slashes = [Slash(line, 0.0, 30.0) for line in even_lines(plain, 3, "shoulder", "waist")]
    other = replace(plain, name="other")
    pieces = {"front": darted, "other": other}
    wide = spread(plain, slashes)
    hem = smooth([Knot(Point(205, 425)), Knot(Point(0, 430), Point(-1, 0), None)])
    return {
        "make a piece": lambda: make_piece("front", "Front", edges, Cut(1, True), {"bust_point": BUST}),
        "dart": lambda: add_dart(plain, "d", "waist", 110.0, 25.0, apex=BUST),
        "dart with two ends": lambda: add_double_dart(
            plain, "d", Point(95, 280), Point(95, 420), Point(95, 350), 20
        ),
        "cut along a line": lambda: cut(
            darted, Path.line(half, Point(80, 75)), [("a", "A"), ("b", "B")], "cut"
        ),
        "cut through darts": lambda: cut_through(
            armhole_dart, [Stop("new"), Stop("waist")], [("a", "A"), ("b", "B")], "panel", smoothly=True
        ),
        "tape": lambda: tape(lower, "cut", upper, "cut", "front", "Front"),
        "unfold": lambda: unfold(darted, "centre"),
        "close a dart, open another": lambda: close_dart(darted, "side", BUST, (Opening(half, "shoulder"),)),
        "close a dart into gathers": lambda: close_dart(
            darted, "side", BUST, (Opening(half, "shoulder", "gathers"),)
        ),
        "spread along 3 lines": lambda: spread(plain, slashes),
        "overlap along a line": lambda: spread(plain, [Slash(slashes[1].line, 0.0, -10.0)]),
        "knife pleat": lambda: pleat(
            plain, "p", Path.line(Point(40, 0), Point(40, 500)), "knife", 15.0, True
        ),
        "box pleat": lambda: pleat(plain, "p", Path.line(Point(40, 0), Point(40, 500)), "box", 10.0, True),
        "fold out a wedge": lambda: fold_out(plain, Point(0, 330), 15.0, Point(224, 335)),
        "lengthen": lambda: lengthen(plain, across, 30.0),
        "shorten": lambda: lengthen(plain, across, -20.0),
        "trace a facing": lambda: band(plain, "f", "F", ["neck", "shoulder"], 40.0, None),
        "true an edge across a seam": lambda: true_across(plain, "waist", "side", other, "waist", "side"),
        "square an edge to the fold": lambda: squared(plain, "neck", "centre"),
        "level two edges": lambda: level(plain, "side", wide.with_changes(name="wide"), "side", "waist"),
        "redraw along a line": lambda: redraw(plain, "waist", hem),
        "redraw smooth": lambda: smoothed(wide, "waist"),
        "shape a hem": lambda: shape_edge(plain, "waist", {"side": 15.0, "centre": -20.0}),
        "walk a side seam": lambda: walk(pieces, ["front.side"], ["other.side"]),
        "walk two edges to two": lambda: walk(
            pieces,
            ["front.armhole", "front.shoulder"],
            ["other.armhole", "other.shoulder"],
            (),
            Allowed(0, 50),
        ),
    }


def main() -> None:
    for name, operation in operations().items():
        timer = timeit.Timer(operation)
        count, taken = timer.autorange()
        count = max(1, round(count * 0.05 / taken))
        best = min(timer.repeat(repeat=5, number=count)) / count
        print(f"{name:30} {best * 1e6:9.0f} µs")


if __name__ == "__main__":
    main()
