"""How short lays are: `python -m tests.benchmarks.lays FILE... [--best LENGTH]`.

A file is an instance in JSON: `strip_height` is the width of the cloth, each item a polygon with its `demand` and
`allowed_orientations` in degrees; `best_known` is the shortest length that anyone has published. For each a line:

    NAME quick SECONDS SHARE good SECONDS SHARE

where SHARE is the best known length divided by the length reached; "-" where no best length is known.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from collections.abc import Callable
from itertools import combinations
from pathlib import Path

from shapely.geometry import Polygon, box

from catalogue.cloth.laying import fill_quickly
from catalogue.cloth.solver import fill_well
from catalogue.cloth.strip import FilledStrip, Stone
from catalogue.geometry import Point

WIDTH = 1400.0
"""mm that every instance's cloth is scaled to, so that the cells are those of a garment's lay."""


def read(path: Path) -> tuple[str, float, list[Stone], float | None]:
    """Name, mm in a unit of the file, the pieces scaled, and the best known length in mm."""
    told = json.loads(path.read_text(encoding="utf-8"))
    scale = WIDTH / told["strip_height"]
    stones = []
    for item in told["items"]:
        points = tuple(Point(y * scale, x * scale) for x, y in item["shape"]["data"])
        points = points[:-1] if points[0] == points[-1] else points
        turned = tuple(-p for p in points) if 180.0 in item["allowed_orientations"] else ()
        stones += [Stone(points, turned)] * item["demand"]
    best = told.get("best_known")
    return told.get("name") or path.stem, scale, stones, best * scale if best else None


def faults(stones: list[Stone], filled: FilledStrip) -> int:
    """How many pieces overlap by more than 1 mm², or lie off the cloth, by shapely."""
    shapes = []
    for stone, spot in zip(stones, filled.spots, strict=True):
        assert spot is not None
        points = stone.turned if spot.turned else stone.points
        shapes.append(Polygon([p + spot.by for p in points]).buffer(0))
    cloth = box(-0.05, -0.05, WIDTH + 0.05, filled.length + 0.05)
    return sum(a.intersection(b).area > 1.0 for a, b in combinations(shapes, 2)) + sum(
        not cloth.contains(s) for s in shapes
    )


def timed(
    way: Callable[[list[Stone], float, tuple[float, float]], FilledStrip | None],
    stones: list[Stone],
    best: float | None,
) -> tuple[str, bool]:
    start = time.perf_counter()
    filled = way(stones, WIDTH, (0.0, 0.0))
    seconds = time.perf_counter() - start
    if filled is None or faults(stones, filled):
        return f"{seconds:.2f} invalid", False
    return f"{seconds:.2f} {best / filled.length:.3f}" if best else f"{seconds:.2f} -", True


def main() -> int:
    parser = argparse.ArgumentParser(
        prog="python -m tests.benchmarks.lays", description=__doc__.split("\n")[0]
    )
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE")
    parser.add_argument("--best", type=float, help="the best known length, in the file's own unit")
    given = parser.parse_args()
    valid = True
    for path in given.files:
        name, scale, stones, best = read(path)
        best = given.best * scale if given.best else best
        (quick, one), (good, other) = (timed(way, stones, best) for way in (fill_quickly, fill_well))
        valid = valid and one and other
        print(f"{name} quick {quick} good {good}", flush=True)
    return 0 if valid else 1


if __name__ == "__main__":
    sys.exit(main())
