"""Microseconds per operation of the geometry room, the best of several rounds. Run it by hand:

python tests/benchmarks/geometry.py
"""

import math
import sys
import timeit
from collections.abc import Callable
from pathlib import Path as File

sys.path.insert(0, str(File(__file__).resolve().parents[2]))

from catalogue.geometry import (
    Knot,
    Path,
    Point,
    Transform,
    circle_meets_path,
    contains,
    crossings,
    is_simple,
    parallel,
    polygon,
    signed_area,
    smooth,
    solve,
)

KNOTS = [Knot(Point(i * 50.0, 30 * math.sin(i))) for i in range(6)]
ARMHOLE = [
    Knot(Point(180, -380), leaving=Point(0, 1)),
    Knot(Point(175, -280)),
    Knot(Point(250, -200), arriving=Point(1, 0)),
]


def bodice() -> Path:
    """Half a bodice block: straight lines, a neckline and an armhole."""
    neck = smooth([Knot(Point(0, -390), leaving=Point(1, 0)), Knot(Point(75, -410), arriving=Point(0, -1))])
    return (
        Path.polyline([Point(0, 0), Point(0, -390)])
        .joined(neck)
        .joined(Path.line(Point(75, -410), Point(180, -380)))
        .joined(smooth(ARMHOLE))
        .joined(Path.polyline([Point(250, -200), Point(240, 0), Point(0, 0)]))
    )


def half_cap(height: float) -> Path:
    return smooth(
        [
            Knot(Point(0, height), leaving=Point(1, 0)),
            Knot(Point(85, 0.55 * height)),
            Knot(Point(170, 0), arriving=Point(1, 0)),
        ]
    )


def operations() -> dict[str, Callable[[], object]]:
    piece, curve = bodice(), smooth(KNOTS)
    cubic = curve.segments[2]
    armhole = smooth(ARMHOLE)
    line = Path.line(Point(100, -300), Point(300, -290))
    turn = Transform.rotation(12, Point(50, 50))
    spot = Point(200, -250)
    return {
        "smooth curve through 6 points": lambda: smooth(KNOTS),
        "length of a cubic": cubic.length,
        "length of a new path of 5 cubics": lambda: Path(curve.segments).length,
        "point at a length": lambda: curve.point_at(123.4),
        "nearest point on an armhole": lambda: armhole.nearest(spot),
        "part of a path": lambda: curve.between(0, 123.4),
        "armhole crosses a line": lambda: crossings(armhole, line),
        "armhole crosses a curve": lambda: crossings(armhole, half_cap(-300)),
        "armhole meets a circle": lambda: circle_meets_path(spot, 40, armhole),
        "move a bodice": lambda: piece.transformed(turn),
        "bounds of a bodice": piece.bounds,
        "flatten a bodice": piece.flatten,
        "area of a bodice": lambda: signed_area(piece),
        "bodice crosses itself?": lambda: is_simple(piece),
        "point inside a bodice?": lambda: contains(piece, spot),
        "bodice as a shapely polygon": lambda: polygon(piece),
        "armhole, parallel 10 mm": lambda: parallel(armhole, 10),
        "bodice, parallel 15 mm outside": lambda: parallel(piece, -15),
        "cap solved to a length": lambda: solve(lambda h: half_cap(h).length - 240, 60, 220),
    }


def main() -> None:
    for name, operation in operations().items():
        timer = timeit.Timer(operation)
        count, _ = timer.autorange()
        count = max(1, count // 10)
        best = min(timer.repeat(repeat=7, number=count)) / count
        print(f"{name:36} {best * 1e6:9.1f} µs")


if __name__ == "__main__":
    main()
