"""Lays that a cutter would follow: a known cloth, single or folded, its direction, pattern and shrinkage minded."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from catalogue.cloth.checking import grown, met_points, opened, problems_of
from catalogue.cloth.cloth_lay import EDGE, GAP, ClothLay, How, LaySection, TableCut, WidePiece, repeats_of
from catalogue.cloth.cloths import Cloth
from catalogue.cloth.filling import fill
from catalogue.cloth.forms import Form, Outline
from catalogue.cloth.lay import LaidCut
from catalogue.cloth.matching import Matching, with_anchors
from catalogue.cloth.strip import FilledStrip, Stone
from catalogue.geometry import Point

WORTH = 100.0
"""mm that another way must save before the cloth is not folded lengthwise, as is usual (common practice, no source)."""

Filler = Callable[[Sequence[Stone], float, tuple[float, float]], FilledStrip | None]
"""Places shapes on a strip of that width, with those repeats."""


def ways_for(cloth: Cloth) -> tuple[How, ...]:
    """How a cloth may be spread: patterns are matched on a single layer, one-way cloth is never folded crosswise."""
    if cloth.is_matched:
        return ("single",)
    return ("lengthwise", "single") if cloth.is_one_way else ("lengthwise", "single", "crosswise")


def fill_quickly(stones: Sequence[Stone], width: float, repeats: tuple[float, float]) -> FilledStrip | None:
    """The filler of every build."""
    return fill(stones, width, repeats=repeats)


def lay_cloth(
    cloth: Cloth,
    use: str,
    forms: Iterable[Form],
    *,
    how: How | None = None,
    gap: float = GAP,
    matching: Matching | None = None,
    filler: Filler = fill_quickly,
) -> ClothLay | None:
    """The shortest lay of the ways there are, or the one spread as `how` says; None when it would be far too long.

    Raises ValueError, with a sentence for the reader, where the cloth can't be spread so.
    """
    forms = tuple(forms)
    if how is not None and how not in ways_for(cloth):
        raise ValueError(_refused(cloth, how))
    if cloth.is_matched and matching is not None:
        forms = with_anchors(forms, matching)
    lays = [_spread(cloth, use, forms, each, gap, filler) for each in ([how] if how else ways_for(cloth))]
    # A piece that is too wide for one way may fit another.
    found = [each for each in lays if each is not None]
    best = min(
        found,
        key=lambda lay: (len(lay.too_wide), lay.length - WORTH * (lay.how == "lengthwise")),
        default=None,
    )
    if best is None:
        return None
    met = met_points(best, forms, matching) if matching and cloth.is_matched else ()
    return replace(best, met=met, problems=problems_of(replace(best, met=met), forms, gap))


def _refused(cloth: Cloth, how: How) -> str:
    if cloth.is_matched:
        return f"{cloth.name} has a pattern to match, so it is laid in a single layer."
    return (
        f"{cloth.name} is laid one way: folded crosswise, one of its two layers would lie the other way up."
    )


def _spread(
    cloth: Cloth, use: str, forms: Sequence[Form], how: How, gap: float, filler: Filler
) -> ClothLay | None:
    """A lay spread in one way; what can't be cut so follows on a single layer."""
    width = cloth.ready_width
    across = {form.name: form.across for form in forms}
    too_wide = tuple(WidePiece(n, wide, width) for n, wide in across.items() if wide > width + EDGE)
    fitting = [form for form in forms if across[form.name] <= width + EDGE]
    double, single = _shared(fitting, how, width, gap)
    sections: list[LaySection] = []
    flat: list[LaidCut] = []
    if double:
        filled = _fill_double(double, how, width, gap, not cloth.is_one_way, filler)
        if filled is None:
            return None
        section, cuts = filled
        sections.append(section)
        flat += cuts
    start = sections[0].takes + gap if sections else 0.0
    if single or not sections:
        section_of_one = _fill_single(single, cloth, width, gap, start, filler)
        if section_of_one is None:
            return None
        if single:
            sections.append(section_of_one)
            flat += [
                LaidCut(c.name, tuple(p + Point(0.0, start) for p in c.outline)) for c in section_of_one.cuts
            ]
    length = max((s.start + s.takes for s in sections), default=0.0)
    laid = {cut.name for cut in flat}
    too_wide += tuple(WidePiece(f.name, f.across, width) for f in fitting if f.name not in laid)
    return ClothLay(cloth, use, width, length, tuple(sections), tuple(flat), too_wide)


_Cut = tuple[Form, Outline, bool, bool]
"""A form, the outline of one cut of it, whether it is turned over, and whether it lies on the fold."""


def _shared(forms: Sequence[Form], how: How, width: float, gap: float) -> tuple[list[_Cut], list[_Cut]]:
    """What is cut from two layers at once, and what from one."""
    double: list[_Cut] = []
    single: list[_Cut] = []
    for form in forms:
        left = form.count
        over = tuple(Point(-x, y) for x, y in reversed(form.outline))
        if how == "lengthwise" and form.half and max(p.x for p in form.half) <= width / 2 + EDGE:
            double += [(form, form.half, False, True)] * left
            left = 0
        elif (
            how != "single" and form.across <= (width / 2 - gap / 2 if how == "lengthwise" else width) + EDGE
        ):
            double += [(form, form.outline, False, False)] * form.pairs
            left -= 2 * form.pairs
        single += [
            (form, over if form.mirrored and n % 2 else form.outline, bool(form.mirrored and n % 2), False)
            for n in range(left)
        ]
    return double, single


def _fill_double(
    cuts: Sequence[_Cut], how: How, width: float, gap: float, turns: bool, filler: Filler
) -> tuple[LaySection, list[LaidCut]] | None:
    """A folded section at the beginning of the cloth, and its cuts on the cloth opened out."""
    stones = []
    for _, outline, _, on_fold in cuts:
        room = grown(outline, gap / 2, from_fold=on_fold)
        turned = () if on_fold or not turns else tuple(-p for p in room)
        stones.append(Stone(room, turned, on_fold))
    lengthwise = how == "lengthwise"
    filled = filler(stones, width / 2 + gap / 2 if lengthwise else width + gap, (0.0, 0.0))
    if filled is None:
        return None
    # The room that a piece needs may lie over the selvedge and over the end of the cloth, not over the fold.
    back = Point(0.0, -gap / 2) if lengthwise else Point(-gap / 2, 0.0)
    table, flat = [], []
    length = filled.length - (gap if lengthwise else gap / 2)
    for (form, outline, _, on_fold), spot in zip(cuts, filled.spots, strict=True):
        if spot is None:
            continue
        placed = tuple(((-p if spot.turned else p) + spot.by + back) for p in outline)
        table.append(TableCut(form.name, placed, 2, on_fold))
        if lengthwise:
            fold = width / 2
            right = tuple(Point(fold + x, y) for x, y in placed)
            left = tuple(Point(fold - x, y) for x, y in reversed(placed))
            flat += (
                [LaidCut(form.name, opened(placed, fold))]
                if on_fold
                else [LaidCut(form.name, o) for o in (right, left)]
            )
        else:
            flat.append(LaidCut(form.name, tuple(Point(x, length + y) for x, y in placed)))
            flat.append(LaidCut(form.name, tuple(Point(x, length - y) for x, y in reversed(placed))))
    return LaySection(how, 0.0, width / 2 if lengthwise else width, length, tuple(table)), flat


def _fill_single(
    cuts: Sequence[_Cut], cloth: Cloth, width: float, gap: float, start: float, filler: Filler
) -> LaySection | None:
    """A single layer; where the cloth has a pattern, the pieces' anchors lie on its bars."""
    repeats = repeats_of(cloth)
    bar = Point(cloth.first_bar * (1.0 - cloth.shrinks_across) + gap / 2, gap / 2)
    stones = []
    numbers: Counter[str] = Counter()
    for form, outline, over, _ in cuts:
        room = grown(outline, gap / 2)
        turned = () if cloth.is_one_way else tuple(-p for p in room)
        if form.anchor is None or repeats == (0.0, 0.0):
            stones.append(Stone(room, turned))
            continue
        at = Point(-form.anchor.x if over else form.anchor.x, form.anchor.y)
        sideways = form.phases_across[numbers[form.name] % len(form.phases_across)]
        numbers[form.name] += 1
        phase = Point(sideways, form.phase_along or 0.0)
        # Turned end for end, an even pattern is read the other way from its bar.
        stones.append(
            Stone(room, turned, False, at - phase - bar, -at + phase - bar, form.phase_along is not None)
        )
    filled = filler(stones, width + gap, repeats)
    if filled is None:
        return None
    back = Point(-gap / 2, -gap / 2)
    table = tuple(
        TableCut(form.name, tuple(((-p if spot.turned else p) + spot.by + back) for p in outline))
        for (form, outline, _, _), spot in zip(cuts, filled.spots, strict=True)
        if spot is not None
    )
    return LaySection("single", start, width, max(filled.length - gap, 0.0), table)
