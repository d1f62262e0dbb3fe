"""The check of a lay, by another library than the one that made it: nothing overlaps, nothing is off the cloth."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from shapely import STRtree
from shapely.geometry import MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry

from catalogue.cloth.cloth_lay import ClothLay, MetPoint, repeats_of
from catalogue.cloth.forms import Form, Outline
from catalogue.cloth.matching import Matching
from catalogue.geometry import Point

ROUNDING = 0.02
"""mm that a check forgives."""
MET = 1.0
"""mm within which points on a pattern meet: what a seam is held to."""


SMOOTHED = 0.5
"""mm by which an outline that is laid may lie outside the room that its piece needs, so that it has fewer corners."""


def grown(outline: Outline, by: float, *, from_fold: bool = False) -> Outline:
    """The outline with `by` mm more all round and few corners; of a piece on the fold nothing lies left of x = 0."""
    shape = Polygon(outline)
    whole = shape if shape.is_valid else shape.buffer(0)
    needed: BaseGeometry = whole.buffer(by, join_style="mitre", mitre_limit=1.5) if by > 0.0 else whole
    # No wider or longer than it must be: a piece may be as wide as the cloth.
    smooth = needed.buffer(SMOOTHED / 2, join_style="mitre", mitre_limit=1.5).simplify(SMOOTHED / 2)
    wider = smooth.intersection(box(*needed.bounds))
    if not wider.covers(needed) or wider.geom_type != "Polygon":
        wider = needed
    if from_fold:
        _, top, right, low = wider.bounds
        wider = wider.intersection(box(0.0, top, right, low))
    return _ring(wider)


def opened(half: Outline, fold: float) -> Outline:
    """A half whose fold lies at x = 0 with its mirror image, the fold at `fold`."""
    both: BaseGeometry = Polygon(half).buffer(0).union(Polygon([(-x, y) for x, y in half]).buffer(0))
    if isinstance(both, MultiPolygon):
        both = both.buffer(0.01).buffer(-0.01)
    return tuple(p + Point(fold, 0.0) for p in _ring(both))


def _ring(shape: BaseGeometry) -> Outline:
    """The corners of a shape, of its largest part where it has several."""
    parts = shape.geoms if isinstance(shape, MultiPolygon) else [shape]
    largest = max(parts, key=lambda part: part.area)
    assert isinstance(largest, Polygon)
    return tuple(Point(x, y) for x, y in largest.exterior.coords[:-1])


def problems_of(lay: ClothLay, forms: Iterable[Form], gap: float) -> tuple[str, ...]:
    """What is wrong with a lay; () where it may be cut by."""
    found = []
    wanted = Counter({form.name: form.count for form in forms})
    for wide in lay.too_wide:
        del wanted[wide.name]
    if Counter(cut.name for cut in lay.flat) != wanted:
        found.append("not every piece is cut as often as it should be")
    shapes = [Polygon(cut.outline).buffer(0) for cut in lay.flat]
    cloth = box(-ROUNDING, -ROUNDING, lay.width + ROUNDING, lay.length + ROUNDING)
    found += [
        f"{cut.name} lies over the edge of the cloth"
        for cut, shape in zip(lay.flat, shapes, strict=True)
        if not cloth.contains(shape)
    ]
    tree = STRtree(shapes)
    for one, shape in enumerate(shapes):
        for other in tree.query(shape.buffer(gap)):
            if other > one and shape.distance(shapes[other]) < gap - 2 * ROUNDING:
                found.append(f"{lay.flat[one].name} and {lay.flat[other].name} lie closer than {gap:g} mm")
    areas = {form.name: Polygon(form.outline).buffer(0).area for form in forms}
    found += [
        f"{cut.name} has another area than its piece"
        for cut, shape in zip(lay.flat, shapes, strict=True)
        if abs(shape.area - areas[cut.name]) > 0.001 * areas[cut.name] + 5.0
    ]
    found += [f"{m.first} and {m.second} miss each other by {m.miss:.1f} mm" for m in lay.met if m.miss > MET]
    return tuple(dict.fromkeys(found))


def met_points(lay: ClothLay, forms: Sequence[Form], matching: Matching) -> tuple[MetPoint, ...]:
    """How far the points that must meet miss each other on the cloth's pattern, at worst over all cuts."""
    across, along = repeats_of(lay.cloth)
    bar = lay.cloth.first_bar * (1.0 - lay.cloth.shrinks_across)
    by_name = {form.name: form for form in forms}

    def places(name: str, at: Point) -> list[Point]:
        return _places(lay, by_name[name], at, Point(bar, 0.0)) if name in by_name else []

    found = []
    if along:
        for pair in matching.pairs:
            one, other = places(pair.first, pair.first_at), places(pair.second, pair.second_at)
            if one and other:
                miss = max(_miss(p.y - one[0].y, along) for p in (*one, *other))
                found.append(MetPoint(pair.what, pair.first, pair.second, miss))
    for on in matching.bars:
        repeat = along if on.runs_across else across
        if repeat and (spots := places(on.piece, on.at)):
            misses = [_miss(p.y if on.runs_across else p.x, repeat) for p in spots]
            found.append(MetPoint(on.what, on.piece, "", max(misses)))
    for laid_on in matching.grounds:
        misses = []
        for patch, (number, at) in zip(places(laid_on.patch, laid_on.patch_at), laid_on.spots, strict=False):
            if len(ground := places(laid_on.ground, at)) > number:
                by = patch - ground[number]
                misses += [_miss(by.x, across), _miss(by.y, along)]
        if misses:
            found.append(MetPoint(laid_on.what, laid_on.patch, laid_on.ground, max(misses)))
    return tuple(found)


def _miss(distance: float, repeat: float) -> float:
    """mm by which two places differ on a pattern; 0 where it has no repeat."""
    return abs((distance + repeat / 2) % repeat - repeat / 2) if repeat else 0.0


def _places(lay: ClothLay, form: Form, at: Point, bar: Point) -> list[Point]:
    """Where a point of a form lies beside a bar, for each of its cuts in turn; read from the outlines as they lie.

    A cut that lies the other way up is read from the pattern's bar the other way, as an even pattern allows: then both
    places are given negative.
    """
    over = tuple(Point(-x, y) for x, y in reversed(form.outline))
    poses = [
        (form.outline, at, False),
        (tuple(-p for p in form.outline), -at, True),
        (over, Point(-at.x, at.y), False),
        (tuple(-p for p in over), Point(at.x, -at.y), True),
    ]
    found = []
    for cut in lay.flat:
        if cut.name == form.name and len(cut.outline) == len(form.outline):
            # The corners of a cut keep their order, so its pose is the one in which they all lie alike.
            outline, point, turned = min(poses, key=lambda pose: _unlike(pose[0], cut.outline))
            place = point + (cut.outline[0] - outline[0]) - bar
            found.append(-place if turned else place)
    return found


def _unlike(paper: Outline, laid: Outline) -> float:
    by = laid[0] - paper[0]
    return max((p + by).distance(q) for p, q in zip(paper, laid, strict=True))
