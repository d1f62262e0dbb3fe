"""What a view of a garment shows: both halves of its body, sleeves, bands, collar, buttons."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from catalogue.drafting.model import Draft
from catalogue.drawing.assembly import Half
from catalogue.drawing.body_outline import BREADTH
from catalogue.drawing.details import back_strap, has_elastic, shown_on, welt
from catalogue.drawing.gathers import gathers
from catalogue.drawing.hanging import band_beside, collar, collar_depth, collar_edge, strip_height
from catalogue.drawing.lapels import notched_collar
from catalogue.drawing.legs import finer
from catalogue.drawing.patch import FINE, Polyline, length_of, patch_of
from catalogue.drawing.pieces_worn import strips_on, words_of
from catalogue.drawing.placing_on_body import OVER, armhole_of, neck_of
from catalogue.drawing.pockets import pockets_on
from catalogue.drawing.sleeves import SleeveForm, hung
from catalogue.drawing.view import View
from catalogue.geometry import Cubic, Path, Point
from catalogue.pattern import Piece


@dataclass(frozen=True, slots=True)
class HalfGarment:
    """Half a garment on the figure, front and back, both to the right of the middle.

    Attributes:
        form: of its sleeve, None without one.
        from_shoulder: it hangs from the shoulder, not from the waist.
        legs: it has legs.
    """

    draft: Draft
    front: Half
    back: Half
    form: SleeveForm | None
    from_shoulder: bool
    legs: bool


@dataclass(frozen=True, slots=True)
class ViewSide:
    """One side of a view: whose half, seen from the front (0) or from behind (1), and whether it lies to the left."""

    garment: HalfGarment
    view: int
    mirrored: bool

    @property
    def one(self) -> Half:
        """What is seen of it."""
        return self.garment.back if self.view else self.garment.front

    @property
    def other(self) -> Half:
        """What is seen of it from the other side."""
        return self.garment.front if self.view else self.garment.back

    def turn(self, line: Polyline) -> Polyline:
        """A line of the half where it lies in the view."""
        return [Point(-p.x, p.y) for p in line] if self.mirrored else line


def inside(view: View, sides: Sequence[ViewSide]) -> None:
    """The inside of the back, seen through the front neck; with a collar that stands, up to its edge behind."""
    nears, fars = [], []
    stands = False
    for side in sorted(sides, key=lambda side: not side.mirrored):
        near, far = list(side.one.roll) or neck_of(side.one), neck_of(side.other)
        if not near or not far:
            return
        on = collar_on(side.garment.draft, side.one)
        over = next((p for p in side.one.patches if p.name == OVER), None)
        if on:
            stands = True
            far = [collar_edge(far, on.stand, n / 8) for n in range(9)]
        elif over is not None:  # the neck of the back begins where the shoulder is seen to turn
            corner = over.edges["neck"][-1]
            wide, down = corner.x / max(far[0].x, 1.0), corner.y - far[0].y
            far, near = [Point(p.x * wide, p.y + down) for p in far], [corner, *near]
        if side.one.overlap > 0 and len(near) > 1:  # on below, to the edge that laps over
            low, before = near[-1], near[-2]
            near = [*near, low.mix(before, -side.one.overlap / max(before.x - low.x, 1.0))]
        nears.append(side.turn(near))
        fars.append(side.turn(far))
    behind = [*fars[0], *reversed(fars[1])]
    view.fill([*behind, *nears[1], *reversed(nears[0])], "inside")
    if stands:
        view.line(behind)


def sleeves(view: View, sides: Sequence[ViewSide], angle: float) -> None:
    """Both sleeves, with their cuffs and seams."""
    for side in sides:
        form = side.garment.form
        if form is None:
            continue
        tube = hung(form, armhole_of(side.one), angle, back=side.view == 1)
        view.shape(side.turn(tube.outline))
        for kind, line in tube.lines:
            view.line(side.turn(line), kind)
        if tube.cuff:
            view.shape(side.turn(tube.cuff))
        view.buttons += side.turn(list(tube.buttons))


def body(view: View, sides: Sequence[ViewSide]) -> None:
    """Both halves of a view, the one that closes on top last."""
    for side in sides:
        one, turn, over = side.one, side.turn, side is sides[-1]
        bands = list(_bands(side.garment.draft, one)) or list(
            _bands_round(side.garment.draft, one, side.other)
        )
        seen = one if over else _cut_at_middle(one)
        for patch in seen.patches:
            # A hair over a fold in the middle, so that the figure does not show between the two halves.
            view.fill(
                turn([Point(-_HAIR, p.y) if patch.folds and abs(p.x) < 0.5 else p for p in patch.outline])
            )
        for patch in seen.patches:
            for name, edge in patch.edges.items():
                if name not in patch.folds:
                    view.line(turn(edge))
            for kind, line in patch.lines:
                if kind == "fly":  # on the half on top alone
                    view.strokes += [("stitch", turn(line), False)] if over else []
                elif kind.startswith("welt"):
                    if shown_on(kind, side.mirrored == (side.view == 1)):
                        view.shape(turn(welt(side.garment.draft, kind, line)))
                elif kind not in ("held", "over", "strap"):
                    view.line(turn(line), kind if kind in ("stitch", "gather", "vent") else "dart")
        for pocket, only in pockets_on(side.garment.draft, seen.patches):
            if not only or (only == "left") != (side.mirrored == (side.view == 0)):
                view.shape(turn(pocket))
        for piece, band in bands:
            view.fill(turn(band))
            half_way = len(band) // 2
            view.line(turn(band[:half_way]))
            if side.garment.legs:
                view.line(turn(band[half_way:]))
            if has_elastic(piece):
                for line in gathers(sorted(band[half_way:], key=lambda p: p.x), 1.0):
                    view.line(turn([line[0], line[0].mix(line[1], 0.5)]), "gather")
            folded = any(e.fold for e in piece.edges)
            if not one.closed and not folded and min(p.x for p in band) < 5.0:
                ends = [min(part, key=lambda p: abs(p.x)) for part in (band[:half_way], band[half_way:])]
                view.line(turn(ends))
        for lapel in one.turned:
            view.shape(turn(lapel.outline))
        # Where the halves lap, only those of the half on top are seen.
        view.buttons += [
            b
            for p in one.patches
            for b in p.buttons
            if over or p.folds or b.x > one.overlap + _LAPPED
            for b in turn([b])
        ]
    back_strap(view, sides[0].garment.draft, [side.one for side in sides] if sides[0].view else [])
    # A vent laps over on the left back alone (common practice, no source).
    left = next(side for side in sides if side.mirrored)
    for patch in left.one.patches:
        for kind, line in patch.lines:
            if kind == "held":
                view.line(left.turn(line), "stitch")


def _cut_at_middle(one: Half) -> Half:
    """A half of which what laps under the other is not seen."""
    fine = replace(one, patches=tuple(finer(p) for p in one.patches)) if one.overlap else one
    return fine.moved(lambda p: Point(max(p.x, 0.0), p.y))


_NECK = {"neck", "neckline", "gorge"}
_WAIST = {"waist", "top"}
_BEHIND = 45.0  # mm that a neck edge is deep at most behind
_WIDE_BELT = 60.0  # mm that a belt is wide at most
_HAIR = 1.0  # mm
_LAPPED = 35.0  # mm beyond the lap within which buttons close the garment


def _bands(draft: Draft, one: Half) -> Iterator[tuple[Piece, Polyline]]:
    """Bands sewn along edges of this view, the right half of each as a closed shape, its seam first."""
    done: set[str] = set()
    where = {(p.name, name): line for p in one.patches for name, line in p.edges.items()}
    for piece, edges in strips_on(draft, list(where)):
        if piece.name in done or _turned_down(draft, piece):
            continue
        done.add(piece.name)
        height = strip_height(piece)
        for edge in edges:
            line = where[edge]
            level = abs(line[-1].x - line[0].x) > 2 * abs(line[-1].y - line[0].y)
            far = [Point(p.x, p.y - height) for p in line] if level else band_beside(line, height)
            if side_of_neck := max((p.x for p in line), default=0.0) if _NECK & words_of(edge[1]) else 0.0:
                # A band round the neck stands up and leans towards it; behind, its edge is nearly level.
                lean = 0.25 * height / side_of_neck
                far = [Point(p.x * (1 - lean), p.y - height * (1 - 0.2 * p.x / side_of_neck)) for p in line]
                ends = sorted(line, key=lambda p: -p.x)
                if ends[-1].y - ends[0].y < _BEHIND:
                    far = [collar_edge([ends[0], ends[-1]], height, 1 - p.x / side_of_neck) for p in line]
            yield piece, [*line, *(Point(max(p.x, 0.0), p.y) for p in reversed(far))]


def _bands_round(draft: Draft, one: Half, other: Half) -> Iterator[tuple[Piece, Polyline]]:
    """A band sewn to the waist of the other view alone that is long enough to go on round this one."""
    theirs = {
        (p.name, name): line
        for p in other.patches
        for name, line in p.edges.items()
        if _WAIST & words_of(name)
    }
    for piece, edges in strips_on(draft, list(theirs)):
        box = piece.outline.bounds()
        sewn = sum(length_of(patch_of(draft.pieces[name]).edges[edge]) for name, edge in edges)
        if max(box.width, box.height) > 1.5 * sewn:
            height = strip_height(piece)
            for line in one.edges(*_WAIST):
                yield piece, [*line, *(Point(p.x, p.y - height) for p in reversed(line))]
            return


def fly(view: View, side: ViewSide) -> None:
    """The row of stitches that holds the fly, on the half that lies on top."""
    draft, front = side.garment.draft, side.one
    facings = [
        p
        for p in draft.pieces.values()
        if "fly" in words_of(p.name, p.title) and "facing" in words_of(p.title)
    ]
    if not facings or front.closed or any(kind == "fly" for p in front.patches for kind, _ in p.lines):
        return
    box = facings[0].outline.bounds()
    wide, deep = 0.85 * min(box.width, box.height) * BREADTH, max(box.width, box.height)
    top = min(p.y for p in front.patches[0].outline if p.x < wide)
    turn = Point(wide, top + deep - 1.2 * wide)
    curve = Path(
        (
            Cubic(
                turn,
                Point(wide, top + deep - 0.4 * wide),
                Point(wide / 2, top + deep),
                Point(0.0, top + deep),
            ),
        )
    )
    line = [Point(wide, top), *curve.flatten(FINE)]
    view.line(side.turn(line), "stitch")


def _turned_down(draft: Draft, stand: Piece) -> Piece | None:
    """The collar that turns down over a neck band, or the band itself when it is such a collar."""
    if "stand" not in words_of(stand.name, stand.title) and "collar" in words_of(stand.name, stand.title):
        return stand
    for piece, _ in strips_on(draft, [(stand.name, e.name) for e in stand.edges]):
        if "collar" in words_of(piece.name, piece.title):
            return piece
    return None


class CollarOn(NamedTuple):
    """A collar that turns down: its piece, how high it stands and how deep it falls at the centre back, mm."""

    piece: Piece
    stand: float
    fall: float


def collar_on(draft: Draft, one: Half) -> CollarOn | None:
    """The collar at the neck of a view; None without one that turns down."""
    where = [(p.name, name) for p in one.patches for name in p.edges if _NECK & words_of(name)]
    for stand, _ in strips_on(draft, where):
        piece = _turned_down(draft, stand)
        if piece is not None and neck_of(one):
            deep = collar_depth(piece)
            high = strip_height(stand) if stand is not piece else 0.4 * deep
            return CollarOn(piece, high, deep if stand is not piece else deep - high)
    return None


def belt(view: View, sides: Sequence[ViewSide]) -> None:
    """A belt of the cloth round the waist, tied in front."""
    pieces = [p for p in sides[0].garment.draft.pieces.values() if p.cut.cloth == "main" and _is_belt(p)]
    if not pieces:
        return
    high = strip_height(pieces[0])
    high = high / 2 if high > _WIDE_BELT else high  # folded, though no line says so
    reach = [
        max((x for p in side.one.patches if (x := _out_at(p.outline, 0.0))), default=0.0) for side in sides
    ]
    if min(reach) < 20:
        return
    ends = [side.turn([Point(x, 0.0)])[0].x for side, x in zip(sides, reach, strict=True)]
    left, right = min(ends), max(ends)
    up, low = -high / 2, high / 2
    if sides[0].view == 0:
        for x, lean, long in ((-0.35 * high, -0.1, 200.0), (0.35 * high, 0.08, 240.0)):
            foot = Point(x + lean * long, low + long)
            view.shape(
                [
                    Point(x - high / 2, low),
                    Point(x + high / 2, low),
                    foot + Point(high / 2, 0.0),
                    foot - Point(high / 2, 0.0),
                ]
            )
    view.shape([Point(left, up), Point(right, up), Point(right, low), Point(left, low)])
    if sides[0].view == 0:
        view.shape(
            [
                Point(-0.7 * high, up),
                Point(0.7 * high, up),
                Point(0.6 * high, low + 4),
                Point(-0.6 * high, low + 4),
            ]
        )


def straps(view: View, sides: Sequence[ViewSide], shoulder: Callable[[float], float]) -> None:
    """Straps from a bib over the shoulders, crossed behind; `shoulder` gives the shoulder's height at a width."""
    pieces = [
        p
        for p in sides[0].garment.draft.pieces.values()
        if p.cut.cloth == "main" and "strap" in words_of(p.name, p.title)
    ]
    bibs = [
        max(p.outline, key=lambda q: q.x - 3 * q.y)
        for side in sides
        for p in side.garment.front.patches
        if p.box.top < -60
    ]
    if not pieces or not bibs:
        return
    wide = strip_height(pieces[0]) * BREADTH
    for side in sides:
        top = 0.9 * bibs[0].x
        high, end = _strap_on_band(side, 0.35 * top)
        over = Point(top, shoulder(top))
        foot = (
            Point(bibs[0].x - wide, bibs[0].y + wide / 2)
            if side.view == 0
            else Point(-end - wide / 2, _waist_at(side.one) - high)
        )
        across = Point(wide, 0.0)
        view.shape(side.turn([over - across, over, foot + across, foot]))


def _strap_on_band(side: ViewSide, usual: float) -> tuple[float, float]:
    """How high the band behind is, and how far from the middle a strap is sewn to it: by its mark, or as usual."""
    edges = [(p.name, name) for p in side.garment.back.patches for name in p.edges if _WAIST & words_of(name)]
    for piece, _ in strips_on(side.garment.draft, edges):
        middle = [e.path.start.x for e in piece.edges if e.fold]
        ends = [abs(m.at.x - x) for x in middle for m in piece.marks if "strap" in words_of(m.text)]
        return strip_height(piece), BREADTH * ends[0] if ends else usual
    return 0.0, usual


def _waist_at(one: Half) -> float:
    return min(p.y for patch in one.patches for p in patch.outline if p.x < 60.0)


def _is_belt(piece: Piece) -> bool:
    words = words_of(piece.name, piece.title)
    return bool({"belt", "sash"} & words) and not {"loop", "loops", "carrier", "carriers"} & words


def _out_at(outline: Polyline, level: float) -> float:
    """How far right a closed outline reaches at a level; 0 where it doesn't."""
    return max(
        (
            a.x + (b.x - a.x) * (level - a.y) / (b.y - a.y)
            for a, b in pairwise([*outline, outline[0]])
            if (a.y <= level) != (b.y <= level)
        ),
        default=0.0,
    )


def draw_collar(view: View, sides: Sequence[ViewSide]) -> None:
    """A collar that turns down, on a stand or on lapels."""
    falls: list[Polyline] = []
    for side in sides:
        one, other = side.one, side.other
        on = collar_on(side.garment.draft, one)
        if on is None:
            continue
        neck = neck_of(one)
        if side.view == 0 and one.turned:
            sewn = max((length_of(e) for e in patch_of(on.piece).edges.values()), default=0.0)
            fall = notched_collar(one, neck[0], on.fall, on.stand, sewn - length_of(neck_of(other)))
        else:
            fall = collar(on.piece, on.stand, on.fall, neck, side.view == 0)
        falls.append(side.turn(fall))
    if len(falls) == 2 and sides[0].view == 1:  # behind, it is one
        view.shape([*falls[0], *reversed(falls[1])])
    else:
        for fall in falls:
            view.shape(fall)
